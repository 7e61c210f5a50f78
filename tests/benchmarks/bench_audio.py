"""Measuring the audio of a session against libebur128 on the same files, in one run.

``python -m tests.benchmarks.bench_audio`` writes stereo files of 24 bit (40 of 4 minutes; ``--files`` and ``--minutes``
make it less), then times in turn, each on as many processes as there are cores and by the clock on the wall: decoding
alone, libebur128 through pyebur128 (integrated loudness, range and true peak, its three most asked figures), mixlint's
one pass over each file, and a whole review first with cold and then with kept measures, beside one without audio. It
prints the ratios to libebur128, the highest memory of a process that measures, and what audio adds to a second review.
"""

from __future__ import annotations

import argparse
import json
import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import numpy as np
import soundfile

RATE = 48_000
NAMES = ("Gtr L", "Gtr R", "Lead Vocal", "Bass", "Kick", "Snare", "OH", "Piano", "Strings", "Pad")


def write_song(folder: Path, files: int, minutes: float) -> Path:
    """A session of stereo files, no two alike: decaying strokes and rests in noise of their own."""
    (folder / "audio").mkdir()
    channels: list[dict[str, Any]] = []
    media = []
    count = round(60.0 * minutes * RATE)
    for number in range(files):
        random = np.random.default_rng(number)
        name = f"{NAMES[number % len(NAMES)]} {number // len(NAMES) + 1}"
        with soundfile.SoundFile(folder / "audio" / f"{number}.wav", "w", RATE, 2, "PCM_24") as file:
            for start in range(0, count, RATE * 10):
                length = min(RATE * 10, count - start)
                shape = np.exp(-((np.arange(length) / RATE * random.uniform(1.5, 4.0)) % 1.0) * 6.0)
                loud = 0.0 if random.uniform() < 0.1 else random.uniform(0.05, 0.3)
                file.write(loud * shape[:, None] * random.uniform(-1.0, 1.0, (length, 2)))
        media.append({"id": f"m{number}", "path": f"audio/{number}.wav"})
        clip = {"start_s": 0.0, "end_s": 60.0 * minutes, "file": f"m{number}", "fade_in_s": 0.01, "fade_out_s": 0.01}
        strip = {"id": f"c{number}", "name": name, "kind": "track", "legs": 2, "output": "mix", "fader_db": -12.0}
        channels.append({**strip, "clips": [clip]})
    channels.append({"id": "mix", "name": "Mix Bus", "kind": "master", "legs": 2, "output": None})
    body = {
        "format": "mixlint-session/1", "title": "Bench", "sample_rate_hz": RATE,
        "timeline": {"tempos": [{"bpm": 96.0}]}, "channels": channels, "media": media,
    }  # fmt: skip
    path = folder / "song.session.json"
    path.write_text(json.dumps(body))
    return path


def decoded(path: Path) -> float:
    """Decode a file in blocks; highest resident memory of the process so far, MB."""
    with soundfile.SoundFile(path) as file:
        for _ in file.blocks(1 << 16, dtype="float32"):
            pass
    return _memory_mb()


def by_libebur128(path: Path) -> float:
    """Integrated loudness, loudness range and true peak of a file by libebur128, block by block."""
    import pyebur128

    modes = pyebur128.MeasurementMode
    with soundfile.SoundFile(path) as file:
        state = pyebur128.R128State(
            file.channels, file.samplerate, modes.MODE_I | modes.MODE_LRA | modes.MODE_TRUE_PEAK
        )
        for block in file.blocks(1 << 16, dtype="float32"):
            state.add_frames(block.reshape(-1), len(block))
    pyebur128.get_loudness_global(state)
    pyebur128.get_loudness_range(state)
    [pyebur128.get_true_peak(state, leg) for leg in range(file.channels)]
    return _memory_mb()


def by_mixlint(path: Path) -> float:
    """The one pass over a file."""
    from mixlint.media import measure_source

    measure_source(path)
    return _memory_mb()


def _memory_mb() -> float:
    import resource

    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0


def timed(work: Callable[[Path], float], files: Sequence[Path], processes: int) -> tuple[float, float]:
    """Wall seconds for all files in ``processes`` fresh processes, and the highest memory of one, MB."""
    with ProcessPoolExecutor(processes, mp_context=get_context("spawn")) as pool:
        list(pool.map(work, [files[0]] * processes))  # started, libraries loaded
        begin = time.perf_counter()
        most = max(pool.map(work, files))
        return time.perf_counter() - begin, most


def reviewed(path: Path, cache: Path, *more: str) -> float:
    """Wall seconds of ``mixlint review`` as a process."""
    begin = time.perf_counter()
    command = [sys.executable, "-m", "mixlint", "review", str(path), "--quiet", *more]
    subprocess.run(command, env={**os.environ, "MIXLINT_CACHE": str(cache)}, check=False, capture_output=True)
    return time.perf_counter() - begin


def main() -> None:
    """Read the command line, write the files, time, and print the ratios."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.bench_audio", description=__doc__)
    parser.add_argument("--files", type=int, default=40)
    parser.add_argument("--minutes", type=float, default=4.0)
    parser.add_argument("--rounds", type=int, default=3)
    given = parser.parse_args()
    processes = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
    with tempfile.TemporaryDirectory() as place:
        song = write_song(Path(place), given.files, given.minutes)
        files = sorted(Path(place, "audio").iterdir())
        works = {"decoding alone": decoded, "libebur128": by_libebur128, "mixlint": by_mixlint}
        took: dict[str, list[float]] = {name: [] for name in works}
        memory = dict.fromkeys(works, 0.0)
        for _ in range(given.rounds):
            for name, work in works.items():
                seconds, most = timed(work, files, processes)
                took[name].append(seconds)
                memory[name] = max(memory[name], most)
        yardstick = statistics.median(took["libebur128"])
        print(f"{given.files} files of {given.minutes:g} min; {processes} processes, {given.rounds} rounds")
        for name, seconds in took.items():
            middle = statistics.median(seconds)
            print(f"{name:<16} {middle:7.2f} s  {middle / yardstick:5.2f} of libebur128  {memory[name]:5.0f} MB")
        time.sleep(4.0)  # files that changed only now are hashed again each time
        cache = Path(place, "cache")
        first = reviewed(song, cache)
        again = statistics.median(reviewed(song, cache) for _ in range(3))
        silent = statistics.median(reviewed(song, cache, "--no-audio") for _ in range(3))
        print(f"first review     {first:7.2f} s  {first / yardstick:5.2f} of libebur128")
        print(f"second review    {again:7.2f} s, without audio {silent:.2f} s: audio adds {again - silent:.2f} s")


if __name__ == "__main__":
    main()
