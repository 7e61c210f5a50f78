"""Places for everything in the picture of the mix in stereo: rows without collisions.

Rows lie in bands, the bright ones above. What belongs together is a block: two parts that answer each other, with the
returns that they alone feed. A block takes the first rows of its band in which nothing of it meets anything else, so
that no label lies on another, on a mark or on a line.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import log2
from typing import Final

from mixlint.analysis.balance import Imbalance
from mixlint.analysis.stereo_image import position_of_powers
from mixlint.reports.pictures.lettering import fitted, text_width
from mixlint.reports.pictures.shapes import BIGGEST, Flag, Label, Spot, Stroke, radius
from mixlint.reports.pictures.stereo.gathering import Gathered, Mark
from mixlint.reports.pictures.stereo.saying import mark_title, off_lines, share_text
from mixlint.units import number_text

WIDTH: Final = 900
MIDDLE: Final = 484
REACH: Final = 2.45
"""User units for one of pan: the stage is 490 wide."""
FIRST, LAST = 88.0, WIDTH - 8.0
"""Where labels may begin and end."""
PITCH: Final = 25.0
TOP: Final = 44.0
GAP: Final = 6.0
FLAG: Final = 13.0
"""How much room the mark of a finding takes behind a label."""
ROOM: Final = 8.0
"""Free space between neighbours in one row."""

NOMINAL: Final = ("31.5 Hz", "63 Hz", "125 Hz", "250 Hz", "500 Hz", "1 kHz", "2 kHz", "4 kHz", "8 kHz", "16 kHz")
"""Octaves by their nominal mid-band frequencies (IEC 61260-1:2014, annex E)."""


@dataclass(frozen=True, slots=True)
class Band:
    """A band of rows: its name in one line or two, and from where to where it goes."""

    lines: tuple[str, ...]
    top: float
    bottom: float


@dataclass(frozen=True, slots=True)
class StereoDrawing:
    """The whole drawing."""

    height: float
    stage_bottom: float
    centre: tuple[float, float]
    ticks: tuple[tuple[float, str], ...]
    bands: tuple[Band, ...]
    spots: tuple[Spot, ...]
    labels: tuple[Label, ...]
    strokes: tuple[Stroke, ...]
    flags: tuple[Flag, ...]
    pointer: float | None
    head: str
    width: int = WIDTH
    middle: int = MIDDLE
    top: float = TOP


@dataclass
class _Piece:
    """One thing of a block: what it is made of, with y counted in rows from the block's own row, and the room it takes
    in each row."""

    spots: list[tuple[float, float, float, str, str]] = field(default_factory=list)
    labels: list[tuple[float, float, str, str, str, float, float, str]] = field(default_factory=list)
    flags: list[tuple[float, float, str, str]] = field(default_factory=list)
    strokes: list[tuple[tuple[tuple[float, float], ...], str]] = field(default_factory=list)
    room: dict[int, list[tuple[float, float]]] = field(default_factory=dict)
    poles: list[tuple[float, int]] = field(default_factory=list)
    """Upright lines: where, and to which row from the block's own."""

    def take(self, row: int, x0: float, x1: float) -> None:
        self.room.setdefault(row, []).append((x0, x1))

    def free(self, row: int, x0: float, x1: float) -> bool:
        """True where a stretch of a row meets nothing of the block."""
        return all(x1 + ROOM <= a or b + ROOM <= x0 for a, b in self.room.get(row, ()))


def x_of(position: float) -> float:
    """Where a position from −100 to +100 lies."""
    return round(MIDDLE + position * REACH, 1)


def laid_out(found: Gathered) -> StereoDrawing:
    """The drawing of what was gathered."""
    loudest = max((mark.stands.power for mark in (*found.parts, *found.returns)), default=0.0)
    blocks: dict[float, list[_Piece]] = {}
    for band, piece in _blocks(found, loudest):
        blocks.setdefault(band, []).append(piece)
    spots: list[Spot] = []
    labels: list[Label] = []
    flags: list[Flag] = []
    strokes: list[Stroke] = []
    bands: list[Band] = []
    y = TOP
    for band in sorted(blocks, reverse=True):
        rows, placed = _packed(blocks[band])
        lines = _band_text(band)
        bottom = y + max(rows, len(lines)) * PITCH + 6.0
        for piece, row in placed:
            base = y + 3.0 + (row + 0.5) * PITCH
            _add(piece, base, spots, labels, flags, strokes)
        bands.append(Band(lines, y, bottom))
        y = bottom
    stage_bottom = y
    pointer, more = _foot(found, stage_bottom, labels, flags)
    height = _off(found, more, labels, flags)
    ticks = tuple(
        (x_of(at), text)
        for at, text in ((-100, "100 left"), (-50, "50 left"), (0, "centre"), (50, "50 right"), (100, "100 right"))
    )
    return StereoDrawing(
        round(height, 1),
        round(stage_bottom, 1),
        (x_of(-found.centre), x_of(found.centre)),
        ticks,
        tuple(bands),
        tuple(spots),
        tuple(labels),
        tuple(strokes),
        tuple(flags),
        pointer,
        "tone around" if any(band >= 0.0 for band in blocks) else "",
    )


UNMEASURED, SHARED = -1.0, -2.0
"""Bands without a tone: parts whose tone was not measured, and ambience of several."""


def _band_text(band: float) -> tuple[str, ...]:
    if band == SHARED:
        return "ambience", "of several"
    return ("tone not", "measured") if band == UNMEASURED else (NOMINAL[int(band)],)


def _octave(hz: float | None) -> float:
    return UNMEASURED if hz is None else float(min(9, max(0, round(log2(hz / 1000.0)) + 5)))


def _blocks(found: Gathered, loudest: float) -> list[tuple[float, _Piece]]:
    """The blocks in the order in which they look for a row: those that stand alone first, then pairs, then the rest."""
    by_id = {mark.ids[0]: mark for mark in found.parts}
    in_blocks: list[tuple[int, tuple[Mark, ...]]] = []
    seen: set[str] = set()
    for mark in found.parts:
        if mark.ids[0] in seen:
            continue
        other = by_id.get(mark.partner) if mark.answer == "pair" else None
        answers = other is not None and other.answer == "pair" and other.ids[0] not in seen | {mark.ids[0]}
        if other is not None and answers:
            two = sorted((mark, other), key=lambda one: one.stands.position)
            in_blocks.append((1, tuple(two)))
            seen |= {mark.ids[0], other.ids[0]}
        else:
            in_blocks.append((0 if mark.answer == "alone" else 2, (mark,)))
            seen.add(mark.ids[0])
    owned: dict[int, list[Mark]] = {}
    shared: list[Mark] = []
    home = {one: n for n, (_, marks) in enumerate(in_blocks) for mark in marks for one in mark.ids}
    for one in found.returns:
        homes = {home.get(feeder, -1) for feeder in one.fed_by}
        n = homes.pop() if len(homes) == 1 else -1
        if n >= 0 and all(len(mark.ids) == 1 for mark in in_blocks[n][1]):
            owned.setdefault(n, []).append(one)
        else:
            shared.append(one)
    made: list[tuple[int, int, float, _Piece]] = []
    for n, (rank, marks) in enumerate(in_blocks):
        tones = [mark.hz for mark in marks]
        known = [hz for hz in tones if hz is not None]
        hz = None if len(known) < len(tones) else 2.0 ** (sum(map(log2, known)) / len(known))
        piece = _Piece()
        for mark in marks:
            _put(piece, found, mark, loudest, "start" if len(marks) == 2 and mark is marks[1] else "")
        if len(marks) == 2:
            _tie(piece)
        if marks[0].answer == "alone":
            _ghost(piece, found, marks[0], loudest)
        elif marks[0].answer == "open":
            _open_end(piece, marks[0], loudest)
        shared += [one for one in owned.get(n, ()) if not _join(piece, found, one, marks, loudest)]
        made.append((rank, n, _octave(hz), piece))
    for n, one in enumerate(shared):
        piece = _Piece()
        _put(piece, found, one, loudest)
        made.append((3, n, SHARED, piece))
    return [(band, piece) for _, _, band, piece in sorted(made, key=lambda one: one[:2])]


def _side_of_label(position: float) -> str:
    return "end" if position < -1.0 else "start"


def _put(piece: _Piece, found: Gathered, mark: Mark, loudest: float, anchor: str = "", row: int | None = None) -> None:
    """A mark with its label on the outer side, in a row of its own where it would meet its other half."""
    stands = mark.stands
    x, r = x_of(stands.position), radius(stands.power, loudest)
    ends = [x_of(one) for one in (stands.ends or stands.moves or ())]
    x0, x1 = min([x - r, *ends]), max([x + r, *ends])
    anchor = anchor or _side_of_label(stands.position)
    label = _label(mark, x0, x1, anchor)
    low, high = min(x0, label[0]), max(x1, label[1])
    at = row
    if at is None:
        at = 0
        while not piece.free(at, low, high):
            at += 1
    piece.take(at, low, high)
    in_part = not stands.measured and any(one.stands.measured for one in found.parts)
    kind = ("return" if mark.is_return else mark.answer) + (" assumed" if in_part else "")
    piece.spots.append((x, float(at), r, kind, mark_title(found, mark)))
    if stands.ends:
        piece.strokes.append((((ends[0], float(at)), (ends[1], float(at))), "legs"))
    elif stands.moves:
        piece.strokes.append((((ends[0], float(at)), (ends[1], float(at))), "moves"))
    piece.labels.append((label[2], float(at), label[3], anchor, label[4], label[5], label[6], mark.name))
    if mark.findings:
        piece.flags.append((label[7], float(at), mark.findings[0][0], " ".join(text for _, text in mark.findings)))


def _label(mark: Mark, x0: float, x1: float, anchor: str) -> tuple[float, float, float, str, str, float, float, float]:
    """Left and right end of all, then x and text of the label, its class, its own ends, and where a flag stands."""
    kind = "alone" if mark.answer == "alone" else "name"
    flag = FLAG if mark.findings else 0.0
    bold, size = kind == "alone", 13.0 if kind == "alone" else 12.0
    begin = (x0 if anchor == "end" else x1) + (-GAP if anchor == "end" else GAP)
    x = begin - flag if anchor == "end" else begin + flag
    room = x - FIRST if anchor == "end" else LAST - x
    after = _after(mark)
    text = fitted(mark.name, room - text_width(after, size, bold=bold), size, bold=bold) + after
    wide = text_width(text, size, bold=bold)
    if anchor == "end":
        return x - wide, begin, x, text, kind, x - wide, x, begin - FLAG + 4.0
    return begin, x + wide, x, text, kind, x, x + wide, begin


def _after(mark: Mark) -> str:
    """What stands behind the name in a label."""
    if mark.is_return:
        return f", of {len(mark.fed_by)} parts" if len(mark.fed_by) > 1 else ""
    if mark.rival:
        return ", in the voice's range"
    return {"open": ", unanswered", "unread": ", not read"}.get(mark.answer, "")


def _tie(piece: _Piece) -> None:
    """The line between two parts that answer each other."""
    (x1, row1, r1, *_), (x2, row2, r2, *_) = piece.spots[0], piece.spots[1]
    if row1 == row2:
        piece.strokes.append((((x1 + r1, row1), (x2 - r2, row2)), "pair"))
        piece.take(int(row1), min(x1, x2), max(x1, x2))
        return
    piece.strokes.append((((x1, row1), (x1, row2), (x2, row2)), "pair"))
    piece.poles.append((x1, int(row2)))


def _ghost(piece: _Piece, found: Gathered, mark: Mark, loudest: float) -> None:
    """The empty place opposite a part that stands alone."""
    x, r = x_of(mark.stands.position), radius(mark.stands.power, loudest)
    there = x_of(-mark.stands.position)
    anchor = "start" if there >= x else "end"
    if abs(there - x) < 4.0 * BIGGEST:  # by all its paths it stands near the middle, whatever its pan
        return
    said = _no_answer(found, mark)
    if anchor == "start":
        begin = there + r + GAP
        text = _in_room(said, mark, LAST - begin)
        ends = begin, begin + text_width(text)
        line = x + r, there - r
    else:
        begin = there - r - GAP
        text = _in_room(said, mark, begin - FIRST)
        ends = begin - text_width(text), begin
        line = x - r, there + r
    if not piece.free(0, min(there - r, ends[0]), max(there + r, ends[1])):
        return
    piece.spots.append((there, 0.0, r, "ghost", said))
    piece.labels.append((begin, 0.0, text, anchor, "soft", ends[0], ends[1], said))
    piece.strokes.append((((line[0], 0.0), (line[1], 0.0)), "empty"))
    piece.take(0, min(x, there - r, ends[0]), max(x, there + r, ends[1]))


def _in_room(said: str, mark: Mark, room: float) -> str:
    """What is said at the empty place; where that does not fit, without the name, which its own mark bears."""
    return next((text for text in (said, mark.lacks) if text and text_width(text) <= room), fitted(said, room))


OPEN_END: Final = 44.0
"""How far the line from a part that is not answered reaches towards the other side."""


def _open_end(piece: _Piece, mark: Mark, loudest: float) -> None:
    """A line that ends in nothing, from a part that nobody answers and no rule asks about."""
    x, r = x_of(mark.stands.position), radius(mark.stands.power, loudest)
    inward = 1.0 if mark.stands.position < 0.0 else -1.0
    near, far = x + inward * r, x + inward * (r + OPEN_END)
    piece.strokes.append((((near, 0.0), (far, 0.0)), "empty"))
    piece.take(0, min(near, far), max(near, far))


def _no_answer(found: Gathered, mark: Mark) -> str:
    """What stands at the empty place."""
    if not mark.partner:
        return "nobody here"
    return f"{found.names.get(mark.partner, 'its partner')} {mark.lacks or 'is not heard'}"


def _join(piece: _Piece, found: Gathered, one: Mark, marks: tuple[Mark, ...], loudest: float) -> bool:
    """A return in the nearest row of its part's block where it meets nothing, with its line; False where none is."""
    places = {x_of(mark.stands.position) for mark in marks if mark.ids[0] in one.fed_by}
    sources = [spot for spot in piece.spots if spot[0] in places and "return" not in spot[3] and spot[3] != "ghost"]
    if not sources:
        return False
    x, r = x_of(one.stands.position), radius(one.stands.power, loudest)
    ends = [x_of(end) for end in (one.stands.moves or ())]
    fx = [spot[0] for spot in sources]
    if min(fx) < x < max(fx):  # a label on either side would lie on a line
        return False
    anchor = "start" if x >= max(fx) else "end"
    label = _label(one, min([x - r, *ends]), max([x + r, *ends]), anchor)
    low, high = min([x - r, label[0], *fx]), max([x + r, label[1], *fx])
    for row in (1, -1, 2, -2, 3, -3, 4, -4, 5, -5, 6, -6):
        step = 1 if row > 0 else -1
        between = [n for spot in sources for n in range(int(spot[1]) + step, row, step)]
        straight = all((row - int(spot[1])) * step > 0 for spot in sources)
        if (
            straight
            and piece.free(row, low, high)
            and all(piece.free(n, at, at) for n in between for at in fx)
            and not any(low <= at <= high and _spans(row, to) for at, to in piece.poles)
        ):
            break
    else:
        return False
    for spot in sources:
        reach = x - r if x > spot[0] else x + r
        points = [(spot[0], spot[1] + step * spot[2] / PITCH), (spot[0], float(row))]
        if abs(x - spot[0]) > r:
            points.append((reach, float(row)))
        else:
            points[1] = (spot[0], row - step * r / PITCH)
        piece.strokes.append((tuple(points), "ambience"))
        piece.poles.append((spot[0], row))
    for n in between:
        for at in fx:
            piece.take(n, at, at)
    _put(piece, found, one, loudest, anchor, row)
    piece.take(row, low, high)
    return True


def _spans(row: int, to: int) -> bool:
    return 0 < row < to or to < row < 0


def _packed(pieces: list[_Piece]) -> tuple[int, list[tuple[_Piece, int]]]:
    """How many rows the pieces of a band take, and the row of each one's own, from 0."""
    taken: dict[int, list[tuple[float, float]]] = {}
    placed = []
    rows = 0
    for piece in pieces:
        top, bottom = -min([0, *piece.room]), max([0, *piece.room])
        row = top
        while not all(
            x1 + ROOM <= a or b + ROOM <= x0
            for n, room in piece.room.items()
            for x0, x1 in room
            for a, b in taken.get(row + n, ())
        ):
            row += 1
        for n, room in piece.room.items():
            taken.setdefault(row + n, []).extend(room)
        placed.append((piece, row))
        rows = max(rows, row + bottom + 1)
    return rows, placed


def _add(
    piece: _Piece, base: float, spots: list[Spot], labels: list[Label], flags: list[Flag], strokes: list[Stroke]
) -> None:
    """A piece in its row: rows become heights."""

    def y(row: float) -> float:
        return round(base + row * PITCH, 1)

    spots += [Spot(x, y(row), r, kind, title) for x, row, r, kind, title in piece.spots]
    for x, row, text, anchor, kind, x0, x1, title in piece.labels:
        labels.append(Label(round(x, 1), y(row), text, anchor, kind, x0, x1, title if text.endswith("…") else ""))
    flags += [Flag(round(x, 1), y(row), grade, title) for x, row, grade, title in piece.flags]
    strokes += [Stroke(tuple((round(x, 1), y(row)) for x, row in points), kind) for points, kind in piece.strokes]


def _foot(found: Gathered, bottom: float, labels: list[Label], flags: list[Flag]) -> tuple[float | None, float]:
    """What stands under the stage: the balance of the whole, and how much stands where."""
    y = bottom + 34.0
    pointer = None
    if isinstance(found.balance, Imbalance):
        db = found.balance.song_db
        ratio = 10.0 ** (db / 10.0)
        pointer = x_of(position_of_powers(ratio, 1.0))
        side = "even" if abs(db) < 0.05 else f"{number_text(abs(db), 'dB')} {'left' if db > 0 else 'right'}"
        text = f"the whole mix: {side}"
        half = text_width(text) / 2.0
        labels.append(Label(pointer, y, text, "middle", "soft", pointer - half, pointer + half))
        if found.findings:
            said = " ".join(message for _, message in found.findings)
            flags.append(Flag(round(pointer - half - FLAG, 1), y, found.findings[0][0], said))
        y += 18.0
    for at, text in zip((-55.0, 0.0, 55.0), share_text(found), strict=True):
        half = text_width(text) / 2.0
        labels.append(Label(x_of(at), y, text, "middle", "soft", x_of(at) - half, x_of(at) + half))
    return pointer, y + 10.0


def _off(found: Gathered, y: float, labels: list[Label], flags: list[Flag]) -> float:
    """What is not heard, in lines under all; the height of the drawing."""
    for heading, items in off_lines(found):
        y += 18.0
        x = 8.0
        text = f"{heading}:"
        labels.append(Label(x, y, text, "start", "soft", x, x + text_width(text)))
        x += text_width(text) + GAP
        for said, full, findings in items:
            text = fitted(said, 320.0)
            wide = text_width(text) + (FLAG if findings else 0.0)
            if x + wide > LAST:
                y += 18.0
                x = 8.0 + 2.0 * GAP
            if findings:
                flags.append(Flag(round(x, 1), y, findings[0][0], " ".join(message for _, message in findings)))
                x += FLAG
            end = x + text_width(text)
            labels.append(Label(round(x, 1), y, text, "start", "name", x, end, full if full != text else ""))
            x = end + 12.0
    return y + 14.0
