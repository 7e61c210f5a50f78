"""Inserts: what is declared, what stays hidden, and figures that can be read in more than one way."""

from __future__ import annotations

from pathlib import Path

import pytest

from mixlint.session import Insert, Unknown
from tests.importers.documents import channel, session_of, told, track


def inserts(folder: Path, devices: str) -> tuple[Insert, ...]:
    return channel(session_of(folder, track("Part", f"<Devices>{devices}</Devices>")), "Part").inserts


def band(kind: str, order: str = "", inside: str = '<Freq unit="hertz" value="80"/>') -> str:
    return f'<Band type="{kind}"{order and f" order={order!r}"}>{inside}</Band>'.replace("'", '"')


def test_order_identity_and_switches_are_kept(tmp_path: Path) -> None:
    found = inserts(
        tmp_path,
        '<Vst3Plugin id="p" deviceName="Plate" deviceRole="audioFX" deviceID="{AB-cd}" loaded="false"/>'
        '<BuiltinDevice name="Synth" deviceRole="instrument"><Enabled value="false"/></BuiltinDevice>'
        '<ClapPlugin deviceName="Meter" deviceRole="analyzer"><Enabled/></ClapPlugin>'
        '<AuPlugin deviceName="Arp" deviceRole="noteFX" category="Fx|Tools"/><Vst2Plugin/><Surprise/>',
    )
    assert [one.name for one in found] == ["Plate", "Synth", "Meter", "Arp", "(unnamed processor)"]
    plate, synth, meter, arp, _ = found
    assert (plate.id, plate.device, plate.loaded, plate.on, plate.opaque) == ("p", "{AB-cd}", False, True, True)
    assert isinstance(plate.kind, Unknown)
    assert (synth.kind, synth.on) == ("instrument", False)
    assert meter.kind == "analyser"
    assert isinstance(meter.on, Unknown)  # a switch without a value
    assert (arp.kind, arp.categories) == ("note-effect", ("Fx|Tools",))


def test_an_equalizer_stands_open(tmp_path: Path) -> None:
    bell = '<Freq unit="semitones" value="69"/><Gain unit="decibel" value="-4.5"/><Q unit="linear" value="2"/>'
    bell += '<Enabled value="false"/>'
    (found,) = inserts(
        tmp_path, "<Equalizer deviceName='EQ'>" + band("bell", inside=bell) + band("lowShelf") + "</Equalizer>"
    )
    assert found.kind == "equalizer"
    assert not found.opaque
    assert found.equalizer is not None
    one, other = found.equalizer.bands
    assert (one.kind, one.freq_hz, one.gain_db, one.q, one.on) == ("bell", 440.0, -4.5, 2.0, False)
    assert (other.kind, other.freq_hz, other.on) == ("low-shelf", 80.0, True)
    assert isinstance(other.q, Unknown)


@pytest.mark.parametrize(
    ("orders", "slope"),
    [
        (("8", "2", "2"), 48.0),  # 8 numbers no band of three, and 2 occurs twice: filter orders, 6 dB/oct each
        (("2", "2", "2"), 12.0),
        (("0", "1", "2"), None),  # may number the bands
        (("1", "2", "3"), None),
        (("2", "1", "3"), None),
    ],
)
def test_the_order_is_a_slope_only_when_it_can_number_no_band(
    tmp_path: Path, orders: tuple[str, ...], slope: float | None
) -> None:
    kinds = ("highPass", "bell", "bell")
    (found,) = inserts(tmp_path, "<Equalizer>" + "".join(map(band, kinds, orders)) + "</Equalizer>")
    assert found.equalizer is not None
    got = found.equalizer.bands[0].slope_db_per_oct
    if slope is None:
        assert isinstance(got, Unknown)
        assert "order" in got.unknown
    else:
        assert got == slope
    raw = {one.id: one.value for one in found.parameters}
    assert raw["band:1:order"] == float(orders[0])  # the figure itself is kept


def test_a_band_of_no_known_type_is_left_out_and_said(tmp_path: Path) -> None:
    devices = "<Devices><Equalizer name='EQ'>" + band("tilt") + band("notch") + "</Equalizer></Devices>"
    session = session_of(tmp_path, track("Part", devices))
    equalizer = channel(session, "Part").inserts[0].equalizer
    assert equalizer is not None
    assert [one.kind for one in equalizer.bands] == ["notch"]
    assert told(session, "tilt", "c:Part")


def test_dynamics_in_decibels_and_milliseconds(tmp_path: Path) -> None:
    compressor = (
        '<Compressor name="Comp"><Threshold unit="decibel" value="-18"/><Ratio unit="percent" value="75"/>'
        '<Attack unit="seconds" value="0.01"/><Release unit="seconds" value="0.2"/><InputGain unit="decibel"/>'
        '<OutputGain unit="decibel" value="3"/><AutoMakeup value="true"/></Compressor>'
    )
    gate = '<NoiseGate><Threshold unit="decibel" value="-40"/><Range unit="decibel" value="-inf"/></NoiseGate>'
    session = session_of(tmp_path, track("Part", f"<Devices>{compressor}{gate}<Limiter/></Devices>"))
    one, two, three = channel(session, "Part").inserts
    assert [one.kind, two.kind, three.kind] == ["compressor", "gate", "limiter"]
    assert one.dynamics is not None
    assert two.dynamics is not None
    assert (one.dynamics.threshold_db, one.dynamics.attack_ms, one.dynamics.release_ms) == (-18.0, 10.0, 200.0)
    assert one.dynamics.ratio == 4.0  # 100·(1 − 1/4) = 75 %
    assert told(session, "about 4:1", "c:Part")
    assert isinstance(one.dynamics.input_gain_db, Unknown)  # written without a value
    assert (one.dynamics.output_gain_db, one.dynamics.auto_makeup) == (3.0, True)
    assert (two.dynamics.threshold_db, two.dynamics.range_db) == (-40.0, -200.0)


@pytest.mark.parametrize("value", ["4", "0.5", "100"])
def test_a_ratio_that_can_be_read_in_two_ways_stays_open(tmp_path: Path, value: str) -> None:
    (found,) = inserts(tmp_path, f'<Compressor><Ratio unit="percent" value="{value}"/></Compressor>')
    assert found.dynamics is not None
    assert isinstance(found.dynamics.ratio, Unknown)
    assert found.parameters[0].value == float(value)


def wet(folder: Path, *parameters: str) -> float | Unknown:
    (found,) = inserts(
        folder, "<Vst3Plugin deviceName='Verb'><Parameters>" + "".join(parameters) + "</Parameters></Vst3Plugin>"
    )
    return found.wet


def real(name: str, value: str, unit: str, more: str = "") -> str:
    return f'<RealParameter name="{name}" value="{value}" unit="{unit}" parameterID="4294967295" {more}/>'


@pytest.mark.parametrize(
    ("parameter", "expected"),
    [
        (real("Mix", "35", "percent"), 35.0),
        (real("Dry/Wet", "1", "normalized"), 100.0),
        (real("wet", "0.5", "linear", 'min="0" max="1"'), 50.0),
        (real("Wet Mix", "80", "linear", 'min="0" max="100"'), 80.0),
        (real("Dry Level", "-inf", "decibel") + real("Wet Level", "0", "decibel"), None),
        (real("Dry", "0", "linear") + real("Wet", "1", "linear"), 100.0),
    ],
)
def test_a_wet_share_is_read_from_a_listed_mix_control(tmp_path: Path, parameter: str, expected: float | None) -> None:
    got = wet(tmp_path, parameter)
    if expected is None:
        assert isinstance(got, Unknown)
    else:
        assert got == expected


@pytest.mark.parametrize(
    "parameters",
    [
        real("Mix", "-6", "decibel"),
        real("Mix", "0.5", "linear"),  # no range: 0.5 of what?
        real("Mix", "", "percent"),
        real("Mix", "50", "percent") + real("Wet", "20", "percent"),
        real("Dry", "0.3", "linear") + real("Wet", "1", "linear"),
        '<BoolParameter name="Mix" value="true"/>',
        real("Mixdown gain", "50", "percent"),
        real("Remix", "50", "percent"),
        "",
    ],
)
def test_a_wet_share_that_is_not_plain_stays_unknown(tmp_path: Path, parameters: str) -> None:
    assert isinstance(wet(tmp_path, parameters), Unknown)


def test_listed_parameters_keep_value_unit_range_and_long_ids(tmp_path: Path) -> None:
    (found,) = inserts(
        tmp_path,
        "<Vst3Plugin><Parameters>"
        + real("Decay", "1.8", "seconds", 'min="0.1" max="9"')
        + '<BoolParameter name="Freeze" value="false" id="f"/><EnumParameter name="Mode" value="2" id="e"/>'
        + "</Parameters></Vst3Plugin>",
    )
    decay, freeze, mode = found.parameters
    assert (decay.id, decay.value, decay.unit, decay.low, decay.high) == ("4294967295", 1.8, "seconds", 0.1, 9.0)
    assert freeze.value is False
    assert mode.value == 2
