"""Whose record is whose: sessions that share a name, and names written in another form of the same letters."""

from __future__ import annotations

import json
import time
import unicodedata
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from mixlint.cli.app import app
from mixlint.comparison.paths import APPROVED, record_of
from mixlint.errors import InputError
from mixlint.naming import fits_pattern
from mixlint.rulebook.operators import comparison
from tests.cli.cli_sessions import half_wet, session_body
from tests.teamwork.repository import export, song

COMPOSED = unicodedata.normalize("NFC", "Shäker Hall é")
APART = unicodedata.normalize("NFD", COMPOSED)


def run(*arguments: object) -> Result:
    """The command line in this process."""
    return CliRunner().invoke(app, [str(a) for a in arguments])


def written(path: Path, name: str = "Hall") -> Path:
    body = half_wet(session_body())
    body["channels"][1]["name"] = name
    path.write_text(json.dumps(body, ensure_ascii=False), encoding="utf-8")
    return path


def sign(session: Path) -> Result:
    return run("sign", session, "return-fully-wet", "--because", "x", "--by", "RM", "--no-audio")


@pytest.mark.slow
def test_two_sessions_of_one_name_share_nothing(tmp_path: Path) -> None:
    """``song.json`` and ``song.dawproject`` are signed and approved each by itself."""
    one, other = written(tmp_path / "song.json"), export(tmp_path / "song.dawproject", song(bass={"solo": True}))
    assert sign(one).exit_code == 0
    assert run("sign", other, "nothing-soloed", "--because", "x", "--by", "RM", "--no-audio").exit_code == 0
    for session in (one, other):
        assert run("sign", session, "--approve", "--mix", 1, "--by", "RM", "--no-audio").exit_code == 0
        assert run("review", session, "--no-audio").exit_code == 0
    records = {path.name for path in tmp_path.iterdir()} - {one.name, other.name}
    assert records == {
        f"song.{form}.{kind}" for form in ("json", "dawproject") for kind in ("signed.txt", "approved.json")
    }


@pytest.mark.slow
def test_a_record_that_may_be_of_either_is_told_once_and_settled_by_its_name(tmp_path: Path) -> None:
    """The short name is read while it is clear whose it is; with a second session of the name it has to be said."""
    one = written(tmp_path / "song.json")
    assert sign(one).exit_code == 0
    assert (tmp_path / "song.signed.txt").is_file()
    export(tmp_path / "song.dawproject", song())
    result = run("review", one, "--no-audio")
    assert result.exit_code == 2
    assert "this may belong to song.dawproject or song.json" in result.stderr
    assert "song.json.signed.txt" in result.stderr
    assert sign(one).exit_code == 2
    (tmp_path / "song.signed.txt").rename(tmp_path / "song.json.signed.txt")
    assert run("review", one, "--no-audio").exit_code == 0
    (tmp_path / "song.dawproject").unlink()
    assert run("review", one, "--no-audio").exit_code == 0  # the whole name counts, whoever else is there
    (tmp_path / "song.signed.txt").touch()
    with pytest.raises(InputError, match="there are two records"):
        record_of(one, ".signed.txt")


def test_what_is_no_session_of_its_own_shares_no_name(tmp_path: Path) -> None:
    """A folder with the audio, a list about the session, a report, another file: the short name stays the session's."""
    session = export(tmp_path / "song.dawproject", song())
    (tmp_path / "song").mkdir()
    (tmp_path / "song" / "kick.wav").touch()
    (tmp_path / "song.csv").write_text("Channel,Fader\nKick,-6\n", encoding="utf-8")
    (tmp_path / "song.json").write_text("{}", encoding="utf-8")
    (tmp_path / "song.txt").touch()
    assert record_of(session, APPROVED).name == "song.approved.json"
    assert record_of(tmp_path / "song", APPROVED).name == "song.stems.approved.json"
    assert record_of(tmp_path / "song.csv", APPROVED).name == "song.csv.approved.json"


@pytest.mark.slow
def test_another_form_of_the_same_letters_is_no_rename(tmp_path: Path) -> None:
    """NFC and NFD (UAX #15): sign-off, comparison, approval."""
    one = written(tmp_path / "song.json", COMPOSED)
    assert sign(one).exit_code == 0
    assert run("sign", one, "--approve", "--mix", 1, "--by", "RM", "--no-audio").exit_code == 0
    old = written(tmp_path / "old.json", COMPOSED)
    written(one, APART)
    assert run("review", one, "--no-audio").exit_code == 0
    assert "Nothing changed" in run("compare", old, one, "--no-audio").stdout


def test_patterns_and_conditions_fit_either_form() -> None:
    """Those of a standard and of its rules; letter case counts where it did before."""
    assert fits_pattern(APART, COMPOSED[:4] + "*")
    assert fits_pattern(COMPOSED, APART[:5] + "*")
    for operator, against in (("is", COMPOSED), ("one_of", (COMPOSED,)), ("matches", ("shä*",))):
        assert comparison(operator, against)(APART)
    assert not comparison("is_not", APART)(COMPOSED)
    assert not comparison("is", COMPOSED)("Shaker Hall e")
    assert not comparison("is", COMPOSED)(APART.upper())


@pytest.mark.slow
@pytest.mark.skipif(not hasattr(time, "tzset"), reason="a time zone can be set in POSIX alone")
def test_a_clock_behind_does_not_lose_a_signature(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Signed in Kiritimati (UTC+14) and again in UTC−12, where it may be the day before: the second line stands."""
    session = written(tmp_path / "song.json")
    try:
        for zone, because in (("UTC-14", "first"), ("UTC+12", "again")):
            monkeypatch.setenv("TZ", zone)
            time.tzset()
            words = ("return-fully-wet", "--because", because, "--by", "RM", "--no-audio")
            assert run("sign", session, *words).exit_code == 0
    finally:
        monkeypatch.undo()
        time.tzset()
    lines = [one for one in (tmp_path / "song.signed.txt").read_text("utf-8").splitlines() if one.startswith("sign")]
    assert [one.split('"')[3] for one in lines] == ["again"]


@pytest.mark.slow
def test_a_wide_sign_off_without_a_number_is_read_again(tmp_path: Path) -> None:
    """What ``--scope song`` writes for a rule over switches has grounds, and covers what it was written for."""
    session = export(tmp_path / "song.dawproject", song(bass={"solo": True}, kick={"solo": True}))
    words = ("nothing-soloed", "--because", "x", "--by", "RM", "--no-audio", "--scope", "song")
    assert run("sign", session, *words).exit_code == 0
    assert " rests " in (tmp_path / "song.signed.txt").read_text("utf-8")
    assert run("review", session, "--no-audio").exit_code == 0
