"""Controls: everything on a strip that can be set and automated, each read through one owner.

A control is a fader, a pan, a mute, the level, pan or switch of a send, the switch or wet share of an insert, a setting
of its equalizer's bands or of its dynamics, or any parameter that it lists; of a track, a group, a return or the mix
bus alike. It has a *static* value, the one that the export stores, and may have a lane. A lane whose values are all the
same holds the control there, whatever is stored; one that moves it leaves what it stands at *now* to the static value.
Whoever asks for many controls at once takes the channel with all of them as they stand: :func:`channel_now`,
:func:`inserts_now`.

Values are in the reader's units: levels and gains in dB, pans −100…+100, switches 0 and 1, wet shares in per cent,
frequencies in hertz, times of dynamics in milliseconds, parameters as listed.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, Final, NamedTuple, TypeAlias

from mixlint.session.maybe import Unknown
from mixlint.session.model import Automation, Channel
from mixlint.session.partial import seen_inserts
from mixlint.session.processor import Insert
from mixlint.session.target import FADER, MUTE, PAN, Target
from mixlint.units import SILENCE_DB

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

ON: Final = 0.5
"""A switch is on from here up."""

_NO_SUCH: Final = Unknown(unknown="there is no such control")
_UNREAD: Final = Unknown(
    unknown="it is automated in figures whose unit the export does not tell", settle="look at its automation"
)


def moves(lane: Automation) -> bool:
    """True when a lane has two points or more that differ."""
    return len(set(lane.v)) > 1


def settings_move(channel: Channel, place: int) -> bool:
    """True where automation moves a setting of an insert, by its place on its channel."""
    return any(moves(lane) for lane in channel.automation if lane.target.of_insert and lane.target.place == place)


class Control(NamedTuple):
    """One control of one channel.

    Args:
        target: which control it is.
        static: what the export stores for it, or why it does not show it.
        lane: the lane that automates it; None where there is none.
        is_switch: its values are 0 and 1.
    """

    target: Target
    static: float | Unknown
    lane: Automation | None
    is_switch: bool

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
        return highest >= ON if self.is_switch else highest > SILENCE_DB

    @property
    def can_be_off(self) -> bool | Unknown:
        """Of a switch: whether it is ever off. Of a level: whether it is ever at silence."""
        lowest = self.lowest
        if isinstance(lowest, Unknown):
            return lowest
        return lowest < ON if self.is_switch else lowest <= SILENCE_DB

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
    """The control of ``channel`` that ``target`` names; unknown where there is no such control.

    A lane whose figures cannot be read as the control's tells nothing of it, and what is stored does not hold either.
    """
    path = _path(channel, target)
    stored = _NO_SUCH if path is None else _stored(channel, path)
    lane = lane_of(channel, target)
    is_switch = _is_switch(path, stored, lane)
    if lane is not None and not is_readable(lane):
        return Control(target, _UNREAD, None, is_switch)
    return Control(target, _number(stored), lane, is_switch)


def has_control(channel: Channel, target: Target) -> bool:
    """True where the channel, as the export shows it, has a control that ``target`` names."""
    return _path(channel, target) is not None


def is_readable(lane: Automation) -> bool:
    """True when a lane's values are in a unit of what it moves."""
    kind, scale = lane.target.kind, lane.scale
    if scale == "unknown":
        return False
    if lane.target.is_level:
        return scale in ("dB", "amplitude")
    return scale == "pan" if kind in ("pan", "send-pan") else True


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


def channel_now(channel: Channel) -> Channel:
    """The channel with every control stored at what it stands at now; its lanes stay."""
    return with_controls(channel, _standing(channel))


def inserts_now(channel: Channel) -> tuple[Insert, ...]:
    """The channel's inserts, in signal order, with every control of theirs stored at what it stands at now."""
    standing = {target: value for target, value in _standing(channel).items() if target.of_insert}
    return seen_inserts(with_controls(channel, standing))


def _standing(channel: Channel) -> dict[Target, float | Unknown]:
    """The controls that automation makes stand elsewhere than is stored, with what they stand at."""
    controls = (control_of(channel, target) for target in dict.fromkeys(lane.target for lane in channel.automation))
    return {one.target: one.now for one in controls if one.now != one.static or one.static is _UNREAD}


def with_controls(channel: Channel, values: Mapping[Target, float | Unknown]) -> Channel:
    """The channel with some controls stored at other values, in the reader's units; those it does not have are none."""
    for target, value in values.items():
        path = _path(channel, target)
        if path is not None:
            is_switch = _is_switch(path, _stored(channel, path), None)
            stored = value >= ON if is_switch and not isinstance(value, Unknown) else value
            channel = _replaced(channel, path, stored)
    return channel


_Path: TypeAlias = tuple[str | int, ...]
"""Where in a channel a control is stored: names of fields and places in tuples, from the outside in."""

_OF_STRIP: Final[dict[str, _Path]] = {"fader": ("fader_db",), "pan": ("pan",), "mute": ("mute",)}
_OF_SEND: Final = {"send-level": "level_db", "send-pan": "pan", "send-switch": "on"}
_OF_INSERT: Final = {"insert-switch": "on", "insert-wet": "wet"}
_OF_BAND: Final = {"on": "on", "freq": "freq_hz", "gain": "gain_db", "q": "q", "slope": "slope_db_per_oct"}
_OF_SETTINGS: Final = {
    "equalizer": {"inputgain": "input_gain_db", "outputgain": "output_gain_db"},
    "dynamics": {
        "threshold": "threshold_db",
        "ratio": "ratio",
        "attack": "attack_ms",
        "release": "release_ms",
        "knee": "knee_db",
        "range": "range_db",
        "inputgain": "input_gain_db",
        "outputgain": "output_gain_db",
        "automakeup": "auto_makeup",
    },
}
_SWITCHES: Final = frozenset({"mute", "on", "auto_makeup"})


def _path(channel: Channel, target: Target) -> _Path | None:
    """Where a control is stored; None where the channel has no such control."""
    kind, place = target.kind, target.place
    if kind in _OF_STRIP:
        return _OF_STRIP[kind]
    if place is None:
        return None
    if kind in _OF_SEND:
        return ("sends", place, _OF_SEND[kind]) if place < len(channel.sends) else None
    if place >= len(seen_inserts(channel)):
        return None
    if kind in _OF_INSERT:
        return "inserts", place, _OF_INSERT[kind]
    inside = _path_inside(seen_inserts(channel)[place], target)
    return None if inside is None else ("inserts", place, *inside)


def _path_inside(insert: Insert, target: Target) -> _Path | None:
    """Where an insert stores a setting: that of a band, of its equalizer or dynamics as such, or a listed parameter."""
    band = target.band
    if band is not None and insert.equalizer is not None and band[0] <= len(insert.equalizer.bands):
        return "equalizer", "bands", band[0] - 1, _OF_BAND[band[1]]
    for part, settings in _OF_SETTINGS.items():
        if target.name in settings and getattr(insert, part) is not None:
            return part, settings[target.name]
    listed = (at for at, parameter in enumerate(insert.parameters) if parameter.id == target.name)
    at = next(listed, None)
    return None if at is None else ("parameters", at, "value")


def _stored(owner: Any, path: _Path) -> Any:
    for step in path:
        owner = owner[step] if isinstance(step, int) else owner.__dict__[step]
    return owner


def _replaced(owner: Any, path: _Path, value: object) -> Any:
    """A copy of a model or tuple in which ``value`` stands at ``path``."""
    if not path:
        return value
    step, rest = path[0], path[1:]
    if isinstance(step, int):
        return (*owner[:step], _replaced(owner[step], rest, value), *owner[step + 1 :])
    return owner.model_copy(update={step: _replaced(owner.__dict__[step], rest, value)})


def _is_switch(path: _Path | None, stored: object, lane: Automation | None) -> bool:
    """True for a control whose field is a switch, or that stores or is automated as one."""
    if path is not None and (path[-1] in _SWITCHES or isinstance(stored, bool)):
        return True
    return lane is not None and lane.scale == "switch"


def _number(stored: Any) -> float | Unknown:
    """A stored value as the number that a control stands at."""
    if isinstance(stored, Unknown):
        return stored
    if isinstance(stored, str):
        return Unknown(unknown=f"it is set to {stored}, which is no number")
    return float(stored)


__all__ = [
    "FADER",
    "MUTE",
    "ON",
    "PAN",
    "Control",
    "SendControls",
    "Target",
    "channel_now",
    "control_of",
    "controls_of_send",
    "has_control",
    "inserts_now",
    "is_readable",
    "lane_of",
    "lane_values",
    "moves",
    "shown_value",
    "shown_values",
    "with_controls",
]
