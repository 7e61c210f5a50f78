"""The panels: one for each return, with one axis of frequency for all, and three short axes beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import nan, sqrt
from typing import Final

from mixlint.analysis.context import LOW_HZ
from mixlint.reports.pictures.ambience.returns import POINTS_HZ, Note, Return
from mixlint.reports.pictures.axis import FREQUENCIES_HZ, Scale, frequency_text, path_of, pieces_of
from mixlint.reports.pictures.lettering import fitted, text_width
from mixlint.reports.pictures.shapes import Mark
from mixlint.reports.plain import neutral, shortened
from mixlint.reports.words import with_unit
from mixlint.review.findings import GRAVITY
from mixlint.session import Unknown, is_known
from mixlint.units import SILENCE_DB, few_text

WIDTH: Final = 900
CURVE_LEFT, CURVE_RIGHT = 216, 552
AXIS_LEFT, AXIS_RIGHT = 660, 764
TEXT: Final = 776
PANEL: Final = 104.0
HEAD: Final = 20.0
PLOT: Final = 84.0
"""The height of the plot in a panel; what is left parts it from the next."""

LOW_DB, HIGH_DB = -36.0, 6.0
GRID_DB: Final = (0.0, -12.0, -24.0, -36.0)
DRY_LOW_DB: Final = -60.0
TIME_MS: Final = 200.0
"""The end of the axis of pre-delays; it is stretched at its beginning, as the square root."""

TITLE_NAMES: Final = 12
NAME_ROOM: Final = 154.0
VALUE_ROOM: Final = 122.0
TITLE: Final = 400
ORDER: Final = {**GRAVITY, "ask": 3}


@dataclass(frozen=True, slots=True)
class Line:
    """A text beside a panel, and the whole of it where it was cut."""

    y: float
    text: str
    whole: str = ""
    kind: str = "soft"


@dataclass(frozen=True, slots=True)
class Short:
    """A short axis: its name and value, its height, the limits on it, and what lies on it.

    Args:
        label: what it shows.
        value: the value in words, and the whole of it.
        y: its height.
        ends: what its ends are called.
        range: where the limits that have to be kept to begin and end; None for none.
        bound: where another limit stands; None for none.
        rings: places of what feeds it, each with a title.
        dot: where the value lies; None where it is not known, or is no place on the axis.
    """

    label: str
    value: Line
    y: float
    ends: tuple[str, str]
    range: tuple[float, float] | None = None
    rings: tuple[tuple[float, str], ...] = ()
    dot: float | None = None
    bound: float | None = None


@dataclass(frozen=True, slots=True)
class Panel:
    """One return.

    Args:
        top, bottom: the edges of its plot.
        lines: its name, what it is, and what feeds it, under one another.
        curve: the response as an SVG path; empty where nothing of it is known.
        partly: filters are hidden, so that the curve lacks them.
        hidden: what is said in the plot of what is not known, with its baseline; None where all is known.
        limit: where the foot of the limit stands; None for no limit.
        asked: the rule asks it of this return.
        measured: where what was measured at 60 Hz in a print lies; None where it was not.
        shorts: the short axes.
        marks: what is to be looked at.
    """

    top: float
    bottom: float
    lines: tuple[Line, ...]
    curve: str
    partly: bool
    hidden: Line | None
    limit: float | None
    asked: bool
    measured: float | None
    grid: tuple[tuple[float, str], ...]
    shorts: tuple[Short, ...]
    marks: tuple[Mark, ...]


@dataclass(frozen=True, slots=True)
class Panels:
    """The whole drawing."""

    height: float
    bottom: float
    panels: tuple[Panel, ...]
    ticks: tuple[tuple[float, str], ...]
    low_x: float
    zero_x: float
    width: int = WIDTH
    left: int = CURVE_LEFT
    right: int = CURVE_RIGHT
    axis_left: int = AXIS_LEFT
    axis_right: int = AXIS_RIGHT
    text: int = TEXT


FREQUENCY: Final = Scale(20.0, 20000.0, CURVE_LEFT, CURVE_RIGHT, log=True)


def drawn_panels(returns: Sequence[Return]) -> Panels:
    """The panels of some returns, under one another."""
    panels = tuple(_panel(one, HEAD + number * PANEL) for number, one in enumerate(returns))
    bottom = panels[-1].bottom if panels else HEAD
    ticks = tuple((FREQUENCY.at(hz), frequency_text(hz)) for hz in FREQUENCIES_HZ)
    return Panels(bottom + 40, bottom, panels, ticks, FREQUENCY.at(LOW_HZ), (AXIS_LEFT + AXIS_RIGHT) / 2)


def _panel(one: Return, top: float) -> Panel:
    level = Scale(LOW_DB, HIGH_DB, top + PLOT, top)
    curve, partly, hidden = "", True, None
    if isinstance(one.response, Unknown):
        hidden = _said(f"filters not shown: {one.response.unknown}", top)
    else:
        partly = bool(one.response.hidden)
        curve = _curve(one.response.db.tolist(), level)
        if partly:
            hidden = _said(f"not shown: {few_text(one.response.hidden)}", top)
    measured = None
    if is_known(one.low_cut) and one.low_cut.how == "measured":
        measured = level.at(-one.low_cut.number)
    limit = None if one.limits.low_cut_db is None else level.at(-one.limits.low_cut_db)
    shorts = (_dry(one, top + 12), _time(one, top + 44), _side(one, top + 76))
    return Panel(
        top,
        top + PLOT,
        _lines(one, top),
        curve,
        partly,
        hidden,
        limit,
        one.limits.low_cut_asked,
        measured,
        tuple((level.at(db), f"{db:g} dB".replace("-", "−")) for db in GRID_DB),
        shorts,
        _marks(one, level, shorts, top),
    )


def _curve(response: Sequence[float], level: Scale) -> str:
    """The response as a path that ends where it leaves the plot."""
    inside = [db >= LOW_DB for db in response]
    shown = [any(inside[max(0, n - 1) : n + 2]) for n in range(len(inside))]
    points = (
        (FREQUENCY.at(hz), level.at(db) if there else nan)
        for hz, db, there in zip(POINTS_HZ, response, shown, strict=True)
    )
    return "".join(map(path_of, pieces_of(points)))


def _said(text: str, top: float) -> Line:
    whole = neutral(text)
    return Line(top + PLOT - 8, fitted(whole, CURVE_RIGHT - CURVE_LEFT - 90), whole)


def _lines(one: Return, top: float) -> tuple[Line, ...]:
    """Its name, what it is and which processors filter, and what feeds it."""
    name = neutral(one.name)
    by = "" if isinstance(one.response, Unknown) else few_text([neutral(n) for n in one.response.by], 1, none="")
    effect = one.effect if is_known(one.effect) else "effect not known"
    what = f"{effect}, {by}" if by else effect
    feeds = [neutral(fed.name) for fed in one.fed]
    fed = f"fed by {few_text(feeds, TITLE_NAMES)}" if feeds else "nothing feeds it"
    short = fed if len(feeds) <= 1 or text_width(fed) <= NAME_ROOM else f"fed by {len(feeds)} parts"
    return (
        Line(top + 12, fitted(name, NAME_ROOM - 14, bold=True), name, "name"),
        Line(top + 30, fitted(what, NAME_ROOM), what),
        Line(top + 48, fitted(short, NAME_ROOM), fed),
    )


def _unknown(y: float, why: Unknown) -> Line:
    return Line(y + 4, "not known", f"not known: {neutral(why.unknown)}", "value")


def _value(y: float, text: str) -> Line:
    whole = neutral(text)
    return Line(y + 4, fitted(whole, VALUE_ROOM), whole, "value")


def _dry(one: Return, y: float) -> Short:
    scale = Scale(DRY_LOW_DB, 0.0, AXIS_LEFT, AXIS_RIGHT)
    most = one.limits.dry_db
    kept = None if most is None else (scale.at(DRY_LOW_DB), scale.at(most))
    if isinstance(one.dry, Unknown):
        return Short("dry signal", _unknown(y, one.dry), y, ("none", "0 dB"), kept)
    db = one.dry.number
    said = "none" if db <= SILENCE_DB else with_unit(round(db, 1), "dB")
    value = Line(y + 4, said, f"{said}: {neutral(one.dry.note)}" if one.dry.note else said, "value")
    return Short("dry signal", value, y, ("none", "0 dB"), kept, dot=scale.at(db))


def _time(one: Return, y: float) -> Short:
    scale = Scale(0.0, sqrt(TIME_MS), AXIS_LEFT, AXIS_RIGHT)
    if one.effect == "delay":
        time = one.time_ms
        value = _unknown(y, time) if isinstance(time, Unknown) else _value(y, with_unit(time, "ms"))
        return Short("delay", value, y, ("", ""))
    kept = one.limits.pre_delay_ms
    ends = ("0", f"{TIME_MS:g} ms")
    inside = None if kept is None else (scale.at(sqrt(max(0.0, kept[0]))), scale.at(sqrt(max(0.0, kept[1]))))
    echo = None if one.limits.echo_ms is None else scale.at(sqrt(max(0.0, one.limits.echo_ms)))
    if isinstance(one.time_ms, Unknown):
        return Short("pre-delay", _unknown(y, one.time_ms), y, ends, inside, bound=echo)
    dot = scale.at(sqrt(max(0.0, one.time_ms)))
    return Short("pre-delay", _value(y, with_unit(one.time_ms, "ms")), y, ends, inside, dot=dot, bound=echo)


def _side(one: Return, y: float) -> Short:
    scale = Scale(0.0, 1.0, AXIS_LEFT, AXIS_RIGHT)
    at: dict[float, list[str]] = {}
    for fed in one.fed:
        if is_known(fed.right):
            at.setdefault(round(scale.at(fed.right)), []).append(neutral(fed.name))
    rings = tuple((x, few_text(names)) for x, names in sorted(at.items()))
    if isinstance(one.right, Unknown):
        return Short("side", _unknown(y, one.right), y, ("L", "R"), rings=rings)
    return Short("side", _value(y, side_text(one.right)), y, ("L", "R"), rings=rings, dot=scale.at(one.right))


def side_text(right: float) -> str:
    """Which side something is on, by how much of it is on the right: ``left, 85 %``, ``both sides``."""
    percent = round(100.0 * right)
    if percent == 50:
        return "both sides alike"
    return f"{percent} % right" if percent > 50 else f"{100 - percent} % left"


def _marks(one: Return, level: Scale, shorts: tuple[Short, ...], top: float) -> tuple[Mark, ...]:
    """One mark for each spot at which something is to be looked at."""
    low = one.low_cut.number if is_known(one.low_cut) else 0.0
    places = {
        "curve": (FREQUENCY.at(LOW_HZ), level.at(-low)),
        "dry": (AXIS_LEFT - 84.0, shorts[0].y),
        "pre-delay": (AXIS_LEFT - 84.0, shorts[1].y),
        "side": (AXIS_LEFT - 84.0, shorts[2].y),
        "name": (NAME_ROOM, top + 8),
    }
    found = []
    for spot, (x, y) in places.items():
        here: list[Note] = sorted((n for n in one.notes if n.spot == spot), key=lambda note: ORDER[note.kind])
        if here:
            title = few_text([note.text for note in here], between=" / ")
            found.append(Mark(here[0].kind, x, y, shortened(neutral(title), TITLE)))
    return tuple(found)
