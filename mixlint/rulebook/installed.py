"""Folders of rules, standards and words of installed packages: entry points of ``mixlint.rules``.

Each leads to a ``pathlib.Path`` of a folder that is laid out like mixlint's own ``rules``: a folder for each area with
its rule files, ``words`` with word files, ``standards`` with standards. What is installed changes no checklist by
itself: a standard names the folders that it takes, under ``packages``, or is asked for by its own name.
"""

from __future__ import annotations

from collections import Counter
from functools import cache
from pathlib import Path
from typing import Final, NamedTuple, get_args

from mixlint import extensions, resources
from mixlint.rulebook.rule_file import Area

STANDARDS: Final = "standards"
WORDS: Final = "words"
_KNOWN: Final = frozenset((*get_args(Area), STANDARDS, WORDS))


class RuleFolder(NamedTuple):
    """The folder of one package, under the name of its entry point."""

    name: str
    path: Path
    origin: extensions.Origin

    def rules(self) -> list[Path]:
        """Its rule files, by area and name."""
        return sorted(path for path in self.path.glob("*/*.toml") if path.parent.name in get_args(Area))

    def words(self) -> list[Path]:
        """Its word files, by name."""
        return sorted((self.path / WORDS).glob("*.toml"))

    def standards(self) -> dict[str, Path]:
        """Its standards by name."""
        return {path.stem: path for path in sorted((self.path / STANDARDS).glob("*.toml"))}


@cache
def rule_folders() -> dict[str, RuleFolder]:
    """The folders of installed packages that can be used, by the name of their entry point."""
    found = extensions.installed("mixlint.rules", Path)
    folders = [RuleFolder(one.origin.name, one.value, one.origin) for one in found]
    names = Counter([one.name for one in folders])
    standards = Counter([name for one in folders for name in one.standards()])
    kept: dict[str, RuleFolder] = {}
    for one in folders:
        what = _misfit(one, names, standards)
        if what:
            extensions.fault(one.origin, what)
        else:
            kept[one.name] = one
    return kept


def installed_standards() -> dict[str, Path]:
    """The standards of installed packages, by name."""
    return {name: path for folder in rule_folders().values() for name, path in folder.standards().items()}


def why_not(name: str) -> str:
    """Why the folder of this name cannot be used, where a package has one."""
    told = [one for one in extensions.faults() if (one.origin.group, one.origin.name) == ("mixlint.rules", name)]
    return "; ".join(map(str, told))


def _misfit(folder: RuleFolder, names: Counter[str], standards: Counter[str]) -> str:
    """What does not fit, or nothing; what stands in the files is checked when a standard takes them."""
    if not folder.path.is_dir():
        return f"there is no folder {folder.path}"
    if names[folder.name] > 1:
        return f"two installed packages have rules called {folder.name}; take one of them away"
    odd = sorted(one.parent.name for one in folder.path.glob("*/*.toml") if one.parent.name not in _KNOWN)
    if odd:
        return f"its folder {odd[0]} is no area of the checklist"
    shipped = {path.stem for path in (resources.folder("rules") / STANDARDS).glob("*.toml")}
    for name in folder.standards():
        if name in shipped:
            return f"mixlint itself has a standard called {name}"
        if standards[name] > 1:
            return f"two installed packages have a standard called {name}; take one of them away"
    return ""
