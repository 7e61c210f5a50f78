"""Damage sessions at random: whatever comes in, a session or a refusal comes out, and a session keeps its native form.

``python -m tests.importers.fuzz --runs 100000`` runs until the count is reached or a fault is found; ``--seed`` makes a
run repeat. A fault is printed with its seed.
"""

from __future__ import annotations

import argparse
import random
import sys
import tempfile
import time
import traceback
from collections import Counter
from pathlib import Path

from mixlint import importers
from mixlint.errors import MixlintError
from mixlint.importers.native import parse
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
from tests.importers.hostile import Part, archive

SLOW_S = 5.0
_WORDS = (
    b"", b"nan", b"inf", b"-inf", b"null", b"1e308", b"-1e308", b"1e-320", b"0", b"-1", b"0.5", b"2", b"1e12", b"true",
    b"false",
    b"beats", b"seconds", b"linear", b"decibel", b"normalized", b"percent", b"semitones", b"m", b"t0", b"t:t0",
    b"r0", b"master", b"effect", b"submix", b"vca", b"hold", b"pre", b"../../x.wav", b"C:\\x.wav", b"a\\b.wav",
    b"highPass", b"tracks", b"99999999999999999999", b"\xef\xbf\xbd", b"&#0;", b"&amp;", b"gain",
)  # fmt: skip
_LINES = (
    b"<Clips>", b"</Clips>", b"<Clip/>", b'<Clip time="0" duration="4" reference="clips:t0"/>', b"<Lanes>", b"</Lanes>",
    b'<Points><Target parameter="t0:fader"/><RealPoint time="0" value="1"/></Points>', b"<Track>", b"</Track>",
    b'<Channel role="master"/>', b"<Send/>", b"<Warps><Audio/><Warp/><Warp time='1' contentTime='0'/></Warps>",
    b"<Compressor><Ratio unit='percent' value='75'/><Attack unit='seconds' value='inf'/></Compressor>",
    b"<Vst3Plugin><Parameters><RealParameter name='Mix' unit='percent' value='40'/></Parameters></Vst3Plugin>",
    b"<TempoAutomation><RealPoint time='2' value='0'/><RealPoint time='-2' value='90'/></TempoAutomation>",
    b"<!-- -->", b"<![CDATA[x]]>", b"<?x?>", b"<x><y/></x>",
)  # fmt: skip


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


def seeds() -> tuple[list[bytes], list[bytes]]:
    """Documents in every style, and native texts."""
    session = seed_session()
    return [Exporter(session, style).xml() for style in STYLES], [session.json_text().encode()]


def twist(data: bytes, chance: random.Random) -> bytes:
    """Change what a document says while it stays well-formed: values, and elements of one line."""
    lines = data.split(b"\n")
    for _ in range(chance.choice((1, 2, 4, 8, 16))):
        at = chance.randrange(1, len(lines))
        line = lines[at]
        if chance.random() < 0.7:
            quotes = [n for n, one in enumerate(line) if one == 34]
            if len(quotes) >= 2:
                pair = 2 * chance.randrange(len(quotes) // 2)
                word = chance.choice(_WORDS[:-6] + _WORDS[-1:])
                lines[at] = line[: quotes[pair] + 1] + word + line[quotes[pair + 1] :]
        elif line.rstrip().endswith(b"/>"):
            turn = chance.randrange(3)
            if turn == 0:
                del lines[at]
            elif turn == 1:
                lines.insert(at, chance.choice([one for one in _LINES if one.count(b"<") != 1 or one.endswith(b"/>")]))
            else:
                lines.insert(at, line)
        if len(lines) < 3:
            break
    return b"\n".join(lines)


def damage(data: bytes, chance: random.Random) -> bytes:
    """Damage bytes, words or lines, a few times."""
    if chance.random() < 0.6 and data.startswith((b"<?xml", b"{")):
        return twist(data, chance)
    text = bytearray(data)
    for _ in range(chance.choice((1, 1, 2, 4, 8))):
        if not text:
            break
        at = chance.randrange(len(text))
        kind = chance.randrange(9)
        if kind == 0:
            text[at] ^= 1 << chance.randrange(8)
        elif kind == 1:
            del text[at : at + chance.choice((1, 2, 16, 200))]
        elif kind == 2:
            text[at:at] = chance.randbytes(chance.choice((1, 4)))
        elif kind == 3 and chance.random() < 0.2:
            del text[at:]
        elif kind in (4, 5, 6):  # another word between quotes
            start = text.find(b'"', at)
            end = text.find(b'"', start + 1)
            if 0 <= start < end:
                text[start + 1 : end] = chance.choice(_WORDS)
        else:  # lines lost, doubled, swapped or put in
            lines = bytes(text).split(b"\n")
            one, other = chance.randrange(len(lines)), chance.randrange(len(lines))
            turn = chance.randrange(4)
            if turn == 0:
                del lines[one]
            elif turn == 1:
                lines.insert(other, lines[one])
            elif turn == 2:
                lines[one], lines[other] = lines[other], lines[one]
            else:
                lines.insert(one, chance.choice(_LINES))
            text = bytearray(b"\n".join(lines))
    return bytes(text)


def one_run(seed: int, documents: list[bytes], natives: list[bytes], folder: Path) -> tuple[Path, str]:
    """One damaged file, read; returns the file and what came of it.

    Raises:
        AssertionError: it took too long, or the session read does not survive its native form.
    """
    chance = random.Random(seed)
    kind = chance.randrange(4)
    if kind == 0:
        path, data = folder / "fuzz.json", damage(chance.choice(natives), chance)
    elif kind == 1:
        parts = (
            Part(b"metadata.xml", b"<MetaData><Title>x</Title></MetaData>"),
            Part(b"project.xml", chance.choice(documents)),
        )
        path, data = folder / "fuzz.dawproject", damage(archive(*parts), chance)
    elif kind == 2:
        path = folder / "fuzz.dawproject"
        data = archive(Part(b"project.xml", damage(chance.choice(documents), chance)))
    else:
        path, data = folder / "fuzz.xml", damage(chance.choice(documents), chance)
    path.write_bytes(data)
    start = time.perf_counter()
    try:
        session = importers.read(path)
    except MixlintError as refusal:
        # Figures that no check met would be a hole in the reader, even though they end in a plain refusal.
        if not refusal.what or "figures do not fit" in refusal.what:
            raise AssertionError(f"not met: {refusal}") from refusal
        return path, type(refusal).__name__
    finally:
        took = time.perf_counter() - start
    assert took < SLOW_S, f"took {took:.1f} s"
    assert parse(session.json_text(), "again") == session
    return path, "read"


def run(runs: int, first_seed: int, report: bool = False) -> Counter[str]:
    """Many runs; the first fault is raised with its seed in the message."""
    documents, natives = seeds()
    outcomes: Counter[str] = Counter()
    with tempfile.TemporaryDirectory() as folder:
        for seed in range(first_seed, first_seed + runs):
            try:
                _, outcome = one_run(seed, documents, natives, Path(folder))
            except Exception as fault:
                raise AssertionError(f"seed {seed}: {type(fault).__name__}: {fault}") from fault
            outcomes[outcome] += 1
            if report and (seed - first_seed + 1) % 10_000 == 0:
                print(f"{seed - first_seed + 1} runs: {dict(outcomes)}", flush=True)
    return outcomes


def main() -> None:
    """Run from the command line."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=100_000)
    parser.add_argument("--seed", type=int, default=0)
    given = parser.parse_args()
    try:
        outcomes = run(given.runs, given.seed, report=True)
    except AssertionError:
        traceback.print_exc()
        sys.exit(1)
    print(f"{given.runs} runs without a fault: {dict(outcomes)}")


if __name__ == "__main__":
    main()
