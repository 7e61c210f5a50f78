"""Nothing rests on one system's encoding, letter case, slashes, line ends, names or permissions."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from mixlint.cli.app import app
from mixlint.cli.options import typed
from mixlint.importers import read
from mixlint.media.cache_folder import cache_folder
from tests.portability.imitations import HOUSE, case_ignored, session_text, write_song

TOP = Path(__file__).resolve().parents[2]
ODD = "Ört lich 日本"

WINDOWS_DEVICE = re.compile(r"^(con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³]|conin\$|conout\$)(\..*)?$", re.IGNORECASE)
"""Names that no file may bear there. Source: Microsoft Learn, "Naming Files, Paths, and Namespaces"."""

NOT_ON_WINDOWS = re.compile(r'[<>:"/\\|?*\x00-\x1f]|[ .]$')
"""Signs that no name may hold there, and ends that it may not have; the same source."""


@pytest.fixture(autouse=True)
def _no_cache(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("MIXLINT_CACHE", "")


def run(*arguments: object) -> Result:
    """The command line in this process."""
    return CliRunner().invoke(app, [str(one) for one in arguments])


def findings(path: Path, *more: object) -> list[dict[str, object]]:
    """What a review finds, without what the session is called."""
    body = json.loads(run("review", path, "--as", "json", *more).stdout)
    return body["sessions"][0]["findings"]


DRIVER = """
import sys
from mixlint.cli.app import app
group = []
for word in [*sys.argv[1:], "NEXT"]:
    if word != "NEXT":
        group.append(word)
        continue
    try:
        app(group, prog_name="mixlint")
    except SystemExit as end:
        print("STATUS", end.code or 0)
    group = []
"""
"""Several commands in one process, since a start costs more than what these commands do."""


@pytest.mark.slow
def test_a_folder_with_spaces_and_letters_under_an_ascii_locale(tmp_path: Path) -> None:
    """Every command, with relative names, and with no text file opened in the system's encoding (PEP 597)."""
    folder = tmp_path / ODD
    song = write_song(folder, "Lied – ünï.json").name
    steps = (
        (("review", song), 1),
        (("review", song, "--as", "html", "--out", "Seite ß.html"), 1),
        (("trace", song, "Stimme ä"), 0),
        (("convert", song, "--out", "Neu é.json"), 0),
        (("sign", song, "nothing-soloed", "--because", "weil – ja", "--by", "ÄB"), 0),
        (("review", song), 0),
        (("sign", song, "--approve", "--mix", "1", "--by", "ÄB"), 0),
        (("compare", "Lied – ünï.approved.json", song), 0),
        (("review", "Audio", "--out", "Spuren.txt"), 0),
        (("sheet", "Audio", "--as", "json", "--out", "Spuren.json"), 0),
        (("review", "nicht da ü.json"), 2),
    )
    done = subprocess.run(
        [
            *(sys.executable, "-X", "warn_default_encoding", "-W", "error::EncodingWarning", "-c", DRIVER),
            *[word for arguments, _ in steps for word in (*arguments, "NEXT")][:-1],
        ],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(TOP), "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0", "LC_ALL": "C"},
        capture_output=True,
        check=False,
        timeout=120,
    )
    assert done.returncode == 0, done.stderr
    assert (done.stdout + done.stderr).isascii()
    told = re.findall(rb"^STATUS (\d)$", done.stdout, re.MULTILINE)
    assert list(map(int, told)) == [status for _, status in steps], done.stderr
    signed = (folder / "Lied – ünï.signed.txt").read_text(encoding="utf-8")
    assert 'because "weil – ja" by ÄB' in signed
    assert "Stimme ä" in (folder / "Seite ß.html").read_text(encoding="utf-8")
    assert read(folder / "Neu é.json").channels[0].name == "Stimme ä"
    assert "Räum voice" in (folder / "Spuren.json").read_text(encoding="utf-8")


def test_what_is_typed_is_text() -> None:
    """Bytes that came through as lone surrogates (PEP 383) are read as UTF-8; all else is left as it is."""
    assert typed("weil – ja".encode().decode("ascii", "surrogateescape")) == "weil – ja"
    assert typed(b"\xff".decode("ascii", "surrogateescape")) == "\N{REPLACEMENT CHARACTER}"
    assert (typed("weil – ja"), typed(None)) == ("weil – ja", None)


@pytest.mark.slow
def test_letter_case_that_the_system_does_not_tell_apart(tmp_path: Path) -> None:
    """The session, its house, its sound and its sign-offs are found under any spelling, and not overwritten."""
    song = write_song(tmp_path, "Song.json")
    other = tmp_path / "SONG.JSON"
    (tmp_path / "mixlint-standard.toml").rename(tmp_path / "Mixlint-Standard.toml")
    plain = None
    with case_ignored():
        assert other.is_file()
        plain = findings(other)
        assert plain == findings(song)
        assert [one["rule"] for one in plain if one["verdict"] == "flagged"] == ["nothing-soloed"]
        assert run("convert", song, "--out", other).exit_code == 2
        assert run("sign", other, "nothing-soloed", "--because", "meant", "--by", "MH").exit_code == 0
        assert run("review", song).exit_code == 0
    assert song.read_text(encoding="utf-8") == session_text()


@pytest.mark.parametrize("written", ["Audio\\Räum voice.wav", ".\\Audio\\Räum voice.wav", "Audio/Räum voice.wav"])
def test_paths_with_backslashes(written: str, tmp_path: Path) -> None:
    """A session that was exported elsewhere names its files with the slashes of there."""
    song = write_song(tmp_path, media=written)
    found = findings(song, "--everything")
    assert {one["verdict"] for one in found if one["rule"] == "media-present"} == {"clear"}


@pytest.mark.slow
def test_a_standard_with_backslashes(tmp_path: Path) -> None:
    """Rules, words, examples and what it builds on are found, whatever system the standard was written on."""
    house = tmp_path / "house"
    for kind in ("rules", "words", "tried"):
        for path in (TOP / "example_sessions" / "house" / kind).iterdir():
            (house / kind).mkdir(parents=True, exist_ok=True)
            (house / kind / path.name).write_bytes(path.read_bytes())
    shown = (TOP / "example_sessions" / "house" / "mixlint-standard.toml").read_text(encoding="utf-8")
    assert "rules/*.toml" in shown
    (house / "mixlint-standard.toml").write_text(
        shown.replace('"rules/*.toml"', r"'.\rules\*.toml'")
        .replace('"words/*.toml"', r"'words\yard-words.toml', 'words\yard-roles.toml'")
        .replace('"tried"', r"'.\tried'"),
        encoding="utf-8",
    )
    (tmp_path / "own.toml").write_text("name = 'own'\nbuilds_on = 'house\\mixlint-standard.toml'\n", encoding="utf-8")
    proven = run("rules", "--standard", house, "--prove")
    assert proven.exit_code == 0, proven.output
    shown = run("rules", "--standard", tmp_path / "own.toml")
    assert "sends-leave-room" in shown.stdout, shown.output


@pytest.mark.slow
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"], ids=["plain", "with a byte order mark"])
def test_line_ends_of_elsewhere(mark: bytes, tmp_path: Path) -> None:
    """Every file that is read may have CR LF at its line ends, and what editors put first."""
    song = write_song(tmp_path)
    before = findings(song, "--everything")
    assert run("sign", song, "nothing-soloed", "--because", "meant", "--by", "MH").exit_code == 0
    assert run("sign", song, "--approve", "--mix", "1", "--by", "MH").exit_code == 0
    for path in (song, *tmp_path.glob("song.*"), tmp_path / "mixlint-standard.toml"):
        path.write_bytes(mark + path.read_bytes().removeprefix(mark).replace(b"\r\n", b"\n").replace(b"\n", b"\r\n"))
    assert [one["rule"] for one in findings(song, "--everything")] == [one["rule"] for one in before]
    assert run("review", song).exit_code == 0
    assert run("compare", tmp_path / "song.approved.json", song).exit_code == 0


@pytest.mark.slow
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"], ids=["plain", "with a byte order mark"])
def test_a_house_with_line_ends_of_elsewhere(mark: bytes, tmp_path: Path) -> None:
    """Standard, rules, words and expectations."""
    for path in (TOP / "example_sessions" / "house").rglob("*"):
        if path.is_file():
            copy = tmp_path / path.relative_to(TOP / "example_sessions" / "house")
            copy.parent.mkdir(parents=True, exist_ok=True)
            copy.write_bytes(mark + path.read_bytes().replace(b"\r\n", b"\n").replace(b"\n", b"\r\n"))
    proven = run("rules", "--standard", tmp_path, "--prove")
    assert proven.exit_code == 0, proven.output


@pytest.mark.slow
def test_names_that_are_devices_elsewhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Channels and files called as a device are names like others, and name nothing that is written."""
    monkeypatch.setenv("MIXLINT_CACHE", str(tmp_path / "cache"))
    song = write_song(tmp_path / "song")
    text = song.read_text(encoding="utf-8").replace("Stimme ä", "CON").replace("Mix Bus", "AUX: a/b?*")
    song.write_text(text, encoding="utf-8")
    before = set(tmp_path.rglob("*"))
    for form in ("text", "json", "sarif", "junit", "html", "line"):
        assert run("review", song, "--as", form, "--out", tmp_path / f"out.{form}").exit_code == 1
    assert run("sign", song, "nothing-soloed", "--because", "meant", "--by", "MH").exit_code == 0
    assert run("sign", song, "--approve", "--mix", "1", "--by", "MH").exit_code == 0
    made = set(tmp_path.rglob("*")) - before
    assert any(path.suffix == ".measure" for path in made), "measures were kept"
    bad = [path for path in made if WINDOWS_DEVICE.match(path.name) or NOT_ON_WINDOWS.search(path.name)]
    assert not bad


def test_the_project_s_own_files_can_lie_anywhere() -> None:
    """No device names, no signs that a system forbids, none alike but for case, no links, no long paths."""
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=TOP, capture_output=True, check=False)
    if listed.returncode:
        pytest.skip("not a repository")
    names = [name for name in listed.stdout.decode("utf-8").split("\0") if name]
    parts = {part for name in names for part in name.split("/")}
    assert not [part for part in parts if WINDOWS_DEVICE.match(part) or NOT_ON_WINDOWS.search(part)]
    assert len({name.casefold() for name in names}) == len(names)
    assert not [name for name in names if (TOP / name).is_symlink()]
    assert max(map(len, names)) < 150  # 260 is the limit of old programs on Windows, with the folder before it


def test_no_permission_for_links(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Links take a right on Windows; nothing needs one."""

    def refused(*_: object, **__: object) -> None:
        raise OSError(1314, "A required privilege is not held by the client")

    for name in ("symlink", "link"):
        monkeypatch.setattr(os, name, refused)
    monkeypatch.setenv("MIXLINT_CACHE", str(tmp_path / "cache"))
    song = write_song(tmp_path / "song")
    assert run("review", song).exit_code == 1
    assert run("convert", song, "--out", tmp_path / "new.json").exit_code == 0
    assert run("convert", song, "--out", tmp_path / "new.json").exit_code == 0
    assert run("sign", song, "--approve", "--mix", "1", "--by", "MH").exit_code == 0
    assert list((tmp_path / "cache").iterdir())


@pytest.mark.slow
@pytest.mark.parametrize("home", [None, "file"])
def test_a_home_that_is_not_set_or_cannot_be_written(home: str | None, tmp_path: Path) -> None:
    """Measures are then not kept, or kept where the system says, and nothing else changes."""
    song = write_song(tmp_path / "song")
    (tmp_path / "file").write_text("a file, so that no folder can be made in it", encoding="utf-8")
    place = None if home is None else str(tmp_path / home / "gone")
    kept = str(tmp_path / "kept") if home is None else None  # where nothing names a home, the system's own is spared
    names = dict.fromkeys(("HOME", "USERPROFILE", "HOMEDRIVE", "HOMEPATH"), place)
    env = {**os.environ, "PYTHONPATH": str(TOP), **names, "XDG_CACHE_HOME": kept, "LOCALAPPDATA": kept}
    env["MIXLINT_CACHE"] = None
    done = subprocess.run(
        [sys.executable, "-m", "mixlint", "review", str(song)],
        cwd=tmp_path,
        env={name: value for name, value in env.items() if value is not None},
        capture_output=True,
        check=False,
        timeout=120,
    )
    assert (done.returncode, done.stderr) == (1, b""), done.stderr
    assert b"Stimme" in done.stdout


def test_no_home_at_all_keeps_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the system knows of no home, ``~`` stays as it is, and no folder of that name is made here."""
    for name in ("MIXLINT_CACHE", "XDG_CACHE_HOME", "LOCALAPPDATA"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr(os.path, "expanduser", lambda path: path)
    assert cache_folder() is None


def test_a_folder_that_cannot_be_written_keeps_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A home on a read-only disk (imitated, since an administrator may write anywhere)."""
    monkeypatch.setenv("MIXLINT_CACHE", str(tmp_path / "cache"))
    allowed = os.access
    monkeypatch.setattr(os, "access", lambda path, mode, **more: mode != os.W_OK and allowed(path, mode, **more))
    assert cache_folder() is None
    assert run("review", write_song(tmp_path / "song")).exit_code == 1
    assert not (tmp_path / "cache").exists()


def test_nothing_is_imported_that_only_one_system_has() -> None:
    """The standard library's modules for POSIX alone, and for Windows alone, but where their lack is met."""
    only = "fcntl|grp|pwd|pty|resource|termios|tty|syslog|posix|msvcrt|winreg|winsound|_winapi"
    asked = re.compile(rf"^\s*(?:import|from) (?:{only})\b", re.MULTILINE)
    texts = {path.name: path.read_text(encoding="utf-8") for path in (TOP / "mixlint").rglob("*.py")}
    assert {name for name, text in texts.items() if asked.search(text)} == {"apart.py"}
    assert "with suppress(ImportError" in texts["apart.py"]


def test_the_house_of_these_tests_is_a_standard(tmp_path: Path) -> None:
    (tmp_path / "mixlint-standard.toml").write_text(HOUSE, encoding="utf-8")
    assert run("rules", "--standard", tmp_path).exit_code == 0
