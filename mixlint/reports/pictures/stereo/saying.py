"""What the picture of the mix in stereo says: its answer, its legend, its titles, and the same as a table."""

from __future__ import annotations

from math import log10
from typing import Final

from mixlint.analysis.balance import Imbalance
from mixlint.reports.pictures.picture import Words
from mixlint.reports.pictures.shapes import grades_text
from mixlint.reports.pictures.stereo.gathering import Gathered, Mark, Off
from mixlint.reports.plain import neutral, shortened
from mixlint.reports.words import counts_of, with_unit
from mixlint.units import few_text, number_text, pan_text

LISTED: Final = 12
"""So many of what is not heard are named, the others counted."""

NAME: Final = 40
"""Columns of a name in a caption."""

OFF_HEADINGS: Final = {
    "muted": "Muted",
    "not in the mix": "Does not reach the mix bus",
    "place not known": "Place not known",
}
"""Why something is not in the picture → how its line begins."""

ANSWERS: Final = {
    "turns": "answered by several in turn",
    "alone": "alone: nobody answers it",
    "open": "not answered",
    "unread": "what it plays is not told",
}
"""What is said of a part that no single one answers."""

EVEN_DB: Final = 0.5
"""Nearer to 0 the two sides are called even: wording."""


def answer(found: Gathered) -> str:
    """Who stands alone, which side is heavier, what crowds the centre."""
    said = (_alone(found), _unplaced(found), _own_side(found), _heavier(found), _centre(found))
    return " ".join(one for one in said if one)


def _unplaced(found: Gathered) -> str:
    if not found.unplaced:
        return ""
    verb = "stands" if len(found.unplaced) == 1 else "stand"
    return f"Where {few_text([_called(one.name) for one in found.unplaced])} {verb} is not known."


def _as_known(found: Gathered) -> str:
    """What every word on those that are placed needs where others are not."""
    return ", as far as places are known" if found.unplaced else ""


def _called(name: str) -> str:
    return shortened(neutral(name), NAME)


def _placed(mark: Mark) -> str:
    return f"{_called(mark.name)} ({pan_text(mark.stands.position)})"


def _alone(found: Gathered) -> str:
    alone = [mark for mark in found.parts if mark.answer == "alone"]
    alone.sort(key=lambda mark: not mark.partner)  # of whom most is to be said
    bare = [mark for mark in found.parts if mark.answer == "open"]
    if alone:
        said = f"{_placed(alone[0])} stands alone: {_why_alone(found, alone[0])}"
        rest = [_placed(mark) for mark in alone[1:]]
        so = f"; so {'does' if len(rest) == 1 else 'do'} {few_text(rest)}" if rest else ""
        return f"{said}{so}."
    if bare:
        who = few_text([_placed(mark) for mark in bare])
        return f"No like part answers {who}{_as_known(found)}, and no rule in force asks for one."
    if any(mark.answer == "unread" for mark in found.parts):
        return "Every part off the centre is answered on the other side, as far as names tell what plays."
    aside = any(mark.answer in ("pair", "turns") for mark in found.parts)
    said = "Every part off the centre is answered on the other side" if aside else "No part stands off the centre"
    return f"{said}{_as_known(found)}."


def _why_alone(found: Gathered, mark: Mark) -> str:
    if not mark.partner:
        return "nobody answers it on the other side"
    return f"{_called(found.names.get(mark.partner, ''))}, its other half by name, {mark.lacks or 'is not heard'}"


def _own_side(found: Gathered) -> str:
    """Whose ambience comes back from its own side where others' crosses."""
    by_id = {mark.ids[0]: mark for mark in found.parts}
    same, crossed = [], 0
    for one in found.returns:
        part = by_id.get(one.fed_by[0]) if len(one.fed_by) == 1 else None
        if part is None or min(abs(part.stands.position), abs(one.stands.position)) <= found.centre:
            continue
        if part.stands.position * one.stands.position > 0.0:
            same.append(f"{_called(one.name)} comes back on the side of {_called(part.name)}")
        else:
            crossed += 1
    return f"{few_text(same)}, where others cross." if same and crossed else ""


def _heavier(found: Gathered) -> str:
    if not isinstance(found.balance, Imbalance):
        return f"Which side is heavier is not known: {found.balance.unknown}."
    db, how = found.balance.song_db, "measured" if found.balance.measured else "estimated, nothing measured"
    if any(m.stands.measured for m in found.parts) and not found.balance.measured:
        how = "in part estimated"
    if abs(db) < EVEN_DB:
        return f"Left and right are as heavy as each other ({how})."
    side = "left" if db > 0 else "right"
    by = next((found.names[pull.channel] for pull in found.balance.causes if pull.channel in found.names), "")
    because = f", most of it by {_called(by)}" if by else ""
    return f"The {side} is heavier by {number_text(abs(db), 'dB')}{because} ({how})."


def _centre(found: Gathered) -> str:
    here = [mark for mark in found.parts if abs(mark.stands.position) <= found.centre]
    if not here:
        return f"Nothing stands in the centre{_as_known(found)}."
    count = sum(len(mark.ids) for mark in here)
    whole = sum(len(mark.ids) for mark in found.parts)
    share = round(100.0 * found.shares[1])
    of, whose = (" that are placed", "their") if found.unplaced else ("", "the")
    said = f"The centre holds {count} of {counts_of(whole, 'part')}{of} and {share} % of {whose} energy"
    rivals = [mark for mark in here if mark.rival]
    if rivals:
        verb = "crowds" if len(rivals) == 1 else "crowd"
        who = few_text([_called(mark.name) for mark in rivals])
        return f"{said}; {who} {verb} {_called(found.voice)} there."
    loudest = sorted(here, key=lambda mark: -mark.stands.power)
    return f"{said}, most of it {' and '.join(_called(mark.name) for mark in loudest[:2])}."


def legend(found: Gathered) -> tuple[str, ...]:
    """How to read it, only of what is in it."""
    said = ["Left to right: where a part really arrives, by all its paths."]
    said.append("Area: loudness at the mix bus while it plays, half of it for 10 dB less.")
    if any(mark.hz is not None for mark in found.parts):
        said.append("Height: the octave in which the middle of its tone lies; a pair stands in the middle of its two.")
    if any(mark.hz is None for mark in found.parts):
        said.append("Where no audio was heard the height says nothing.")
    measured = [mark.stands.measured for mark in found.parts]
    if not any(measured):
        said.append("Nothing was measured: the area shows gains alone.")
    elif not all(measured):
        said.append("Dotted outline: loudness assumed, so that the area shows its gain.")
    answers = {mark.answer for mark in found.parts}
    if "pair" in answers:
        said.append("A line joins parts that answer each other.")
    if "alone" in answers:
        said.append("Open with a heavy outline: it stands alone, with the empty place opposite.")
    if "open" in answers:
        said.append("Open with a thin outline: no like part opposite, and no rule asks for one.")
    if "unread" in answers:
        said.append("Not read: its name does not tell what it plays, so that no answer was looked for.")
    if any(mark.stands.ends for mark in found.parts):
        said.append("A bar through a part: from its left leg to its right.")
    if any(mark.stands.moves for mark in found.parts):
        said.append("A dotted bar: as far as automation moves it.")
    if found.returns:
        said.append("Ellipse: ambience, joined by dashes to the part that alone feeds it.")
    marks = (*found.parts, *found.returns)
    flagged = (found.findings, *(one.findings for one in marks), *(one.findings for one in found.off))
    return (*said, *grades_text(grade for told in flagged for grade, _ in told[:1]))


def mark_title(found: Gathered, mark: Mark) -> str:
    """Everything about one mark."""
    said = [_called(mark.name), pan_text(mark.stands.position), _level(found, mark)]
    if mark.stands.moves:
        said.append(f"moves from {pan_text(mark.stands.moves[0])} to {pan_text(mark.stands.moves[1])}")
    if mark.hz is not None:
        said.append(f"tone around {with_unit(_round(mark.hz), 'Hz')}")
    if mark.is_return:
        said.append(f"of {_fed(found, mark)}")
    elif mark.answer != "needless":
        said.append(_answered(found, mark))
    if len(mark.ids) > 1:
        said.append(few_text([_called(found.names[one]) for one in mark.ids], 8))
    return ", ".join(said)


def _round(hz: float) -> float:
    step = 10.0 ** max(0.0, int(log10(max(hz, 1.0))) - 1)
    return float(round(hz / step) * step)


def _level(found: Gathered, mark: Mark) -> str:
    loudest = max(one.stands.power for one in (*found.parts, *found.returns))
    how = "" if mark.stands.measured else " (gain alone)"
    if mark.stands.power <= 0.0:
        return "silent"
    db = round(10.0 * log10(mark.stands.power / loudest), 1)
    return f"{'the loudest' if db >= 0.0 else number_text(db, 'dB')}{how}"


def _fed(found: Gathered, mark: Mark) -> str:
    return few_text([_called(found.names[one]) for one in mark.fed_by], 4)


def _answered(found: Gathered, mark: Mark) -> str:
    if mark.answer == "pair":
        return f"answered by {_called(found.names.get(mark.partner, ''))}"
    return ANSWERS.get(mark.answer, "")


def share_text(found: Gathered) -> tuple[str, str, str]:
    """How much stands on the left, in the centre and on the right."""
    left, centre, right = (f"{round(100.0 * share)} %" for share in found.shares)
    of = "what is placed" if found.unplaced else "the energy"
    return f"left {left} of {of}", f"centre {centre}", f"right {right}"


def off_lines(found: Gathered) -> list[tuple[str, list[tuple[str, str, tuple[tuple[str, str], ...]]]]]:
    """Lines of what is not heard: a heading, and of each its text, its full text and its findings."""
    lines = []
    for why, heading in OFF_HEADINGS.items():
        here = [one for one in found.off if one.why == why]
        if not here:
            continue
        told = sorted(here, key=lambda one: not one.findings)[:LISTED]
        items = [(one.name, _off_text(one), one.findings) for one in told]
        if len(here) > LISTED:
            items.append((f"and {len(here) - LISTED} more", "", ()))
        lines.append((heading, items))
    return lines


def _off_text(one: Off) -> str:
    return f"{one.name}: {one.detail}" if one.detail else one.name


def words(found: Gathered) -> Words:
    """The same as a table."""
    rows: list[tuple[str, ...]] = [
        (
            _called(mark.name),
            pan_text(mark.stands.position),
            _level(found, mark),
            with_unit(_round(mark.hz), "Hz") if mark.hz is not None else "not measured",
            _answered(found, mark) if mark.answer != "needless" else "",
        )
        for mark in found.parts
    ]
    rows += [
        (
            _called(mark.name),
            pan_text(mark.stands.position),
            _level(found, mark),
            "",
            f"ambience of {_fed(found, mark)}",
        )
        for mark in found.returns
    ]
    for why, heading in OFF_HEADINGS.items():
        here = [one for one in found.off if one.why == why]
        rows += [(_called(one.name), heading.lower(), "", "", one.detail) for one in here[: 4 * LISTED]]
        if len(here) > 4 * LISTED:
            rows.append((f"{len(here) - 4 * LISTED} more", heading.lower(), "", "", ""))
    left, centre, right = found.shares
    rows.append(("share of the energy", *(f"{at} {round(100 * s)} %" for at, s in _shares(left, centre, right)), ""))
    return Words(("part", "place", "level under the loudest", "middle of its tone", "answer"), tuple(rows))


def _shares(left: float, centre: float, right: float) -> tuple[tuple[str, float], ...]:
    return ("left", left), ("centre", centre), ("right", right)
