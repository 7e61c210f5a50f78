"""Measures kept on disk between runs, by content: ``<hash>-<version>.npz``, numbers only, nothing is unpickled."""

from __future__ import annotations

import json
import os
import tempfile
import zipfile
from dataclasses import asdict, fields
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from mixlint.media.header import Header
from mixlint.media.measure import VERSION, Measure, Run
from mixlint.session import Unknown

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

_TABLES: Final = ("energy", "cross", "power", "product", "mean", "peak")
_RUNS: Final = ("clipped", "zero_runs")
_MOST_BYTES: Final = 256 << 20


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
    for name in _RUNS:
        plain[name] = [[run.leg, run.start_s, run.length, run.level_db] for run in plain[name]]
    text = json.dumps({name: _out(value) for name, value in plain.items()}, allow_nan=False)
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, half = tempfile.mkstemp(dir=path.parent, suffix=".part")
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
        return _rebuilt(plain, tables)
    except (OSError, EOFError, ValueError, KeyError, TypeError, zipfile.BadZipFile):
        # A cache entry that cannot be read costs a new measurement, which then replaces it.
        return None


def _rebuilt(plain: dict[str, Any], tables: dict[str, Any]) -> Measure:
    values: dict[str, Any] = {name: _in(value) for name, value in plain.items()}
    values["header"] = Header(**{name: _in(value) for name, value in plain["header"].items()})
    for name in _RUNS:
        values[name] = tuple(Run(int(a), float(b), int(c), float(d)) for a, b, c, d in plain[name])
    measure = Measure(**values, **tables)
    legs, blocks = measure.legs, tables["energy"].shape[-1]
    shapes = {"cross": (blocks,), "product": (blocks,)}
    for name in _TABLES[:5]:
        if tables[name].shape != shapes.get(name, (legs, blocks)):
            raise ValueError(f"{name} has the wrong shape")
    return measure


def _out(value: Any) -> Any:
    return {"unknown": value.unknown, "settle": value.settle} if isinstance(value, Unknown) else value


def _in(value: Any) -> Any:
    if isinstance(value, dict) and "unknown" in value:
        return Unknown(**value)
    return tuple(value) if isinstance(value, list) else value
