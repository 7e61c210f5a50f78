"""Damage kept measures: an entry with flipped bits is never believed, and a forged one keeps to what a file can hold.

``python -m tests.media.flips --runs 2000 --seed 1`` takes entries of a few kinds of files in turn. In half of the runs
1 to 3 bits of the entry are flipped: nothing may come back. In the other half bits or bytes of what the entry unpacks
to are changed and it is packed and sealed again, as somebody would who wants to be believed: nothing may come back, or
a measure that any fact can be asked of. Whatever happens, nothing is raised, and none takes longer than a second.
"""

from __future__ import annotations

import random
import tempfile
import time
import zlib
from collections import Counter
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from typing import NamedTuple

import numpy as np
import soundfile

from mixlint.media.header import Header
from mixlint.media.measure import Measure
from mixlint.media.meter import measure_source
from mixlint.media.storing import fetch, keep
from tests.seeded_runs import command

SLOW_S = 1.0
HEAD = 48
"""Bytes before what is packed: a word and a checksum."""
RATE = 48_000


class Entry(NamedTuple):
    """An entry as it was kept, and the file's own header."""

    data: bytes
    header: Header


def entries(folder: Path) -> list[Entry]:
    """Entries of a stereo file, of a clipped mono one, of a coded one and of silence on six legs."""
    noise = np.random.default_rng(5).standard_normal((RATE * 6 // 5, 2)) * 0.1
    tone = (np.sin(np.arange(RATE) / 20) * 2).clip(-1, 1)
    made: tuple[tuple[str, np.ndarray, str, str], ...] = (
        ("a.wav", noise, "WAV", "PCM_24"), ("b.wav", tone, "WAV", "FLOAT"), ("c.ogg", noise, "OGG", "VORBIS"),
        ("d.wav", np.zeros((RATE // 3, 6)), "WAV", "PCM_16"),
    )  # fmt: skip
    found = []
    for name, samples, form, subtype in made:
        soundfile.write(folder / name, samples, RATE, format=form, subtype=subtype)
        measure = measure_source(folder / name)
        keep(measure, folder / "entry.measure")
        assert isinstance(fetch(folder / "entry.measure", measure.header), Measure), name
        found.append(Entry((folder / "entry.measure").read_bytes(), measure.header))
    return found


def sealed(body: bytes) -> bytes:
    """An entry that holds ``body``, packed and with the checksum that belongs to it."""
    packed = zlib.compress(body, 1)
    return b"mixlint measure\n" + sha256(packed).digest() + packed


def flipped(entry: bytes, chance: random.Random) -> bytes:
    """The entry with 1 to 3 bits flipped."""
    data = bytearray(entry)
    for bit in chance.sample(range(8 * len(data)), chance.randrange(1, 4)):
        data[bit // 8] ^= 1 << bit % 8
    return bytes(data)


_WORDS = (b"NaN", b"-1", b"1e308", b"1e9999", b"9" * 5000, b"[" * 40_000, b'"x"', b"null", b"{}", b"true", b"0", b"")


def forged(entry: bytes, chance: random.Random) -> bytes:
    """The entry with other values in it, and a checksum that fits them."""
    body = bytearray(zlib.decompress(entry[HEAD:]))
    text = int.from_bytes(body[:4], "little")
    for _ in range(chance.choice((1, 1, 2, 8))):
        kind = chance.randrange(6)
        at = chance.randrange(4 + text, len(body)) if kind < 3 else chance.randrange(4, 4 + text)
        if kind == 0:
            body[at] ^= 1 << chance.randrange(8)
        elif kind == 1:
            other = chance.choice((float("nan"), float("inf"), -1.0, 1e300, 0.0))
            body[at : at + 8] = np.float64(other).tobytes()
        elif kind == 2:
            del body[at : at + chance.choice((1, 8, 800))]
        elif kind == 3:
            body[at] ^= 1 << chance.randrange(8)
        else:  # another word in the place of a number
            start = at
            while start > 4 and chr(body[start]) in "0123456789.-e":
                start -= 1
            end = start + 1
            while end < 4 + text and chr(body[end]) in "0123456789.-e":
                end += 1
            word = chance.choice(_WORDS)
            body[start + 1 : end] = word
            text += len(word) - (end - start - 1)
            body[:4] = max(0, text).to_bytes(4, "little")
    if chance.random() < 0.05:
        body += bytes(chance.choice((1, 1 << 20, 64 << 20)))  # packs to next to nothing
    return sealed(bytes(body))


def believable(measure: Measure) -> bool:
    """Whether nothing in a measure is one that no file can give."""
    tables = (measure.energy, measure.power, measure.apart, measure.bands, measure.peak, measure.spectrum)
    signed = (measure.cross, measure.product, measure.mean, measure.lags, measure.course, measure.lines, measure.bends)
    fine = all(np.isfinite(one).all() for one in (*tables, *signed, measure.pitches, measure.lines_hz, measure.running))
    blocks = -(-measure.frames // round(measure.header.sample_rate_hz / 10))
    return bool(fine and all((one >= 0.0).all() for one in tables) and measure.energy.shape[1] == blocks)


def one_run(seed: int, made: list[Entry], folder: Path) -> str:
    """One damaged entry, read; returns what came of it.

    Raises:
        AssertionError: it was believed, or took too long.
    """
    chance = random.Random(seed)
    entry = made[seed % len(made)]
    change: Callable[[bytes, random.Random], bytes] = flipped if seed // len(made) % 2 == 0 else forged
    path = folder / "entry.measure"
    path.write_bytes(change(entry.data, chance))
    start = time.perf_counter()
    found = fetch(path, entry.header)
    assert time.perf_counter() - start < SLOW_S, "it took too long"
    if found is None:
        return f"{change.__name__}: measured anew"
    assert change is forged, "an entry with flipped bits was believed"
    assert believable(found), "a forged entry gave what no file can"
    return "forged: believed, within what the file can hold"


def run(runs: int, first_seed: int) -> Counter[str]:
    """Many runs; the first fault is raised with its seed in the message."""
    outcomes: Counter[str] = Counter()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        made = entries(folder)
        for seed in range(first_seed, first_seed + runs):
            try:
                outcomes[one_run(seed, made, folder)] += 1
            except Exception as fault:
                raise AssertionError(f"seed {seed}: {type(fault).__name__}: {fault}") from fault
    return outcomes


if __name__ == "__main__":
    command(__doc__, run, 2000)
