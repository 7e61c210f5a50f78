"""Sessions as mix engineers wrote them, with the faults they planted, held against the checklist.

Each module of a part holds one session: ``good()`` makes it as it should be bounced, ``ACCEPTED`` names what an
engineer would not mind being told of it, ``FAULTS`` plants one fault at a time and says on which channels it has to be
told and how gravely. The modules were written without knowledge of the rules.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass, field
from importlib import import_module
from pathlib import Path
from types import ModuleType
from typing import Any, Literal

from mixlint.facts import SessionContext
from mixlint.importers.native import parse
from mixlint.review import Finding, SessionReview, review
from mixlint.review.findings import GRAVITY
from mixlint.rulebook import Standard, load_standard

HERE = Path(__file__).parent
PARTS = tuple(sorted(folder.name for folder in HERE.glob("part_*")))

CAUGHT = 0.965
"""At least this share of the faults is told where, and as gravely as, the engineers asked: it may only rise."""

UNWANTED = 0.35
"""At most so many rows on a good session, on the average, that nobody asked for: it may only fall."""

Came = Literal["caught", "light", "asked", "missed"]
"""Told as gravely as it should be or graver; told too lightly; asked, where the good session is not; not told."""


@dataclass(frozen=True, slots=True)
class FaultResult:
    """What came of one fault.

    Args:
        session: the module's name.
        fault: its id.
        kind: its class.
        grade: how gravely it should be told.
        says: what a good assistant would say.
        came: what came of it.
        told: the rows that tell it.
        elsewhere: rows that are new and stand on other channels.
        outcome: the outcome of the faulty session.
    """

    session: str
    fault: str
    kind: str
    grade: str
    says: str
    came: Came
    told: tuple[str, ...]
    elsewhere: tuple[str, ...]
    outcome: str


@dataclass(slots=True)
class Score:
    """All faults and all rows on good sessions that nobody asked for."""

    faults: list[FaultResult] = field(default_factory=list)
    unwanted: dict[str, list[str]] = field(default_factory=dict)
    questions: dict[str, int] = field(default_factory=dict)

    @property
    def share(self) -> float:
        """The share of the faults that were caught, 0 … 1."""
        return sum(one.came == "caught" for one in self.faults) / max(1, len(self.faults))

    @property
    def unwanted_on_average(self) -> float:
        """Rows that nobody asked for, per good session."""
        return sum(map(len, self.unwanted.values())) / max(1, len(self.unwanted))


def modules(part: str) -> Iterator[ModuleType]:
    """The sessions of one part, by name."""
    for path in sorted((HERE / part).glob("*.py")):
        if path.stem != "__init__":
            yield import_module(f"tests.field.{part}.{path.stem}")


def score(parts: tuple[str, ...], *, always: Collection[str] | None = None) -> Score:
    """Review every good session of some parts, and its faulty copies.

    Args:
        parts: the parts.
        always: faults, as ``session/fault``, of which none is left out where the others are taken in turn: every
            sixteenth one, beside each that silences something. None: no fault is left out.
    """
    standard = load_standard(None, HERE)
    found = Score()
    for part in parts:
        for module in modules(part):
            _score_one(module, standard, found, always)
    return found


def _in_turn(faults: list[dict[str, Any]], session: str, always: Collection[str] | None) -> list[dict[str, Any]]:
    if always is None:
        return faults
    return [
        fault
        for place, fault in enumerate(faults)
        if place % 16 == len(session) % 16 or fault["class"] == "inaudible" or f"{session}/{fault['id']}" in always
    ]


def _score_one(module: ModuleType, standard: Standard, found: Score, always: Collection[str] | None) -> None:
    name = module.__name__.rpartition(".")[2]
    good = reviewed(module.good(), standard)
    accepted = {channel for one in module.ACCEPTED for channel in one["channels"]}
    names = _names(module.good())
    flagged = [f for f in good.findings if f.verdict == "flagged"]
    found.unwanted[name] = [line(f) for f in flagged if not accepted & _about(f, names)]
    found.questions[name] = sum(f.verdict == "open" for f in good.findings)
    before = {(f.fingerprint, f.verdict): f for f in good.findings}
    for fault in _in_turn(module.FAULTS, name, always):
        found.faults.append(_fault(module, name, fault, before, standard))


def _fault(
    module: ModuleType, name: str, fault: dict[str, Any], before: dict[tuple[str, str], Finding], standard: Standard
) -> FaultResult:
    session = module.good()
    plant: Callable[[dict[str, Any]], None] = fault["plant"]
    plant(session)
    made = reviewed(session, standard)
    names = _names(session, module.good())
    wanted = set(fault["channels"])
    told: list[Finding] = []
    asked: list[Finding] = []
    elsewhere: list[Finding] = []
    for finding in made.findings:
        if finding.verdict not in ("flagged", "open"):
            continue
        was = before.get((finding.fingerprint, finding.verdict))
        if was is not None and GRAVITY[finding.grade] >= GRAVITY[was.grade] and _figures(was) == _figures(finding):
            continue
        # A tempo has no channel of its own: what is said of the session is said of it.
        of_the_song = fault["class"] == "tempo" and finding.subject.table in ("session", "handover")
        here = of_the_song or bool(wanted & _about(finding, names))
        if finding.verdict == "flagged":
            (told if here else elsewhere).append(finding)
        elif here:
            asked.append(finding)
    came: Came = "asked" if asked else "missed"
    if told:
        gravest = min(GRAVITY[f.grade] for f in told)
        came = "caught" if gravest <= GRAVITY[fault["grade"]] else "light"
    return FaultResult(
        name, fault["id"], fault["class"], fault["grade"], fault["says"], came,
        tuple(line(f) for f in (told or asked)), tuple(line(f) for f in elsewhere), made.outcome,
    )  # fmt: skip


def reviewed(session: dict[str, Any], standard: Standard) -> SessionReview:
    """The review of a session in the neutral form, without its audio."""
    read = parse(json.dumps({"format": "mixlint-session/1", **session}), "field.session.json")
    context = SessionContext(read, standard.house)
    return review(context, standard, source="field.session.json", digest="", everything=False)


def _names(*sessions: dict[str, Any]) -> dict[str, set[str]]:
    """Channel id → its names, of which a fault may have changed one."""
    found: dict[str, set[str]] = {}
    for channel in (channel for session in sessions for channel in session["channels"]):
        found.setdefault(channel["id"], set()).add(channel["name"])
    return found


def _about(finding: Finding, names: dict[str, set[str]]) -> set[str]:
    """The names of the channels a row is about: those it stands on, and those that its words name."""
    on = {name for one in finding.channels for name in names.get(one, {one})}
    words = f"{finding.subject.name} {finding.message}"
    return on | {name for several in names.values() for name in several if name and name in words}


def _figures(finding: Finding) -> str:
    return finding.message


def line(finding: Finding) -> str:
    """A row as these reports print it: rule, grade, and what it says or asks."""
    grade = finding.grade if finding.verdict == "flagged" else f"question, {finding.grade}"
    return f"{finding.rule} ({grade}): {finding.message if finding.verdict == 'flagged' else finding.question}"


def by_class(found: Score) -> dict[str, Counter[Came]]:
    """Class → how many came out how."""
    counted: dict[str, Counter[Came]] = {}
    for one in found.faults:
        counted.setdefault(one.kind, Counter())[one.came] += 1
    return dict(sorted(counted.items()))
