"""What is damaged: a small desk that uses everything, and documents of it in every style."""

from __future__ import annotations

from functools import cache

from mixlint.session import (
    Automation,
    Channel,
    Clip,
    Equalizer,
    EqualizerBand,
    Insert,
    Marker,
    MediaFile,
    Meter,
    Send,
    Session,
    Tempo,
    Timeline,
)
from tests.importers.exporters import STYLES, Exporter
from tests.importers.list_sessions import DESK, LISTS


@cache
def seed_session() -> Session:
    """A small desk that uses everything."""
    clip = Clip(start_s=1.0, end_s=5.0, name="take", file="audio/a.wav", offset_s=0.5, fade_in_s=0.1, fade_out_s=0.1)
    band = EqualizerBand(kind="high-pass", freq_hz=120.0, q=0.7)
    inserts = (Insert(name="EQ", equalizer=Equalizer(bands=(band,)), opaque=False), Insert(name="Plate", device="{5C}"))
    lanes = (
        Automation(target="fader", scale="dB", shape="linear", t=(0.0, 2.0, 4.0), v=(0.0, -6.0, -200.0)),
        Automation(target="mute", scale="switch", t=(0.0, 2.0), v=(0.0, 1.0)),
    )
    track = Channel(
        id="t0", name="Part", kind="track", parent="g", plays=("audio",), fader_db=-3.0, pan=-40.0, output="g",
        sends=(Send(to="r0", level_db=-12.0, pan=10.0),), inserts=inserts, clips=(clip,), automation=lanes,
    )  # fmt: skip
    return Session(
        title="Seed",
        timeline=Timeline(
            tempos=(Tempo(bpm=100.0, ramp=True), Tempo(beat=8.0, bpm=120.0)), meters=(Meter(), Meter(beat=8.0, beats=3))
        ),
        markers=(Marker(time_s=2.0, name="Verse"),),
        channels=(
            Channel(id="g", name="Group", kind="group", output="m"),
            track,
            Channel(id="r0", name="Return", kind="return", output="m", inserts=inserts[1:]),
            Channel(id="v", name="All", kind="vca", output=None),
            Channel(id="m", name="Main", kind="master", output=None),
        ),
        media=(
            MediaFile(
                id="audio/a.wav", path="audio/a.wav", place="inside", legs=1, sample_rate_hz=48000.0, duration_s=9.0
            ),
        ),
    )  # fmt: skip


@cache
def projects() -> tuple[bytes, ...]:
    """Documents of the open interchange form in every style."""
    return tuple(Exporter(seed_session(), style).xml() for style in STYLES)


@cache
def lists() -> tuple[str, ...]:
    """Lists of channels, those of eight languages among them."""
    kept = [path for path in sorted(LISTS.iterdir()) if path.suffix in (".csv", ".tsv", ".txt")]
    return (DESK, *(path.read_bytes().decode("utf-8-sig") for path in kept if _is_utf8(path.read_bytes())))


def _is_utf8(data: bytes) -> bool:
    try:
        data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return False
    return True
