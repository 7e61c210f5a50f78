"""The table ``session``: one row, the session as a whole."""

from __future__ import annotations

from collections.abc import Iterator

from mixlint.analysis.activity import song_end_s, stretch_text
from mixlint.analysis.balance import STRETCH_S, Lean, lean
from mixlint.analysis.context import SessionContext
from mixlint.analysis.gaps import gaps
from mixlint.facts.declare import FactValue, How, Row, Subject, Table
from mixlint.session import Session, Unknown
from mixlint.units import number_text


def _rows(context: SessionContext) -> Iterator[tuple[Subject, Session]]:
    yield Subject("session", "session", context.session.title or "the session", order=-1), context.session


SESSION: Table[Session] = Table("session", "The session as a whole: one row.", _rows)

ESTIMATE = "each part without measured audio is taken to play at one and the same loudness while its clips sound"


@SESSION.fact("text", "The session's title.")
def name(row: Row[Session]) -> str:
    return row.subject.name


@SESSION.fact("list", "What the house or the engineer has laid down as meant: mono, single-instrument, hard-panned.")
def intents(row: Row[Session]) -> FactValue:
    return FactValue(tuple(sorted(row.context.house.intents)), "declared")


@SESSION.fact(
    "list", "What the export seems to have dropped.", how="derived", words=("outputs", "sends", "groups", "automation")
)
def dropped(row: Row[Session]) -> FactValue:
    return FactValue(tuple(gaps(row.context)), "derived")


@SESSION.fact("text", "What the export seems to have dropped, and how that shows.", how="derived")
def dropped_how(row: Row[Session]) -> FactValue:
    return FactValue("; ".join(gaps(row.context).values()) or "nothing", "derived")


@SESSION.fact("number", "How many parts play.", how="derived")
def parts(row: Row[Session]) -> int:
    from mixlint.facts.source.table import SOURCE

    return len(SOURCE.rows(row.context))


@SESSION.fact("number", "The end of the last clip.", unit="s", how="derived")
def length_s(row: Row[Session]) -> float:
    return song_end_s(row.context)


def _how(found: Lean) -> tuple[How, str]:
    return ("measured", "") if found.measured else ("assumed", ESTIMATE)


@SESSION.fact(
    "number",
    "How much the heavier side outweighs the other at the mix bus over the whole song.",
    unit="dB",
    how="measured",
)
def lean_db(row: Row[Session]) -> FactValue | Unknown:
    found = lean(row.context)
    if isinstance(found, Unknown):
        return found
    how, note = _how(found)
    return FactValue(abs(found.song_db), how, "", note)


@SESSION.fact("word", "The heavier side over the whole song.", how="measured", words=("left", "right"))
def lean_side(row: Row[Session]) -> FactValue | Unknown:
    found = lean(row.context)
    if isinstance(found, Unknown):
        return found
    return FactValue("left" if found.song_db >= 0 else "right", _how(found)[0])


@SESSION.fact("number", f"The same in the stretch of {STRETCH_S:g} s that leans most.", unit="dB", how="measured")
def stretch_lean_db(row: Row[Session]) -> FactValue | Unknown:
    found = lean(row.context)
    if isinstance(found, Unknown):
        return found
    how, note = _how(found)
    if found.worst_db is None:
        return FactValue(0.0, how, "", f"the song is shorter than {STRETCH_S:g} s")
    return FactValue(abs(found.worst_db), how, stretch_text(row.context, *found.worst), note)


@SESSION.fact(
    "text", "How the mix leans: over the song, in the stretch that leans most, and what pulls it.", how="measured"
)
def lean_text(row: Row[Session]) -> FactValue | Unknown:
    found = lean(row.context)
    if isinstance(found, Unknown):
        return found
    side = "left" if found.song_db >= 0 else "right"
    said = f"The mix leans {side} by {number_text(abs(found.song_db))} dB over the song{_by(row.context, found.causes)}"
    if found.worst_db is not None:
        side = "left" if found.worst_db >= 0 else "right"
        where, worst = stretch_text(row.context, *found.worst), number_text(abs(found.worst_db))
        said += f"; most in {where}, to the {side} by {worst} dB{_by(row.context, found.stretch_causes)}"
    return FactValue(said, _how(found)[0])


def _by(context: SessionContext, causes: tuple[tuple[str, float], ...]) -> str:
    """The parts that pull the mix, and by how much the balance would move without each: at most three."""
    said = [f"{context.name(channel)} ({number_text(moved)} dB)" for channel, moved in causes[:3]]
    return f", pulled by {', '.join(said)}" if said else ""


@SESSION.fact("list", "The parts that pull the song or its worst stretch to the heavier side.", how="measured")
def lean_causes(row: Row[Session]) -> FactValue | Unknown:
    found = lean(row.context)
    if isinstance(found, Unknown):
        return found
    names = dict.fromkeys(row.context.name(channel) for channel, _ in (*found.causes, *found.stretch_causes))
    return FactValue(tuple(names), _how(found)[0])
