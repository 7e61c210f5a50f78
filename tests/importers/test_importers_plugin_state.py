"""A plug-in's saved state: whether it is there, its hash, what its header says, and what becomes of a damaged one.

The form is that of the VST 3 Developer Portal, "Preset Format"; the attribute that of ``Vst::PresetAttributes``.
"""

from __future__ import annotations

import io
import struct
import zipfile
from contextlib import suppress
from hashlib import sha256
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixlint import importers
from mixlint.errors import BrokenFile, InputError, RefusedFile
from mixlint.importers.dawproject import plugin_state
from mixlint.importers.dawproject.plugin_state import category_in, head_of
from mixlint.naming import read_processor
from mixlint.session import Channel, SavedSettings, Session, Unknown, is_known
from tests.importers.documents import channel, document, told, track

INFO = (
    b'<?xml version="1.0" encoding="UTF-8"?>\n<MetaInfo>\n'
    b'<Attribute id="MediaType" value="VstPreset" type="string" flags="writeProtected"/>\n'
    b'<Attribute id="PlugInCategory" value="Fx|Delay" type="string" flags="writeProtected"/>\n'
    b'<Attribute id="PlugInName" value="Nordwind" type="string"/>\n</MetaInfo>\n'
)


CLASS = b"0123456789ABCDEF" * 2


def preset(
    info: bytes | None = INFO, component: bytes = b"\x01" * 40, editor: bytes | None = None, backwards: bool = False
) -> bytes:
    """A state in the published form: header, chunks, list of chunks."""
    chunks = [(b"Comp", component), *([(b"Cont", editor)] if editor is not None else [])]
    chunks += [(b"Info", info)] if info is not None else []
    if backwards:
        chunks.reverse()
    body, entries, at = b"", b"", 48
    for mark, data in chunks:
        entries += struct.pack("<4sqq", mark, at, len(data))
        body += data
        at += len(data)
    header = struct.pack("<4si32sq", b"VST3", 1, CLASS, at)
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


def category_of(data: bytes) -> str:
    """The category of a whole state."""
    head = head_of(io.BytesIO(data), len(data), "a")
    return category_in(data[head.info.start :][: head.info.size] if head.info is not None else b"", "a")


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
        (b"", ""),
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
        assert category_of(data) == said
        return
    with pytest.raises((BrokenFile, RefusedFile)):
        category_of(data)


@pytest.mark.parametrize("where", range(0, 96, 8))
@pytest.mark.parametrize("number", [-1, 0, 1, 47, 1 << 20, (1 << 63) - 1, -(1 << 63)])
def test_lengths_and_places_are_never_trusted(where: int, number: int) -> None:
    """Any eight bytes of the header or of the list replaced by any number."""
    data = bytearray(preset())
    at = where if where < 48 else len(data) - 48 + (where - 48)
    data[at : at + 8] = struct.pack("<q", number)
    with suppress(InputError):
        assert len(category_of(bytes(data))) <= 256


@given(st.integers(0, len(preset())), st.binary(max_size=60))
def test_a_cut_state_never_crashes(length: int, tail: bytes) -> None:
    for data in (preset()[:length], preset()[:length] + tail):
        with suppress(InputError):
            assert category_of(data) in ("", "Fx|Delay")


@given(st.lists(st.tuples(st.integers(0, len(preset()) - 1), st.integers(0, 255)), max_size=6))
def test_a_damaged_state_never_crashes(changes: list[tuple[int, int]]) -> None:
    data = bytearray(preset())
    for at, value in changes:
        data[at] = value
    with suppress(InputError):
        assert isinstance(category_of(bytes(data)), str)


# --- whether it is there, and its hash


def saved(folder: Path, data: bytes, path: str = "a.vstpreset") -> SavedSettings:
    """What is kept of one state in a packed session."""
    folder.mkdir(exist_ok=True)
    _, part = read_with(folder, {path: data}, plugin(path))
    found = part.inserts[0].saved
    assert found is not None
    return found


def test_a_state_that_is_there_is_told_by_its_hash(tmp_path: Path) -> None:
    """The hash is that of the class id and the component's bytes, by the standard library."""
    found = saved(tmp_path, preset(component=b"warm"))
    assert (found.path, found.place, found.present, found.damaged) == ("a.vstpreset", "inside", True, False)
    assert found.plugin == CLASS.decode()
    assert found.content == f"sha256:{sha256(CLASS + b'warm').hexdigest()}"
    raw = b"CcnK" + bytes(range(200))
    other = saved(tmp_path / "raw", raw, "b.fxb")
    assert (other.plugin, other.content) == ("", f"sha256:{sha256(raw).hexdigest()}")


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        (preset(), preset(component=b"\x01" * 39 + b"\x02"), False),  # one byte of what it processes by
        (preset(), preset(INFO.replace(b"Nordwind", b"Saved on Friday")), True),  # who saved it
        (preset(), preset(None), True),
        (preset(editor=b"tab 1"), preset(editor=b"tab 2"), True),  # what its editor keeps for itself
        (preset(), preset(backwards=True), True),  # where the chunks lie
        (b"clap" + bytes(40), b"clap" + bytes(41), False),
    ],
)
def test_what_counts_of_a_state(tmp_path: Path, one: bytes, other: bytes, same: bool) -> None:
    assert (saved(tmp_path / "one", one).content == saved(tmp_path / "other", other).content) is same


def test_a_state_that_is_missing_or_elsewhere(tmp_path: Path) -> None:
    devices = "".join(plugin(path) for path in ("gone.vstpreset", "/etc/hostname", "../up.vstpreset"))
    _, part = read_with(tmp_path, {}, devices + '<Vst3Plugin deviceName="None" deviceRole="audioFX"/>')
    missing, absolute, climbing, none = (one.saved for one in part.inserts)
    assert none is None
    assert missing is not None
    assert missing.present is False
    for one in (absolute, climbing):
        assert one is not None
        assert (one.place, is_known(one.present), is_known(one.content)) == ("outside", False, False)


def test_in_an_unpacked_session_it_lies_beside_the_document(tmp_path: Path) -> None:
    devices = plugin("plugins/a.vstpreset") + plugin("plugins/b.vstpreset")
    (tmp_path / "project.xml").write_text(document(track("Part", f"<Devices>{devices}</Devices>")))
    (tmp_path / "plugins").mkdir()
    (tmp_path / "plugins/a.vstpreset").write_bytes(preset())
    first, second = (one.saved for one in channel(importers.read(tmp_path / "project.xml"), "Part").inserts)
    assert first is not None
    assert second is not None
    assert (first.place, first.present, is_known(first.content)) == ("beside", True, True)
    assert second.present is False


def test_a_file_beside_an_archive(tmp_path: Path) -> None:
    (tmp_path / "a.vstpreset").write_bytes(preset())
    device = plugin("a.vstpreset").replace("<State", '<State external="true"')
    _, part = read_with(tmp_path, {}, device)
    assert part.inserts[0].saved == SavedSettings(
        path="a.vstpreset", place="beside", present=True, plugin=CLASS.decode(),
        content=f"sha256:{sha256(CLASS + bytes([1]) * 40).hexdigest()}",
    )  # fmt: skip


def test_how_much_is_read_is_bounded(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Past the bound nothing is guessed: it is there, and what is in it is not known, with the reason."""
    monkeypatch.setattr(plugin_state, "_LARGEST", 1000)
    monkeypatch.setattr(plugin_state, "_LARGEST_TOGETHER", 1500)
    states = {"a.bin": bytes(1001), "b.bin": bytes(900), "c.bin": bytes(900), "d.bin": bytes(500)}
    session, part = read_with(tmp_path, states, "".join(map(plugin, states)))
    found = [one.saved for one in part.inserts]
    assert [is_known(one.content) for one in found if one is not None] == [False, True, False, True]
    reasons = [one.content.unknown for one in found if one is not None and isinstance(one.content, Unknown)]
    assert "1001 bytes" in reasons[0]
    assert "together" in reasons[1] or "of this session" in reasons[1]
    assert all(one is not None and one.present is True for one in found)
    assert not told(session, "could not be read")


def test_the_same_file_is_read_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(plugin_state, "_LARGEST_TOGETHER", 1000)
    _, part = read_with(tmp_path, {"a.bin": bytes(900)}, plugin("a.bin") * 3)
    assert len({one.saved for one in part.inserts}) == 1


def test_chunks_that_lie_over_each_other_are_not_followed(tmp_path: Path) -> None:
    """A list of many chunks that all mean the whole file would have it read a hundred times."""
    body = bytes(5000)
    at = 48 + len(body)
    header = struct.pack("<4si32sq", b"VST3", 1, CLASS, at)
    data = header + body + struct.pack("<4si", b"List", 100) + struct.pack("<4sqq", b"Comp", 48, 5000) * 100
    path = tmp_path / "song.dawproject"
    session, part = read_with(tmp_path, {"a.vstpreset": data}, plugin("a.vstpreset"))
    assert path.is_file()
    assert told(session, "its chunks lie over each other", "c:Part")
    assert part.inserts[0].saved is not None
    assert part.inserts[0].saved.content == f"sha256:{sha256(data).hexdigest()}"


def test_a_state_that_broke_on_the_way_is_damaged(tmp_path: Path) -> None:
    """One byte of a stored member is turned over: its checksum tells."""
    path = tmp_path / "song.dawproject"
    with zipfile.ZipFile(path, "w") as archive:
        devices = f"<Devices>{plugin('a.bin')}</Devices>"
        archive.writestr("project.xml", document(track("Part", devices)))
        archive.writestr("a.bin", b"mark" + bytes(100))
    data = bytearray(path.read_bytes())
    data[data.index(b"mark")] ^= 1
    path.write_bytes(bytes(data))
    session = importers.read(path)
    found = channel(session, "Part").inserts[0].saved
    assert found is not None
    assert (found.present, found.damaged, is_known(found.content)) == (True, True, False)
    assert told(session, "could not be read", "c:Part")
