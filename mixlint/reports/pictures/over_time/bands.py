"""The bands of the drawing that have a scale: the stereo balance, and the level at the mix bus."""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil, floor, isfinite
from typing import Final

from mixlint.analysis.balance import Imbalance
from mixlint.analysis.level_over_time import LevelOverTime
from mixlint.reports.pictures.axis import Point, Scale, fitted, path_of, pieces_of, text_width, thinned
from mixlint.reports.pictures.over_time.drawing import LEFT, LINE, RIGHT, Band, Curve, Pin, Text
from mixlint.reports.words import with_unit
from mixlint.session import Unknown, is_known
from mixlint.units import clock_text

BALANCE_HEIGHT: Final = 96.0
LEVEL_HEIGHT: Final = 92.0

LEAST_SCALE_DB: Final = 6.0
"""The balance is drawn over no less than this to either side."""

LEVEL_RANGE_DB: Final = 40.0
"""So far under the top of its scale a level is drawn; what is quieter lies on its lower edge."""


def unseen_band(title: str, why: Unknown, top: float) -> Band:
    """A band of which nothing is known: its title, and why, in the room of a line."""
    said = f"not known: {why.unknown}" + (f". To have it: {why.settle}" if why.settle else "")
    return Band(title, fitted(said, RIGHT - LEFT), top, top + LINE)


def balance_band(found: Imbalance, end_s: float, time: Scale, top: float) -> Band:
    """The balance, left over right; the line breaks where too little sounds to be judged.

    Args:
        found: the balance, window by window.
        end_s: where the last window ends, seconds.
        time: the axis of the song.
        top: where the band begins.
    """
    starts = found.starts_s.tolist()
    half = (end_s - starts[-1]) / 2.0 if starts else 0.0
    middles = [start + half for start in starts]
    return draw_balance(zip(middles, found.curve_db.tolist(), strict=True), time, top, measured=found.measured)


def draw_balance(points: Iterable[Point], time: Scale, top: float, *, measured: bool) -> Band:
    """The band of a balance curve.

    Args:
        points: moments of the song and the balance there, dB; no number where it is not judged.
        time: the axis of the song.
        top: where the band begins.
        measured: how it is known.
    """
    points = list(points)
    most = max([LEAST_SCALE_DB, *(ceil(abs(v) / 6.0) * 6.0 for _, v in points if isfinite(v))])
    height = Scale(-most, most, top + BALANCE_HEIGHT, top)
    drawn = [(time.at(t), height.at(v) if isfinite(v) else v) for t, v in points]
    scale = tuple(
        (height.at(db), f"{abs(db):.0f} dB {'left' if db > 0 else 'right'}" if db else "even", db == 0.0)
        for db in (most, most / 2, 0.0, -most / 2, -most)
    )
    curve = Curve("balance", tuple(map(path_of, pieces_of(drawn))), "left over right energy at the mix bus")
    note = "measured" if measured else "estimated"
    return Band("Balance", note, top, top + BALANCE_HEIGHT, scale, (curve,))


def level_band(found: LevelOverTime, time: Scale, top: float) -> Band:
    """Loudness over three seconds, and the highest samples; the highest peak is pinned."""
    loud = [v for v in found.lufs.tolist() if isfinite(v)]
    peaks = found.peak_dbfs.tolist()
    highest = found.highest
    tops = [*loud, *peaks, *([highest.db] if is_known(highest) else [])]
    ceiling = ceil(max(tops, default=0.0) / 10.0) * 10.0
    low = max(ceiling - LEVEL_RANGE_DB, min(floor(min(loud, default=-40.0) / 10.0) * 10.0, ceiling - 20.0))
    first = top + LINE + 2
    height = Scale(low, ceiling, first + LEVEL_HEIGHT, first)
    curves = []
    if peaks:
        # The highest sample of each few units of width: what lies between is no line of its own.
        line = [(time.at(t), height.at(v)) for t, v in zip(found.peak_s.tolist(), peaks, strict=True)]
        tall = [min(here, key=lambda p: p[1]) for here in _columns(line, 2.0)]
        curves.append(Curve("peak", (path_of(tall),), "the highest samples"))
    drawn = [
        (time.at(t), height.at(v) if isfinite(v) else v)
        for t, v in zip(found.middles_s.tolist(), found.lufs.tolist(), strict=True)
    ]
    curves.append(Curve("loud", tuple(path_of(thinned(run)) for run in pieces_of(drawn)), "loudness over 3 s"))
    step = 10.0 if ceiling - low <= LEVEL_RANGE_DB else 20.0
    count = int((ceiling - low) // step) + 1
    values = [ceiling - n * step for n in range(count)]
    scale = tuple((height.at(v), with_unit(v, "dB"), v == 0.0) for v in values)
    pins: tuple[Pin, ...] = ()
    if is_known(highest):
        x = time.at(highest.at_s)
        said = f"highest peak {with_unit(round(highest.db, 1), highest.unit)}, {clock_text(highest.at_s)}"
        at = max(float(LEFT), min(x + 5, RIGHT - text_width(said)))
        pins = (Pin(x, height.at(highest.db), top + LINE, Text(at, top + LINE - 4, said)),)
    note = "measured" if found.print_name else "estimated"
    return Band("Level", note, first, first + LEVEL_HEIGHT, scale, tuple(curves), pins)


def _columns(line: list[Point], every: float) -> list[list[Point]]:
    found: dict[int, list[Point]] = {}
    for point in line:
        found.setdefault(int(point[0] // every), []).append(point)
    return list(found.values())
