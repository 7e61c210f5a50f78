"""Measures kept on disk between runs, by content: ``<hash>-<version>.measure``, numbers only.

An entry may be damaged, cut short, forged, another file's or huge, and is never believed for being there: it begins
with a checksum over all the rest, bears its own name, unpacks to no more than a measure of that very file can take, and
every value in it lies where a measure of that file can lie. What the file says of itself is not kept but taken from the
file, and what follows from the tables is worked out again. Any other entry is as good as none: the file is measured
anew. A forged entry that keeps to all this is told from a true one by nothing, so that the folder is the user's own
(:mod:`mixlint.media.cache_folder`).
"""

from __future__ import annotations

import json
import os
import re
import zlib
from contextlib import suppress
from dataclasses import astuple
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from mixlint.errors import RefusedFile
from mixlint.media.measure import VERSION, Measure
from mixlint.media.sealed import Misfit, put_sealed, sealed, unpacked
from mixlint.media.stored_bounds import checked, most_bytes, rebuilt, rows_of, tables_of

if TYPE_CHECKING:
    from mixlint.media.header import Header

MOST_KEPT: Final = 256 << 20
"""How many bytes of measures are kept: a mono file of five minutes takes 404 kB, a stereo one 686 kB (noise)."""

MOST_FILES: Final = 20_000
"""How many entries are kept: those that only hold the hash of a file have 150 bytes."""

_MOST_NAMES: Final = 200_000
"""So many names of a folder are looked at when it is tidied: a bound of work in one that holds other things."""

_MOST_TEXT: Final = 8 << 20
"""The plain values of a measure; the most marks that 64 legs can have take less."""

_MAGIC: Final = b"mixlint measure\n"

_OURS: Final = re.compile(r"[0-9a-f]{64}-\d+\.(?:measure|npz|known|\w+\.part)")
"""``npz`` was the form of version 0.1.0, which nothing reads any more."""


def shelf(folder: Path, content: str) -> Path:
    """Where the measure of a file with this hash is kept."""
    return folder / f"{content.removeprefix('sha256:')}-{VERSION}.measure"


def keep(measure: Measure, path: Path) -> None:
    """Write a measure, whole or not at all; one that could not be read again is not written.

    Raises:
        OSError: the folder cannot be written.
    """
    plain = {
        "name": path.name,
        "frames": measure.frames,
        "first": measure.first,
        "last": measure.last,
        "head_peak_db": measure.head_peak_db,
        "tail_peak_db": measure.tail_peak_db,
        "rests": [list(astuple(one)) for one in measure.rests],
        "used_bits": measure.used_bits,
        "marks": [list(astuple(one)) for one in measure.marks],
        "mark_counts": measure.mark_counts,
        "bad_samples": measure.bad_samples,
        "rows": rows_of(measure),
    }
    text = json.dumps(plain, allow_nan=False).encode()
    body = b"".join((len(text).to_bytes(4, "little"), text, *tables_of(measure)))
    if len(body) > most_bytes(measure.header) + _MOST_TEXT:
        return
    put_sealed(path, _MAGIC, zlib.compress(body))


def fetch(path: Path, header: Header) -> Measure | None:
    """A measure that was kept, or None when there is none that can be believed, so that it must be made again.

    Args:
        path: where it is kept.
        header: what the file that was measured says of itself.
    """
    try:
        measure = _unpacked(path, header)
    except (OSError, RefusedFile, Misfit):
        # A cache entry that cannot be read costs a new measurement, which then replaces it.
        return None
    with suppress(OSError):  # in a folder that is only read nothing is tidied either
        os.utime(path)
    return measure


def _unpacked(path: Path, header: Header) -> Measure:
    most = most_bytes(header) + _MOST_TEXT
    body = unpacked(sealed(path, _MAGIC, most), most)
    size = int.from_bytes(body[:4], "little")
    if len(body) < 4 or size > min(len(body) - 4, _MOST_TEXT):
        raise Misfit("it is cut short")
    try:
        plain: Any = json.loads(body[4 : 4 + size])
    except (ValueError, RecursionError) as fault:  # also what is no UTF-8
        raise Misfit("it holds no values") from fault
    if not isinstance(plain, dict) or plain.get("name") != path.name:
        raise Misfit("it is the entry of another file")
    return rebuilt(checked(plain, header), body[4 + size :], header)


def tidy(folder: Path, most: int = MOST_KEPT, most_files: int = MOST_FILES, ours: re.Pattern[str] = _OURS) -> None:
    """Remove what was not used for longest, until the others are no more than ``most`` bytes and files.

    Files of other names are not touched, so that the folder may be one that holds other things.
    """
    kept: list[tuple[float, int, str]] = []
    with suppress(OSError), os.scandir(folder) as entries:  # what is gone meanwhile, another run has tidied
        for entry in islice(entries, _MOST_NAMES):
            if ours.fullmatch(entry.name) and entry.is_file(follow_symlinks=False):
                found = entry.stat(follow_symlinks=False)
                kept.append((found.st_mtime, found.st_size, entry.path))
    total, count = sum(size for _, size, _ in kept), len(kept)
    for _, size, name in sorted(kept):
        if total <= most and count <= most_files:
            break
        with suppress(OSError):
            os.unlink(name)
        total, count = total - size, count - 1
