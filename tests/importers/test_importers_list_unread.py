"""Columns whose headings nobody knows, and those that lead to one channel: nothing is "none" for an unread heading.

What a list means is what its writer says; that low cuts lie in the bass is common practice, no source.
"""

from __future__ import annotations

import csv
import io
from pathlib import Path
from typing import Any

import pytest

from mixlint.errors import MixlintError
from mixlint.importers import read
from mixlint.importers.channel_list.cells import Misread, share
from mixlint.importers.channel_list.chains import inserts_in
from mixlint.importers.channel_list.grid import DELIMITERS, Grid, decoded, parted
from mixlint.importers.channel_list.layout import heading_of
from mixlint.importers.channel_list.slots import slot_heading
from mixlint.naming.vocabulary import SHIPPED
from mixlint.session import Unknown
from tests.importers.list_sessions import LISTS, channel, given, notes, summary

WORDS = SHIPPED.lists
WRITTEN = sorted(path for path in LISTS.iterdir() if path.suffix in (".csv", ".tsv", ".txt"))
NONSENSE = "Quorble"


def of(found: list[dict[str, Any]], key: str) -> list[Any]:
    """One value of all channels."""
    return [one[key] for one in found]


# Sends to one channel


@pytest.mark.parametrize("words", ["to", "an", "vers", "a", "naar", "till", "→", "->", "do", "na", "in den", "to the"])
@pytest.mark.parametrize("name", ["Tin Plate", "Main", "Group 1"])
def test_words_that_lead_to_a_channel_are_of_sends_to_it(tmp_path: Path, words: str, name: str):
    text = f"#,Track,Out,Vol,Ins 3,{words} {name}\n1,Snare,Mix,-8,,-16\n2,{name},Mix,-5,,\n3,Mix,Out 1-2,0,,\n"
    session = given(tmp_path, text)
    (send,) = channel(session, "Snare").sends
    assert (channel(session, name).id, -16.0) == (send.to, send.level_db)
    assert (channel(session, name).sends, session.gaps.count("sends")) == ((), 0)
    assert channel(session, "Snare").output == channel(session, "Mix").id


def test_letters_count_inserts_and_sends_and_name_no_channel(tmp_path: Path):
    text = (
        "Name,Type,Source,Group,Fader,Ins A,A in?,Ins B,B in?,Send A,Send B\n"
        "A,IN,pack 1,STR,-5,Carrow EQ,Y,Lintel Comp,N,-12,-14\nB,IN,pack 2,STR,-6,Carrow EQ,N,,,-12,\n"
        "STR,GRP,,MAIN,0,,,Lintel Comp,Y,,\nMAIN,OUT,,Amps,0,,,,,,\n"
    )
    session = given(tmp_path, text)
    assert of(summary(session), "kind") == ["track", "track", "group", "master"]
    assert of(summary(session), "output") == ["STR", "STR", "MAIN", None]
    assert [[(one["name"], one["on"]) for one in row] for row in of(summary(session), "inserts")] == [
        [("Carrow EQ", True), ("Lintel Comp", False)], [("Carrow EQ", False)], [("Lintel Comp", True)], [],
    ]  # fmt: skip
    assert {one["to"] for row in of(summary(session), "sends") for one in row} == {"unknown"}
    assert slot_heading("Ins A", WORDS) is None


def test_the_channel_is_what_outputs_name(tmp_path: Path):
    session = given(tmp_path, "Source,Name,Out,Fader\nbooth,Kick,Drums,-5\nbooth,Drums,Mix,0\n,Mix,Out 1-2,0\n")
    assert [one.name for one in session.channels] == ["Kick", "Drums", "Mix"]


@pytest.mark.parametrize("heading", ["Chan", "Kan.", "Can.", "Voie", "Spår"])
def test_short_headings_of_names(tmp_path: Path, heading: str):
    assert channel(given(tmp_path, f"{heading},Out,Level\nHorn,Mix,-5\nMix,,0\n"), "Horn").fader_db == -5.0


# Columns that their cells tell


MUSIC = (
    "Channel,Kind,Output,Level,{}\nHorn,track,Mix,-3,{}\nBass,track,Mix,-6,{}\nHall,return,Mix,-6,{}\n"
    "Mix,master,Out,0,{}\n"
)


def under(folder: Path, *cells: str, heading: str = NONSENSE) -> list[dict[str, Any]]:
    """What a list tells with these cells under one more heading, which nobody knows."""
    return summary(given(folder, MUSIC.format(heading, *cells)))


@pytest.mark.parametrize(
    ("cells", "wanted"),
    [
        (("90 Hz", "none", "180 Hz", "30 Hz"), [90.0, 0.0, 180.0, 30.0]),
        (("90", "off", "180", "35"), ["unknown"] * 4),  # any numbers
        (("90 Hz", "none", "9 kHz", "30 Hz"), ["unknown"] * 4),  # a high cut is among them
        (("12 kHz", "9 kHz", "8 kHz", "16 kHz"), [0.0] * 4),
        (("90 Hz", "", "", ""), ["unknown"] * 4),
        (("21", "22", "23", "24"), [0.0] * 4),  # they count
    ],
)
def test_frequencies_are_low_cuts_or_hide_them(tmp_path: Path, cells: tuple[str, ...], wanted: list[Any]):
    assert of(under(tmp_path, *cells), "low_cut_hz") == wanted


def test_shares_that_only_returns_have_are_wet(tmp_path: Path):
    assert of(under(tmp_path, "", "", "100", "", heading="% gronk"), "wet") == ["unknown"] * 4  # of no processor
    text = MUSIC.format("Insert,% gronk", "Brook EQ,", ",", "Old Hall,100", ",")
    session = given(tmp_path, text)
    assert of(summary(session), "wet") == ["unknown", "unknown", 100.0, "unknown"]
    assert 'the heading "% gronk" is not known; by its cells the column was taken for wet. Right' in notes(session)


def test_a_column_of_groups_is_of_outputs_but_no_vca(tmp_path: Path):
    text = "Channel,Level,{}\nHorn,-3,Mix\nBass,-6,Mix\nHall,-6,Mix\nMix,0,Amps\n"
    assert of(summary(given(tmp_path, text.format("Group"))), "output") == ["Mix", "Mix", "Mix", None]
    assert of(summary(given(tmp_path, text.format("VCA"))), "output")[:3] == ["unknown"] * 3


def test_what_may_be_an_insert_or_a_send_hides_that(tmp_path: Path):
    text = MUSIC.format("Hall,Insert,Zwurb,Snarf", "-9,Gate One,Brook EQ,-12", ",,,", ",,,", ",,,")
    found = summary(given(tmp_path, text))
    assert of(found, "inserts") == ["unknown", [], [], []]
    assert [len(one) for one in of(found, "sends")] == [2, 0, 0, 0]
    assert found[0]["sends"][1] == {"to": "unknown", "level_db": "unknown", "pre": "unknown"}


def test_yes_and_no_beside_an_insert_leaves_open_whether_it_is_on(tmp_path: Path):
    text = MUSIC.format("Insert,Zapp", "Brook EQ,N", "Brook EQ,Y", "Old Hall,Y", ",")
    assert [one["on"] for row in of(summary(given(tmp_path, text)), "inserts") for one in row] == ["unknown"] * 3
    text = MUSIC.format("Slot A,On A,Slot B", "Brook EQ,N,", "Brook EQ,Y,Tarn Comp", "Old Hall,Y,", ",,")
    found = of(summary(given(tmp_path, text)), "inserts")
    assert [(one["name"], one["on"]) for row in found for one in row] == [
        ("Brook EQ", False), ("Brook EQ", True), ("Tarn Comp", True), ("Old Hall", True),
    ]  # fmt: skip


def test_yes_and_no_beside_a_send_leaves_open_whether_it_is_on(tmp_path: Path):
    text = MUSIC.format("Send 1,Level 1,Zapp", "Hall,-12,N", "Hall,-9,Y", ",,", ",,")
    sends = [channel(given(tmp_path, text), name).sends[0] for name in ("Horn", "Bass")]
    assert [(one.level_db, isinstance(one.on, Unknown)) for one in sends] == [(-12.0, True), (-9.0, True)]


def test_a_measure_of_every_channel_is_no_send(tmp_path: Path):
    text = MUSIC.format("Hall,Inserts,Peak", "-9,none,-3", ",none,-4", ",none,-6", ",none,-1")
    assert [len(one) for one in of(summary(given(tmp_path, text)), "sends")] == [1, 0, 0, 0]


def test_numbers_are_no_inserts_whatever_their_heading(tmp_path: Path):
    text = MUSIC.format("Insert,Procesado %", "Brook EQ,", ",", "Old Hall,90", ",")
    found = summary(given(tmp_path, text))
    assert (found[2]["inserts"], found[2]["wet"]) == ([{"name": "Old Hall", "on": True}], 90.0)


def grid_of(path: Path) -> Grid:
    text, _ = decoded(path.read_bytes(), str(path))
    grids = [parted(text, sign, str(path)) for sign in DELIMITERS if sign in text]
    return max(grids, key=lambda one: heading_of(one, WORDS)[1])


def values(path: Path) -> dict[str, dict[str, Any]]:
    session = read(path)
    gone = {"sends": "unknown"} if "sends" in session.gaps else {}
    return {one["name"]: one | gone for one in summary(session)}


def lost(was: Any, now: Any, key: str) -> bool:
    """True where a value has become another one, and none that is not known."""
    if was == now or now == "unknown" or (was == "unknown" and key in ("kind", "wet")):
        return False
    if key == "sends":
        return len(now) < len(was)
    if key == "inserts" and was != "unknown":
        states = zip(was, now, strict=False)
        return len(now) < len(was) or any(two["on"] not in (one["on"], "unknown") for one, two in states)
    return True


@pytest.mark.parametrize("path", WRITTEN, ids=lambda path: path.stem)
def test_a_heading_that_nobody_knows_makes_no_wrong_value(tmp_path: Path, path: Path):
    """Each heading of each list in turn is made one that nobody knows: values become unknown, or stay."""
    grid = grid_of(path)
    at, _ = heading_of(grid, WORDS)
    known = values(path)
    for place, heading in enumerate(grid.rows[at].cells):
        if not heading.strip():
            continue
        out = io.StringIO()
        rows = [list(row.cells) for row in grid.rows]
        rows[at][place] = NONSENSE
        csv.writer(out).writerows(rows)
        try:
            found = values_of(tmp_path, out.getvalue())
        except MixlintError:
            continue  # without names it is no list
        for name, was in known.items():
            changed = [key for key in was if name in found and lost(was[key], found[name][key], key)]
            assert not changed, f"{heading}: {name} {[(was[key], found[name][key]) for key in changed]}"


def values_of(folder: Path, text: str) -> dict[str, dict[str, Any]]:
    path = folder / "song.csv"
    path.write_text(text, encoding="utf-8")
    return values(path)


# Marks in doubt


def test_crosses_in_every_row_of_a_switch_say_nothing(tmp_path: Path):
    text = "Channel,Out,Level,Solo\nHorn,Mix,-3,X\nBass,Mix,-6,X\nMix,,0,X\n"
    session = given(tmp_path, text)
    assert of(summary(session), "solo") == ["unknown"] * 3
    assert 'Every row of the column "Solo" has a cross, for yes or for no; it was not read.' in notes(session)


@pytest.mark.parametrize(
    ("cells", "wanted"),
    [
        ("MMSSM", ["unknown"] * 5),  # every row: mono and stereo
        ("MMSM-", ["unknown"] * 5),  # nearly every row: either
        ("M--S-", [True, "unknown", "unknown", False, "unknown"]),
        ("M----", [True, "unknown", "unknown", "unknown", "unknown"]),
        ("MMM2-", [True, True, True, True, "unknown"]),
    ],
)
def test_m_and_s_in_nearly_every_row_are_in_doubt(tmp_path: Path, cells: str, wanted: list[Any]):
    rows = "".join(f"C{n},Mix,-5,{one.replace('-', '').replace('2', 'M S')}\n" for n, one in enumerate(cells))
    session = given(tmp_path, f"Channel,Out,Level,M/S\n{rows}")
    assert of(summary(session), "mute") == wanted
    legs = [one.legs for one in session.channels if one.where]
    assert legs == ([1, 1, 2, 2, 1] if cells == "MMSSM" else [legs[0]] * 5)


@pytest.mark.parametrize(
    "text", ["dry 30 wet 70", "wet 70 dry 30", "30% dry 70% wet", "trocken 30 nass 70", "secco 30 bagnato 70"]
)
def test_dry_and_wet_at_once(text: str):
    assert share(text, WORDS) == 70.0
    for cell in (f"Old Hall {text}", f"Old Hall ({text})"):
        (one,) = inserts_in(cell, WORDS)
        assert (one.name, one.wet) == ("Old Hall", 70.0)
    with pytest.raises(Misread):
        share(text.replace("30", "40"), WORDS)


@pytest.mark.parametrize("mark", ["(muted)", "(mute)", "muted", "(off)", "(stumm)"])
def test_a_send_that_is_muted_is_off(tmp_path: Path, mark: str):
    text = f"Channel,Out,Level,Sends\nHorn,Mix,-3,Hall -12 post {mark}\nHall,Mix,-6,\nMix,,0,\n"
    (send,) = channel(given(tmp_path, text), "Horn").sends
    assert (send.to, send.level_db, send.on, send.tap) == ("hall", -12.0, False, "post")


@pytest.mark.parametrize("mark", "*?°†^!")
def test_a_mark_behind_a_processor_leaves_open_whether_it_is_on(mark: str):
    (one,) = inserts_in(f"Brook EQ{mark}", WORDS)
    assert (one.name, one.on) == ("Brook EQ", None)


@pytest.mark.parametrize("text", ["half drie", "halb drei", "halv tre", "half past two"])
def test_hours_in_words_are_no_pan(tmp_path: Path, text: str):
    lines = f"Pan: 7:00 = hard left; 5:00 = hard right\nChannel,Out,Level,Pan\nHorn,Mix,-3,{text}\nMix,,0,12:00\n"
    assert isinstance(channel(given(tmp_path, lines), "Horn").pan, Unknown)
