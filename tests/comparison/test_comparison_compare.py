"""Comparing two revisions: what is no change never counts, and one planted change is found as exactly that."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from random import Random
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from mixlint import importers
from mixlint.comparison import Tolerances, compare
from mixlint.comparison.digest import mix_digest
from mixlint.session import (
    Automation,
    Channel,
    Clip,
    Equalizer,
    EqualizerBand,
    Insert,
    MediaFile,
    Send,
    Session,
    Unknown,
)
from tests.comparison.revised import PLANTS, told_apart, with_channel, with_one_send, written_again
from tests.importers.exporters import STYLES, Exporter, Style
from tests.importers.made_sessions import sessions

QUICK = settings(
    max_examples=30,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much, HealthCheck.function_scoped_fixture],
)


def essentials(old: Session, new: Session, **more: Any) -> list[tuple[str, str]]:
    return [(change.what, change.channel) for change in compare(old, new, **more).changes]


@pytest.mark.slow
@QUICK
@given(session=sessions())
def test_a_session_is_as_it_was(session: Session) -> None:
    """Channels of one name included."""
    found = compare(session, session)
    assert (found.changes, found.unseen, found.renamed) == ((), (), {})


@pytest.mark.slow
@QUICK
@given(session=told_apart())
def test_other_ids_order_case_and_rounding_are_no_change(session: Session) -> None:
    """Renumbered, turned round, in capitals, through six decimals of an amplitude: nothing changed, the hash too."""
    again = written_again(session)
    found = compare(session, again)
    assert (found.changes, found.unseen) == ((), ())
    assert compare(again, session).changes == ()


@pytest.mark.slow
@QUICK
@given(session=told_apart())
def test_the_hash_of_a_mix_does_not_hang_on_who_wrote_it(session: Session) -> None:
    """Ids, order and case do not enter it; a solo does."""
    again = written_again(session)
    # Levels near −60 dB lose more than a tenth of a dB in six decimals; that is a change to a hash.
    exact = again.model_copy(
        update={
            "channels": tuple(
                c.model_copy(update={"fader_db": o.fader_db, "sends": tuple(
                    s.model_copy(update={"level_db": t.level_db})
                    for s, t in zip(c.sends, reversed(o.sends), strict=True)
                )})
                for c, o in zip(again.channels, reversed(session.channels), strict=True)
            )
        }
    )  # fmt: skip
    assert mix_digest(exact) == mix_digest(session)
    first = session.channels[0]
    assert mix_digest(with_channel(session, 0, solo=not first.solo)) != mix_digest(session)


def prepared(session: Session, style: Style) -> Session:
    """Some styles can only be told by a mark that the file must bear; give it one."""
    if style.pan == "-1..1 no range":
        return with_channel(session, 0, pan=-40.0)
    return session


@pytest.mark.slow
@pytest.mark.parametrize("style", STYLES, ids=lambda style: style.name)
@settings(max_examples=8, deadline=None, suppress_health_check=list(HealthCheck))
@given(session=sessions())
def test_another_exporters_style_is_no_change(style: Style, session: Session, tmp_path: Path) -> None:
    """Exported again in another style nothing has changed.

    Automation across a change of tempo is left out: a line that is straight in beats is bent in seconds there, and
    each style has its own of the two.
    """
    assert not isinstance(session.timeline, Unknown)
    if len(session.timeline.tempos) > 1:
        channels = tuple(c.model_copy(update={"automation": ()}) for c in session.channels)
        session = session.model_copy(update={"channels": channels})
    session = prepared(session, style)
    path = tmp_path / "again.dawproject"
    path.write_bytes(Exporter(session, style).archive())
    read = importers.read(path)
    found = compare(session, read)
    assert (found.changes, found.renamed) == ((), {})
    plain = tmp_path / "book.dawproject"
    plain.write_bytes(Exporter(session, STYLES[0]).archive())
    assert compare(importers.read(plain), read).changes == ()
    assert mix_digest(importers.read(plain)) == mix_digest(read)


@pytest.mark.slow
def test_one_planted_change_is_found_as_exactly_that() -> None:
    """One change, of its kind, on its channel, even when everything was renumbered, turned round and rounded.

    Each made session is tried with every kind of change that fits it, since making one costs more than comparing it.
    """
    tried: Counter[str] = Counter()

    def every_kind_that_fits(session: Session, random: Random) -> None:
        for name, plant in PLANTS.items():
            planted = plant(session, random.choice)
            if planted is None:
                continue
            changed, what, channel = planted
            found = essentials(session, changed)
            assert found == [(what, "Quite Another" if name == "renamed" else channel)], name
            if name != "renamed":
                assert [(w, c.upper()) for w, c in found] == essentials(session, written_again(changed)), name
            tried[name] += 1

    for made in (told_apart(), with_one_send()):
        each = given(session=made, random=st.randoms(use_true_random=False))(every_kind_that_fits)
        settings(max_examples=50, deadline=None, suppress_health_check=list(HealthCheck))(each)()
    assert all(tried[name] >= 12 for name in PLANTS), tried


def song(*channels: Channel, media: tuple[MediaFile, ...] = ()) -> Session:
    return Session(title="Ferry Lane", channels=(*channels, Channel(id="m", name="Mix", kind="master", output=None)),
                   media=media)  # fmt: skip


def track(name: str, **more: Any) -> Channel:
    clips = more.pop("clips", (Clip(start_s=0.0, end_s=30.0, plays="notes", name=name),))
    return Channel(id=name, name=name, kind="track", output="m", clips=clips, **more)


def test_what_is_said() -> None:
    """In the words of a desk, with the numbers then and now."""
    old = song(track("Bass", fader_db=-6.0, pan=0.0), track("Vox", sends=(Send(to="m", level_db=-12.0),)))
    new = song(track("Bass", fader_db=-3.0, pan=-20.0, mute=True), track("Vox"))
    assert [f"{c.channel}: {c.says}" for c in compare(old, new).changes] == [
        "Bass: fader 3 dB up, from −6 dB to −3 dB",
        "Bass: pan from centre to 20 left",
        "Bass: muted",
        "Vox: send to Mix removed",
    ]


@pytest.mark.parametrize(
    ("was", "now", "count"),
    [(-6.0, -5.5, 0), (-6.0, -5.49, 1), (-120.0, -200.0, 0), (-200.0, -60.0, 1)],
)
def test_half_a_db_is_no_change(was: float, now: float, count: int) -> None:
    """0.5 dB and 5 of pan (common practice, no source); what is silent either way is no change."""
    assert len(compare(song(track("Bass", fader_db=was)), song(track("Bass", fader_db=now))).changes) == count


@pytest.mark.parametrize(("by", "count"), [(5.0, 0), (5.1, 1), (-5.0, 0)])
def test_five_of_pan_is_no_change(by: float, count: int) -> None:
    assert len(compare(song(track("Bass", pan=10.0)), song(track("Bass", pan=10.0 + by))).changes) == count


def test_tolerances_can_be_set() -> None:
    old, new = song(track("Bass", fader_db=-6.0)), song(track("Bass", fader_db=-5.8))
    assert compare(old, new).changes == ()
    assert [c.by_db for c in compare(old, new, tolerances=Tolerances(level_db=0.1)).changes] == [pytest.approx(0.2)]


def test_audio_is_told_by_its_sound_where_it_was_heard() -> None:
    """The same sound under another name is no change; another sound under the same name is one."""
    clip = (Clip(start_s=0.0, end_s=9.0, file="a"),)
    old = song(track("Gtr", clips=clip), media=(MediaFile(id="a", path="gtr 1.wav"),))
    new = song(track("Gtr", clips=clip), media=(MediaFile(id="a", path="gtr 2.wav"),))
    heard = {"old_contents": {"a": "sha256:1"}, "new_contents": {"a": "sha256:1"}}
    assert [c.says for c in compare(old, new).changes] == ["audio replaced: gtr 2.wav in place of gtr 1.wav at 0:00.0"]
    assert compare(old, new, **heard).changes == ()
    other = {"old_contents": {"a": "sha256:1"}, "new_contents": {"a": "sha256:2"}}
    assert [c.says for c in compare(old, old, **other).changes] == [
        "audio replaced: gtr 1.wav sounds otherwise at 0:00.0"
    ]


def test_a_renamed_channel_is_known_by_its_content() -> None:
    """And only where that leaves no doubt: two channels that play the same are not guessed at."""
    old, new = song(track("Gtr", fader_db=-3.0)), song(track("Gtr", fader_db=-9.0))
    renamed = with_channel(new, 0, name="Acoustic")
    found = compare(old, renamed)
    assert found.renamed == {"Gtr": "Acoustic"}
    assert [c.says for c in found.changes] == ["renamed, was Gtr", "fader 6 dB down, from −3 dB to −9 dB"]
    same = Clip(start_s=0.0, end_s=30.0, plays="notes", name="x")
    twins = song(track("A", clips=(same,)), track("B", clips=(same,)))
    others = song(track("C", clips=(same,)), track("D", clips=(same,)))
    assert sorted(c.did for c in compare(twins, others).changes) == ["added", "added", "removed", "removed"]


@pytest.mark.parametrize(("one", "other"), [("Cañón", "Can\u0303o\u0301n"), ("ギター", "ｷﾞﾀｰ"), ("Oboe  1", "OBOE 1")])
def test_a_name_written_with_other_code_points_is_the_same_name(one: str, other: str) -> None:
    """An accent within or after its letter, full and half width: Unicode 3.13 D146, compatibility caseless matching."""
    old, new = (song(track(name, fader_db=-3.0)) for name in (one, other))
    assert compare(old, new).changes == ()
    assert mix_digest(old) == mix_digest(new)


def test_namesakes_in_another_order_are_told_apart() -> None:
    """Two channels of one name swapped on the desk: nothing changed."""
    one, other = track("Gtr", pan=-50.0), track("Gtr", pan=50.0).model_copy(update={"id": "Gtr 2"})
    assert compare(song(one, other), song(other, one)).changes == ()
    moved = other.model_copy(update={"pan": 80.0})
    assert essentials(song(one, other), song(moved, one)) == [("pan", "Gtr")]


def test_namesakes_in_two_groups_are_told_apart_by_place() -> None:
    """A clap in the drums and one in the extras are two, whichever changed."""
    drums = Channel(id="d", name="Drums", kind="group", output="m")
    extras = Channel(id="e", name="Extras", kind="group", output="m")
    one = track("Clap", parent="d", fader_db=-6.0)
    other = track("Clap", parent="e", fader_db=-6.0).model_copy(update={"id": "c2"})
    new = song(drums, extras, other.model_copy(update={"fader_db": 0.0}), one)
    found = compare(song(drums, extras, one, other), new)
    assert [(c.what, c.channel_id) for c in found.changes] == [("level", "c2")]


def test_what_an_export_does_not_show_is_no_change_and_is_told() -> None:
    """A fader that the newer export leaves out cannot be told; one that neither shows is as unseen as before."""
    hidden = Unknown(unknown="the export gives no fader")
    found = compare(song(track("Bass")), song(track("Bass", fader_db=hidden)))
    assert found.changes == ()
    assert [(u.what, u.channel, u.why) for u in found.unseen] == [
        ("level", "Bass", "the newer revision does not show fader: the export gives no fader")
    ]
    assert compare(song(track("Bass", fader_db=hidden)), song(track("Bass", fader_db=hidden))).unseen == ()


def test_sends_that_carry_nothing_come_and_go_unseen() -> None:
    """Some exporters write a send at silence for every return, others leave it out."""
    silent, off = Send(to="m", level_db=-200.0), Send(to="m", on=False)
    assert compare(song(track("Vox")), song(track("Vox", sends=(silent, off)))).changes == ()


def test_a_whole_song_moved_is_said_once_per_channel() -> None:
    """Not five hundred times."""

    def clips(by: float) -> tuple[Clip, ...]:
        return tuple(Clip(start_s=n + by, end_s=n + 0.5 + by, plays="notes") for n in range(500))

    found = compare(song(track("Hat", clips=clips(0.0))), song(track("Hat", clips=clips(0.25))))
    assert [c.says for c in found.changes] == ["500 clips moved, by up to 250 ms, the first at 0:00.2"]


def test_very_many_clips_and_namesakes_keep_their_identity() -> None:
    """Thousands of clips moved are moved, not replaced; two hundred channels of one name may stand in any order."""

    def clips(by: float) -> tuple[Clip, ...]:
        return tuple(Clip(start_s=n * 0.5 + by, end_s=n * 0.5 + 0.2 + by, plays="notes") for n in range(3000))

    found = compare(song(track("Hat", clips=clips(0.0))), song(track("Hat", clips=clips(0.1))))
    assert [c.says for c in found.changes] == ["3000 clips moved, by up to 100 ms, the first at 0:00.1"]

    many = [
        track("Audio", clips=(Clip(start_s=n, end_s=n + 1.0, plays="notes"),), pan=n % 7).model_copy(
            update={"id": f"a{n}"}
        )
        for n in range(200)
    ]
    assert compare(song(*many), song(*reversed(many))).changes == ()
    moved = many[150].model_copy(update={"pan": 60.0})
    found = compare(song(*many), song(*reversed([*many[:150], moved, *many[151:]])))
    assert [(c.what, c.channel_id) for c in found.changes] == [("pan", "a150")]


@pytest.mark.parametrize("gone", [False, True], ids=["the sends in another order", "the first send gone"])
def test_automation_added_where_another_send_stood(gone: bool) -> None:
    """The lane of a send is told by where it leads: one that is new is added, whatever stood at its position."""
    lanes = [Automation(target=f"send:{n}:level", scale="dB", t=(0.0, 1.0), v=(-10.0, -3.0)) for n in (0, 1)]
    plate, hall = Send(to="p", level_db=-10.0), Send(to="h", level_db=-10.0)
    returns = (Channel(id="p", name="Plate", kind="return"), Channel(id="h", name="Hall", kind="return"))

    def song(sends: tuple[Send, ...], *moving: Automation) -> Session:
        voice = Channel(id="v", name="Voice", kind="track", output=None, sends=sends, automation=moving)
        return Session(channels=(voice, *returns))

    old = song((plate, hall), lanes[0])
    new = song((hall,), lanes[0]) if gone else song((hall, plate), *lanes)
    told = [(c.what, c.item, c.did) for c in compare(old, new).changes]
    removed = [("send", "Plate", "removed")] if gone else []
    assert told == [*removed, ("automation", "send:0:level", "added")]


@pytest.mark.parametrize(
    ("stored", "lane", "told"),
    [
        ({"on": False}, ("send:0:on", "switch", 1.0), True),
        ({"on": True}, ("send:0:on", "switch", 0.0), False),
        ({"on": False}, None, False),
    ],
    ids=["stored off, held on", "stored on, held off", "off"],
)
def test_a_send_counts_by_what_automation_makes_of_its_switch(stored, lane, told):
    """A lane of one point holds its control: what the send carries counts, not what is stored."""
    automation = () if lane is None else (Automation(target=lane[0], scale=lane[1], t=(0.0,), v=(lane[2],)),)
    old, new = (
        Session(
            title="t",
            channels=(
                Channel(id="a", name="Harmonium", kind="track", output="m", automation=automation,
                        sends=(Send(to="r", level_db=level, **stored),)),
                Channel(id="r", name="Chapel", kind="return", output="m"),
                Channel(id="m", name="Mix", kind="master", output=None),
            ),
        )
        for level in (-10.0, -3.0)
    )  # fmt: skip
    assert [change.what for change in compare(old, new).changes] == (["send"] if told else [])
    assert (mix_digest(old) != mix_digest(new)) is told


HOLD = Automation(target="insert:0:band:1:on", scale="switch", t=(0.0,), v=(1.0,))
MOVE = Automation(target="insert:0:band:1:on", scale="switch", t=(0.0, 9.0), v=(1.0, 0.0))
OTHER_MOVE = Automation(target="insert:0:band:1:on", scale="switch", t=(0.0, 20.0), v=(1.0, 0.0))


def cut(stored: bool, *lanes: Automation) -> Session:
    band = EqualizerBand(kind="high-pass", freq_hz=90.0, on=stored)
    equalizer = Insert(name="Desk EQ", equalizer=Equalizer(bands=(band,)))
    return song(track("Harmonium", inserts=(equalizer,), automation=lanes))


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        (cut(True), cut(False, HOLD), []),
        (cut(False, HOLD), cut(True), []),
        (cut(False, HOLD), cut(True, HOLD), []),
        (cut(False), cut(False, HOLD), ["insert Desk EQ set otherwise: band 1 on"]),
        (cut(False, HOLD), cut(False), ["insert Desk EQ set otherwise: band 1 off"]),
        (cut(False, MOVE), cut(True, MOVE), []),
        (cut(True, MOVE), cut(False, OTHER_MOVE), ["automation of Desk EQ (band 1 on) changed"]),
        (cut(True), cut(True, MOVE), ["automation of Desk EQ (band 1 on) added"]),
        (cut(True, HOLD), cut(True, MOVE), ["automation of Desk EQ (band 1 on) changed"]),
    ],
    ids=["held as stored", "stored as held", "stored otherwise under one hold", "held on", "no longer held",
         "stored otherwise under one lane", "moved otherwise", "moved", "moved instead of held"],
)  # fmt: skip
def test_a_setting_is_compared_as_automation_makes_it_stand(old: Session, new: Session, told: list[str]) -> None:
    """And it is told once: by its lanes where both revisions have one, else by what it stands at."""
    assert [change.says for change in compare(old, new).changes] == told


def test_a_fader_held_elsewhere_is_told_as_a_level() -> None:
    down = Automation(target="fader", scale="dB", t=(0.0,), v=(-9.0,))
    found = compare(song(track("Vox", fader_db=-3.0)), song(track("Vox", fader_db=-3.0, automation=(down,))))
    assert [(c.what, c.says) for c in found.changes] == [("level", "fader 6 dB down, from −3 dB to −9 dB")]


def test_where_an_automated_setting_happens_to_be_stored_does_not_change_the_hash() -> None:
    assert mix_digest(cut(False, MOVE)) == mix_digest(cut(True, MOVE))
    assert mix_digest(cut(True, MOVE)) != mix_digest(cut(True, OTHER_MOVE))
    assert mix_digest(cut(False)) != mix_digest(cut(True))


def test_a_lane_whose_unit_is_not_told_is_a_change_without_a_figure() -> None:
    odd = Automation(target="fader", scale="unknown", t=(0.0,), v=(0.5,))
    level = Automation(target="fader", scale="dB", t=(0.0,), v=(-6.0,))
    old, new = (song(track("Vox", automation=(one,))) for one in (level, odd))
    assert [c.says for c in compare(old, new).changes] == ["automation of the fader changed"]
    assert [c.says for c in compare(song(track("Vox")), new).changes] == ["automation of the fader added"]
