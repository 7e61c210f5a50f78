"""Lists of channels: columns by where they stand, marks that remarks define, and rows whose cells are shifted.

That 64 is the middle of 0 to 127 is how MIDI 1.0 counts pan (controller 10); the rest is common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from mixlint.importers import read
from mixlint.importers.channel_list import cells, dials, slots
from mixlint.importers.channel_list.cells import Misread
from mixlint.importers.channel_list.chains import InsertMarks, insert_marks, inserts_in, opened
from mixlint.importers.channel_list.dials import Dial, PanScale
from mixlint.naming.vocabulary import SHIPPED
from mixlint.session import Channel, Unknown
from tests.importers.list_sessions import LISTS, channel, given, notes, summary

WORDS = SHIPPED.lists
BELOW = "Hall,Mix,0,,,,,,\nRoom,Mix,0,,,,,,\nMix,,0,,,,,,\n"


def states(one: Channel) -> list[tuple[str, bool | None]]:
    """The inserts of a channel and whether they are on, None for not known."""
    return [(i.name, None if isinstance(i.on, Unknown) else i.on) for i in one.inserts]


# Columns by where they stand


@pytest.mark.parametrize(
    "heading",
    [
        "Channel,Out,Fader,Send 1,Level,P/P,Send 2,Level,P/P",
        "Channel,Out,Fader,First send goes to,First send level,First send tap,Second send to,Second send level,Tap",
        "Kanal,Ausgang,Pegel,Erster Send,Pegel,vor/nach,Zweiter Send,Pegel,vor/nach",
        "Voie,Sortie,Niveau,Départ 1,Niv. 1,avant/après,Départ 2,Niv. 2,avant/après",
        "Channel,Out,Fader,Krempel,Level,Pre/post,Zeug,Level,Pre/post",
    ],
)
def test_a_level_right_of_a_send_is_that_of_the_send(tmp_path: Path, heading: str):
    session = given(tmp_path, f"{heading}\nVoice,Mix,-3,Hall,-12,pre,Room,-9,post\n{BELOW}")
    voice = channel(session, "Voice")
    assert voice.fader_db == -3.0
    assert [(one.to, one.level_db, one.tap) for one in voice.sends] == [("hall", -12.0, "pre"), ("room", -9.0, "post")]


def test_of_two_sends_and_then_two_levels_the_number_decides(tmp_path: Path):
    text = "Channel,Out,Send 1,Send 2,Level 1,Level 2,Level\nVoice,Mix,Hall,Room,-12,-9,-3\nHall,Mix\nRoom,Mix\nMix,,\n"
    voice = channel(given(tmp_path, text), "Voice")
    assert (voice.fader_db, [one.level_db for one in voice.sends]) == (-3.0, [-12.0, -9.0])


@pytest.mark.parametrize(
    ("on", "cells_of", "wanted"),
    [
        ("zap.", ("1", "0"), [True, False]),
        ("on", ("x", ""), [True, None]),
        ("Byp", ("no", "yes"), [True, False]),
        ("Bypass", ("", "x"), [None, False]),
        ("Zustand", ("an", "aus"), [True, False]),
        ("Zustand", ("ja", "nein"), [None, None]),
        ("en service", ("oui", "non"), [True, False]),
    ],
)
def test_a_switch_right_of_an_insert_is_its_own(
    tmp_path: Path, on: str, cells_of: tuple[str, str], wanted: list[bool | None]
):
    one, other = cells_of
    text = (
        f"Channel,Out,Level,Mute,Insert 1,{on},Insert 2,{on}\nVoice,Mix,-3,no,Torvik Comp,{one},Brimble EQ,{other}\n"
        "Mix,,0,no,,,,\n"
    )
    voice = channel(given(tmp_path, text), "Voice")
    assert states(voice) == list(zip(("Torvik Comp", "Brimble EQ"), wanted, strict=True))
    assert voice.mute is False


def test_a_switch_column_without_a_cell_leaves_the_insert_in_doubt(tmp_path: Path):
    text = "Channel,Out,Level,Insert,Byp\nVoice,Mix,-3,Torvik Comp,\nMix,,0,,\n"
    session = given(tmp_path, text)
    assert states(channel(session, "Voice")) == [("Torvik Comp", None)]
    assert 'Whether "Torvik Comp" are on is not told (rows 2)' in notes(session)


def test_a_share_right_of_an_insert_is_its_own(tmp_path: Path):
    text = "Channel,Out,Level,Insert 1,Mix 1,Insert 2,Mix 2\nVoice,Mix,-3,Torvik Comp,50 %,Old Plate,90 %\nMix,,0,,,,\n"
    assert [one.wet for one in channel(given(tmp_path, text), "Voice").inserts] == [50.0, 90.0]


def test_a_switch_right_of_a_send_is_that_of_the_send(tmp_path: Path):
    text = (
        "Channel,Out,Fader,Send A to,Level A,On,Send B to,Level B,On\nVoice,Mix,-3,Hall,-12,yes,Room,-9,no\n"
        f"Bass,Mix,-3,Hall,-12,,,,\n{BELOW}"
    )
    session = given(tmp_path, text)
    assert [(one.to, one.level_db, one.on) for one in channel(session, "Voice").sends] == [
        ("hall", -12.0, True), ("room", -9.0, False),
    ]  # fmt: skip
    assert isinstance(channel(session, "Bass").sends[0].on, Unknown)


def test_one_column_for_mute_and_solo(tmp_path: Path):
    text = "ch,name,to,fdr,M/S\n1,A,LR,-5,M\n2,B,LR,-5,S\n3,C,LR,-5,MS\n4,D,LR,-5,\nMAIN,LR,,0,\n"
    session = given(tmp_path, f"M/S blank = open\n{text}")
    assert [(one.mute, one.solo) for one in session.channels] == [
        (True, False), (False, True), (True, True), (False, False), (False, False),
    ]  # fmt: skip
    assert isinstance(channel(given(tmp_path, text), "D").mute, Unknown)
    assert [one.kind for one in session.channels] == ["track"] * 4 + ["master"]


# Columns that nobody knows


def test_inserts_are_told_by_their_cells_where_these_are_sure(tmp_path: Path):
    text = "Channel,Out,Level,Krempel\nA,Mix,-5,Torvik Comp > Brimble EQ\nB,Mix,-5,Brimble EQ\nMix,,0,Lid Limiter\n"
    session = given(tmp_path, text)
    assert [one.name for one in channel(session, "A").inserts] == ["Torvik Comp", "Brimble EQ"]
    assert 'D1: the heading "Krempel" is not known; by its cells the column was taken for inserts' in notes(session)


def test_an_unread_column_makes_no_channel_one_without_inserts(tmp_path: Path):
    session = given(tmp_path, "Channel,Out,Level,Zeug\nA,Mix,-5,Brummel & Söhne\nMix,,0,rot\n")
    assert [one["inserts"] for one in summary(session)] == ["unknown", "unknown"]
    assert "inserts" in session.gaps
    assert 'not read: "Zeug". They were kept beside the channels. Whether they show inserts is not known.' in notes(
        session
    )


def test_a_column_among_those_of_sends_is_one_though_its_channel_has_no_row(tmp_path: Path):
    text = "p = pre else post\nname,to,fdr,Hall,Cue 1\nA,LR,-5,-12,-8p\nHall,LR,0,,\nLR,,0,,\n"
    first, second = channel(given(tmp_path, text), "A").sends
    assert (first.to, first.level_db, first.tap) == ("hall", -12.0, "post")
    assert (isinstance(second.to, Unknown), second.level_db, second.tap) == (True, -8.0, "pre")


# Pans


@pytest.mark.parametrize(
    ("text", "hour"),
    [("12 o'clock", 0.0), ("10:30", -1.5), ("14 Uhr", 2.0), ("3 Uhr", 3.0), ("7 o'clock", -5.0), ("kello 9", -3.0)],
)
def test_hours_of_a_dial(text: str, hour: float):
    assert dials.hour_of(text, WORDS) == hour
    dial = Dial(-5.0, 5.0)
    assert dials.position(text, WORDS, PanScale(dial=dial, clock=True)) == pytest.approx(20.0 * hour)
    if hour:
        with pytest.raises(Misread):
            dials.position(text, WORDS, PanScale(100.0, clock=True))


@pytest.mark.parametrize("text", ["L30", "30", "-30", "C", "100 %", "25:30:10", "9 links"])
def test_what_is_no_hour(text: str):
    assert dials.hour_of(text, WORDS) is None


@pytest.mark.parametrize(
    ("line", "ends"),
    [
        ("7 o'clock is hard left, 12 the middle, 5 o'clock hard right", (-5.0, 5.0)),
        ("Potards: 7 h = à gauche, 17 h = à droite", (-5.0, 5.0)),
        ("8 Uhr ganz links; 16 Uhr ganz rechts", (-4.0, 4.0)),
        ("pan pots run from 7 o'clock to 5 o'clock", (-5.0, 5.0)),
    ],
)
def test_the_ends_of_a_dial(line: str, ends: tuple[float, float]):
    assert dials.dial_of(line, WORDS) == Dial(*ends)


@pytest.mark.parametrize(
    ("heading", "wanted"),
    [
        ("Pan (0–127)", [-100.0, 0.0, 100.0]),
        ("Pan 0..127", [-100.0, 0.0, 100.0]),
        ("Pan 0 to 127", [-100.0, 0.0, 100.0]),
        ("Pan", [None, None, None]),
    ],
)
def test_numbers_from_0_have_their_middle_in_the_middle(tmp_path: Path, heading: str, wanted: list[float | None]):
    session = given(tmp_path, f"Channel;Out;Level;{heading}\nA;Mix;-5;0\nB;Mix;-5;64\nC;Mix;-5;127\nMix;;0;64\n")
    found = [None if isinstance(one.pan, Unknown) else one.pan for one in session.channels[:3]]
    assert found == wanted or (wanted[1] is None and found[1:] == wanted[1:])


def test_a_number_without_side_among_others_with_one_is_in_doubt(tmp_path: Path):
    text = "Channel;Out;Level;Pan %\nA;Mix;-5;L50\nB;Mix;-5;R50\nC;Mix;-5;96\nMix;;0;C\n"
    session = given(tmp_path, text)
    assert [one.pan for one in session.channels[:2]] == [-50.0, 50.0]
    assert isinstance(channel(session, "C").pan, Unknown)


# Marks


@pytest.mark.parametrize(
    ("line", "cell", "wanted"),
    [
        ("", "(Torvik Comp)", None),
        ("in brackets = off", "(Torvik Comp)", False),
        ("entre paréntesis = apagado", "(Torvik Comp)", False),
        ("(…) = aus", "(Torvik Comp)", False),
        ("✓ = en service; ✗ = hors service", "✗ Torvik Comp", False),
        ("✓ = en service; ✗ = hors service", "✓ Torvik Comp", True),
        ("", "✓ Torvik Comp", True),
        ("", "✗ Torvik Comp", None),
        ("* = bypassed", "Torvik Comp*", False),
        ("", "Torvik Comp*", None),
        ("", "Torvik Comp?", None),
        ("", "~Torvik Comp~", None),
        ("", "x Torvik Comp", None),
        ("", "Torvik Comp (byp)", False),
        ("", "Torvik Comp [aus]", False),
        ("", "Torvik Comp (desl.)", False),
        ("", "Torvik Comp (pois)", False),
        ("", "Torvik Comp (vyp.)", False),
        ("", "(off) Torvik Comp", False),
        ("", "aus: Torvik Comp", False),
    ],
)
def test_marks_of_inserts(tmp_path: Path, line: str, cell: str, wanted: bool | None):
    text = f"{line}\nChannel;Out;Level;Inserts\nVoice;Mix;-3;{cell}\nMix;;0;\n"
    assert states(channel(given(tmp_path, text), "Voice")) == [("Torvik Comp", wanted)]


def test_a_word_in_brackets_that_nobody_knows_may_be_a_state():
    assert [one.on for one in inserts_in("Comp (zzz); Comp (Mid); Comp (b)", WORDS)] == [None, True, None]
    marks = insert_marks(["✓ A", "✗ B", "● C"], {}, brackets=None)
    assert [one.on for one in inserts_in("✗ B; ● C", WORDS, marks)] == [False, None]
    assert [one.on for one in inserts_in("Comp (zzz)", WORDS, InsertMarks({"zzz": False}))] == [False]


def test_a_sign_without_spaces_parts_inserts_only_where_it_is_sure():
    assert opened(["Gate+Comp", "Comp", "Gate"]) == "+"
    assert opened(["Rock&Roll Drive", "Comp"]) == ""
    assert opened(["Gate+Comp; EQ", "Comp"]) == ""


@pytest.mark.parametrize(
    ("line", "taps"),
    [
        ("p = pre else post", ["pre", "post"]),
        ("Sends post fader / p = pre", ["pre", "post"]),
        ("p = vor dem Fader", ["pre", None]),
        ("Sends: p = vor dem Fader; sonst danach Sends", ["pre", "post"]),
    ],
)
def test_lines_say_where_sends_are_taken(tmp_path: Path, line: str, taps: list[str | None]):
    text = f"{line}\nChannel;Out;Level;Send Hall;Send Room\nA;Mix;-5;-8p;-9\nHall;Mix;0;;\nRoom;Mix;0;;\nMix;;0;;\n"
    found = [None if isinstance(one.tap, Unknown) else one.tap for one in channel(given(tmp_path, text), "A").sends]
    assert found == taps


def test_a_remark_below_the_table_counts_and_is_no_channel(tmp_path: Path):
    text = (
        "Channel;Out;Level;Mute;Pan\nA;Mix;-5;●;C\nMix;Out 1/2;0;○;C\nNB: ● = yes, ○ = no\n\nSheet of 3 May, for Ann\n"
    )
    session = given(tmp_path, text)
    assert [(one.name, one.mute) for one in session.channels] == [("A", True), ("Mix", False)]


def test_titles_of_parts_tell_kinds(tmp_path: Path):
    text = (
        "Track;Out;Level;Mute;Pan\nTRACKS\nKick;Drums;-5;no;C\nSpare;Mix;-5;no;C\nGROUPS\nDrums;Mix;0;no;C\n"
        "RETURNS\nHall;Mix;0;no;C\nMAIN\nMix;Out 1/2;0;no;C\n"
    )
    session = given(tmp_path, text)
    assert [(one.name, one.kind) for one in session.channels] == [
        ("Kick", "track"), ("Spare", "track"), ("Drums", "group"), ("Hall", "return"), ("Mix", "master"),
    ]  # fmt: skip
    assert "row 2 (the title of a part)" in notes(session)


# Cells


@pytest.mark.parametrize(
    ("text", "heading", "wanted"),
    [
        ("40/60", "trocken/nass", 60.0), ("40/60", "Wet/Dry", 40.0), ("70% effect, 30% dry", "Balance", 70.0),
        ("all effect", "Effect/dry", 100.0), ("fully dry", "Mix", 0.0), ("0,75", "Podíl efektu (0–1)", 75.0),
        ("1", "Wet 0..1", 100.0),
    ],
)  # fmt: skip
def test_shares_by_their_heading(text: str, heading: str, wanted: float):
    assert cells.share(text, WORDS, heading) == wanted


@pytest.mark.parametrize(("text", "heading"), [("40/60", "Mix"), ("40/70", "dry/wet"), ("0,75", "Wet"), ("2", "0-1")])
def test_shares_in_doubt(text: str, heading: str):
    with pytest.raises(Misread):
        cells.share(text, WORDS, heading)


@pytest.mark.parametrize(
    ("text", "wanted"), [("in, 80 Hz", 80.0), ("out", 0.0), ("off (80 Hz)", 0.0), ("an 80", 80.0), ("0,09 kHz", 90.0)]
)
def test_low_cuts_with_their_switch(text: str, wanted: float):
    assert cells.low_cut(text, WORDS)[0] == wanted


@pytest.mark.parametrize(
    "text", ["#REF!", "#¡REF!", "#¿NOMBRE?", "#N/D", "#BEZUG!", "#ДЕЛ/0!", "#####", "6-Mar", "06. Mär"]
)
def test_what_a_spreadsheet_made_is_no_value(text: str):
    with pytest.raises(Misread) as caught:
        cells.level(text, WORDS)
    assert "spreadsheet" in caught.value.what


@pytest.mark.parametrize("text", ["1. Marl Gate; 2. Heft Compressor", "1. Mar Verb", "2. Decker"])
def test_a_numbered_insert_is_no_date(text: str):
    assert inserts_in(text, WORDS)


def test_two_outputs_in_a_cell_are_told(tmp_path: Path):
    session = given(tmp_path, "Channel,Out,Level\nA,Drums and Mix,-5\nDrums,Mix,0\nMix,Out 1/2,0\n")
    assert isinstance(channel(session, "A").output, Unknown)
    assert 'B2 (Out): "Drums and Mix" is 2 outputs' in notes(session)
    assert channel(session, "Drums").kind == "group"


# Rows that are shifted


def test_rows_with_a_cell_too_many_are_put_right_where_one_way_fits():
    session = read(LISTS / "bad" / "09-hollow-lane.csv")
    said = notes(session)
    assert 'Row 3 ("Snare, top") has 13 cells where the heading has 12; only one reading makes all of them fit' in said
    assert 'Right would be "-9,5" in quotation marks' in said
    snare, harmony = channel(session, "Snare, top"), channel(session, "Harmony")
    assert (snare.kind, snare.output, snare.fader_db, snare.pan, snare.mute) == ("track", "drums", -7.0, 0.0, False)
    assert (harmony.fader_db, harmony.mute, [one.name for one in harmony.inserts]) == (-9.5, False, ["Low cut"])


def test_a_table_below_is_read_by_its_own_heading():
    session = read(LISTS / "bad" / "10-kieselufer.csv")
    assert len(session.channels) == 9
    hall = channel(session, "Hof L")
    assert (hall.fader_db, hall.output, hall.kind, hall.inserts[-1].wet) == (-9.0, "mix", "return", 100.0)
    assert channel(session, "Mix").kind == "master"


def test_merged_cells_and_errors_of_spreadsheets_are_told():
    session = read(LISTS / "bad" / "11-puente-de-cana.csv")
    assert len(session.channels) == 10
    said = notes(session)
    for part in (
        "A2 (Tipo): rows 4, 5, 6, 7, 8, 9 are empty below filled cells, as merged cells are saved",
        "C2 (Salida): rows 4, 5, 7, 8, 9, 11 are empty",
        'D5 (Volumen): "#¡REF!" is an error of the spreadsheet',
        'E11 (Paneo): "#####" is what a spreadsheet shows where a column is too narrow',
        "row 13 (a total)",
    ):
        assert part in said
    assert isinstance(channel(session, "Tarola").output, Unknown)


def test_rows_one_column_off_are_put_right_or_hidden():
    session = read(LISTS / "bad" / "12-colonnes-decalees.csv")
    aerials, organ = channel(session, "Aériens"), channel(session, "Orgue")
    assert (aerials.output, aerials.fader_db, aerials.mute, aerials.pan) == ("batterie", -10.0, False, 0.0)
    for value in (organ.output, organ.fader_db, organ.pan, organ.mute, organ.solo, organ.kind):
        assert isinstance(value, Unknown)
    assert [isinstance(one.to, Unknown) for one in organ.sends] == [True]
    assert "inserts" in organ.missing
    assert 'Row 8 ("Orgue")' in notes(session)


@pytest.mark.parametrize(
    ("row", "level"),
    [("Kick;Drums;-5;C;no", -5.0), ("Kick;;track;Drums;-5;C;no", -5.0), ("Kick;noise;Drums;loud;C;maybe", None)],
)
def test_a_row_is_shifted_where_its_cells_fit_the_columns_beside(tmp_path: Path, row: str, level: float | None):
    heading = "Channel;Type;Out;Level;Pan %;Mute\n"
    text = f"{heading}{row}\nDrums;group;Mix;0;C;no\nTom;track;Drums;0;C;no\nMix;master;;0;C;no\n"
    kick = channel(given(tmp_path, text), "Kick")
    assert (kick.output, kick.pan) == ("drums", 0.0)
    assert isinstance(kick.fader_db, Unknown) if level is None else kick.fader_db == level


def test_a_row_of_question_marks_is_not_shifted(tmp_path: Path):
    heading = "Channel,Kind,Out,Level,Pan %,Mute,Solo\n"
    session = given(tmp_path, f"{heading}A,track,Mix,?,?,?,?\nB,track,Mix,-5,C,no,no\nMix,master,Out,0,C,no,no\n")
    assert channel(session, "A").output == "mix"
    assert "cell were missing" not in notes(session)


def test_a_channel_of_signs_alone_has_no_column_of_its_own() -> None:
    """Its name folds to nothing, which stands in every heading."""
    assert not slots.asks_for_tap("Pre?", "", WORDS)
    assert slots.asks_for_tap("Hall pre?", "hall", WORDS)


def test_a_column_that_asks_for_the_tap_is_no_send_where_all_say_no(tmp_path: Path) -> None:
    """Between two columns of sends, and without a level in it."""
    session = given(
        tmp_path,
        "Kanaalnaam;Uitgang naar;Fader;Pan;Naar Zaal;Zaal voor fader?;Naar Kamer;Kamer voor fader?\n"
        "Stem;Mix;-3;0;-12;nee;-18;ja\nBas;Mix;-5;0;-20;nee;;\nZaal;Mix;-6;0;;;;\nKamer;Mix;-8;0;;;;\n",
    )
    assert [(send.to, send.tap) for send in channel(session, "Stem").sends] == [("zaal", "post"), ("kamer", "pre")]
    assert [(send.to, send.tap) for send in channel(session, "Bas").sends] == [("zaal", "post")]
