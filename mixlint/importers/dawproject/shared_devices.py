"""The format's own equalizer, compressor, gate and limiter, whose settings stand open in the file."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final, Literal, TypeAlias

from mixlint.importers.dawproject.automated_parameters import AutomatedParameter, AutomatedParameters, ReadFigure
from mixlint.importers.dawproject.import_notes import ImportNotes
from mixlint.importers.dawproject.structure import StripDraft
from mixlint.importers.dawproject.values import Real, finite, gain_db, hertz, q_of, ratio_of, real, seconds_ms, switch
from mixlint.importers.dawproject.xml_tree import Node
from mixlint.session import Dynamics, Equalizer, EqualizerBand, Parameter, Target, Unknown, is_known
from mixlint.session.processor import BandKind

_BANDS: Final[dict[str, BandKind]] = {
    "highpass": "high-pass", "lowpass": "low-pass", "bandpass": "band-pass", "highshelf": "high-shelf",
    "lowshelf": "low-shelf", "bell": "bell", "notch": "notch",
}  # fmt: skip


_Settings: TypeAlias = Mapping[str, tuple[str, Literal["gain", "switch", "plain"], ReadFigure | None]]
"""Element → the word of its control, and how its figures are read."""

_OF_BAND: Final[_Settings] = {
    "Freq": ("freq", "plain", hertz),
    "Gain": ("gain", "gain", None),
    "Q": ("q", "plain", q_of),
    "Enabled": ("on", "switch", None),
}
_GAINS: Final[_Settings] = {"InputGain": ("inputgain", "gain", None), "OutputGain": ("outputgain", "gain", None)}
_OF_DYNAMICS: Final[_Settings] = {
    "Threshold": ("threshold", "gain", None),
    "Ratio": ("ratio", "plain", ratio_of),
    "Attack": ("attack", "plain", seconds_ms),
    "Release": ("release", "plain", seconds_ms),
    "Range": ("range", "gain", None),
    "AutoMakeup": ("automakeup", "switch", None),
    **_GAINS,
}


def _remember(
    strip: StripDraft, node: Node, place: int, automatable: AutomatedParameters, settings: _Settings, of: str = ""
) -> None:
    """Remember the settings that automation may move; ``of`` stands before their words."""
    for tag, (word, kind, read) in settings.items():
        one = node.child(tag)
        if one is not None:
            target = Target.insert(place, of + word)
            automatable.add(one, AutomatedParameter(strip.id, target, kind, real(one), read=read))


def read_equalizer(
    strip: StripDraft, node: Node, place: int, automatable: AutomatedParameters, notes: ImportNotes
) -> tuple[Equalizer, list[Parameter]]:
    """An equalizer, and the raw figures that the model has no field for.

    Args:
        strip: the channel it is on.
        node: the device.
        place: which of the channel's inserts it is, counted from 0.
        automatable: where parameters with ids are remembered for the automation.
        notes: where assumptions and losses go.
    """
    bands: list[EqualizerBand] = []
    raw: list[Parameter] = []
    nodes = list(node.all("Band"))
    poles = _orders_are_poles([finite(band.attrs.get("order")) for band in nodes])
    for band in nodes:
        kind = _BANDS.get(band.get("type").lower())
        if kind is None:
            notes.lose(
                f"A band of {node.get('name') or 'an equalizer'} on {strip.name} has a type "
                f"({band.get('type') or 'none'}) that is not in the format; it was left out, with its automation.",
                strip.id,
            )
            continue
        count = len(bands) + 1  # bands are counted as the model holds them
        order = finite(band.attrs.get("order"))
        slope: float | Unknown = Unknown(unknown="the export gives no slope")
        if order is not None:
            raw.append(Parameter(id=f"band:{count}:order", name=f"Band {count} order as written", value=order))
            if kind in ("high-pass", "low-pass"):
                slope = _slope(order, poles, strip, notes)
        _remember(strip, band, place, automatable, _OF_BAND, f"band:{count}:")
        bands.append(
            EqualizerBand(
                kind=kind,
                freq_hz=_freq(band.child("Freq")),
                gain_db=gain_db(band.child("Gain"), "band's gain"),
                q=_q(band.child("Q")),
                slope_db_per_oct=slope,
                on=switch(band.child("Enabled"), True, "band's switch"),
            )
        )
    _remember(strip, node, place, automatable, _GAINS)
    equalizer = Equalizer(
        bands=tuple(bands),
        input_gain_db=gain_db(node.child("InputGain"), "input gain"),
        output_gain_db=gain_db(node.child("OutputGain"), "output gain"),
    )
    return equalizer, raw


def _freq(node: Node | None) -> float | Unknown:
    return Unknown(unknown="the export gives the band no frequency") if node is None else hertz(real(node))


def _q(node: Node | None) -> float | Unknown:
    return Unknown(unknown="the export gives no Q") if node is None else q_of(real(node))


def _orders_are_poles(orders: list[float | None]) -> bool:
    """Some writers number the bands by ``order``, others give the filters' order there.

    It can be no numbering when a figure occurs twice, or lies beyond the number of bands.
    """
    given = [order for order in orders if order is not None]
    return len(set(given)) < len(given) or any(order > len(orders) for order in given)


def _slope(order: float, poles: bool, strip: StripDraft, notes: ImportNotes) -> float | Unknown:
    if poles and order.is_integer() and 1 <= order <= 16:
        notes.assume(
            f"The order of an equalizer's filter on {strip.name} was read as its steepness, 6 dB per octave each, "
            "since the figures number no bands.",
            strip.id,
        )
        return 6.0 * order
    return Unknown(
        unknown=f"the export gives the order {order:g}, which some writers mean as the band's number "
        "and others as the filter's steepness",
        settle="look at the filter's slope",
    )


def read_dynamics(
    strip: StripDraft, node: Node, place: int, automatable: AutomatedParameters, notes: ImportNotes
) -> tuple[Dynamics, list[Parameter]]:
    """A compressor's, limiter's or gate's settings, and the ratio's raw figure.

    Args:
        strip: the channel it is on.
        node: the device.
        place: which of the channel's inserts it is, counted from 0.
        automatable: where parameters with ids are remembered for the automation.
        notes: where assumptions go.
    """
    fields: dict[str, Any] = {}
    raw: list[Parameter] = []
    _remember(strip, node, place, automatable, _OF_DYNAMICS)
    for tag, field in (("Attack", "attack_ms"), ("Release", "release_ms")):
        one = node.child(tag)
        if one is not None:
            fields[field] = seconds_ms(real(one))
    ratio = node.child("Ratio")
    if ratio is not None:
        value = finite(ratio.attrs.get("value"))
        if value is not None:
            raw.append(Parameter(id="ratio", name="Ratio as written", value=value, unit=ratio.get("unit")))
        fields["ratio"] = _ratio(real(ratio), strip, node, notes)
    if node.child("Range") is not None:
        fields["range_db"] = gain_db(node.child("Range"), "range")
    if node.child("AutoMakeup") is not None:
        fields["auto_makeup"] = switch(node.child("AutoMakeup"), False, "make-up switch")
    dynamics = Dynamics(
        threshold_db=gain_db(node.child("Threshold"), "threshold", Unknown(unknown="the export gives no threshold")),
        input_gain_db=gain_db(node.child("InputGain"), "input gain"),
        output_gain_db=gain_db(node.child("OutputGain"), "output gain"),
        **fields,
    )
    return dynamics, raw


def _ratio(written: Real, strip: StripDraft, node: Node, notes: ImportNotes) -> float | Unknown:
    ratio = ratio_of(written)
    if is_known(ratio) and written.unit == "percent":
        notes.assume(
            f"The ratio of {node.get('name') or 'a compressor'} on {strip.name} is written as {written.value:g} %; "
            f"about {ratio:g}:1 was read from it.",
            strip.id,
        )
    return ratio
