"""A list that mixlint writes is read again as it was, runs in no spreadsheet, and damage to one is told.

What a spreadsheet runs is what OWASP, "CSV Injection", names: cells that begin with = + - @, a tab or carriage return.
"""

from __future__ import annotations

import csv
import io
import random
import wave
from itertools import combinations
from pathlib import Path

import pytest
from hypothesis import given as over
from hypothesis import settings
from hypothesis import strategies as st
from typer.testing import CliRunner

from mixlint.analysis.context import SessionContext
from mixlint.cli.app import app
from mixlint.errors import BrokenFile, MixlintError
from mixlint.importers import discover, read
from mixlint.reports.channel_list import list_text
from mixlint.review.engine import review
from mixlint.rulebook.standard import load_standard
from mixlint.session import Channel, Clip, Insert, MediaFile, Send, Session, Unknown
from tests.importers.list_sessions import DESK, LISTS, channel, given, notes
from tests.importers.workbooks import spreadsheet, workbook

EXAMPLES = Path(__file__).resolve().parents[2] / "example_sessions"
NAMES = (
    "Kick",
    "Gtr; L",
    "Vox, lead",
    "=SUM(A1)",
    "+1",
    "-16 dB pad",
    "@home",
    "'quoted",
    "Raum / hinten",
    "大広間",
    "808",
)


def held(session: Session) -> list[dict[str, object]]:
    """What a list can hold of a session, by names in place of ids."""
    names = {one.id: " ".join(one.name.split()) for one in session.channels}
    paths = {media.id: media.path for media in session.media}
    return [_held(one, names, paths) for one in session.channels]


def _bare(value: object) -> object:
    """A value, or None for one that is not known, whatever the reason."""
    return None if isinstance(value, Unknown) else value


def _held(one: Channel, names: dict[str, str], paths: dict[str, str]) -> dict[str, object]:
    clips = [clip for clip in one.clips if clip.on is not False]
    return {
        "name": names[one.id],
        "kind": one.kind,
        "output": names.get(one.output, "") if isinstance(one.output, str) else one.output,
        "controls": [_bare(value) for value in (one.fader_db, one.pan, one.mute, one.solo)],
        "sends": [(names.get(str(s.to)), _bare(s.level_db), s.tap, s.on) for s in one.sends],
        "inserts": [(i.name, i.kind, i.on, i.wet if i.kind in ("reverb", "delay") else None) for i in one.inserts],
        "files": sorted({paths[clip.file] for clip in clips if clip.file is not None}),
        "from": round(min((clip.start_s for clip in clips), default=-1.0), 3),
        "to": round(max((clip.end_s for clip in clips), default=-1.0), 3),
        "comment": one.comment,
        "legs": one.legs if isinstance(one.legs, int) else None,
    }


@pytest.mark.parametrize("form", ["csv", "tsv"])
@pytest.mark.parametrize("name", ["sixpenny-weathervane", "sixpenny-weathervane-flawed"])
def test_what_a_list_holds_of_the_example_comes_back(tmp_path: Path, name: str, form: str):
    session = read(EXAMPLES / f"{name}.session.json")
    again = given(tmp_path, list_text(session, form), f"song.{form}")
    assert held(again) == held(session)
    assert again.title == session.title
    assert list_text(again, form) == list_text(session, form)


@pytest.mark.parametrize("path", sorted(LISTS.glob("0*.*sv")), ids=lambda path: path.stem)
def test_a_list_written_from_a_list_says_the_same(tmp_path: Path, path: Path):
    text = list_text(read(path), "csv")
    assert list_text(given(tmp_path, text), "csv") == text


LEVELS = st.one_of(st.floats(-150, 12).map(lambda v: round(v, 2)), st.just(-200.0), st.just(Unknown(unknown="hidden")))
PANS = st.one_of(st.floats(-100, 100).map(lambda v: round(v, 1)), st.just(0.0))
SWITCHES = st.booleans()


@st.composite
def desks(draw: st.DrawFn) -> Session:
    """A desk with names that are hard to write, and values of every kind."""
    names = draw(st.lists(st.sampled_from(NAMES), min_size=1, max_size=6, unique=True))
    places = [f"c{n}" for n in range(len(names))]
    channels = []
    for one, name in zip(places, names, strict=True):
        sends = tuple(
            Send(to=to, level_db=draw(LEVELS), tap=draw(st.sampled_from(["pre", "post"])), on=draw(SWITCHES))
            for to in draw(st.lists(st.sampled_from(places), max_size=2, unique=True))
        )
        kinds = st.sampled_from(["reverb", "equalizer", "compressor"])
        inserts = tuple(
            Insert(name=name, kind=draw(kinds), wet=draw(st.sampled_from([100.0, 30.0])), on=draw(SWITCHES))
            for name in draw(st.lists(st.sampled_from([*NAMES, "Hall 50% wet", "EQ (off)", "2. Comp"]), max_size=3))
        )
        start = draw(st.integers(0, 200))
        clips = (Clip(start_s=start, end_s=start + draw(st.integers(1, 99)), file="f"),) if draw(SWITCHES) else ()
        channels.append(
            Channel(
                id=one, name=name, kind=draw(st.sampled_from(["track", "group", "return", "master"])),
                fader_db=draw(LEVELS), pan=draw(PANS), mute=draw(SWITCHES), solo=draw(SWITCHES),
                output=draw(st.one_of(st.none(), st.sampled_from(places))), sends=sends, inserts=inserts, clips=clips,
                comment=draw(st.sampled_from(["", "=1+1", "- quiet -", "loud, then soft"])),
            )
        )  # fmt: skip
    return Session(title="Slate", channels=tuple(channels), media=(MediaFile(id="f", path="take 1.wav"),))


@settings(max_examples=150, deadline=None)
@over(desks())
def test_any_desk_comes_back(session: Session):
    from tempfile import TemporaryDirectory

    for form in ("csv", "tsv"):
        with TemporaryDirectory() as folder:
            again = given(Path(folder), list_text(session, form), f"song.{form}")
        for was, now in zip(held(session), held(again), strict=True):
            if was["kind"] == "master" and was["output"] is not None:
                del was["output"], now["output"]  # a mix bus goes out of the desk
            if not any(clip for one in session.channels for clip in one.clips):
                del was["files"], now["files"]
            assert now == was


@settings(max_examples=60, deadline=None)
@over(desks(), st.sampled_from(["csv", "tsv"]))
def test_no_cell_runs_in_a_spreadsheet(session: Session, form: str):
    rows = csv.reader(io.StringIO(list_text(session, form)), delimiter={"csv": ",", "tsv": "\t"}[form])
    for row in rows:
        for cell in row:
            number = cell.lstrip("+-").replace(".", "").isdigit() or cell == "-inf"
            assert number or not cell.startswith(("=", "+", "-", "@", "\t", "\r")), cell


def test_what_a_session_does_not_show_has_no_column_and_stays_a_gap(tmp_path: Path):
    session = given(tmp_path, "Channel,Output,Level\nVoice,Mix,-3\nMix,,0\n")
    text = list_text(session, "csv")
    assert text.splitlines()[0] == "Channel,Kind,Output,Fader (dB),Width,Comment"
    assert given(tmp_path, text).gaps == session.gaps


# Damage


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(12))
def test_damaged_lists_are_read_or_refused(tmp_path: Path, seed: int):
    """Cut short, bytes turned over, parts doubled: a session or a clear refusal comes out, quickly."""
    draw = random.Random(seed)
    sources = [path.read_bytes() for path in sorted(LISTS.rglob("0*.*")) if path.suffix in (".csv", ".tsv", ".txt")]
    sources.append(workbook([line.split(",") for line in DESK.splitlines()]))
    said: list[str] = []
    for _ in range(60):
        data = bytearray(draw.choice(sources))
        for _ in range(draw.randint(1, 6)):
            at = draw.randrange(max(1, len(data)))
            if (how := draw.randrange(4)) == 0:
                del data[at:]
            elif how == 1 and data:
                data[at % len(data)] ^= 1 << draw.randrange(8)
            elif how == 2:
                data[at:at] = data[at : at + draw.randint(1, 80)]
            else:
                data[at:at] = draw.choice([b'"', b"\n", b"\0", b",", b";", b"=1", b"\xff", b"\t"])
        name = "song.xlsx" if data[:2] == b"PK" else "song.csv"
        try:
            given(tmp_path, bytes(data), name)
        except MixlintError as refusal:
            said.append(refusal.do)
    assert all(said)


# Workbooks


ROWS = [line.split(",") for line in DESK.splitlines()]


@pytest.mark.parametrize("name", ["song.xlsx", "song.ods"])
def test_a_workbook_is_read_as_its_text(tmp_path: Path, name: str):
    pytest.importorskip("python_calamine")
    data = workbook(ROWS) if name.endswith("xlsx") else spreadsheet(ROWS)
    assert held(given(tmp_path, data, name)) == held(given(tmp_path, DESK))


def test_formulas_of_a_workbook_count_by_their_stored_results(tmp_path: Path):
    pytest.importorskip("python_calamine")
    rows = [["Channel", "Level", "Pan"], ["Voice", "=B3-4|-10", "C"], ["Bass", "-6", "C"]]
    session = given(tmp_path, workbook(rows, ("Old",)), "song.xlsx")
    assert channel(session, "Voice").fader_db == -10.0
    assert "Formulas were taken by the results" in notes(session)
    assert "The sheet Mix was read; Old were not." in notes(session)


def test_without_the_library_a_workbook_is_refused_with_what_to_install(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setitem(__import__("sys").modules, "python_calamine", None)
    with pytest.raises(BrokenFile) as caught:
        given(tmp_path, workbook(ROWS), "song.xlsx")
    assert "mixlint[tables]" in caught.value.do


# Beside a folder of stems


def stem(path: Path, seconds: float = 2.0) -> None:
    """A silent stem."""
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(8000)
        file.writeframes(b"\0\0" * int(8000 * seconds))


BESIDE = "Channel,Output,Level,Pan,File\nVoice,Mix,-3,C,vox.wav\nBass,Mix,-6,C,{}\nMix,,0,C,\n"


@pytest.mark.parametrize("second", ["bass.wav", ""])
def test_a_list_describes_the_stems_beside_it(tmp_path: Path, second: str):
    for name in ("vox.wav", "bass.wav"):
        stem(tmp_path / name)
    (tmp_path / "recall.csv").write_text(BESIDE.format(second))
    assert discover(tmp_path) == [tmp_path / "recall.csv"]
    voice = channel(read(tmp_path), "Voice")
    assert (voice.fader_db, voice.legs) == (-3.0, 1)
    assert [(clip.file, clip.start_s, clip.end_s) for clip in voice.clips] == [("vox.wav", 0.0, 2.0)]


def test_channels_called_like_files_need_no_column_of_files(tmp_path: Path):
    for name in ("Voice.wav", "Bass.wav"):
        stem(tmp_path / name)
    (tmp_path / "recall.csv").write_text("Channel,Output,Level\nvoice,Mix,-3\nBass,Mix,-6\nMix,,0\n")
    assert [clip.file for clip in channel(read(tmp_path), "voice").clips] == ["Voice.wav"]


def test_a_list_of_something_else_leaves_the_stems_as_they_are(tmp_path: Path):
    for name in ("a.wav", "b.wav", "c.wav"):
        stem(tmp_path / name)
    (tmp_path / "other.csv").write_text("Channel,Level\nVoice,-3\nBass,-6\n")
    assert discover(tmp_path) == [tmp_path]
    assert read(tmp_path).source.importer == "stems"


def test_a_list_beside_sessions_is_no_session_of_its_own(tmp_path: Path):
    (tmp_path / "song.session.json").write_bytes((EXAMPLES / "drum-kit.session.json").read_bytes())
    (tmp_path / "song.csv").write_text(DESK)
    assert discover(tmp_path) == [tmp_path / "song.session.json"]


# The command


def run(*arguments: object) -> str:
    done = CliRunner().invoke(app, [str(one) for one in arguments])
    assert done.exit_code == 0, done.output
    return done.output


def test_the_sheet_of_a_session_is_a_list(tmp_path: Path):
    source = EXAMPLES / "drum-kit.session.json"
    assert run("sheet", source, "--as", "csv") == list_text(read(source), "csv")
    run("sheet", source, "--as", "tsv", "--out", tmp_path / "kit.tsv")
    assert (tmp_path / "kit.tsv").read_bytes().startswith(b"\xef\xbb\xbfTitle\t")
    assert held(read(tmp_path / "kit.tsv")) == held(read(source))


def test_the_sheet_of_stems_is_a_list_to_begin_from(tmp_path: Path):
    for name in ("Vox.wav", "Bass.wav"):
        stem(tmp_path / name)
    rows = list(csv.DictReader(io.StringIO(run("sheet", tmp_path, "--as", "csv").partition("\n")[2])))
    assert [row["Files"] for row in rows] == ["Bass.wav", "Vox.wav", ""]
    assert {row["Fader (dB)"] + row["Pan (100 = hard over)"] + row["Inserts"] for row in rows} == {""}


def test_cells_that_cannot_be_read_are_told_on_stderr():
    done = CliRunner().invoke(app, ["review", str(LISTS / "bad" / "03-loud.tsv"), "--no-audio"])
    assert 'D4 (Niveau): "fort" is no level' in done.stderr
    assert "F6 (Coupé)" in done.stderr


# What a list leaves out


def left_out() -> list[tuple[str, ...]]:
    """Every column of the written list alone, and pairs of them, the same on every run."""
    heading = (EXAMPLES / FLAWED).read_text(encoding="utf-8").splitlines()[1].split(",")[1:]
    pairs = list(combinations(heading, 2))
    return [*((one,) for one in heading), *random.Random(4).sample(pairs, 20)]


FLAWED = "sixpenny-weathervane-flawed.channels.csv"


def rows_of(session: Session) -> set[tuple[str, str]]:
    house = load_standard()
    found = review(SessionContext(session, house.house), house, source="", digest="", everything=False).findings
    return {(one.rule, one.subject.name) for one in found if one.verdict == "flagged"}


@pytest.fixture(scope="module")
def whole_rows() -> set[tuple[str, str]]:
    return rows_of(read(EXAMPLES / FLAWED))


@pytest.mark.slow
@pytest.mark.parametrize("gone", left_out(), ids="+".join)
def test_no_row_appears_for_a_column_that_is_not_there(
    tmp_path: Path, gone: tuple[str, ...], whole_rows: set[tuple[str, str]]
):
    title, heading, *body = csv.reader(io.StringIO((EXAMPLES / FLAWED).read_text(encoding="utf-8")))
    kept = [place for place, text in enumerate(heading) if text not in gone]
    out = io.StringIO()
    csv.writer(out).writerows([title, *([row[place] for place in kept] for row in (heading, *body))])
    assert rows_of(given(tmp_path, out.getvalue())) - whole_rows == set()


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(16))
def test_no_row_appears_for_a_cell_that_is_left_empty(tmp_path: Path, seed: int, whole_rows: set[tuple[str, str]]):
    draw = random.Random(seed)
    title, heading, *body = csv.reader(io.StringIO((EXAMPLES / FLAWED).read_text(encoding="utf-8")))
    share = 0.15 if seed % 2 else 0.5
    out = io.StringIO()
    emptied = [[row[0], *("" if draw.random() < share else cell for cell in row[1:])] for row in body]
    csv.writer(out).writerows([title, heading, *emptied])
    assert rows_of(given(tmp_path, out.getvalue())) - whole_rows == set()
