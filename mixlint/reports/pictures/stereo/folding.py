"""A large session brought together: the parts of one family on one side as one mark."""

from __future__ import annotations

from dataclasses import replace
from math import exp, log
from typing import Final

from mixlint.analysis.stereo_image import Standing, position_of_powers
from mixlint.reports.pictures.stereo.gathering import Answer, Gathered, Mark
from mixlint.reports.words import counts_of

MOST_PARTS: Final = 40
"""Up to so many parts each has a mark of its own."""

MOST_RETURNS: Final = 12
MOST_TOLD: Final = 12
"""So many parts that stand alone, or that findings tell of, keep a mark of their own in a large session."""

FEWEST: Final = 3
"""So many parts of a family on one side are taken together, and no fewer."""


BARE: Final[tuple[Answer, ...]] = ("alone", "open", "unread")
"""What is not answered, the gravest first."""


def folded(found: Gathered) -> Gathered:
    """The same with few enough marks to read; what stands alone stays by itself as far as that goes."""
    parts, returns = found.parts, found.returns
    if len(parts) > MOST_PARTS:
        parts = _folded_parts(found)
    if len(returns) > MOST_RETURNS:
        returns = _folded_returns(found)
    kept = {one for mark in parts for one in mark.ids[:1] if len(mark.ids) == 1}
    parts = tuple(
        replace(mark, partner="") if len(mark.ids) == 1 and mark.partner not in kept else mark for mark in parts
    )
    return replace(found, parts=parts, returns=returns)


def _told(marks: tuple[Mark, ...]) -> frozenset[str]:
    """Ids of the parts that stay by themselves: the first that stand alone, with their partners, and those told of."""
    alone = [mark for mark in marks if mark.answer == "alone"]
    grave = [mark for mark in marks if mark.findings and mark.answer != "alone"]
    kept = [*alone, *grave][:MOST_TOLD]
    return frozenset(one for mark in kept for one in (*mark.ids, mark.partner) if one)


def _folded_parts(found: Gathered) -> tuple[Mark, ...]:
    told = _told(found.parts)
    groups: dict[tuple[str, int, bool], list[Mark]] = {}
    for mark in found.parts:
        if mark.ids[0] not in told:
            alone = mark.answer in BARE
            groups.setdefault((mark.family, _side(mark, found.centre), alone), []).append(mark)
    made: dict[tuple[str, int, bool], Mark] = {}
    for key, marks in groups.items():
        if len(marks) >= FEWEST:
            made[key] = _together(marks, _family_text(key[0], len(marks)))
    for key, mark in made.items():
        family, side, alone = key
        across = made.get((family, -side, False))
        if side and not alone and across is not None:
            made[key] = replace(mark, answer="pair", partner=across.ids[0])
    into = {mark.ids[0]: made.get(key) for key, marks in groups.items() for mark in marks}
    shown: dict[tuple[str, ...], Mark] = {}
    for mark in found.parts:
        one = into.get(mark.ids[0]) or mark
        shown.setdefault(one.ids, one)
    return tuple(shown.values())


def _side(mark: Mark, centre: float) -> int:
    place = mark.stands.position
    return 0 if abs(place) <= centre else -1 if place < 0.0 else 1


def _family_text(family: str, count: int) -> str:
    called = family.replace("-", " ").capitalize() if family else "Parts of no known kind"
    return f"{called}, {counts_of(count, 'part')}"


def _together(marks: list[Mark], name: str) -> Mark:
    """Several as one: their energy added, their tone in its middle where all of it was measured."""
    left, right = sum(mark.stands.left for mark in marks), sum(mark.stands.right for mark in marks)
    whole = left + right
    tones = [(mark.stands.power, mark.hz) for mark in marks if mark.hz is not None]
    hz = None
    if len(tones) == len(marks) and whole > 0.0:
        hz = exp(sum(power * log(tone) for power, tone in tones) / whole)
    answers = {mark.answer for mark in marks}
    answer: Answer = next((one for one in BARE if one in answers), "needless")
    return Mark(
        tuple(one for mark in marks for one in mark.ids),
        name,
        Standing(left, right, position_of_powers(left, right), None, None, all(m.stands.measured for m in marks)),
        hz,
        answer,
        fed_by=tuple(dict.fromkeys(one for mark in marks for one in mark.fed_by)),
        findings=tuple(dict.fromkeys(finding for mark in marks for finding in mark.findings))[:MOST_TOLD],
        family=marks[0].family,
        is_return=marks[0].is_return,
        rival=any(mark.rival for mark in marks),
    )


def _folded_returns(found: Gathered) -> tuple[Mark, ...]:
    groups: dict[int, list[Mark]] = {}
    kept = [mark for mark in found.returns if mark.findings][:MOST_TOLD]
    for mark in found.returns:
        if mark not in kept:
            groups.setdefault(_side(mark, found.centre), []).append(mark)
    made = [
        _together(marks, counts_of(len(marks), "return")) if len(marks) >= FEWEST else None for marks in groups.values()
    ]
    rest = [one for marks, mark in zip(groups.values(), made, strict=True) if mark is None for one in marks]
    return (*kept, *rest, *(mark for mark in made if mark is not None))
