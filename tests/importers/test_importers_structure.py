"""Groups, folders, buses, masters and outputs in every spelling that occurs."""

from __future__ import annotations

from pathlib import Path

import pytest

from mixlint.session import Unknown
from tests.importers.documents import channel, session_of, told, track


def group(name: str, role: str | None, *members: str, to: str | None = "m") -> str:
    return track(name, role=role, to=to, more="".join(members)).replace(
        'contentType="audio"', 'contentType="tracks"', 1
    )


@pytest.mark.parametrize("role", ["master", "submix", None, "regular"])
def test_a_track_that_holds_tracks_is_a_group(tmp_path: Path, role: str | None) -> None:
    session = session_of(tmp_path, group("Drums", role, track("Kick", to="c:Drums"), track("Snare", to=None)))
    assert channel(session, "Drums").kind == "group"
    assert channel(session, "Kick").parent == "c:Drums"
    assert channel(session, "Snare").output == "c:Drums"
    assert told(session, "Snare has no output", "c:Snare")
    assert channel(session, "Main").kind == "master"
    assert channel(session, "Main").output is None


def test_a_group_declared_as_vca_carries_audio_when_channels_go_to_it(tmp_path: Path) -> None:
    session = session_of(tmp_path, group("Drums", "vca", track("Kick", to="c:Drums")))
    assert channel(session, "Drums").kind == "group"
    assert told(session, "VCA", "c:Drums")


def test_a_vca_that_nothing_goes_to_carries_no_audio(tmp_path: Path) -> None:
    session = session_of(
        tmp_path, '<Channel id="v" name="All drums" role="vca"/>' + group("G", "vca", track("K", to=None))
    )
    assert (channel(session, "All drums").kind, channel(session, "All drums").output) == ("vca", None)
    assert channel(session, "K").output == "m"  # audio does not pass a VCA, however the tracks are nested


def test_audio_passes_over_a_vca_to_the_group_around_it(tmp_path: Path) -> None:
    inner = group("Moved", "vca", track("K", to=None), to=None)
    session = session_of(tmp_path, group("Drums", "submix", inner))
    assert channel(session, "K").output == "c:Drums"


def test_a_folder_without_a_channel_only_orders(tmp_path: Path) -> None:
    inner = f'<Track name="Inner" contentType="tracks">{track("Kick")}</Track>'
    folder = f'<Track name="Band" contentType="tracks">{inner}</Track>'
    session = session_of(tmp_path, folder)
    kick = channel(session, "Kick")
    assert kick.folder == ("Band", "Inner")
    assert kick.parent is None
    assert [one.name for one in session.channels] == ["Kick", "Main"]


def test_a_master_inside_a_folder_is_the_folders_bus(tmp_path: Path) -> None:
    folder = (
        '<Track name="Drums" contentType="tracks">'
        + track("Drums Master", role="master", to=None)
        + track("Kick", role=None, to=None)
        + track("Snare", role=None, to=None)
        + "</Track>"
    )
    session = session_of(tmp_path, folder)
    head = channel(session, "Drums Master")
    assert (head.kind, head.output) == ("group", "m")
    assert {channel(session, name).output for name in ("Kick", "Snare")} == {head.id}
    assert told(session, "bus of the folder Drums", head.id)
    assert channel(session, "Main").kind == "master"


def test_bare_channels_are_buses_returns_and_the_master(tmp_path: Path) -> None:
    structure = (
        track("Kick", to="b")
        + '<Channel id="b" name="Drum bus" role="submix" destination="x"/>'
        + '<Channel id="r" name="Plate" role="effect" destination="x"/>'
    )
    session = session_of(tmp_path, structure, master='<Channel id="x" name="Stereo out" role="master"/>')
    kinds = {one.name: one.kind for one in session.channels}
    assert kinds == {"Kick": "track", "Drum bus": "group", "Plate": "return", "Stereo out": "master"}
    assert channel(session, "Kick").where == "project.xml:6"


def test_roles_left_out_are_told_by_what_goes_where(tmp_path: Path) -> None:
    send = '<Sends><Send destination="c:Verb"><Volume unit="linear" value="1"/></Send></Sends>'
    structure = track("Kick", send, role=None, to="c:Bus") + track("Bus", role=None) + track("Verb", role=None)
    session = session_of(tmp_path, structure, master='<Channel id="m" name="Master"/>')
    kinds = {one.name: one.kind for one in session.channels}
    assert kinds == {"Kick": "track", "Bus": "group", "Verb": "return", "Master": "master"}
    assert told(session, "by its name", "m")
    assert told(session, "channels go out to it", "c:Bus")
    assert told(session, "channels send to it", "c:Verb")


def test_of_several_masters_the_first_plain_one_is_the_mix_bus(tmp_path: Path) -> None:
    structure = group("All", "master", track("Kick", to="c:All")) + '<Channel id="b" name="Cue" role="master"/>'
    session = session_of(tmp_path, structure)
    assert channel(session, "Main").kind == "master"
    assert (channel(session, "Cue").kind, channel(session, "Cue").output) == ("group", None)
    two = '<Track name="Second" contentType="audio"><Channel id="m2" role="master"/></Track>'
    session = session_of(
        tmp_path,
        track("Kick"),
        master='<Track name="First" contentType="audio"><Channel id="m" role="master"/></Track>' + two,
    )
    assert [one.name for one in session.channels if one.kind == "master"] == ["First"]
    assert told(session, "several master channels")


def test_without_a_master_outputs_are_unknown_and_it_is_said(tmp_path: Path) -> None:
    session = session_of(tmp_path, track("Kick", to=None), master="")
    assert isinstance(channel(session, "Kick").output, Unknown)
    assert told(session, "no master channel")


def test_outputs_that_are_missing_throughout_are_a_gap_unless_nesting_tells_them(tmp_path: Path) -> None:
    flat = "".join(track(name, to=None) for name in "ABCD")
    assert session_of(tmp_path, flat).gaps == ("outputs",)
    assert session_of(tmp_path, flat + track("E")).gaps == ()
    assert session_of(tmp_path, group("G", "submix", flat, to=None)).gaps == ()


def test_an_output_may_name_a_track_or_nothing_that_is_there(tmp_path: Path) -> None:
    session = session_of(tmp_path, track("Kick", to="t:Bus") + track("Bus", role="submix") + track("Lost", to="gone"))
    assert channel(session, "Kick").output == "c:Bus"
    lost = channel(session, "Lost").output
    assert isinstance(lost, Unknown)
    assert "gone" in lost.unknown


def test_a_send_to_the_master_is_the_way_out_where_no_output_is_stated(tmp_path: Path) -> None:
    send = '<Sends><Send destination="m"><Volume unit="linear" value="1"/></Send></Sends>'
    session = session_of(tmp_path, track("Kick", send, to=None))
    assert channel(session, "Kick").output is None
    assert told(session, "taken as its way", "c:Kick")


def test_channels_without_ids_are_told_apart_by_their_place(tmp_path: Path) -> None:
    bare = '<Track name="{}" contentType="audio"><Channel><Volume unit="linear" value="1"/></Channel></Track>'
    session = session_of(tmp_path, bare.format("A") + bare.format("B"))
    assert channel(session, "A").id != channel(session, "B").id
    assert {channel(session, name).output for name in "AB"} == {"m"}


def test_an_id_that_occurs_twice_is_noted_and_the_first_counts(tmp_path: Path) -> None:
    twice = '<Track name="{}" contentType="audio"><Channel id="twice" destination="m"/></Track>'
    session = session_of(tmp_path, twice.format("A") + twice.format("B") + track("Kick", to="twice"))
    assert channel(session, "A").id == "twice"
    assert channel(session, "B").id != "twice"
    assert channel(session, "Kick").output == "twice"
    assert told(session, "occurs 2 times")


def test_a_track_without_a_channel_is_a_strip_only_when_clips_lie_on_it(tmp_path: Path) -> None:
    structure = '<Track id="a" name="Played" contentType="notes"/><Track id="b" name="Markers" contentType="markers"/>'
    lanes = '<Lanes track="a"><Clips><Clip time="0" duration="4"><Notes/></Clip></Clips></Lanes>'
    lanes += '<Lanes track="b"><Clips/></Lanes>'
    session = session_of(tmp_path, structure, lanes)
    played = channel(session, "Played")
    assert isinstance(played.fader_db, Unknown)
    assert len(played.clips) == 1
    assert all(one.name != "Markers" for one in session.channels)


def test_unknown_elements_and_any_order_are_no_trouble(tmp_path: Path) -> None:
    inside = (
        '<Volume unit="linear" value="1" max="2"/><Novelty><Mute value="true"/></Novelty><Sends/>'
        '<Pan unit="normalized" value="1" min="0" max="1"/><Mute value="true"/><Devices/>'
    )
    part = channel(session_of(tmp_path, track("Part", inside)), "Part")
    assert (part.fader_db, part.pan, part.mute) == (0.0, 100.0, True)


def test_width_comes_from_the_files_where_a_declared_two_says_little(tmp_path: Path) -> None:
    clip = '<Clip time="0" duration="4"><Audio channels="{}"><File path="{}.wav"/></Audio></Clip>'
    audio = '<Lanes track="t:{}"><Clips>' + clip + "</Clips></Lanes>"
    wide = '<Track id="t:{0}" name="{0}" contentType="audio">'
    wide += '<Channel id="c:{0}" audioChannels="{1}" destination="m"/></Track>'
    structure = wide.format("A", 2) + wide.format("B", 2) + wide.format("C", 2) + wide.format("D", 1)
    session = session_of(tmp_path, structure, audio.format("A", 1, "a") + audio.format("B", 2, "b"))
    assert (channel(session, "A").legs, channel(session, "B").legs, channel(session, "D").legs) == (1, 2, 1)
    assert isinstance(channel(session, "C").legs, Unknown)
    assert told(session, "read as mono", "c:A")


def test_ids_that_look_like_places_are_told_apart(tmp_path: Path) -> None:
    """A strip without an id goes by its place, also where another strip has that place for its own id."""
    session = session_of(
        tmp_path, '<Track name="A"><Channel id="at 2"/></Track><Track name="B"><Channel/></Track>', master=""
    )
    assert [(one.id, one.name) for one in session.channels][:2] == [("at 2", "A"), ("at 2 (2)", "B")]
