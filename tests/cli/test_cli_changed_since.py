"""Only what git says has changed since a revision."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest
from cli_sessions import RULE, Run, write_session

from mixlint.errors import InputError
from mixlint.runs.changed import changed_since


def git(top: Path, *command: str) -> None:
    subprocess.run(
        ["git", "-c", "user.name=R", "-c", "user.email=r@localhost", "-C", str(top), *command],
        check=True, capture_output=True,
    )  # fmt: skip


@pytest.fixture
def songs(tmp_path: Path) -> list[Path]:
    """Three songs in one folder, each with its audio below, a set of stems, and a standard with a rule, committed."""
    (tmp_path / "mixlint-standard.toml").write_text('name = "house"\nrules = ["rules/*.toml"]\ntakes = []\n')
    (tmp_path / "rules").mkdir()
    (tmp_path / "rules" / "voice-named.toml").write_text(RULE)
    found = []
    for name in ("one", "two", "üç"):
        media = [{"id": "a", "path": f"audio/{name}%20take.wav", "place": "beside"}]
        found.append(write_session(tmp_path / f"{name}.json", title=name, media=media))
        (tmp_path / "audio").mkdir(exist_ok=True)
        (tmp_path / "audio" / f"{name} take.wav").write_bytes(b"RIFF")
    (tmp_path / "stems").mkdir()
    (tmp_path / "stems" / "Bass.wav").write_bytes(b"RIFF")
    (tmp_path / ".gitignore").write_text("*.bak\n")
    git(tmp_path, "init", "-q")
    git(tmp_path, "add", "-A")
    git(tmp_path, "commit", "-q", "-m", "one")
    return [*found, tmp_path / "stems"]


CHANGES: dict[str, tuple[Callable[[Path], object], str]] = {
    "nothing": (lambda top: None, ""),
    "a session": (lambda top: (top / "two.json").write_text("{}"), "two.json"),
    "a name that is not ASCII": (lambda top: (top / "üç.json").write_text("{}"), "üç.json"),
    "audio": (lambda top: (top / "audio/one take.wav").write_bytes(b"RIFX"), "one.json"),
    "audio that is gone": (lambda top: (top / "audio/two take.wav").unlink(), "two.json"),
    "audio in another folder of stems": (lambda top: (top / "stems/Vox.wav").write_bytes(b"RIFF"), "stems"),
    "audio nobody names": (lambda top: (top / "audio/spare.wav").write_bytes(b"RIFF"), ""),
    "a print, which may be of any": (
        lambda top: (top / "mix.wav").write_bytes(b"RIFF"), "one.json two.json üç.json",
    ),
    "a sign-off": (lambda top: (top / "one.signed.txt").write_text("# none\n"), "one.json"),
    "a sign-off of the stems": (lambda top: (top / "stems.signed.txt").write_text("# none\n"), "stems"),
    "an approval": (lambda top: (top / "two.approved.json").write_text("{}"), "two.json"),
    "the project's": (lambda top: (top / "mixlint-project.signed.txt").write_text("#\n"), "all"),
    "the standard": (lambda top: (top / "mixlint-standard.toml").write_text('name = "other"\n'), "all"),
    "a standard nearer": (lambda top: (top / "stems/mixlint-standard.toml").write_text('name = "near"\n'), "stems"),
    "a rule of it": (lambda top: (top / "rules/new.toml").write_text("id = 1\n"), "all"),
    "a text of another kind": (lambda top: (top / "pyproject.toml").write_text("a = 1\n"), ""),
    "what git ignores": (lambda top: (top / "one.json.bak").write_text("x"), ""),
}  # fmt: skip


@pytest.mark.slow
@pytest.mark.parametrize("committed", [False, True], ids=["left", "committed"])
def test_a_session_is_reviewed_where_it_or_what_it_rests_on_changed(songs: list[Path], committed: bool) -> None:
    top = songs[0].parent
    for name, (change, expected) in CHANGES.items():
        git(top, "checkout", "-q", "-B", "try", "main" if committed else "HEAD")
        change(top)
        if committed:
            git(top, "add", "-A")
            git(top, "commit", "-q", "--allow-empty", "-m", name)
        found = changed_since("HEAD~1" if committed else "HEAD", songs, None)
        whole = " ".join(one.name for one in songs)
        assert " ".join(one.name for one in found) == (whole if expected == "all" else expected), name
        git(top, "reset", "-q", "--hard", "HEAD~1" if committed else "HEAD")
        git(top, "clean", "-q", "-f", "-d")


@pytest.fixture(autouse=True)
def _branch(monkeypatch: pytest.MonkeyPatch) -> None:
    for key, value in {
        "GIT_CONFIG_COUNT": "1",
        "GIT_CONFIG_KEY_0": "init.defaultBranch",
        "GIT_CONFIG_VALUE_0": "main",
    }.items():
        monkeypatch.setenv(key, value)


@pytest.mark.parametrize("revision", ["", "-1", "--output=x", "no-such", "HEAD:one.json", "a\0b", "HEAD~99"])
def test_what_is_no_revision_is_told(songs: list[Path], revision: str) -> None:
    before = set(songs[0].parent.iterdir())
    with pytest.raises(InputError, match="revision"):
        changed_since(revision, songs, None)
    assert set(songs[0].parent.iterdir()) == before


def test_where_there_is_no_repository_or_no_git_it_is_told(
    songs: list[Path], tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch
) -> None:
    away = write_session(tmp_path_factory.mktemp("away") / "away.json")
    with pytest.raises(InputError, match="no git repository"):
        changed_since("HEAD", [*songs, away], None)
    monkeypatch.setenv("PATH", str(tmp_path_factory.mktemp("none")))
    with pytest.raises(InputError, match="no git on the path"):
        changed_since("HEAD", songs, None)


def test_git_of_the_folder_it_was_started_in_is_not_run(songs: list[Path], monkeypatch: pytest.MonkeyPatch) -> None:
    """A stranger's folder may hold a program of that name."""
    top = songs[0].parent
    (top / "git").write_text("#!/bin/sh\ntouch ran\n")
    (top / "git").chmod(0o755)
    monkeypatch.chdir(top)
    monkeypatch.setenv("PATH", os.pathsep.join([".", "", os.environ["PATH"]]))
    changed_since("HEAD", songs, None)
    assert not (top / "ran").exists()


@pytest.mark.slow
def test_the_command_says_how_many_it_left_out(tmp_path: Path, mixlint: Run) -> None:
    for name in ("one", "two", "three"):
        write_session(tmp_path / f"{name}.json", title=name)
    git(tmp_path, "init", "-q")
    git(tmp_path, "add", "-A")
    git(tmp_path, "commit", "-q", "-m", "one")
    none = mixlint("review", tmp_path, "--no-audio", "--as", "json", "--changed-since", "HEAD")
    assert (none.returncode, none.stdout.count(b'"sessions": []')) == (0, 1)
    assert none.stderr == b"mixlint: 3 of 3 sessions left out: git tells of no change since HEAD.\n"
    write_session(tmp_path / "two.json", title="Changed")
    one = mixlint("review", tmp_path, "--no-audio", "--as", "line", "--changed-since", "HEAD")
    assert (one.returncode, one.stdout.count(b"\toutcome\t"), b"Changed" in one.stdout) == (0, 1, True)
    assert one.stderr == b"mixlint: 2 of 3 sessions left out: git tells of no change since HEAD.\n"
    bad = mixlint("review", tmp_path, "--changed-since=--output=x")
    assert (bad.returncode, bad.stdout) == (2, b"")
    assert b"is no revision" in bad.stderr
    assert not (tmp_path / "x").exists()
