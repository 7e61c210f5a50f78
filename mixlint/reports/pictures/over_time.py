"""The stereo balance over time as a picture."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, isfinite

from mixlint.analysis.balance import Imbalance, imbalance
from mixlint.reports.pictures.picture import Missing, Picture, Scene, Words
from mixlint.reports.words import with_unit
from mixlint.session import Unknown
from mixlint.units import clock_text

WIDTH, HEIGHT = 900, 220
LEFT, RIGHT, TOP, BOTTOM = 64, 16, 14, 34
STEPS_S = (5.0, 10.0, 15.0, 30.0, 60.0, 120.0, 300.0, 600.0, 1800.0, 3600.0)


@dataclass(frozen=True, slots=True)
class BalancePicture:
    """The curve in pieces (it breaks where nothing is judged), the scale, and the marks along the song."""

    pieces: tuple[str, ...]
    dots: tuple[tuple[float, float], ...]
    scale: tuple[tuple[float, str], ...]
    ticks: tuple[tuple[float, str], ...]
    markers: tuple[tuple[float, str], ...]
    width: int = WIDTH
    height: int = HEIGHT
    left: int = LEFT
    right: int = WIDTH - RIGHT
    top: int = TOP
    bottom: int = HEIGHT - BOTTOM


def draw(scene: Scene, name: str, title: str) -> Picture | Missing:
    """The balance of the mix bus through the song."""
    found = imbalance(scene.context)
    if isinstance(found, Unknown):
        return Missing.of(name, title, found)
    marks = [(m.time_s, m.name) for m in scene.context.session.markers]
    drawn = draw_balance(found.starts_s.tolist(), found.curve_db.tolist(), marks)
    if drawn is None:
        return Missing(name, title, "too little sounds to be judged")
    how = "measured" if found.measured else "estimated from faders, pans and playing times"
    said = f"Left against right energy at the mix bus, {how}; the line breaks where too little sounds to be judged."
    return Picture(name, title, said, drawn, _words(found))


def _words(found: Imbalance) -> Words:
    rows = [("the whole song", with_unit(found.song_db, "dB"))]
    if found.worst_db is not None:
        where = f"{clock_text(found.worst[0])} to {clock_text(found.worst[1])}"
        rows.append((f"least even, {where}", with_unit(found.worst_db, "dB")))
    return Words(("stretch", "left over right"), tuple(rows))


def draw_balance(
    starts_s: Sequence[float], curve_db: Sequence[float], markers: Sequence[tuple[float, str]] = ()
) -> BalancePicture | None:
    """The picture of a balance curve; None when no stretch of it was judged.

    Args:
        starts_s: start of each window, seconds, rising.
        curve_db: left over right energy in each window, dB, positive where left is heavier; NaN where not judged.
        markers: named places in the song, seconds and name.
    """
    points = [(float(t), float(v)) for t, v in zip(starts_s, curve_db, strict=True)]
    judged = [abs(v) for _, v in points if isfinite(v)]
    if not judged:
        return None
    first, last = points[0][0], max(points[-1][0], points[0][0] + 1.0)
    most = max(6.0, ceil(max(judged) / 6.0) * 6.0)

    def x(seconds: float) -> float:
        return round(LEFT + (seconds - first) / (last - first) * (WIDTH - LEFT - RIGHT), 1)

    def y(db: float) -> float:
        return round(TOP + (most - db) / (2.0 * most) * (HEIGHT - TOP - BOTTOM), 1)

    pieces: list[str] = []
    dots: list[tuple[float, float]] = []
    run: list[tuple[float, float]] = []
    for seconds, value in [*points, (last, float("nan"))]:
        if isfinite(value):
            run.append((x(seconds), y(value)))
            continue
        if len(run) == 1:
            dots.append(run[0])
        elif run:
            pieces.append("M" + "L".join(f"{a} {b}" for a, b in _thinned(run)))
        run = []
    scale = tuple(
        (y(db), f"{abs(db):.0f} dB {'left' if db > 0 else 'right'}" if db else "even")
        for db in (most, most / 2, 0.0, -most / 2, -most)
    )
    step = next((s for s in STEPS_S if (last - first) / s <= 12), STEPS_S[-1])
    count = int((last - first) // step) + 1
    begin = ceil(first / step) * step
    ticks = tuple((x(t), clock_text(t).split(".")[0]) for t in (begin + n * step for n in range(count)) if t <= last)
    marked = tuple((x(t), name) for t, name in markers if first <= t <= last)
    return BalancePicture(tuple(pieces), tuple(dots), scale, ticks, marked)


def _thinned(run: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """At most about two points per unit of width: the highest and lowest of each, in order."""
    if len(run) <= 2 * WIDTH:
        return run
    columns: dict[int, list[tuple[float, float]]] = {}
    for point in run:
        columns.setdefault(int(point[0]), []).append(point)
    kept: list[tuple[float, float]] = []
    for here in columns.values():
        ends = {here.index(min(here, key=lambda p: p[1])), here.index(max(here, key=lambda p: p[1]))}
        kept += [here[n] for n in sorted(ends)]
    return kept
