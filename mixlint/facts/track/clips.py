"""More facts of the table ``track``: what its single clips add up to, clip by clip told in the table ``clip``."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.context import SessionContext, per_session
from mixlint.facts.clip.clip_regions import Piece, clip_name
from mixlint.facts.clip.table import CLIP
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Channel, Unknown
from mixlint.units import clock_text, number_text

FEW: Final = 3
"""How many clips a text names before it counts the rest."""


def clips_of(context: SessionContext, channel_id: str) -> list[Row[Piece]]:
    """The rows of the table ``clip`` that lie on one channel and sound."""
    return _by_channel(context).get(channel_id, [])


@per_session
def _by_channel(context: SessionContext) -> dict[str, list[Row[Piece]]]:
    found: dict[str, list[Row[Piece]]] = {}
    for row in CLIP.rows(context):
        if row.holds("sounds"):
            found.setdefault(row.item.channel.id, []).append(row)
    return found


def _recorded(row: Row[Channel]) -> list[Row[Piece]]:
    """Clips that play an audio file which the session lists."""
    return [
        one for one in clips_of(row.context, row.subject.id) if one.item.clip.plays == "audio" and one.holds("has_file")
    ]


def _past(row: Row[Channel]) -> list[tuple[float, Row[Piece]]]:
    """How far clips run past their files, the furthest first, ms; those that cannot be told are left out."""
    found = []
    for one in _recorded(row):
        said = one.value("past_end_ms")
        if isinstance(said, FactValue) and isinstance(said.value, float) and said.value > 0.0:
            found.append((said.value, one))
    return sorted(found, key=lambda pair: -pair[0])


FACTS: Facts[Channel] = Facts()


@FACTS.fact("switch", "A clip on it plays a file that the session lists.")
def plays_files(row: Row[Channel]) -> bool:
    return bool(_recorded(row))


@FACTS.fact("number", "How far a clip of it runs past the end of its file, the furthest.", unit="ms", how="derived")
def past_end_ms(row: Row[Channel]) -> FactValue:
    found = _past(row)
    return FactValue(found[0][0], "derived", found[0][1].subject.where) if found else FactValue(0.0, "derived")


@FACTS.fact("switch", "The end of every file that its clips play is known.", how="derived")
def ends_seen(row: Row[Channel]) -> bool | Unknown:
    for one in _recorded(row):
        said = one.value("past_end_ms")
        if isinstance(said, Unknown):
            return said
    return True


@FACTS.fact("text", "Which clips run past the end of their files, the furthest first.", how="derived")
def past_end_at(row: Row[Channel]) -> str:
    said = [
        f"{clip_name(row.context, one.item.clip)} at {clock_text(one.item.starts[0])} by {number_text(ms, 'ms')}"
        for ms, one in _past(row)
    ]
    return _few(said)


def _stray(row: Row[Channel]) -> list[Row[Piece]]:
    clips = clips_of(row.context, row.subject.id)
    return [one for one in clips if one.item.clip.plays != "video" and one.holds("stray")]


@FACTS.fact("number", "How many of its clips look forgotten.", how="derived")
def strays(row: Row[Channel]) -> int:
    return len(_stray(row))


@FACTS.fact("text", "Which clips look forgotten, and why.", how="derived")
def strays_are(row: Row[Channel]) -> str:
    said = []
    for one in _stray(row):
        how = one.value("stray_how")
        said.append(
            f"{clip_name(row.context, one.item.clip)}: {how.value if isinstance(how, FactValue) else how.unknown}"
        )
    return _few(said, "; ")


def _few(said: list[str], between: str = ", ") -> str:
    more = len(said) - FEW
    return between.join(said[:FEW]) + (f"{between}and {more} more" if more > 0 else "") if said else "none"
