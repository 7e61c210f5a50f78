"""The pieces of sound that a track lays out, as they come out of the operations, sequences and scopes of an AAF."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Final, NamedTuple

from mixlint.importers.aaf.curves import Curve, as_fades, decibels
from mixlint.session import Unknown

SAME_S: Final = Fraction(1, 100_000)
"""Edges this close are one, seconds: half a sample at 48 kHz, and rounding between rates."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of one track that plays.

    Args:
        start_s, end_s: where it lies in the song.
        file: id of the media file, None where none can be told.
        offset_s: the place in the file at its start, seconds of the file.
        speed: seconds of the file per second of the song.
        legs: of what it plays.
        gain_db: the gain of its own, where that holds.
        curve: the gain of its own over time, factors, where it moves.
        pan: the pan of its own, −100 … +100, or over time as the file has it; None where it has none.
        adjusted: its gain is that of an adjusted clip, which exporters also write onto the clip that plays it.
    """

    start_s: Fraction
    end_s: Fraction
    name: str = ""
    file: str | None = None
    offset_s: Fraction | Unknown = Fraction(0)
    speed: Fraction | Unknown = Fraction(1)
    legs: int | Unknown = field(default_factory=lambda: Unknown(unknown="the AAF does not say how many legs it has"))
    fade_in_s: float | Unknown = 0.0
    fade_out_s: float | Unknown = 0.0
    gain_db: float | Unknown = 0.0
    curve: Curve | None = None
    pan: float | Curve | Unknown | None = None
    on: bool = True
    adjusted: bool = False
    where: str = ""


def cut(piece: Piece, start_s: Fraction, end_s: Fraction) -> Piece | None:
    """What of a piece lies between two times."""
    start, end = max(piece.start_s, start_s), min(piece.end_s, end_s)
    if end - start <= SAME_S:
        return None
    if start == piece.start_s and end == piece.end_s:
        return piece
    offset = piece.offset_s
    if start > piece.start_s and not isinstance(offset, Unknown):
        offset = piece.speed if isinstance(piece.speed, Unknown) else offset + (start - piece.start_s) * piece.speed
    return replace(
        piece,
        start_s=start,
        end_s=end,
        offset_s=offset,
        fade_in_s=piece.fade_in_s if start == piece.start_s else 0.0,
        fade_out_s=piece.fade_out_s if end == piece.end_s else 0.0,
    )


def stretched(piece: Piece, origin_s: Fraction, ratio: Fraction, told: bool) -> Piece:
    """A piece of an operation's input as it lies in its result.

    Args:
        piece: as it lies in the input.
        origin_s: where both begin.
        ratio: the length of the input over that of the result.
        told: false where only the lengths say so, and how it plays in between is not known.
    """
    speed: Fraction | Unknown = Unknown(
        unknown="an operation of the AAF that is not read changes its length",
        settle="print the clip at its speed and export again",
    )
    if told:
        speed = piece.speed if isinstance(piece.speed, Unknown) else piece.speed * ratio
    curve = piece.curve
    if curve is not None:
        origin, slower = float(origin_s), float(ratio)
        curve = curve._replace(t=tuple(origin + (at - origin) / slower for at in curve.t))
    return replace(
        piece,
        start_s=origin_s + (piece.start_s - origin_s) / ratio,
        end_s=origin_s + (piece.end_s - origin_s) / ratio,
        speed=speed,
        curve=curve,
    )


def gained(piece: Piece, gain: float | Curve | Unknown) -> Piece:
    """A piece under a gain: a factor, or factors over time."""
    if isinstance(gain, Curve):
        if piece.curve is None:
            return replace(piece, curve=gain)
        gain = Unknown(unknown="two gains that move act on it in the AAF")
    more = gain if isinstance(gain, Unknown) else decibels(gain)
    if piece.adjusted and more != 0.0 and piece.gain_db != 0.0:
        more = Unknown(
            unknown="the clip and the adjusted clip that it plays both have a gain in the AAF, perhaps the same one",
            settle="look at the gain of the clip",
        )
    return replace(piece, gain_db=_plus(piece.gain_db, more))


def _plus(one: float | Unknown, other: float | Unknown) -> float | Unknown:
    if isinstance(one, Unknown):
        return one
    return other if isinstance(other, Unknown) else max(-200.0, round(one + other, 6))


def with_fades(piece: Piece) -> Piece:
    """A piece whose gain moves in nothing but fades, with these fades in place of the gain."""
    if piece.curve is None or piece.fade_in_s != 0.0 or piece.fade_out_s != 0.0:
        return piece
    faded = as_fades(piece.curve, float(piece.start_s), float(piece.end_s))
    if faded is None:
        return piece
    bare = replace(piece, curve=None, fade_in_s=faded.fade_in_s, fade_out_s=faded.fade_out_s)
    return gained(bare, faded.factor)


def joined(pieces: list[Piece]) -> list[Piece]:
    """Pieces in order, where a fade that stands as a piece of its own belongs to the piece it runs on into."""
    found: list[Piece] = []
    for piece in pieces:
        last = found[-1] if found else None
        if last is not None and _runs_on(last, piece):
            if _is_fade(last, last.fade_in_s) and piece.fade_in_s == 0.0:
                found[-1] = replace(piece, start_s=last.start_s, offset_s=last.offset_s, fade_in_s=last.fade_in_s)
                continue
            if _is_fade(piece, piece.fade_out_s) and last.fade_out_s == 0.0:
                found[-1] = replace(last, end_s=piece.end_s, fade_out_s=piece.fade_out_s)
                continue
        found.append(piece)
    return found


def met(pieces: list[Piece]) -> list[Piece]:
    """Pieces in order, where two that cross over while they play the same place of a file meet in the middle.

    An AAF lays both over the whole crossfade. Of one recording in step with itself nothing doubles there: it plays on,
    and the second piece says that it was faded in from before its start.
    """
    found: list[Piece] = []
    for piece in pieces:
        last = found[-1] if found else None
        crossed = last.end_s - piece.start_s if last is not None else Fraction(0)
        if last is not None and crossed > SAME_S and _in_step(last, piece) and _crosses(last, piece, crossed):
            middle = piece.start_s + crossed / 2
            before, after = cut(last, last.start_s, middle), cut(piece, middle, piece.end_s)
            if before is not None and after is not None:
                found[-1] = before
                found.append(replace(after, fade_in_s=-round(float(crossed / 2), 9)))
                continue
        found.append(piece)
    return found


def _crosses(last: Piece, piece: Piece, crossed: Fraction) -> bool:
    """Whether one piece is faded out and the other in for just as long as both play."""
    fades = (last.fade_out_s, piece.fade_in_s)
    return all(not isinstance(fade, Unknown) and abs(fade - float(crossed)) <= float(SAME_S) for fade in fades)


def _in_step(last: Piece, piece: Piece) -> bool:
    """Whether two pieces play the same place of one file at the same time."""
    if last.file is None or last.file != piece.file or isinstance(last.speed, Unknown) or last.speed != piece.speed:
        return False
    if isinstance(last.offset_s, Unknown) or isinstance(piece.offset_s, Unknown):
        return False
    return abs(last.offset_s + (piece.start_s - last.start_s) * last.speed - piece.offset_s) <= SAME_S


def _is_fade(piece: Piece, fade_s: float | Unknown) -> bool:
    """Whether a piece is a fade from its one end to its other."""
    return not isinstance(fade_s, Unknown) and abs(fade_s - float(piece.end_s - piece.start_s)) <= float(SAME_S)


def _runs_on(last: Piece, piece: Piece) -> bool:
    """Whether a piece goes on in the file where the one before it stops, at its gain and speed."""
    if abs(last.end_s - piece.start_s) > SAME_S or last.gain_db != piece.gain_db:
        return False
    if last.curve is not None or piece.curve is not None or last.pan != piece.pan or last.on != piece.on:
        return False
    return _in_step(last, piece)


class Legs(NamedTuple):
    """What several inputs that are the legs of one sound come to: the pieces, and what had to be left out."""

    pieces: list[Piece]
    apart: bool
    several: bool


def as_legs(inputs: list[list[Piece]]) -> Legs:
    """The inputs of a channel combiner as one row of pieces.

    Args:
        inputs: the pieces of each leg.

    Returns:
        the pieces; ``apart`` where the legs do not lie alike, so that only the first is kept; ``several`` where they
        play several files, which no clip can name.
    """
    first = inputs[0]
    edges = [[(one.start_s, one.end_s) for one in leg] for leg in inputs]
    if any(one != edges[0] for one in edges):
        return Legs([replace(piece, legs=len(inputs)) for piece in first], apart=True, several=False)
    found, several = [], False
    for parts in zip(*inputs, strict=True):
        piece = replace(parts[0], legs=len(inputs))
        if any(part.file != piece.file for part in parts):
            several, piece = True, replace(piece, file=None)
        elif any(part.offset_s != piece.offset_s for part in parts):
            piece = replace(piece, offset_s=Unknown(unknown="its legs play different places of the file"))
        if any((part.gain_db, part.curve) != (parts[0].gain_db, parts[0].curve) for part in parts):
            piece = replace(piece, curve=None, gain_db=Unknown(unknown="its legs have gains of their own"))
        found.append(piece)
    return Legs(found, apart=False, several=several)
