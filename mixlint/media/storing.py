"""Measures kept on disk between runs, by content: ``<hash>-<version>.npz``, numbers only, nothing is unpickled."""

from __future__ import annotations

import json
import os
import re
import tempfile
import zipfile
from contextlib import suppress
from dataclasses import asdict, astuple, fields
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from mixlint.media.header import Header
from mixlint.media.measure import KINDS, OCTAVES, VERSION, Mark, Measure, RestLevels
from mixlint.session import Unknown

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

_TABLES: Final = (
    "energy",
    "cross",
    "power",
    "product",
    "mean",
    "apart",
    "bands",
    "peak",
    "lags",
    "spectrum",
    "course",
    "lines_hz",
    "lines",
    "bends",
    "pitches",
)
_SHAPED: Final = _TABLES[:7]
FOLLOWED: Final = {"course": OCTAVES, "lines_hz": 5, "lines": 5}
"""Tables that follow a file tenth by tenth of a second, and how many rows each has."""
_RECORDS: Final[dict[str, Any]] = {"marks": Mark, "rests": RestLevels}
_MOST_BYTES: Final = 256 << 20
MOST_KEPT: Final = 256 << 20
"""How many bytes of measures are kept: a mono file of five minutes takes 404 kB, a stereo one 686 kB (noise)."""

_OURS: Final = re.compile(r"[0-9a-f]{64}-\d+\.(?:npz|known|\w+\.part)")


def shelf(folder: Path, content: str) -> Path:
    """Where the measure of a file with this hash is kept."""
    return folder / f"{content.removeprefix('sha256:')}-{VERSION}.npz"


def keep(measure: Measure, path: Path) -> None:
    """Write a measure, whole or not at all.

    Raises:
        OSError: the folder cannot be written.
    """
    import numpy as np

    plain = {field.name: getattr(measure, field.name) for field in fields(Measure) if field.init}
    tables = {name: plain.pop(name) for name in _TABLES}
    plain["header"] = {name: _out(value) for name, value in asdict(measure.header).items()}
    for name in _RECORDS:
        plain[name] = [list(astuple(one)) for one in plain[name]]
    text = json.dumps({name: _out(value) for name, value in plain.items()}, allow_nan=False)
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, half = tempfile.mkstemp(dir=path.parent, prefix=f"{path.stem}.", suffix=".part")
    try:
        with os.fdopen(handle, "wb") as file:
            np.savez_compressed(file, plain=np.frombuffer(text.encode(), np.uint8), **tables)
        os.replace(half, path)
    except BaseException:
        Path(half).unlink(missing_ok=True)
        raise


def fetch(path: Path) -> Measure | None:
    """A measure that was kept, or None when there is none or it is damaged, so that it must be made again."""
    import numpy as np

    try:
        if not path.is_file() or path.stat().st_size > _MOST_BYTES:
            return None
        with open(path, "rb") as file, np.load(file, allow_pickle=False) as held:
            plain = json.loads(bytes(held["plain"]))
            tables: dict[str, NDArray[np.float64]] = {name: held[name] for name in _TABLES}
        measure = _rebuilt(plain, tables)
    except (OSError, EOFError, ValueError, KeyError, TypeError, zipfile.BadZipFile):
        # A cache entry that cannot be read costs a new measurement, which then replaces it.
        return None
    with suppress(OSError):  # in a folder that is only read nothing is tidied either
        os.utime(path)
    return measure


def tidy(folder: Path, most: int = MOST_KEPT) -> None:
    """Remove the measures that were not used for longest, until the others take no more than ``most`` bytes.

    Files of other names are not touched, so that the folder may be one that holds other things.
    """
    kept: list[tuple[float, int, str]] = []
    with suppress(OSError), os.scandir(folder) as entries:  # what is gone meanwhile, another run has tidied
        for entry in entries:
            if _OURS.fullmatch(entry.name) and entry.is_file(follow_symlinks=False):
                found = entry.stat(follow_symlinks=False)
                kept.append((found.st_mtime, found.st_size, entry.path))
    total = sum(size for _, size, _ in kept)
    for _, size, name in sorted(kept):
        if total <= most:
            break
        with suppress(OSError):
            os.unlink(name)
        total -= size


def _rebuilt(plain: dict[str, Any], tables: dict[str, Any]) -> Measure:
    values: dict[str, Any] = {name: _in(value) for name, value in plain.items()}
    values["header"] = Header(**{name: _in(value) for name, value in plain["header"].items()})
    values["marks"] = tuple(
        Mark(str(kind), int(leg), *map(float, numbers)) for kind, leg, *numbers in plain["marks"] if kind in KINDS
    )
    values["rests"] = tuple(RestLevels(*map(float, one)) for one in plain["rests"])
    values["mark_counts"] = {str(kind): int(count) for kind, count in plain["mark_counts"].items()}
    measure = Measure(**values, **tables)
    legs, blocks = measure.legs, tables["energy"].shape[-1]
    shapes = {"cross": (blocks,), "product": (blocks,), "apart": (blocks,), "bands": (legs, OCTAVES)}
    if (
        tables["peak"].ndim != 2
        or tables["lags"].shape[1:] != (3,)
        or tables["spectrum"].ndim != 1
        or tables["pitches"].ndim != 2
        or tables["bends"].shape != (2, *tables["peak"].shape)
        or any(tables[name].shape != (rows, blocks) for name, rows in FOLLOWED.items())
    ):
        raise ValueError("a table has the wrong shape")
    for name in _SHAPED:
        if tables[name].shape != shapes.get(name, (legs, blocks)):
            raise ValueError(f"{name} has the wrong shape")
    return measure


def _out(value: Any) -> Any:
    return {"unknown": value.unknown, "settle": value.settle} if isinstance(value, Unknown) else value


def _in(value: Any) -> Any:
    if isinstance(value, dict) and "unknown" in value:
        return Unknown(**value)
    return tuple(value) if isinstance(value, list) else value
