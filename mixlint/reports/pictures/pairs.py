"""Microphones that hear one performance: how far apart they lie, which way round, and what their sum loses."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.facts.microphones.combs import Comb, combs
from mixlint.facts.microphones.families import Family, families
from mixlint.reports.pictures.axis import Scale, frequency_text
from mixlint.reports.pictures.lettering import fitted, text_width
from mixlint.reports.pictures.picture import Missing, Picture, Scene, Words
from mixlint.reports.pictures.shapes import Flag
from mixlint.reports.pictures.spacing import straightened
from mixlint.reports.plain import neutral
from mixlint.reports.words import counts_of, with_unit
from mixlint.signal.comb import comb_db
from mixlint.units import number_text

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from mixlint.analysis.context import SessionContext
    from mixlint.review.findings import Finding

WIDTH: Final = 900
NAMES, RULER, SIGNS, CURVE = 26, 252, 574, 690
"""Where the columns begin: the names, the ruler of delays, the polarity, the sum."""
RULER_END, CURVE_END = 548, 888
TOP, ROW, GAP, BOTTOM = 54, 64, 10, 10
LABEL: Final = 214.0
"""The width of a name beside the ruler."""
MOST: Final = 30
"""So many pairs are drawn; what is found in most and lies furthest apart comes first: a bound of size."""

TICKS_MS: Final = (0.0, 0.1, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 40.0, 100.0)
LOWEST_HZ, HIGHEST_HZ, STEPS = 40.0, 16_000.0, 72
HZ: Final = Scale(LOWEST_HZ, HIGHEST_HZ, CURVE, CURVE_END, log=True)
DECADES_HZ: Final = (100.0, 1000.0, 10_000.0)
UP_DB, DOWN_DB, HEIGHT = 4.0, -24.0, 34.0
SHALLOW_DB: Final = -0.5
"""A notch that is no deeper is none to look at."""

SAID: Final = {1: "the same", -1: "turned over", 0: "cannot be told"}

LEGEND = (
    "Ruler: how much later the second is heard than the first, and how far sound goes in that time.",
    "Filled dot: measured clearly; hollow: few seconds agree; a line from it: the delay changes in the song.",
    "Curve: both summed to mono against the sum of their powers; broken: on the side of the mix where they meet most.",
    "Tick under the curve: the first notch.",
    "Triangle: a finding, filled where it holds the bounce.",
)


@dataclass(frozen=True, slots=True)
class PairRow:
    """One pair: what is written of it, and where its dot, its curves and its notch stand.

    Args:
        y: the top of the row.
        first, second: the two names, cut; ``title`` has them whole with all that is known.
        heard: it was measured; else ``lag`` says why not.
        dot, to: x of the dot and of where the delay goes to, where it changes.
        lag, lag_x, anchor: the delay in words and where that stands.
        sign: the polarity in words; ``turned`` is whether one is turned over.
        curve, side: the sum in mono and on one side as SVG paths; empty for none.
        notch: x of the first notch; None where it lies outside.
        sum: what the sum loses, in words.
    """

    y: float
    first: str
    second: str
    title: str
    heard: bool
    clear: bool
    dot: float
    to: float | None
    lag: str
    lag_x: float
    anchor: str
    sign: str
    turned: bool
    curve: str
    side: str
    notch: float | None
    sum: str
    flag: Flag | None


@dataclass(frozen=True, slots=True)
class PairsPicture:
    """All rows, the ruler above them, and how many are not drawn."""

    height: float
    rows: tuple[PairRow, ...]
    rules: tuple[float, ...]
    ticks: tuple[tuple[float, str, str], ...]
    decades: tuple[tuple[float, str], ...]
    more: str
    width: int = WIDTH
    names: int = NAMES
    ruler: int = RULER
    signs: int = SIGNS
    curve: int = CURVE
    curve_end: int = CURVE_END
    top: int = TOP
    zero: float = HEIGHT * UP_DB / (UP_DB - DOWN_DB)
    depth: float = HEIGHT


class Pair(NamedTuple):
    """What is shown of two microphones.

    Args:
        first, second: the names, the earlier one first.
        comb: what was measured; None where nothing was.
        why: why not.
        family: the place of its family.
        finding: the gravest finding about it.
    """

    first: str
    second: str
    comb: Comb | None
    why: str
    family: int
    finding: Finding | None


def draw(scene: Scene, name: str, title: str) -> Picture | Missing | None:
    """The microphones of a session; None where no two hear one performance, by their sound or by their names."""
    found = families(scene.context)
    if not found:
        return None
    pairs = tuple(pair for at, family in enumerate(found) for pair in _pairs(scene, family, at))
    if all(pair.comb is None for pair in pairs):
        why = next((family.why for family in found if family.why is not None), None)
        return Missing.of(name, title, why) if why is not None else None
    shown = _foremost(pairs)
    drawn = draw_pairs(shown, len(pairs) - len(shown))
    return Picture(name, title, _answer(pairs), drawn, _words(shown, len(pairs) - len(shown)), LEGEND)


def _pairs(scene: Scene, family: Family, at: int) -> Iterable[Pair]:
    context = scene.context
    found = combs(context, family)
    told = {channel.id for comb in found for channel in (comb.earlier, comb.later)}
    about = [
        one for one in scene.findings if one.verdict == "flagged" and one.grade != "note" and _concerns(one, family)
    ]
    for comb in found:
        names = _name(context, comb.earlier.id), _name(context, comb.later.id)
        yield Pair(*names, comb, "", at, _finding(about, (comb.earlier.id, comb.later.id), names))
    for member in family.members:
        if member.id not in told and (member is not family.reference or len(family.members) == 1):
            names = _name(context, family.reference.id), _name(context, member.id)
            why = family.why.unknown if family.why is not None else "it has no delay in common with the others"
            yield Pair(*names, None, why, at, _finding(about, (family.reference.id, member.id), names))


def _name(context: SessionContext, channel_id: str) -> str:
    return neutral(context.name(channel_id)) or "(no name)"


def _concerns(finding: Finding, family: Family) -> bool:
    ids = {member.id for member in family.members}
    return finding.subject.table in ("microphones", "pair") and set(finding.channels) <= ids and bool(finding.channels)


def _finding(about: Sequence[Finding], ids: tuple[str, str], names: tuple[str, str]) -> Finding | None:
    """The gravest finding about two microphones: about them alone, or about their family with one of them named."""
    mine = [
        one
        for one in about
        if set(one.channels) == set(ids) or (set(ids) <= set(one.channels) and set(_named(one)) & set(names))
    ]
    return min(mine, key=lambda one: ("hold", "look").index(one.grade), default=None)


def _named(finding: Finding) -> Iterable[str]:
    for evidence in finding.evidence:
        if isinstance(evidence.value, tuple):
            yield from (one for one in evidence.value if isinstance(one, str))


def _foremost(pairs: tuple[Pair, ...]) -> tuple[Pair, ...]:
    """Those that are drawn, in their order: found fault with first, then turned over, late, and the deepest combs."""
    if len(pairs) <= MOST:
        return pairs

    def weight(at: int) -> tuple[bool, bool, float]:
        pair = pairs[at]
        if pair.comb is None:
            return pair.finding is not None, False, 0.0
        return pair.finding is not None, pair.comb.turned is not None or pair.comb.late, -pair.comb.mono_db

    kept = sorted(sorted(range(len(pairs)), key=weight, reverse=True)[:MOST])
    return tuple(pairs[at] for at in kept)


def _answer(pairs: tuple[Pair, ...]) -> str:
    heard = [(pair, pair.comb) for pair in pairs if pair.comb is not None]
    told = [(pair, comb) for pair, comb in heard if comb.clear]
    said = []
    turned = [one for one in told if one[1].turned is not None]
    if turned:
        pair, comb = turned[0]
        names = (pair.first, pair.second) if comb.turned is comb.earlier else (pair.second, pair.first)
        more = f"; {counts_of(len(turned) - 1, 'more pair')} likewise" if len(turned) > 1 else ""
        said.append(f"{names[0]} is turned over against {names[1]}{more}.")
    late = sorted((one for one in told if one[1].late), key=lambda one: -one[1].lag_s)
    if late:
        pair, comb = late[0]
        more = f"; {counts_of(len(late) - 1, 'more pair')} likewise" if len(late) > 1 else ""
        said.append(f"{pair.second} comes {_lag(comb)} behind {pair.first}, later than its sound takes{more}.")
    if not said:
        said.append(f"Of {counts_of(len(told), 'pair')} none is found turned over or later than its sound takes.")
    deep = min(told, key=lambda one: one[1].mono_db, default=None)
    if deep is not None and deep[1].mono_db < SHALLOW_DB and deep[1].notch_hz is not None:
        pair, comb = deep
        said.append(f"The deepest comb in mono is that of {pair.first} with {pair.second}: {_sum(comb)}.")
    silent = len(pairs) - len(heard)
    if silent:
        said.append(f"{counts_of(silent, 'pair')} could not be measured.")
    return " ".join(said)


def _lag(comb: Comb) -> str:
    """``2.31 ms (79 cm)``."""
    return f"{number_text(1000.0 * comb.lag_s, 'ms')} ({_distance(comb)})"


def _distance(comb: Comb) -> str:
    metres = comb.distance_m
    return f"{number_text(round(metres, 1))} m" if metres >= 1.0 else f"{number_text(round(100.0 * metres, 1))} cm"


def _sum(comb: Comb) -> str:
    """``−14 dB at 216 Hz``: the first notch of the sum in mono."""
    notch = comb.notch_hz
    if notch is None:
        return "left open by the polarity"
    depth = number_text(round(comb.mono_db, 1), "dB")
    if comb.polarity < 0:
        return f"{depth} at 0" + (f" and {_hz(notch)}" if notch <= HIGHEST_HZ else " Hz")
    return f"{depth} at {_hz(notch)}" if notch <= HIGHEST_HZ else f"no notch under {_hz(HIGHEST_HZ)}"


def _hz(hz: float) -> str:
    return number_text(float(f"{hz:.3g}"), "Hz")


def _words(shown: Sequence[Pair], more: int) -> Words:
    head = ("pair", "later by", "samples", "air", "polarity", "first notch", "depth in mono", "depth before", "finding")
    rows = []
    for pair in shown:
        comb, names = pair.comb, f"{pair.second} behind {pair.first}"
        found = f"{pair.finding.grade}: {neutral(pair.finding.message)}" if pair.finding is not None else ""
        if comb is None:
            rows.append((f"{pair.first} and {pair.second}", f"not measured: {neutral(pair.why)}", *[""] * 6, found))
            continue
        lag = number_text(1000.0 * comb.lag_s, "ms") + ("" if comb.clear else ", not clear")
        if comb.course_s is not None:
            lag += ", from " + " to ".join(number_text(1000.0 * at, "ms") for at in comb.course_s)
        notch = "open" if comb.notch_hz is None else _hz(comb.notch_hz)
        rows.append(
            (
                names, lag, with_unit(None if comb.samples is None else round(comb.samples)), _distance(comb),
                SAID[comb.polarity], notch, number_text(round(comb.mono_db, 1), "dB"),
                number_text(round(comb.stereo_db, 1), "dB"), found,
            )
        )  # fmt: skip
    if more:
        rows.append((counts_of(more, "more pair"), "not shown: less deep than these", *[""] * 7))
    return Words(head, tuple(rows))


def draw_pairs(pairs: Sequence[Pair], more: int = 0) -> PairsPicture:
    """The picture of some pairs.

    Args:
        pairs: what is drawn, in order; those of one family one after another.
        more: how many others there are.
    """
    longest = max((_furthest(pair.comb) for pair in pairs if pair.comb is not None), default=0.0)
    most = next(
        (tick for tick in TICKS_MS[4:] if 1.001 * tick >= 1000.0 * longest), max(TICKS_MS[-1], 1000.0 * longest)
    )
    rows, rules, y, before = [], [], float(TOP), -1
    for pair in pairs:
        if before not in (-1, pair.family):
            rules.append(y + GAP / 2.0)
            y += GAP
        before = pair.family
        rows.append(_row(pair, y, most))
        y += ROW
    ticks: list[tuple[float, str, str]] = []
    free = -100.0
    for tick in sorted({*(one for one in TICKS_MS if one <= most), most}):
        x, said = _x(tick, most), (number_text(tick), _air(tick))
        half = max(map(text_width, said)) / 2.0
        if x - half > free:
            ticks.append((x, *said))
            free = x + half + 4.0
    decades = tuple(
        (
            HZ.at(hz),
            frequency_text(hz),
        )
        for hz in DECADES_HZ
    )
    rest = f"{counts_of(more, 'more pair')}, less deep than these" if more else ""
    height = y + BOTTOM + (18.0 if more else 0.0)
    return PairsPicture(height, tuple(rows), tuple(rules), tuple(ticks), decades, rest)


def _furthest(comb: Comb) -> float:
    return max([comb.lag_s, *map(abs, comb.course_s or ())])


def _x(ms: float, most: float) -> float:
    """A delay on the ruler: as its root, so that a tenth of a millisecond is seen beside a room."""
    return round(RULER + (RULER_END - RULER) * sqrt(min(abs(ms), most) / most), 1)


def _air(ms: float) -> str:
    metres = 0.343 * ms
    return "0" if not ms else f"{metres:.3g} m" if metres >= 1.0 else f"{100.0 * metres:.2g} cm"


def _row(pair: Pair, y: float, most: float) -> PairRow:
    first, second = (fitted(one, LABEL) for one in (pair.first, pair.second))
    found = pair.finding
    flag = None if found is None else Flag(6.0, 16.0, found.grade, neutral(found.message))
    comb = pair.comb
    if comb is None:
        why = fitted(neutral(pair.why), WIDTH - RULER - 90.0)
        title = f"{pair.first} and {pair.second}: {neutral(pair.why)}"
        return PairRow(
            y, first, second, title, False, False, float(RULER), None, why, float(RULER), "start", "", False, "", "",
            None, "", flag,
        )  # fmt: skip
    lag = f"{number_text(1000.0 * comb.lag_s, 'ms')}, {_distance(comb)}"
    if comb.samples is not None:
        lag = f"{number_text(1000.0 * comb.lag_s, 'ms')}, {counts_of(round(comb.samples), 'sample')}, {_distance(comb)}"
    dot = _x(1000.0 * comb.lag_s, most)
    span = RULER_END - RULER
    where = ("start", float(RULER)) if dot < RULER + span / 3 else ("end", float(RULER_END))
    if RULER + span / 3 <= dot <= RULER_END - span / 3:
        where = ("middle", RULER + span / 2.0)
    to = None if comb.course_s is None else _x(1000.0 * comb.course_s[1], most)
    if comb.course_s is not None:
        dot = _x(1000.0 * comb.course_s[0], most)
    notch = comb.notch_hz
    inside = notch is not None and LOWEST_HZ <= notch <= HIGHEST_HZ and comb.mono_db < SHALLOW_DB
    stereo = comb.stereo_db < SHALLOW_DB and abs(comb.stereo_db - comb.mono_db) > -SHALLOW_DB
    title = f"{pair.second} {_lag(comb)} behind {pair.first}, polarity {SAID[comb.polarity]}; in mono {_sum(comb)}"
    return PairRow(
        y=y,
        first=first,
        second=second,
        title=title,
        heard=True,
        clear=comb.clear,
        dot=dot,
        to=to,
        lag=lag,
        lag_x=where[1],
        anchor=where[0],
        sign=SAID[comb.polarity],
        turned=comb.turned is not None,
        curve=_curve(comb, comb.apart_db) if comb.polarity else "",
        side=_curve(comb, comb.side_apart_db) if comb.polarity and stereo else "",
        notch=HZ.at(notch) if inside and notch is not None else None,
        sum=_sum(comb),
        flag=flag,
    )


def _curve(comb: Comb, apart_db: float) -> str:
    """The sum as a path from its row's top left; its mean where its teeth are finer than the path."""
    import numpy as np

    hz = LOWEST_HZ * (HIGHEST_HZ / LOWEST_HZ) ** (np.arange(STEPS + 1) / STEPS)
    db = comb_db(hz, comb.lag_s, apart_db, comb.polarity, comb.agreement)
    # A line through samples of such teeth would be chance.
    fine = hz * comb.lag_s * np.log(HIGHEST_HZ / LOWEST_HZ) / STEPS > 0.2
    db = np.where(fine, 0.0, db)
    y = (UP_DB - np.clip(db, DOWN_DB, UP_DB)) / (UP_DB - DOWN_DB) * HEIGHT
    x = CURVE + (CURVE_END - CURVE) * np.arange(STEPS + 1) / STEPS
    points = straightened([*zip(x.tolist(), y.tolist(), strict=True)], 0.25)
    return "M" + "L".join(f"{a:.1f} {b:.1f}" for a, b in points)
