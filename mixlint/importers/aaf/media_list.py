"""The files that an AAF refers to or holds, each once: what it says of them, and where they lie."""

from __future__ import annotations

import re
import struct
from fractions import Fraction
from typing import Any, Final, NamedTuple
from urllib.parse import unquote

from mixlint.importers.aaf.values import fraction, rate, text
from mixlint.media.compound import member_name
from mixlint.media.container import Container
from mixlint.media.places import Place, locate
from mixlint.media.zip_directory import clean_name, is_audio_name
from mixlint.session import MediaFile, Unknown

MOST_FOLDERS: Final = 200
"""How many folders beside the AAF are looked into for a file."""

_SCHEME: Final = re.compile(r"^[A-Za-z][A-Za-z0-9+.-]+://")
_WHOLE: Final = {b"RIFF": "wav", b"RF64": "wav", b"BW64": "wav", b"FORM": "aiff"}
"""How whole files begin (RIFF, ITU-R BS.2088, AIFF), and what they are then called."""


class _Said(NamedTuple):
    """What a descriptor says of a file."""

    legs: int | None
    rate_hz: Fraction | None
    duration_s: Fraction | None
    bits: int | None


class MediaList:
    """Collects files by the mob that describes them.

    Args:
        library: the module whose objects these are.
        content: what the AAF holds of mobs and essence.
        beside: the folder it lies in.
    """

    def __init__(self, library: Any, content: Any, beside: Container) -> None:
        self._essence_kinds = library.essence
        self._beside = beside
        self._folders: list[str] | None = None
        self._files: dict[str, MediaFile] = {}
        self._of_mob: dict[str, str] = {}
        self._of_origin: dict[str, str] = {}  # by what several mobs can have in common: the place, or the locator
        self._inside: dict[str, Any] = {}
        for one in content.getvalue("EssenceData") or ():
            self._inside.setdefault(str(one.getvalue("MobID")), one)
        self.assumed: dict[str, str] = {}

    def is_file(self, mob: Any) -> bool:
        """Whether a source mob stands for a file, and not for a tape or what a file was made from."""
        descriptor = mob.getvalue("EssenceDescription")
        return str(mob.getvalue("MobID")) in self._inside or isinstance(descriptor, self._essence_kinds.FileDescriptor)

    def add(self, mob: Any) -> MediaFile:
        """Enter the file that a source mob stands for."""
        key = str(mob.getvalue("MobID"))
        if key not in self._of_mob:
            file, origin = self._made(mob, key)
            if (known := self._of_origin.get(origin)) is None:
                known = file.id if file.id not in self._files else f"{file.id} ({len(self._files) + 1})"
                self._files[known] = file if known == file.id else file.model_copy(update={"id": known})
                self._of_origin[origin] = known
            self._of_mob[key] = known
        return self._files[self._of_mob[key]]

    def files(self) -> tuple[MediaFile, ...]:
        """All files in the order they were met."""
        return tuple(self._files.values())

    def _made(self, mob: Any, key: str) -> tuple[MediaFile, str]:
        """The file of a source mob, and what tells whether another mob stands for the same one."""
        descriptor = mob.getvalue("EssenceDescription")
        said = _said(descriptor)
        facts: dict[str, Any] = {}
        if said.legs is not None:
            facts["legs"] = said.legs
        if said.rate_hz is not None:
            facts["sample_rate_hz"] = float(said.rate_hz)
        if said.duration_s is not None:
            facts["duration_s"] = round(float(said.duration_s), 9)
        name = text(mob.getvalue("Name"))
        if key in self._inside:
            return self._embedded(self._inside[key], name or key[-12:], said, facts), key
        urls = [url for one in _locators(descriptor) if (url := text(one.getvalue("URLString")))]
        for url in urls:
            found = self._found(_parts(url))
            if found:
                return MediaFile(id=found, path=found, place="beside", present=True, **facts), found
        plain = next((parts[-1] for parts in map(_parts, urls) if parts), "")
        if not plain and is_audio_name(name):
            found = self._found([name])
            if found:
                self.assumed[found] = name
                return MediaFile(id=found, path=found, place="beside", present=True, **facts), found
        called = plain or name or key[-12:]
        return MediaFile(id=called, path=called, place="beside", present=False, **facts), (urls or [key])[0]

    def _embedded(self, essence: Any, name: str, said: _Said, facts: dict[str, Any]) -> MediaFile:
        """Sound inside the AAF: a whole file as it stands, or bare samples with what the descriptor says of them."""
        data = essence["Data"]
        stream = data.open("r")
        head, place = bytes(stream.read(12)), int(stream.dir.dir_id)
        whole = _WHOLE.get(head[:4])
        if whole is not None:
            path = member_name(place, _called(name, whole))
        elif said.rate_hz is not None and said.rate_hz.denominator == 1 and said.legs and said.bits in (16, 24, 32):
            path = member_name(place, _called(name, "wav"), (int(said.rate_hz), said.bits, said.legs))
        else:
            unknown = Unknown(
                unknown="it lies inside the AAF in a form that is not read",
                settle="export the AAF with its audio as WAV files",
            )
            return MediaFile(id=name, path="", place="inside", present=unknown, **facts)
        return MediaFile(id=_called(name, whole or "wav"), path=path, place="inside", present=True, **facts)

    def _found(self, parts: list[str]) -> str:
        """A file beside the AAF, relative to its folder: by as much of its path as fits, at least by its name."""
        for count in range(len(parts), 0, -1):
            clean = clean_name("/".join(parts[-count:]))
            if clean is not None and self._beside.has(clean):
                return clean
        name = clean_name(parts[-1]) if parts else None
        if name is None:
            return ""
        alike = locate(MediaFile(id=name, path=name), self._beside)
        if isinstance(alike, Place):
            return alike.member
        inside = [f"{folder}/{name}" for folder in self._listed() if self._beside.has(f"{folder}/{name}")]
        return inside[0] if len(inside) == 1 else ""

    def _listed(self) -> list[str]:
        """The folders that lie beside the AAF."""
        if self._folders is None:
            try:
                inner = sorted(one.name for one in self._beside.path.iterdir() if one.is_dir() and one.name[0] != ".")
            except OSError:
                inner = []
            self._folders = inner[:MOST_FOLDERS]
        return self._folders


def _parts(url: str) -> list[str]:
    """The folders and the name in a locator: a URL of a file, or a path of any system."""
    path = url
    scheme = _SCHEME.match(url)
    if scheme is not None:
        path = unquote(url[scheme.end() :])
    elif url.lower().startswith("file:"):
        path = unquote(url[5:])
    return [part for part in path.replace("\\", "/").split("/") if part not in ("", ".", "..")]


def _called(name: str, suffix: str) -> str:
    """What embedded sound is called: by the name of its mob, without what separates folders."""
    plain = re.sub(r"[/\\:]+", "-", name)
    return plain if is_audio_name(plain) else f"{plain}.{suffix}"


def _locators(descriptor: Any) -> list[Any]:
    return list(descriptor.getvalue("Locator") or ()) if descriptor is not None else []


def _said(descriptor: Any) -> _Said:
    if descriptor is None:
        return _Said(None, None, None, None)
    summary = descriptor.getvalue("Summary")
    legs, hertz, bits = _head(bytes(summary)) if summary is not None else (None, None, None)
    samples = rate(descriptor.getvalue("SampleRate"))
    hertz = rate(descriptor.getvalue("AudioSamplingRate")) or hertz
    if hertz is None and samples is not None and samples >= 1000:
        hertz = samples
    length = fraction(descriptor.getvalue("Length"))
    legs = _whole(descriptor.getvalue("Channels"), 1024) or legs
    return _Said(
        legs,
        hertz,
        length / samples if length is not None and length > 0 and samples is not None else None,
        _whole(descriptor.getvalue("QuantizationBits"), 64) or bits,
    )


def _whole(value: Any, most: int) -> int | None:
    return value if isinstance(value, int) and 1 <= value <= most else None


def _head(data: bytes) -> tuple[int | None, Fraction | None, int | None]:
    """Legs, rate and bits from the head of a wave or AIFF file that a descriptor repeats."""
    common = data.find(b"COMM", 0, 4096)
    if data[:4] == b"FORM" and common >= 0 and len(data) >= common + 26:
        legs, _, bits, exponent, mantissa = struct.unpack_from(">HIHHQ", data, common + 8)
        # An 80-bit float (IEEE 754 extended), as AIFF writes its rate.
        hertz = Fraction(mantissa) * Fraction(2) ** (max(-80, min(40, (exponent & 0x7FFF) - 16446)))
        return _whole(legs, 1024), hertz if 0 < hertz <= 10**12 else None, _whole(bits, 64)
    at = data.find(b"fmt ", 0, 4096)
    if data[:4] not in (b"RIFF", b"RF64", b"BW64") or at < 0 or len(data) < at + 24:
        return None, None, None
    legs, hertz, _, _, bits = struct.unpack_from("<HIIHH", data, at + 10)
    return _whole(legs, 1024), Fraction(hertz) if hertz else None, _whole(bits, 64)
