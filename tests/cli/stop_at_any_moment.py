"""Stop reviews at random moments, many times: ``python tests/cli/stop_at_any_moment.py [TIMES] [SEED]`` for the night.

The tests do the same twelve times. Each stop gives the exit status, what stood on stderr, and what is left: processes
of its session two seconds later, and files beside the output that is none.
"""

from __future__ import annotations

import os
import random
import signal
import struct
import subprocess
import sys
import tempfile
import time
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

SONG = Path(__file__).parents[2] / "example_sessions" / "sixpenny-weathervane.session.json"
LINE = "mixlint: stopped.\n"
STATUS = {signal.SIGINT: 130, signal.SIGTERM: 143}
GRACE_S = 2.0


class Stop(NamedTuple):
    """What became of one that was stopped."""

    status: int
    said: str
    running: bool
    files: list[str]

    def right(self, number: signal.Signals) -> bool:
        """Stopped with its status and one line and nothing left; or done before the signal came, with all written."""
        done = self.status in (0, 1) and self.said == "" and self.files == ["out.json"]
        stopped = self.status == STATUS[number] and self.said == LINE and self.files in ([], ["out.json"])
        return (done or stopped) and not self.running


def long_sound(path: Path, seconds: int = 3600) -> Path:
    """A wave file of silence, 16-bit mono at 48 kHz, of which the disk holds nothing but its head."""
    size = seconds * 48_000 * 2
    head = struct.pack("<4sI4s4sIHHIIHH4sI", b"RIFF", 36 + size, b"WAVE", b"fmt ", 16, 1, 1, 48_000, 96_000, 2, 16,
                       b"data", size)  # fmt: skip
    with path.open("wb") as file:
        file.write(head)
        file.truncate(len(head) + size)
    return path


def stems(folder: Path) -> Path:
    """A folder of two stems that take long to measure, so that it is done in workers."""
    folder.mkdir()
    for name in ("Bass.wav", "Drums.wav"):
        long_sound(folder / name)
    return folder


def stop(what: Path, number: signal.Signals, after_s: float, folder: Path) -> Stop:
    """Review ``what``, and send the signal so long after the program has begun to meet signals."""
    read, write = os.pipe()
    code = f"import os; from mixlint.cli import main; main(lambda: os.close({write}))"
    out = folder / "out.json"
    with subprocess.Popen(
        [sys.executable, "-c", code, "review", str(what), "--as", "json", "--out", str(out)],
        pass_fds=(write,),
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        start_new_session=True,
        env={**os.environ, "MIXLINT_CACHE": str(folder / "cache")},
        text=True,
    ) as process:
        os.close(write)
        os.read(read, 1)
        os.close(read)
        time.sleep(after_s)
        if number == signal.SIGINT:
            os.killpg(process.pid, number)  # as a terminal does: to all of them
        else:
            process.send_signal(number)
        said = process.communicate(timeout=60)[1]
    running = still_there(process.pid)
    left = [one for one in os.listdir(folder) if one != "cache"]
    left += [one.name for one in (folder / "cache").glob("**/*.part")]
    return Stop(process.returncode, said, running, left)


def still_there(group: int) -> bool:
    """Whether any process of a group is still there after the time they have."""
    end = time.monotonic() + GRACE_S
    while time.monotonic() < end:
        if not _running(group):
            return False
        time.sleep(0.05)
    return True


def _running(group: int) -> bool:
    """Whether any of a group runs; what ended and was not yet fetched by the system's first process does not."""
    try:
        os.killpg(group, 0)
    except ProcessLookupError:
        return False
    if not os.path.exists("/proc/self/stat"):
        return True
    for one in filter(str.isdigit, os.listdir("/proc")):
        with suppress(OSError):  # it ended in the meantime
            state, _, its_group = Path("/proc", one, "stat").read_text().rpartition(")")[2].split()[:3]
            if int(its_group) == group and state not in "ZX":
                return True
    return False


def main(times: int, seed: int) -> int:
    """Stop so many times; the exit status is 1 where anything was not as it is to be."""
    chance = random.Random(seed)
    wrong = 0
    with tempfile.TemporaryDirectory() as place:
        long = stems(Path(place) / "Lantern stems")
        for count in range(times):
            folder = Path(place) / str(count)
            folder.mkdir()
            number = chance.choice([signal.SIGINT, signal.SIGTERM])
            what, most_s = chance.choice([(SONG, 0.06), (SONG, 2.0), (long, 4.0)])
            after_s = chance.uniform(0.0, most_s)
            came = stop(what, number, after_s, folder)
            if not came.right(number):
                wrong += 1
                print(f"{number.name} after {after_s:.4f} s of {what.name}: {came}")
    print(f"{times} stopped, seed {seed}: {wrong} wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 200, int(sys.argv[2]) if len(sys.argv) > 2 else 1))
