"""Where a lane leaves its control: what it kept before its last move, how far from that it ends, and in what words.

A pass of automation that was stopped too early leaves its control where no other part of the song has it. What a
control *kept* are the values at which it stood for a while; one that ends where it stood before has come back, as
automation does that differs by section. Fades, rides and throws are too short to be kept.
"""

from __future__ import annotations

from itertools import pairwise
from math import inf, log2
from typing import TYPE_CHECKING, Final, Literal, NamedTuple, get_args

from mixlint.analysis.activity import (
    has_arrangement,
    merged,
    song_end_s,
    sounding_clips,
    sounding_spans,
    time_grid,
)
from mixlint.analysis.channel_purpose import StripKind, is_source, strip_kind
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.groups import vca_members
from mixlint.analysis.settings import Setting
from mixlint.analysis.silence import LOSS_SETTINGS, LOST, loss_without
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.lane.lanes import ChannelLane, clips_sounding_through, last_move_s
from mixlint.session import Automation, Channel, NotKnown, Target, Unknown
from mixlint.session.control import ON, is_readable, shown_values
from mixlint.signal.median import median
from mixlint.units import PAN, PAN_DISTANCE, SILENCE_DB, number_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

ControlClass = Literal[
    "fader", "mute", "pan", "send-level", "send-switch", "low-cut", "high-cut", "filter-switch", "equalizer-gain",
    "wet", "processor-switch", "gain", "threshold", "other",
]  # fmt: skip
"""What a control does to the sound, as far as that decides what it means to leave it somewhere."""

LEAST_STAY: Final = Setting(
    "automation.least_stay",
    8.0,
    "s",
    "A value that a control holds for this long while its channel sounds is one that it keeps.",
    lowest=0.0,
)
WITH_PART: Final = Setting(
    "automation.with_part",
    2.0,
    "s",
    "A move this near to where a like part begins or stops to play goes with that part.",
    lowest=0.0,
)
STAY_SETTINGS: Final = (LEAST_STAY,)

SAME_DB: Final = 0.5
SAME_PAN: Final = 2.0
SAME_PERCENT: Final = 2.0
SAME_OCTAVES: Final = 0.1
"""Two values this near are one place: what a hand on a fader or a rounding exporter leaves between them. No settings:
what decides are the limits of the rules, which are many times as large."""

LOWEST_HZ: Final = 1.0
"""Frequencies under this count as this, so that a filter drawn down to 0 Hz is some octaves away and not infinitely."""


def control_class(channel: Channel, target: Target) -> ControlClass:
    """What a control of a channel does to the sound; ``other`` for one whose meaning the export does not tell."""
    plain: dict[str, ControlClass] = {
        "fader": "fader",
        "mute": "mute",
        "pan": "pan",
        "send-pan": "pan",
        "send-level": "send-level",
        "send-switch": "send-switch",
        "insert-switch": "processor-switch",
        "insert-wet": "wet",
    }
    if target.kind in plain:
        return plain[target.kind]
    if target.kind == "insert-band":
        return _class_of_band(channel, target)
    if target.kind == "insert-parameter":
        return {"inputgain": "gain", "outputgain": "gain", "threshold": "threshold"}.get(target.name, "other")  # type: ignore[return-value]  # mypy widens the words of the table
    return "other"


def _class_of_band(channel: Channel, target: Target) -> ControlClass:
    """The class of a setting of an equalizer's band."""
    kind, band = _band_kind(channel, target), target.band
    if kind is None or band is None:
        return "other"
    if band[1] == "on":
        return "filter-switch"
    if band[1] == "freq":
        return {"high-pass": "low-cut", "low-pass": "high-cut"}.get(kind, "other")  # type: ignore[return-value]  # likewise
    return "equalizer-gain" if band[1] == "gain" else "other"


def _band_kind(channel: Channel, target: Target) -> str | None:
    """What kind of band a target moves; None where the export shows no such band."""
    band, place = target.band, target.place
    if band is None or place is None or place >= len(channel.inserts):
        return None
    equalizer = channel.inserts[place].equalizer
    return equalizer.bands[band[0] - 1].kind if equalizer is not None and band[0] <= len(equalizer.bands) else None


class Stay(NamedTuple):
    """A value that a control keeps, in the reader's unit, and for how long sound passes its channel meanwhile."""

    value: float
    sounding_s: float


class Settling(NamedTuple):
    """How a lane comes to its end.

    Args:
        ends: the value it ends at, in the reader's unit.
        kept: what it kept before; where it kept nothing, the value in the middle of its moves.
    """

    ends: float
    kept: tuple[Stay, ...]

    @property
    def longest(self) -> float | None:
        """What it kept longest; None where it kept nothing."""
        return max(self.kept, key=lambda stay: stay.sounding_s).value if self.kept else None


@per_session
def settling(context: SessionContext, channel: Channel, lane: Automation) -> Settling | Unknown:
    """How a lane comes to its end; Unknown where its figures cannot be read.

    Without clips in the export the channel is taken to sound for as long as the lane has points.
    """
    import numpy as np

    if not is_readable(lane):
        return Unknown(unknown="the unit of its values cannot be read", settle="look at the lane")
    spans = spans_of(context, channel, lane)
    since = last_move_s(lane)
    values = [float(value) for value in point_values(lane)]
    least = context.setting(LEAST_STAY)
    stays = _stays(lane, values, _same(control_class(channel, lane.target)), since, spans)
    kept = tuple(stay for stay in stays if stay.sounding_s >= least)
    before = float(_sounding_until(spans, np.array([since]))[0])
    if not kept and before >= least:
        edges = time_grid(context)
        middles = (edges[:-1] + edges[1:]) / 2.0
        until = np.diff(_sounding_until(spans, edges)) > 0.0
        moving = middles[until & (middles < since)]
        kept = (Stay(median(shown_values(lane, moving)), before),) if moving.size else ()
    return Settling(values[-1], kept)


def spans_of(context: SessionContext, channel: Channel, lane: Automation) -> list[tuple[float, float]]:
    """When sound passes the channel of a lane, or what a VCA moves: disjoint (start, end) in seconds, in order.

    Of a VCA whose members the export does not show, the whole song.
    """
    if not has_arrangement(context):
        return [(lane.t[0], lane.t[-1])]
    if channel.kind == "vca":
        moved = vca_members(context, channel)
        spans = [span for one in moved for span in sounding_spans(context, one.id)]
        return merged(spans) if moved else [(0.0, song_end_s(context))]
    return sounding_spans(context, channel.id)


def point_values(lane: Automation) -> Floats:
    """The values (N,) of a lane's points in the reader's unit; switches are 0 and 1."""
    import numpy as np

    values = np.asarray(lane.v, dtype=np.float64)
    if lane.scale in ("dB", "amplitude"):
        levels = 20.0 * np.log10(np.maximum(values, 1e-10)) if lane.scale == "amplitude" else values
        return np.asarray(np.maximum(levels, SILENCE_DB))
    return np.asarray(values >= ON, dtype=np.float64) if lane.scale == "switch" else values


def _same(kind: ControlClass) -> float:
    """How near two values of a control are one place; a share of an octave for frequencies."""
    if kind in ("pan", "wet"):
        return SAME_PAN if kind == "pan" else SAME_PERCENT
    return SAME_OCTAVES if kind in ("low-cut", "high-cut") else SAME_DB


def _stays(
    lane: Automation, values: list[float], same: float, since_s: float, spans: list[tuple[float, float]]
) -> list[Stay]:
    """Where a lane stands still before its last move, each with the time that sound passes meanwhile."""
    import numpy as np

    octaves = same == SAME_OCTAVES
    placed = [log2(max(value, LOWEST_HZ)) for value in values] if octaves else values
    bounds: list[float] = []
    found: list[float] = []
    first = 0
    while first < len(values) and lane.t[first] < since_s:
        last = first
        while last + 1 < len(values) and abs(placed[last + 1] - placed[first]) <= same:
            last += 1
        ends = lane.t[last] if lane.shape == "linear" or last + 1 >= len(values) else lane.t[last + 1]
        bounds += [-inf if first == 0 else lane.t[first], min(ends, since_s)]
        found.append(values[first])
        first = last + 1
    until = _sounding_until(spans, np.asarray(bounds)).reshape(-1, 2)
    return [Stay(value, float(end - start)) for value, (start, end) in zip(found, until, strict=True) if end > start]


def _sounding_until(spans: list[tuple[float, float]], times: Floats) -> Floats:
    """For how long sound passes before each time.

    Args:
        spans: disjoint (start, end) in seconds, in order.
        times: (N,) seconds.

    Returns:
        (N,) seconds of sound.
    """
    import numpy as np

    if not spans:
        return np.zeros(times.shape)
    starts, ends = np.array(spans).T
    done = np.concatenate([[0.0], np.cumsum(ends - starts)])
    at = np.searchsorted(starts, times, side="right")
    inside = np.where(at > 0, np.minimum(times, ends[at - 1]) - starts[at - 1], 0.0)
    return np.asarray(np.where(at > 0, done[at - 1], 0.0) + inside)


FACTS: Facts[ChannelLane] = Facts()


def _settled(row: Row[ChannelLane], *classes: ControlClass) -> Settling:
    """How the lane comes to its end.

    Raises:
        NotKnown: it moves a control of another class, or its figures cannot be read.
    """
    item = row.item
    if classes and control_class(item.channel, item.lane.target) not in classes:
        raise NotKnown(Unknown(unknown="it moves no such control"))
    found = settling(row.context, item.channel, item.lane)
    if isinstance(found, Unknown):
        raise NotKnown(found)
    return found


@FACTS.fact(
    "word",
    "What the control it moves does to the sound, or other where the export does not tell.",
    how="derived",
    words=get_args(ControlClass),
)
def moves_a(row: Row[ChannelLane]) -> str:
    return control_class(row.item.channel, row.item.lane.target)


@FACTS.fact("word", "What its channel is to the song.", how="derived", words=get_args(StripKind))
def strip(row: Row[ChannelLane]) -> str:
    return strip_kind(row.context, row.item.channel)


@FACTS.fact(
    "word",
    "What the song loses while its channel is silent: its lead, a whole family of parts, a group of parts, a part, or "
    "nothing.",
    how="derived",
    words=LOST,
    settings=LOSS_SETTINGS,
)
def loss(row: Row[ChannelLane]) -> str:
    return loss_without(row.context, row.item.channel).what


@FACTS.fact("switch", "It kept the value at which it ends for a while before.", how="derived", settings=STAY_SETTINGS)
def kept_before(row: Row[ChannelLane]) -> bool:
    return comes_back(row.item.channel, row.item.lane, _settled(row))


def comes_back(channel: Channel, lane: Automation, found: Settling) -> bool:
    """Whether a lane ends at a value that it kept before."""
    kind = control_class(channel, lane.target)
    if kind in ("low-cut", "high-cut"):
        found = _in_octaves(found)
    return any(abs(stay.value - found.ends) <= _same(kind) for stay in found.kept)


@FACTS.fact("switch", "It was opened and closed before, and ends open: a throw that was not closed again.")
def opened_before(row: Row[ChannelLane]) -> bool:
    """Of a send's level or switch: it was shut at first, opened and shut again, and is left open by its last move."""
    lane = row.item.lane
    if control_class(row.item.channel, lane.target) not in ("send-level", "send-switch"):
        return False
    open_at = [bool(value > (SHUT_DB if lane.scale in ("dB", "amplitude") else 0.5)) for value in point_values(lane)]
    turns = [now for before, now in pairwise(open_at) if now is not before]
    return not open_at[0] and open_at[-1] and turns.count(True) >= 2


SHUT_DB: Final = -60.0
"""A send at or under this is shut: nobody hears what passes."""


@FACTS.fact(
    "number", "How much of the time in which its channel sounds lies before its last move.", unit="%", how="derived"
)
def before_percent(row: Row[ChannelLane]) -> float:
    import numpy as np

    lane = row.item.lane
    spans = spans_of(row.context, row.item.channel, lane)
    whole, before = _sounding_until(spans, np.array([inf, last_move_s(lane)]))
    return float(100.0 * before / whole) if whole > 0.0 else 0.0


_LEVELS: Final = ("fader", "send-level", "equalizer-gain", "gain", "threshold")


def _over(found: Settling) -> float:
    """How far it ends over the highest value that it kept; negative under it, 0 where it kept none."""
    return found.ends - max(stay.value for stay in found.kept) if found.kept else 0.0


def _under(found: Settling) -> float:
    """How far it ends under the lowest value that it kept; negative over it, 0 where it kept none."""
    return min(stay.value for stay in found.kept) - found.ends if found.kept else 0.0


@FACTS.fact(
    "number",
    "How far a level or a gain ends over all that it kept before.",
    unit="dB",
    how="derived",
    settings=STAY_SETTINGS,
)
def ends_over_db(row: Row[ChannelLane]) -> float:
    return max(0.0, _over(_settled(row, *_LEVELS)))


@FACTS.fact(
    "number",
    "How far a level or a gain ends under all that it kept before.",
    unit="dB",
    how="derived",
    settings=STAY_SETTINGS,
)
def ends_under_db(row: Row[ChannelLane]) -> float:
    return max(0.0, _under(_settled(row, *_LEVELS)))


@FACTS.fact(
    "number",
    "How far a pan ends from every position that it kept before.",
    unit=PAN_DISTANCE,
    how="derived",
    settings=STAY_SETTINGS,
)
def ends_off_pan(row: Row[ChannelLane]) -> float:
    return _nearest(_settled(row, "pan"))


@FACTS.fact(
    "number",
    "How far a wet share ends from every one that it kept before.",
    unit="%",
    how="derived",
    settings=STAY_SETTINGS,
)
def ends_off_wet(row: Row[ChannelLane]) -> float:
    return _nearest(_settled(row, "wet"))


def _nearest(found: Settling) -> float:
    """How far it ends from the nearest value that it kept; 0 where it kept none."""
    return min((abs(stay.value - found.ends) for stay in found.kept), default=0.0)


@FACTS.fact(
    "number",
    "How many octaves the corner of a low cut or a high cut ends under all that it kept before.",
    how="derived",
    settings=STAY_SETTINGS,
)
def ends_octaves_under(row: Row[ChannelLane]) -> float:
    return max(0.0, _under(_in_octaves(_settled(row, "low-cut", "high-cut"))))


@FACTS.fact(
    "number",
    "How many octaves the corner of a low cut or a high cut ends over all that it kept before.",
    how="derived",
    settings=STAY_SETTINGS,
)
def ends_octaves_over(row: Row[ChannelLane]) -> float:
    return max(0.0, _over(_in_octaves(_settled(row, "low-cut", "high-cut"))))


def _in_octaves(found: Settling) -> Settling:
    """The same with frequencies as octaves over 1 Hz."""
    kept = tuple(stay._replace(value=log2(max(stay.value, LOWEST_HZ))) for stay in found.kept)
    return found._replace(ends=log2(max(found.ends, LOWEST_HZ)), kept=kept)


@FACTS.fact(
    "number",
    "The frequency at which the corner of a low cut or a high cut ends.",
    unit="Hz",
    how="derived",
    settings=STAY_SETTINGS,
)
def ends_at_hz(row: Row[ChannelLane]) -> float:
    return _settled(row, "low-cut", "high-cut").ends


@FACTS.fact(
    "number",
    "The corner that a low cut or a high cut kept longest before its last move.",
    unit="Hz",
    how="derived",
    settings=STAY_SETTINGS,
)
def kept_hz(row: Row[ChannelLane]) -> float | Unknown:
    kept = _settled(row, "low-cut", "high-cut").longest
    return Unknown(unknown="it kept no frequency before its last move") if kept is None else kept


@FACTS.fact(
    "word", "How a switch ends: on, off, or neither where it moves none.", how="derived", words=("on", "off", "neither")
)
def ends_switched(row: Row[ChannelLane]) -> str:
    item = row.item
    if item.lane.scale != "switch" and item.lane.target != Target("mute"):
        return "neither"
    return "on" if item.lane.v[-1] >= ON else "off"


@FACTS.fact(
    "switch",
    "A like part begins or stops to play about where it makes its last move.",
    how="derived",
    settings=(WITH_PART,),
)
def like_part_turns(row: Row[ChannelLane]) -> bool | FactValue:
    context, channel = row.context, row.item.channel
    family, since = context.family(channel.id), last_move_s(row.item.lane)
    near = context.setting(WITH_PART)
    for other in context.session.channels:
        if other.id == channel.id or family is None or not is_source(context, other):
            continue
        if context.family(other.id) != family:
            continue
        if any(abs(edge - since) <= near for span in sounding_clips(other) for edge in span):
            return FactValue(True, "derived", row.subject.where, context.name(other.id))
    return False


@FACTS.fact("number", "How many clips begin to sound through its channel after its last move.", how="derived")
def clips_begin_after(row: Row[ChannelLane]) -> int:
    since = last_move_s(row.item.lane)
    return sum(clip.start_s >= since for _, clip in clips_sounding_through(row.context, row.item.channel))


@FACTS.fact(
    "text",
    "What its last move does, from what it kept to where it ends, to be read after the name of the lane.",
    how="derived",
    settings=STAY_SETTINGS,
)
def last_move_text(row: Row[ChannelLane]) -> str:
    found = _settled(row)
    kind = control_class(row.item.channel, row.item.lane.target)
    if kind in ("mute", "send-switch", "filter-switch", "processor-switch"):
        return f"goes {'on' if found.ends >= ON else 'off'}"
    unit = UNITS_OF_CLASS.get(kind, "")
    ends = number_text(found.ends, unit)
    kept = found.longest
    return f"goes to {ends}" if kept is None else f"goes from {number_text(kept, unit)} to {ends}"


UNITS_OF_CLASS: Final[dict[ControlClass, str]] = {
    "fader": "dB",
    "pan": PAN,
    "send-level": "dB",
    "low-cut": "Hz",
    "high-cut": "Hz",
    "equalizer-gain": "dB",
    "wet": "%",
    "gain": "dB",
    "threshold": "dBFS",
}
