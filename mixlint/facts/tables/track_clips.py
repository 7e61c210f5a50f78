"""More facts of the table ``track``: what its single clips add up to, clip by clip told in the table ``clip``."""

from __future__ import annotations

from typing import Final

from mixlint.facts.declare import Answer, Row
from mixlint.facts.tables.clip import CLIP
from mixlint.facts.tables.track import TRACK
from mixlint.session import Unknown
from mixlint.study.desk import Desk
from mixlint.study.pieces import clip_name
from mixlint.units import clock_text, number_text

FEW: Final = 3
"""How many clips a text names before it counts the rest."""


def clips_of(desk: Desk, channel_id: str) -> list[Row]:
    """The rows of the table ``clip`` that lie on one channel and sound."""

    def make() -> dict[str, list[Row]]:
        found: dict[str, list[Row]] = {}
        for row in CLIP.rows(desk):
            if _switch(row, "sounds"):
                found.setdefault(row.item.channel.id, []).append(row)
        return found

    return desk.remembered("clip rows by channel", make).get(channel_id, [])


def _switch(row: Row, fact: str) -> bool:
    said = CLIP.answer(row, fact)
    return isinstance(said, Answer) and said.value is True


def _recorded(row: Row) -> list[Row]:
    """Clips that play an audio file which the session lists."""
    return [
        one for one in clips_of(row.desk, row.subject.id) if one.item.clip.plays == "audio" and _switch(one, "has_file")
    ]


def _past(row: Row) -> list[tuple[float, Row]]:
    """How far clips run past their files, the furthest first, ms; those that cannot be told are left out."""
    found = []
    for one in _recorded(row):
        said = CLIP.answer(one, "past_end_ms")
        if isinstance(said, Answer) and isinstance(said.value, float) and said.value > 0.0:
            found.append((said.value, one))
    return sorted(found, key=lambda pair: -pair[0])


@TRACK.fact("switch", "A clip on it plays a file that the session lists.")
def plays_files(row: Row) -> bool:
    return bool(_recorded(row))


@TRACK.fact("number", "How far a clip of it runs past the end of its file, the furthest.", unit="ms", how="derived")
def past_end_ms(row: Row) -> Answer:
    found = _past(row)
    return Answer(found[0][0], "derived", found[0][1].subject.where) if found else Answer(0.0, "derived")


@TRACK.fact("switch", "The end of every file that its clips play is known.", how="derived")
def ends_seen(row: Row) -> bool | Unknown:
    for one in _recorded(row):
        said = CLIP.answer(one, "past_end_ms")
        if isinstance(said, Unknown):
            return said
    return True


@TRACK.fact("text", "Which clips run past the end of their files, the furthest first.", how="derived")
def past_end_at(row: Row) -> str:
    said = [
        f"{clip_name(row.desk, one.item.clip)} at {clock_text(one.item.starts[0])} by {number_text(ms, 'ms')}"
        for ms, one in _past(row)
    ]
    return _few(said)


def _stray(row: Row) -> list[Row]:
    clips = clips_of(row.desk, row.subject.id)
    return [one for one in clips if one.item.clip.plays != "video" and _switch(one, "stray")]


@TRACK.fact("number", "How many of its clips look forgotten.", how="derived")
def strays(row: Row) -> int:
    return len(_stray(row))


@TRACK.fact("text", "Which clips look forgotten, and why.", how="derived")
def strays_are(row: Row) -> str:
    said = []
    for one in _stray(row):
        how = CLIP.answer(one, "stray_how")
        said.append(f"{clip_name(row.desk, one.item.clip)}: {how.value if isinstance(how, Answer) else how.unknown}")
    return _few(said, "; ")


def _few(said: list[str], between: str = ", ") -> str:
    more = len(said) - FEW
    return between.join(said[:FEW]) + (f"{between}and {more} more" if more > 0 else "") if said else "none"
