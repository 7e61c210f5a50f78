"""What speaks for a reading: kinds of evidence, the second reading, words that tell nothing alone."""

from __future__ import annotations

import pytest

from mixlint.naming import Reading, Vocabulary, agreeing, read_roles
from mixlint.naming.word_files import WordFile
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


def read_names(*names: str) -> list[str | None]:
    """The roles of the tracks of one session."""
    channels = tuple(track(name, id=f"c{at}") for at, name in enumerate(names))
    return [reading.word for reading in read_roles(Session(channels=channels)).values()]


def test_the_name_of_the_song_that_all_tracks_bear_tells_of_none() -> None:
    """In open data on choirs ten tracks were read as keys for the piano in the title that stands in front of each."""
    sung = (
        "HQ_DuskPianoQuirl_S1_close",
        "HQ_DuskPianoQuirl_S2_close",
        "HQ_DuskPianoQuirl_T1_far",
        "HQ_DuskPianoQuirl_B1_lrx",
    )
    assert "keys" not in read_names(*sung)


def test_a_word_that_all_tracks_share_tells_where_nothing_else_is_spelt_out() -> None:
    assert read_names("Loud Gtr 1", "Loud Gtr 2", "Loud Gtr 3", "Loud Gtr 4") == ["guitar"] * 4
    assert read_names("Vox 1", "Vox 2", "Vox 3", "Vox 4") == ["vocal"] * 4


def test_words_that_are_not_known_outweigh_an_abbreviation() -> None:
    asked = read(track("Tb Quennel Marsh"))
    assert asked.word is None
    assert asked.grounds[0] == "'quennel' and 'marsh' are not known, and only 'tb' in the name speaks for talkback"
    assert read(track("Piano Quennel Marsh")).word == "keys"
    assert read(track("Piano Quennel Marsh Ostrow")).word == "keys"


def test_a_song_title_in_most_names_outweighs_nothing() -> None:
    tracks = [track(f"Quennel Marsh {part}", id=part) for part in ("Gtr", "Kick", "Snare", "Pno")]
    assert read(*tracks, Channel(id="m", name="Mix Bus", kind="master", output=None)).word == "guitar"


def test_what_a_house_says_of_a_word_is_outweighed_by_none() -> None:
    house = Vocabulary(((WordFile("house.toml", "", {"part": {"keys": {"en": "far, qz"}}}),),))
    assert read(track("Qz Quennel Marsh"), vocabulary=house).word == "keys"
    assert read(track("Far"), vocabulary=house).word == "keys"


@pytest.mark.parametrize(
    ("name", "role"),
    [
        ("Ad Libs", "vocal-double"),
        ("Vox Ad Libs", "vocal"),
        ("Lead Vox Ad Lib", "lead-vocal"),
        ("Verse Vox", "lead-vocal"),
        ("Verse Vox 2", "vocal"),
        ("Vox Verse 2", "lead-vocal"),
    ],
)
def test_voices_beside_the_leading_one(name: str, role: str) -> None:
    """Common practice, no source: a second voice of a verse is counted, and ad libs are sung around the lead."""
    assert read(track(name), track("Main Lead Vox", id="b")).word == role
