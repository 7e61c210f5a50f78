"""What a kept measure of a file can hold: its tables, their lengths, and where every value of them can lie."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from mixlint.media.measure import (
    BLOCK_S,
    KINDS,
    MARKS,
    OCTAVES,
    Mark,
    Measure,
    RestLevels,
    decibels,
    programme_lufs,
)
from mixlint.media.sealed import Misfit
from mixlint.units import LOUDEST_DB, SILENCE_DB

if TYPE_CHECKING:
    from collections.abc import Mapping

    import numpy as np
    from numpy.typing import NDArray

    from mixlint.media.header import Header

MOST_BYTES: Final = 256 << 20
"""Tables that take more are not kept: a stereo file of twenty hours, one of 64 legs and an hour."""

LOUDEST: Final = 1e5
"""The largest sample that is measured, as the meter has it: what lies beyond is taken for damage."""

_POWER: Final = 100.0 * LOUDEST**2
"""The largest mean square: K-weighting raises what is high by 4 dB (ITU-R BS.1770-5), and a difference by 6 dB."""

_FREE: Final = ("lags", "spectrum", "pitches")
"""Tables whose length does not follow from the file's."""

_CELLS: Final = 10
_NOTES: Final = 120
_SPECTRUM_HZ: Final = 100.0
_PITCHES_S: Final = 2.5
_LOSSY_FACTOR: Final = 4.0
"""The length that a coded file states may be an estimate."""


class _Table(NamedTuple):
    """A table as it is kept: its type of number, its shape, and where its values lie."""

    kind: str
    shape: tuple[int, ...]
    least: float
    most: float


class Plain(NamedTuple):
    """The values of an entry beside its tables, each of them checked."""

    frames: int
    first: tuple[float, ...]
    last: tuple[float, ...]
    head_peak_db: tuple[float, ...]
    tail_peak_db: tuple[float, ...]
    rests: tuple[RestLevels, ...]
    used_bits: int
    marks: tuple[Mark, ...]
    mark_counts: dict[str, int]
    bad_samples: int
    rows: dict[str, int]


def _hop(header: Header) -> int:
    return max(1, round(BLOCK_S * header.sample_rate_hz))


def _most_frames(header: Header) -> int:
    return int(header.frames * (_LOSSY_FACTOR if header.lossy else 1.0))


def most_bytes(header: Header) -> int:
    """How many bytes the tables of a file can take, by what it says of its length, rate and legs."""
    blocks = -(-_most_frames(header) // _hop(header))
    layout = _layout(header, blocks, {name: _most_rows(name, blocks, header) for name in _FREE})
    return min(MOST_BYTES, sum(_size(table) for table in layout.values()))


def _most_rows(name: str, blocks: int, header: Header) -> int:
    if name == "spectrum":
        return int(header.sample_rate_hz / 2.0 / _SPECTRUM_HZ) + 2
    if name == "pitches":
        return int(blocks * _hop(header) / header.sample_rate_hz / _PITCHES_S) + 2
    return blocks


def _layout(header: Header, blocks: int, rows: Mapping[str, int]) -> dict[str, _Table]:
    legs, half = header.legs, header.sample_rate_hz / 2.0
    length = blocks * _hop(header) / header.sample_rate_hz
    db = (SILENCE_DB, LOUDEST_DB)
    return {
        "energy": _Table("<f8", (legs, blocks), 0.0, _POWER),
        "cross": _Table("<f8", (blocks,), -_POWER, _POWER),
        "power": _Table("<f8", (legs, blocks), 0.0, _POWER),
        "product": _Table("<f8", (blocks,), -_POWER, _POWER),
        "mean": _Table("<f8", (legs, blocks), -LOUDEST, LOUDEST),
        "apart": _Table("<f8", (blocks,), 0.0, _POWER),
        "bands": _Table("<f8", (legs, OCTAVES), 0.0, _POWER),
        "peak": _Table("<f4", (legs, blocks * _CELLS), 0.0, LOUDEST),
        "lags": _Table("<f8", (rows["lags"], 3), -header.sample_rate_hz, max(length, header.sample_rate_hz)),
        "spectrum": _Table("<f8", (rows["spectrum"],), 0.0, _POWER),
        "course": _Table("<f2", (OCTAVES, blocks), *db),
        "lines_hz": _Table("<f4", (5, blocks), 0.0, half),
        "lines": _Table("<f2", (5, blocks), *db),
        "bends": _Table("<f2", (2, legs, blocks * _CELLS), *db),
        "pitches": _Table("<f8", (rows["pitches"], _NOTES), 0.0, _POWER),
    }


def _size(table: _Table) -> int:
    size = int(table.kind[2:])
    for length in table.shape:
        size *= length
    return size


def rows_of(measure: Measure) -> dict[str, int]:
    """The lengths of the tables whose length does not follow from the file's."""
    return {name: len(getattr(measure, name)) for name in _FREE}


def tables_of(measure: Measure) -> Iterator[bytes]:
    """The tables of a measure as they are kept, one after another."""
    import numpy as np

    for name, table in _layout(measure.header, measure.energy.shape[1], rows_of(measure)).items():
        yield np.ascontiguousarray(getattr(measure, name), table.kind).tobytes()


def rebuilt(plain: Plain, data: bytes, header: Header) -> Measure:
    """The measure that an entry holds.

    Args:
        plain: its values beside the tables.
        data: its tables.
        header: what the file says of itself.

    Raises:
        Misfit: a table is too long or too short, or a value is none of a measure of this file.
    """
    import numpy as np

    layout = _layout(header, -(-plain.frames // _hop(header)), plain.rows)
    if sum(_size(table) for table in layout.values()) != len(data):
        raise Misfit("the tables are too long or too short")
    tables: dict[str, NDArray[Any]] = {}
    at = 0
    for name, table in layout.items():
        count = _size(table) // int(table.kind[2:])
        read = np.frombuffer(data, table.kind, count, at).reshape(table.shape)
        tables[name] = read.astype(read.dtype.newbyteorder("="))  # a copy, which can be written and lies evenly
        at += _size(table)
        if count and not (table.least <= float(read.min()) and float(read.max()) <= table.most):  # false for NaN
            raise Misfit(f"{name} holds what no measure of this file can")
    _check_lags(tables["lags"], header, plain.frames)
    peaks = tuple(decibels(float(row.max(initial=0.0))) for row in tables["peak"])
    whole = plain.frames // _hop(header)
    return Measure(
        header=header,
        frames=plain.frames,
        block_s=_hop(header) / header.sample_rate_hz,
        cell_s=_hop(header) / _CELLS / header.sample_rate_hz,
        sample_peak_db=peaks,
        integrated_lufs=programme_lufs(tables["energy"][:, :whole]),
        head_peak_db=plain.head_peak_db,
        tail_peak_db=plain.tail_peak_db,
        first=plain.first,
        last=plain.last,
        rests=plain.rests,
        used_bits=plain.used_bits,
        marks=plain.marks,
        mark_counts=plain.mark_counts,
        bad_samples=plain.bad_samples,
        **tables,
    )


def _check_lags(lags: NDArray[np.float64], header: Header, frames: int) -> None:
    import numpy as np

    if not len(lags):
        return
    at, alike = lags[:, 0], lags[:, 2]
    if at.min() < 0.0 or at.max() > frames / header.sample_rate_hz or float(np.abs(alike).max()) > 1.0:
        raise Misfit("lags holds what no measure of this file can")


def checked(plain: dict[str, Any], header: Header) -> Plain:
    """The values of an entry beside its tables.

    Args:
        plain: as JSON gave them.
        header: what the file says of itself.

    Raises:
        Misfit: one is missing, of another kind, or none of a measure of this file.
    """
    legs = header.legs
    least, most = header.frames, _most_frames(header)
    if header.lossy:
        least = int(header.frames / _LOSSY_FACTOR)
    frames = _whole(plain.get("frames"), least, most)
    blocks = -(-frames // _hop(header))
    length = blocks * _hop(header) / header.sample_rate_hz
    rows = _dict(plain.get("rows"), _FREE)
    counts = _dict(plain.get("mark_counts"), KINDS)
    marks = tuple(_mark(one, legs, length) for one in _list(plain.get("marks"), legs * len(KINDS) * MARKS))
    per_leg = {
        name: _numbers(plain.get(name), legs, low, high)
        for name, low, high in (
            ("first", -LOUDEST, LOUDEST),
            ("last", -LOUDEST, LOUDEST),
            ("head_peak_db", SILENCE_DB, LOUDEST_DB),
            ("tail_peak_db", SILENCE_DB, LOUDEST_DB),
        )
    }
    return Plain(
        frames=frames,
        rests=_rests(plain.get("rests"), legs),
        used_bits=_whole(plain.get("used_bits"), 0, 24),
        marks=marks,
        mark_counts={kind: _whole(count, 1, max(1, frames * legs)) for kind, count in counts.items()},
        bad_samples=_whole(plain.get("bad_samples"), 0, frames * legs),
        rows={name: _whole(rows.get(name), 0, _most_rows(name, blocks, header)) for name in _FREE},
        **per_leg,
    )


def _mark(one: Any, legs: int, length: float) -> Mark:
    if not isinstance(one, list) or len(one) != 5 or one[0] not in KINDS:
        raise Misfit("a mark is none")
    start, long, level = one[2:]
    return Mark(
        one[0],
        _whole(one[1], 0, legs - 1),
        _number(start, 0.0, length),
        _number(long, 0.0, length),
        _number(level, SILENCE_DB, LOUDEST_DB),
    )


def _rests(found: Any, legs: int) -> tuple[RestLevels, ...]:
    rests = _list(found, legs)
    if len(rests) not in (0, legs):
        raise Misfit("the rests are not those of every leg")
    made = []
    for one in rests:
        floor, hum, hum_hz, flat, level = _list(one, 5) if isinstance(one, list) and len(one) == 5 else [None] * 5
        levels = [_number(value, SILENCE_DB, LOUDEST_DB) for value in (floor, hum, level)]
        made.append(RestLevels(levels[0], levels[1], _number(hum_hz, 0.0, 60.0), _number(flat, 0.0, 1.0), levels[2]))
    return tuple(made)


def _list(found: Any, most: int) -> list[Any]:
    if not isinstance(found, list) or len(found) > most:
        raise Misfit("a list is none, or too long")
    return found


def _dict(found: Any, keys: tuple[str, ...]) -> dict[str, Any]:
    if not isinstance(found, dict) or not set(found) <= set(keys):
        raise Misfit("a table is none, or has other keys")
    return found


def _numbers(found: Any, count: int, least: float, most: float) -> tuple[float, ...]:
    if not isinstance(found, list) or len(found) != count:
        raise Misfit("there is not one value for every leg")
    return tuple(_number(one, least, most) for one in found)


def _number(found: Any, least: float, most: float) -> float:
    if not isinstance(found, float | int) or isinstance(found, bool):
        raise Misfit("a value is no number")
    if isinstance(found, int) and abs(found) > 1 << 53:
        raise Misfit("a value is out of bounds")
    if not (isfinite(found) and least <= found <= most):
        raise Misfit("a value is out of bounds")
    return float(found)


def _whole(found: Any, least: int, most: int) -> int:
    if not isinstance(found, int) or isinstance(found, bool) or not least <= found <= most:
        raise Misfit("a value is no whole number, or out of bounds")
    return found
