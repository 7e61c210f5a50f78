"""What stands beside a session is read within its tree and within bounds; what is no TOML is told in plain words."""

from __future__ import annotations

import os
import time
from pathlib import Path

import pytest

from mixlint.errors import RefusedFile, RulebookError
from mixlint.rulebook import load_standard
from mixlint.rulebook.listed_files import MOST_FILES
from mixlint.rulebook.standard import BESIDE
from mixlint.signoffs.paths import signoff_files

HOUSE = 'name = "yard"\nbuilds_on = "pre-bounce"\n'
POSIX = pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="the system has no named pipes")


@pytest.fixture
def song(tmp_path: Path) -> Path:
    """A session in a folder of its own, with something beside that folder that is none of its business."""
    folder = tmp_path / "song"
    folder.mkdir()
    (folder / "song.json").write_text("{}", encoding="utf-8")
    (tmp_path / "secret.toml").write_text('token = "abc123"\n', encoding="utf-8")
    return folder / "song.json"


def faults(song: Path, text: str, *, named: bool = False) -> str:
    """What is said of a standard beside the session, in half a second at most."""
    path = song.parent / BESIDE
    path.write_text(HOUSE + text, encoding="utf-8")
    start = time.perf_counter()
    with pytest.raises(RulebookError) as caught:
        load_standard(path if named else None, song)
    assert time.perf_counter() - start < 2.0
    return str(caught.value)


@pytest.mark.parametrize("key", ["rules", "words"])
@pytest.mark.parametrize(
    "pattern",
    ["../secret.toml", "/**/*.toml", "../*.toml", "x/../../secret.toml", "/etc/*.toml", "/dev/zero", "/proc/*"],
)
def test_nothing_that_a_found_standard_lists_leads_out(key: str, pattern: str, song: Path) -> None:
    said = faults(song, f'{key} = ["{pattern}"]')
    assert f"{key}: {pattern} leads out of {song.parent}" in said
    assert "--standard" in said
    assert "token" not in said


def test_no_link_of_a_found_standard_leads_out(song: Path, tmp_path: Path) -> None:
    (song.parent / "rules").mkdir()
    (song.parent / "rules" / "one.toml").symlink_to(tmp_path / "secret.toml")
    for pattern in ("rules/one.toml", "rules/*.toml", "**/*.toml"):
        said = faults(song, f'rules = ["{pattern}"]')
        assert "leads out of" in said
        assert "token" not in said


@pytest.mark.parametrize("key", ["builds_on", "examples"])
def test_what_it_builds_on_and_is_tried_on_does_not_lead_out(key: str, song: Path, tmp_path: Path) -> None:
    (tmp_path / "base.toml").write_text('name = "base"\n', encoding="utf-8")
    text = {"builds_on": 'name = "yard"\nbuilds_on = "../base.toml"\n', "examples": HOUSE + 'examples = ".."\n'}[key]
    (song.parent / BESIDE).write_text(text, encoding="utf-8")
    with pytest.raises(RulebookError, match="leads out of"):
        load_standard(None, song)
    assert load_standard(song.parent / BESIDE).name == "yard"  # named by hand


def test_the_tree_reaches_up_to_the_repository(song: Path, tmp_path: Path) -> None:
    """The folder with ``.git`` is its top; without one it is the standard's own folder."""
    (tmp_path / "words.toml").write_text("[part.percussion]\nen = 'milk churn'\n", encoding="utf-8")
    assert "leads out of" in faults(song, 'words = ["../words.toml"]')
    (tmp_path / ".git").mkdir()
    assert load_standard(None, song).name == "yard"


def test_a_standard_above_the_session_still_holds(song: Path, tmp_path: Path) -> None:
    (tmp_path / BESIDE).write_text(HOUSE, encoding="utf-8")
    assert load_standard(None, song).name == "yard"
    if hasattr(os, "geteuid"):
        tmp_path.chmod(0o777)  # as /tmp: anybody could have put it there
        assert load_standard(None, song).name == "pre-bounce"
        tmp_path.chmod(0o755)


def test_a_standard_or_sign_off_that_is_a_link_leading_out_is_told(song: Path, tmp_path: Path) -> None:
    (tmp_path / "elsewhere.toml").write_text(HOUSE, encoding="utf-8")
    (song.parent / BESIDE).symlink_to(tmp_path / "elsewhere.toml")
    with pytest.raises(RefusedFile, match="a link that leads out"):
        load_standard(None, song)
    (tmp_path / "token").write_text("SECRET_TOKEN=abc123\n", encoding="utf-8")
    (song.parent / "song.signed.txt").symlink_to(tmp_path / "token")
    with pytest.raises(RefusedFile, match="a link that leads out") as caught:
        signoff_files(song)
    assert "SECRET" not in str(caught.value)


@POSIX
@pytest.mark.parametrize("named", [False, True])
def test_a_pipe_or_a_device_ends_at_once(named: bool, song: Path) -> None:
    os.mkfifo(song.parent / "pipe.toml")
    assert "this is a named pipe" in faults(song, 'rules = ["pipe.toml"]', named=named)
    assert "this is a named pipe" in faults(song, 'words = ["*.toml"]'.replace("*", "p*"), named=named)
    if named and os.path.exists("/dev/zero"):
        assert "this is a device" in faults(song, 'rules = ["/dev/zero"]', named=True)
    os.mkfifo(song.parent / "song.signed.txt")
    with pytest.raises(RefusedFile, match="a named pipe"):
        signoff_files(song)


def test_a_huge_file_is_not_read(song: Path) -> None:
    with (song.parent / "huge.toml").open("wb") as file:
        file.truncate(20 << 30)
    assert "or 16 MB of them" in faults(song, 'words = ["huge.toml"]', named=True)
    with (song.parent / "huge.toml").open("wb") as file:
        file.truncate(2 << 20)
    assert "it is larger than the 1 MB that are read" in faults(song, 'words = ["huge.toml"]', named=True)
    for number in range(MOST_FILES + 1):
        (song.parent / f"r{number}.toml").write_text("", encoding="utf-8")
    assert "more than 1000 files" in faults(song, 'rules = ["r*.toml"]')


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("x = " + "[" * 3000, "line 3: tables, lists or the parts of a key lie more than 32 deep"),
        (".".join("a" * 3000) + " = 1", "line 3: tables, lists or the parts of a key lie more than 32 deep"),
        ("x = " + "[" * 20 + "{" + ".".join("a" * 20) + "=1}" + "]" * 20, "lie more than 32 deep"),
        (f'[limits]\n"return-low-cut.low_cut_db" = {"9" * 400}', "line 4: this number has 400 characters"),
        (f'[limits]\n"return-low-cut.low_cut_db" = {"9" * 10_000}', "line 4: this number has 10000 characters"),
        (f"x = 0x{'f' * 10_000}", "line 3: this number has 10002 characters"),
        ('rules = ["**x/**"]', "rules: in **x/** the ** stands beside other signs (write ** for any folders, alone"),
        ('rules = [""]', "rules: this is no path of a file"),
        ('rules = ["a\\u0000b"]', "rules: this is no path of a file"),
        ('examples = "a\\u0000b"', "examples: this is no path of a folder"),
        ('rules = ["."]', "rules: . is a folder"),
        ("leave_out = [\n", "line 4, the end of the file: the last value is missing, or is not closed"),
        ("title = “hi”", "line 3: the value cannot be read (write text in straight quotes"),
        ('title = "C:\\dir"', "line 3: a \\ stands in text in double quotes (write / in a path"),
        ('title = "hi', "line 3, the end of the file: a quotation mark is never closed"),
        ("title", "line 3, the end of the file: a key has no = behind it (write key = value"),
        ("[grades]\n[grades]", "line 4: a heading or a key stands twice, here for the second time"),
        ("[pan]\nleave_out = []", "pan.leave_out: it stands below the wrong heading (move it up"),
        ('[limits]\n"return-low-cut.low_cut_db" = 2020-01-01', "it should be a finite number"),
    ],
)
def test_what_is_wrong_is_told_with_line_and_cure(text: str, said: str, song: Path) -> None:
    found = faults(song, text)
    assert said in found
    assert "TOML" not in found


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (("﻿" + HOUSE).encode(), ""),
        (HOUSE.replace("\n", "\r\n").encode(), ""),
        (HOUSE.replace("\n", "\r").encode(), ""),
        (HOUSE.encode("utf-16"), "UTF-16"),
        (HOUSE.encode("utf-16-le"), "UTF-16"),
        ((HOUSE + 'title = "Königsstraße"').encode("latin-1"), "line 3: it is not UTF-8 text"),
    ],
)
def test_marks_and_line_ends_are_read_and_other_encodings_told(data: bytes, said: str, song: Path) -> None:
    (song.parent / BESIDE).write_bytes(data)
    if not said:
        assert load_standard(None, song).name == "yard"
        return
    with pytest.raises(RulebookError, match=said):
        load_standard(None, song)


def test_thousands_of_faults_end_soon(song: Path) -> None:
    """Each looks for the nearest spelling, which takes milliseconds."""
    many = "\n".join(f'no-such-rule-{number} = "hold"' for number in range(20_000))
    assert faults(song, f"[grades]\n{many}").count("\n") == 100
