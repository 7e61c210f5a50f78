"""Controls: everything on a strip that can be set and automated, each read through one owner.

A control is a fader, a pan, a mute, the level, pan or switch of a send, the switch or wet share of an insert, or any
parameter that an insert lists; of a track, a group, a return or the mix bus alike. It has a *static* value, the one
that the export stores, and may have a lane. A lane whose values are all the same holds the control there, whatever is
stored; one that moves it leaves what it stands at *now* to the static value.

Values are in the reader's units: levels in dB, pans −100…+100, switches 0 and 1, wet shares in per cent, parameters as
listed.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.session.maybe import Unknown
from mixlint.session.model import Automation, Channel, Send
from mixlint.session.target import FADER, MUTE, PAN, Target
from mixlint.units import SILENCE_DB

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

ON: Final = 0.5
"""A switch is on from here up."""

_NO_SUCH: Final = Unknown(unknown="there is no such control")


def moves(lane: Automation) -> bool:
    """True when a lane has two points or more that differ."""
    return len(set(lane.v)) > 1


class Control(NamedTuple):
    """One control of one channel.

    Args:
        target: which control it is.
        static: what the export stores for it, or why it does not show it.
        lane: the lane that automates it; None where there is none.
    """

    target: Target
    static: float | Unknown
    lane: Automation | None

    @property
    def moves(self) -> bool:
        """True when automation moves it."""
        return self.lane is not None and moves(self.lane)

    @property
    def held(self) -> bool:
        """True when automation holds it at one value."""
        return self.lane is not None and not moves(self.lane)

    @property
    def unknown(self) -> Unknown | None:
        """Why nothing tells where it stands, or None where the export or its lane does."""
        return self.static if self.lane is None and isinstance(self.static, Unknown) else None

    @property
    def now(self) -> float | Unknown:
        """What it stands at: where a lane holds it, else as stored, else as its lane begins."""
        lane = self.lane
        if lane is not None and (isinstance(self.static, Unknown) or not moves(lane)):
            return shown_value(lane, lane.v[0])
        return self.static

    @property
    def lowest(self) -> float | Unknown:
        """The lowest it ever stands at: of its lane where it has one, else as stored."""
        return self.static if self.lane is None else shown_value(self.lane, min(self.lane.v))

    @property
    def highest(self) -> float | Unknown:
        """The highest it ever stands at."""
        return self.static if self.lane is None else shown_value(self.lane, max(self.lane.v))

    @property
    def can_be_on(self) -> bool | Unknown:
        """Of a switch: whether it is ever on. Of a level: whether it is ever above silence."""
        highest = self.highest
        if isinstance(highest, Unknown):
            return highest
        return highest >= ON if self.target.is_switch else highest > SILENCE_DB

    @property
    def can_be_off(self) -> bool | Unknown:
        """Of a switch: whether it is ever off. Of a level: whether it is ever at silence."""
        lowest = self.lowest
        if isinstance(lowest, Unknown):
            return lowest
        return lowest < ON if self.target.is_switch else lowest <= SILENCE_DB

    @property
    def where(self) -> str:
        """The place of its lane in the export; empty where it has none."""
        return self.lane.where if self.lane is not None else ""

    def at(self, times: Floats) -> Floats:
        """What it stands at over time.

        Args:
            times: (T,) seconds of the song, rising.

        Returns:
            (T,) values in the reader's units; NaN where nothing tells.
        """
        import numpy as np

        if self.lane is None:
            return np.full(np.shape(times), np.nan if isinstance(self.static, Unknown) else self.static)
        return shown_values(self.lane, times)


def control_of(channel: Channel, target: Target) -> Control:
    """The control of ``channel`` that ``target`` names; unknown where there is no such control."""
    return Control(target, _static(channel, target), lane_of(channel, target))


def lane_of(channel: Channel, target: Target) -> Automation | None:
    """The lane that automates a control: the first of its target that has points, or None."""
    if not channel.automation:  # most strips: large sessions ask this of every send
        return None
    kind = target.kind  # told apart by it, most lanes cost no comparison of targets
    lanes = (lane for lane in channel.automation if lane.target.kind == kind and lane.target == target and lane.t)
    return next(lanes, None)


class SendControls(NamedTuple):
    """The three controls of a send."""

    level: Control
    on: Control
    pan: Control

    @property
    def can_be_open(self) -> bool | Unknown:
        """Whether the send is ever open: switched on and above silence, as stored or by automation.

        False where its switch or its level closes it throughout; Unknown where the one that is not known decides.
        """
        on, up = self.on.can_be_on, self.level.can_be_on
        if on is False or up is False:
            return False
        return on if isinstance(on, Unknown) else True


def controls_of_send(channel: Channel, place: int) -> SendControls:
    """The controls of a send of ``channel``, counted from 0; unknown where there is no such send."""
    return SendControls(
        control_of(channel, Target.send(place, "level")),
        control_of(channel, Target.send(place, "on")),
        control_of(channel, Target.send(place, "pan")),
    )


def lane_values(lane: Automation, times: Floats) -> Floats:
    """The values of a lane over time, for computing: levels as linear amplitude, all else as it is.

    Args:
        lane: the lane.
        times: (T,) seconds; before the first point the first value holds, after the last the last.

    Returns:
        (T,) values. A straight stretch runs straight on the lane's own scale.
    """
    import numpy as np

    t = np.asarray(lane.t, dtype=np.float64)
    v = np.asarray(lane.v, dtype=np.float64)
    if lane.shape == "linear":
        # A step is two points at one time: np.interp answers with the later one from that time on.
        values = np.interp(times, t, v)
    else:
        values = v[np.clip(np.searchsorted(t, times, side="right") - 1, 0, None)]
    if lane.scale == "dB":
        from mixlint.signal.decibel import to_amplitude

        return np.asarray(to_amplitude(values), dtype=np.float64)
    return np.asarray(values, dtype=np.float64)


def shown_values(lane: Automation, times: Floats) -> Floats:
    """The values of a lane over time, for a reader: levels in dB, all else as it is; as :func:`lane_values`."""
    import numpy as np

    values = lane_values(lane, times)
    if lane.scale not in ("dB", "amplitude"):
        return values
    return np.asarray(20.0 * np.log10(np.maximum(values, 10.0 ** (SILENCE_DB / 20.0))))


def shown_value(lane: Automation, value: float) -> float:
    """One value of a lane for a reader: an amplitude in dB, a level no lower than silence."""
    if lane.scale == "amplitude":
        from mixlint.signal.decibel import to_db

        return to_db(value)
    return max(value, SILENCE_DB) if lane.scale == "dB" else value


def _static(channel: Channel, target: Target) -> float | Unknown:
    """What the export stores for a control."""
    kind, place = target.kind, target.place
    if kind in _OF_STRIP:
        return _OF_STRIP[kind](channel)
    if place is None:
        return _NO_SUCH
    if kind in _OF_SEND:
        return _OF_SEND[kind](channel.sends[place]) if place < len(channel.sends) else _NO_SUCH
    if place >= len(channel.inserts):
        return _NO_SUCH
    insert = channel.inserts[place]
    if kind == "insert-switch":
        return _number(insert.on)
    if kind == "insert-wet":
        return insert.wet
    listed = next((p.value for p in insert.parameters if p.id == target.name), _NO_SUCH)
    if isinstance(listed, str):
        return Unknown(unknown=f"it is set to {listed}, which is no number")
    return _number(listed)


def _number(value: bool | float | Unknown) -> float | Unknown:
    return value if isinstance(value, Unknown) else float(value)


_OF_STRIP: Final[dict[str, Callable[[Channel], float | Unknown]]] = {
    "fader": lambda channel: channel.fader_db,
    "pan": lambda channel: channel.pan,
    "mute": lambda channel: _number(channel.mute),
}
_OF_SEND: Final[dict[str, Callable[[Send], float | Unknown]]] = {
    "send-level": lambda send: send.level_db,
    "send-pan": lambda send: send.pan,
    "send-switch": lambda send: _number(send.on),
}


__all__ = [
    "FADER",
    "MUTE",
    "ON",
    "PAN",
    "Control",
    "SendControls",
    "Target",
    "control_of",
    "controls_of_send",
    "lane_of",
    "lane_values",
    "moves",
    "shown_value",
    "shown_values",
]
