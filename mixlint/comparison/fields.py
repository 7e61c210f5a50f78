"""What can be set on a strip, a send, an insert and a clip, listed once: the comparison and the hash both go by it.

A field stands in the order in which the hash of a mix takes it and in which a reader is told of it. What leads
somewhere (an output, a send's destination, a clip's file) is not here, since it means something only within its
session; nor are lanes of automation and the parameters a processor lists, which have scales of their own.
"""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Final

from mixlint.comparison.change_log import ChangeLog
from mixlint.comparison.model import Tolerances
from mixlint.comparison.quantities import (
    GAIN,
    LEVEL,
    NAME,
    PAN,
    RATIO,
    SPEED,
    SWITCH,
    TIME,
    WET,
    WORD,
    Quantity,
)  # fmt: skip
from mixlint.comparison.whats import What
from mixlint.units import number_text


@dataclass(frozen=True, slots=True)
class Field:
    """One thing that can be set.

    Args:
        attribute: its name in the model.
        quantity: what kind of setting it is.
        label: what a reader calls it; ``{}`` is the name of what it belongs to.
        unit: the unit a reader is told it in.
        hashed: it enters the hash of a mix. The hashes in sign-off files and approvals rest on which fields do.
        what: what a change of it touches, where it is told as a change of its own.
        shown: for a switch, what the export has to show to tell it.
        on, off: what is said of a switch that has been switched on, or off.
    """

    attribute: str
    quantity: Quantity
    label: str = ""
    unit: str = ""
    hashed: bool = True
    what: What = "channel"
    shown: str = ""
    on: str = ""
    off: str = ""

    def of(self, thing: object) -> Any:
        """The value it has on a channel, send, insert, band or clip."""
        return getattr(thing, self.attribute)


Fields = Sequence[Field]

CHANNEL: Final[Fields] = (
    Field("fader_db", LEVEL, "fader", what="level"),
    Field("pan", PAN, "pan", what="pan"),
    Field("mute", SWITCH, what="mute", shown="whether it is muted", on="muted", off="unmuted"),
    Field("solo", SWITCH, what="solo", shown="whether it is soloed", on="soloed", off="solo taken off"),
)

SEND: Final[Fields] = (
    Field("on", SWITCH, hashed=False, what="send", shown="whether the send to {} is on",
          on="send to {} switched on", off="send to {} switched off"),
    Field("level_db", LEVEL, "send to {}", what="send"),
    Field("pan", PAN, "pan of the send to {}", what="send"),
    Field("tap", WORD, what="send", shown="where the send to {} is taken",
          on="send to {} taken {now}-fader, was {was}-fader"),
)  # fmt: skip
"""A send that is off is left out of the hash altogether, so that its switch need not enter."""

INSERT: Final[Fields] = (
    Field("name", NAME),
    Field("on", SWITCH, what="insert", shown="whether {} is on", on="insert {} switched on", off="insert {} bypassed"),
    Field("loaded", SWITCH, what="insert", shown="whether {} is loaded", on="insert {} loaded again",
          off="insert {} not loaded"),
    Field("wet", WET, "wet", "%"),
    Field("pre_delay_ms", RATIO, "pre-delay", "ms", hashed=False),
)  # fmt: skip

EQUALIZER: Final[Fields] = (
    Field("input_gain_db", GAIN, "input", "dB", hashed=False),
    Field("output_gain_db", GAIN, "output", "dB", hashed=False),
)

BAND: Final[Fields] = (
    Field("kind", WORD, "{}"),
    Field("freq_hz", RATIO, "{}", "Hz"),
    Field("gain_db", GAIN, "{}", "dB"),
    Field("q", RATIO, "{} Q"),
    Field("slope_db_per_oct", RATIO, "{}", "dB/oct", hashed=False),
    Field("on", SWITCH, "{}"),
)

DYNAMICS: Final[Fields] = (
    Field("threshold_db", GAIN, "threshold", "dB"),
    Field("ratio", RATIO, "ratio", ":1"),
    Field("attack_ms", RATIO, "attack", "ms"),
    Field("release_ms", RATIO, "release", "ms"),
    Field("knee_db", GAIN, "knee", "dB", hashed=False),
    Field("range_db", GAIN, "range", "dB", hashed=False),
    Field("input_gain_db", GAIN, "input", "dB", hashed=False),
    Field("output_gain_db", GAIN, "output", "dB"),
    Field("auto_makeup", SWITCH, "auto make-up", hashed=False),
)

CLIP: Final[Fields] = (
    Field("start_s", TIME),
    Field("end_s", TIME),
    Field("offset_s", TIME),
    Field("fade_in_s", TIME),
    Field("fade_out_s", TIME),
    Field("speed", SPEED),
    Field("gain_db", LEVEL),
    Field("on", SWITCH),
)


def hashed(fields: Fields, thing: object, automated: Container[str] = ()) -> tuple[Any, ...]:
    """What the hash of a mix takes of one thing.

    Args:
        fields: what can be set on it.
        thing: the channel, send, insert, band or clip.
        automated: attributes that automation moves; where one of these stands says nothing, and counts as None.
    """
    return tuple(
        None if field.attribute in automated else field.quantity.hashed(field.of(thing))
        for field in fields
        if field.hashed
    )


def compare_fields(log: ChangeLog, fields: Fields, was: object, now: object, *, name: str = "") -> None:
    """Write down each field that changed as a change of its own.

    Args:
        log: where it goes.
        fields: what can be set; fields without words of their own are passed over.
        was, now: the two states of the thing.
        name: the name of the thing, where it is not the channel itself.
    """
    for field in fields:
        before, after = field.of(was), field.of(now)
        if field.quantity is LEVEL:
            log.level(field.what, field.label.format(name), before, after, name)
        elif field.quantity is PAN:
            log.pan(field.what, field.label.format(name), before, after, name)
        elif field.quantity is SWITCH:
            on, off = field.on.format(name), field.off.format(name)
            log.switch(field.what, before, after, of=field.shown.format(name), on=on, off=off, item=name)
        elif field.shown:
            log.word(field.what, before, after, of=field.shown.format(name), says=field.on, item=name)


def settings_changed(fields: Fields, was: object, now: object, tolerances: Tolerances, name: str = "") -> Iterator[str]:
    """Each field that is set otherwise, in words with the value it has now and the one it had.

    Args:
        fields: what can be set; fields without a label are passed over.
        was, now: the two states of the thing.
        tolerances: by how much a value may move.
        name: what ``{}`` in a label stands for, such as ``band 2``.
    """
    for field in fields:
        before, after = field.of(was), field.of(now)
        if not field.label or not field.quantity.differ(before, after, tolerances):
            continue
        label = field.label.format(name)
        if field.quantity is SWITCH:
            yield f"{label} {'on' if after else 'off'}"
        elif field.quantity is WORD:
            yield f"{label} {after}, was {before}"
        else:
            yield f"{label} {number_text(after, field.unit)}, was {number_text(before, field.unit)}"
