"""How the tables hang together: the facts that lead from a row to rows of other tables, or of its own.

They are declared here and not beside their tables, since each needs two of these. A condition asks what is true of the
rows that a fact leads to; so what can be said of a send can be said of the sends of a channel, of the channel that a
send leads to, and of all sends of the session.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any, Final, cast

from mixlint.analysis.activity import has_arrangement
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.gaps import GAP_SETTINGS, unknown_by_gap
from mixlint.analysis.key_inputs import channels_by_key
from mixlint.analysis.media_use import MediaUse
from mixlint.analysis.partners import partners
from mixlint.facts.channel.plain import NO_CLIPS
from mixlint.facts.channel.table import CHANNEL
from mixlint.facts.clip.clip_regions import ClipRegion
from mixlint.facts.clip.table import CLIP
from mixlint.facts.declare import Row, Table
from mixlint.facts.feed.table import FEED
from mixlint.facts.handover.table import HANDOVER
from mixlint.facts.insert.processing import ChannelInsert
from mixlint.facts.insert.table import INSERT
from mixlint.facts.lane.table import LANE
from mixlint.facts.loop.table import LOOP
from mixlint.facts.marker.table import MARKER, PlacedMarker
from mixlint.facts.media.table import MEDIA
from mixlint.facts.mix_bus.table import MIX_BUS
from mixlint.facts.mix_print.table import PRINT
from mixlint.facts.pair.pairs import PartPair
from mixlint.facts.pair.table import PAIR
from mixlint.facts.parameter.table import PARAMETER, ListedParameter
from mixlint.facts.return_.table import RETURN
from mixlint.facts.send.channel_send import ChannelSend
from mixlint.facts.send.table import SEND
from mixlint.facts.session.table import SESSION
from mixlint.facts.sides.table import SIDES, BothSides
from mixlint.facts.source.table import SOURCE
from mixlint.facts.stem.table import STEM
from mixlint.facts.stems.table import STEMS
from mixlint.facts.track.table import TRACK
from mixlint.naming import keys_named
from mixlint.session import Channel, MediaFile, Session, Unknown

Rows = tuple[Row[Any], ...]
Lead = Callable[[Row[Any]], tuple[Row[Any] | Unknown, ...] | Unknown]

TOUCH_S: Final = 0.001
"""Two clips with no more than this between them touch: a definition, a millisecond."""

NO_PROCESSORS: Final = Unknown(
    unknown="the export shows no processors at all", settle="look at its inserts, or export them"
)


@per_session
def _by_channel(context: SessionContext, table: Table[Any]) -> dict[str, Rows]:
    """Channel id → the rows of a table whose items are of that channel, in their order."""
    found: dict[str, list[Row[Any]]] = {}
    for row in table.rows(context):
        found.setdefault(row.item.channel.id, []).append(row)
    return {one: tuple(rows) for one, rows in found.items()}


@per_session
def _by_id(context: SessionContext, table: Table[Any]) -> dict[str, Row[Any]]:
    """Id → row."""
    return {row.subject.id: row for row in table.rows(context)}


def _channels(context: SessionContext, ids: Iterable[str]) -> Rows:
    rows = _by_id(context, CHANNEL)
    return tuple(rows[one] for one in ids if one in rows)


# ---- from a channel, in whichever table it is a row ----------------------------------------------------------------


def inserts(row: Row[Channel]) -> Rows | Unknown:
    if not any(channel.inserts for channel in row.context.session.channels):
        return NO_PROCESSORS
    return _by_channel(row.context, INSERT).get(row.subject.id, ())


def sends(row: Row[Channel]) -> Rows | Unknown:
    return unknown_by_gap(row.context, "sends") or _by_channel(row.context, SEND).get(row.subject.id, ())


def sends_received(row: Row[Channel]) -> Rows | Unknown:
    gap = unknown_by_gap(row.context, "sends")
    return gap or tuple(one for one in SEND.rows(row.context) if one.item.send.to == row.subject.id)


def clips(row: Row[Channel]) -> Rows | Unknown:
    return _by_channel(row.context, CLIP).get(row.subject.id, ()) if has_arrangement(row.context) else NO_CLIPS


def lanes(row: Row[Channel]) -> Rows | Unknown:
    found = _by_channel(row.context, LANE).get(row.subject.id, ())
    return found or unknown_by_gap(row.context, "automation") or ()


def files(row: Row[Channel]) -> Rows | Unknown:
    if not has_arrangement(row.context):
        return NO_CLIPS
    return tuple(one for one in MEDIA.rows(row.context) if row.subject.id in one.item.users)


def output(row: Row[Channel]) -> Rows | Unknown:
    if isinstance(row.item.output, Unknown):
        return Unknown(unknown=f"the output of {row.context.name(row.subject.id)}: {row.item.output.unknown}",
                       settle="look at its output")  # fmt: skip
    if row.item.output is None:
        return unknown_by_gap(row.context, "outputs", "groups") or ()
    return _channels(row.context, [row.item.output])


def route(row: Row[Channel]) -> tuple[Row[Any] | Unknown, ...]:
    found: dict[str, Row[Any]] = {}
    here: Row[Any] = _by_id(row.context, CHANNEL)[row.subject.id]
    mix_bus = row.context.routing.wiring.mix_bus
    while True:
        there = output(here) if here.subject.id != mix_bus else ()
        if isinstance(there, Unknown):
            return (*found.values(), there)
        if not there or there[0].subject.id in found:
            return tuple(found.values())
        here = there[0]
        found[here.subject.id] = here


def fed_by(row: Row[Channel]) -> Rows | Unknown:
    every = row.context.session.channels
    gap = unknown_by_gap(row.context, "outputs", "groups")
    return gap or _channels(row.context, (one.id for one in every if one.output == row.subject.id))


def lies_in(row: Row[Channel]) -> Rows:
    return _channels(row.context, [row.item.parent] if row.item.parent is not None else [])


def members(row: Row[Channel]) -> Rows | Unknown:
    own, every = row.subject.id, row.context.session.channels
    gap = unknown_by_gap(row.context, "outputs", "groups")
    return gap or _channels(row.context, (one.id for one in every if own in (one.output, one.parent)))


def partner(row: Row[Channel]) -> Rows:
    other = partners(row.context).get(row.subject.id)
    return _channels(row.context, [other.id] if other is not None else [])


def other_channels(row: Row[Channel]) -> Rows:
    return tuple(one for one in CHANNEL.rows(row.context) if one.subject.id != row.subject.id)


def above_it(row: Row[Channel]) -> Rows:
    return CHANNEL.rows(row.context)[: row.context.order[row.subject.id]]


def below_it(row: Row[Channel]) -> Rows:
    return CHANNEL.rows(row.context)[row.context.order[row.subject.id] + 1 :]


_OF_A_CHANNEL: Final[tuple[tuple[str, str, str, Lead], ...]] = (
    ("rows", "insert", "The processors in it, in the order the signal passes; not known where the export shows none.",
     inserts),
    ("rows", "send", "Its sends, switched on or not.", sends),
    ("rows", "send", "The sends that lead to it, switched on or not.", sends_received),
    ("rows", "clip", "The clips on it; those alike but for their place are one.", clips),
    ("rows", "lane", "The automation lanes on it.", lanes),
    ("rows", "media", "The files that its clips play.", files),
    ("row", "channel", "The channel it goes out to; none where it goes nowhere.", output),
    ("rows", "channel", "All channels that its output passes, one after the other, to the mix bus or its end.", route),
    ("rows", "channel", "The channels that go out to it.", fed_by),
    ("row", "channel", "The channel it lies in, whether or not it goes out there; or none.", lies_in),
    ("rows", "channel", "The channels that lie in it or go out to it: the members of a group or VCA.", members),
    ("row", "channel", "The track whose name differs from its own in nothing but the side; or none.", partner),
    ("rows", "channel", "All channels of the session but itself.", other_channels),
    ("rows", "channel", "The channels before it on the desk, in desk order.", above_it),
    ("rows", "channel", "The channels behind it on the desk, in desk order.", below_it),
)  # fmt: skip

_BY_GAP: Final = frozenset({"sends", "sends_received", "output", "route", "fed_by", "members", "lanes"})

for _table in (CHANNEL, SOURCE, RETURN, TRACK):
    for _kind, _of, _meaning, _lead in _OF_A_CHANNEL:
        _settings = GAP_SETTINGS if _lead.__name__ in _BY_GAP else ()
        _table.fact(cast("Any", _kind), _meaning, how="derived", of=_of, settings=_settings)(cast("Any", _lead))


def as_channel(row: Row[Any]) -> Rows:
    return () if isinstance(row.item, Unknown) else _channels(row.context, [row.item.id])


_ON_THE_DESK: Final[tuple[Table[Any], ...]] = (SOURCE, RETURN, TRACK, MIX_BUS)

for _strip in _ON_THE_DESK:
    _strip.fact("row", "It as a channel of the desk.", how="derived", of="channel")(as_channel)


def _as(row: Row[Channel], table: Table[Any]) -> Rows:
    found = _by_id(row.context, table).get(row.subject.id)
    return (found,) if found is not None else ()


@CHANNEL.fact("row", "It as a source; none where it is no audible part that plays itself.", how="derived", of="source")
def as_source(row: Row[Channel]) -> Rows:
    return _as(row, SOURCE)


@CHANNEL.fact("row", "It as an effect return; none where it is none.", how="derived", of="return")
def as_return(row: Row[Channel]) -> Rows:
    return _as(row, RETURN)


@CHANNEL.fact("row", "It as a track with its clips taken together; none where it is no track.", how="derived",
              of="track")  # fmt: skip
def as_track(row: Row[Channel]) -> Rows:
    return _as(row, TRACK)


# ---- from what is on a channel -------------------------------------------------------------------------------------


def its_channel(row: Row[Any]) -> Rows:
    return _channels(row.context, [row.item.channel.id])


INSERT.fact("row", "The channel it sits in.", of="channel")(its_channel)
CLIP.fact("row", "The channel it is on.", of="channel")(its_channel)
LANE.fact("row", "The channel it is on.", of="channel")(its_channel)
PARAMETER.fact("row", "The channel that its processor sits in.", of="channel")(its_channel)


def _own_inserts(row: Row[ChannelInsert]) -> Rows:
    return _by_channel(row.context, INSERT).get(row.item.channel.id, ())


@INSERT.fact("rows", "The processors before it in its channel, in the order the signal passes.", of="insert")
def before_it(row: Row[ChannelInsert]) -> Rows:
    return _own_inserts(row)[: row.item.place]


@INSERT.fact("rows", "The processors behind it in its channel, in the order the signal passes.", of="insert")
def behind_it(row: Row[ChannelInsert]) -> Rows:
    return _own_inserts(row)[row.item.place + 1 :]


@INSERT.fact("rows", "The settings that it lists by name; not known where it lists none.", of="parameter")
def parameters(row: Row[ChannelInsert]) -> Rows | Unknown:
    item = row.item
    of_channel = _by_channel(row.context, PARAMETER).get(item.channel.id, ())
    found = tuple(one for one in of_channel if one.item.place == item.place)
    return found or Unknown(unknown="it lists no settings by name", settle="look at its settings")


@INSERT.fact("rows", "The channels that it is keyed from, as its parameters say.", how="derived", of="channel")
def keyed_from(row: Row[ChannelInsert]) -> Rows:
    named = channels_by_key(row.context)
    keys = sorted(keys_named(row.item.insert))
    return _channels(row.context, dict.fromkeys(named[key].id for key in keys if key in named))


@PARAMETER.fact("row", "The processor that lists it.", of="insert")
def its_insert(row: Row[ListedParameter]) -> Rows:
    return (_by_channel(row.context, INSERT)[row.item.channel.id][row.item.place],)


@SEND.fact("row", "The channel it leaves.", of="channel")
def from_channel(row: Row[ChannelSend]) -> Rows:
    return _channels(row.context, [row.item.channel.id])


@SEND.fact("row", "The channel it leads to; none where that is not there.", of="channel")
def to_channel(row: Row[ChannelSend]) -> Rows | Unknown:
    if isinstance(row.item.send.to, Unknown):
        return row.item.send.to
    return _channels(row.context, [row.item.to.id] if row.item.to is not None else [])


def _clips_at(row: Row[ClipRegion], *, behind: bool) -> Rows:
    """The clips of the channel that touch one, or lie over its end: those behind it, or those before it."""
    found = []
    for other in _by_channel(row.context, CLIP).get(row.item.channel.id, ()):
        first, second = (row.item, other.item) if behind else (other.item, row.item)
        length = first.clip.end_s - first.clip.start_s
        if any(
            first_s < second_s <= first_s + length + TOUCH_S for first_s in first.starts for second_s in second.starts
        ):
            found.append(other)
    return tuple(found)


@CLIP.fact("rows", "The clips of its channel that end where it starts, or run into it.", how="derived", of="clip")
def touches_before(row: Row[ClipRegion]) -> Rows:
    return _clips_at(row, behind=False)


@CLIP.fact("rows", "The clips of its channel that start where it ends, or before that.", how="derived", of="clip")
def touches_behind(row: Row[ClipRegion]) -> Rows:
    return _clips_at(row, behind=True)


@CLIP.fact("row", "The file it plays; none for notes.", of="media")
def file(row: Row[ClipRegion]) -> Rows:
    found = _by_id(row.context, MEDIA).get(row.item.clip.file or "")
    return (found,) if found is not None else ()


@MEDIA.fact("rows", "The channels that play it.", how="derived", of="channel")
def channels(row: Row[MediaUse]) -> Rows:
    return _channels(row.context, row.item.users)


@PAIR.fact("row", "The first of the two in desk order.", of="channel")
def one_channel(row: Row[PartPair]) -> Rows:
    return _channels(row.context, [row.item.one.id])


@PAIR.fact("row", "The second of the two.", of="channel")
def other_channel(row: Row[PartPair]) -> Rows:
    return _channels(row.context, [row.item.other.id])


@SIDES.fact("row", "The one that is called the left.", of="channel")
def left(row: Row[BothSides]) -> Rows:
    return _channels(row.context, [row.item.left.id])


@SIDES.fact("row", "The one that is called the right.", of="channel")
def right(row: Row[BothSides]) -> Rows:
    return _channels(row.context, [row.item.right.id])


@MARKER.fact("rows", "The markers before it, in time.", of="marker")
def markers_before(row: Row[PlacedMarker]) -> Rows:
    return MARKER.rows(row.context)[: row.item.place]


@MARKER.fact("rows", "The markers behind it, in time.", of="marker")
def markers_behind(row: Row[PlacedMarker]) -> Rows:
    return MARKER.rows(row.context)[row.item.place + 1 :]


# ---- from the session, and to it -----------------------------------------------------------------------------------


@SESSION.fact("rows", "All channels, in desk order.", of="channel")
def all_channels(row: Row[Session]) -> Rows:
    return CHANNEL.rows(row.context)


@SESSION.fact("rows", "All sources: audible parts that play themselves.", how="derived", of="source")
def all_sources(row: Row[Session]) -> Rows:
    return SOURCE.rows(row.context)


@SESSION.fact("rows", "All effect returns.", how="derived", of="return")
def all_returns(row: Row[Session]) -> Rows:
    return RETURN.rows(row.context)


@SESSION.fact("rows", "All processors; not known where the export shows none.", of="insert")
def all_inserts(row: Row[Session]) -> Rows | Unknown:
    return INSERT.rows(row.context) or NO_PROCESSORS


@SESSION.fact("rows", "All sends, switched on or not.", of="send", settings=GAP_SETTINGS)
def all_sends(row: Row[Session]) -> Rows | Unknown:
    return unknown_by_gap(row.context, "sends") or SEND.rows(row.context)


@SESSION.fact("rows", "All clips; those alike but for their place are one.", of="clip")
def all_clips(row: Row[Session]) -> Rows | Unknown:
    return CLIP.rows(row.context) if has_arrangement(row.context) else NO_CLIPS


@SESSION.fact("rows", "All audio files that it refers to.", of="media")
def all_files(row: Row[Session]) -> Rows:
    return MEDIA.rows(row.context)


@SESSION.fact("rows", "All automation lanes.", of="lane", settings=GAP_SETTINGS)
def all_lanes(row: Row[Session]) -> Rows | Unknown:
    return LANE.rows(row.context) or unknown_by_gap(row.context, "automation") or ()


@SESSION.fact("rows", "All markers, in time.", of="marker")
def all_markers(row: Row[Session]) -> Rows:
    return MARKER.rows(row.context)


@SESSION.fact("rows", "All left and right tracks of one name.", how="derived", of="sides")
def all_sides(row: Row[Session]) -> Rows:
    return SIDES.rows(row.context)


@SESSION.fact("rows", "The files of a folder of stems; none for a session.", of="stem")
def all_stems(row: Row[Session]) -> Rows:
    return STEM.rows(row.context)


@SESSION.fact("rows", "All prints of the mix.", how="derived", of="print")
def all_prints(row: Row[Session]) -> Rows:
    return PRINT.rows(row.context)


@SESSION.fact("row", "The mix bus; none where the export does not show which channel it is.", how="derived",
              of="mix-bus")  # fmt: skip
def mix_bus(row: Row[Session]) -> Rows:
    return MIX_BUS.rows(row.context)[:1]


@STEM.fact("row", "The set that it is of.", of="stems")
def its_set(row: Row[MediaFile]) -> Rows:
    return STEMS.rows(row.context)[:1]


def session(row: Row[Any]) -> Rows:
    return SESSION.rows(row.context)


_TO_THE_SESSION: Final = "The session as a whole."

_NEAR_THE_SESSION: Final[tuple[Table[Any], ...]] = (
    CHANNEL, SOURCE, RETURN, TRACK, INSERT, SEND, CLIP, LANE, MEDIA, MARKER, PARAMETER, PAIR, SIDES, STEM, STEMS, PRINT,
    MIX_BUS, HANDOVER, LOOP, FEED,
)  # fmt: skip

for _near in _NEAR_THE_SESSION:
    _near.fact("row", _TO_THE_SESSION, of="session")(session)
