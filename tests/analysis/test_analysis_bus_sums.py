"""Parts added up at a bus, against a sum of the whole song in numpy and filters of scipy."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from scipy import signal as oracle

from mixlint.analysis.bus_sums import bus_sum
from mixlint.session import (
    Automation,
    Channel,
    Clip,
    Equalizer,
    EqualizerBand,
    Insert,
    Send,
    Target,
    Unknown,
)
from mixlint.signal import biquad, synthesis
from tests.facts.audio_sessions import RATE, audio_context, write

SECONDS = 4.0


def clip(file: str, **more: object) -> Clip:
    return Clip(**{"start_s": 0.0, "end_s": SECONDS, "file": file, **more})


def track(name: str, **more: object) -> Channel:
    return Channel(
        **{"id": name, "name": name, "kind": "track", "output": "mix", "clips": (clip(f"{name}.wav"),), **more}
    )


def mix(**more: object) -> Channel:
    return Channel(id="mix", name="Mix", kind="master", output=None, **more)


def panned(samples: np.ndarray, pan: float) -> np.ndarray:
    """Both sides (2, n) by the equal-power law, −3.01 dB in the centre."""
    angle = (pan + 100.0) / 200.0 * np.pi / 2.0
    return np.array([np.cos(angle), np.sin(angle)])[:, None] * samples


def db(amplitude: float) -> float:
    return float(20 * np.log10(amplitude))


@pytest.fixture(scope="module")
def sounds() -> dict[str, np.ndarray]:
    return {
        "Kit": 0.8 * synthesis.kit(1, SECONDS, RATE),
        "Bass": 0.5 * synthesis.pluck(55.0, 2, SECONDS, RATE),
        "Vox": 0.6 * synthesis.voice(220.0, 3, SECONDS, RATE),
        "Keys": np.stack([0.5 * synthesis.pluck(262.0, seed, SECONDS, RATE) for seed in (4, 5)]),
    }


@pytest.mark.slow
def test_a_mix_is_the_sum_of_its_parts(tmp_path: Path, sounds: dict[str, np.ndarray]) -> None:
    """Pans, faders, clip gains, offsets, fades, a group, a ride, and an equalizer against scipy.signal.sosfilt."""
    media = [write(tmp_path, f"{name}.wav", samples.T) for name, samples in sounds.items()]
    band = EqualizerBand(kind="bell", freq_hz=200.0, gain_db=6.0, q=1.0)
    shaped = Insert(name="EQ", kind="equalizer", opaque=False, equalizer=Equalizer(bands=(band,)))
    ride = Automation(target=Target.parse("fader"), t=(0.0, SECONDS), v=(-12.0, -4.0), scale="dB", shape="linear")
    at = audio_context(
        tmp_path,
        media,
        track("Kit", fader_db=-3.0),
        track("Bass", pan=-30.0, inserts=(shaped,)),
        track("Vox", automation=(ride,), output="voices"),
        track(
            "Keys",
            pan=50.0,
            clips=(clip("Keys.wav", start_s=1.0, offset_s=0.5, end_s=3.5, gain_db=4.0, fade_in_s=1.0),),
        ),
        Channel(id="voices", name="Voices", kind="group", output="mix", fader_db=2.0),
        mix(fader_db=1.0),
        sample_rate_hz=float(RATE),
    )
    n = round(SECONDS * RATE)
    t = np.arange(n) / RATE
    total = panned(sounds["Kit"] * 10 ** (-3 / 20), 0.0)
    total += panned(oracle.sosfilt(biquad.bell(200.0, 6.0, 1.0, RATE), sounds["Bass"]), -30.0)
    total += panned(sounds["Vox"] * 10 ** ((-12.0 + 2.0 * t + 2.0) / 20), 0.0)
    keys = np.zeros((2, n))
    keys[:, RATE : 7 * RATE // 2] = sounds["Keys"][:, RATE // 2 : 3 * RATE]
    keys *= 10 ** (4 / 20) * np.clip(t - 1.0, 0.0, 1.0)
    total += keys * np.array([0.5, 1.0])[:, None]
    total *= 10 ** (1 / 20)
    found = bus_sum(at, at.channels["mix"])
    assert not isinstance(found, Unknown)
    assert found.dbfs == pytest.approx(db(np.abs(total).max()), abs=0.01)
    side, sample = np.unravel_index(np.abs(total).argmax(), total.shape)
    assert (found.side, found.at_s) == (side, pytest.approx(sample / RATE, abs=1e-4))
    dense = oracle.resample(total, n * 4, axis=1)
    assert found.true_dbtp == pytest.approx(db(np.abs(dense).max()), abs=0.05)
    assert sum(share.percent for share in found.shares) == pytest.approx(100.0)
    group = bus_sum(at, at.channels["voices"])
    assert not isinstance(group, Unknown)
    assert group.dbfs == pytest.approx(
        db(np.abs(panned(sounds["Vox"] * 10 ** ((-12.0 + 2.0 * t + 2.0) / 20), 0.0)).max()), abs=0.01
    )


def test_a_parallel_way_adds_and_an_unknown_processor_leaves_it_open(
    tmp_path: Path, sounds: dict[str, np.ndarray]
) -> None:
    media = [write(tmp_path, "Vox.wav", sounds["Vox"])]
    parts = (
        track("Vox", sends=(Send(to="also", level_db=-6.0),)),
        Channel(id="also", name="Also", kind="group", output="mix"),
        mix(),
    )
    at = audio_context(tmp_path, media, *parts)
    found = bus_sum(at, at.channels["mix"])
    assert not isinstance(found, Unknown)
    alone = np.abs(sounds["Vox"]).max() * np.sqrt(0.5)
    assert found.dbfs == pytest.approx(db(alone * (1 + 10 ** (-6 / 20))), abs=0.01)
    hidden = parts[0].model_copy(update={"inserts": (Insert(name="Warm Thing", opaque=True),)})
    at = audio_context(tmp_path, media, hidden, *parts[1:])
    assert isinstance(bus_sum(at, at.channels["mix"]), Unknown)
    without = audio_context(tmp_path, [], *parts)
    assert isinstance(bus_sum(without, without.channels["mix"]), Unknown)


@pytest.mark.slow
def test_the_rest_is_settled_where_it_could_come_over_full_scale(tmp_path: Path) -> None:
    """Two bursts all through the song whose peaks never meet: bounds say +6 dBFS everywhere, the sum stays at 0.9."""
    one, other = np.zeros(20 * RATE), np.zeros(20 * RATE)
    one[:: RATE // 100] = 0.9
    other[RATE // 200 :: RATE // 100] = 0.9
    media = [write(tmp_path, "A.wav", one), write(tmp_path, "B.wav", other)]
    at = audio_context(tmp_path, media, track("A", fader_db=3.0), track("B", fader_db=3.0), mix())
    found = bus_sum(at, at.channels["mix"])
    assert not isinstance(found, Unknown)
    assert found.dbfs == pytest.approx(db(0.9 * np.sqrt(0.5) * 10 ** (3 / 20)), abs=0.01)
    assert found.rest_dbfs <= 0.0
