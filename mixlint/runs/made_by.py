"""What a review is made by, in words that can be held against those of another machine.

Unlike :mod:`mixlint.runs.state` it hangs on no path and no time of change: two machines that would make the same review
say the same.
"""

from __future__ import annotations

import os
import sys
from hashlib import sha256
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Final

from mixlint import __version__, resources
from mixlint.extensions import whereabouts

MadeBy = dict[str, str]
"""What counts, by name, with its version."""

FILES: Final = "the files of mixlint"

_RESTS_ON: Final = ("numpy", "soundfile", "networkx", "lxml", "pydantic", "jinja2", "distributed")
"""Packages of which another version may read, compute or write otherwise; the last carries the sessions."""


def made_by() -> MadeBy:
    """The versions of mixlint, of Python and of the packages that a review rests on, and a hash of mixlint's files."""
    told = {
        "mixlint": __version__,
        FILES: _files()[:12],
        "Python": ".".join(map(str, sys.version_info[:2])),
    }
    for package in _RESTS_ON:
        try:
            told[package] = version(package)
        except PackageNotFoundError:
            told[package] = "none"
    return {**told, **{package: number for package, number, _ in whereabouts()}}


def unlike(here: MadeBy, there: MadeBy) -> str:
    """What of it differs, in words: ``mixlint 0.2.0 and 0.1.0 here``; empty where nothing does."""
    if (theirs := there.get("mixlint", "none")) != (ours := here.get("mixlint", "none")):
        return f"mixlint {theirs} there and {ours} here"
    names = [one for one in dict.fromkeys((*here, *there)) if here.get(one, "none") != there.get(one, "none")]
    versions = [
        f"{one} {there.get(one, 'none')} there and {here.get(one, 'none')} here" for one in names if one != FILES
    ]
    if not versions and FILES in names:
        return f"other files under mixlint's version {here['mixlint']}"
    return ", ".join(versions)


def _files() -> str:
    total = sha256()
    for folder, but in ((Path(__file__).parents[1], "_data"), (resources.folder("rules"), "")):
        for place in sorted(_below(str(folder), but)):
            total.update(os.path.relpath(place, folder).replace(os.sep, "/").encode() + b"\0")
            total.update(sha256(Path(place).read_bytes()).digest())
    return total.hexdigest()


def _below(folder: str, but: str) -> list[str]:
    """The files of a folder that an installed mixlint has as well, but for what is compiled and for one subfolder."""
    found: list[str] = []
    for one in os.scandir(folder):
        if one.is_dir(follow_symlinks=False):
            if one.name not in ("__pycache__", but):
                found += _below(one.path, "")
        elif not one.name.endswith((".pyc", ".1")):
            found.append(one.path)
    return found
