"""The command line as a process of its own: imports, pipes, encodings, terminals, signals, faults."""

from __future__ import annotations

import os
import re
import select
import subprocess
import sys
import time
from pathlib import Path

import pytest
from cli_sessions import Run
from typer.testing import CliRunner

from mixlint import __version__
from mixlint.cli.app import app, run

pytestmark = pytest.mark.slow


def test_version(mixlint: Run) -> None:
    """One line, the version of the package."""
    result = mixlint("--version")
    assert (result.returncode, result.stdout.decode()) == (0, f"mixlint {__version__}\n")


def test_no_arguments_show_the_help(mixlint: Run) -> None:
    """Every command is named."""
    result = mixlint()
    said = (result.stdout + result.stderr).decode()
    for command in ("review", "watch", "sheet", "trace", "rules", "begin", "facts", "schema", "convert"):
        assert command in said


HEAVY = (
    "scipy", "matplotlib", "jinja2", "rich.table", "soundfile", "lxml.etree", "distributed", "duckdb", "pyarrow",
    "watchfiles", "http.server", "mixlint.watching", "dask", "fsspec", "mixlint.runs.cluster",
    "mixlint.runs.storage",
)  # fmt: skip
SONG = Path(__file__).parents[2] / "example_sessions" / "sixpenny-weathervane.session.json"
"""A whole song with automation and no loop, under the whole checklist."""

IDLE = (
    "networkx", "numpy.ma", "mixlint.importers.dawproject", "mixlint.importers.stems", "mixlint.media.library",
    "mixlint.media.audio", "mixlint.reports.text", "mixlint.reports.page.document", "mixlint.reports.sarif",
    "mixlint.reports.junit", "mixlint.signoffs.apply", "mixlint.comparison.changes", "mixlint.routing.trace",
)  # fmt: skip
"""What a JSON review of that song has no use for: other forms, audio, loops, sign-offs, earlier revisions."""


@pytest.mark.parametrize(
    ("arguments", "absent"),
    [
        (["review", "SESSION", "--as", "json", "--no-audio"], HEAVY),
        (["review", str(SONG), "--as", "json", "--no-audio", "--standard", "pre-bounce"], (*HEAVY, *IDLE)),
        (["review", "SESSION", "--no-audio"], HEAVY),
        (["rules"], (*HEAVY, "networkx")),
        (["schema", "session"], (*HEAVY, "numpy", "networkx", "lxml", "mixlint.facts", "mixlint.rulebook")),
        (["--version"], (*HEAVY, "numpy", "networkx", "lxml", "mixlint.facts", "mixlint.rulebook")),
    ],
)
def test_start_up_imports_only_what_it_needs(arguments: list[str], absent: tuple[str, ...], clear: Path) -> None:
    """Start-up is kept short by what is not imported: steadier than a stop-watch."""
    code = (
        "import sys\n"
        "from mixlint.cli import main\n"
        "try:\n    main()\n"
        "except SystemExit as end:\n    assert not end.code, end.code\n"
        "print(*sorted(sys.modules), file=sys.stderr)\n"
    )
    given = [str(clear) if a == "SESSION" else a for a in arguments]
    result = subprocess.run([sys.executable, "-c", code, *given], capture_output=True, check=True, timeout=120)
    loaded = set(result.stderr.decode().split())
    assert "mixlint.cli.app" in loaded
    assert not loaded & set(absent)


def test_help_to_a_closed_pipe_is_not_held() -> None:
    """Exit status 1 means held and nothing else."""
    read, write = os.pipe()
    os.close(read)
    with open(write, "wb") as closed:
        result = subprocess.run(
            [sys.executable, "-m", "mixlint", "review", "--help"],
            stdout=closed,
            stderr=subprocess.PIPE,
            check=False,
            timeout=120,
        )
    assert (result.returncode, b"Traceback" in result.stderr) == (2, False)


def test_a_closed_pipe_ends_quietly(held: Path) -> None:
    """The reader goes away before the first line: a message, exit status 2, no traceback."""
    read, write = os.pipe()
    os.close(read)
    with open(write, "wb") as closed:
        result = subprocess.run(
            [sys.executable, "-m", "mixlint", "review", str(held), "--everything"],
            stdout=closed,
            stderr=subprocess.PIPE,
            check=False,
            timeout=120,
        )
    assert result.returncode == 2
    assert result.stderr.decode().splitlines() == ["mixlint: the reader of the output went away before the end."]


@pytest.mark.skipif(os.name != "posix", reason="closes streams with a POSIX shell")
@pytest.mark.parametrize(
    ("line", "status"),
    [
        ("review held.json <&- >&- 2>&-", 1),
        ("review held.json >&-", 1),
        ("review missing.json 2>&-", 2),
        ("review missing.json >&- 2>&-", 2),
        ("review held.json --out told.txt >&-", 1),
        ("--help >&-", 0),
    ],
)
def test_a_stream_that_the_caller_closed(line: str, status: int, held: Path) -> None:
    """The exit status still tells held from clear and from unusable, and no message lands in a file."""
    before = held.rename(held.with_name("held.json")).read_bytes()
    result = subprocess.run(
        ["sh", "-c", f'"{sys.executable}" -m mixlint {line}'], cwd=held.parent, capture_output=True, timeout=120
    )
    assert (result.returncode, result.stdout, result.stderr) == (status, b"", b"")
    assert held.with_name("held.json").read_bytes() == before


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="needs a device that is always full")
@pytest.mark.parametrize("arguments", [("--help",), ("rules",), ("review", "SESSION", "--as", "json")])
def test_a_full_disk_is_said(arguments: tuple[str, ...], clear: Path) -> None:
    """write(2) fails with ENOSPC on /dev/full (Linux, full(4))."""
    given = [str(clear) if one == "SESSION" else one for one in arguments]
    with open("/dev/full", "wb") as full:
        result = subprocess.run(
            [sys.executable, "-m", "mixlint", *given], stdout=full, stderr=subprocess.PIPE, check=False, timeout=120
        )
    assert result.returncode == 2
    assert result.stderr.decode() == "mixlint: No space left on device.\n"


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp1252", "utf-8"])
def test_any_stdout_encoding_will_do(encoding: str, held: Path, mixlint: Run) -> None:
    """Text bends to the terminal's encoding; minus signs become hyphens where they must."""
    result = mixlint("review", held, "--why", env={"PYTHONIOENCODING": encoding, "PYTHONUTF8": "0"})
    assert result.returncode == 1, result.stderr
    text = result.stdout.decode(encoding)
    assert ("−40" if encoding == "utf-8" else "-40") in text


def test_json_is_utf_8_whatever_the_terminal(held: Path, mixlint: Run) -> None:
    """RFC 8259 section 8.1: JSON exchanged between systems is UTF-8."""
    result = mixlint("review", held, "--as", "json", env={"PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"})
    assert "−3.01 dB" in result.stdout.decode("utf-8")


def on_a_terminal(session: Path, **env: str) -> str:
    """What review shows on a pseudo-terminal 90 columns wide."""
    pty = pytest.importorskip("pty")
    fcntl, struct, termios = (__import__(name) for name in ("fcntl", "struct", "termios"))
    parent, child = pty.openpty()
    fcntl.ioctl(child, termios.TIOCSWINSZ, struct.pack("HHHH", 40, 90, 0, 0))
    surroundings = {**os.environ, "TERM": "xterm", "PYTHONIOENCODING": "utf-8", **env}
    with subprocess.Popen(
        [sys.executable, "-m", "mixlint", "review", str(session)],
        stdin=child,
        stdout=child,
        stderr=child,
        env=surroundings,
    ) as process:
        os.close(child)
        shown = b""
        end = time.monotonic() + 60
        while time.monotonic() < end:
            if select.select([parent], [], [], 0.2)[0]:
                try:
                    got = os.read(parent, 65536)
                except OSError:  # the terminal is gone: Linux says so with EIO
                    break
                if not got:
                    break
                shown += got
            elif process.poll() is not None:
                break
        os.close(parent)
    return shown.decode("utf-8")


def test_a_terminal_gets_bold_dim_and_the_colour_of_a_grade(held: Path) -> None:
    """SGR 1, 2, 0 and bold red only (ECMA-48), as wide as the terminal."""
    shown = on_a_terminal(held)
    assert set(re.findall(r"\x1b\[([0-9;]*)m", shown)) == {"0", "1", "2", "1;31"}
    assert "\x1b[1;31moutcome   held: do not bounce yet\x1b[0m" in shown
    assert "─" * 90 in shown
    assert "─" * 91 not in shown


@pytest.mark.parametrize("env", [{"NO_COLOR": "1"}, {"NO_COLOR": "0"}, {"TERM": "dumb"}])
def test_no_color_is_honoured(env: dict[str, str], held: Path) -> None:
    """no-color.org: when NO_COLOR is set and not empty, nothing is coloured, or made bold here."""
    shown = on_a_terminal(held, **env)
    assert "held: do not bounce yet" in shown
    assert "\x1b[" not in shown


@pytest.mark.parametrize(
    ("env", "coloured"),
    [
        ({}, False),
        ({"FORCE_COLOR": ""}, False),
        ({"FORCE_COLOR": "0"}, True),
        ({"FORCE_COLOR": "1", "NO_COLOR": "1"}, True),
        ({"FORCE_COLOR": "1", "TERM": "dumb"}, True),
    ],
)
def test_force_color_is_honoured(
    env: dict[str, str], coloured: bool, held: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """force-color.org: when set and not empty, whatever its value, colour is forced, and NO_COLOR comes before it.

    What is told is the same with it and without; a file has none.
    """
    plain = CliRunner().invoke(app, ["review", str(held)]).stdout
    for name, value in env.items():
        monkeypatch.setenv(name, value)
    shown = CliRunner().invoke(app, ["review", str(held)], color=True).stdout
    assert ("\x1b[1;31m" in shown) is coloured
    assert re.sub(r"\x1b\[[0-9;]*m", "", shown) == plain
    out = tmp_path / "told.txt"
    assert CliRunner().invoke(app, ["review", str(held), "--out", str(out)]).exit_code == 1
    assert b"\x1b" not in out.read_bytes()


def test_a_pipe_gets_plain_text_and_no_progress(held: Path, mixlint: Run) -> None:
    """No escapes on stdout, nothing at all on stderr."""
    result = mixlint("review", held)
    assert b"\x1b" not in result.stdout
    assert result.stderr == b""


def test_an_interrupt_exits_with_130(clear: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """128 + SIGINT, as shells count."""

    def interrupted(path: Path, words: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("mixlint.importers.read", interrupted)
    result = CliRunner().invoke(app, ["review", str(clear)])
    assert result.exit_code == 130
    assert "Traceback" not in result.output


def test_a_fault_of_mixlint_itself_shows_its_traceback(
    clear: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """It is not swallowed, and its exit status cannot be taken for *held*."""

    def faulty(path: Path, words: object) -> None:
        raise ZeroDivisionError("a fault planted by the test")

    monkeypatch.setattr("mixlint.importers.read", faulty)
    monkeypatch.setattr(sys, "argv", ["mixlint", "review", str(clear)])
    with pytest.raises(SystemExit) as end:
        run()
    assert end.value.code == 2
    said = capsys.readouterr().err
    assert "Traceback" in said
    assert "a fault planted by the test" in said
    assert "please report" in said


def test_a_session_that_may_not_be_read(clear: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A foreseen fault of the file system: message, exit status 2."""

    def refused(path: Path, words: object) -> None:
        raise PermissionError(13, "Permission denied", str(path))

    monkeypatch.setattr("mixlint.importers.read", refused)
    result = CliRunner().invoke(app, ["review", str(clear)])
    assert result.exit_code == 2
    assert "Permission denied" in result.stderr
    assert "Traceback" not in result.output
