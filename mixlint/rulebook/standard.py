"""Standards: found, read along the chain they build on, and made into the rules in force."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from os import PathLike
from os.path import isfile  # unlike Path.is_file it takes a name that is too long for one of no file
from pathlib import Path
from typing import TYPE_CHECKING, Final, NamedTuple

from pydantic import ValidationError

from mixlint import resources
from mixlint.analysis.house import House
from mixlint.errors import Fault
from mixlint.naming import Vocabulary
from mixlint.naming.house_roles import roles_named
from mixlint.naming.house_words import house_vocabulary
from mixlint.naming.word_files import read_word_file
from mixlint.plain_files import STANDARD, everybodys, found_file, leads_out, tree_of
from mixlint.rulebook.faults import Faults, FileFaults, near, read_text, read_toml
from mixlint.rulebook.house_file import Archive, StandardFile, check_names, house_of
from mixlint.rulebook.listed_files import at, listed
from mixlint.rulebook.rule import Change, LimitChange, Rule, Tables, ready
from mixlint.rulebook.rule_file import Written, read_rule_file
from mixlint.rulebook.settings import SettingInForce, checked_settings, in_force, settings_of

if TYPE_CHECKING:
    from mixlint.rulebook.installed import RuleFolder

BESIDE: Final = STANDARD
"""The name of a house's standard beside its sessions."""

DEFAULT: Final = "pre-bounce"

MOST_CHAINED: Final = 16
"""So many standards build on each other."""

_NO_AREAS: Final = ("standards", "words")
"""Folders beside those of the rules' areas."""


class Link(NamedTuple):
    """One standard file of a chain: as written, its place, and the tree that what it names has to lie in, if any."""

    file: StandardFile
    path: Path
    top: Path | None = None

    def listed(self, key: str, patterns: tuple[str, ...], file_faults: FileFaults) -> list[Path]:
        """The files that it lists under ``key``, each once."""
        return listed(self.path.parent, key, patterns, file_faults, self.top)


@dataclass(frozen=True, slots=True)
class Standard:
    """The rules in force, and the house they are held in.

    Args:
        name: what the standard is called.
        title: its name as a sentence.
        about: a word about it.
        rules: the rules in force by id, in the order of area and id.
        house: what changes how a session is read.
        chain: the standard files, the nearest first.
        settings: every setting by name, with its value in force and the standard that set it.
        notices: what its files should say otherwise before a version that no longer reads it.
    """

    name: str
    title: str
    about: str
    rules: dict[str, Rule]
    house: House
    chain: tuple[Link, ...]
    settings: Mapping[str, SettingInForce] = field(default_factory=dict)
    notices: tuple[Fault, ...] = ()

    @property
    def path(self) -> Path:
        """The standard's own file."""
        return self.chain[0].path

    def files(self) -> tuple[str, ...]:
        """The files that it consists of, but for those that come along."""
        unheard = Faults().of("")
        found = [] if self.house.signers is None else [self.house.signers]
        for link in self.chain:
            found.append(link.path)
            for key, patterns in (("rules", link.file.rules), ("words", link.file.words)):
                found += link.listed(key, patterns, unheard)
        own = resources.folder("rules")
        return tuple(str(path.absolute()) for path in found if not path.is_relative_to(own))

    @property
    def archive(self) -> Archive:
        """What a store of reviews is told; the nearest standard that says it wins."""
        said = [link.file.archive for link in self.chain]
        return Archive(
            engineer=next((one.engineer for one in said if one.engineer), ""),
            client=next((one.client for one in said if one.client), ""),
        )

    @property
    def examples(self) -> Path | None:
        """The folder of sessions on which the house tries its standard, where it names one."""
        folder = self.chain[0].file.examples
        return at(self.path.parent, folder) if folder else None


def load_standard(
    name_or_path: str | PathLike[str] | None = None,
    beside: str | PathLike[str] | None = None,
    tables: Tables | None = None,
) -> Standard:
    """The standard in force for a session.

    Args:
        name_or_path: the name of a standard that mixlint or an installed package brings, or a standard file; wins over
            everything.
        beside: the session, or the folder of sessions, next to or above which a house's standard may lie.
        tables: the vocabulary; mixlint's own, with what installed packages add, unless another is given.

    Raises:
        RulebookError: a rule, standard or word file has faults; all of them are gathered.
    """
    faults = Faults()
    path = find_standard(name_or_path, None if beside is None else Path(beside), faults)
    faults.stop()
    # What was found and not named may have come with a stranger's session.
    by_itself = name_or_path is None and path.name == BESIDE
    chain = _chain(path, faults, tree_of(path.parent) if by_itself else None)
    faults.stop()
    if tables is None:
        tables = _vocabulary(chain)
    standard = _in_force(chain, tables, faults)
    faults.stop()
    return standard


def _vocabulary(chain: list[Link]) -> Tables:
    """The tables that the rules of a chain can be over.

    mixlint's own checklist asks for none of the facts that packages add, and is not to wait until they are looked for.
    """
    from mixlint.facts import TABLES

    if not any(link.file.rules or link.file.packages or link.file.settings for link in chain):
        return TABLES
    from mixlint.facts.installed import vocabulary

    return vocabulary()


def find_standard(name_or_path: str | PathLike[str] | None, beside: Path | None, faults: Faults | None = None) -> Path:
    """The file of the standard in force: the one named, else the house's beside or above, else the shipped one.

    Args:
        name_or_path: a shipped standard's name or a standard file.
        beside: the session, or the folder of sessions, next to or above which a house's standard may lie.
        faults: where the fault goes when there is no such standard; without it the fault is raised.

    Raises:
        RulebookError: no such standard, unless ``faults`` takes it.
    """
    if name_or_path is not None:
        own = faults or Faults()
        found = _named(str(name_or_path), Path(), own.of(str(name_or_path)), "")
        if faults is None:
            own.stop()
        return found or Path(name_or_path)
    return (_above(beside) if beside is not None else None) or _shipped(DEFAULT)


def shipped_standards() -> list[str]:
    """The names of the standards that come with mixlint."""
    return sorted(path.stem for path in (resources.folder("rules") / "standards").glob("*.toml"))


def shipped_standard_files() -> list[StandardFile]:
    """The standards that come with mixlint as they are written, the one that holds unasked first.

    Raises:
        RulebookError: one of them has faults.
    """
    faults = Faults()
    names = sorted(shipped_standards(), key=lambda name: (name != DEFAULT, name))
    read = [_read(path, faults.of(_called(path))) for path in map(_shipped, names)]
    faults.stop()
    return [file for file in read if file is not None]


def _shipped(name: str) -> Path:
    return resources.folder("rules") / "standards" / f"{name}.toml"


def _above(beside: Path) -> Path | None:
    """The nearest standard beside ``beside`` or above it, up to the folder that holds a repository.

    Raises:
        RefusedFile: what is called so leads out of the tree, or is no file.
    """
    start = beside.resolve()
    folders = [start, *start.parents] if start.is_dir() else list(start.parents)
    for folder in folders:
        # Above the session's own folder one that everybody may write to, such as /tmp, tells nothing of the house.
        if (folder == folders[0] or not everybodys(folder)) and found_file(folder / BESIDE):
            return folder / BESIDE
        if (folder / ".git").exists():
            return None
    return None


def _named(name: str, base: Path, file_faults: FileFaults, key: str, top: Path | None = None) -> Path | None:
    """The file that ``name`` stands for: a shipped standard, a file relative to ``base``, or a package's standard."""
    if name in shipped_standards():
        return _shipped(name)
    path = at(base, name)
    path = path / BESIDE if isfile(path / BESIDE) else path
    if isfile(path):
        if leads_out(path, top) and not _house_above(path, base):
            do = "put it in there; only a standard named with --standard reaches further"
            file_faults.add(key, f"{name} leads out of {top}", do)
            return None
        return path
    from mixlint.rulebook.installed import installed_standards

    added = installed_standards()
    if name in added:
        return added[name]
    file_faults.add(key, f"there is no standard {name}", near(name, [*shipped_standards(), *added]))
    return None


def _house_above(path: Path, base: Path) -> bool:
    """True for the house's standard in a folder above, which would be found by itself if there were none nearer."""
    folder = path.resolve().parent
    return path.resolve().name == BESIDE and folder in base.resolve().parents and not everybodys(folder)


def _chain(path: Path, faults: Faults, top: Path | None) -> list[Link]:
    """The standard at ``path`` and what it builds on, the nearest first."""
    chain: list[Link] = []
    here: Path | None = path
    while here is not None:
        file_faults = faults.of(_called(here))
        if any(link.path.resolve() == here.resolve() for link in chain):
            _ring(chain, here, faults)
            break
        if len(chain) >= MOST_CHAINED:
            file_faults.add("builds_on", f"more than {MOST_CHAINED} standards build on each other", "join some of them")
            break
        # Those that come along or that packages bring lie elsewhere, and were not found by where the session lies.
        own = None if top is None or leads_out(here, top) else top
        if top is not None and own is None and here.name == BESIDE:  # the house's, in a folder above
            own = tree_of(here.parent)
        file = _read(here, file_faults, own)
        if file is None:
            break
        if "\0" in file.examples:
            file_faults.add("examples", "this is no path of a folder", 'write it as "tried"')
        elif own is not None and file.examples and leads_out(at(here.parent, file.examples), own):
            do = "put the sessions in there; only a standard named with --standard reaches further"
            file_faults.add("examples", f"{file.examples} leads out of {own}", do)
        chain.append(Link(file, here, own))
        builds_on = file.builds_on or (DEFAULT if file.takes is None else None)
        here = _named(builds_on, here.parent, file_faults, "builds_on", own) if builds_on else None
    return chain


def _ring(chain: list[Link], again: Path, faults: Faults) -> None:
    first = next(place for place, link in enumerate(chain) if link.path.resolve() == again.resolve())
    names = " → ".join(link.file.name for link in [*chain[first:], chain[first]])
    file_faults = faults.of(_called(chain[-1].path))
    file_faults.add("builds_on", f"the standards build on each other in a ring: {names}")


def _called(path: Path) -> str:
    """How faults refer to a file: a shipped one from the folder of rules on, another as it was given."""
    rules = resources.folder("rules")
    return str(path.relative_to(rules.parent)) if path.is_relative_to(rules) else str(path)


def _read(path: Path, file_faults: FileFaults, top: Path | None = None) -> StandardFile | None:
    text = read_text(path, file_faults, top)
    raw = read_toml(text, file_faults) if text is not None else None
    if raw is None:
        return None
    try:
        file = StandardFile.model_validate(raw)
    except ValidationError as fault:
        file_faults.add_model(StandardFile, fault)
        return None
    return file


def _in_force(chain: list[Link], tables: Tables, faults: Faults) -> Standard:
    """Gather rule files from the far end of the chain to the near one, then make every rule ready."""
    files: dict[str, Written] = {}
    known: dict[str, Written] = {}
    changes: dict[str, Change] = {}
    known_settings = settings_of(tables.values())
    set_by: list[tuple[str, dict[str, float]]] = []
    vocabulary, roles = _words_in_force(chain, faults)
    for link in reversed(chain):
        file_faults = faults.of(_called(link.path))
        check_names(link.file, file_faults, own_roles=roles)
        set_by.insert(0, (link.file.name, checked_settings(link.file.settings, known_settings, file_faults)))
        for written in _taken(link, file_faults, faults):
            files.setdefault(written.file.id, written)
        for written in _own(link, file_faults, faults):
            other = known.get(written.file.id) or files.get(written.file.id)
            if other is not None:
                what = f"the rule {written.file.id} is there already, in {other.name}"
                faults.add(
                    written.name, "id", what, "change its grade and limits in the standard, or choose another id"
                )
            files[written.file.id] = written
        known.update(files)
        _leave_out(link, files, known, file_faults)
        _changes(link, known, changes, file_faults)
    settings = in_force(set_by, known_settings)
    rules = {}
    for written in sorted(files.values(), key=lambda w: (w.file.area, w.file.id)):
        _check_follows(written, known, faults)
        rule = ready(written, tables, faults, changes.get(written.file.id), settings, roles)
        if rule is not None:
            rules[rule.id] = rule
    near_end = chain[0].file
    set_here = {name: settings[name].value for _, values in set_by for name in values}
    return Standard(
        name=near_end.name,
        title=near_end.title,
        about=near_end.about,
        rules=rules,
        house=house_of([link.file for link in chain], set_here, vocabulary, _signers(chain, faults)),
        chain=tuple(chain),
        settings=settings,
        notices=tuple(dict.fromkeys(faults.notices)),
    )


def _signers(chain: list[Link], faults: Faults) -> Path | None:
    """The file of allowed signers that the nearest standard names which names one; it lies in its folder or below."""
    link = next((link for link in chain if link.file.approval.signers), None)
    if link is None:
        return None
    path = at(link.path.parent, link.file.approval.signers)
    file_faults, key = faults.of(_called(link.path)), "approval.signers"
    if leads_out(path, link.path.parent.resolve()):
        file_faults.add(key, "it leads out of the standard's folder", "put the file beside the standard")
    elif not isfile(path):
        file_faults.add(key, "there is no such file", f"it is looked for from {link.path.parent}")
    return path


def _shipped_rules() -> list[Path]:
    """The files of all shipped rules."""
    return sorted(path for path in resources.folder("rules").glob("*/*.toml") if path.parent.name not in _NO_AREAS)


def _taken(link: Link, file_faults: FileFaults, faults: Faults) -> Iterable[Written]:
    """The shipped rules a standard starts from."""
    takes = link.file.takes
    if takes is None:
        return []
    paths = _shipped_rules()
    if takes != "everything":
        ids, areas = {path.stem for path in paths}, {path.parent.name for path in paths}
        for one in takes:
            if one not in ids and one not in areas:
                file_faults.add(
                    "takes", f"there is no shipped rule or area {one}", near(one, [*sorted(ids), *sorted(areas)])
                )
        paths = [path for path in paths if path.stem in takes or path.parent.name in takes]
    found = []
    for path in paths:
        name = _called(path)
        written = read_rule_file(path, name, faults)
        if written is None:
            continue
        if written.file.area != path.parent.name:
            faults.add(name, "area", f"the file lies in {path.parent.name}, so the area must be {path.parent.name}")
        found.append(written)
    return found


def _own(link: Link, file_faults: FileFaults, faults: Faults) -> Iterable[Written]:
    """The standard's own rules, and those of the packages that it takes."""
    of_packages = [path for folder in _packages(link, file_faults) for path in folder.rules()]
    for path in of_packages:
        if (written := read_rule_file(path, str(path), faults)) is not None:
            yield written
    for path in link.listed("rules", link.file.rules, file_faults):
        if (written := read_rule_file(path, str(path), faults, top=link.top)) is not None:
            yield written


def _packages(link: Link, file_faults: FileFaults) -> list[RuleFolder]:
    """The folders of installed packages that a standard takes."""
    if not link.file.packages:
        return []
    from mixlint.rulebook.installed import rule_folders, why_not

    folders = rule_folders()
    for name in link.file.packages:
        if name not in folders:
            near_to = why_not(name) or near(name, folders) or "install the package that brings it"
            file_faults.add("packages", f"no installed package brings rules called {name}", near_to)
    return [folders[name] for name in link.file.packages if name in folders]


def _words_in_force(chain: list[Link], faults: Faults) -> tuple[Vocabulary, dict[str, str]]:
    """The words that names are read by, and the house's own roles, each with the shipped one that it is like.

    Where a word file has faults, every role that one has a heading for counts as there: what speaks of it is no other
    fault.
    """
    count = len(faults.found)
    paths = [_word_files(link, faults.of(_called(link.path))) for link in chain]
    read = [tuple(read_word_file(path, str(path), faults.found, top=top) for path, top in layer) for layer in paths]
    layers = [tuple(file for file in layer if file is not None) for layer in read]
    vocabulary = house_vocabulary(layers, faults.found)
    if len(faults.found) == count:
        return vocabulary, {name: role.like for name, role in vocabulary.own_roles.items()}
    named = (name for layer in paths for path, top in layer for name in roles_named(path, top))
    return vocabulary, {name: name for name in named}


def _word_files(link: Link, file_faults: FileFaults) -> tuple[tuple[Path, Path | None], ...]:
    """The word files of a standard, and those of the packages that it takes, each with the tree it has to lie in."""
    of_packages = [path for folder in _packages(link, file_faults) for path in folder.words()]
    own = link.listed("words", link.file.words, file_faults)
    return (*((path, None) for path in of_packages), *((path, link.top) for path in own))


def _leave_out(link: Link, files: dict[str, Written], known: dict[str, Written], file_faults: FileFaults) -> None:
    areas = {written.file.area for written in known.values()}
    for one in link.file.leave_out:
        if one not in known and one not in areas:
            file_faults.add("leave_out", f"there is no rule or area {one}", near(one, [*known, *sorted(areas)]))
        for rule in [w for w in files.values() if one in (w.file.id, w.file.area)]:
            del files[rule.file.id]


def _changes(link: Link, known: dict[str, Written], changes: dict[str, Change], file_faults: FileFaults) -> None:
    """Write what one standard changes over what those it builds on changed."""
    name = link.file.name

    def change(rule: str, key: str) -> Change | None:
        if rule in known:
            return changes.setdefault(rule, Change())
        file_faults.add(f"{key}.{rule}", f"there is no rule {rule}", near(rule, known))
        return None

    for rule, grade in link.file.grades.items():
        if (one := change(rule, "grades")) is not None:
            one.grade, one.grade_by = grade, name
    for rule, may_sign in link.file.may_sign.items():
        if (one := change(rule, "may_sign")) is not None:
            one.may_sign = may_sign
    for key, value in link.file.limits.items():
        rule, dot, limit = key.partition(".")
        limits = value if isinstance(value, dict) else {limit: value}
        if isinstance(value, dict) == bool(dot):
            file_faults.add(f"limits.{key}", "a limit is named after its rule", f'write "{rule}.LIMIT" = value')
            continue
        if (one := change(rule, "limits")) is not None:
            for inner, wanted in limits.items():
                one.limits[inner] = LimitChange(wanted, name, file_faults.file)


def _check_follows(written: Written, known: dict[str, Written], faults: Faults) -> None:
    """A shipped rule may follow one that the house does not take: there is nothing to follow then."""
    for one in written.file.follows:
        if one not in known and not any(path.stem == one for path in _shipped_rules()):
            faults.add(written.name, "follows", f"there is no rule {one}", near(one, known))
