"""The routing engine and the facts of a large session against a bare XML pass over its own file, in one run.

``python -m tests.benchmarks.bench_facts`` makes sessions of 100 to 10,000 channels with ten sends to a channel and
prints what the engine takes per channel: loops, gains now and over time, ambience, paths, counterparts and the stereo
balance. Then it makes sessions of 40 channels with 50 to 800 comped clips each and prints what every fact of every
table takes per clip, sessions of six parts with 500 to 8,000 points on each of their lanes, per point, and sessions of
20 parts whose one processor lists 100 to 1,600 settings, per setting. The figures stay level where the work is linear.
For 2,000 channels with 500,000 automation
points it prints the ratio to ``lxml`` ``iterparse`` of a file of that size, for the engine and for every fact of every
table.
"""

from __future__ import annotations

import argparse
import io
import random
import tempfile
import time
from pathlib import Path

from lxml import etree

from mixlint.analysis.balance import imbalance
from mixlint.analysis.counterparts import counterparts
from mixlint.facts import TABLES, SessionContext
from mixlint.facts.source.ambience import ambience_of
from mixlint.routing.parallel import direct_paths
from mixlint.session import (
    Automation,
    Channel,
    Clip,
    Insert,
    Marker,
    MediaFile,
    Parameter,
    Send,
    Session,
    Tempo,
    Timeline,
)
from tests.benchmarks.bench_import import write_session

NAMES = ("Acoustic Gtr", "Electric Gtr", "Lead Vocal", "Backing Vox", "Bass", "Kick", "Snare", "Piano", "Violin", "Pad")


def large(channels: int, sends: int = 10, points: int = 0) -> Session:
    """A session of ``channels`` strips: four fifths tracks, the rest returns, with ``sends`` each; no loops."""
    rng = random.Random(1)
    tracks = int(channels * 0.8)
    returns = [f"c{k}" for k in range(tracks, channels - 1)]
    lane = tuple(i * 240.0 / max(points, 1) for i in range(points))
    found = []
    for k in range(tracks):
        ride = Automation(
            target="fader",
            scale="amplitude",
            shape="linear",
            t=lane,
            v=tuple(0.3 + 0.4 * ((i * 7919) % 97) / 97 for i in range(points)),
        )
        found.append(
            Channel(
                id=f"c{k}",
                name=f"{NAMES[k % len(NAMES)]} {k // len(NAMES) + 1}",
                kind="track",
                legs=1,
                pan=rng.choice([0.0, -50.0, 50.0, rng.uniform(-100, 100)]),
                fader_db=rng.uniform(-20, 0),
                output="m",
                clips=tuple(Clip(start_s=20.0 * n, end_s=20.0 * n + 15.0) for n in range(rng.randint(1, 12))),
                sends=tuple(Send(to=rng.choice(returns), level_db=rng.uniform(-30, 0)) for _ in range(sends)),
                automation=(ride,) if points else (),
            )
        )
    for k in range(tracks, channels - 1):
        later = [f"c{j}" for j in range(k + 1, min(k + 40, channels - 1))]
        found.append(
            Channel(
                id=f"c{k}",
                name=f"Plate {k}",
                kind="return",
                legs=2,
                output="m",
                sends=tuple(Send(to=rng.choice(later), level_db=-12.0) for _ in range(3 if later else 0)),
                inserts=(Insert(name="Plate", kind="reverb", wet=100.0),),
            )
        )
    found.append(Channel(id="m", name="Mix Bus", kind="master", output=None, legs=2))
    return Session(title="Large", timeline=Timeline(tempos=(Tempo(bpm=120.0),)), channels=tuple(found))


def comped(clips: int, channels: int = 40) -> Session:
    """A band of ``channels`` microphones whose ``clips`` takes were comped at the same times, every other one short."""
    rng = random.Random(2)
    found, media = [], []
    for k in range(channels):
        media += [MediaFile(id=f"f{k}-{n}", path=f"take {k} {n}.wav", duration_s=2.0 * clips + 60.0) for n in range(3)]
        comp = tuple(
            Clip(
                start_s=2.0 * n,
                end_s=2.0 * n + (2.0 if rng.random() < 0.5 else 1.6),
                file=f"f{k}-{n % 3}",
                offset_s=2.0 * n,
                fade_in_s=0.005,
                fade_out_s=0.005,
                gain_db=float(rng.randint(-2, 2)),
            )
            for n in range(clips)
        )
        name = f"{NAMES[k % len(NAMES)]} {k // len(NAMES) + 1}"
        found.append(Channel(id=f"c{k}", name=name, kind="track", legs=1, output="m", clips=comp))
    found.append(Channel(id="m", name="Mix Bus", kind="master", output=None, legs=2))
    timeline = Timeline(tempos=(Tempo(bpm=120.0),))
    return Session(title="Comped", timeline=timeline, channels=tuple(found), media=tuple(media))


def ridden(points: int) -> Session:
    """Three pairs whose faders, mutes and sends are ridden by lanes of ``points`` points, alike but for a few."""
    found = []
    for k, name in enumerate(("OH L", "OH R", "Violin 1", "Violin 2", "Piano High", "Piano Low")):
        count = points - 9 if k == 5 else points
        times = tuple(200.0 * n / points for n in range(count))
        odd = points // 2 if k % 2 else -1
        thrown = tuple(-80.0 if n % 5 == 0 else -20.0 for n in range(count))
        ride = tuple(-6.0 + (n % 7) * 0.5 + (3.0 if n == odd else 0.0) for n in range(count))
        lanes = (
            Automation(target="fader", scale="dB", shape="linear", t=times, v=ride),
            Automation(target="mute", scale="switch", t=times, v=tuple(float(n % 2) for n in range(count))),
            Automation(target="send:0:level", scale="dB", t=times, v=thrown),
        )
        found.append(
            Channel(
                id=f"c{k}",
                name=name,
                kind="track",
                pan=-60.0 + 24.0 * k,
                output="m",
                clips=(Clip(start_s=0.0, end_s=220.0),),
                sends=(Send(to="hall", level_db=-20.0),),
                automation=lanes,
            )
        )
    hall = Channel(
        id="hall", name="Hall", kind="return", legs=2, output="m", inserts=(Insert(name="Hall", kind="reverb"),)
    )
    bus = Channel(id="m", name="Mix Bus", kind="master", output=None, legs=2)
    markers = tuple(Marker(time_s=20.0 * n, name=f"Verse {n + 1}") for n in range(10))
    timeline = Timeline(tempos=(Tempo(bpm=120.0),))
    return Session(title="Ridden", timeline=timeline, channels=(*found, hall, bus), markers=markers)


def listed(settings: int, channels: int = 20) -> Session:
    """Backing voices with one processor each that lists ``settings`` settings, the same but for one of one voice."""
    found = []
    for k in range(channels):
        shown = tuple(
            Parameter(id=f"p{n}", name=f"Control {n}", value=float(n + (k == 3 and n == 5)), unit="dB")
            for n in range(settings)
        )
        chain = (Insert(name="Voice Chain", kind="equalizer", parameters=shown),)
        clips = (Clip(start_s=0.0, end_s=20.0),)
        found.append(Channel(id=f"c{k}", name=f"BV {k + 1}", kind="track", output="m", clips=clips, inserts=chain))
    found.append(Channel(id="m", name="Mix Bus", kind="master", output=None, legs=2))
    return Session(title="Listed", timeline=Timeline(tempos=(Tempo(bpm=120.0),)), channels=tuple(found))


def seconds_for_engine(session: Session) -> float:
    """Seconds for loops, gains now and over the song, ambience, paths, counterparts and balance of every part."""
    start = time.perf_counter()
    context = SessionContext(session)
    assert not context.routing.loops
    assert context.gains_now.direct
    imbalance(context)
    counterparts(context)
    direct_paths(context.routing)
    for channel in session.channels:
        ambience_of(context, channel)
    return time.perf_counter() - start


def seconds_for_all_facts(session: Session) -> tuple[float, int]:
    """Seconds for the routing and every fact of every table, and how many answers that were."""
    start = time.perf_counter()
    context = SessionContext(session)
    answers = 0
    for table in TABLES.values():
        for row in table.rows(context):
            for fact in table.facts:
                row.value(fact)
                answers += 1
    return time.perf_counter() - start, answers


def seconds_for_iterparse(xml: bytes) -> float:
    """Seconds of a bare ``iterparse`` that clears each element and reads its attributes."""
    start = time.perf_counter()
    for _, element in etree.iterparse(io.BytesIO(xml), resolve_entities=False, no_network=True, load_dtd=False):
        dict(element.attrib)
        element.clear()
        while element.getprevious() is not None:
            del element.getparent()[0]
    return time.perf_counter() - start


def main() -> None:
    """Print the table and the ratios."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--most", type=int, default=10_000, help="channels of the largest session")
    options = parser.parse_args()
    seconds_for_engine(large(100))  # imports and first calls
    print("channels   engine s   ms per channel")
    for channels in (100, 300, 1_000, 3_000, 10_000):
        if channels <= options.most:
            session = large(channels)
            taken = min(seconds_for_engine(session) for _ in range(3))
            print(f"{channels:8d} {taken:10.2f} {1000 * taken / channels:16.2f}")
    print("clips/channel   all facts s   ms per clip")
    for clips in (50, 100, 200, 400, 800):
        taken, _ = seconds_for_all_facts(comped(clips))
        print(f"{clips:8d} {taken:18.2f} {1000 * taken / (40 * clips):13.2f}")
    print("points/lane   all facts s   ms per point")
    for points in (500, 1_000, 2_000, 4_000, 8_000):
        taken, _ = seconds_for_all_facts(ridden(points))
        print(f"{points:8d} {taken:16.2f} {1000 * taken / (18 * points):14.3f}")
    print("settings   all facts s   ms per setting")
    for settings in (100, 400, 1_600):
        taken, _ = seconds_for_all_facts(listed(settings))
        print(f"{settings:8d} {taken:13.2f} {1000 * taken / (20 * settings):15.3f}")
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "project.xml"
        write_session(path, 2_000, 500_000)
        xml = path.read_bytes()
    session = large(2_000, points=250)
    pairs = [(seconds_for_iterparse(xml), seconds_for_engine(session)) for _ in range(3)]
    reading, engine = (min(column) for column in zip(*pairs, strict=True))
    facts, answers = seconds_for_all_facts(session)
    print(f"2,000 channels, 500,000 points: bare iterparse {reading:.2f} s")
    print(f"engine    {engine:6.2f} s, ratio {engine / reading:.2f}")
    print(f"all facts {facts:6.2f} s, ratio {facts / reading:.2f}, {answers} answers")


if __name__ == "__main__":
    main()
