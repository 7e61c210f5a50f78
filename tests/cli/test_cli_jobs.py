"""Several sessions at a time: one order, the same bytes, none costs another, and what is done is not done again."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from concurrent.futures import Future
from pathlib import Path
from typing import Any

import pytest
from cli_sessions import Run, half_wet, session_body, write_session
from hypothesis import given
from hypothesis import strategies as st

from mixlint.errors import InputError, MixlintError
from mixlint.runs.crew import Crew
from mixlint.runs.each_apart import Made, Task
from mixlint.runs.in_order import AHEAD, InOrder
from mixlint.runs.listening import Watch
from tests.cli.bad_tasks import task

MIXLINT = [sys.executable, "-m", "mixlint"]


def album(folder: Path, count: int = 4) -> list[Path]:
    """Songs of which every other one is held, and every third has one title."""
    folder.mkdir(exist_ok=True)
    found = []
    for number in range(count):
        body = session_body(title="Lamp" if number % 3 == 0 else f"Lamp {number}")
        (path := folder / f"{number:02}.json").write_text(json.dumps(half_wet(body) if number % 2 else body))
        found.append(path)
    return found


@pytest.mark.slow
def test_the_output_hangs_neither_on_jobs_nor_on_what_was_kept(tmp_path: Path, mixlint: Run) -> None:
    """One at a time without anything kept, three at a time, and from what these kept; three forms, each put together in
    a way of its own."""
    songs = album(tmp_path / "songs")
    (broken := tmp_path / "songs" / "01b.json").write_text('{"format": "mixlint-session/1", ')
    songs.insert(2, broken)
    for form in ("json", "junit", "html"):
        command = ("review", *songs, "--no-audio", "--as", form)
        one = mixlint(*command, "--jobs", 1, env={"MIXLINT_CACHE": ""})
        three = mixlint(*command, "--jobs", 3)
        again = mixlint(*command)
        assert (one.stdout, one.stderr, one.returncode) == (three.stdout, three.stderr, three.returncode), form
        assert (one.stdout, one.stderr, one.returncode) == (again.stdout, again.stderr, again.returncode), form
        assert (one.returncode, one.stderr.count(b"\n")) == (2, 2)
        assert b"1 of 5 sessions could not be reviewed." in one.stderr


@pytest.mark.slow
def test_a_file_holds_what_stdout_has(tmp_path: Path, mixlint: Run) -> None:
    songs = album(tmp_path / "songs", 3)
    for form in ("text", "junit"):
        out = tmp_path / f"out.{form}"
        there = mixlint("review", *songs, "--no-audio", "--as", form, "--out", out)
        assert (there.stdout, there.returncode) == (b"", 1), there.stderr
        here = mixlint("review", *songs, "--no-audio", "--as", form)
        mark = b"\nwritten by mixlint\n" if form == "text" else b""
        assert out.read_bytes() == here.stdout + mark
        again = mixlint("review", *songs, "--no-audio", "--as", form, "--out", out)
        assert again.returncode == 1, again.stderr


class Slowly:
    """Hands that finish tasks in the order they are told to, and count how many are waited for."""

    def __init__(self) -> None:
        self.taken: list[tuple[Task, Future[Made]]] = []
        self.most = 0

    def submit(self, asked: Task, watch: Watch) -> Future[Made]:
        future: Future[Made] = Future()
        self.taken.append((asked, future))
        return future


@given(
    order=st.permutations(range(12)), jobs=st.integers(1, 3), known=st.sets(st.integers(0, 11)), bad=st.integers(0, 11)
)
def test_sessions_are_told_in_their_order_whatever_finishes_first(
    order: list[int], jobs: int, known: set[int], bad: int
) -> None:
    """However the work goes, what is told is the list of sessions, and no more than a few are under way."""
    hands = Slowly()
    sessions = [Path(str(number)) for number in range(12)]

    def waits_for(_: Path) -> None:
        open_ones = [(asked, future) for asked, future in hands.taken if not future.done()]
        hands.most = max(hands.most, len(open_ones))
        for asked, future in sorted(open_ones, key=lambda one: order[int(one[0].path.name)]):
            number = int(asked.path.name)
            if number == bad:
                future.set_exception(InputError("bad"))
            else:
                future.set_result(Made(unfitted=(asked.path.name,)))

    def recall(at: int) -> Made | None:
        return Made(unfitted=(f"kept {at}",)) if at % 2 else None  # some that were known are gone after all

    class Late(Slowly):
        def submit(self, asked: Task, watch: Watch) -> Future[Made]:
            future = hands.submit(asked, watch)
            if int(asked.path.name) in known:
                waits_for(asked.path)
            return future

    told = list(
        InOrder[Made](
            sessions,
            lambda path: Task(path, {}, None),
            Late(),
            jobs,
            lambda _: Watch(),
            waits_for,
            frozenset(known),
            recall,
        )
    )
    assert [path for path, _ in told] == sessions
    for number, (_, came) in enumerate(told):
        if number in known and number % 2:
            assert isinstance(came, Made)
            assert came.unfitted == (f"kept {number}",)
        elif number == bad:
            assert isinstance(came, MixlintError)
        else:
            assert isinstance(came, Made)
            assert came.unfitted == (str(number),)
    assert hands.most <= AHEAD * jobs + 1


@pytest.mark.slow
def test_a_worker_that_is_killed_costs_one_session() -> None:
    names = ["a", "death", "b", "c", "death", "d", "fault", "e"]
    with Crew(2, minutes=0.5, task=task) as crew:
        futures = [crew.submit(Task(Path(name), {}, None), Watch()) for name in names]
        came: list[Any] = []
        for future in futures:
            try:
                came.append(future.result().unfitted[0])
            except InputError as fault:
                came.append(fault.what[:20])
    assert came == ["a", "the process that rev", "b", "c", "the process that rev", "d", "a fault of mixlint i", "e"]


def test_a_crew_that_is_left_ends_what_is_under_way() -> None:
    begun = time.monotonic()
    with Crew(2, minutes=5, task=task) as crew:
        hanging = [crew.submit(Task(Path("hang"), {}, None), Watch()) for _ in range(4)]
        time.sleep(0.5)
    assert time.monotonic() - begun < 30
    assert all(one.done() for one in hanging)


@pytest.mark.slow
@pytest.mark.skipif(os.name == "nt", reason="signals of POSIX")
def test_what_was_done_before_a_stop_is_written_and_not_done_again(tmp_path: Path, mixlint: Run) -> None:
    songs = album(tmp_path / "songs", 80)
    command = [*MIXLINT, "review", *map(str, songs), "--no-audio", "--as", "line", "--jobs", "1"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as run:
        assert run.stdout is not None
        first = run.stdout.readline()
        run.send_signal(signal.SIGINT)
        rest, told = run.communicate(timeout=60)
    assert (run.returncode, told) == (130, "mixlint: stopped.\n")
    kept = {one: one.stat().st_ino for one in Path(os.environ["MIXLINT_CACHE"]).rglob("*.part")}
    written = first + rest
    assert 1 <= written.count("\toutcome\t") <= len(kept) + 1 < 80
    done = mixlint("review", *songs, "--no-audio", "--as", "line", "--jobs", 2)
    text = done.stdout.decode()
    assert done.returncode == 1
    assert text.count("\toutcome\t") == 80
    assert text.startswith(written[: written.rfind("\n") + 1])
    left = {one: one.stat().st_ino for one in kept}
    assert sum(left[one] == kept[one] for one in kept) >= len(kept) - 2  # those that were fresh may have new stamps
    assert not list(Path(os.environ["MIXLINT_CACHE"]).rglob("*.half"))


@pytest.mark.slow
def test_a_stop_leaves_no_half_file(tmp_path: Path) -> None:
    songs = album(tmp_path / "songs", 80)
    (folder := tmp_path / "out").mkdir()
    command = [*MIXLINT, "review", *map(str, songs), "--no-audio", "--as", "json", "--out", str(folder / "r.json")]
    with subprocess.Popen([*command, "--jobs", "1"], stderr=subprocess.PIPE, text=True) as run:
        until = time.monotonic() + 30
        while not list(folder.iterdir()) and time.monotonic() < until:
            time.sleep(0.02)
        run.send_signal(signal.SIGINT)
        told = run.communicate(timeout=60)[1]
    assert (run.returncode, told, list(folder.iterdir())) == (130, "mixlint: stopped.\n", [])


def test_more_jobs_than_sessions_and_none_at_all(tmp_path: Path, mixlint: Run) -> None:
    songs = [write_session(tmp_path / f"{number}.json") for number in range(2)]
    assert mixlint("review", *songs, "--jobs", 9).returncode == 0
    assert mixlint("review", *songs, "--jobs", 0).returncode == 2


@pytest.mark.slow
def test_a_run_in_which_nothing_changed_loads_neither_rules_nor_numbers(tmp_path: Path, mixlint: Run) -> None:
    songs = album(tmp_path / "songs", 2)
    for form, more in (("junit", ()), ("html", ("--out", f"{tmp_path}/pages/"))):
        command = ("review", *songs, "--no-audio", "--as", form, *more)
        assert mixlint(*command).returncode == 1
        again = mixlint(*command, env={"PYTHONPROFILEIMPORTTIME": "1"})
        assert again.returncode == 1
        loaded = {line.rpartition(b"|")[2].strip() for line in again.stderr.splitlines()}
        assert b"mixlint.runs.kept" in loaded
        assert not loaded & {b"numpy", b"mixlint.rulebook", b"mixlint.review", b"multiprocessing.process"}
