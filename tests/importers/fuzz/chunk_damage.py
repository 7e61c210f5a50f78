"""Audio files in every container that is read, and damage to their chunks: lengths that lie, chunks lost or doubled."""

from __future__ import annotations

import io
import struct
from functools import cache
from random import Random
from typing import Final, NamedTuple

import numpy as np
import soundfile

from tests.importers.fuzz.words import tear, whole, word
from tests.importers.fuzz.xml_damage import damage_xml
from tests.media.described import SURROUND, bed, chna, entry, wave
from tests.media.test_media_labels import bext

_WRITTEN: Final = (
    ("WAV", "PCM_16", ".wav"), ("WAV", "FLOAT", ".wav"), ("WAVEX", "PCM_24", ".wav"), ("WAV", "IMA_ADPCM", ".wav"),
    ("RF64", "PCM_24", ".wav"), ("W64", "PCM_16", ".w64"), ("AIFF", "PCM_24", ".aiff"), ("AIFF", "FLOAT", ".aifc"),
    ("AIFF", "ULAW", ".aif"), ("FLAC", "PCM_16", ".flac"), ("OGG", "VORBIS", ".ogg"), ("OGG", "OPUS", ".ogg"),
    ("CAF", "PCM_16", ".caf"), ("CAF", "ALAC_16", ".caf"), ("AU", "PCM_16", ".au"), ("MP3", "MPEG_LAYER_III", ".mp3"),
)  # fmt: skip

IXML: Final = (
    b"<BWFXML><PROJECT>Lantern</PROJECT><TRACK_LIST><TRACK_COUNT>2</TRACK_COUNT><TRACK><NAME>Kick &amp; Snare</NAME>"
    b"</TRACK><TRACK><NAME>Voice</NAME></TRACK></TRACK_LIST></BWFXML>"
)
_POINTS: Final = struct.pack("<I", 2) + struct.pack("<II4sIII", 7, 0, b"data", 0, 0, 90) + struct.pack(
    "<II4sIII", 9, 0, b"data", 0, 0, 40
)  # fmt: skip
_LABELS: Final = (
    b"adtl" + b"labl" + struct.pack("<II", 11, 7) + b"Chorus\0\0" + b"note" + struct.pack("<II", 5, 9) + b"x\0"
)
_ONE_OBJECT: Final = (entry(1, "ATU_00000001", "AT_00031001_01", "AP_00031001"),)
_OBJECT: Final = """<audioFormatExtended><audioProgramme audioProgrammeID="APR_1001" audioProgrammeName="Lantern"
 start="00:00:00.00000"><audioContentIDRef>ACO_1001</audioContentIDRef></audioProgramme>
<audioContent audioContentID="ACO_1001" audioContentName="Voice"><audioObjectIDRef>AO_1001</audioObjectIDRef>
<dialogue>1</dialogue></audioContent><audioObject audioObjectID="AO_1001" audioObjectName="Voice" importance="9"
 start="00:00:01.00000" duration="00:00:02.00000"><audioPackFormatIDRef>AP_00031001</audioPackFormatIDRef>
<audioTrackUIDRef>ATU_00000001</audioTrackUIDRef><gain gainUnit="dB">-3</gain><mute>0</mute></audioObject>
<audioPackFormat audioPackFormatID="AP_00031001" audioPackFormatName="V" typeLabel="0003">
<audioChannelFormatIDRef>AC_00031001</audioChannelFormatIDRef></audioPackFormat>
<audioChannelFormat audioChannelFormatID="AC_00031001" audioChannelFormatName="V" typeLabel="0003">
<audioBlockFormat audioBlockFormatID="AB_00031001_00000001" rtime="00:00:00.00000" duration="00:00:01.00000">
<position coordinate="azimuth">20.0</position><position coordinate="elevation">0.0</position><gain>0.5</gain>
</audioBlockFormat><frequency typeDefinition="lowPass">120</frequency></audioChannelFormat>
<audioStreamFormat audioStreamFormatID="AS_00031001"><audioChannelFormatIDRef>AC_00031001</audioChannelFormatIDRef>
</audioStreamFormat><audioTrackFormat audioTrackFormatID="AT_00031001_01"><audioStreamFormatIDRef>AS_00031001
</audioStreamFormatIDRef></audioTrackFormat><audioTrackUID UID="ATU_00000001" sampleRate="48000"/>
</audioFormatExtended>"""
_LOUDNESS: Final = "<loudnessMetadata><integratedLoudness>-23.0</integratedLoudness></loudnessMetadata>"


@cache
def described() -> tuple[tuple[bytes, tuple[bytes, ...], int], ...]:
    """Documents of legs: the text, what each leg is used for, and how many legs there are."""
    return ((bed(_LOUDNESS).encode(), SURROUND, 6), (_OBJECT.encode(), _ONE_OBJECT, 3))


class Sound(NamedTuple):
    """A sound file in bytes, and the suffix that it goes by."""

    data: bytes
    suffix: str


@cache
def sounds() -> tuple[Sound, ...]:
    """Small files of every container and the commonest codings, and with every chunk that is read."""
    samples = np.sin(np.arange(400, dtype=np.float32)[:, None] / (9.0, 11.0)).astype(np.float32) / 2
    made = []
    for form, coding, suffix in _WRITTEN:
        out = io.BytesIO()
        with soundfile.SoundFile(out, "w", 48_000, 2, coding, format=form) as file:
            file.write(samples)
        made.append(Sound(out.getvalue(), suffix))
    about = bext(1 << 33, loudness=-2310, spread=900, peak=-105, momentary=-900, short=-1800, about=b"Lantern")
    chunks = ((b"bext", about), (b"iXML", IXML), (b"cue ", _POINTS), (b"LIST", _LABELS))
    for mark in (b"RIFF", b"BW64"):
        made += [Sound(wave(samples.T, *chunks, form=mark), ".wav")] * 3
        for text, uses, legs in described():
            more = (*chunks, (b"chna", chna(*uses)), (b"axml", text))
            made.append(Sound(wave(np.zeros((legs, 90)), *more, form=mark), ".wav"))
    return tuple(made)


def damaged_sound(chance: Random) -> Sound:
    """A file with its chunks or its bytes damaged."""
    sound = chance.choice(sounds())
    if sound.data[:4] in (b"RIFF", b"RF64", b"BW64", b"FORM") and chance.random() < 0.7:
        return Sound(damage_chunks(sound.data, chance), sound.suffix)
    at = chance.choice((0, 12, 40, 100))  # heads are where figures stand
    data = tear(sound.data[: at + 60], chance, 4) + sound.data[at + 60 :] if chance.random() < 0.6 else sound.data
    data = tear(data, chance, 4) if data is sound.data else data
    suffix = sound.suffix if chance.random() < 0.9 else chance.choice(sounds()).suffix
    return Sound(data, suffix)


def _parts(data: bytes, order: str) -> list[tuple[bytes, bytes]]:
    found, at = [], 12
    while at + 8 <= len(data):
        name, length = struct.unpack_from(order + "4sI", data, at)
        length = min(length, len(data) - at - 8)
        found.append((name, data[at + 8 : at + 8 + length]))
        at += 8 + length + length % 2
    return found


def damage_chunks(data: bytes, chance: Random) -> bytes:
    """A file of chunks: some lost, doubled, swapped, renamed, damaged inside, or of a length that is not theirs."""
    order = ">" if data[:4] == b"FORM" else "<"
    parts = _parts(data, order)
    lies: dict[int, int] = {}
    for _ in range(chance.choice((1, 1, 2, 4))):
        at = chance.randrange(len(parts))
        name, body = parts[at]
        kind = chance.randrange(10)
        if kind <= 2:
            parts[at] = (name, _inside(name, body, chance))
        elif kind <= 4:
            lies[at] = (
                int.from_bytes(whole(chance, 4), "little") if kind == 3 else len(body) + chance.choice((-8, -1, 1, 9))
            )
        elif kind == 5 and len(parts) > 1:
            del parts[at]
        elif kind == 6:
            parts[at:at] = [(name, body)] * chance.choice((1, 1, 3, 5000))
        elif kind == 7:
            other = chance.randrange(len(parts))
            parts[at], parts[other] = parts[other], parts[at]
        elif kind == 8:
            parts[at] = (chance.choice((b"data", b"fmt ", b"junk", b"LIST", b"axml", b"bxml", b"ds64", b"COMM")), body)
        else:
            parts[at] = (name, body[: chance.randrange(len(body) + 1)])
    inner = bytearray(data[8:12])
    for at, (name, body) in enumerate(parts):
        long = 0xFFFFFFFF if data[:4] == b"BW64" and name == b"data" else len(body)
        inner += name + struct.pack(order + "I", lies.get(at, long) & 0xFFFFFFFF) + body + bytes(len(body) % 2)
    mark = chance.choice((b"RIFF", b"RF64", b"BW64", b"RIFX")) if order == "<" and chance.random() < 0.1 else data[:4]
    size = struct.pack(order + "I", len(inner)) if chance.random() < 0.9 else whole(chance, 4)
    made = mark + size + bytes(inner)
    return made[: chance.randrange(len(made))] if chance.random() < 0.1 else made


def _inside(name: bytes, body: bytes, chance: Random) -> bytes:
    if name in (b"axml", b"iXML") and chance.random() < 0.7:
        return damage_xml(body, chance) if name == b"axml" else body.replace(b"Voice", word(chance).encode())
    if not body:
        return whole(chance, 4)
    width = chance.choice((1, 2, 4, 8))
    at = chance.randrange(0, min(len(body), 640), 2)
    return body[:at] + whole(chance, width, chance.choice("<<>")) + body[at + width :]
