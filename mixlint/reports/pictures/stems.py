"""Stems against the print of their mix: what is left over of it through the song, and how each stem lies in it."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, log10
from typing import TYPE_CHECKING, Final, Literal, NamedTuple

from mixlint.analysis.media_use import file_name
from mixlint.analysis.mix_prints import is_set_of_stems, mix_prints, stem_files, sum_of_stems
from mixlint.facts import TABLES
from mixlint.facts.declare import FactValue
from mixlint.reports.pictures.axis import time_ticks
from mixlint.reports.pictures.lettering import fitted
from mixlint.reports.pictures.picture import Missing, Picture, Scene, Words
from mixlint.reports.pictures.shapes import Flag
from mixlint.reports.plain import neutral
from mixlint.reports.words import counts_of, with_unit
from mixlint.session import Unknown
from mixlint.units import clock_text, few_text, number_text

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    import numpy as np
    from numpy.typing import NDArray

    from mixlint.analysis.stem_sum import StemFit, StemSum
    from mixlint.facts.declare import Row
    from mixlint.review.findings import Finding
    from mixlint.session import MediaFile

WIDTH: Final = 900
NAMES, TIME, TIME_END, UNTOLD, SHARE, SHARE_END, SAID = 26, 214, 566, 594, 618, 696, 716
TOP, PANEL, GAP, ROW, BOTTOM = 40, 132, 52, 26, 8
NAME_WIDTH, SAID_WIDTH = 180.0, 180.0
"""How wide what is written may be."""
MOST: Final = 60
"""So many stems are drawn, those found fault with first: a bound of size."""

FLOOR_DB: Final = -80.0
"""Under this the residue is drawn as nothing: rounding of the files."""
STEPS_DB: Final = (0.0, -20.0, -40.0, -60.0, -80.0)
SHARE_LOW_DB: Final = -60.0
COLUMNS: Final = 180
TOLD_DB, TOLD_MS = 0.3, 0.01
"""Smaller differences are not written out: rounding."""

State = Literal["inside", "absent", "copy", "open"]

LEGEND = (
    "Upper line: the print; lower line and shading: what is left of it when every stem is taken away at its best.",
    "Below, a row for each stem: a thick bar is where it sounds and the print holds something else.",
    "Dot: how much of the print it makes up; cross: it is not in the print; two rings: a copy; ring: not told.",
    "Triangle: a finding, filled where it holds the bounce.",
)


class Stem(NamedTuple):
    """What is shown of one stem.

    Args:
        name: its file.
        state: how it lies in the print.
        share_db: how much of the print it makes up, dB; None where it is not told.
        off: what is off with it, in words; empty for nothing.
        differs: stretches in which the print holds something else.
        finding: the gravest finding about it.
        copy: of which it is a copy, where it is one.
        part: its name without what all names of the set have in common.
    """

    name: str
    state: State
    share_db: float | None
    off: str
    differs: tuple[tuple[float, float], ...]
    finding: Finding | None
    copy: str = ""
    part: str = ""


@dataclass(frozen=True, slots=True)
class StemRow:
    """One stem's row: its middle, its label, bars in time, and its mark on the scale of shares."""

    y: float
    label: str
    title: str
    bars: tuple[tuple[float, float], ...]
    state: State
    x: float
    said: str
    flag: Flag | None


@dataclass(frozen=True, slots=True)
class StemsPicture:
    """The residue in time above the rows of the stems."""

    height: float
    whole: str
    left: str
    area: str
    scale: tuple[tuple[float, str], ...]
    ticks: tuple[tuple[float, str], ...]
    shares: tuple[tuple[float, str], ...]
    rows: tuple[StemRow, ...]
    flag: Flag | None
    more: str
    width: int = WIDTH
    names: int = NAMES
    time: int = TIME
    time_end: int = TIME_END
    share: int = SHARE
    share_end: int = SHARE_END
    said: int = SAID
    top: int = TOP
    bottom: int = TOP + PANEL
    first: int = TOP + PANEL + GAP


def draw(scene: Scene, name: str, title: str) -> Picture | Missing | None:
    """The stems of a folder against the print of their mix; None for a session, which is no set of stems."""
    context = scene.context
    if not is_set_of_stems(context):
        return None
    total = sum_of_stems(context)
    if isinstance(total, Unknown):
        return Missing.of(name, title, total)
    printed = neutral(file_name(mix_prints(context)[0].media.path))
    stems = _stems(scene, total)
    shown = _foremost(stems)
    about = [f for f in scene.findings if f.verdict == "flagged" and f.grade != "note" and f.subject.table == "stems"]
    drawn = draw_stems(total, shown, _gravest(about), len(stems) - len(shown))
    answer = _answer(scene, total, stems, printed)
    return Picture(name, title, answer, drawn, _words(total, shown, len(stems) - len(shown), about), LEGEND)


def _gravest(about: Sequence[Finding]) -> Finding | None:
    return min(about, key=lambda one: ("hold", "look").index(one.grade), default=None)


def _stems(scene: Scene, total: StemSum) -> tuple[Stem, ...]:
    """The stems that were held against the print, and those that could not be read, in the order of their names."""
    rows = {row.item.id: row for row in TABLES["stem"].rows(scene.context)}
    found = []
    for media in stem_files(scene.context):
        row = rows[media.id]
        about = [
            f
            for f in scene.findings
            if f.verdict == "flagged"
            and f.grade != "note"
            and f.subject.table == "stem"
            and f.subject.id == row.subject.id
        ]
        fit = total.stems.get(media.id)
        part = row.value("part")
        short = neutral(str(part.value)) if isinstance(part, FactValue) else ""
        found.append(_stem(row, fit, _gravest(about))._replace(part=short))
    return tuple(found)


def _stem(row: Row[MediaFile], fit: StemFit | None, finding: Finding | None) -> Stem:
    name = neutral(row.subject.name) or "(no name)"
    if fit is None or not fit.sounds:
        inside = row.value("in_print")
        return Stem(name, "open", None, inside.unknown if isinstance(inside, Unknown) else "", (), finding)
    copy = row.value("is_copy")
    if fit.copy_of is not None or (isinstance(copy, FactValue) and copy.value is True):
        other = neutral(copy.note) if isinstance(copy, FactValue) and copy.note else "another stem"
        share = None if fit.copy_of is not None else fit.share_db
        return Stem(name, "copy", share, f"the same as {other}", (), finding, other)
    inside = row.value("in_print")
    if isinstance(inside, Unknown):
        return Stem(name, "open", None, inside.unknown, (), finding)
    if inside.value is False:
        return Stem(name, "absent", None, "not in the print", (), finding)
    return Stem(name, "inside", fit.share_db, ", ".join(_off(row, fit)), fit.differs, finding)


def _off(row: Row[MediaFile], fit: StemFit) -> list[str]:
    """What is off with a stem that is in the print."""
    said = []
    if fit.differs:
        said.append(f"differs {clock_text(fit.differs[0][0])} to {clock_text(fit.differs[0][1])}")
    kept = row.value("polarity_kept")
    if isinstance(kept, FactValue) and kept.value is False:
        said.append("turned over")
    late = row.value("late_ms")
    if isinstance(late, FactValue) and abs(late.number) >= TOLD_MS:
        said.append(f"{number_text(abs(late.number), 'ms')} {'late' if late.number > 0.0 else 'early'}")
    level = row.value("level_off_db")
    if isinstance(level, FactValue) and abs(level.number) >= TOLD_DB:
        said.append(f"{number_text(abs(round(level.number, 1)), 'dB')} {'louder' if level.number > 0.0 else 'softer'}")
    elif isinstance(level, Unknown) and not fit.differs:
        said.append("level open")
    if fit.swapped:
        said.append("left and right swapped")
    return said


def _foremost(stems: tuple[Stem, ...]) -> tuple[Stem, ...]:
    if len(stems) <= MOST:
        return stems

    def weight(at: int) -> tuple[bool, bool, float]:
        stem = stems[at]
        return stem.finding is not None, bool(stem.off), -200.0 if stem.share_db is None else stem.share_db

    return tuple(stems[at] for at in sorted(sorted(range(len(stems)), key=weight, reverse=True)[:MOST]))


def _answer(scene: Scene, total: StemSum, stems: Sequence[Stem], printed: str) -> str:
    row = TABLES["stems"].rows(scene.context)[0]
    missing = row.value("missing_db")
    left = number_text(round(total.left_db, 1), "dB")
    if isinstance(missing, Unknown):
        said = [f"{left} of {printed} are left over, and it is open why: {neutral(missing.unknown)}."]
    elif total.left_db <= FLOOR_DB:
        said = [f"The stems add up to {printed}: nothing but rounding is left over ({left})."]
    else:
        said = [f"{left} of {printed} are in none of the stems: {neutral(missing.note)}."]
    absent = [stem.name for stem in stems if stem.state == "absent"]
    if absent:
        said.append(f"Not in the print: {few_text(absent)}.")
    twice = dict.fromkeys(frozenset((stem.name, stem.copy)) for stem in stems if stem.state == "copy")
    if twice:
        said.append(f"Twice in the set: {few_text([' and '.join(sorted(both)) for both in twice], between='; ')}.")
    off = [f"{stem.name} ({stem.off})" for stem in stems if stem.state == "inside" and stem.off]
    if off:
        said.append(f"In it otherwise: {few_text(off, between='; ')}.")
    silent = [stem.name for stem in stems if stem.state == "open"]
    if silent:
        said.append(f"Not told: {few_text(silent)}.")
    return " ".join(said)


def _words(total: StemSum, shown: Sequence[Stem], more: int, about: Sequence[Finding]) -> Words:
    head = ("what", "in the print", "of the print", "what is off", "finding")
    plain, best = (number_text(round(one, 1), "dB") for one in (total.plain_db, total.left_db))
    said = "; ".join(f"{one.grade}: {neutral(one.message)}" for one in about)
    rows = [
        ("left over, stems as they are", "", plain, "", ""),
        ("left over, each stem at its best", "", best, "", said),
    ]
    states = {"inside": "yes", "absent": "no", "copy": "not told apart", "open": "not known"}
    for stem in shown:
        share = "" if stem.share_db is None else with_unit(round(stem.share_db, 1), "dB")
        found = f"{stem.finding.grade}: {neutral(stem.finding.message)}" if stem.finding is not None else ""
        rows.append((stem.name, states[stem.state], share, neutral(stem.off), found))
    if more:
        rows.append((counts_of(more, "more stem"), "", "", "not shown", ""))
    return Words(head, tuple(rows))


def draw_stems(total: StemSum, stems: Sequence[Stem], finding: Finding | None, more: int = 0) -> StemsPicture:
    """The picture of a set of stems.

    Args:
        total: how they add up.
        stems: the rows that are drawn.
        finding: the gravest finding about the set as a whole.
        more: how many stems are not drawn.
    """
    length = max(total.whole.size * total.block_s, total.block_s)

    def x(seconds: float) -> float:
        return round(TIME + (TIME_END - TIME) * min(max(seconds / length, 0.0), 1.0), 1)

    whole, left = (_course(one, total) for one in (total.whole, total.left))
    base = TOP + PANEL
    area = f"{left}V{base}H{TIME}Z" if left else ""
    scale = tuple((_y(db), "0 dB" if not db else number_text(db)) for db in STEPS_DB)
    ticks = tuple((x(at), said) for at, said in time_ticks(0.0, length, 6))
    shares = tuple((_share(db), number_text(db)) for db in (-60.0, -30.0, 0.0))
    rows = tuple(_row(stem, TOP + PANEL + GAP + ROW * (at + 0.5), x) for at, stem in enumerate(stems))
    said = f"{counts_of(more, 'more stem')}, in the print as they are" if more else ""
    height = TOP + PANEL + GAP + ROW * (len(stems) + bool(more)) + BOTTOM
    return StemsPicture(height, whole, left, area, scale, ticks, shares, rows, _flag(finding, 12.0), said)


def _flag(finding: Finding | None, y: float) -> Flag | None:
    return None if finding is None else Flag(6.0, y, finding.grade, neutral(finding.message))


def _share(db: float) -> float:
    return round(SHARE + (SHARE_END - SHARE) * (max(db, SHARE_LOW_DB) - SHARE_LOW_DB) / -SHARE_LOW_DB, 1)


def _y(db: float) -> float:
    return round(TOP + PANEL * min(max(db, FLOOR_DB), 0.0) / FLOOR_DB, 1)


def _course(blocks: NDArray[np.float64], total: StemSum) -> str:
    """A course of energies in blocks as a path, relative to the print where it is loudest."""
    import numpy as np

    size = max(1, ceil(blocks.size / COLUMNS))
    starts = np.arange(0, blocks.size, size)
    if not starts.size:
        return ""
    counts = np.diff(np.append(starts, blocks.size))
    means = np.add.reduceat(blocks, starts) / counts
    loudest = float((np.add.reduceat(total.whole, starts) / counts).max())
    points = [_y(10.0 * log10(max(float(one) / loudest, 1e-12))) for one in means] if loudest > 0.0 else []
    if not points:
        return ""
    width = (TIME_END - TIME) / blocks.size
    edges = [round(TIME + at * width, 1) for at in (*starts.tolist(), blocks.size)]
    return (
        f"M{edges[0]} {points[0]}"
        + "".join(f"H{x}V{y}" for x, y in zip(edges[1:-1], points[1:], strict=True))
        + (f"H{edges[-1]}")
    )


def _row(stem: Stem, y: float, x: Callable[[float], float]) -> StemRow:
    bars = tuple((x(start), round(max(x(end) - x(start), 2.0), 1)) for start, end in stem.differs)
    share = "" if stem.share_db is None else f", {number_text(round(stem.share_db, 1), 'dB')} of the print"
    title = f"{stem.name}{share}{': ' if stem.off else ''}{neutral(stem.off)}"
    return StemRow(
        y,
        fitted(stem.part or stem.name, NAME_WIDTH),
        title,
        bars,
        stem.state,
        float(UNTOLD) if stem.share_db is None else _share(stem.share_db),
        fitted(neutral(stem.off) or ("as it is" if stem.state == "inside" else ""), SAID_WIDTH),
        _flag(stem.finding, 0.0),
    )
