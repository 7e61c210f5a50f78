"""What is to be looked at in the song: findings that have a place in it, and automation that does not come back."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, NamedTuple

from mixlint.analysis.activity import song_end_s
from mixlint.analysis.channel_purpose import is_utility
from mixlint.analysis.context import SessionContext
from mixlint.facts.declare import FactValue
from mixlint.facts.lane.lanes import ENDING, content_after_s, last_move_s
from mixlint.facts.lane.settling import comes_back, control_class, settling
from mixlint.facts.lane.table import LANE
from mixlint.reports.pictures.places import Place, place_of
from mixlint.reports.words import open_text, opened_by_name
from mixlint.review.findings import GRAVITY, Finding
from mixlint.session import Automation, Unknown
from mixlint.session.control import moves
from mixlint.units import clock_text

COMES_BACK: Final = frozenset(
    {
        "automation-settled", "pan-comes-back", "processing-comes-back", "mix-bus-stays-up", "ride-comes-back",
        "dip-comes-back", "solo-lift-comes-down", "throw-is-closed", "left-before-the-ending", "feedback-falls-back",
    }
)  # fmt: skip
"""The rules that ask whether automation comes back."""

MOST: Final = 150
"""So many are marked, the gravest first: a picture of more shows none."""


class Looked(NamedTuple):
    """Something with a place in the song.

    Args:
        kind: ``hold``, ``look`` or ``note`` as graded; ``ask`` for a question; ``drift`` for what no finding tells of.
        channel: the id of the channel that it is on; empty for what is no channel's.
        start_s, end_s: seconds of the song; both the same for a moment.
        text: what it says.
        loose: automation that does not come back.
    """

    kind: str
    channel: str
    start_s: float
    end_s: float
    text: str
    loose: bool = False


def looked_at(context: SessionContext, findings: tuple[Finding, ...]) -> tuple[tuple[Looked, ...], int]:
    """What is marked, the gravest first, and of how many more there was no room."""
    lanes = {f"{c.id}:{lane.target}": (c.id, lane) for c in context.session.channels for lane in c.automation if lane.t}
    found: list[Looked] = []
    told: set[str] = set()
    for one in findings:
        if one.verdict not in ("flagged", "open"):
            continue
        made = _of_lane(context, one, lanes) if one.subject.table == "lane" else _of_finding(one)
        if made is None:
            continue
        found.append(made)
        if made.loose:
            told.add(one.subject.id)
    order = {**GRAVITY, "ask": 3, "drift": 4}
    found += _drifting(context, told)
    found.sort(key=lambda one: (order[one.kind], one.start_s))
    return tuple(found[:MOST]), max(0, len(found) - MOST)


def _text(finding: Finding) -> str:
    """What is asked of an open row, else what is said."""
    return opened_by_name(finding, (finding.verdict == "open" and open_text(finding)) or finding.message)


def _kind(finding: Finding) -> str:
    return finding.grade if finding.verdict == "flagged" else "ask"


def _of_finding(finding: Finding) -> Looked | None:
    place = place_of(finding)
    if place is None:
        return None
    channel = finding.channels[0] if 0 < len(finding.channels) <= 2 else ""
    return Looked(_kind(finding), channel, place.start_s, place.end_s, _text(finding))


def _of_lane(context: SessionContext, finding: Finding, lanes: dict[str, tuple[str, Automation]]) -> Looked | None:
    """A finding about a lane: where its control stays away, or where the finding says."""
    where = lanes.get(finding.subject.id)
    place = place_of(finding)
    loose = finding.rule in COMES_BACK and finding.verdict == "flagged"
    if place is None and where is not None and loose:
        place = Place(last_move_s(where[1]), last_move_s(where[1]))
    if place is None:
        return None
    end = max(song_end_s(context), place.start_s) if loose and place.end_s <= place.start_s else place.end_s
    channel = where[0] if where else next(iter(finding.channels), "")
    return Looked(_kind(finding), channel, place.start_s, end, _text(finding), loose)


def _drifting(context: SessionContext, told: set[str]) -> Iterator[Looked]:
    """Lanes that end where they never stood before, in the middle of what plays, and of which no finding tells."""
    for row in LANE.rows(context):
        channel, lane = row.item.channel, row.item.lane
        if row.subject.id in told or not moves(lane) or is_utility(context, channel):
            continue
        if control_class(channel, lane.target) == "other":
            continue
        found, since = settling(context, channel, lane), last_move_s(lane)
        if isinstance(found, Unknown) or not found.kept or comes_back(channel, lane, found):
            continue
        if content_after_s(context, channel, since) <= context.setting(ENDING):  # an ending comes back to nothing
            continue
        moved = row.value("last_move_text")
        how = moved.value if isinstance(moved, FactValue) else "moves"
        said = f"{row.subject.name} {how} at {clock_text(since)} and stays so; no finding tells of it"
        yield Looked("drift", channel.id, since, song_end_s(context), said, loose=True)
