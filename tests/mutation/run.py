"""Plant mistakes, review, and count: planted, caught, missed, and what else was raised."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

from mixlint.comparison import Approval
from mixlint.facts import SessionContext
from mixlint.media import Library
from mixlint.review import Finding
from mixlint.review.engine import judged
from mixlint.rulebook import Standard, load_standard
from mixlint.session import Session
from tests.importers.exporters import STYLES, Style
from tests.mutation import (
    in_ambience,
    in_automation,
    in_desk,
    in_levels,
    in_phase,
    in_prep,
    in_routing,
    in_sound_delivery,
    in_sound_ensemble,
    in_sound_events,
    in_sound_files,
    in_sound_levels,
    in_sound_microphones,
    in_sound_prints,
    in_sound_returns,
    in_sound_stems,
    in_time,
    in_width,
)
from tests.mutation.clean import Clean, clean_sessions, stems_session
from tests.mutation.planting import MISTAKES, Mistake, Planted
from tests.mutation.sounding import sound_of, sounding_sessions
from tests.mutation.writing import through

AREAS = (
    in_ambience, in_automation, in_desk, in_levels, in_phase, in_prep, in_routing, in_time, in_width, in_sound_files,
    in_sound_levels, in_sound_microphones, in_sound_prints, in_sound_returns, in_sound_stems, in_sound_ensemble,
    in_sound_events, in_sound_delivery,
)  # fmt: skip
"""The modules whose kinds of mistakes are entered by importing them."""

EVERYTHING = Path(__file__).resolve().parents[1] / "everything.toml"
"""A standard that takes every rule."""

NEUTRAL_SHARE = 0.4
"""How many of the mutants that a file can hold stay in the neutral form."""

TRIES = 60


@dataclass(frozen=True)
class Mutant:
    """One mistake in one session, in the neutral form or through a file in an exporter's style."""

    mistake: Mistake
    clean: Clean
    planted: Planted
    style: Style | None

    @property
    def form(self) -> str:
        """How the session was read."""
        return self.style.name if self.style else "neutral form"


@dataclass
class Row:
    """What came of the mutants aimed at one rule."""

    planted: int = 0
    caught: int = 0
    also: set[str] = field(default_factory=set)


@dataclass
class Outcome:
    """What came of all of them: counts per rule, misses and unexplained flagged rows for a reader."""

    rows: dict[str, Row] = field(default_factory=dict)
    kinds: dict[str, Row] = field(default_factory=dict)
    missed: list[str] = field(default_factory=list)
    unexplained: list[str] = field(default_factory=list)

    @property
    def planted(self) -> int:
        """How many mutants there were."""
        return sum(row.planted for row in self.rows.values())

    @property
    def caught(self) -> int:
        """How many were found by the rule they were aimed at."""
        return sum(row.caught for row in self.rows.values())


def holds(style: Style, session: Session) -> bool:
    """Whether a file in the style can hold the session.

    A file without outputs says something about them only where tracks lie in groups. One whose pans run from −1 to 1
    under a wrong unit can be told only where a pan is left of the centre, or where all of them stand in the centre.
    """
    if style.pan == "-1..1 no range":
        pans = {c.pan for c in session.channels} | {s.pan for c in session.channels for s in c.sends}
        return pans == {0.0} or any(isinstance(pan, float) and pan < 0.0 for pan in pans)
    if not style.outputs:
        return any(c.parent for c in session.channels)
    return True


def mutants(count: int, seed: int) -> Iterator[Mutant]:
    """``count`` different mutants, the kinds in turn."""
    sessions, stems = clean_sessions(seed), [stems_session()]
    return _in_turn(MISTAKES, lambda kind: stems if kind.stems else sessions, count, seed)


def _in_turn(
    kinds: Sequence[Mistake], sessions: Callable[[Mistake], Sequence[Clean]], count: int, seed: int
) -> Iterator[Mutant]:
    rng = Random(seed)
    seen: set[int] = set()
    found, spent = 0, set[str]()
    while found < count and len(spent) < len(kinds):
        for kind in kinds:
            if found == count or kind.name in spent:
                continue
            mutant = _one(kind, sessions(kind), rng, seen)
            if mutant is None:
                spent.add(kind.name)
                continue
            found += 1
            yield mutant


def _one(kind: Mistake, sessions: Sequence[Clean], rng: Random, seen: set[int]) -> Mutant | None:
    """A mutant that was not there yet, or None when none could be had."""
    for _ in range(TRIES):
        clean = rng.choice(sessions)
        planted = kind.plant(clean, rng)
        if planted is None:
            continue
        styles = [s for s in STYLES if kind.written and kind.survives(s) and holds(s, planted.session)]
        style = rng.choice(styles) if styles and rng.random() > NEUTRAL_SHARE else None
        sounds = str(sorted(planted.sounds.items()))
        mark = hash((kind.name, clean.name, style.name if style else "", planted.session.json_text(), sounds))
        if mark not in seen:
            seen.add(mark)
            return Mutant(kind, clean, planted, style)
    return None


def flagged(
    clean: Clean,
    session: Session,
    standard: Standard,
    approved: Session | None = None,
    audio: Library | None = None,
) -> list[Finding]:
    """The flagged rows of a session under the house of its clean form."""
    approval = None
    if approved is not None:
        approval = Approval(mix=1, by="OF", on="2026-03-14", standard=standard.name, session=approved)
    context = SessionContext(session, clean.house, audio, approved=approval)
    return [f for rule in standard.rules.values() for f in judged(context, rule) if f.verdict == "flagged"]


def prove(count: int, seed: int) -> Outcome:
    """Plant ``count`` mistakes and review each session."""
    standard = load_standard(EVERYTHING)
    outcome = Outcome()
    with tempfile.TemporaryDirectory() as folder:
        for mutant in mutants(count, seed):
            session = mutant.planted.session
            if mutant.style is not None:
                session = through(session, mutant.style, Path(folder))
            findings = flagged(mutant.clean, session, standard, mutant.planted.approved)
            tally(outcome, mutant, findings)
    return outcome


def prove_in_sound(count: int, seed: int, kinds: Sequence[Mistake]) -> Outcome:
    """Review the clean sessions with sound, then ``count`` of them with a mistake each.

    Args:
        count: how many mistakes.
        seed: makes other sessions and places.
        kinds: what to plant, in turn.
    """
    standard = load_standard(EVERYTHING)
    outcome = Outcome()
    with tempfile.TemporaryDirectory() as folder:
        names = dict.fromkeys(name for kind in kinds for name in kind.sound)
        sessions = {clean.name: clean for clean in sounding_sessions(seed, Path(folder, "clean"), names)}
        place = Path(folder, "mutant")
        for clean in sessions.values():
            with sound_of(clean, clean.session, {}, place) as (session, audio):
                found = flagged(clean, session, standard, audio=audio)
            outcome.unexplained += [f"{one.rule}: nothing at all, in {clean.name}: {one.message}" for one in found]
            shutil.rmtree(place)
        for mutant in _in_turn(kinds, lambda kind: [sessions[name] for name in kind.sound], count, seed):
            made, planted = sessions[mutant.clean.name], mutant.planted
            with sound_of(made, planted.session, planted.sounds, place) as (session, audio):
                tally(outcome, mutant, flagged(made, session, standard, audio=audio))
            shutil.rmtree(place)
    return outcome


def tally(outcome: Outcome, mutant: Mutant, findings: list[Finding]) -> None:
    """Take one mutant and its flagged rows into the outcome."""
    kind = mutant.mistake
    row = outcome.rows.setdefault(kind.rule, Row())
    own = outcome.kinds.setdefault(kind.name, Row())
    here = f"{kind.name}, in {mutant.clean.name}, {mutant.form}"
    hits = [f for f in findings if f.rule == kind.rule and _is_about(f, mutant.planted)]
    for one in (row, own):
        one.planted += 1
        one.caught += bool(hits)
    if not hits:
        outcome.missed.append(f"{kind.rule}: {here}: about {', '.join(sorted(mutant.planted.about)) or 'the session'}")
    for finding in findings:
        if finding in hits:
            continue
        if finding.rule in kind.also:
            row.also.add(finding.rule)
        else:
            outcome.unexplained.append(f"{finding.rule}: {here}: {finding.message}")


def _is_about(finding: Finding, planted: Planted) -> bool:
    if planted.said not in finding.message:
        return False
    if not planted.about:
        return True
    return bool(planted.about & {finding.subject.id, *finding.channels})
