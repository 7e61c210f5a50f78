"""What speaks for a reading: kinds of evidence, the second reading, words that tell nothing alone."""

from __future__ import annotations

import pytest

from mixlint.naming import Reading, Vocabulary, agreeing, read_roles
from mixlint.session import Channel, Clip, Insert, MediaFile, Session

CLIP = Clip(start_s=0.0, end_s=9.0)


def read(*channels: Channel, vocabulary: Vocabulary | None = None, media: tuple[MediaFile, ...] = ()) -> Reading:
    """The reading of the first of some channels."""
    session = Session(channels=channels, media=media)
    return read_roles(session, **({"vocabulary": vocabulary} if vocabulary else {}))[channels[0].id]


def track(name: str, **more: object) -> Channel:
    return Channel(id=more.pop("id", "it"), name=name, kind="track", clips=(CLIP,), **more)  # type: ignore[arg-type]


def kinds(reading: Reading) -> list[str]:
    return sorted(one.kind for one in agreeing(reading))


def test_a_word_alone_is_one_thing() -> None:
    reading = read(track("Kick"))
    assert (reading.word, kinds(reading), reading.deciding) == ("kick", ["word"], ("kick",))
    assert reading.second is None


def test_folder_file_and_insert_are_things_of_their_own() -> None:
    media = (MediaFile(id="m", path="audio/bass_drum_04.wav"),)
    channel = Channel(
        id="it",
        name="Kick",
        kind="track",
        folder=("Drums",),
        clips=(Clip(start_s=0.0, end_s=9.0, file="m"),),
    )
    assert kinds(read(channel, media=media)) == ["file", "place", "word"]
    plate = Channel(id="r", name="Plate", kind="return", inserts=(Insert(name="Verb", kind="reverb"),))
    assert kinds(read(plate)) == ["insert", "strip", "word"]


def test_a_file_that_is_called_like_its_channel_says_nothing_new() -> None:
    media = (MediaFile(id="m", path="audio/Kick.wav"),)
    channel = Channel(id="it", name="Kick", kind="track", clips=(Clip(start_s=0.0, end_s=9.0, file="m"),))
    assert kinds(read(channel, media=media)) == ["word"]


def test_the_second_reading_is_what_is_left_without_a_word() -> None:
    reading = read(track("Gtr Room"), track("Kick", id="k"), track("Snare", id="s"))
    assert reading.second is not None


def test_what_stands_under_another_family_is_the_second_reading() -> None:
    reading = read(track("Bass", folder=("Vocals",)))
    assert (reading.word, reading.second) == ("bass", "vocals")


@pytest.mark.parametrize(("folder", "role"), [((), None), (("Drums",), "drum-room")])
def test_a_word_that_tells_nothing_alone_needs_a_second_thing(folder: tuple[str, ...], role: str | None) -> None:
    """The count stands for one that the calibration wrote."""
    words = Vocabulary()
    words.__dict__["precision"] = {"kick": "6 of 9"}
    reading = read(track("Kick", folder=folder), vocabulary=words)
    assert reading.word == (None if role is None else "kick")
    assert reading.word or reading.grounds == ("'kick' alone does not tell kick: it did in 6 of 9 names of open data",)


def test_a_guide_of_a_part_is_told_twice() -> None:
    assert len(agreeing(read(track("Guide Mandolin")))) == 2
    assert len(agreeing(read(track("Click")))) == 1


@pytest.mark.parametrize("name", ["Chamber", "FingerClicks", "Aux Snare", "Group Vocals 2", "Kick Far"])
def test_a_word_of_the_desk_on_a_recorded_track_asks_for_structure(name: str) -> None:
    """From open research data: microphones, a layer and singers, not one of them a strip of the desk."""
    reading = read(track(name), track("Snare Top", id="s"), track("Kick In", id="k"))
    assert reading.word not in ("reverb-return", "click", "group", "drum-room")
