"""A form is declared once: one module and one row, and every part of the program knows it."""

from __future__ import annotations

import re
import wave
import zipfile
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from mixlint import importers
from mixlint.cli.app import app
from mixlint.errors import BrokenFile, NotASession
from mixlint.importers import IMPORTERS, STEMS, Importer, registry
from mixlint.session import Session
from tests.importers import made_up_form
from tests.importers.documents import document, track

README = Path(__file__).resolve().parents[2] / "README.md"
LIST = "strip,does,into\nVoice,track,Mix\nMix,master,\n"
ROW = Importer(
    name="strip-list",
    titles=("a list of strips (.lst)",),
    module="tests.importers.made_up_form",
    shared_suffixes=(".lst",),
    sniff=made_up_form.sniff,
)
PACKED_ROW = Importer(
    name="channel-box",
    titles=("a box of channels",),
    module="tests.importers.made_up_form",
    suffixes=(".channelbox",),
    packed=True,
    keeps="a box",
)


@pytest.fixture
def _row(monkeypatch: pytest.MonkeyPatch) -> None:
    """The table of forms with two rows more."""
    monkeypatch.setattr(registry, "IMPORTERS", (*IMPORTERS, ROW, PACKED_ROW))


def run(*arguments: object) -> Result:
    """The command line in this process."""
    return CliRunner().invoke(app, [str(a) for a in arguments])


def wav(path: Path) -> Path:
    """A recording of one sample."""
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(8000)
        file.writeframes(b"\0\0")
    return path


@pytest.mark.usefixtures("_row")
def test_a_new_form_is_read(tmp_path: Path) -> None:
    path = tmp_path / "song.lst"
    path.write_text(LIST)
    session = importers.read(path)
    assert (session.title, [c.name for c in session.channels]) == ("song", ["Voice", "Mix"])
    assert "Voice" in run("sheet", path).stdout
    assert run("review", path).exit_code in (0, 1)
    out = tmp_path / "song.json"
    assert run("convert", path, "--out", out).exit_code == 0
    assert importers.read(out) == session


@pytest.mark.usefixtures("_row")
def test_a_new_form_is_found_in_folders(tmp_path: Path) -> None:
    """Of files with a suffix that others have too, only those that begin like the form."""
    for name, text in (("a.lst", LIST), ("inner/b.lst", LIST), ("lyrics.lst", "verse,line\n1,la\n")):
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text)
    (tmp_path / "c.channelbox").write_bytes(b"known by its name")
    found = [path.relative_to(tmp_path).as_posix() for path in importers.discover(tmp_path)]
    assert found == ["a.lst", "c.channelbox", "inner/b.lst"]


@pytest.mark.usefixtures("_row")
def test_a_new_form_is_not_overwritten(tmp_path: Path) -> None:
    """Exit status 2, the file untouched, and its row says what would be lost."""
    read, other, box, free = (tmp_path / name for name in ("a.lst", "b.lst", "c.channelbox", "free.lst"))
    read.write_text(LIST)
    other.write_text(LIST)
    box.write_text("not to be lost")
    free.write_text("")
    for command in (["review", read], ["sheet", read], ["convert", read], ["facts"]):
        for out, what in ((read, "read" if command[1:] else "a session"), (other, "a session"), (box, "a box")):
            before = out.read_bytes()
            result = run(*command, "--out", out)
            assert result.exit_code == 2, result.output
            assert f"would overwrite {'what is being read' if what == 'read' else what}" in result.stderr
            assert out.read_bytes() == before
    assert run("sheet", read, "--out", free).exit_code == 0
    assert "Voice" in free.read_text(encoding="utf-8")


@pytest.mark.usefixtures("_row")
def test_a_new_form_is_named_where_a_file_is_of_no_kind(tmp_path: Path) -> None:
    odd = tmp_path / "song.odd"
    odd.write_bytes(b"\0\1\2")
    with pytest.raises(NotASession) as refusal:
        importers.read(odd)
    assert refusal.value.do == (
        "give a .dawproject, a project.xml, a session in mixlint's own JSON, an .aaf, "
        "a list of channels (.csv, .tsv, .xlsx, .ods), a list of strips (.lst), "
        "a box of channels, or a folder of stems"
    )
    said = " ".join(run("--help").stdout.split())
    assert "a list of strips (.lst), a box of channels, or a folder of stems." in said


@pytest.mark.usefixtures("_row")
def test_a_file_with_a_shared_suffix_is_told_what_is_wrong(tmp_path: Path) -> None:
    path = tmp_path / "song.lst"
    path.write_text("verse,line\n")
    with pytest.raises(BrokenFile, match="no heading"):
        importers.read(path)


@pytest.mark.usefixtures("_row")
def test_a_packed_form_is_read_in_place_and_a_plain_file_is_a_damaged_one(tmp_path: Path) -> None:
    box, plain, empty = (tmp_path / f"{name}.channelbox" for name in ("box", "plain", "empty"))
    with zipfile.ZipFile(box, "w") as archive:
        archive.writestr("strips.lst", LIST)
    plain.write_text(LIST * 3)
    empty.write_bytes(b"")
    assert [c.name for c in importers.read(box).channels] == ["Voice", "Mix"]
    assert sorted(path.name for path in tmp_path.iterdir()) == [box.name, empty.name, plain.name]
    with pytest.raises(BrokenFile, match="no ZIP archive"):
        PACKED_ROW.read(plain)
    with pytest.raises(BrokenFile, match="empty"):
        PACKED_ROW.read(empty)


@pytest.mark.parametrize("suffix", STEMS.suffixes)
def test_every_file_that_can_be_a_stem_is_spared(suffix: str, tmp_path: Path) -> None:
    """What is read as a recording is not written over, whatever the case of its suffix."""
    for name in (f"take{suffix}", f"TAKE{suffix.upper()}"):
        take = wav(tmp_path / name)
        before = take.read_bytes()
        result = run("facts", "--out", take)
        assert result.exit_code == 2
        assert "overwrite a recording" in result.stderr
        assert take.read_bytes() == before


@pytest.mark.parametrize("name", ["project.xml", "song.json", "song.old"])
def test_a_session_is_spared_by_what_it_holds(name: str, tmp_path: Path) -> None:
    """Also where its suffix tells nothing; what mixlint has not written is not either, and an empty file is."""
    path = tmp_path / name
    path.write_text(document(track("Kick")) if name.endswith("xml") else Session(title="Dawn").json_text(), "utf-8")
    before = path.read_bytes()
    for command in (["rules"], ["facts", "--as", "json"]):
        result = run(*command, "--out", path)
        assert result.exit_code == 2
        assert "overwrite a session" in result.stderr
        assert path.read_bytes() == before
    path.write_text("<report/>")
    assert run("facts", "--out", path).exit_code == 2
    path.write_text("")
    assert run("facts", "--out", path).exit_code == 0


def test_a_conversion_may_be_made_again(tmp_path: Path) -> None:
    """Over an earlier one where it is the same or given up, and over no session of another form."""
    source, out, other = tmp_path / "song.xml", tmp_path / "song.json", tmp_path / "project.xml"
    source.write_text(document(track("Kick")), "utf-8")
    other.write_text(document(track("Snare")), "utf-8")
    out.write_text(Session(title="Dawn").json_text(), "utf-8")
    assert run("convert", source, "--out", out).exit_code == 2
    assert importers.read(out).title == "Dawn"
    assert run("convert", source, "--out", out, "--force").exit_code == 0
    assert run("convert", source, "--out", out).exit_code == 0
    assert [c.name for c in importers.read(out).channels][0] == "Kick"
    assert run("convert", source, "--out", other).exit_code == 2
    assert "Snare" in other.read_text("utf-8")


def test_readme_names_every_form() -> None:
    section = README.read_text(encoding="utf-8").split("## What it reads")[1].split("\n## ")[0]
    said = set(re.findall(r"`[^`]*?(\.\w+)`", section))
    assert {suffix for one in IMPORTERS for suffix in (*one.suffixes, *one.shared_suffixes)} <= said
    assert "stems" in section
