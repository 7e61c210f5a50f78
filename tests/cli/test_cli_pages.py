"""Several sessions as a folder of pages: links that lead somewhere, one order, flat memory, nothing of others lost."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path
from urllib.parse import unquote

import pytest
from cli_sessions import half_wet, session_body, write_session
from lxml import etree
from typer.testing import CliRunner, Result

from mixlint.cli.app import app
from mixlint.reports.page.names import is_page_name, page_name
from tests.links import link

MANY = 200
RULES = ["--only", "return-fully-wet", "--only", "nothing-soloed"]


def run(*arguments: object) -> Result:
    result = CliRunner().invoke(app, [str(one) for one in arguments])
    assert not isinstance(result.exception, Exception), result.exception
    return result


def tree(page: Path) -> etree._Element:
    return etree.fromstring(page.read_text(encoding="utf-8").split("\n", 1)[1].encode("utf-8"))


def rows(folder: Path) -> list[list[str]]:
    """Title, outcome, hold, look, notes and questions of each session, in the order of the index."""
    found = []
    for row in tree(folder / "index.html").iterfind(".//tbody/tr"):
        title, *cells = row.iterfind("./*")
        found.append([title.findtext("a") or "", *("".join(cell.itertext()) for cell in cells[:5])])
    return found


def album(folder: Path) -> list[Path]:
    """One song that is clear, one that is held by one row and one by two, and one that is no session."""
    folder.mkdir(exist_ok=True)
    clear = write_session(folder / "b.json", title="Brass Lamp")
    (one := folder / "a.json").write_text(json.dumps(half_wet(session_body(title="Amber Lamp"))), encoding="utf-8")
    body = half_wet(session_body(title="Zinc Lamp"))
    body["channels"][0]["solo"] = True
    (two := folder / "z.json").write_text(json.dumps(body), encoding="utf-8")
    (broken := folder / "broken.json").write_text('{"format": "mixlint-session/1", ', encoding="utf-8")
    return [clear, one, two, broken]


@pytest.mark.slow
def test_what_needs_attention_comes_first_and_what_was_lost_is_told(tmp_path: Path) -> None:
    out = tmp_path / "pages of an album"
    result = run("review", *album(tmp_path / "songs"), "--no-audio", "--as", "html", "--out", f"{out}/")
    assert (result.exit_code, result.stdout) == (2, "")
    assert [row[:3] for row in rows(out)] == [
        ["Zinc Lamp", "held", "2"], ["Amber Lamp", "held", "1"], ["Brass Lamp", "clear", "0"],
    ]  # fmt: skip
    said = " ".join("".join(tree(out / "index.html").itertext()).split())
    assert "2 are held: Zinc Lamp, Amber Lamp; 1 clear to bounce; 1 could not be reviewed." in said
    assert re.search(r"Could not be reviewed \S*broken\.json\S* \S", said)
    assert said.count("broken.json") == 1


@pytest.mark.slow
def test_links_lead_to_every_page_and_back_and_nothing_else_is_asked_for(tmp_path: Path) -> None:
    """The names in the sessions and of the folder are a stranger's."""
    out = tmp_path / '50 % & more #1 ? "x" ünï'
    out.mkdir()
    songs = [
        write_session(tmp_path / f"{n}.json", title=title)
        for n, title in enumerate(["../../etc/passwd", "CON", "<script>alert(1)</script>", "", "Größe é 歌", "x" * 300])
    ]
    assert run("review", *songs, "--no-audio", "--as", "html", "--out", out).exit_code == 0
    index = tree(out / "index.html")
    links = [str(one) for one in index.xpath("//@href")]
    assert len(links) == len(set(links)) == 6
    assert {unquote(one) for one in links} == set(os.listdir(out)) - {"index.html"}
    ids = set(index.xpath("//@id"))
    for one in links:
        assert len(one.encode()) <= 100
        assert re.fullmatch(r"[a-z0-9][a-z0-9-]*-[0-9a-f]{8}\.html", one)
        page = tree(out / one)
        back = [str(href) for href in page.xpath("//nav[@class='back']//@href")]
        name, _, place = back[0].partition("#")
        assert (len(back), name, place in ids) == (1, "index.html", True)
    for name in os.listdir(out):
        text = (out / name).read_text(encoding="utf-8")
        assert text.count("<script") == (name != "index.html")
        assert not re.search(r"url\(|@import|https?:|//[a-z]", text)
        assert "default-src 'none'" in text


def test_a_name_hangs_on_its_own_session_alone(tmp_path: Path) -> None:
    """Neither on the others nor on where the project lies; two of one name keep apart."""
    album, out = tmp_path / "album", tmp_path / "out"
    one = page_name("Night Ferry", album / "one.json", out)
    assert one == page_name("Night Ferry", album / "x" / ".." / "one.json", out)
    assert one != page_name("Night Ferry", album / "two.json", out)
    assert one == page_name("Night Ferry", tmp_path / "moved" / "album" / "one.json", tmp_path / "moved" / "out")
    again = page_name("Night Ferry", album / "one.json", out, {one})
    assert again != one
    assert is_page_name(again)
    assert page_name("歌", album / "one.json", out).startswith("session-")
    assert page_name("Ärger im Hôtel", album / "one.json", out).startswith("arger-im-hotel-")
    for name in ("CON", "aux", "nul.", " . ", "-", "\udcff", "a" * 400, "COM1", "index"):
        found = page_name(name, album / "one.json", out)
        assert is_page_name(found)
        assert len(found.encode("ascii")) <= 100
        assert found.partition(".")[0].upper() not in {"CON", "AUX", "NUL", "COM1", "INDEX"}


@pytest.mark.slow
def test_only_pages_of_mixlint_are_replaced(tmp_path: Path) -> None:
    song, out = write_session(tmp_path / "lamp.json"), tmp_path / "out"
    command = ("review", song, "--no-audio", "--as", "html", "--out", out)
    assert run("review", song, "--no-audio", "--as", "html", "--out", f"{out}/").exit_code == 0
    (page,) = (place for place in out.iterdir() if place.name != "index.html")
    first = page.read_bytes()
    page.write_text("<!DOCTYPE html>\nmy own notes\n")
    result = run(*command)
    assert result.exit_code == 2
    assert "would overwrite a file that mixlint has not written" in result.stderr
    assert "my own notes" in page.read_text()
    assert "would overwrite" in (out / "index.html").read_text()
    assert run(*command, "--force").exit_code == 0
    assert page.read_bytes() == first
    (out / "index.html").write_text("my own index")
    result = run(*command)
    assert (result.exit_code, (out / "index.html").read_text()) == (2, "my own index")


@pytest.mark.slow
def test_nothing_is_written_through_a_link(tmp_path: Path) -> None:
    song, precious = write_session(tmp_path / "lamp.json"), tmp_path / "precious"
    precious.mkdir()
    link(tmp_path / "out", precious)
    result = run("review", song, "--no-audio", "--as", "html", "--out", f"{tmp_path / 'out'}/", "--force")
    assert (result.exit_code, os.listdir(precious)) == (2, [])
    assert "this is a link" in result.stderr
    pages = tmp_path / "pages"
    assert run("review", song, "--no-audio", "--as", "html", "--out", f"{pages}/").exit_code == 0
    (page,) = (place for place in pages.iterdir() if place.name != "index.html")
    page.unlink()
    (kept := tmp_path / "kept.html").write_text("kept")
    link(page, kept)
    assert run("review", song, "--no-audio", "--as", "html", "--out", pages, "--force").exit_code == 2
    assert (kept.read_text(), page.is_symlink()) == ("kept", True)


@pytest.mark.slow
def test_pages_of_sessions_that_are_gone_stay_and_are_told(tmp_path: Path) -> None:
    songs = [write_session(tmp_path / f"{name}.json", title=name) for name in ("one", "two")]
    out = tmp_path / "out"
    assert run("review", *songs, "--no-audio", "--as", "html", "--out", f"{out}/").stderr == ""
    (out / "three-0123abcd.html").write_text("somebody's")
    songs[1].unlink()
    result = run("review", songs[0], "--no-audio", "--as", "html", "--out", out)
    told = r"1 earlier page stays, of a session that was not reviewed now: two-[0-9a-f]{8}\.html\."
    assert re.search(told, result.stderr)
    assert len(os.listdir(out)) == 4
    assert [row[0] for row in rows(out)] == ["one"]


def test_a_folder_is_for_pages_alone(clear: Path, tmp_path: Path) -> None:
    """And a folder that cannot be made is told before anything is read."""
    for form in ("text", "json"):
        result = run("review", clear, "--no-audio", "--as", form, "--out", f"{tmp_path / 'reports'}/")
        assert result.exit_code == 2
        assert "only pages go into a folder" in result.stderr
    result = run("review", clear, "--as", "html", "--out", f"{tmp_path / 'no' / 'where'}/")
    assert "there is no folder that it could be made in" in result.stderr
    result = run("review", clear, "--as", "html", "--out", f"{clear}/")
    assert "this is a file, and pages go into a folder" in result.stderr
    assert clear.read_text(encoding="utf-8") == json.dumps(session_body())


PEAK = """
import resource, sys
from mixlint.cli.app import run
try:
    run()
except SystemExit as end:
    status = end.code
peaks = [resource.getrusage(whose).ru_maxrss for whose in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
print(status, *peaks)
"""


@pytest.mark.slow
@pytest.mark.skipif(sys.platform != "linux", reason="what a process took at most is counted otherwise elsewhere")
def test_two_hundred_sessions_take_the_memory_of_twenty(tmp_path: Path) -> None:
    """Neither this process nor the one that reviews keeps them; what is written hangs on no order of the sessions."""
    songs = []
    for number in range(MANY):
        body = session_body(title=f"Song {number % 150:03}")
        if number % 3 == 0:
            half_wet(body)
        if number % 7 == 0:
            body["channels"][0]["solo"] = True
        place = tmp_path / f"record {number // 20}" / f"{number}.json"
        place.parent.mkdir(exist_ok=True)
        place.write_text(json.dumps(body), encoding="utf-8")
        songs.append(place)

    def peaks(few: list[Path], out: str) -> tuple[int, int]:
        command = [sys.executable, "-c", PEAK, "review", *map(str, few), "--no-audio", *RULES, "--as", "html"]
        done = subprocess.run(
            [*command, "--out", f"{tmp_path / out}/"],
            capture_output=True, text=True, check=False, env={**os.environ, "MALLOC_ARENA_MAX": "1"},
        )  # fmt: skip
        status, here, beside = map(int, done.stdout.split())
        assert (status, done.stderr) == (1, "")
        return here, beside

    of_few, of_many = peaks(songs[:20], "few"), peaks(songs, "many")
    print(of_few, of_many)
    assert of_many[0] < 1.1 * of_few[0], (of_few, of_many)
    assert of_many[1] < 1.1 * of_few[1], (of_few, of_many)
    found = rows(tmp_path / "many")
    assert len(found) == MANY
    assert len(os.listdir(tmp_path / "many")) == MANY + 1
    order = ["held", "look", "clear"]
    assert found == sorted(found, key=lambda row: (order.index(row[1]), -int(row[2]), -int(row[3]), row[0]))
    assert {row[2] for row in found} == {"0", "1", "2"}
    assert set(tree(tmp_path / "many" / "index.html").xpath("//@href")) == set(os.listdir(tmp_path / "many")) - {
        "index.html"
    }
    before = {name: (tmp_path / "few" / name).read_bytes() for name in os.listdir(tmp_path / "few")}
    peaks(songs[:20][::-1], "few")
    assert before == {name: (tmp_path / "few" / name).read_bytes() for name in os.listdir(tmp_path / "few")}
