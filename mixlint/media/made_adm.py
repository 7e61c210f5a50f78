"""The description of its legs that a file of an example carries: the chunks ``chna`` and ``axml``.

Sources: ITU-R BS.2088 and EBU Tech 3285, supplement 7 (``chna``), ITU-R BS.2076 (``axml``), ITU-R BS.2094 (numbers of
loudspeakers).
"""

from __future__ import annotations

import struct
from html import escape
from typing import Final

from mixlint.media.recipe import Described, DescribedObject

_BEDS: Final = {
    1: ("AP_00010001", (3,)),
    2: ("AP_00010002", (1, 2)),
    6: ("AP_00010003", (1, 2, 3, 4, 5, 6)),
}
"""By how many legs: the pack for loudspeakers, and the last figures of its channels, in their usual order."""


def adm_chunks(said: Described) -> dict[bytes, bytes]:
    """The bodies of ``chna`` and ``axml``."""
    uses = {leg: _formats(one, place) for one in said.objects for place, leg in enumerate(one.legs)}
    named = {leg: formats for leg, formats in sorted(uses.items()) if leg not in said.unnamed}
    entries = [
        struct.pack("<H12s14s11sx", leg, _uid(leg).encode(), track.encode(), pack.encode())
        for leg, (track, pack) in named.items()
    ]
    if said.named_twice:
        entries.append(entries[0])
    chna = struct.pack("<HH", len(named), len(entries)) + b"".join(entries)
    text = _document(said).encode()
    if said.cut:
        text = text[: len(text) // 2]
    return {b"chna": chna, b"axml": text}


def _uid(leg: int) -> str:
    return f"ATU_{leg:08X}"


def _formats(one: DescribedObject, place: int) -> tuple[str, str]:
    """The numbers of the track and the pack of a leg."""
    if not one.bed:
        return f"AT_0003{0x1000 + one.legs[0]:04X}_01", f"AP_0003{0x1000 + one.legs[0]:04X}"
    pack, channels = _BEDS[len(one.legs)]
    return f"AT_0001{channels[place]:04X}_01", pack


def _document(said: Described) -> str:
    contents = {one.content: one.dialogue for one in said.objects}
    numbers = {content: f"ACO_{0x1001 + place:04X}" for place, content in enumerate(contents)}
    parts = [
        f'<audioProgramme audioProgrammeID="APR_1001" audioProgrammeName="{escape(said.programme)}">'
        + "".join(f"<audioContentIDRef>{number}</audioContentIDRef>" for number in numbers.values())
        + _loudness(said)
        + "</audioProgramme>"
    ]
    objects = {id(one): f"AO_{0x1001 + place:04X}" for place, one in enumerate(said.objects)}
    for content, number in numbers.items():
        inside = [one for one in said.objects if one.content == content and one.played]
        parts.append(
            f'<audioContent audioContentID="{number}" audioContentName="{escape(content)}">'
            + "".join(f"<audioObjectIDRef>{objects[id(one)]}</audioObjectIDRef>" for one in inside)
            + f"<dialogue>{('none', 'dialogue', 'mixed').index(contents[content])}</dialogue></audioContent>"
        )
    for one in said.objects:
        parts.append(_object(one, objects[id(one)]))
        parts += [] if one.bed else [_own_formats(one)]
    inner = "".join(parts)
    return (
        '<?xml version="1.0" encoding="UTF-8"?><ebuCoreMain xmlns="urn:ebu:metadata-schema:ebuCore">'
        "<coreMetadata><format>"
        f"<audioFormatExtended>{inner}</audioFormatExtended></format></coreMetadata></ebuCoreMain>"
    )


def _loudness(said: Described) -> str:
    figures = {"integratedLoudness": said.lufs, "maxTruePeak": said.true_peak_dbtp}
    inner = "".join(f"<{name}>{value}</{name}>" for name, value in figures.items() if value is not None)
    return f'<loudnessMetadata loudnessMethod="ITU-R BS.1770">{inner}</loudnessMetadata>' if inner else ""


def _object(one: DescribedObject, number: str) -> str:
    _, pack = _formats(one, 0)
    times = "" if one.start_s is None else f' start="{_time(one.start_s)}"'
    times += "" if one.seconds is None else f' duration="{_time(one.seconds)}"'
    return (
        f'<audioObject audioObjectID="{number}" audioObjectName="{escape(one.name)}" '
        f'importance="{one.importance}"{times}>'
        f"<audioPackFormatIDRef>{pack}</audioPackFormatIDRef>"
        + "".join(f"<audioTrackUIDRef>{_uid(leg)}</audioTrackUIDRef>" for leg in one.legs)
        + (f'<gain gainUnit="dB">{one.gain_db}</gain>' if one.gain_db else "")
        + ("<mute>1</mute>" if one.mute else "")
        + "</audioObject>"
    )


def _own_formats(one: DescribedObject) -> str:
    """The formats of an object with a position: pack, channel, stream and track under one number."""
    own = f"0003{0x1000 + one.legs[0]:04X}"
    block = '<position coordinate="azimuth">20.0</position><position coordinate="elevation">0.0</position>'
    return (
        f'<audioPackFormat audioPackFormatID="AP_{own}" audioPackFormatName="{escape(one.name)}" typeLabel="0003">'
        f"<audioChannelFormatIDRef>AC_{own}</audioChannelFormatIDRef></audioPackFormat>"
        f'<audioChannelFormat audioChannelFormatID="AC_{own}" audioChannelFormatName="{escape(one.name)}" '
        f'typeLabel="0003"><audioBlockFormat audioBlockFormatID="AB_{own}_00000001">{block}</audioBlockFormat>'
        f'</audioChannelFormat><audioStreamFormat audioStreamFormatID="AS_{own}" audioStreamFormatName="PCM">'
        f"<audioChannelFormatIDRef>AC_{own}</audioChannelFormatIDRef></audioStreamFormat>"
        f'<audioTrackFormat audioTrackFormatID="AT_{own}_01" audioTrackFormatName="PCM">'
        f"<audioStreamFormatIDRef>AS_{own}</audioStreamFormatIDRef></audioTrackFormat>"
    )


def _time(seconds: float) -> str:
    minutes, rest = divmod(seconds, 60.0)
    return f"{int(minutes) // 60:02d}:{int(minutes) % 60:02d}:{rest:08.5f}"
