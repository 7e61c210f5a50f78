"""The table ``session``: one row, the session as a whole."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mixlint.analysis.activity import song_end_s, span_text
from mixlint.analysis.balance import ALONE, LEAST_PULL, QUIET, STRETCH, Imbalance, Pull, imbalance
from mixlint.analysis.channel_purpose import carries_content, is_utility
from mixlint.analysis.context import SessionContext
from mixlint.analysis.counterparts import MATCHING
from mixlint.analysis.gaps import GAP_SETTINGS, gaps
from mixlint.analysis.mix_prints import is_set_of_stems
from mixlint.analysis.spectrum import SPECTRUM_TEXT
from mixlint.facts.channel_why import overruling_line
from mixlint.facts.declare import FactValue, How, Row, Subject, Table
from mixlint.facts.session import approval, clip_grid, marker_places, plain, solos, tempo_evidence, tempo_map
from mixlint.facts.shared import INTENTS, UNREAD_ROLE, intents
from mixlint.naming import is_placeholder
from mixlint.session import GAPS, Session, Unknown, known
from mixlint.session.maybe import TO_COPY
from mixlint.units import number_text


def _rows(context: SessionContext) -> Iterator[tuple[Subject, Session]]:
    yield Subject("session", "session", context.session.title or "the session", order=-1), context.session


SESSION: Table[Session] = Table(
    "session",
    "The session as a whole: one row.",
    _rows,
    (
        approval.FACTS,
        clip_grid.FACTS,
        marker_places.FACTS,
        tempo_evidence.FACTS,
        tempo_map.FACTS,
        solos.FACTS,
        plain.FACTS,
    ),
)

NAMED: Final = 3
"""Up to so many parts that pull the mix are written out: wording."""

ESTIMATE: Final = (
    "each part without measured audio is taken to play at one and the same loudness while its clips sound, "
    f"{SPECTRUM_TEXT}"
)


@SESSION.fact("text", "The session's title.")
def name(row: Row[Session]) -> str:
    return row.subject.name


SESSION.fact("list", INTENTS)(intents)


@SESSION.fact(
    "list",
    "What the export seems to have dropped.",
    how="derived",
    words=GAPS,
    settings=GAP_SETTINGS,
)
def dropped(row: Row[Session]) -> FactValue:
    session = row.context.session
    # What the form has no place for, nobody dropped: the sheet and the assumptions say that.
    own = session.gaps if session.source.form else ()
    found = {gap: why for gap, why in gaps(row.context).items() if gap not in own}
    return FactValue(tuple(found), "derived", "", "; ".join(found.values()))


SESSION.echo("dropped_how", "dropped.note")


@SESSION.fact("switch", "It is a folder of stems, which have no tempo and no clips of their own.", how="derived")
def stems(row: Row[Session]) -> bool:
    return is_set_of_stems(row.context)


@SESSION.fact("number", "How many parts play.", how="derived")
def parts(row: Row[Session]) -> int:
    from mixlint.facts.source.table import SOURCE

    return len(SOURCE.rows(row.context))


@SESSION.fact("list", "The tracks of which the part cannot be told, by their names.", how="derived")
def unread(row: Row[Session]) -> tuple[str, ...] | Unknown:
    """Nothing is guessed, so that a single track that is not read leaves the list open: how it is called says why."""
    context = row.context
    asked = [
        channel
        for channel in context.session.channels
        if channel.kind == "track"
        and context.roles[channel.id].word is None
        and carries_content(context, channel.id)
        and not is_placeholder(channel.name, context.house.vocabulary)
        and not is_utility(context, channel)
    ]
    if not asked:
        return ()
    whys = dict.fromkeys("; ".join(context.roles[channel.id].grounds) for channel in asked)
    lines = [overruling_line(channel.name) for channel in asked]
    return Unknown(
        unknown=f"the part cannot be told: {'; '.join(whys)}",
        settle=UNREAD_ROLE + TO_COPY + "\n".join(dict.fromkeys(lines)),
    )


@SESSION.fact("number", "The end of the last clip.", unit="s", how="derived")
def length_s(row: Row[Session]) -> float:
    return song_end_s(row.context)


BALANCE: Final = (STRETCH, QUIET, ALONE, LEAST_PULL, *MATCHING, *GAP_SETTINGS)
"""What decides the imbalance of the mix."""


def _imbalance(row: Row[Session]) -> tuple[Imbalance, How, str]:
    """The imbalance of the mix, how it is known, and what an estimate assumes."""
    found = known(imbalance(row.context))
    return (found, "measured", "") if found.measured else (found, "assumed", ESTIMATE)


@SESSION.fact(
    "number",
    "How much the heavier side outweighs the other at the mix bus over the whole song.",
    unit="dB",
    how="measured",
    once="lean_db",
    settings=BALANCE,
)
def imbalance_db(row: Row[Session]) -> FactValue:
    found, how, note = _imbalance(row)
    return FactValue(abs(found.song_db), how, "", note)


@SESSION.fact(
    "word",
    "The heavier side over the whole song.",
    how="measured",
    words=("left", "right"),
    once="lean_side",
    settings=BALANCE,
)
def heavier_side(row: Row[Session]) -> FactValue:
    found, how, _ = _imbalance(row)
    return FactValue(_side(found.song_db), how)


@SESSION.fact(
    "number",
    "The same in the stretch of the song where it is greatest.",
    unit="dB",
    how="measured",
    settings=BALANCE,
    once="stretch_lean_db",
)
def stretch_imbalance_db(row: Row[Session]) -> FactValue:
    found, how, note = _imbalance(row)
    if found.worst_db is None:
        return FactValue(0.0, how, "", f"the song is shorter than {row.context.setting(STRETCH):g} s")
    return FactValue(abs(found.worst_db), how, span_text(row.context, *found.worst), note)


@SESSION.fact(
    "text",
    "How the mix leans: over the song, in the stretch where it leans most, and what pulls it.",
    how="measured",
    settings=BALANCE,
    once="lean_text",
)
def imbalance_text(row: Row[Session]) -> FactValue:
    found, how, _ = _imbalance(row)
    song = f"{_side(found.song_db)} by {number_text(abs(found.song_db))} dB over the song"
    text = f"The mix leans {song}{_by(row.context, found.causes)}"
    if found.worst_db is not None:
        where, worst = span_text(row.context, *found.worst), number_text(abs(found.worst_db))
        side = _side(found.worst_db)
        text += f"; most in {where}, to the {side} by {worst} dB{_by(row.context, found.stretch_causes)}"
    return FactValue(text, how)


def _side(balance_db: float) -> str:
    """The heavier side of a balance, left over right in dB; an even one counts as left."""
    return "left" if balance_db >= 0 else "right"


def _by(context: SessionContext, causes: tuple[Pull, ...]) -> str:
    """The parts that pull the mix, and by how much the balance would move without each, as far as they are named."""
    texts = [
        f"{context.name(pull.channel)} ({number_text(pull.db)} dB"
        + (f", against {context.name(pull.against)})" if pull.against else ")")
        for pull in causes[:NAMED]
    ]
    return f", pulled by {', '.join(texts)}" if texts else ""


@SESSION.fact(
    "list",
    "The parts that pull the song or the stretch where it leans most to the heavier side.",
    how="measured",
    settings=BALANCE,
    once="lean_causes",
)
def imbalance_causes(row: Row[Session]) -> FactValue:
    found, how, _ = _imbalance(row)
    names = dict.fromkeys(row.context.name(pull.channel) for pull in (*found.causes, *found.stretch_causes))
    return FactValue(tuple(names), how)
