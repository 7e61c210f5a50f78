"""The track of a composition as pieces: sequences, operations, selectors and nested compositions taken apart."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any, Final

from mixlint.errors import RefusedFile
from mixlint.importers.aaf.curves import Curve, CurveReader, pan_position
from mixlint.importers.aaf.ids import AMPLITUDE, COMBINER, DISSOLVES, GAIN, PAN, PAN_VALUE, SPEED, SPEED_RATIO
from mixlint.importers.aaf.import_notes import ImportNotes
from mixlint.importers.aaf.pieces import SAME_S, Piece, as_legs, cut, gained, stretched
from mixlint.importers.aaf.sources import Sources
from mixlint.importers.aaf.values import auid, fraction, rate, text
from mixlint.session import Unknown

MOST_PIECES: Final = 80_000
"""Pieces of all tracks before a file is refused."""
MOST_STEPS: Final = 400_000
"""Parts of a composition looked at before a file is refused: nested compositions multiply."""
ADJUSTED: Final = "Usage_AdjustedClip"
"""What a composition is used for that only gives a clip its settings, in the library's words for the usage codes."""
DEEPEST: Final = 60
"""How deep parts may lie in each other."""

Value = float | Curve | Unknown


@dataclass(frozen=True, slots=True)
class Around:
    """What holds for a part by where it lies.

    Args:
        rate: edit units per second there.
        channel: id of the channel, for notes.
        where: the place in the file.
        depth: how deep it lies.
        within: the tracks of compositions that it lies in.
    """

    rate: Fraction
    channel: str
    where: str
    depth: int = 0
    within: frozenset[tuple[str, int]] = frozenset()

    def deeper(self) -> Around:
        """One level down."""
        return replace(self, depth=self.depth + 1)


class Composition:
    """Takes tracks apart.

    Args:
        library: the module whose objects these are.
        sources: where media are looked up.
        notes: where to say what could not be carried over.
    """

    def __init__(self, library: Any, sources: Sources, notes: ImportNotes) -> None:
        self._kinds = library.components
        self._sources = sources
        self._notes = notes
        self.curves = CurveReader()
        self._pieces = 0
        self._steps = 0

    def parts(self, node: Any, start_s: Fraction, around: Around) -> list[Piece]:
        """What a part of a composition lays out, in order of time as far as it has one.

        Args:
            node: the part: a sequence, an operation, a clip and so on.
            start_s: where it begins in the song, seconds.
            around: what holds there.

        Raises:
            RefusedFile: it unfolds into more than any session holds.
        """
        self._steps += 1
        if around.depth > DEEPEST or self._steps > MOST_STEPS or self._pieces > MOST_PIECES:
            raise RefusedFile(
                "its clips unfold into more than any session holds", do="export it again with its clips consolidated"
            )
        kinds = self._kinds
        if isinstance(node, kinds.Sequence):
            return self._sequence(node, start_s, around)
        if isinstance(node, kinds.OperationGroup):
            return self._operation(node, start_s, around)
        if isinstance(node, kinds.SourceClip):
            return self._clip(node, start_s, around)
        if isinstance(node, kinds.Selector):
            return self._selector(node, start_s, around)
        if isinstance(node, kinds.EssenceGroup):
            choices = list(node.getvalue("Choices") or ())
            return self.parts(choices[0], start_s, around.deeper()) if choices else []
        if isinstance(node, kinds.NestedScope):
            # The last of a scope's segments is its result; the others are for references from within it.
            inner = list(node.getvalue("Slots") or ())
            return self.parts(inner[-1], start_s, around.deeper()) if inner else []
        if node is not None and not isinstance(node, (kinds.Filler, kinds.ScopeReference)):
            self._notes.add(
                f"{{n}} parts of a kind that is not read ({type(node).__name__}) were passed over.",
                about=around.channel,
                loses=True,
            )
        return []

    def length_s(self, node: Any, around: Around) -> Fraction:
        """How long a part lasts, seconds; 0 where it gives no length."""
        units = fraction(node.getvalue("Length"))
        return units / around.rate if units is not None and units > 0 else Fraction(0)

    def _sequence(self, node: Any, start_s: Fraction, around: Around) -> list[Piece]:
        kinds, found = self._kinds, list[Piece]()
        at, fade_in = start_s, Fraction(0)
        known_in = True
        before: list[Piece] = []
        for count, one in enumerate(node.getvalue("Components") or ()):
            length = self.length_s(one, around)
            if isinstance(one, kinds.Transition):
                # A transition lies over what is before and after it (AAF edit protocol, transitions).
                at -= length
                fade_in, known_in = length, self._fades(one, around)
                end = at + length
                found = [*found[: len(found) - len(before)], *_faded(before, end, fade_in, known_in, at_start=False)]
                continue
            mine = replace(around.deeper(), where=f"{around.where}, part {count + 1}")
            before = self.parts(one, at, mine)
            if fade_in:
                before = _faded(before, at, fade_in, known_in, at_start=True)
            found += before
            at += length
            fade_in = Fraction(0)
        return found

    def _fades(self, transition: Any, around: Around) -> bool:
        """Whether a transition is known to fade."""
        group = transition.getvalue("OperationGroup")
        operation = group.getvalue("Operation") if group is not None else None
        if auid(operation) in DISSOLVES:
            return True
        self._notes.add("{n} transitions of a kind that is not known were passed over.", about=around.channel)
        return False

    def _operation(self, node: Any, start_s: Fraction, around: Around) -> list[Piece]:
        operation = node.getvalue("Operation")
        kind = auid(operation)
        length = self.length_s(node, around)
        inputs = list(node.getvalue("InputSegments") or ())
        inner = around.deeper()
        if not inputs:
            return []
        if kind == COMBINER:
            legs = as_legs([self.parts(one, start_s, inner) for one in inputs])
            if legs.apart:
                said = "{n} clips have legs that do not lie alike; only the first leg was read."
                self._notes.add(said, about=around.channel, loses=True)
            if legs.several:
                said = "{n} clips play a file for each leg; such files are not read together, and their sound is open."
                self._notes.add(said, about=around.channel, loses=True)
            return legs.pieces
        found = self.parts(inputs[0], start_s, inner)
        if kind in GAIN:
            gain = self.gain(node, start_s, length)
            return [gained(piece, gain) for piece in found]
        if kind in PAN:
            pan = self.pan(node, start_s, length)
            return [replace(piece, pan=pan) for piece in found]
        return self._at_speed(node, kind, inputs[0], found, start_s, around)

    def gain(self, node: Any, start_s: Fraction, length_s: Fraction) -> Value:
        """What an operation of gain does: a factor, factors over time, or why that is not known."""
        found = self.curves.read(node, AMPLITUDE, start_s, length_s)
        if found is None:
            return Unknown(unknown="its gain in the AAF has no amplitude", settle="export with the gain of the clips")
        if isinstance(found, Curve) and found.ends()[0] < 0.0:
            return Unknown(unknown="its gain in the AAF falls below zero, which no fader does")
        return found

    def pan(self, node: Any, start_s: Fraction, length_s: Fraction) -> Value:
        """What an operation of pan does: a position of −100 … +100, values over time as the file has them, or why."""
        found = self.curves.read(node, PAN_VALUE, start_s, length_s)
        if found is None:
            return Unknown(unknown="its pan in the AAF has no value", settle="export with the pans of the tracks")
        if isinstance(found, Curve):
            low, high = found.ends()
            if low < 0.0 or high > 1.0:
                return Unknown(unknown="its pan in the AAF goes beyond the whole way from left to right")
        return pan_position(found) if isinstance(found, float) else found

    def _at_speed(
        self, node: Any, kind: str, source: Any, found: list[Piece], start_s: Fraction, around: Around
    ) -> list[Piece]:
        """The input of an operation that may play it at another speed."""
        length, of_input = self.length_s(node, around), self.length_s(source, around)
        ratio, told = Fraction(1), True
        if kind in SPEED:
            said = self.curves.read(node, SPEED_RATIO, start_s, length)
            told = isinstance(said, float) and said > 0.0
            if isinstance(said, float) and said > 0.0:
                ratio = Fraction(said).limit_denominator(10**9)
        else:
            named = text(node.getvalue("Operation").getvalue("Name")) if node.getvalue("Operation") is not None else ""
            what = f"“{named}”" if named else "without a name"
            self._notes.add(
                f"An operation that is not known, {what}, acts on {{n}} stretches; it was passed over.",
                about=around.channel,
                loses=True,
            )
            told = abs(of_input - length) <= SAME_S
        if not told and length > 0 and of_input > 0:
            ratio = of_input / length
        if ratio == 1 and told:
            return found
        placed = (cut(stretched(one, start_s, ratio, told), start_s, start_s + length) for one in found)
        return [one for one in placed if one is not None]

    def _selector(self, node: Any, start_s: Fraction, around: Around) -> list[Piece]:
        """What is selected; nothing that hides a clip is a clip switched off."""
        selected, others = node.getvalue("Selected"), list(node.getvalue("Alternates") or ())
        if selected is not None and not isinstance(selected, self._kinds.Filler):
            return self.parts(selected, start_s, around.deeper())
        for one in others:
            hidden = self.parts(one, start_s, around.deeper())
            if hidden:
                return [replace(piece, on=False) for piece in hidden]
        return []

    def _clip(self, node: Any, start_s: Fraction, around: Around) -> list[Piece]:
        length = self.length_s(node, around)
        mob = self._sources.mob(node.getvalue("SourceID"))
        begin = fraction(node.getvalue("StartTime")) or Fraction(0)
        if isinstance(mob, self._sources.composition_kind):
            return self._nested(node, mob, start_s, begin / around.rate, length, around)
        if length <= SAME_S:
            return []
        self._pieces += 1
        found = self._sources.source(node, begin / around.rate, around.channel)
        piece = Piece(
            start_s=start_s,
            end_s=start_s + length,
            name=found.name,
            file=found.file,
            offset_s=found.offset_s,
            legs=found.legs,
            where=around.where,
        )
        return [piece]

    def _nested(
        self, node: Any, mob: Any, start_s: Fraction, begin_s: Fraction, length: Fraction, around: Around
    ) -> list[Piece]:
        """A stretch of another composition."""
        slot = self._sources.slot(mob, node.getvalue("SourceMobSlotID"))
        inside = rate(slot.getvalue("EditRate")) if slot is not None else None
        if slot is None or inside is None:
            self._notes.add("{n} clips refer to a track that is not there.", about=around.channel, loses=True)
            return []
        key = (str(mob.getvalue("MobID")), int(slot.getvalue("SlotID") or 0))
        if key in around.within:
            self._notes.add(
                "{n} clips refer to a composition that they lie in themselves; they were passed over.",
                about=around.channel,
                loses=True,
            )
            return []
        inner = replace(around.deeper(), rate=inside, within=around.within | {key})
        origin = (fraction(slot.getvalue("Origin")) or Fraction(0)) / inside
        pieces = self.parts(slot.getvalue("Segment"), start_s - begin_s - origin, inner)
        shown = (cut(one, start_s, start_s + length) for one in pieces)
        adjusted = mob.getvalue("UsageCode") == ADJUSTED
        return [replace(one, adjusted=one.adjusted or adjusted) for one in shown if one is not None]


def _faded(pieces: Iterable[Piece], at_s: Fraction, fade_s: Fraction, known: bool, *, at_start: bool) -> list[Piece]:
    """Pieces with a fade where they begin or end at a time."""
    fade: float | Unknown = round(float(fade_s), 9)
    if not known:
        fade = Unknown(unknown="a transition of the AAF is of a kind that is not known")
    found: list[Piece] = []
    for one in pieces:
        if abs((one.start_s if at_start else one.end_s) - at_s) > SAME_S:
            found.append(one)
        else:
            found.append(replace(one, fade_in_s=fade) if at_start else replace(one, fade_out_s=fade))
    return found
