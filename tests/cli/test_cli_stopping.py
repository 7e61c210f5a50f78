"""Stopped at any moment: one status, one line, nothing left behind."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from stop_at_any_moment import LINE, SONG, STATUS, stems, still_there, stop

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(not hasattr(os, "killpg"), reason="signals and groups of processes of POSIX"),
]


def test_stopped_at_random_moments(tmp_path: Path) -> None:
    """Eight on the way in, where libraries are imported, three at work, one while workers measure."""
    chance = random.Random()
    long = stems(tmp_path / "Lantern stems")
    moments = [(SONG, 0.0, 0.05)] * 8 + [(SONG, 0.0, 1.0)] * 3 + [(long, 0.8, 1.5)]
    for count, (what, least, most) in enumerate(moments):
        folder = tmp_path / str(count)
        folder.mkdir()
        number = signal.SIGINT if count % 3 else signal.SIGTERM
        after_s = chance.uniform(least, most)
        came = stop(what, number, after_s, folder)
        assert came.right(number), f"{number.name} after {after_s} s of {what.name}: {came}"


SWALLOWED = """
import os, signal, sys, time
from mixlint.cli import app, main
class Swallows:
    def __del__(self):
        os.kill(os.getpid(), signal.{name})
        time.sleep(0.01)
def run():
    one = Swallows()
    del one  # what is raised in here gets lost
    {then}
app.run = run
main()
"""


@pytest.mark.parametrize(
    ("name", "then"), [("SIGINT", "time.sleep(60)"), ("SIGTERM", "sys.exit(0)"), ("SIGINT", "raise ValueError('x')")]
)
def test_a_stop_that_gets_lost_still_stops(name: str, then: str) -> None:
    """A finalizer and a callback from C swallow what is raised in them (Python, sys.unraisablehook)."""
    begun = time.monotonic()
    code = SWALLOWED.format(name=name, then=then)
    result = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60)
    assert (result.returncode, result.stderr) == (STATUS[signal.Signals[name]], LINE)
    assert time.monotonic() - begun < 20


def test_a_second_stop_changes_nothing() -> None:
    code = (
        "import os, signal, time\nfrom mixlint.cli import app, main\ndef run():\n    try:\n"
        "        os.kill(os.getpid(), signal.SIGTERM)\n        time.sleep(9)\n    finally:\n"
        "        os.kill(os.getpid(), signal.SIGINT)\n        time.sleep(0.05)\napp.run = run\nmain()\n"
    )
    result = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60)
    assert (result.returncode, result.stderr) == (143, LINE)


def test_who_has_it_ignored_is_not_stopped() -> None:
    """As ``nohup`` and a shell's ``&`` ask for (POSIX, 2.12 of the shell's chapter)."""
    code = (
        "import os, signal\nsignal.signal(signal.SIGINT, signal.SIG_IGN)\nfrom mixlint.cli import app, main\n"
        "app.run = lambda: os.kill(os.getpid(), signal.SIGINT)\nmain()\n"
    )
    result = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60)
    assert (result.returncode, result.stderr) == (0, "")


WORKERS = """
import sys, time
from multiprocessing import active_children
from threading import Thread
from pathlib import Path
from mixlint.media.places import Place
from mixlint.media.workers import measure_in_workers

def tell():
    while len(active_children()) < 2:
        time.sleep(0.02)
    print(*[one.pid for one in active_children()], flush=True)

if __name__ == "__main__":
    Thread(target=tell, daemon=True).start()
    for _ in measure_in_workers([{places}], 2):
        pass
"""


def test_workers_end_with_who_waits_for_them(tmp_path: Path) -> None:
    """Also where it was killed, and could end none of them: no process is left two seconds later."""
    folder = stems(tmp_path / "stems")
    script = tmp_path / "script.py"
    places = ", ".join(
        f"Place(Path({str(folder)!r}), {file.name!r}, {file.name!r})" for file in sorted(folder.iterdir())
    )
    script.write_text(WORKERS.format(places=places))
    with subprocess.Popen(
        [sys.executable, script], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True, start_new_session=True
    ) as process:
        assert process.stdout is not None
        workers = process.stdout.readline().split()
        time.sleep(0.7)  # they are on their way in, or at work
        process.kill()
    assert len(workers) == 2
    assert not still_there(process.pid)


def test_a_process_apart_ends_with_who_waits_for_it(tmp_path: Path) -> None:
    """One that hangs in a library too."""
    (tmp_path / "hangs.py").write_text(
        "import sys, time\nfrom mixlint.media.apart import end_with_caller\nend_with_caller()\n"
        "open(sys.argv[1], 'w').close()\ntime.sleep(60)\n"
    )
    there = tmp_path / "there"
    code = f"from mixlint.media.apart import run_apart\nrun_apart('hangs', [{str(there)!r}])\n"
    with subprocess.Popen(
        [sys.executable, "-c", code],
        env={**os.environ, "PYTHONPATH": os.pathsep.join([str(tmp_path), os.environ.get("PYTHONPATH", "")])},
        start_new_session=True,
    ) as process:
        end = time.monotonic() + 30
        while not there.exists() and time.monotonic() < end:
            time.sleep(0.02)
        process.kill()
    assert there.exists()
    assert not still_there(process.pid)
