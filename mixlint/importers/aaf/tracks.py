"""A track of the composition as a channel: its name, gain, pan, mute and solo, and its clips."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any, Final

from mixlint.importers.aaf.composition import Around, Composition, Value
from mixlint.importers.aaf.curves import Curve, decibels, pan_position
from mixlint.importers.aaf.ids import COMBINER, GAIN, MUTE, PAN, SOLO
from mixlint.importers.aaf.import_notes import ImportNotes
from mixlint.importers.aaf.lanes import in_a_row, lane
from mixlint.importers.aaf.pieces import Piece, joined, met, with_fades
from mixlint.importers.aaf.values import attributes, auid, fraction, rate, text
from mixlint.session import Automation, Channel, Clip, Unknown
from mixlint.session.target import Target

HIGHEST: Final = 1e10
"""The highest factor that a gain over time may have: 200 dB, as of a fader."""


class TrackReader:
    """Reads tracks.

    Args:
        library: the module whose objects these are.
        composition: what takes their contents apart.
        notes: where to say what was assumed and lost.
        output: the id of the channel that they all run into.
    """

    def __init__(self, library: Any, composition: Composition, notes: ImportNotes, output: str) -> None:
        self._kinds = library.components
        self._composition = composition
        self._notes = notes
        self._output = output

    def channel(self, slot: Any, channel_id: str, number: int) -> Channel:
        """One track.

        Args:
            slot: the track of the composition.
            channel_id: the id it gets.
            number: which it is, counted from 1.
        """
        where = f"slot {slot.getvalue('SlotID')}"
        around = Around(rate=rate(slot.getvalue("EditRate")) or Fraction(1), channel=channel_id, where=where)
        name = text(slot.getvalue("SlotName"))
        if not name:
            name = f"Track {number}"
            self._notes.add("{n} tracks have no name in the AAF, and are called by their numbers.")
        begin = -(fraction(slot.getvalue("Origin")) or Fraction(0)) / around.rate
        gains, pan, pieces = self._contents(slot.getvalue("Segment"), begin, around)
        pieces = sorted(pieces, key=lambda one: (one.start_s, one.end_s))
        pieces = met(joined([with_fades(piece) for piece in pieces]))
        fader_db, faded, pieces = self._fader(gains, pieces, channel_id, where)
        position, panned = self._pan(pan, pieces, channel_id, where)
        said = {"fader_db": fader_db, "pan": position, **self._switches(slot)}
        return Channel(
            id=channel_id,
            name=name,
            kind="track",
            plays=("audio",),
            legs=_legs(pieces),
            output=self._output,
            clips=tuple(map(_clip, pieces)),
            automation=(*faded, *panned),
            where=where,
            # What no track of the AAF states is a gap of the session; what this one does not is as it is left.
            **{field: value for field, value in said.items() if value is not None},
        )

    def _contents(self, segment: Any, begin: Fraction, around: Around) -> tuple[list[Value], Value | None, list[Piece]]:
        """The gains and the pan of a whole track, and its pieces.

        An operation around a sequence acts on the track (AAF edit protocol); one around a single clip is the clip's.
        """
        gains: list[Value] = []
        pan: Value | None = None
        node = segment
        while isinstance(node, self._kinds.OperationGroup):
            kind = auid(node.getvalue("Operation"))
            inputs = list(node.getvalue("InputSegments") or ())
            if kind not in GAIN | PAN or len(inputs) != 1:
                break
            length = self._composition.length_s(node, around)
            if kind in GAIN:
                gains.append(self._composition.gain(node, begin, length))
            elif pan is None:
                pan = self._composition.pan(node, begin, length)
            node = inputs[0]
        if not self._is_row(node):
            return [], None, self._composition.parts(segment, begin, around)
        return gains, pan, self._composition.parts(node, begin, around)

    def _is_row(self, node: Any) -> bool:
        """Whether a segment is a row of clips, or the legs of one."""
        if isinstance(node, self._kinds.OperationGroup) and auid(node.getvalue("Operation")) == COMBINER:
            return any(self._is_row(one) for one in node.getvalue("InputSegments") or ())
        return isinstance(node, (self._kinds.Sequence, self._kinds.NestedScope))

    def _fader(
        self, gains: list[Value], pieces: list[Piece], channel_id: str, where: str
    ) -> tuple[float | Unknown | None, list[Automation], list[Piece]]:
        """The level of a track, None where nothing says; how it moves; its clips without what was taken for that."""
        fixed, moving = 1.0, [one for one in gains if isinstance(one, Curve)]
        for one in gains:
            if isinstance(one, Unknown):
                return one, [], [_without_curve(piece, "its track's gain is not known") for piece in pieces]
            if isinstance(one, float):
                fixed *= one
        base = decibels(fixed)
        if len(moving) > 1:
            two = Unknown(unknown="two gains that move act on the track in the AAF")
            return two, [], [_without_curve(piece, "the gain of its track moves as well") for piece in pieces]
        if moving:
            pieces = [_without_curve(piece, "the gain of its track moves as well") for piece in pieces]
            curve = moving[0]
        elif any(piece.curve is not None for piece in pieces):
            # A gain over time on a clip may be a ride of the fader or of the clip: in the mix both are the same.
            self._notes.add(
                "The gain of its clips moves; an AAF does not tell such moves from those of a fader, and they were"
                " taken for the fader's.",
                about=channel_id,
            )
            curve = in_a_row(pieces, lambda piece: piece.curve or 1.0)
            pieces = [replace(piece, curve=None) for piece in pieces]
        else:
            return base if gains else None, [], pieces
        if isinstance(base, Unknown) or max(curve.v) * fixed > HIGHEST:
            return Unknown(unknown="its gain in the AAF is more than any fader gives"), [], pieces
        moves = lane(Target.parse("fader"), "amplitude", curve, lambda value: value * fixed, where)
        return decibels(moves.v[0]), [moves], pieces

    def _pan(
        self, pan: Value | None, pieces: list[Piece], channel_id: str, where: str
    ) -> tuple[float | Unknown | None, list[Automation]]:
        """Where a track stands, None where nothing says; how it moves: by its own pan, else by those of its clips."""
        own = [piece for piece in pieces if piece.pan is not None]
        if pan is not None and own:
            self._notes.add(
                "Its clips have pans of their own beside its own, which were passed over.", about=channel_id
            )
        if pan is None and own:
            values = {piece.pan if not isinstance(piece.pan, Curve) else None for piece in own}
            if len(values) == 1 and len(own) == len(pieces) and None not in values:
                pan = own[0].pan
            else:
                unknown = next((one for one in values if isinstance(one, Unknown)), None)
                pan = unknown if unknown is not None else in_a_row(pieces, _pan_of)
        if isinstance(pan, Curve):
            moves = lane(Target.parse("pan"), "pan", pan, lambda value: _position(value), where)
            return moves.v[0], [moves]
        return pan, []

    def _switches(self, slot: Any) -> dict[str, bool | None]:
        """Mute and solo, where the exporter wrote them."""
        found = attributes(slot, "TimelineMobAttributeList")
        told = {"mute": found.get(MUTE), "solo": found.get(SOLO)}
        return {field: None if value is None else bool(value) for field, value in told.items()}


def _position(value: float) -> float:
    found = pan_position(value)
    return found if isinstance(found, float) else 0.0  # a curve that leaves the range was refused before


def _pan_of(piece: Piece) -> float | Curve | None:
    """A piece's pan as the file has it, 0 to 1: the middle where it has none."""
    if isinstance(piece.pan, Curve):
        return piece.pan
    return piece.pan / 200.0 + 0.5 if isinstance(piece.pan, float) else 0.5


def _without_curve(piece: Piece, why: str) -> Piece:
    return piece if piece.curve is None else replace(piece, curve=None, gain_db=Unknown(unknown=why))


def _legs(pieces: list[Piece]) -> int | Unknown:
    """How many legs a track has: those of the widest of its clips."""
    if not pieces:
        return Unknown(unknown="an AAF tells the width of a track by its clips, and it has none")
    widest = 0
    for piece in pieces:
        if isinstance(piece.legs, Unknown):
            return piece.legs
        widest = max(widest, piece.legs)
    return widest


def _clip(piece: Piece) -> Clip:
    def seconds(value: Fraction | Unknown) -> float | Unknown:
        return value if isinstance(value, Unknown) else round(float(value), 9)

    return Clip(
        start_s=round(float(piece.start_s), 9),
        end_s=round(float(piece.end_s), 9),
        name=piece.name,
        file=piece.file,
        offset_s=seconds(piece.offset_s),
        speed=seconds(piece.speed),
        fade_in_s=piece.fade_in_s,
        fade_out_s=piece.fade_out_s,
        gain_db=piece.gain_db,
        on=piece.on,
        where=piece.where,
    )
