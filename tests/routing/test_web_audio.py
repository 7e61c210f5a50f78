"""Our gains against an independent Web Audio engine on generated routing graphs.

Source of the semantics: W3C Web Audio API, Recommendation of 17 June 2021 (GainNode, StereoPannerNode,
BiquadFilterNode, Channel Up-Mixing and Down-Mixing). The engine is the package ``web-audio-api`` (a Rust core).
"""

from __future__ import annotations

import random

import numpy as np
import pytest

from mixlint.routing import Laws, Routing
from mixlint.routing.trace import MOST_PATHS, trace
from mixlint.session import Channel, Equalizer, EqualizerBand, Insert, Send, Session
from tests.routing.web_audio import render

LAWS = Laws(mono="equal-power", stereo="stereo-panner")


def db(amplitude: float) -> float:
    return 20.0 * np.log10(max(amplitude, 1e-10))


def assert_agrees(routing: Routing, source: str, at_hz: float) -> None:
    """Each side within 0.01 dB, or both below −80 dB, where single-precision rendering ends."""
    ours = routing.gains(np.array([at_hz])).sides(source)[0, 0]
    theirs = render(routing, source, at_hz)
    for side in (0, 1):
        if max(ours[side], theirs[side]) > 1e-4:
            assert db(ours[side]) == pytest.approx(db(theirs[side]), abs=0.01)


def test_four_stages_by_hand():
    """Fader −6, pan 50 left, bus −3, post-fader send −12, return +2, mix bus −1, against engine and arithmetic."""
    session = Session(
        channels=(
            Channel(
                id="g",
                name="Guitar",
                kind="track",
                legs=1,
                fader_db=-6.0,
                pan=-50.0,
                output="b",
                sends=(Send(to="r", level_db=-12.0),),
            ),
            Channel(id="b", name="Bus", kind="group", fader_db=-3.0, output="m"),
            Channel(id="r", name="Return", kind="return", fader_db=2.0, output="m"),
            Channel(id="m", name="Mix Bus", kind="master", fader_db=-1.0, output=None),
        )
    )
    routing = Routing(session, laws=LAWS)
    assert_agrees(routing, "g", 1000.0)
    # W3C equal-power panning of a mono input at pan −0.5: cos(π/8) = 0.9239 left, sin(π/8) = 0.3827 right.
    both_ways = 10 ** (-3 / 20) + 10 ** (-12 / 20) * 10 ** (2 / 20)
    left = 10 ** (-6 / 20) * 0.92388 * both_ways * 10 ** (-1 / 20)
    assert routing.gains(np.array([1000.0])).sides("g")[0, 0, 0] == pytest.approx(left, rel=1e-5)


def a_pan(rng: random.Random) -> float:
    """A pan in sixty-fourths: this engine reads sines from a table, exact there and up to 0.05 dB off in between."""
    return rng.choice([0.0, -100.0, 100.0, rng.randint(-64, 64) / 64.0 * 100.0])


def generated(seed: int) -> Session:
    """A session of 3 to 12 strips with faders, pans, buses, pre and post sends, returns and filters, without loops."""
    rng = random.Random(seed)
    ranks = ["track"] * rng.randint(1, 4) + ["return"] * rng.randint(0, 3) + ["group"] * rng.randint(0, 3) + ["master"]
    channels = []
    for place, kind in enumerate(ranks):
        later = [f"c{k}" for k in range(place + 1, len(ranks))]
        sends = []
        for _ in range(rng.randint(0, 3) if later else 0):
            sends.append(
                Send(
                    to=rng.choice(later),
                    level_db=rng.choice([-200.0, rng.uniform(-30, 6)]),
                    pan=a_pan(rng),
                    tap=rng.choice(["pre", "post"]),
                    on=rng.random() > 0.15,
                )
            )
        channels.append(
            Channel(
                id=f"c{place}",
                name=f"C{place}",
                kind=kind,
                legs=rng.choice([1, 2]) if kind != "master" else 2,
                fader_db=rng.uniform(-20, 6),
                pan=a_pan(rng),
                mute=rng.random() < 0.1,
                output=rng.choice(later) if later else None,
                sends=tuple(sends),
                inserts=tuple(filter_insert(rng) for _ in range(rng.randint(0, 2))),
            )
        )
    return Session(channels=tuple(channels))


def filter_insert(rng: random.Random) -> Insert:
    kind = rng.choice(["high-pass", "low-pass", "bell", "low-shelf", "high-shelf", "notch"])
    band = EqualizerBand(
        kind=kind,
        freq_hz=rng.uniform(60, 8000),
        gain_db=rng.uniform(-9, 9),
        # The API fixes its shelves at slope S = 1, which is Q = 0.7071 here.
        q=0.7071067811865476 if kind.endswith("shelf") else rng.uniform(0.5, 3.0),
        slope_db_per_oct=12.0,
    )
    return Insert(
        name="Filter", kind="equalizer", opaque=False, on=rng.random() > 0.1, equalizer=Equalizer(bands=(band,))
    )


@pytest.mark.slow
@pytest.mark.parametrize("block", range(8))
def test_two_hundred_generated_graphs(block):
    """Twenty-five graphs a block; every strip's gain to the mix bus at one random frequency each."""
    for seed in range(block * 25, block * 25 + 25):
        routing = Routing(generated(seed), laws=LAWS)
        rng = random.Random(seed)
        source = rng.choice(routing.session.channels).id
        assert_agrees(routing, source, rng.choice([60.0, 250.0, 1000.0, 5000.0]))


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(40))
def test_the_arrivals_of_a_trace_add_up_to_the_gain(seed):
    """Without filters all direct ways are in step, so their amplitudes add up to the gain of the whole."""
    session = generated(seed)
    plain = session.model_copy(
        update={"channels": tuple(c.model_copy(update={"inserts": ()}) for c in session.channels)}
    )
    routing = Routing(plain, laws=LAWS)
    for channel in plain.channels:
        arrivals = trace(routing, channel.id).arrivals
        if len(arrivals) == MOST_PATHS:
            continue  # more ways than a trace shows
        whole = routing.gains(np.array([1000.0])).sides(channel.id)[0, 0]
        for side, name in enumerate(("left_db", "right_db")):
            parts = sum(10 ** (getattr(a, name) / 20) for a in arrivals)
            assert parts == pytest.approx(whole[side], abs=1e-4)
