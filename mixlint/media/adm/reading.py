"""A wave file's description of its own legs, from its chunks ``chna`` and ``axml``."""

from __future__ import annotations

from collections.abc import Iterable
from typing import BinaryIO, Final

from mixlint.media.adm.axml import LIMITS, MOST_FAULTS, Description, read_axml
from mixlint.media.adm.leg_uses import MOST_BYTES, read_leg_uses
from mixlint.media.adm.model import SILENT_UID, Adm, LegUse
from mixlint.media.chunks import chunks
from mixlint.session import Unknown

COMMON: Final = 0x0FFF
"""Numbers of formats up to this are of the common definitions (ITU-R BS.2094), which no file has to hold."""


def read_adm(file: BinaryIO) -> Adm:
    """Read what a file describes; an empty description where it has none."""
    legs: tuple[LegUse, ...] = ()
    has_legs = False
    faults: list[str] = []
    said: Description | None = None
    unread: Unknown | None = None
    for chunk in chunks(file):
        if chunk.order == ">":
            break  # ITU-R BS.2088 knows no such files
        if chunk.name == b"chna":
            if has_legs:
                faults.append("it has two chunks chna")
                continue
            has_legs = True
            legs, wrong = read_leg_uses(file.read(min(chunk.there, MOST_BYTES)), chunk.length)
            faults += wrong
        elif chunk.name == b"axml" and said is None:
            if chunk.length > LIMITS.size:
                unread = Unknown(unknown=f"its description holds more than {LIMITS.size} bytes, which are not read")
                continue
            if chunk.there < chunk.length:
                faults.append(f"its chunk axml is cut short: {chunk.there} of {chunk.length} bytes are there")
            said = read_axml(file.read(chunk.there))
        elif chunk.name == b"bxml":
            unread = Unknown(
                unknown="its description is packed (bxml), which is not read", settle="have it written as plain axml"
            )
    if said is None or said.unread is not None:  # nothing is judged by the part that came before what was refused
        return Adm(legs, has_legs, unread=said.unread if said else unread, faults=tuple(faults[:MOST_FAULTS]))
    found = said.found
    adm = Adm(
        legs,
        has_legs,
        found["audioProgramme"],
        found["audioContent"],
        found["audioObject"],
        found["audioPackFormat"],
        found["audioChannelFormat"],
        found["audioStreamFormat"],
        found["audioTrackFormat"],
        found["audioTrackUID"],
        unread,
    )
    if not has_legs and not any(found.values()):
        return Adm()  # the chunk may hold any other document
    faults += said.faults + (_dangling(adm) if said.whole else [])
    object.__setattr__(adm, "faults", tuple(faults[:MOST_FAULTS]))
    return adm


def _dangling(adm: Adm) -> list[str]:
    """What is referred to and is nowhere."""
    found = []
    for what, one, asked, known in _references(adm):
        lost = [other for other in asked if other not in known and not is_common(other)]
        if lost:
            found.append(f"{what} {one} refers to {lost[0]}, which is not there")
    return found


def _references(adm: Adm) -> Iterable[tuple[str, str, tuple[str, ...], Iterable[str]]]:
    for programme in adm.programmes.values():
        yield "programme", programme.id, programme.contents, adm.contents
    for content in adm.contents.values():
        yield "content", content.id, content.objects, adm.objects
    uids = {one.uid for one in adm.legs} | adm.tracks.keys() | {SILENT_UID}
    for one in adm.objects.values():
        yield "object", one.id, (*one.objects, *one.instead), adm.objects
        yield "object", one.id, one.packs, adm.packs
        yield "object", one.id, one.uids, uids
    for track in adm.tracks.values():
        yield "track", track.id, tuple(filter(None, (track.pack,))), adm.packs
        yield "track", track.id, tuple(filter(None, (track.channel,))), adm.channels
        yield "track", track.id, tuple(filter(None, (track.track,))), adm.track_streams


def is_common(number: str) -> bool:
    """The number of a format of the common definitions: its last four figures are 0FFF or under."""
    head, _, figures = number.partition("_")
    if head not in ("AP", "AC", "AT", "AS"):
        return False
    try:
        return int(figures[4:8], 16) <= COMMON
    except ValueError:
        return False
