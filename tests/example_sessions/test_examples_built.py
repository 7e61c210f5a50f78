"""The committed files are what the script builds, and the containers are what the open format asks for."""

from __future__ import annotations

import io
import json
import re
import subprocess
import sys
import wave
import zipfile
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from mixlint.session import Session

FOLDER = Path(__file__).resolve().parents[2] / "example_sessions"
CONTAINERS = ("sixpenny-weathervane.dawproject", "sixpenny-weathervane-flawed.dawproject")
SESSIONS = sorted(path.name for path in FOLDER.glob("*.session.json"))


def _project(name: str) -> ET.Element:
    with zipfile.ZipFile(FOLDER / name) as archive:
        return ET.fromstring(archive.read("project.xml"))  # noqa: S314 (our own file)


@pytest.mark.slow
def test_a_rebuild_gives_the_committed_bytes(tmp_path: Path) -> None:
    """Run as a reader runs it, the script writes exactly what is committed and nothing else."""
    subprocess.run(
        [sys.executable, str(FOLDER / "build.py"), "--out", str(tmp_path)], check=True, capture_output=True, timeout=120
    )
    built = {p.relative_to(tmp_path): p.read_bytes() for p in tmp_path.rglob("*") if p.is_file()}
    kept = {
        p.relative_to(FOLDER): p.read_bytes() for p in FOLDER.rglob("*") if p.suffix in (".json", ".dawproject", ".csv")
    }
    assert sorted(built) == sorted(kept)
    assert [name for name in built if built[name] != kept[name]] == []


def test_the_folder_stays_small() -> None:
    """A checkout should not be heavy: 6 MB for all example files."""
    assert sum(path.stat().st_size for path in FOLDER.iterdir() if path.is_file()) < 6_000_000


@pytest.mark.parametrize("name", SESSIONS)
def test_a_session_file_is_in_the_native_form(name: str) -> None:
    """The text reads back into the model and dumps to the same text."""
    text = (FOLDER / name).read_text(encoding="utf-8")
    assert Session.model_validate_json(text).json_text() == text
    assert json.loads(text)["format"] == "mixlint-session/1"


@pytest.mark.parametrize("name", CONTAINERS)
def test_members_are_stored_and_dated_1980(name: str) -> None:
    """Nothing in the container depends on the clock, the system or a compression library."""
    with zipfile.ZipFile(FOLDER / name) as archive:
        members = archive.infolist()
        assert archive.testzip() is None
    assert [m.filename for m in members[:2]] == ["metadata.xml", "project.xml"]
    assert {m.compress_type for m in members} == {zipfile.ZIP_STORED}
    assert {m.date_time for m in members} == {(1980, 1, 1, 0, 0, 0)}
    assert len({m.filename for m in members}) == len(members)


# The order of children in the DAWproject 1.0 schema (Project.xsd): complex types channel, send, device, eqBand,
# compressor, clip's content and arrangement.
_ORDER = {
    "Project": ["Application", "Transport", "Structure", "Arrangement", "Scenes"],
    "Track": ["Channel", "Track"],
    "Channel": ["Devices", "Mute", "Pan", "Sends", "Volume"],
    "Send": ["Enable", "Pan", "Volume"],
    "Equalizer": ["Parameters", "Enabled", "State", "Band", "InputGain", "OutputGain"],
    "Band": ["Freq", "Gain", "Q", "Enabled"],
    "Compressor": [
        "Parameters", "Enabled", "State",
        "Attack", "AutoMakeup", "InputGain", "OutputGain", "Ratio", "Release", "Threshold",
    ],
    "ClapPlugin": ["Parameters", "Enabled", "State"],
    "Vst3Plugin": ["Parameters", "Enabled", "State"],
    "Arrangement": ["Lanes", "Markers", "TempoAutomation", "TimeSignatureAutomation"],
}  # fmt: skip
_UNITS = {"linear", "normalized", "percent", "decibel", "hertz", "semitones", "seconds", "beats", "bpm"}


@pytest.mark.parametrize("name", CONTAINERS)
def test_elements_stand_in_the_schema_s_order(name: str) -> None:
    """Children come in the sequence that the published schema demands, with its words for units."""
    seen = set()
    for element in _project(name).iter():
        if element.tag in _ORDER:
            seen.add(element.tag)
            places = [_ORDER[element.tag].index(child.tag) for child in element]
            assert places == sorted(places), element.tag
        if "unit" in element.attrib:
            assert element.attrib["unit"] in _UNITS
    assert seen == set(_ORDER)


@pytest.mark.parametrize("name", CONTAINERS)
def test_ids_are_unique_and_references_resolve(name: str) -> None:
    """xs:ID values occur once; every xs:IDREF names an element of the right sort."""
    root = _project(name)
    by_id: dict[str, ET.Element] = {}
    for element in root.iter():
        if "id" in element.attrib:
            assert element.attrib["id"] not in by_id
            by_id[element.attrib["id"]] = element
    for element in root.iter():
        if "destination" in element.attrib:
            assert by_id[element.attrib["destination"]].tag == "Channel"
        if "track" in element.attrib:
            assert by_id[element.attrib["track"]].tag == "Track"
        if element.tag == "Target":
            assert by_id[element.attrib["parameter"]].tag == "Volume"


@pytest.mark.parametrize("name", CONTAINERS)
def test_the_audio_is_what_the_document_says(name: str) -> None:
    """Each WAV, read by the standard library, has the declared legs, rate and length, and covers its clips."""
    with zipfile.ZipFile(FOLDER / name) as archive:
        clips = list(ET.fromstring(archive.read("project.xml")).iter("Clip"))  # noqa: S314 (our own file)
        for clip in clips:
            audio = clip.find("Audio")
            assert audio is not None
            file = audio.find("File")
            assert file is not None
            with wave.open(io.BytesIO(archive.read(file.attrib["path"]))) as sound:
                assert sound.getsampwidth() == 2
                assert sound.getnchannels() == int(audio.attrib["channels"])
                assert sound.getframerate() == int(audio.attrib["sampleRate"]) == 44_100
                length = sound.getnframes() / sound.getframerate()
            assert float(audio.attrib["duration"]) == pytest.approx(length, abs=1e-6)
            plays = float(clip.attrib["duration"]) * 60 / 96
            if "loopEnd" in clip.attrib:
                assert float(clip.attrib["loopEnd"]) == pytest.approx(length, abs=1e-6)
                assert plays > length
            else:
                assert plays <= length + 1e-6
    assert len(clips) > 50


@pytest.mark.parametrize("name", CONTAINERS)
def test_plug_in_states_are_inside(name: str) -> None:
    """The open format keeps plug-in states in the container."""
    with zipfile.ZipFile(FOLDER / name) as archive:
        names = set(archive.namelist())
        states = [e.attrib["path"] for e in ET.fromstring(archive.read("project.xml")).iter("State")]  # noqa: S314
    assert len(states) == 4
    assert set(states) <= names


@pytest.mark.parametrize("name", CONTAINERS)
def test_frequencies_come_in_semitones_and_in_hertz(name: str) -> None:
    """Both ways occur, and every return with a low cut has it at 150 Hz (MIDI tuning: 440 Hz is note 69)."""
    root = _project(name)
    units = {freq.attrib["unit"] for freq in root.iter("Freq")}
    assert units == {"semitones", "hertz"}
    found = []
    for channel in root.iter("Channel"):
        if channel.attrib["role"] == "effect":
            for band in channel.iter("Band"):
                freq = band.find("Freq")
                assert freq is not None
                value = float(freq.attrib["value"])
                found.append(440 * 2 ** ((value - 69) / 12) if freq.attrib["unit"] == "semitones" else value)
    assert len(found) == (3 if "flawed" in name else 4)
    assert found == pytest.approx([150.0] * len(found), abs=0.001)


def test_the_readme_names_every_file() -> None:
    """The read-me and the folder agree."""
    named = set(re.findall(r"`([\w-]+\.(?:dawproject|session\.json))`", (FOLDER / "README.md").read_text("utf-8")))
    assert named == {p.name for p in FOLDER.iterdir() if p.suffix in (".json", ".dawproject")}
