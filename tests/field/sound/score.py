"""Songs with their sound, held against the checklist: each as it should be, and with one planted fault at a time.

Each module of a part holds one song: ``make(folder)`` writes it, a session with its files or a folder of stems;
``FAULTS`` change what was written, each in one way, and say on which file or channel it has to be told and how gravely;
``ACCEPTED`` names what an engineer would not mind being told. The modules were written without knowledge of the rules.
"""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from importlib import import_module
from pathlib import Path, PurePath
from tempfile import TemporaryDirectory
from types import ModuleType
from typing import Any

from mixlint.facts import SessionContext
from mixlint.importers import discover, read
from mixlint.media import Library
from mixlint.review import Finding, SessionReview, review
from mixlint.review.findings import GRAVITY
from mixlint.rulebook import Standard, load_standard
from tests.field.score import Came, FaultResult, line

HERE = Path(__file__).parent
PARTS = tuple(sorted(folder.name for folder in HERE.glob("part_*")))


@dataclass(slots=True)
class Score:
    """All faults, and all rows on good songs that nobody asked for."""

    faults: list[FaultResult] = field(default_factory=list)
    unwanted: dict[str, list[str]] = field(default_factory=dict)

    @property
    def share(self) -> float:
        """The share of the faults that were told on the right file or channel, however gravely, 0 … 1."""
        return sum(one.came in ("caught", "light") for one in self.faults) / max(1, len(self.faults))


def songs(part: str) -> Iterator[ModuleType]:
    """The songs of one part, by name."""
    for path in sorted((HERE / part).glob("*.py")):
        if path.stem != "__init__" and not path.stem.startswith("sounds_by_"):
            yield import_module(f"tests.field.sound.{part}.{path.stem}")


def score(parts: tuple[str, ...], only: str = "") -> Score:
    """Review every good song of some parts, and its faulty copies.

    Args:
        parts: the parts.
        only: a song, or ``song/fault``; all without it.
    """
    standard = load_standard("pre-bounce")
    found = Score()
    for part in parts:
        for module in songs(part):
            if module.__name__.rpartition(".")[2] == only.partition("/")[0] or not only:
                _score_one(module, standard, found, only.partition("/")[2])
    return found


def _score_one(module: ModuleType, standard: Standard, found: Score, only: str) -> None:
    name = module.__name__.rpartition(".")[2]
    with TemporaryDirectory() as place:
        good, bad, cache = Path(place, "good"), Path(place, "bad"), Path(place, "cache")
        good.mkdir()
        module.make(good)
        was = reviewed(good, standard, cache)
        accepted = [one for accepted in module.ACCEPTED for one in accepted["names"]]
        flagged = [f for f in was.findings if f.verdict == "flagged"]
        found.unwanted[name] = [line(f) for f in flagged if not _names_any(f, accepted)]
        faults = [fault for fault in module.FAULTS if not only or fault["id"] == only]
        for fault in faults:
            shutil.rmtree(bad, ignore_errors=True)
            shutil.copytree(good, bad)
            plant: Callable[[Path], None] = fault["plant"]
            plant(bad)
            found.faults.append(_fault(name, fault, was, reviewed(bad, standard, cache)))


def reviewed(folder: Path, standard: Standard, cache: Path | None = None) -> SessionReview:
    """The review of the one session, or the folder of stems, that stands in ``folder``, with its sound."""
    path = next(folder.glob("*.session.json"), None) or discover(folder)[0]
    session = read(path)
    with Library(session, path, cache_dir=cache) as audio:
        context = SessionContext(session, standard.house, audio)
        return review(context, standard, source=path.name, digest="", everything=False)


def _fault(name: str, fault: dict[str, Any], good: SessionReview, made: SessionReview) -> FaultResult:
    before = {(f.rule, f.verdict, f.subject.name): f for f in good.findings}
    told: list[Finding] = []
    asked: list[Finding] = []
    elsewhere: list[Finding] = []
    for finding in made.findings:
        if finding.verdict not in ("flagged", "open"):
            continue
        was = before.get((finding.rule, finding.verdict, finding.subject.name))
        if was is not None and GRAVITY[finding.grade] >= GRAVITY[was.grade] and was.message == finding.message:
            continue
        here = _names_any(finding, fault["names"])
        if finding.verdict == "flagged":
            (told if here else elsewhere).append(finding)
        elif here:
            asked.append(finding)
    came: Came = "asked" if asked else "missed"
    if told:
        came = "caught" if min(GRAVITY[f.grade] for f in told) <= GRAVITY[fault["grade"]] else "light"
    return FaultResult(
        name, fault["id"], fault["class"], fault["grade"], fault["says"], came,
        tuple(line(f) for f in (told or asked)), tuple(line(f) for f in elsewhere), made.outcome,
    )  # fmt: skip


def _names_any(finding: Finding, names: list[str]) -> bool:
    """True when a row stands on, or speaks of, one of some files and channels; a file without its ending counts too."""
    words = " ".join((finding.subject.name, finding.subject.id, finding.message, *finding.channels))
    return any(name in words or PurePath(name).stem in words for name in names)
