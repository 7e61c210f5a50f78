"""Lists of channels: what engineers of eight languages wrote blind, and every way to type a value.

What a cell means is what its writer says in ``lists/*.expected.json``; the forms of text files are RFC 4180 (commas and
quotation marks), Unicode 15 chapter 23.8 (byte order marks) and the Windows-1252 table of the WHATWG Encoding Standard.
"""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from mixlint.errors import BrokenFile, InputError, NotASession, RefusedFile
from mixlint.importers import read
from mixlint.importers.channel_list import cells
from mixlint.importers.channel_list.cells import Misread
from mixlint.importers.channel_list.chains import ChannelNames, inserts_in, sends_in
from mixlint.importers.channel_list.grid import address
from mixlint.naming.list_words import folded
from mixlint.naming.vocabulary import SHIPPED
from mixlint.session import Unknown
from tests.importers.list_sessions import DESK, LISTS, channel, given, notes, summary
from tests.importers.workbooks import spreadsheet, workbook

WORDS = SHIPPED.lists
WRITTEN = sorted(path for path in LISTS.iterdir() if path.suffix in (".csv", ".tsv", ".txt"))


@pytest.mark.parametrize("path", WRITTEN, ids=lambda path: path.stem)
def test_what_engineers_wrote_is_read_as_they_meant_it(path: Path):
    expected = json.loads(path.with_suffix(".expected.json").read_text(encoding="utf-8"))
    session = read(path)
    assert (session.title or None) == expected["title"]
    found = summary(session)
    assert [one["name"] for one in found] == [one["name"] for one in expected["channels"]]
    names = {one["name"] for one in found}
    for got, wanted in zip(found, expected["channels"], strict=True):
        for key, value in wanted.items():
            if key == "kind" and value == "unknown":
                continue  # no column says it; where outputs lead does
            if key == "output" and value not in names and value != "unknown":
                value = None  # sockets of the desk, or nowhere
            if key == "low_cut_hz" and value == 0 and "low_cut" not in str(got):
                continue
            if key == "low_cut_hz" and value == "unknown":
                value = got[key] if got[key] in (0.0, "unknown") else value
            if key == "pan" and isinstance(value, float | int):
                value = pytest.approx(value, abs=0.1)  # a figure of 0 to 127 rounded
            assert got[key] == value, f"{got['name']}: {key}"


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("07-bara-rubrik.tsv", ["row 1 is understood as the heading (Kanal, Typ", "no channel", "one row for each"]),
        ("08-wrong-delimiter.csv", ["row 1", "semicolons", "rows 2 to 5 by commas", "one sign all through"]),
    ],
)
def test_a_list_that_cannot_be_read_without_guessing_is_refused(name: str, said: list[str]):
    with pytest.raises(InputError) as caught:
        read(LISTS / "bad" / name)
    for part in said:
        assert part in str(caught.value)


@pytest.mark.parametrize(
    ("name", "said", "unknown"),
    [
        (
            "02-ausgang-ins-leere.csv",
            ['C2 (Ausgang): no channel of the list is called "Gitaren"; probably meant is "Gitarren"', "Schlagwerk"],
            {"Gitarre links": "output", "Pauke": "output"},
        ),
        (
            "03-loud.tsv",
            ['D4 (Niveau): "fort" is no level', "-2.5 dB, or -inf", 'D5 (Niveau): "-5 ou -6" is more than one number',
             'D6 (Niveau): "-80000" is no likely level', 'F6 (Coupé): "peut-être" is neither yes nor no'],
            {"Voix": "fader_db", "Basse": "fader_db", "Cloche": "mute"},
        ),
        (
            "04-formula.csv",
            ["D3 (Fader dB)", "is a formula", "D4 (Fader dB)", "an error of the spreadsheet", "D5 (Fader dB)",
             "is a date that the spreadsheet made of a number", "E6 (Pan %)"],
            {"Hi-Hat": "fader_db", "Ride": "fader_db", "Tom": "fader_db", "Crash": "pan"},
        ),
        (
            "05-too-long.csv",
            ['Row 4 ("Bass") has 7 cells where the heading has 6; only one reading', '"-4,5" in quotation marks',
             "Row 5 (Voice) has 8 cells where the heading has 6", "quotation marks"],
            {},
        ),
    ],
)  # fmt: skip
def test_cells_that_cannot_be_read_are_named_and_the_rest_is_read(name: str, said: list[str], unknown: dict[str, str]):
    session = read(LISTS / "bad" / name)
    for part in said:
        assert part in notes(session)
    for who, field in unknown.items():
        assert isinstance(getattr(channel(session, who), field), Unknown), who


def test_a_decimal_comma_between_cells_is_put_right():
    assert channel(read(LISTS / "bad" / "05-too-long.csv"), "Bass").fader_db == -4.5


def test_of_columns_that_do_not_agree_none_is_read_and_the_rest_is():
    session = read(LISTS / "bad" / "01-two-levels.csv")
    for part in ("D1 and F1", "Level", '"-6", "-8"', "Right would be another heading"):
        assert part in notes(session)
    assert all(isinstance(one.fader_db, Unknown) for one in session.channels if one.where)
    assert any(one.pan == 0.0 for one in session.channels)


def test_namesakes_are_kept_apart_and_what_leads_to_them_is_not_known():
    session = read(LISTS / "bad" / "06-dos-guitarras.csv")
    assert len(session.channels) == 8
    assert len({one.id for one in session.channels}) == 8
    assert 'Rows 6, 7 are 2 channels called "Cuerdas"' in notes(session)
    assert 'C2 (Salida): "Cuerdas" can be any of the channels in rows 6 and 7' in notes(session)
    assert all(isinstance(one.output, Unknown) for one in session.channels[:2])


def test_surplus_cells_behind_the_inserts_are_further_inserts():
    voice = channel(read(LISTS / "bad" / "05-too-long.csv"), "Voice")
    assert [insert.name for insert in voice.inserts] == ["Hushmill De-ess", "Torvik Comp", "Brimble EQ"]


def test_a_comment_may_begin_like_a_formula():
    session = read(LISTS / "bad" / "04-formula.csv")
    assert channel(session, "Drums").comment == "+++ check again +++"


# The form of the file


@pytest.mark.parametrize("code", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"])
@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_every_encoding_and_sign_between_cells_gives_the_same(tmp_path: Path, code: str, delimiter: str, end: str):
    text = DESK.replace("Guitar", "Gitarré").replace(",", delimiter).replace("\n", end)
    session = given(tmp_path, text.encode(code))
    assert [one.name for one in session.channels] == ["Gitarré L", "Gitarré R", "Plate", "Mix"]
    assert summary(session) == summary(given(tmp_path, DESK.replace("Guitar", "Gitarré").encode()))


@pytest.mark.parametrize("above", ["sep=,\n", "\n\n", "Recall of the mix\n,,\n", '"My song, take two",,,\n'])
def test_lines_above_the_heading_are_allowed(tmp_path: Path, above: str):
    assert len(given(tmp_path, above + DESK).channels) == 4


@pytest.mark.parametrize(
    ("line", "title"),
    [
        ("Title,Slate Harbour", "Slate Harbour"), ("Titel: Slate Harbour", "Slate Harbour"),
        ('"Mix of ""Slate Harbour"", May"', "Slate Harbour"), ("Slate Harbour - recall", "Slate Harbour"),
        ("All sends are post fader.", ""),
    ],
)  # fmt: skip
def test_the_title_stands_above(tmp_path: Path, line: str, title: str):
    assert given(tmp_path, f"{line}\n{DESK}").title == title


def test_lines_above_say_how_cells_are_meant(tmp_path: Path):
    text = "Song\nPan: 50 is hard over. Blank means no. All sends are pre fader.\nChannel,Pan,Mute,Send to Hall\n"
    session = given(tmp_path, f"{text}Voice,L25,,-6\nHall,C,x,\n")
    voice = channel(session, "Voice")
    assert (voice.pan, voice.mute) == (-50.0, False)
    assert [(send.to, send.level_db, send.tap) for send in voice.sends] == [("hall", -6.0, "pre")]
    assert channel(session, "Hall").mute is True


@pytest.mark.parametrize("number", ["1", "26", "27", "52", "702", "703"])
def test_cells_are_named_as_spreadsheets_do(number: str):
    # ECMA-376 part 1, 18.3.1.4: columns are A to Z, AA to ZZ, AAA …
    wanted = {"1": "A", "26": "Z", "27": "AA", "52": "AZ", "702": "ZZ", "703": "AAA"}[number]
    assert address(3, int(number) - 1) == f"{wanted}3"


# Values


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("-3,5", -3.5), ("−6 dB", -6.0), ("–6", -6.0), ("+1.5", 1.5), ("0", 0.0), ("0,0 dB", 0.0), ("-inf", -200.0),
        ("-∞", -200.0), ("−∞ dB", -200.0), ("unity", 0.0), ("-6dB", -6.0), ("- 6", -6.0), ("-200", -200.0),
        ("−12 дБ", -12.0), ("ganz unten", -200.0), ("ユニティ", 0.0),
    ],
)  # fmt: skip
def test_levels(text: str, wanted: float):
    assert cells.level(text, WORDS) == wanted


@pytest.mark.parametrize("text", ["loud", "-5 or -6", "-80000", "3000", "1.2.3", "=A1", "#REF!", "06. Mar", "-6 m"])
def test_no_levels(text: str):
    with pytest.raises(Misread):
        cells.level(text, WORDS)


@pytest.mark.parametrize(
    ("text", "scale", "wanted"),
    [
        ("L30", 100.0, -30.0), ("30L", 100.0, -30.0), ("R 100", 100.0, 100.0), ("C", None, 0.0), ("Mitte", None, 0.0),
        ("75 % links", None, -75.0), ("sin 48", 64.0, -75.0), ("des 32", 64.0, 50.0), ("65% w lewo", None, -65.0),
        ("左75", 100.0, -75.0), ("-30", 100.0, -30.0), ("+30", 100.0, 30.0), ("0", None, 0.0), ("I35", 50.0, -70.0),
        ("links", None, -100.0), ("hard right", None, 100.0), ("100 left", 100.0, -100.0), ("L 12,5", 50.0, -25.0),
        ("30 % rechts", 50.0, 30.0), ("中央", None, 0.0), ("-0.5", 1.0, -50.0),
    ],
)  # fmt: skip
def test_pans(text: str, scale: float | None, wanted: float):
    assert cells.pan(text, WORDS, scale) == wanted


@pytest.mark.parametrize(
    ("text", "scale"),
    [("L30", None), ("30", None), ("L30 R30", 100.0), ("L120", 100.0), ("left right", 100.0), ("up", 100.0),
     ("30 up", 100.0), ("=B2", 100.0)],
)  # fmt: skip
def test_no_pans(text: str, scale: float | None):
    with pytest.raises(Misread):
        cells.pan(text, WORDS, scale)


def test_a_scale_is_never_guessed_but_beyond_64(tmp_path: Path):
    """Nobody counts further than 64 to a side but those who count to 100: common practice, no source."""
    rows = "Channel,Pan\nA,L{}\nB,R20\n"
    assert isinstance(channel(given(tmp_path, rows.format(50)), "B").pan, Unknown)
    assert channel(given(tmp_path, rows.format(80)), "B").pan == 20.0
    assert channel(given(tmp_path, rows.replace("Pan", "Pan (50 = hard left)").format(50)), "A").pan == -100.0


YES = (
    "yes",
    "x",
    "X",
    "ja",
    "oui",
    "sí",
    "tak",
    "はい",
    "✓",
    "1",
    "true",
    "да",
    "ano",
    "kyllä",
    "evet",
    "ναι",
    "예",
    "是",
)
NO = ("no", "nein", "non", "nej", "nie", "いいえ", "-", "0", "false", "нет", "ne", "ei", "hayır", "όχι", "아니오", "否")


@pytest.mark.parametrize(("text", "wanted"), [*((one, True) for one in YES), *((one, False) for one in NO)])
def test_switches(text: str, wanted: bool):
    assert cells.switch(text, WORDS) is wanted


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("80", 80.0), ("80 Hz", 80.0), ("1,2 kHz", 1200.0), ("100Hz", 100.0), ("off", 0.0), ("aus", 0.0), ("なし", 0.0),
        ("–", 0.0), ("90 Hz 12 dB/oct", 90.0),
    ],
)  # fmt: skip
def test_low_cuts(text: str, wanted: float):
    assert cells.low_cut(text, WORDS)[0] == wanted


@pytest.mark.parametrize(
    ("text", "wanted"), [("95", 95.0), ("1:35", 95.0), ("0:01:35.5", 95.5), ("12,5 s", 12.5), ("0:00.000", 0.0)]
)
def test_times(text: str, wanted: float):
    assert cells.time_s(text) == wanted


@pytest.mark.parametrize("text", ["bar 5", "1:2:3:4", "-5", "1:xx", "soon"])
def test_no_times(text: str):
    with pytest.raises(Misread):
        cells.time_s(text)


CHANNELS = ChannelNames({"plate": 1, "hall 2": 1, "delay; long": 1, "大広間": 1})


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("Plate -12", [("Plate", -12.0, None, True)]),
        ("Plate -12,5; Hall 2 -18 pre", [("Plate", -12.5, None, True), ("Hall 2", -18.0, "pre", True)]),
        ("Plate: -12 dB post / Hall 2 −18", [("Plate", -12.0, "post", True), ("Hall 2", -18.0, None, True)]),
        ("plate -inf (off)", [("plate", -200.0, None, False)]),
        ("Delay; long -3 | Plate", [("Delay; long", -3.0, None, True), ("Plate", None, None, True)]),
        ("大広間 -13;Plate -6 プリ", [("大広間", -13.0, None, True), ("Plate", -6.0, "pre", True)]),
        ("none", []), ("–", []), ("aucun", []), ("Plte -12", [("Plte", -12.0, None, True)]),
        ("Plate -12, Hall 2 -18", [("Plate", -12.0, None, True), ("Hall 2", -18.0, None, True)]),
    ],
)  # fmt: skip
def test_sends_in_a_cell(text: str, wanted: list[tuple[str, float | None, str | None, bool]]):
    assert [(s.to, s.level_db, s.tap, s.on) for s in sends_in(text, WORDS, CHANNELS)] == wanted


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("Brook EQ", [("Brook EQ", "", True, None)]),
        ("1. Brook EQ; 2. Clay Comp (off)", [("Brook EQ", "", True, None), ("Clay Comp", "", False, None)]),
        ("Brook EQ > Clay (Kompressor) [aus]", [("Brook EQ", "", True, None), ("Clay (Kompressor)", "", False, None)]),
        ("Old Hall 100% wet", [("Old Hall", "", True, 100.0)]),
        ("Old Hall (reverb) (50 % wet)", [("Old Hall", "reverb", True, 50.0)]),
        ('"A; B (off)" (delay)', [("A; B (off)", "delay", True, None)]),
        ("EQ、Comp(オフ)", [("EQ", "", True, None), ("Comp", "", False, None)]),
        ("none", []), ("Limiter byp", [("Limiter", "", False, None)]),
    ],
)  # fmt: skip
def test_inserts_in_a_cell(text: str, wanted: list[tuple[str, str, bool, float | None]]):
    assert [(one.name, one.kind, one.on, one.wet) for one in inserts_in(text, WORDS)] == wanted


# What columns there are


def test_an_unknown_column_is_noted_and_not_lost(tmp_path: Path):
    session = given(tmp_path, "Channel,Level,Phantom power\nVoice,-3,yes\nBass,-6,\n")
    assert 'Columns whose headings are not known were not read: "Phantom power".' in notes(session)
    assert session.metadata == {"Voice: Phantom power": "yes"}


def test_a_column_that_is_not_there_is_a_gap(tmp_path: Path):
    session = given(tmp_path, "Channel,Output,Level\nVoice,Mix,-3\nBass,Mix,\nMix,,0\n")
    assert session.gaps == ("sends", "automation", "inserts", "clips", "pans", "mutes", "solos")
    voice, bass, mix = session.channels
    assert (voice.output, mix.kind) == ("mix", "master")
    assert isinstance(voice.pan, Unknown)
    assert "the list of channels shows no pans" in voice.pan.unknown
    assert isinstance(bass.fader_db, Unknown)
    assert "the cell C3 (Level) of the list is empty" in bass.fader_db.unknown


def test_figures_are_said_to_be_stated_by_a_person(tmp_path: Path):
    assert "a person put down" in notes(given(tmp_path, DESK))


def test_a_mix_bus_that_has_no_row_is_assumed_and_said(tmp_path: Path):
    session = given(tmp_path, "Channel,Output,Level\nVoice,Master,-3\nBass,Master,-6\n")
    assert session.channels[-1].kind == "master"
    assert 'No row of the list is "Master"' in notes(session)


def test_outputs_may_go_round(tmp_path: Path):
    session = given(tmp_path, "Channel,Kind,Output\nA,group,B\nB,group,A\nMix,master,\n")
    assert [one.output for one in session.channels[:2]] == ["b", "a"]


def test_two_columns_of_inserts_are_one_chain(tmp_path: Path):
    session = given(tmp_path, "Channel,Insert 1,Insert 2\nVoice,Brook EQ,Clay Comp\n")
    assert [one.name for one in session.channels[0].inserts] == ["Brook EQ", "Clay Comp"]


def test_a_house_adds_headings_and_words(tmp_path: Path):
    from mixlint.rulebook import load_standard

    (tmp_path / "our.words.toml").write_text("[heading.level]\nen = 'oomph'\n[cell.silence]\nen = 'asleep'\n")
    (tmp_path / "mixlint-standard.toml").write_text('name = "ours"\nwords = ["our.words.toml"]\n')
    path = tmp_path / "song.csv"
    path.write_text("Channel,Oomph,Pan\nVoice,-3,C\nBass,asleep,C\n")
    vocabulary = load_standard(None, path).house.vocabulary
    assert [one.fader_db for one in read(path, vocabulary).channels] == [-3.0, -200.0]


def test_every_language_of_the_words_has_every_heading():
    from mixlint.naming.word_files import shipped_file

    file = shipped_file("lists")
    codes = set(shipped_file("languages").sections["language"])
    for section in ("heading", "cell"):
        for concept, under in file.sections[section].items():
            assert set(under) == codes, f"{section}.{concept}"
            for text in under.values():
                assert all(folded(word) for word in text.split(","))


# Limits


@pytest.mark.parametrize(
    ("data", "error", "said"),
    [
        (b"", NotASession, "empty"),
        (b" \n \n", NotASession, "empty"),
        (b"Channel,Level,Pan\n", NotASession, "no channel stands below it"),
        (b"Fruit,Colour\nApple,red\n", NotASession, "no row of it is the heading"),
        (b"Channel,Level\nA,\x01\n", BrokenFile, "control character"),
        (b"Channel,Level\nA,\x81\xff\n", BrokenFile, "no text"),
        (b"Channel,Level\n" + b"A" * 140_000 + b",-3\n", BrokenFile, "cannot be told apart"),
        (b"Channel" + b"," * 2_000 + b"Level\nA\n", RefusedFile, "cells"),
    ],
)
def test_what_is_no_list_is_refused(tmp_path: Path, data: bytes, error: type[InputError], said: str):
    with pytest.raises(error) as caught:
        given(tmp_path, data)
    assert said in str(caught.value)


def test_a_hundred_thousand_channels_are_refused_at_once(tmp_path: Path):
    rows = "".join(f"Part {n},track,Mix,-{n % 60},C\n" for n in range(100_000))
    with pytest.raises(RefusedFile) as caught:
        given(tmp_path, f"Channel,Kind,Output,Level,Pan\n{rows}Mix,master,,0,C\n")
    assert "100001 rows under its heading" in str(caught.value)


def test_a_hundred_thousand_empty_rows_are_none(tmp_path: Path):
    assert len(given(tmp_path, DESK + ",,,,,,,,\n" * 100_000).channels) == 4


@pytest.mark.slow
def test_the_largest_list_is_read(tmp_path: Path):
    rows = "".join(f"Part {n},track,Mix,-{n % 60},Plate -{n % 40}\n" for n in range(5_000))
    session = given(tmp_path, f"Channel,Kind,Output,Level,Sends\n{rows}Plate,return,Mix,0,\nMix,master,,0,\n")
    assert len(session.channels) == 5_002


def test_more_rows_than_any_list_are_refused(tmp_path: Path):
    with pytest.raises(RefusedFile):
        given(tmp_path, "Channel,Level\n" + "A,-3\n" * 130_000)


def test_a_column_of_levels_leads_to_whom_its_heading_names(tmp_path: Path):
    session = given(tmp_path, "Channel,Output,Aux 1 (Hall),Aux 2\nVoice,Mix,-12,\nHall,Mix,,\nMix,,,-9\n")
    assert [(send.to, send.level_db) for send in channel(session, "Voice").sends] == [("hall", -12.0)]
    (astray,) = channel(session, "Mix").sends
    assert (isinstance(astray.to, Unknown), astray.level_db) == (True, -9.0)
    assert 'D1 (Aux 2): no channel of the list is called "aux 2" to send to' in notes(session)
    assert "used in rows 4" in notes(session)


@pytest.mark.parametrize(("make", "inner"), [(workbook, "xl/worksheets/sheet1.xml"), (spreadsheet, "content.xml")])
def test_a_workbook_whose_tags_are_not_closed_is_damaged(
    tmp_path: Path, make: Callable[[list[list[str]]], bytes], inner: str
) -> None:
    """The library would look for the end for ever."""
    whole = make([["Channel", "Level"], ["Voice", "-3"]])
    path, cut = tmp_path / "song.xlsx", io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(whole)) as old, zipfile.ZipFile(cut, "w") as new:
        for name in old.namelist():
            body = old.read(name)
            new.writestr(name, body[: len(body) // 2] if name == inner else body)
    path.write_bytes(cut.getvalue())
    with pytest.raises(BrokenFile, match="not well-formed") as told:
        read(path)
    assert (inner in told.value.where, bool(told.value.do)) == (True, True)
