"""Where --out writes: over nothing but what mixlint wrote in that form, through no link, whole or not at all."""

from __future__ import annotations

import errno
import os
import time
from pathlib import Path

import pytest
from cli_sessions import write_session
from typer.testing import CliRunner, Result

from mixlint.cli.app import app
from mixlint.reports.forms import LIST_FORMS, REVIEW_FORMS, result_forms
from mixlint.runs.written import written_as

needs_posix = pytest.mark.skipif(os.name != "posix", reason="links and pipes of POSIX")


def run(*arguments: object) -> Result:
    result = CliRunner().invoke(app, [str(one) for one in arguments])
    assert not isinstance(result.exception, Exception), result.exception
    return result


def commands(session: Path) -> dict[str, list[object]]:
    """Each command that writes, in each of its forms."""
    found: dict[str, list[object]] = {
        f"review {form}": ["review", session, "--no-audio", "--as", form] for form in REVIEW_FORMS
    }
    found |= {
        f"compare {form}": ["compare", session, session, "--no-audio", "--as", form] for form in result_forms("compare")
    }
    for form in result_forms(""):
        found |= {
            f"sheet {form}": ["sheet", session, "--as", form],
            f"why {form}": ["sheet", session, "--why", "voice", "--as", form],
            f"trace {form}": ["trace", session, "voice", "--as", form],
            f"rules {form}": ["rules", "--standard", session.with_name("mixlint-standard.toml"), "--as", form],
            f"standards {form}": ["rules", "--standards", "--as", form],
            f"facts {form}": ["facts", "media", "--as", form],
            f"rows {form}": ["facts", "return", "name", "--of", session, "--no-audio", "--as", form],
        }
    return found | {
        **{f"sheet {form}": ["sheet", session, "--as", form] for form in LIST_FORMS},
        "schemas": ["schema"],
        "schema": ["schema", "sheet"],
        "convert": ["convert", session],
    }


NAMES = list(commands(Path("x")))
AGAIN = [name for name in NAMES if name not in (*(f"sheet {form}" for form in LIST_FORMS), "convert")]


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_what_somebody_else_wrote_is_kept(name: str, clear: Path, tmp_path: Path) -> None:
    """Without a suffix that tells anything; --force gives it up."""
    out, kept = tmp_path / "notes", "my own notes\n"
    out.write_text(kept)
    command = commands(clear)[name]
    result = run(*command, "--out", out)
    assert (result.exit_code, out.read_text()) == (2, kept)
    assert "would overwrite a file that mixlint has not written" in result.stderr
    if name.startswith(("review", "convert", "schema")):
        assert run(*command, "--out", out, "--force").exit_code == 0
        assert out.read_text("utf-8-sig") != kept


@pytest.mark.slow
@pytest.mark.parametrize("name", AGAIN)
def test_what_mixlint_wrote_is_written_again_in_that_form_alone(name: str, clear: Path, tmp_path: Path) -> None:
    """Known by its content; with a line of somebody's at its end it is somebody's."""
    out = tmp_path / "told"
    command = commands(clear)[name]
    assert run(*command, "--out", out).exit_code == 0
    first = out.read_bytes()
    form = written_as(out)
    assert form
    assert run(*command, "--out", out).exit_code == 0
    assert out.read_bytes() == first
    other = ["schema", "sheet"] if form != "schema" else ["sheet", clear]
    assert run(*other, "--out", out).exit_code == 2
    assert out.read_bytes() == first
    if name in ("sheet text", "review line"):
        out.write_bytes(first + b"and a line of mine\n")
        assert run(*command, "--out", out).exit_code == 2


@pytest.mark.parametrize("name", ["convert", *(f"sheet {form}" for form in LIST_FORMS)])
def test_what_is_read_again_is_replaced_by_the_same_alone(name: str, clear: Path, tmp_path: Path) -> None:
    """Somebody may have worked on it since."""
    out = tmp_path / "song.out"
    assert run(*commands(clear)[name], "--out", out).exit_code == 0
    assert run(*commands(clear)[name], "--out", out).exit_code == 0
    other = write_session(tmp_path / "other.json", title="Another Song")
    before = out.read_bytes()
    for command in (commands(other)[name], ["review", other, "--as", "json"], ["sheet", other]):
        assert run(*command, "--out", out).exit_code == 2
        assert out.read_bytes() == before


@needs_posix
@pytest.mark.parametrize("kind", ["link", "dangling", "loop", "hard", "pipe", "device", "folder"])
@pytest.mark.parametrize("forced", [[], ["--force"]])
@pytest.mark.parametrize("name", ["review json", "convert", "schema"])
def test_out_is_a_plain_file(name: str, kind: str, forced: list[str], clear: Path, tmp_path: Path) -> None:
    """Through no link, forced or not, into no pipe that nobody reads, and onto no device."""
    target, out = tmp_path / "precious.txt", tmp_path / "out"
    target.write_text("precious")
    session = clear.read_bytes()
    if kind == "hard":
        os.link(clear, out)
    elif kind == "pipe":
        os.mkfifo(out)
    elif kind == "folder":
        out.mkdir()
    elif kind == "device":
        out = Path("/dev/null")
    else:
        out.symlink_to({"link": target, "dangling": tmp_path / "nothing", "loop": out}[kind])
    result = run(*commands(clear)[name], "--out", out, *forced)
    says = {"hard": "overwrite", "pipe": "a named pipe", "folder": "a folder", "device": "a device"}
    if not (kind == "hard" and name == "schema" and forced):  # it reads no session, and its name there was given up
        assert result.exit_code == 2
        assert says.get(kind, "this is a link") in result.stderr
    assert target.read_text() == "precious"
    assert clear.read_bytes() == session
    assert not (tmp_path / "nothing").exists()


@needs_posix
def test_an_approval_goes_through_no_link_and_over_no_other_file(clear: Path) -> None:
    """The name beside the session is a stranger's to lay."""
    precious, place = clear.with_name("precious.txt"), clear.with_name("lamp.approved.json")
    precious.write_text("precious")
    command = ("sign", clear, "--approve", "--mix", 1, "--by", "RM", "--no-audio")
    place.symlink_to(precious)
    assert run(*command).exit_code == 2
    place.unlink()
    place.write_text("precious too")
    assert run(*command).exit_code == 2
    assert (precious.read_text(), place.read_text()) == ("precious", "precious too")
    place.unlink()
    assert run(*command).exit_code == 0
    assert run(*command).exit_code == 0


def test_a_full_disk_names_the_file(clear: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """And leaves what was there, and nothing half written."""
    out = tmp_path / "report.txt"
    assert run("review", clear, "--no-audio", "--out", out).exit_code == 0
    before, there = out.read_bytes(), sorted(os.listdir(tmp_path))

    def full(_: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr("mixlint.runs.files.os.fsync", full)
    result = run("review", clear, "--no-audio", "--everything", "--out", out)
    assert result.exit_code == 2
    assert f"{out}: it cannot be written: {os.strerror(errno.ENOSPC)}" in result.stderr
    assert (out.read_bytes(), sorted(os.listdir(tmp_path))) == (before, there)


def test_what_a_killed_run_left_is_tidied(clear: Path, tmp_path: Path) -> None:
    """What version 0.1.0 left, a day later, and nobody else's file; what a newer one left is swept at once."""
    old, new, other = (tmp_path / name for name in (".mixlint-abcdefgh", ".mixlint-ijklmnop", "mixlint-abcdefgh"))
    for one in (old, new, other):
        one.write_text("half")
    for one in (old, other):
        os.utime(one, (time.time() - 90_000, time.time() - 90_000))
    assert run("schema", "--out", tmp_path / "schemas.txt").exit_code == 0
    assert [one.exists() for one in (old, new, other)] == [False, True, True]
