"""One recording on several channels. What counts as one is common practice, no source; sums are arithmetic."""

from __future__ import annotations

from math import log10
from typing import Any

import pytest

from mixlint.facts import TABLES, House, SessionContext
from mixlint.session import Channel, Clip, Insert, MediaFile, Unknown
from tests.facts.audio_sessions import audio_context, sine, write
from tests.facts.small_sessions import bus, context, mix, reverb, send, track, value

MEDIA = (MediaFile(id="a.wav", path="a.wav", legs=1), MediaFile(id="b.wav", path="b.wav", legs=1))


def plays(file: str | None = "a.wav", start_s: float = 0.0, end_s: float = 60.0, **more: Any) -> tuple[Clip, ...]:
    return (Clip(start_s=start_s, end_s=end_s, file=file, **more),)


def rows(at: SessionContext) -> list[str]:
    return [row.subject.name for row in TABLES["twin"].rows(at)]


def two(one: Channel, other: Channel, *more: Channel, house: House | None = None) -> SessionContext:
    return context(one, other, *more, mix(), media=MEDIA, house=house)


def processor(kind: str) -> Insert:
    return Insert(name="Old Box", kind=kind)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("one", "other", "twins"),
    [
        ({}, {}, True),
        ({}, {"pan": 40.0}, True),
        ({}, {"clips": plays(start_s=0.012)}, True),  # 12 ms late
        ({}, {"clips": plays(start_s=0.2)}, False),  # an echo, or another place
        ({}, {"clips": plays("b.wav")}, False),
        ({}, {"clips": plays(start_s=59.5, end_s=90.0, offset_s=59.5)}, False),  # half a second of crossfade
        ({}, {"clips": plays(start_s=55.0, end_s=90.0, offset_s=55.0)}, True),  # 5 of 35 s
        ({"clips": plays(speed=0.5)}, {"clips": plays(speed=0.5)}, True),
        ({"clips": plays(speed=0.5)}, {"clips": plays()}, False),
        ({"clips": plays(offset_s=Unknown(unknown="not given"))}, {}, False),
        ({}, {"clips": plays(on=False)}, False),
        ({}, {"mute": True}, False),
        ({}, {"fader_db": -200.0}, False),
        ({}, {"output": None}, False),
        ({}, {"inserts": (processor("distortion"),)}, False),
        ({"inserts": (processor("compressor"),)}, {"inserts": (processor("compressor"),)}, True),
        ({}, {"inserts": (processor("equalizer"),)}, True),
    ],
)
def test_two_channels_that_play_one_file(one: dict[str, Any], other: dict[str, Any], twins: bool) -> None:
    at = two(track("Organ", **{"clips": plays(), **one}), track("Clavinet", **{"clips": plays(), **other}))
    assert rows(at) == (["Organ, Clavinet"] if twins else [])


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Click", "Kick"),
        ("Piano Side L", "Piano Side R"),
        ("Room MS", "Room Side"),
        ("Snare", "Snare Parallel"),
        ("Pad", "Pad print"),
    ],
)
def test_what_is_meant_or_told_elsewhere_is_no_row(one: str, other: str) -> None:
    assert rows(two(track(one, clips=plays()), track(other, clips=plays()))) == []


def test_a_channel_that_the_house_calls_parallel_is_meant() -> None:
    pair = track("Snare", clips=plays()), track("Snare Weight", clips=plays())
    assert rows(two(*pair)) == ["Snare, Snare Weight"]
    assert rows(two(*pair, house=House(parallel=("* Weight",)))) == []


def test_a_double_on_the_other_side_is_told_as_a_double() -> None:
    at = two(track("Gtr L", pan=-60.0, clips=plays()), track("Gtr R", pan=60.0, clips=plays()))
    assert rows(at) == []
    assert [row.holds("one_recording") for row in TABLES["pair"].rows(at)] == [True]


def test_a_copy_that_only_feeds_an_effect_is_a_throw() -> None:
    echo = bus("Echo", kind="return", inserts=(reverb(),))
    assert rows(two(track("Vox", clips=plays()), track("Vox Throw", output="Echo", clips=plays()), echo)) == []


def test_the_parts_that_share_one_recording_are_one_row() -> None:
    """Three copies at 0, 0 and −6 dB: 20 log10(1 + 1 + 10^(−6/20)) over the loudest."""
    at = context(
        track("Vox", clips=plays()),
        track("Bass", clips=plays("b.wav")),
        track("Vox.dup1", clips=plays()),
        track("Choir", clips=plays(), fader_db=-6.0),
        mix(),
        media=MEDIA,
    )
    assert rows(at) == ["Vox, Vox.dup1, Choir"]
    assert value(at, "twin", rows(at)[0], "count") == 3
    assert value(at, "twin", rows(at)[0], "added_db") == pytest.approx(20.0 * log10(2.0 + 10.0 ** (-6.0 / 20.0)))


@pytest.mark.parametrize(
    ("clips", "names", "twins"),
    [
        (plays(None), ("Piano", "Piano copy"), True),
        (plays(None), ("Piano", "Piano.dup1"), True),
        (plays(None), ("Piano", "Piano 2"), False),  # a second take may be laid out alike
        (plays(None), ("Piano copy 1", "Piano copy 2"), False),
        (plays(None, plays="notes"), ("Piano", "Piano (copy)"), True),
    ],
)
def test_without_files_the_name_and_the_clips_tell(
    clips: tuple[Clip, ...], names: tuple[str, str], twins: bool
) -> None:
    assert bool(rows(two(*(track(name, clips=clips) for name in names)))) is twins


def test_a_copied_name_with_clips_elsewhere_is_a_new_part() -> None:
    at = two(track("Piano", clips=plays(None)), track("Piano copy", clips=plays(None, 20.0, 70.0)))
    assert rows(at) == []


def test_notes_into_another_instrument_are_another_sound() -> None:
    notes = plays(None, plays="notes")
    a, b = Insert(name="Parlour Upright", kind="instrument"), Insert(name="Old Strings", kind="instrument")
    assert rows(two(track("Piano", clips=notes, inserts=(a,)), track("Piano copy", clips=notes, inserts=(b,)))) == []
    assert rows(two(track("Piano", clips=notes, inserts=(a,)), track("Piano copy", clips=notes, inserts=(a,)))) != []


def test_a_send_that_is_closed_makes_nothing_heard() -> None:
    closed = track("Harp", output=None, sends=(send("Spare", on=False),), clips=plays())
    assert rows(two(track("Lute", clips=plays()), closed, bus("Spare"))) == []


def test_copies_of_a_file_under_another_name_are_one_recording(tmp_path) -> None:
    """Two files of the same bytes; a third one of the same length is another."""
    files = [
        write(tmp_path, name, sine(hz, 4.0)) for name, hz in (("a.wav", 220.0), ("b.wav", 220.0), ("c.wav", 330.0))
    ]
    tracks = [track(n, clips=plays(f, end_s=4.0)) for n, f in (("Lute", "a.wav"), ("Harp", "b.wav"), ("Oud", "c.wav"))]
    assert rows(audio_context(tmp_path, files, *tracks, mix())) == ["Lute, Harp"]


@pytest.mark.parametrize(
    ("setting", "value_", "twins"),
    [("twins.least_together", 6.0, False), ("twins.least_together", 4.0, True), ("twins.least_share", 15.0, False)],
)
def test_a_house_says_from_when_on_two_channels_are_twins(setting: str, value_: float, twins: bool) -> None:
    """They share 5 s, which is 14 % of the 35 s that the shorter one plays."""
    later = plays(start_s=55.0, end_s=90.0, offset_s=55.0)
    at = two(track("Organ", clips=plays()), track("Harp", clips=later), house=House(settings={setting: value_}))
    assert bool(rows(at)) is twins
