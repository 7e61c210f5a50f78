"""The stereo balance over time small enough for a row of a table, to one scale for every session."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from mixlint.analysis.balance import Imbalance, imbalance
from mixlint.reports.pictures.axis import Point, extremes, pieces_of
from mixlint.reports.pictures.small_row import HEIGHT as HEIGHT
from mixlint.reports.pictures.small_row import MOST_DB as MOST_DB
from mixlint.reports.pictures.small_row import WIDTH as WIDTH
from mixlint.reports.pictures.small_row import SmallBalance as SmallBalance
from mixlint.session import Unknown, as_shown
from mixlint.units import clock_text, number_text

if TYPE_CHECKING:
    from mixlint.analysis.context import SessionContext

EDGE: Final = 3
"""How far from the edge the line stays, user units."""
COLUMNS: Final = 80
"""So many places along the song; of each the most and the least are drawn."""

EVEN: Final = "even"
NOT_JUDGED: Final = "too little sounds to be judged"


def small_balance(context: SessionContext) -> SmallBalance:
    """The balance of a session, or why it has none."""
    found = as_shown(lambda: imbalance(context))
    if isinstance(found, Unknown):
        return SmallBalance(f"not known: {found.unknown}")
    pieces, dots = drawn(found.starts_s.tolist(), found.curve_db.tolist())
    if not pieces and not dots:
        return SmallBalance(f"not known: {NOT_JUDGED}")
    return SmallBalance(_said(found), pieces, dots)


def _said(found: Imbalance) -> str:
    how = "measured" if found.measured else "estimated"
    whole = lean_text(found.song_db)
    if found.worst_db is None:
        return f"{whole} over the song; {how}"
    most = lean_text(found.worst_db)
    if whole == most == EVEN:
        return f"even throughout; {how}"
    first, last = (clock_text(float(round(seconds))).partition(".")[0] for seconds in found.worst)
    return f"{whole} over the song; at most {most}, {first} to {last}; {how}"


def lean_text(db: float) -> str:
    """How far and to which side a mix leans: ``1.2 dB left``; ``even`` where it rounds to nothing."""
    said = number_text(abs(db), "dB")
    return EVEN if said == number_text(0.0, "dB") else f"{said} {'left' if db > 0 else 'right'}"


def drawn(
    starts_s: Sequence[float], curve_db: Sequence[float]
) -> tuple[tuple[str, ...], tuple[tuple[float, float], ...]]:
    """The line in pieces, and places that are judged alone.

    Args:
        starts_s: start of each window, seconds, rising.
        curve_db: left over right energy in each, dB, positive where left is heavier; NaN where not judged.
    """
    if not starts_s:
        return (), ()
    first = starts_s[0]
    length = max(starts_s[-1] - first, 1.0)
    pieces: list[str] = []
    dots: list[Point] = []
    for run in pieces_of(((t - first) / length, db) for t, db in zip(starts_s, curve_db, strict=True)):
        points = _thinned(run)
        if len(points) == 1:
            dots += points
        else:
            pieces.append("M" + "L".join(f"{x:g} {y:g}" for x, y in points))
    return tuple(pieces), tuple(dots)


def _thinned(run: Sequence[Point]) -> list[Point]:
    """Share of the song and dB as places in the picture, at most two for each of its columns."""
    placed = []
    for along, db in run:
        x = round(EDGE + along * (WIDTH - 2 * EDGE), 1)
        y = round(HEIGHT / 2 - min(max(db, -MOST_DB), MOST_DB) / MOST_DB * (HEIGHT / 2 - EDGE), 1)
        placed.append((min(int(along * COLUMNS), COLUMNS - 1), (x, y)))
    return extremes(placed)
