"""What a file describes of its legs, against bytes laid out by hand after the published texts, and against lxml."""

from __future__ import annotations

import io
import os
import random
import re
import struct
import time
from pathlib import Path

import lxml.etree
import numpy as np
import pytest

from mixlint.media.adm.axml import MOST_OF_A_KIND, read_axml
from mixlint.media.adm.common import common_speaker
from mixlint.media.adm.leg_uses import read_leg_uses
from mixlint.media.adm.model import Adm, LegUse, Position
from mixlint.media.adm.reading import is_common, read_adm
from mixlint.media.adm.values import factor, number, seconds, switch
from mixlint.media.audio import read_header
from mixlint.media.labels import Stated
from mixlint.session import Unknown
from tests.media.described import SURROUND, bed, chna, document, entry, wave

SOUND = np.zeros((6, 480))


def described(*chunks: tuple[bytes, bytes], form: bytes = b"RIFF") -> Adm:
    return read_adm(io.BytesIO(wave(SOUND, *chunks, form=form)))


def axml(text: str, encoding: str = "utf-8") -> tuple[bytes, bytes]:
    return b"axml", text.encode(encoding)


@pytest.mark.parametrize("form", [b"RIFF", b"BW64"])
def test_a_bed_of_six_legs(form: bytes) -> None:
    """ITU-R BS.2088: chunk chna; BS.2076: elements and attributes; BS.2094: numbers of the common definitions."""
    body = wave(SOUND, (b"chna", chna(*SURROUND)), axml(bed()), form=form)
    assert read_header(io.BytesIO(body)).has_adm
    adm = read_adm(io.BytesIO(body))
    assert adm.legs[3] == LegUse(4, "ATU_00000004", "AT_00010004_01", "AP_00010003")
    assert [use.leg for use in adm.legs] == [1, 2, 3, 4, 5, 6]
    programme = adm.programmes["APR_1001"]
    assert (programme.name, programme.start_s, programme.end_s) == ("Lantern", 0.0, 4.0)
    assert programme.contents == ("ACO_1001",)
    content = adm.contents["ACO_1001"]
    assert (content.name, content.dialogue, content.objects) == ("Music", "none", ("AO_1001",))
    one = adm.objects["AO_1001"]
    assert (one.name, one.packs, len(one.uids)) == ("Bed", ("AP_00010003",), 6)
    assert (one.start_s, one.duration_s, one.importance, one.gain, one.mute) == (0.0, None, 10, 1.0, False)
    assert adm.faults == ()
    assert adm.unread is None


def test_the_values_of_an_object() -> None:
    attrs = ' start="00:00:01.50000" duration="00:01:00.24000S48000" importance="3"'
    adm = described(axml(bed(attrs=attrs, more='<gain gainUnit="dB">-6.0</gain><mute>1</mute>')))
    one = adm.objects["AO_1001"]
    assert (one.start_s, one.duration_s, one.importance, one.mute) == (1.5, 60.5, 3, True)
    assert one.gain == pytest.approx(10.0 ** (-6.0 / 20.0))
    linear = described(axml(bed(more="<gain>0.5</gain>"))).objects["AO_1001"]
    assert linear.gain == 0.5


def test_values_of_other_sets_are_not_the_object_s_own() -> None:
    values = "<gain>0.1</gain><mute>1</mute>"
    other = f'<alternativeValueSet alternativeValueSetID="AVS_1001_0001">{values}</alternativeValueSet>'
    one = described(axml(bed(more=other))).objects["AO_1001"]
    assert (one.gain, one.mute) == (1.0, False)


def test_stated_loudness() -> None:
    """BS.2076: loudnessMetadata of a programme, here with two methods."""
    first = (
        "<integratedLoudness>-23.0</integratedLoudness><loudnessRange>10.0</loudnessRange>"
        "<maxTruePeak>-2.3</maxTruePeak><maxMomentary>-19.0</maxMomentary><maxShortTerm>-21.2</maxShortTerm>"
    )
    text = (
        f'<loudnessMetadata loudnessMethod="ITU-R BS.1770" loudnessRecType="EBU R128">{first}</loudnessMetadata>'
        '<loudnessMetadata loudnessMethod="other"><integratedLoudness>-20</integratedLoudness></loudnessMetadata>'
    )
    found = described(axml(bed(text))).programmes["APR_1001"].loudness
    assert [one.method for one in found] == ["ITU-R BS.1770", "other"]
    assert found[0].stated == Stated(-23.0, 10.0, -2.3, -19.0, -21.2)
    assert found[1].stated == Stated(-20.0)


def test_formats_of_its_own() -> None:
    own = """<audioPackFormat audioPackFormatID="AP_00031001" audioPackFormatName="Voice" typeDefinition="Objects"/>
    <audioChannelFormat audioChannelFormatID="AC_00031001" audioChannelFormatName="Voice" typeLabel="0003">
      <audioBlockFormat audioBlockFormatID="AB_00031001_00000001"><position coordinate="azimuth">30.0</position>
        <position coordinate="azimuth" bound="min">20.0</position><gain>0.5</gain></audioBlockFormat>
      <audioBlockFormat audioBlockFormatID="AB_00031001_00000002"><position coordinate="azimuth">-30.0</position>
      </audioBlockFormat></audioChannelFormat>
    <audioChannelFormat audioChannelFormatID="AC_00011001" audioChannelFormatName="Low" typeLabel="0001">
      <frequency typeDefinition="lowPass">120.0</frequency>
      <audioBlockFormat audioBlockFormatID="AB_00011001_00000001"><position coordinate="X">0.0</position>
      </audioBlockFormat></audioChannelFormat>
    <audioStreamFormat audioStreamFormatID="AS_00031001"><audioChannelFormatIDRef>AC_00031001</audioChannelFormatIDRef>
    </audioStreamFormat>
    <audioTrackFormat audioTrackFormatID="AT_00031001_01"><audioStreamFormatIDRef>AS_00031001</audioStreamFormatIDRef>
    </audioTrackFormat>
    <audioTrackUID UID="ATU_00000001" sampleRate="48000"><audioTrackFormatIDRef>AT_00031001_01</audioTrackFormatIDRef>
      <audioPackFormatIDRef>AP_00031001</audioPackFormatIDRef></audioTrackUID>"""
    adm = described(axml(document(own)))
    voice, low = adm.channels["AC_00031001"], adm.channels["AC_00011001"]
    assert (voice.kind, voice.blocks, voice.position, voice.gain) == ("object", 2, Position(30.0, 0.0), None)
    assert (low.kind, low.low_end, low.position) == ("speakers", True, None)
    assert adm.packs["AP_00031001"].kind == "object"
    assert adm.streams == {"AS_00031001": "AC_00031001"}
    assert adm.track_streams == {"AT_00031001_01": "AS_00031001"}
    assert adm.tracks["ATU_00000001"].rate_hz == 48_000
    assert adm.faults == ()


def test_room_behind_the_entries_is_no_fault() -> None:
    """EBU Tech 3285, supplement 7: there may be more entries than numbers, and those are zeros."""
    body = chna(*SURROUND, room=9)
    uses, faults = read_leg_uses(body, len(body))
    assert len(uses) == 6
    assert faults == []


@pytest.mark.parametrize(
    ("body", "length", "word"),
    [
        (chna(*SURROUND, uids=9), None, "tells of 9 numbers and holds 6"),
        (chna(*SURROUND, legs=2), None, "tells of 2 legs and holds 6"),
        (chna(*SURROUND)[:90], None, "no whole number of entries"),
        (chna(*SURROUND)[:84], 244, "cut short: 84 of 244"),
        (b"\1", None, "no whole number"),
        (chna(entry(1, "TRACK 1", "", "")), None, "numbers that are none, such as 'TRACK 1'"),
    ],
)
def test_a_damaged_list_of_legs_is_told(body: bytes, length: int | None, word: str) -> None:
    _, faults = read_leg_uses(body, len(body) if length is None else length)
    assert any(word in one for one in faults), faults


@pytest.mark.parametrize(
    ("text", "word"),
    [
        (bed()[:400], "not well-formed"),
        (bed().replace("AO_1001</audioObjectIDRef>", "AO_1009</audioObjectIDRef>"), "AO_1009, which is not there"),
        (document('<audioObject audioObjectName="A"/>'), "audioObject has no number"),
        (document('<audioObject audioObjectID="AO_1"/>' * 2), "two elements audioObject have the number AO_1"),
        (document('<audioObject audioObjectID="AO_1" start="soon"/>'), "'soon', which is no time"),
        (document('<audioObject audioObjectID="AO_1"><gain>loud</gain></audioObject>'), "'loud', which is no value"),
        (document('<audioObject audioObjectID="AO_1"><gain>nan</gain></audioObject>'), "'nan', which is no value"),
    ],
)
def test_a_damaged_description_is_told(text: str, word: str) -> None:
    faults = described((b"chna", chna(*SURROUND)), axml(text)).faults
    assert any(word in one for one in faults), faults


def test_a_description_that_is_not_read_says_why() -> None:
    bomb = '<!DOCTYPE a [<!ENTITY b "lol">' + '<!ENTITY c "&b;&b;&b;&b;">' * 9 + "]>"
    refused = described(axml(document("&c;", head=bomb))).unread
    assert isinstance(refused, Unknown)
    assert "document type" in refused.unknown
    other = described(axml(document("", head='<?xml version="1.0" encoding="gb18030"?>'))).unread
    assert isinstance(other, Unknown)
    assert "gb18030" in other.unknown
    packed = described((b"chna", chna(*SURROUND)), (b"bxml", bytes(20)))
    assert isinstance(packed.unread, Unknown)
    assert "bxml" in packed.unread.unknown
    assert len(packed.legs) == 6


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16", "iso-8859-1"])
def test_encodings_and_the_zeros_behind_a_document(encoding: str) -> None:
    text = document('<audioObject audioObjectID="AO_1" audioObjectName="Trömmel"/>').replace("UTF-8", encoding)
    adm = read_adm(io.BytesIO(wave(SOUND, (b"axml", text.encode(encoding) + bytes(64)))))
    assert adm.objects["AO_1"].name == "Trömmel"
    assert adm.faults == ()


def test_another_document_in_the_chunk_is_no_description() -> None:
    assert not described(axml("<note>Lantern</note>")).describes
    assert not read_adm(io.BytesIO(wave(SOUND))).describes
    assert not read_adm(io.BytesIO(b"fLaC" + bytes(99))).describes


def test_a_hundred_thousand_objects_are_refused_soon() -> None:
    many = "".join(f'<audioObject audioObjectID="AO_{one:X}"/>' for one in range(100_000))
    before = time.process_time()
    adm = described(axml(document(many)))
    assert isinstance(adm.unread, Unknown)
    assert "more elements audioObject than are read" in adm.unread.unknown
    assert adm.objects == {}  # nothing is judged by a part
    assert len(read_axml(document(many).encode()).found["audioObject"]) == MOST_OF_A_KIND
    assert time.process_time() - before < 2.0


@pytest.mark.parametrize(
    "text",
    [
        "<a>" * 200 + "</a>" * 200,
        document('<audioObject audioObjectID="AO_1" ' + " ".join(f'a{n}=""' for n in range(200)) + "/>"),
        document("".join(f"<a{n}/>" for n in range(6000))),
        document(
            '<audioObject audioObjectID="AO_1"><audioTrackUIDRef/>' + "<audioTrackUIDRef/>" * 200_001 + "</audioObject>"
        ),
        document('<audioObject audioObjectID="' + "A" * 3_000_000 + '"/>'),
    ],
    ids=["deep", "attributes", "names", "references", "token"],
)
def test_bounds(text: str) -> None:
    assert isinstance(read_axml(text.encode()).unread, Unknown)


def test_whatever_bytes_come_it_ends() -> None:
    """Ends cut off, bytes turned over, sizes that are wrong: 400 damaged copies of a whole file, seeded."""
    good = wave(np.zeros((6, 8)), (b"chna", chna(*SURROUND, room=2)), axml(bed()), form=b"BW64")
    chance = random.Random(5)
    for _ in range(400):
        body = bytearray(good)
        for _ in range(chance.randint(1, 12)):
            body[chance.randrange(len(body))] = chance.randrange(256)
        if chance.random() < 0.3:
            del body[chance.randrange(len(body)) :]
        if chance.random() < 0.3:
            struct.pack_into("<I", body, min(len(body) - 4, chance.randrange(0, len(body), 4)), chance.getrandbits(32))
        adm = read_adm(io.BytesIO(bytes(body)))
        assert len(adm.legs) <= len(body) // 40
        assert len(adm.objects) <= 1


def test_values() -> None:
    """BS.2076: times in decimals, and since version 2 in samples; gains linear unless their unit is dB."""
    assert seconds("01:02:03.50000") == 3723.5
    assert seconds("00:00:01.24000S48000") == 1.5
    assert seconds("00:00:05") == 5.0
    for wrong in ("5", "00:00:01.5S0", "00:00:00.48000S48000", "-1:00:00.0", "soon"):
        with pytest.raises(ValueError, match=re.escape(wrong)):
            seconds(wrong)
    assert factor("0.5", "linear") == 0.5
    assert factor("-20", "dB") == pytest.approx(0.1)
    assert factor("-inf", "dB") == 0.0
    assert number("-23.0") == -23.0
    assert (switch("1"), switch("false")) == (True, False)
    for wrong in ("inf", "1e9", "1,5"):
        with pytest.raises(ValueError, match=wrong):
            number(wrong)


def test_numbers_of_the_common_definitions() -> None:
    assert is_common("AP_00010002")
    assert is_common("AT_0001000A_01")
    assert not is_common("AP_00011001")
    assert not is_common("AO_1001")
    side, low = common_speaker("AC_00010005"), common_speaker("AC_00010004")
    assert side is not None
    assert low is not None
    assert side.position == Position(110.0, 0.0)
    assert low.low_end
    assert common_speaker("AC_00011001") is None
    assert common_speaker("AC_0001FFXX") is None


SAMPLES = os.environ.get("MIXLINT_SAMPLES", "")


def _local(element: lxml.etree._Element) -> str:
    return lxml.etree.QName(element).localname


@pytest.mark.skipif(not SAMPLES, reason="MIXLINT_SAMPLES names no folder of files from elsewhere")
def test_documents_from_elsewhere_read_as_lxml_reads_them() -> None:
    """Each XML file with elements of BS.2076 below the folder: numbers, names and legs, by an independent reader."""
    seen = 0
    for path in sorted(Path(SAMPLES).rglob("*.xml")):
        body = path.read_bytes()
        if b"audioFormatExtended" not in body:
            continue
        try:
            tree = lxml.etree.fromstring(body)
        except lxml.etree.XMLSyntaxError:
            assert any("not well-formed" in one for one in read_axml(body).faults), path
            continue
        seen += 1
        found = read_axml(body).found
        for name, attr in (
            ("audioObject", "audioObjectID"),
            ("audioProgramme", "audioProgrammeID"),
            ("audioTrackUID", "UID"),
        ):
            theirs = {
                one.get(attr).upper(): (one.get(f"{name}Name") or "").strip()
                for one in tree.iter(lxml.etree.Element)
                if _local(one) == name and one.get(attr)
            }
            ours = {number: getattr(one, "name", "") for number, one in found[name].items()}
            assert ours == theirs, path
        uids = [e.text.strip().upper() for e in tree.iter(lxml.etree.Element) if _local(e) == "audioTrackUIDRef"]
        if len(found["audioObject"]) == sum(1 for e in tree.iter(lxml.etree.Element) if _local(e) == "audioObject"):
            assert sorted(uid for one in found["audioObject"].values() for uid in one.uids) == sorted(uids), path
    if not seen:
        pytest.skip("MIXLINT_SAMPLES holds no document of BS.2076")


@pytest.mark.skipif(not SAMPLES, reason="MIXLINT_SAMPLES names no folder of files from elsewhere")
def test_loudspeakers_are_those_of_the_published_file() -> None:
    """ITU-R BS.2094, as the document ``common_definitions.xml`` of an open library holds it."""
    path = next(iter(sorted(Path(SAMPLES).rglob("common_definitions.xml"))), None)
    if path is None:
        pytest.skip("MIXLINT_SAMPLES holds no common_definitions.xml")
    speakers = [
        one for one in read_axml(path.read_bytes()).found["audioChannelFormat"].values() if one.kind == "speakers"
    ]
    assert len(speakers) >= 40
    for one in speakers:
        ours = common_speaker(one.id)
        assert ours is not None
        assert (ours.position, ours.low_end) == (one.position, one.low_end)


@pytest.mark.skipif(not SAMPLES, reason="MIXLINT_SAMPLES names no folder of files from elsewhere")
def test_sound_files_from_elsewhere_are_whole() -> None:
    """Files that another program wrote: every leg is named once, and every object has legs."""
    seen = 0
    for path in sorted(Path(SAMPLES).rglob("*.[wW][aA][vV]")):
        with path.open("rb") as file:
            adm = read_adm(file)
            if not adm.objects:
                continue
            file.seek(0)
            legs = read_header(file).legs
        seen += 1
        assert adm.faults == (), path
        assert sorted(use.leg for use in adm.legs) == list(range(1, legs + 1)), path
        assert {uid for one in adm.objects.values() for uid in one.uids} == {use.uid for use in adm.legs}, path
    if not seen:
        pytest.skip("MIXLINT_SAMPLES holds no sound file that describes its legs")
