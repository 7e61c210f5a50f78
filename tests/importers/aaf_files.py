"""AAF files as pyaaf2 writes them: an independent library that knows nothing of this project."""

from __future__ import annotations

import io
import wave
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from fractions import Fraction
from pathlib import Path
from typing import Any

import aaf2
from aaf2.auid import AUID

RATE = 48_000
GAIN = "9d2ea894-0968-11d3-8a38-0050040ef7d2"
AMPLITUDE = "e4962321-2267-11d3-8a4c-0050040ef7d2"
PAN = "9d2ea893-0968-11d3-8a38-0050040ef7d2"
PAN_VALUE = "e4962322-2267-11d3-8a4c-0050040ef7d2"
COMBINER = "6b46dd7a-132d-4856-ab21-8b751d8462ec"
DISSOLVE = "0c3bea41-fc05-11d2-8a29-0050040ef7d2"
SPEED = "9d2ea890-0968-11d3-8a38-0050040ef7d2"
SPEED_RATIO = "72559a80-24d7-11d3-8a50-0050040ef7d2"
LINEAR = "5b6c85a4-0ede-11d3-80a9-006008143e6f"
CONSTANT = "5b6c85a5-0ede-11d3-80a9-006008143e6f"
RATIONAL = "03010100-0000-0000-060e-2b3401040101"

Points = Sequence[tuple[float, float]]


def wav_bytes(seconds: float = 1.0, legs: int = 1, value: int = 8000) -> bytes:
    """A wave file of 16 bits at 48 kHz: a square wave of the given height."""
    made = io.BytesIO()
    with wave.open(made, "wb") as file:
        file.setnchannels(legs)
        file.setsampwidth(2)
        file.setframerate(RATE)
        frame = b"".join(value.to_bytes(2, "little", signed=True) for _ in range(legs))
        other = b"".join((-value).to_bytes(2, "little", signed=True) for _ in range(legs))
        file.writeframes((frame * 50 + other * 50) * round(seconds * RATE / 100))
    return made.getvalue()


class Aaf:
    """An AAF under way. Times are seconds, gains are factors, pans run from 0 (left) to 1."""

    def __init__(self, file: Any, rate: int = RATE) -> None:
        self.file = file
        self.rate = rate
        self.mob = file.create.CompositionMob("Harbour lights")
        self.mob.usage = "Usage_TopLevel"
        file.content.mobs.append(self.mob)
        self._operations: dict[str, Any] = {}
        self._parameters: dict[str, Any] = {}

    def units(self, seconds: float) -> int:
        return round(seconds * self.rate)

    def operation(self, identity: str, name: str = "", inputs: int = 1) -> Any:
        """The definition of an operation, called anything at all."""
        if identity not in self._operations:
            made = self.file.create.OperationDef(AUID(identity), name, "")
            made.media_kind = "sound"
            made["NumberInputs"].value = inputs
            self.file.dictionary.register_def(made)
            self._operations[identity] = made
        return self._operations[identity]

    def parameter(self, identity: str, name: str = "") -> Any:
        if identity not in self._parameters:
            typedef = self.file.metadict.lookup_typedef("Rational")
            made = self.file.create.ParameterDef(AUID(identity), name, "", typedef)
            self.file.dictionary.register_def(made)
            self._parameters[identity] = made
        return self._parameters[identity]

    def interpolation(self, identity: str) -> Any:
        for one in self.file.dictionary["InterpolationDefinitions"].value:
            if one.auid == AUID(identity):
                return one
        made = self.file.create.InterpolationDef(AUID(identity), "", "")
        self.file.dictionary.register_def(made)
        return made

    def file_mob(self, name: str, seconds: float = 60.0, legs: int = 1, url: str = "", bits: int = 16) -> Any:
        """A source mob of a file, and the master mob over it."""
        source = self.file.create.SourceMob(name)
        descriptor = self.file.create.PCMDescriptor()
        descriptor["SampleRate"].value = RATE
        descriptor["AudioSamplingRate"].value = RATE
        descriptor["Channels"].value = legs
        descriptor["QuantizationBits"].value = bits
        descriptor["BlockAlign"].value = legs * bits // 8
        descriptor["AverageBPS"].value = RATE * legs * bits // 8
        descriptor["Length"].value = round(seconds * RATE)
        if url:
            locator = self.file.create.NetworkLocator()
            locator["URLString"].value = url
            descriptor["Locator"].append(locator)
        source.descriptor = descriptor
        slot = source.create_empty_sequence_slot(RATE, slot_id=1, media_kind="sound")
        end = self.file.create.SourceClip(media_kind="sound")
        end.length = round(seconds * RATE)
        slot.segment = end
        self.file.content.mobs.append(source)
        return source, self._master(name, source, seconds)

    def _master(self, name: str, source: Any, seconds: float) -> Any:
        master = self.file.create.MasterMob(name)
        slot = master.create_timeline_slot(self.rate)
        clip = self.file.create.SourceClip(media_kind="sound")
        clip.mob_id, clip.slot_id, clip.start, clip.length = source.mob_id, 1, 0, self.units(seconds)
        slot.segment = clip
        self.file.content.mobs.append(master)
        return master

    def embedded(self, name: str, data: bytes, seconds: float, legs: int = 1) -> Any:
        """A master mob whose file lies inside, byte for byte."""
        source, master = self.file_mob(name, seconds, legs)
        essence = self.file.create.EssenceData()
        essence.mob_id = source.mob_id
        self.file.content.essencedata.append(essence)
        stream = essence.open("w")
        stream.write(data)
        stream.close()
        return master

    def clip(self, master: Any, seconds: float, offset: float = 0.0) -> Any:
        made = self.file.create.SourceClip(media_kind="sound")
        made.mob_id, made.slot_id = master.mob_id, next(iter(master.slots)).slot_id
        made.start, made.length = self.units(offset), self.units(seconds)
        return made

    def filler(self, seconds: float) -> Any:
        return self.file.create.Filler("sound", self.units(seconds))

    def around(self, identity: str, inner: Any, *more: Any, name: str = "", length: int | None = None) -> Any:
        """An operation around one or more segments."""
        kind = self.operation(identity, name, 1 + len(more))  # first: the library's factory keeps one name at a time
        made = self.file.create.OperationGroup(kind, media_kind="sound")
        made.length = inner.length if length is None else length
        made.segments.extend([inner, *more])
        return made

    def fixed(self, group: Any, identity: str, value: Fraction | float) -> Any:
        """The operation with one value of a parameter."""
        kind = self.parameter(identity)
        made = self.file.create.ConstantValue(kind, aaf2.rational.AAFRational(value))
        group.parameters.append(made)
        return group

    def moving(self, group: Any, identity: str, points: Points, how: str = LINEAR) -> Any:
        """The operation with values of a parameter over its length, 0 to 1."""
        made = self.file.create.VaryingValue()
        made.parameterdef = self.parameter(identity)
        made["Interpolation"].value = self.interpolation(how)
        group.parameters.append(made)
        for at, value in points:
            made.add_keyframe(aaf2.rational.AAFRational(at), aaf2.rational.AAFRational(value))
        return group

    def gain(self, inner: Any, value: float | Points, name: str = "") -> Any:
        group = self.around(GAIN, inner, name=name)
        if isinstance(value, (int, float, Fraction)):
            return self.fixed(group, AMPLITUDE, value)
        return self.moving(group, AMPLITUDE, value)

    def pan(self, inner: Any, value: float | Points, how: str = LINEAR) -> Any:
        group = self.around(PAN, inner)
        if isinstance(value, (int, float, Fraction)):
            return self.fixed(group, PAN_VALUE, value)
        return self.moving(group, PAN_VALUE, value, how)

    def fade(self, seconds: float, identity: str = DISSOLVE) -> Any:
        """A transition that fades."""
        made = self.file.create.Transition("sound", self.units(seconds))
        kind = self.operation(identity, inputs=2)
        made["OperationGroup"].value = self.file.create.OperationGroup(kind, self.units(seconds), "sound")
        made.cutpoint = 0
        return made

    def row(self, *parts: Any) -> Any:
        """A sequence."""
        made = self.file.create.Sequence("sound")
        length = 0
        for part in parts:
            made.components.append(part)
            length += -part.length if type(part).__name__ == "Transition" else part.length
        made.length = length
        return made

    def selector(self, selected: Any, *others: Any) -> Any:
        made = self.file.create.Selector()
        made.media_kind = "sound"
        made.length = selected.length
        made["Selected"].value = selected
        made["Alternates"].value = list(others)
        return made

    def track(self, name: str, segment: Any, number: int | None = None, rate: int | None = None) -> Any:
        slot = self.mob.create_timeline_slot(rate or self.rate)
        slot.name = name
        slot.segment = segment
        if number is not None:
            slot["PhysicalTrackNumber"].value = number
        return slot

    def attributes(self, slot: Any, **values: int) -> None:
        """Attributes of a track, as some exporters write them beside the specification."""
        kind = self.file.metadict.lookup_typedef("aafInt32")
        slot["TimelineMobAttributeList"].value = [
            self.file.create.TaggedValue(name, value, kind) for name, value in values.items()
        ]

    def timecode(self, start: int, frames: int, drop: bool = False) -> None:
        slot = self.mob.create_timeline_slot(frames)
        slot.segment = self.file.create.Timecode(frames, drop)
        slot.segment.start = start

    def markers(self, places: Iterable[tuple[float, str]]) -> None:
        slot = self.file.create.EventMobSlot()
        slot["EditRate"].value = self.rate
        slot["SlotID"].value = 1000
        row = self.file.create.Sequence("DescriptiveMetadata")
        for at, said in places:
            one = self.file.create.DescriptiveMarker()
            one["Position"].value = self.units(at)
            one["Comment"].value = said
            row.components.append(one)
        slot.segment = row
        self.mob.slots.append(slot)


@contextmanager
def aaf(path: Path, rate: int = RATE) -> Iterator[Aaf]:
    """A new AAF, written when the block ends."""
    with aaf2.open(str(path), "w") as file:
        yield Aaf(file, rate)
