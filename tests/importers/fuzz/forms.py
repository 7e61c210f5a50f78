"""Every form that is read: how a damaged file of it is made, and how it is read."""

from __future__ import annotations

import json
import resource
import shutil
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from functools import cache
from pathlib import Path
from random import Random
from typing import Final, NamedTuple

from mixlint import importers
from mixlint.comparison import Approval, compare
from mixlint.comparison.approval import _seal, approval_text, read_approval
from mixlint.errors import InputError, RefusedFile
from mixlint.importers.aaf.assembly import session_of
from mixlint.media.adm.axml import read_axml
from mixlint.media.adm.reading import read_adm
from mixlint.media.apart import MOST_MEMORY
from mixlint.media.container import open_container
from mixlint.media.labels import read_labels
from mixlint.media.whole import decode
from mixlint.session import Session
from tests.importers.documents import document, track
from tests.importers.fuzz.chunk_damage import damaged_sound, described, sounds
from tests.importers.fuzz.compound_damage import damaged_aaf, sound_aaf
from tests.importers.fuzz.json_damage import damage_json, damage_values
from tests.importers.fuzz.seeds import projects, seed_session
from tests.importers.fuzz.table_damage import damaged_text, damaged_workbook
from tests.importers.fuzz.words import tear, whole
from tests.importers.fuzz.xml_damage import damage_xml
from tests.importers.fuzz.zip_damage import damage_zip, dishonest, honest
from tests.importers.hostile import Part, archive
from tests.importers.test_importers_plugin_state import INFO, plugin, preset
from tests.media.described import chna, wave


class Given(NamedTuple):
    """A damaged file.

    Args:
        path: the file, or the folder.
        read: reads it; a session, or None where it is none.
        reviewed: by path, with all that lies beside it; else only the session that was read.
    """

    path: Path
    read: Callable[[], Session | None]
    reviewed: bool = True


class Form(NamedTuple):
    """A form: how often it comes among others, and what makes a damaged file of it in a folder."""

    weight: int
    make: Callable[[Random, Path], Given]


def _given(path: Path, data: bytes) -> Given:
    path.write_bytes(data)
    return Given(path, lambda: importers.read(path))


def _project(chance: Random) -> bytes:
    return damage_xml(chance.choice(projects()), chance, projects())


def _xml(chance: Random, folder: Path) -> Given:
    return _given(folder / "fuzz.xml", _project(chance))


def _packed(chance: Random, folder: Path) -> Given:
    parts = [Part(b"metadata.xml", b"<MetaData><Title>x</Title></MetaData>"), Part(b"project.xml", _project(chance))]
    if chance.random() < 0.3:
        parts[0].data = damage_xml(parts[0].data, chance)
    if chance.random() < 0.5:
        sound = damaged_sound(chance) if chance.random() < 0.5 else chance.choice(sounds())
        parts.append(Part(b"audio/a.wav", sound.data, 0))
    return _given(folder / "fuzz.dawproject", archive(*parts))


def _zip(chance: Random, folder: Path) -> Given:
    """The container and not what is in it."""
    members = {
        "metadata.xml": b"<MetaData/>",
        "project.xml": chance.choice(projects()),
        "audio/a.wav": sounds()[0].data,
    }
    if chance.random() < 0.5:
        data = dishonest([Part(name.encode(), body, chance.choice((0, 8))) for name, body in members.items()], chance)
    else:
        data = damage_zip(honest(members, chance), chance)
    return _given(folder / chance.choice(("fuzz.dawproject", "fuzz.dawproject", "fuzz.zip")), data)


def _json(chance: Random, folder: Path) -> Given:
    return _given(folder / "fuzz.json", damage_json(_seed_text(), chance))


@cache
def _seed_text() -> str:
    return seed_session().json_text()


def _text_list(chance: Random, folder: Path) -> Given:
    data, suffix = damaged_text(chance)
    return _given(folder / f"fuzz{suffix}", data)


def _workbook(chance: Random, folder: Path) -> Given:
    data, suffix = damaged_workbook(chance)
    return _given(folder / f"fuzz{suffix}", data)


def _aaf(chance: Random, folder: Path) -> Given:
    """Read in this process; what the worker takes for damage, whatever the library raises, is damage here."""
    path = folder / "fuzz.aaf"
    path.write_bytes(damaged_aaf(chance))
    return Given(path, lambda: _unfolded(path), reviewed=False)


@cache
def _streams() -> tuple[str, ...]:
    """The sound inside the undamaged file."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "fuzz.aaf"
        path.write_bytes(sound_aaf())
        return tuple(one.path for one in session_of(path).media if one.place == "inside")


def _unfolded(path: Path) -> Session:
    """Its streams are found by what is ours, whatever the library makes of the rest."""
    with open_container(path) as container:
        for name in _streams():
            with suppress(InputError):
                if container.has(name):
                    with container.open(name, hold=True) as file:
                        decode(file, name)
    with _as_much_memory_as_the_worker():
        return session_of(path)


@contextmanager
def _as_much_memory_as_the_worker() -> Iterator[None]:
    """A stream of four gigabytes is no trouble to the worker, which may not take them, and tells so."""
    held = int(Path("/proc/self/statm").read_text("ascii").split()[0]) * resource.getpagesize()
    before, hard = resource.getrlimit(resource.RLIMIT_AS)
    resource.setrlimit(resource.RLIMIT_AS, (held + MOST_MEMORY, hard))
    try:
        yield
    except MemoryError:
        raise RefusedFile("it takes more memory than any session needs", where="fuzz.aaf", do="export less") from None
    finally:
        resource.setrlimit(resource.RLIMIT_AS, (before, hard))


def _stems(chance: Random, folder: Path) -> Given:
    """A folder of stems; what its files say of themselves, and their samples."""
    stems = folder / "stems"
    stems.mkdir()
    names = chance.sample(("Kick", "Voice", "Bass L", "Bass R", "Mix", "Lantern 01 Voice"), chance.choice((1, 1, 2)))
    files = []
    for name in names:
        sound = damaged_sound(chance)
        files.append(stems / (name + sound.suffix))
        files[-1].write_bytes(sound.data)
    if chance.random() < 0.1:  # a list beside them may describe them
        rows, suffix = damaged_text(chance)
        (stems / f"list{suffix}").write_bytes(rows)
    chosen = chance.choice(files)
    return Given(stems, lambda: _heard(stems, chosen))


def _heard(folder: Path, chosen: Path) -> Session:
    session = importers.read(folder)
    with chosen.open("rb") as file:
        read_labels(file)
        read_adm(file)
        decode(file, chosen.name)
    return session


def _adm(chance: Random, folder: Path) -> Given:
    """A description of legs, with the chunk of their uses."""
    stems = folder / "stems"
    stems.mkdir()
    text, uses, legs = chance.choice(described())
    text = damage_xml(text, chance, tuple(one for one, _, _ in described()))
    table = chna(*chance.choice((uses, uses, uses * 2, uses[1:], tuple(tear(one, chance, 2) for one in uses))))
    if chance.random() < 0.1:
        table = table[:2] + whole(chance, 2) + table[4:]
    path = stems / "delivery.wav"
    import numpy as np

    path.write_bytes(
        wave(np.zeros((legs, 60)), (b"chna", table), (b"axml", text), form=chance.choice((b"RIFF", b"BW64")))
    )
    return Given(stems, lambda: _described(stems, path, text))


def _described(folder: Path, path: Path, text: bytes) -> Session:
    read_axml(text)
    with path.open("rb") as file:
        read_adm(file)
    return importers.read(folder)


def _states(chance: Random, folder: Path) -> Given:
    """A session with saved states of processors."""
    parts = []
    for name in ("a", "b"):
        info = chance.choice((INFO, None, b"", damage_xml(INFO, chance)))
        data = preset(info, chance.randbytes(20), chance.choice((None, b"x")), chance.random() < 0.5)
        if chance.random() < 0.7:
            at = chance.choice((40, *range(max(48, len(data) - 90), len(data) - 8, 4)))
            width = chance.choice((4, 8))
            data = data[:at] + whole(chance, width) + data[at + width :]
        else:
            data = chance.choice((tear(data, chance), b"clap" + whole(chance, 4, ">") + b"org.example", b""))
        parts.append(Part(f"{name}.vstpreset".encode(), data))
    devices = "".join(plugin(f"{chance.choice('aabc')}.vstpreset") for _ in range(3))
    project = document(track("Part", f"<Devices>{devices}</Devices>"))
    parts.append(Part(b"project.xml", project.encode() if isinstance(project, str) else project))
    return _given(folder / "fuzz.dawproject", archive(*parts) if chance.random() < 0.9 else dishonest(parts, chance))


@cache
def _approved() -> str:
    return approval_text(
        Approval(
            mix=4, by="RM", on="2026-03-14", standard="pre-bounce", session=seed_session(), contents={"a": "sha256:1"}
        )
    )


def _approval(chance: Random, folder: Path) -> Given:
    """An approval, mostly sealed anew so that the damage is reached."""
    path = folder / "fuzz.approved.json"
    if chance.random() < 0.2:
        path.write_bytes(damage_json(_approved(), chance))
    else:
        body = damage_values(json.loads(_approved()), chance)
        body.pop("seal", None)
        try:
            try:
                body["seal"] = _seal(body)
            except ValueError:  # a number that JSON does not have
                body["seal"] = ""
            path.write_text(json.dumps(body), encoding="utf-8")
        except RecursionError:  # values lie in one another deeper than the library writes them
            path.write_bytes(tear(_approved().encode(), chance))
    return Given(path, lambda: _compared(path), reviewed=False)


def _compared(path: Path) -> Session:
    found = read_approval(path)
    again = path.with_name("again.json")
    again.write_text(approval_text(found), encoding="utf-8")
    assert read_approval(again).session == found.session
    compare(found.session, seed_session())
    return found.session


FORMS: Final[dict[str, Form]] = {
    "dawproject": Form(20, _packed),
    "xml": Form(20, _xml),
    "zip": Form(15, _zip),
    "json": Form(20, _json),
    "list": Form(12, _text_list),
    "workbook": Form(10, _workbook),
    "aaf": Form(2, _aaf),
    "stems": Form(25, _stems),
    "adm": Form(15, _adm),
    "states": Form(15, _states),
    "approval": Form(15, _approval),
}
"""By name; the dearer a form is to read, the rarer it comes."""


def chosen_form(seed: int) -> str:
    """The form of a seed where none is asked for."""
    names = list(FORMS)
    return Random(f"form {seed}").choices(names, [FORMS[name].weight for name in names])[0]


def made(form: str, seed: int, folder: Path) -> Given:
    """The damaged file of a seed, in a folder that is emptied for it."""
    for one in folder.iterdir():
        if one.is_dir():
            shutil.rmtree(one)
        else:
            one.unlink()
    return FORMS[form].make(Random(f"{form} {seed}"), folder)
