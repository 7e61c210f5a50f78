"""More facts of the table ``source``: where a part and its ambience stand, and what stands around it."""

from __future__ import annotations

from typing import Final

from mixlint.facts.declare import Answer, Row
from mixlint.facts.tables.meant import INTENTS, intents
from mixlint.facts.tables.source import SOURCE
from mixlint.naming import family_of, side_of
from mixlint.naming.words import FAMILIES, ROLES
from mixlint.session import Channel, Unknown, is_known
from mixlint.study.activity import grid, playing
from mixlint.study.counterparts import level_apart_db, panned_parts
from mixlint.study.desk import Desk
from mixlint.study.parts import is_return

UNREAD: Final = "unread"
CENTRE: Final = 10.0
"""As far from the centre as a part may stand and still be in it (common practice, no source)."""

PLACED: Final = 15.0
RIVALS: Final = frozenset({"guitars", "plucked", "keys", "synths", "strings", "winds"})
"""Families that share the range of the voice."""

RIVAL_DB: Final = -6.0
RIVAL_TIME: Final = 0.5

SOURCE.fact("list", INTENTS)(intents)


@SOURCE.fact(
    "word", "The part it plays, or unread where its name does not tell.", how="derived", words=(*ROLES, UNREAD)
)
def part(row: Row) -> str:
    return row.desk.role(row.subject.id) or UNREAD


@SOURCE.fact(
    "word", "The family of the part, or unread where its name does not tell.", how="derived", words=(*FAMILIES, UNREAD)
)
def part_family(row: Row) -> str:
    role = row.desk.role(row.subject.id)
    return (family_of(role) if role else None) or UNREAD


@SOURCE.fact("switch", "It plays recordings, and not notes alone.")
def recorded(row: Row) -> bool:
    channel: Channel = row.item
    kinds = {clip.plays for clip in channel.clips if clip.on is not False} or set(channel.plays)
    return not kinds or bool(kinds - {"notes"})


@SOURCE.fact(
    "number", "Its legs: 1 for mono, 2 for stereo. Two declared legs without a file to show them are no proof."
)
def legs(row: Row) -> float | Answer | Unknown:
    channel: Channel = row.item
    if channel.legs == 1:
        return 1
    widths = file_legs(row.desk, channel)
    if widths:
        return Answer(min(2, max(widths)), "declared", row.subject.where, "by its files")
    return Unknown(
        unknown="two declared legs are no proof of a stereo part, and its files are not at hand",
        settle="look at its file",
    )


def file_legs(desk: Desk, channel: Channel) -> list[int]:
    """The widths of the files the channel plays, where all of them are known; otherwise none."""
    declared = {media.id: media.legs for media in desk.session.media}
    found = []
    for file in dict.fromkeys(clip.file for clip in channel.clips if clip.file is not None and clip.on is not False):
        width: int | Unknown = declared.get(file, Unknown(unknown="no such file"))
        if isinstance(width, Unknown) and desk.audio is not None:
            header = desk.audio.header(file)
            width = header if isinstance(header, Unknown) else header.legs
        if isinstance(width, Unknown):
            return []
        found.append(width)
    return found


@SOURCE.fact("word", "The side it stands on.", words=("left", "right", "centre"))
def side(row: Row) -> str | Unknown:
    channel: Channel = row.item
    if isinstance(channel.pan, Unknown):
        return channel.pan
    return "centre" if abs(channel.pan) < 0.5 else "left" if channel.pan < 0 else "right"


@SOURCE.fact("word", "The side its name tells.", how="derived", words=("left", "right", "none"))
def named_side(row: Row) -> str:
    channel: Channel = row.item
    return side_of(channel.name, row.desk.house.vocabulary) or "none"


@SOURCE.fact("switch", "It stands on the side its name tells, or its name tells none.", how="derived")
def on_named_side(row: Row) -> bool | Unknown:
    told, stands = named_side(row), side(row)
    return stands if isinstance(stands, Unknown) else told in ("none", stands)


@SOURCE.fact("switch", "Another part of its role stands on the other side, at half the angle or more.", how="derived")
def twin(row: Row) -> bool | Answer | Unknown:
    channel: Channel = row.item
    role = row.desk.role(channel.id)
    if isinstance(channel.pan, Unknown):
        return channel.pan
    for other in panned_parts(row.desk):
        if other.id == channel.id or row.desk.role(other.id) != role or not is_known(other.pan):
            continue
        if channel.pan * other.pan < 0.0 and abs(other.pan) >= abs(channel.pan) / 2.0:
            return Answer(True, "derived", row.subject.where, row.desk.name(other.id))
    return False


@SOURCE.fact("number", "How far its ambience leans to one side, whichever.", unit="dB", how="derived")
def ambience_off_centre_db(row: Row) -> float | Unknown:
    lean = SOURCE.answer(row, "ambience_lean_db")
    return lean if isinstance(lean, Unknown) else abs(_number(lean))


@SOURCE.fact("word", "Where its ambience leans to, seen from its own side.", how="derived", words=("same", "opposite"))
def ambience_side(row: Row) -> str | Unknown:
    channel: Channel = row.item
    lean = SOURCE.answer(row, "ambience_lean_db")
    if isinstance(lean, Unknown):
        return lean
    if isinstance(channel.pan, Unknown):
        return channel.pan
    return "same" if (_number(lean) > 0.0) == (channel.pan < 0.0) else "opposite"


def _number(answer: Answer) -> float:
    return float(answer.value) if isinstance(answer.value, int | float) else 0.0


@SOURCE.fact(
    "switch",
    "Its ambience has a place: a send or return of it is panned, or a return serves it alone.",
    how="derived",
)
def ambience_placed(row: Row) -> bool:
    desk, channel_id = row.desk, row.subject.id
    wiring = desk.routing.wiring
    for edge in wiring.leaving.get(channel_id, ()):
        to = desk.channels[edge.to]
        if edge.kind != "send" or not wiring.audible(edge) or not is_return(desk, to):
            continue
        panned = [p for p in (edge.pan, to.pan) if is_known(p)]
        alone = all(other.source == channel_id for other in wiring.arriving[to.id])
        if alone or any(abs(p) >= PLACED for p in panned):
            return True
    return False


@SOURCE.fact("text", "The returns its own sends lead to.", how="derived")
def ambience_from(row: Row) -> str:
    desk = row.desk
    wiring = desk.routing.wiring
    edges = [e for e in wiring.leaving.get(row.subject.id, ()) if e.kind == "send" and wiring.audible(e)]
    return ", ".join(desk.name(e.to) for e in edges if is_return(desk, desk.channels[e.to])) or "no return of its own"


def _central(desk: Desk) -> list[Channel]:
    """Mono parts in the range of the voice that stand in the centre."""

    def make() -> list[Channel]:
        return [
            c
            for c in panned_parts(desk)
            if is_known(c.pan)
            and abs(c.pan) <= CENTRE
            and family_of(desk.role(c.id) or "") in RIVALS
            and desk.routing.legs[c.id] == 1
        ]

    return desk.remembered("central rivals", make)


def _rivals(row: Row) -> tuple[str, ...]:
    def make() -> tuple[str, ...]:
        import numpy as np

        desk, channel = row.desk, row.item
        steps = np.diff(grid(desk))
        sings = playing(desk, channel.id)
        found = []
        for other in _central(desk):
            if other.id == channel.id:
                continue
            both = float((np.minimum(sings, playing(desk, other.id)) * steps).sum())
            apart = level_apart_db(desk, other, channel)
            if both >= RIVAL_TIME * float((sings * steps).sum()) and apart is not None and apart >= RIVAL_DB - 1e-6:
                found.append(desk.name(other.id))
        return tuple(found)

    return row.desk.remembered(f"rivals {row.subject.id}", make)


@SOURCE.fact(
    "number",
    "How many mono parts in the range of the voice stand in the centre, at most 6 dB under it, while it plays.",
    how="derived",
)
def centre_rivals(row: Row) -> int:
    return len(_rivals(row))


@SOURCE.fact("text", "The parts that share the centre with it.", how="derived")
def centre_shared_with(row: Row) -> str:
    return ", ".join(_rivals(row)) or "no part"
