"""Write a session in an exporter's style with what its processors list, and its audio files beside it; read it back."""

from __future__ import annotations

import io
import struct
import zipfile
from pathlib import Path

from mixlint import importers
from mixlint.session import Channel, Insert, Session
from tests.importers.exporters import Element, Exporter, Style


class Written(Exporter):
    """The exporters' writer, with listed parameters, dynamics, a bare second pair of outputs, and audio members."""

    def archive(self) -> bytes:
        """The packed session with a short file for every member that is there."""
        packed = io.BytesIO()
        with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
            archive.writestr("metadata.xml", f"<MetaData><Title>{self.session.title}</Title></MetaData>")
            archive.writestr("project.xml", self.xml())
            for media in self.session.media:
                if media.place == "inside" and media.present is True:
                    archive.writestr(media.path, _wav())
        return packed.getvalue()

    def _strip(self, channel: Channel) -> Element:
        if _is_bare(channel):
            element = self._channel(channel, named=True)
            element.attrs["role"] = "master"  # a further pair of outputs: a bare channel that goes out by itself
            return element
        return super()._strip(channel)

    def _channel(self, channel: Channel, *, named: bool) -> Element:
        element = super()._channel(channel, named=named)
        target = self.by_id.get(channel.output) if isinstance(channel.output, str) else None
        if "destination" in element.attrs and target is not None and _is_bare(target):
            element.attrs["destination"] = target.id  # it has no track that could be named
        return element

    def _insert(self, channel: Channel, number: int, insert: Insert) -> Element:
        if insert.dynamics is not None:
            return self._dynamics(channel, number, insert)
        element = super()._insert(channel, number, insert)
        listed = next(child for child in element.children if child.tag == "Parameters")
        for one in insert.parameters:
            bounds = {"min": one.low, "max": one.high} if isinstance(one.low, float) else {}
            identity = f"{channel.id}:insert{number}:{one.id}"
            listed.add(
                Element(
                    "RealParameter", unit=one.unit, value=repr(one.value), name=one.name, parameterID=one.id,
                    id=identity, **bounds,
                )
            )  # fmt: skip
        return element

    def _dynamics(self, channel: Channel, number: int, insert: Insert) -> Element:
        tag = {"gate": "NoiseGate", "limiter": "Limiter"}.get(str(insert.kind), "Compressor")
        element = Element(
            tag, deviceName=insert.name, deviceRole="audioFX", loaded=str(insert.loaded is True).lower(), deviceID="d"
        )
        element.add(Element("Parameters"))
        element.add(Element("Enabled", value=str(insert.on is True).lower(), id=f"{channel.id}:insert{number}:on"))
        settings = insert.dynamics
        assert settings is not None

        def real(name: str, value: object, unit: str, factor: float = 1.0) -> None:
            if isinstance(value, float):
                element.add(Element(name, unit=unit, value=value * factor))

        real("Attack", settings.attack_ms, "seconds", 0.001)
        real("Range", settings.range_db, "decibel")
        if isinstance(settings.ratio, float):
            real("Ratio", 100.0 * (1.0 - 1.0 / settings.ratio), "percent")
        real("Release", settings.release_ms, "seconds", 0.001)
        real("Threshold", settings.threshold_db, "decibel")
        return element


def _is_bare(channel: Channel) -> bool:
    """True for a further pair of outputs, which stands in the file as a channel without a track."""
    return channel.output is None and channel.kind in ("group", "return")


def _wav() -> bytes:
    """A tenth of a second of silence: one leg, 16 bit, 48 kHz."""
    body = bytes(2 * 4800)
    head = struct.pack("<4sI4s4sIHHIIHH4sI", b"RIFF", 36 + len(body), b"WAVE", b"fmt ", 16, 1, 1, 48_000, 96_000, 2, 16,
                       b"data", len(body))  # fmt: skip
    return head + body


def through(session: Session, style: Style, folder: Path) -> Session:
    """The session as it comes back from a file in the style."""
    path = folder / "written.dawproject"
    path.write_bytes(Written(session, style).archive())
    return importers.read(path)
