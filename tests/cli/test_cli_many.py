"""Several sessions in one run: none costs the others, and none outlives the run."""

from __future__ import annotations

import json
import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from mixlint.errors import InputError
from mixlint.runs.each_apart import EachApart, Task
from mixlint.runs.listening import Watch
from tests.cli.bad_tasks import task

EXAMPLE = Path(__file__).resolve().parents[2] / "example_sessions" / "voice-and-one-guitar.session.json"
MIXLINT = [sys.executable, "-m", "mixlint"]


class Heard(Watch):
    watched = True

    def __init__(self) -> None:
        self.heard: list[str] = []

    def doing(self, what: str) -> None:
        self.heard.append(what)


def test_what_goes_wrong_with_one_session_costs_no_other() -> None:
    watch = Heard()
    told: dict[str, str] = {}
    with EachApart(minutes=0.05, memory=4 << 30, task=task) as apart:
        first = apart.review(Task(Path("first"), {}, None), watch)
        for name in ("fault", "hang", "death", "memory", "gone"):
            path = Path("somewhere/deep") / name
            with pytest.raises(InputError) as caught:
                apart.review(Task(path, {}, None), watch)
            told[name] = caught.value.what
            assert caught.value.where == str(path)
            assert caught.value.do
            assert apart.review(Task(Path("next"), {}, None), watch).unfitted[0] == "next"
    assert told["fault"] == (
        "a fault of mixlint itself: ZeroDivisionError in bad_tasks.py, line 18 (by a stranger's figure)"
    )
    assert told["hang"] == "it was stopped after 0.05 minutes"
    assert "ended before it was done" in told["death"]
    assert told["gone"] == "No such file or directory"
    if sys.platform == "linux":  # elsewhere the system may not bound memory
        assert told["memory"] == "it takes more memory than one session may"
    assert watch.heard == ["something"] * 11
    assert first.unfitted[1] != str(os.getpid())


STOPPED_AMID_WORKERS = """
from pathlib import Path
from mixlint.errors import InputError
from mixlint.runs.each_apart import EachApart, Task
from mixlint.runs.listening import Watch
from tests.cli.bad_tasks import task

if __name__ == "__main__":
    with EachApart(minutes=0.03, task=task) as apart:
        try:
            apart.review(Task(Path("workers"), {}, None), Watch())
        except InputError as fault:
            print(fault.what)
"""


def test_a_session_that_is_stopped_while_workers_measure_leaves_no_word_of_them(tmp_path: Path) -> None:
    """The tracker of the library's own told of leaked semaphores, on the terminal of whoever had pressed Ctrl-C."""
    (program := tmp_path / "program.py").write_text(STOPPED_AMID_WORKERS, encoding="utf-8")
    done = subprocess.run(
        [sys.executable, str(program)], capture_output=True, text=True, check=False,
        env={**os.environ, "PYTHONPATH": str(EXAMPLE.parents[1])},
    )  # fmt: skip
    assert (done.returncode, done.stdout, done.stderr) == (0, "it was stopped after 0.03 minutes\n", "")


def many(folder: Path, count: int = 4) -> list[Path]:
    paths = [folder / f"album {number}" / "song.session.json" for number in range(count)]
    for path in paths:
        path.parent.mkdir(parents=True)
        shutil.copy(EXAMPLE, path)
    return paths


def test_a_broken_session_is_told_with_its_whole_path_and_counted(tmp_path: Path) -> None:
    paths = many(tmp_path)
    paths[1].write_text('{"format": "mixlint-session/1", ', encoding="utf-8")
    paths[2].write_bytes(b"PK\3\4cut")
    done = subprocess.run(
        [*MIXLINT, "review", *map(str, paths), "--no-audio", "--as", "json"],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 2
    assert [one["source"] for one in json.loads(done.stdout)["sessions"]] == [str(paths[0]), str(paths[3])]
    lines = done.stderr.splitlines()
    assert str(paths[1]) in lines[0]
    assert str(paths[2]) in lines[1]
    assert lines[2:] == ["mixlint: 2 of 4 sessions could not be reviewed."]


def test_one_that_takes_too_long_is_stopped_with_a_word(tmp_path: Path) -> None:
    paths = many(tmp_path, 2)
    done = subprocess.run(
        [*MIXLINT, "review", *map(str, paths), "--no-audio", "--minutes", "0.0005"],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 2
    assert f"mixlint: {paths[0]}: it was stopped after 0.0005 minutes. Review it alone" in done.stderr


def others_of(group: int) -> list[int]:
    """The processes whose parent is ``group`` or that are it, on a system that shows them."""
    found = []
    for place in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = place.read_text(encoding="utf-8", errors="replace").rsplit(")", 1)[1].split()
        except OSError:
            continue
        if fields[0] != "Z" and group in (int(fields[1]), int(fields[2])):
            found.append(int(place.parent.name))
    return found


def gone(pids: list[int], within_s: float = 3.0) -> bool:
    until = time.monotonic() + within_s
    while time.monotonic() < until:
        if not any(Path(f"/proc/{pid}").exists() for pid in pids):
            return True
        time.sleep(0.05)
    return False


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="processes are looked up in /proc")
@pytest.mark.parametrize("how", [signal.SIGINT, signal.SIGKILL])
def test_a_run_that_is_stopped_leaves_no_process_behind(how: signal.Signals, tmp_path: Path) -> None:
    paths = many(tmp_path, 400)  # more than any machine reviews before it is stopped
    run = subprocess.Popen(
        [*MIXLINT, "review", *map(str, paths), "--no-audio"],
        stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True, start_new_session=True,
    )  # fmt: skip
    children: list[int] = []
    until = time.monotonic() + 20.0
    while time.monotonic() < until and not children:
        time.sleep(0.2)
        children = [pid for pid in others_of(run.pid) if pid != run.pid and b"spawn_main" in _command(pid)]
    time.sleep(0.7)
    assert children, "it did not start a process beside it"
    run.send_signal(how)
    _, told = run.communicate(timeout=20)
    assert gone(children)
    if how is signal.SIGINT:
        assert (run.returncode, told) == (130, "mixlint: stopped.\n")


def _command(pid: int) -> bytes:
    try:
        return Path(f"/proc/{pid}/cmdline").read_bytes()
    except OSError:
        return b""
