"""Faders, pans and sends in every unit that occurs, and the marks that change how a whole file is read."""

from __future__ import annotations

from math import log10
from pathlib import Path

import pytest

from mixlint.importers.dawproject.values import Real, hertz
from mixlint.session import Session, Unknown, is_known
from mixlint.units import SILENCE_DB
from tests.importers.documents import channel, session_of, told, track


@pytest.mark.parametrize(
    ("attributes", "expected"),
    [
        ('unit="linear" min="0" max="2" value="0.316228"', -10.0),  # 20·log10(0.316228) = −10.00 dB
        ('unit="linear" min="0" max="2" value="0"', SILENCE_DB),
        ('unit="linear" min="0" max="1" value="1.4"', 2.9226),  # above its stated range: the range does not clamp
        ('unit="linear" min="0" max="200" value="50"', -6.0206),  # runs to 200: per cent
        ('unit="percent" value="50"', -6.0206),
        ('unit="decibel" value="-3.5"', -3.5),
        ('unit="decibel" value="-inf"', SILENCE_DB),
        ('min="0" max="2" value="0.5"', -6.0206),
        ('unit="normalized" value="0"', SILENCE_DB),
    ],
)
def test_a_fader_is_read_in_its_unit(tmp_path: Path, attributes: str, expected: float) -> None:
    part = channel(session_of(tmp_path, track("Part", f"<Volume {attributes}/>")), "Part")
    assert part.fader_db == pytest.approx(expected, abs=1e-3)


@pytest.mark.parametrize(
    "attributes",
    ['unit="linear" value=""', 'unit="linear" value="null"', 'unit="linear"', 'unit="linear" value="-0.5"',
     'unit="normalized" value="0.8"', 'unit="beats" value="1"', 'unit="decibel" value="inf"',
     'unit="linear" value="inf"',
    ],
)  # fmt: skip
def test_a_fader_that_cannot_be_read_is_unknown_with_a_reason(tmp_path: Path, attributes: str) -> None:
    part = channel(session_of(tmp_path, track("Part", f"<Volume {attributes}/>")), "Part")
    assert isinstance(part.fader_db, Unknown)
    assert part.fader_db.unknown


def test_a_channel_without_a_fader_says_so_and_a_missing_pan_is_centre(tmp_path: Path) -> None:
    part = channel(session_of(tmp_path, track("Part")), "Part")
    assert isinstance(part.fader_db, Unknown)
    assert part.pan == 0.0
    assert part.mute is False


@pytest.mark.parametrize(
    ("attributes", "expected"),
    [
        ('unit="normalized" min="0" max="1" value="0.25"', -50.0),
        ('unit="normalized" min="-1" max="1" value="0.25"', 25.0),
        ('unit="linear" min="-100" max="100" value="-30"', -30.0),
        ('unit="normalized" value="0.25"', -50.0),
        ('unit="percent" value="75"', 50.0),
        ('unit="linear" value="-0.4"', -40.0),
    ],
)
def test_a_pan_is_read_in_its_unit_and_range(tmp_path: Path, attributes: str, expected: float) -> None:
    assert channel(session_of(tmp_path, track("Part", f"<Pan {attributes}/>")), "Part").pan == pytest.approx(expected)


def test_one_negative_pan_without_a_range_turns_all_of_them(tmp_path: Path) -> None:
    bare = '<Pan unit="normalized" value="{}"/>'
    structure = track("Left", bare.format(-0.5)) + track("Right", bare.format(0.5)) + track("Mid", bare.format(0))
    session = session_of(tmp_path, structure)
    assert [channel(session, name).pan for name in ("Left", "Right", "Mid")] == [-50.0, 50.0, 0.0]
    assert told(session, "−1 (left) to +1 (right)")
    # Without the negative one the same figures mean the other scale.
    session = session_of(tmp_path, track("Right", bare.format(0.5)) + track("Mid", bare.format(0)))
    assert [channel(session, name).pan for name in ("Right", "Mid")] == [0.0, -100.0]


def test_a_negative_point_of_such_a_pan_turns_them_too(tmp_path: Path) -> None:
    points = '<Points><Target parameter="p"/><RealPoint time="0" value="-1"/><RealPoint time="4" value="1"/></Points>'
    session = session_of(tmp_path, track("Part", '<Pan unit="normalized" value="0" id="p"/>'), points)
    part = channel(session, "Part")
    assert part.pan == 0.0
    assert part.automation[0].v == (-100.0, 100.0)


def test_a_pan_outside_its_range_or_without_scale_is_unknown(tmp_path: Path) -> None:
    structure = track("A", '<Pan unit="normalized" min="0" max="1" value="3"/>') + track("B", '<Pan value="0.5"/>')
    session = session_of(tmp_path, structure)
    assert isinstance(channel(session, "A").pan, Unknown)
    assert isinstance(channel(session, "B").pan, Unknown)


def test_sends_have_the_formats_defaults(tmp_path: Path) -> None:
    send = '<Sends><Send destination="c:Verb" id="s"><Volume unit="linear" value="0.25"/></Send></Sends>'
    session = session_of(tmp_path, track("Part", send) + track("Verb", role="effect"))
    (one,) = channel(session, "Part").sends
    assert (one.to, one.tap, one.on, one.pan) == ("c:Verb", "post", True, 0.0)
    assert one.level_db == pytest.approx(20 * log10(0.25), abs=1e-3)
    assert one.where == "project.xml:6"


def test_a_send_may_name_a_track_nothing_or_something_lost(tmp_path: Path) -> None:
    sends = (
        '<Sends><Send destination="t:Verb" type="pre"/><Send/><Send destination="gone"/>'
        '<Send destination="c:Part" type="sideways"><Enable/></Send></Sends>'
    )
    session = session_of(tmp_path, track("Part", sends) + track("Verb", role="effect"))
    by_track, nowhere, lost, odd = channel(session, "Part").sends
    assert (by_track.to, by_track.tap) == ("c:Verb", "pre")
    assert isinstance(nowhere.to, Unknown)
    assert isinstance(lost.to, Unknown)
    assert "gone" in lost.to.unknown
    assert odd.to == "c:Part"  # a send to itself is kept as it stands
    assert isinstance(odd.tap, Unknown)
    assert isinstance(odd.on, Unknown)  # a switch without a value is not assumed to be either
    assert told(session, "names the track Verb", "c:Part")
    assert told(session, "gone", "c:Part")


def test_sends_of_a_converter_that_writes_them_low_are_raised(tmp_path: Path) -> None:
    send = (
        '<Sends><Send destination="c:Verb"><Volume unit="linear" max="1" value="0.251189"/>'
        '<Pan unit="normalized" min="-1" max="1" value="0"/></Send></Sends>'
    )
    structure = track("Part", send, to=None) + track("Verb", role="effect", to=None)
    session = session_of(tmp_path, structure)
    assert channel(session, "Part").sends[0].level_db == pytest.approx(0.0, abs=1e-3)
    assert told(session, "12 dB were added")
    # With one stated output the marks are not complete, and nothing is added.
    session = session_of(tmp_path, track("Part", send) + track("Verb", role="effect", to=None))
    assert channel(session, "Part").sends[0].level_db == pytest.approx(-12.0, abs=1e-3)


def sends_without_pans(
    tmp_path: Path, top: str = "1.000000", to: str | None = None, unit: str = "linear", more: str = ""
) -> Session:
    """Parts without outputs, each with a send without a pan; ``top`` is where the range of every level ends."""
    fader = f'<Volume unit="{unit}" min="0" max="{top}" value="0.8"/>'
    sends = "".join(
        f'<Send destination="c:Verb"><Volume id="s{value}" unit="{unit}" min="0" max="{top}" value="{value}"/></Send>'
        for value in ("0.251189", "0")
    )
    structure = track("Part", f"<Sends>{sends}</Sends>{fader}", to=to) + track("Verb", fader, role="effect", to=None)
    points = (
        '<Points id="p"><Target parameter="s0.251189"/><RealPoint time="0" value="0.1"/>'
        '<RealPoint time="4" value="0.2"/></Points>'
    )
    return session_of(tmp_path, structure + more, f'<Lanes track="t:Part">{points}</Lanes>')


def test_sends_that_may_be_stored_low_are_left_open(tmp_path: Path) -> None:
    """As in a large file of such a converter, whose sends have no pans: as written they all stand 12 dB low."""
    session = sends_without_pans(tmp_path)
    open_one, silent = channel(session, "Part").sends
    assert isinstance(open_one.level_db, Unknown)
    assert "as it is written it may be 12 dB too low" in open_one.level_db.unknown
    assert "no channel names an output, every level is given a range that ends at 1" in open_one.level_db.unknown
    assert silent.level_db == SILENCE_DB  # nothing is nothing on any scale
    assert told(session, "Send levels were left open")
    (lane,) = channel(session, "Part").automation
    assert (str(lane.target), lane.scale) == ("send:0:level", "unknown")


def test_further_marks_of_low_sends_are_named(tmp_path: Path) -> None:
    folder = (
        '<Track name="Drums" id="t:f"><Track name="Drums Master" id="t:h"><Channel id="c:h" role="master">'
        '<Volume unit="linear" min="0" max="1.000000" value="1.4"/></Channel></Track></Track>'
    )
    level = channel(sends_without_pans(tmp_path, more=folder), "Part").sends[0].level_db
    assert isinstance(level, Unknown)
    assert "some levels lie beyond it, folders hold their bus as their first track" in level.unknown


@pytest.mark.parametrize("other", [{"top": "2.000000"}, {"to": "c:Verb"}, {"unit": "decibel"}], ids=str)
def test_without_all_marks_sends_are_read_as_written(other: dict[str, str], tmp_path: Path) -> None:
    session = sends_without_pans(tmp_path, **other)
    assert is_known(channel(session, "Part").sends[0].level_db)
    assert not told(session, "left open")


@pytest.mark.parametrize(
    ("value", "unit", "expected"),
    [
        (69.0, "semitones", 440.0),  # MIDI note 69 is A4, 440 Hz (ISO 16)
        (60.0, "semitones", 261.6256),  # middle C in equal temperament
        (58.506371, "semitones", 240.0),
        (80.0, "hertz", 80.0),
    ],
)
def test_frequencies_in_semitones_and_hertz(value: float, unit: str, expected: float) -> None:
    assert hertz(Real(value, None, None, unit)) == pytest.approx(expected, abs=1e-3)


def test_a_frequency_without_a_unit_is_unknown() -> None:
    assert isinstance(hertz(Real(80.0, None, None, "")), Unknown)
    assert isinstance(hertz(Real(float("inf"), None, None, "hertz")), Unknown)
