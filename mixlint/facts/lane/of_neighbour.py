"""Faders whose lane was written for another strip: it begins where the fader of a neighbour stands that has none."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.lane.lanes import ChannelLane
from mixlint.facts.lane.settling import point_values
from mixlint.session import FADER, Automation, Channel, control_of, is_known
from mixlint.session.control import is_readable, moves

FACTS: Facts[ChannelLane] = Facts()

APART: Final = Setting(
    "neighbours.apart", 2.0, "dB", "So far from where its lane begins a fader is another's.", lowest=0.5
)
EXACT_DB: Final = 0.05
"""A lane begins where the fader stood as it was written: no setting, exporters round to a tenth."""

NOBODY: Final = "nobody"


@per_session
def written_for(context: SessionContext, channel: Channel, lane: Automation) -> Channel | None:
    """The one source beside a channel, without a lane, whose fader stands exactly where the lane begins."""
    own = channel.fader_db
    if lane.target != FADER or not is_readable(lane) or not moves(lane) or not is_known(own):
        return None
    values = point_values(lane)
    first = float(values[0])
    if values.min() <= own <= values.max() or abs(own - first) < context.setting(APART):
        return None
    found = [
        other
        for other in context.session.channels
        if other.output == channel.output
        and is_source(context, other)
        and is_known(other.fader_db)
        and abs(other.fader_db - first) <= EXACT_DB
        and not control_of(other, FADER).moves
    ]
    return found[0] if len(found) == 1 and is_source(context, channel) else None


@FACTS.fact(
    "text",
    "The one channel beside it, without a lane of its own, whose fader stands exactly where the lane begins, while its "
    "own stands outside all that it passes; or nobody.",
    how="derived",
    settings=(APART,),
)
def written_for_another(row: Row[ChannelLane]) -> FactValue:
    found = written_for(row.context, row.item.channel, row.item.lane)
    name = row.context.name(found.id) if found is not None else NOBODY
    return FactValue(name, "derived", row.subject.where)
