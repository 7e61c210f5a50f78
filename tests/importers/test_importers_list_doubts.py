"""Lists of channels with faults and doubts: each is told with its cell, and nothing beside it is lost.

How broken letters come about is the table of Windows-1252 in the WHATWG Encoding Standard, applied to UTF-8 (RFC 3629).
"""

from __future__ import annotations

from pathlib import Path

import pytest

from mixlint.importers.channel_list import cells
from mixlint.importers.channel_list.cells import Misread
from mixlint.importers.channel_list.mending import mended
from mixlint.importers.channel_list.slots import slot_heading
from mixlint.naming.vocabulary import SHIPPED
from mixlint.session import Unknown
from tests.importers.list_sessions import channel, given, notes

WORDS = SHIPPED.lists


@pytest.mark.parametrize("text", ["Flöte", "Báječný hlas", "Гитара", "ギター", "Violão – «E»", "Größe"])
def test_letters_saved_wrongly_are_mended(text: str):
    cell = f"a {text} b"
    broken = "".join(
        chr(b) if b in (0x81, 0x8D, 0x8F, 0x90, 0x9D) else bytes([b]).decode("cp1252") for b in cell.encode()
    )
    assert mended(broken)[0] == cell
    assert "mended in line 1" in mended(broken)[1]
    assert mended(cell.encode().decode("latin-1"))[0] == cell


@pytest.mark.parametrize(
    "text", ["KŘÍŽ", "Spaß”, sagt er", "AMANHÃ E NÃO", "Él «É»", "Ångström", "naïve", "Größe – Maß…"]
)
def test_sound_letters_stay(text: str):
    assert mended(text) == (text, "")


def test_rows_that_are_no_channels_are_passed_over_and_said(tmp_path: Path):
    text = (
        "Mix list, page 1 of 2\nName,Kind,Goes to,Level\nFiddle,track,Mix,-6\n----,----,----,----\n\n"
        "Mix list, page 2 of 2\nName,Kind,Goes to,Level\n,track,Mix,-9\nMix,master,Out 1-2,0\nTotal: 2 channels\n"
    )
    session = given(tmp_path, text)
    assert [one.name for one in session.channels] == ["Fiddle", "Mix"]
    said = notes(session)
    for part in ("row 4 (a rule)", "row 6 (the title of a page)", "row 7 (the heading again)", "row 10 (a total)"):
        assert part in said
    assert "A8 (Name): row 8 names no channel and was left out (track, Mix, -9). Right would be a name." in said


def test_a_second_table_with_columns_of_its_own_is_read_as_well(tmp_path: Path):
    text = (
        "Channel,Kind,Output,Level\nFiddle,track,Mix,-6\nMix,master,Out 1-2,0\n\n"
        "Level,Channel,Kind,Mute,Output\n-9,Bass,track,yes,Mix\nloud,Horn,track,no,Mix\n"
    )
    session = given(tmp_path, text)
    bass = channel(session, "Bass")
    assert (bass.fader_db, bass.mute, bass.output) == (-9.0, True, "mix")
    assert 'A7 (Level): "loud" is no level' in notes(session)


def test_a_quotation_mark_that_is_never_closed_loses_no_channel(tmp_path: Path):
    session = given(tmp_path, 'Kanal;Art;Pegel\n"Pauke;Spur;-12\nGeige;Spur;-6\n"Horn; tief";Spur;-9\n')
    assert [one.name for one in session.channels] == ["Pauke", "Geige", "Horn; tief"]
    assert 'A2: a quotation mark before "Pauke" is never closed' in notes(session)


def test_impossible_ways_are_told(tmp_path: Path):
    text = (
        "Channel,Kind,Output,Sends\nFiddle,track,Strings,Hall -12 pre post\nVoice,track,Voice,\n"
        "Strings,group,Guitars,\nGuitars,group,Strings,\nHall,revurb,Mix,Hall -20\nMix,master,Out 1-2,\n"
    )
    session = given(tmp_path, text)
    said = notes(session)
    assert 'C4 (Output), C5 (Output): the outputs go round in a circle, "Strings" to "Guitars" to "Strings"' in said
    assert 'and what feeds it ("Fiddle") gets nowhere. Right would be one of them to "Mix"' in said
    assert 'C3 (Output): "Voice" puts out to itself' in said
    assert channel(session, "Voice").output == "voice"
    assert 'D6 (Sends): "Hall" sends to itself' in said
    assert '"revurb" is no kind of channel (did you mean "reverb", a return?)' in said
    assert 'D2 (Sends): "Hall -12 pre post" says pre and post at once' in said
    (send,) = channel(session, "Fiddle").sends
    assert (send.level_db, isinstance(send.tap, Unknown)) == (-12.0, True)


@pytest.mark.parametrize(
    ("heading", "key", "part"),
    [
        ("Envio 1 para", "1", "to"), ("Envio 1 dB", "1", "level"), ("Envio 1 pré?", "1", "tap"), ("Send A", "a", ""),
        ("Send A lvl", "a", "level"), ("Aux 1 →", "1", "to"), ("Odeslání 2 do", "2", "to"),
        ("센드 1 레벨", "1", "level"),
        ("センド1レベル", "1", "level"), ("Weg 1 Pegel", "1", "level"), ("Weg 1 vor Fader?", "1", "tap"),
        ("Посыл 1 уровень", "1", "level"), ("发送1 电平", "1", "level"), ("Lähetys 1 mihin", "1", "to"),
    ],
)  # fmt: skip
def test_headings_of_a_send_in_several_columns(heading: str, key: str, part: str):
    said = slot_heading(heading, WORDS)
    assert said is not None
    assert (said.key, said.part) == (key, part)


def test_columns_without_a_word_of_their_own_belong_to_the_send_before(tmp_path: Path):
    text = "Channel,Level,Send,dB,Pre?,Send,dB,Pre?\nVoice,-3,Hall,-12,yes,Room,-9,no\nHall,0,,,,,,\nRoom,0,,,,,,\n"
    sends = channel(given(tmp_path, text), "Voice").sends
    assert [(one.to, one.level_db, one.tap) for one in sends] == [("hall", -12.0, "pre"), ("room", -9.0, "post")]


@pytest.mark.parametrize(
    ("text", "wanted"),
    [("100 wet", 100.0), ("90% wet", 90.0), ("wet: 100", 100.0), ("20 % dry", 80.0), ("100 märkä", 100.0)],
)
def test_shares(text: str, wanted: float):
    assert cells.share(text, WORDS) == wanted


@pytest.mark.parametrize(
    ("text", "wanted"),
    [("左いっぱい", -100.0), ("左50", -50.0), ("V63", -63.0), ("täysin oikealla", 100.0), ("helt till höger", 100.0),
     ("왼쪽 75", -75.0), ("sağ 60", 60.0), ("Α 65", -65.0), ("<40", -40.0)],
)  # fmt: skip
def test_pans_in_further_wordings(text: str, wanted: float):
    assert cells.pan(text, WORDS, 100.0) == wanted


@pytest.mark.parametrize("text", ["slightly left", "half left", "etwas rechts"])
def test_how_far_is_never_guessed(text: str):
    with pytest.raises(Misread):
        cells.pan(text, WORDS, 100.0)


@pytest.mark.parametrize(("text", "wanted"), [("minus 6", -6.0), ("マイナス6", -6.0), ("▲6", -6.0), ("eksi 3,5", -3.5)])
def test_levels_with_a_minus_in_words(text: str, wanted: float):
    assert cells.level(text, WORDS) == wanted


def test_rings_and_crosses_are_read_by_what_stands_beside_them():
    assert cells.marks_of(["○", "×"], unspaced=True) == {"○": True, "×": False}
    assert cells.marks_of(["✓", "✗"], unspaced=False) == {"✗": False}
    assert cells.marks_of(["×"], unspaced=False) == {}
    with pytest.raises(Misread):
        cells.switch("×", WORDS, {})


def test_the_assumed_mix_bus_has_an_id_of_its_own(tmp_path: Path):
    """Whatever the rows are called, and however often."""
    session = given(tmp_path, "Channel,Type,Output\nMix Bus,Track,Sum\nMix Bus,Track,Sum\nMix Bus~2,Track,Sum\n")
    assert len({one.id for one in session.channels}) == 4
    assert [one.name for one in session.channels if one.kind == "master"] == ["Sum"]


def test_a_cell_longer_than_any_value_hides_its_row_and_a_long_comment_is_cut(tmp_path: Path):
    """What a cell looks like behind its thousandth character is not read, so that nothing in it counts as none."""
    chain = "; ".join(["Valley EQ"] * 200)
    session = given(tmp_path, f'Channel,Inserts,Comment\nLute,"{chain}",fine\nBass,Barn Press,{"la " * 700}\n')
    lute, bass = session.channels
    assert "cell B2 is longer" in lute.missing["inserts"].unknown
    assert isinstance(lute.fader_db, Unknown)
    assert [one.name for one in bass.inserts] == ["Barn Press"]
    assert len(bass.comment) <= 1_000
    assert "B2: only the first 1000 characters were read." in notes(session)
    assert "C3: only the first 1000 characters were read." in notes(session)
