"""Two revisions as one self-contained page: what moved where, what came and went, and every change in a table."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Final

from mixlint.reports.compare import TURNS, caution_of, change_groups, count_text, turn_text, unseen_groups
from mixlint.reports.page.environment import rendered
from mixlint.reports.pictures.moved import LEAST_SHARE, Move, Revisions, moves, share_text, together_db
from mixlint.reports.pictures.moved import levels as level_picture
from mixlint.reports.pictures.moved import places as place_picture
from mixlint.reports.plain import neutral
from mixlint.reports.words import counts_of
from mixlint.units import number_text

if TYPE_CHECKING:
    from mixlint.comparison import MixChange
    from mixlint.review.compare import ComparisonReport

FOREMOST: Final = 3
"""So many moves are told in the first sentence: wording."""

WIRING: Final = ("channel", "mute", "solo", "output", "send", "insert")
"""What a change touches that is told as added, removed or switched."""


def comparison_html(compared: ComparisonReport, revisions: Revisions, version: str = "") -> str:
    """The page.

    Args:
        compared: the changes and the findings.
        revisions: both sessions.
        version: mixlint's own.
    """
    found = moves(revisions)
    changed = bool(compared.changes)
    pictures = (
        place_picture.draw(found, "moved_places", "What moved where"),
        level_picture.draw(found, "moved_levels", "Levels before and now"),
    )
    return rendered(
        "compare.html.j2",
        pictures if changed else (),
        version=version,
        compared=compared,
        title=revisions.new.session.title or compared.new,
        outcome=outcome_text(compared, found),
        shares=any(move.share is not None for move in found),
        measured=all(one is None or one.measured for move in found for one in (move.was, move.now)),
        figures=pictures if changed else (),
        wiring=_wiring(compared.changes),
        groups=change_groups(compared.changes),
        unseen=unseen_groups(compared.unseen),
        turns=[
            (heading, [turn_text(t) for t in compared.findings if t.came == came]) for came, heading in TURNS.items()
        ],
        count=count_text(compared),
        caution=caution_of(compared),
    )


def outcome_text(compared: ComparisonReport, found: tuple[Move, ...]) -> str:
    """What changed, by how much, whoever moves most of the mix first; then what was added and removed."""
    if not compared.changes:
        return "Nothing changed." if not compared.unseen else "Nothing changed, as far as both revisions show it."
    said = []
    shift = together_db(found)
    if shift:
        way = "up" if shift > 0.0 else "down"
        said.append(f"The parts are {number_text(abs(round(shift, 1)), 'dB')} {way} together.")
    foremost = [move for move in found if move.moved or (move.share or 0.0) >= LEAST_SHARE]
    foremost.sort(key=lambda move: -(move.share or 0.0))  # stable: levels and places decide where nothing is known
    if foremost:
        told = [
            _told(move, of=" of the mix's energy" if at == 0 else "") for at, move in enumerate(foremost[:FOREMOST])
        ]
        more = f"; and {len(foremost) - FOREMOST} more" if len(foremost) > FOREMOST else ""
        what = "What moves the mix most" if len(foremost) > 1 else "What moves the mix"
        said.append(f"{what}: {'; '.join(told)}{more}.")
    else:
        said.append("No part moves in level or between the sides.")
    wired = _counted(compared.changes)
    if wired:
        said.append(f"{wired}.")
    return " ".join(said)


def _told(move: Move, of: str) -> str:
    share = share_text(move.share)
    return f"{move.name}, {move.text}{f' ({share}{of})' if share else ''}"


def _counted(changes: Iterable[MixChange]) -> str:
    """``2 sends and 1 insert added, 1 send removed, 1 mute switched``."""
    counts: dict[str, dict[str, int]] = {"added": {}, "removed": {}, "switched": {}, "set otherwise": {}}
    for change in changes:
        if change.what in WIRING and change.switched:
            by_what = counts[_did(change)]
            by_what[change.what] = by_what.get(change.what, 0) + 1
    said = []
    for did, by_what in counts.items():
        if by_what:
            listed = [counts_of(number, what) for what, number in by_what.items()]
            joined = " and ".join([", ".join(listed[:-1]), listed[-1]] if len(listed) > 1 else listed)
            said.append(f"{joined} {did}")
    text = ", ".join(said)
    return text[:1].upper() + text[1:]


def _did(change: MixChange) -> str:
    if change.did != "changed":
        return change.did
    return "switched" if change.was or change.now else "set otherwise"


def _wiring(changes: Iterable[MixChange]) -> list[tuple[str, list[tuple[str, str]]]]:
    """Channel by channel what was added, removed or switched: a sign's word and a sentence each."""
    found: dict[tuple[str, str], list[tuple[str, str]]] = {}
    for change in changes:
        if change.what in WIRING and change.switched and _did(change) != "set otherwise":
            found.setdefault((change.channel, change.channel_id), []).append((_did(change), neutral(change.says)))
    return [(neutral(name) or "(whole session)", said) for (name, _), said in found.items()]
