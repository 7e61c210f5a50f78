"""The header of a plug-in's saved state: what it says of the plug-in, and what becomes of a damaged one.

The form is that of the VST 3 Developer Portal, "Preset Format"; the attribute that of ``Vst::PresetAttributes``.
"""

from __future__ import annotations

import struct
import zipfile
from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixlint import importers
from mixlint.errors import BrokenFile, InputError, RefusedFile
from mixlint.importers.dawproject.plugin_state import category_in
from mixlint.naming import read_processor
from mixlint.session import Channel, Session
from tests.importers.documents import channel, document, told, track

INFO = (
    b'<?xml version="1.0" encoding="UTF-8"?>\n<MetaInfo>\n'
    b'<Attribute id="MediaType" value="VstPreset" type="string" flags="writeProtected"/>\n'
    b'<Attribute id="PlugInCategory" value="Fx|Delay" type="string" flags="writeProtected"/>\n'
    b'<Attribute id="PlugInName" value="Nordwind" type="string"/>\n</MetaInfo>\n'
)


def preset(info: bytes | None = INFO, component: bytes = b"\x01" * 40) -> bytes:
    """A state in the published form: header, chunks, list of chunks."""
    chunks = [(b"Comp", component), *([(b"Info", info)] if info is not None else [])]
    body, entries, at = b"", b"", 48
    for mark, data in chunks:
        entries += struct.pack("<4sqq", mark, at, len(data))
        body += data
        at += len(data)
    header = struct.pack("<4si32sq", b"VST3", 1, b"0123456789ABCDEF" * 2, at)
    return header + body + struct.pack("<4si", b"List", len(chunks)) + entries


def read_with(folder: Path, states: dict[str, bytes], devices: str) -> tuple[Session, Channel]:
    """A packed session with some states in it, and the channel that holds the devices."""
    path = folder / "song.dawproject"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("project.xml", document(track("Part", f"<Devices>{devices}</Devices>")))
        for name, data in states.items():
            archive.writestr(name, data)
    session = importers.read(path)
    return session, channel(session, "Part")


def plugin(path: str, more: str = "") -> str:
    return f'<Vst3Plugin deviceName="Nordwind" deviceRole="audioFX"{more}><State path="{path}"/></Vst3Plugin>'


def test_the_category_is_read_from_the_state(tmp_path: Path) -> None:
    session, part = read_with(tmp_path, {"plugins/a.vstpreset": preset()}, plugin("plugins/a.vstpreset"))
    (insert,) = part.inserts
    assert insert.categories == ("Fx|Delay",)
    assert read_processor(insert).word == "delay"
    assert read_processor(insert).grounds == ("its category word 'Fx|Delay', from the header of its saved state",)
    assert not told(session, "saved state")


def test_what_the_document_says_goes_first(tmp_path: Path) -> None:
    states = {"a.vstpreset": preset()}
    devices = plugin("a.vstpreset", ' category="Fx|Reverb"') + plugin("a.vstpreset").replace("audioFX", "analyzer")
    _, part = read_with(tmp_path, states, devices)
    assert [one.categories for one in part.inserts] == [("Fx|Reverb",), ()]
    assert [read_processor(one).word for one in part.inserts] == ["reverb", "analyser"]


@pytest.mark.parametrize(
    "path", ["missing.vstpreset", "../a.vstpreset", "/etc/hostname", "C:\\a.vstpreset", "", "b.clap-preset", "c.bin"]
)
def test_nothing_comes_of_a_state_of_another_form_or_elsewhere(tmp_path: Path, path: str) -> None:
    """A CLAP state: the letters ``clap``, the length of an id, the id, then the plug-in's own bytes: no category."""
    states = {"b.clap-preset": b"clap\0\0\0\x0borg.example" + b"\x01" * 20, "c.bin": b""}
    session, part = read_with(tmp_path, states, plugin(path))
    assert part.inserts[0].categories == ()
    assert not told(session, "saved state")


def test_a_bad_header_is_noted_and_the_session_read(tmp_path: Path) -> None:
    states = {"a.vstpreset": preset()[:-30], "b.vstpreset": preset(b"<MetaInfo><Attr")}
    session, part = read_with(tmp_path, states, plugin("a.vstpreset") + plugin("b.vstpreset"))
    assert [one.categories for one in part.inserts] == [(), ()]
    assert told(session, "it ends within its list of chunks", "c:Part")
    assert told(session, "it is not well-formed XML", "c:Part")


@pytest.mark.parametrize(
    ("info", "said"),
    [
        (None, ""),
        (b"", None),
        (b"<MetaInfo/>", ""),
        (INFO + b"\0\0\n", "Fx|Delay"),
        (b"\xef\xbb\xbf" + INFO, "Fx|Delay"),
        (b'<!DOCTYPE a [<!ENTITY b "c">]><a/>', None),
        (b"<a>" * 50 + b"</a>" * 50, None),
        (b"<a " + b" ".join(b'b%d="c"' % number for number in range(40)) + b"/>", None),
        (b"<a>" + b"x" * (64 << 10) + b"</a>", None),
        (b"\xff\xfe\x00", None),
    ],
)
def test_meta_information(info: bytes | None, said: str | None) -> None:
    """None: refused or broken, in an error that the reader notes."""
    data = preset(info)
    if said is not None:
        assert category_in(data, "a") == said
        return
    with pytest.raises((BrokenFile, RefusedFile)):
        category_in(data, "a")


@pytest.mark.parametrize("where", range(0, 96, 8))
@pytest.mark.parametrize("number", [-1, 0, 1, 47, 1 << 20, (1 << 63) - 1, -(1 << 63)])
def test_lengths_and_places_are_never_trusted(where: int, number: int) -> None:
    """Any eight bytes of the header or of the list replaced by any number."""
    data = bytearray(preset())
    at = where if where < 48 else len(data) - 48 + (where - 48)
    data[at : at + 8] = struct.pack("<q", number)
    with suppress(InputError):
        assert len(category_in(bytes(data), "a")) <= 256


@given(st.integers(0, len(preset())), st.binary(max_size=60))
def test_a_cut_state_never_crashes(length: int, tail: bytes) -> None:
    for data in (preset()[:length], preset()[:length] + tail):
        with suppress(InputError):
            assert category_in(data, "a") in ("", "Fx|Delay")


@given(st.lists(st.tuples(st.integers(0, len(preset()) - 1), st.integers(0, 255)), max_size=6))
def test_a_damaged_state_never_crashes(changes: list[tuple[int, int]]) -> None:
    data = bytearray(preset())
    for at, value in changes:
        data[at] = value
    with suppress(InputError):
        assert isinstance(category_in(bytes(data), "a"), str)
