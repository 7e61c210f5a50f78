"""The sounds of examples are what their recipes say: held against numpy and scipy, not against what made them."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest
import soundfile
from pydantic import ValidationError
from scipy import signal

from mixlint.media.made_sounds import write_sounds
from mixlint.media.recipe import Recipe, Step

RATE = 48_000


def made(folder: Path, **recipe: Any) -> np.ndarray:
    """The samples (n, legs) of one recipe, read back from the file."""
    write_sounds({"a.wav": Recipe.model_validate({"seconds": 2.0, "stored": "float", **recipe})}, folder)
    return soundfile.read(folder / "a.wav", always_2d=True)[0]


def db(value: float) -> float:
    return float(20.0 * np.log10(value))


def rms(samples: np.ndarray) -> float:
    return float(np.sqrt((samples**2).mean()))


@pytest.mark.parametrize("plays", ["tone", "pluck", "voice", "kit", "hall", "metronome", "noise"])
def test_a_sound_peaks_where_it_says_and_is_the_same_each_time(tmp_path: Path, plays: str) -> None:
    one, again = made(tmp_path, plays=plays), made(tmp_path, plays=plays)
    assert db(np.abs(one).max()) == pytest.approx(-12.0, abs=0.01)
    assert np.array_equal(one, again)
    assert one.shape == (2 * RATE, 1)


@pytest.mark.parametrize("plays", ["pluck", "voice", "kit", "hall", "noise"])
def test_another_take_is_another_performance(tmp_path: Path, plays: str) -> None:
    one, other = made(tmp_path, plays=plays)[:, 0], made(tmp_path, plays=plays, take=2)[:, 0]
    assert np.abs(signal.correlate(one, other, method="fft")).max() < 0.5 * np.sqrt((one**2).sum() * (other**2).sum())


@pytest.mark.parametrize(
    ("step", "expected"),
    [
        ({"gain_db": -6.0}, lambda x: x * 10.0**-0.3),
        ({"invert": "both"}, lambda x: -x),
        ({"clip_dbfs": -18.0}, lambda x: np.clip(x, -(10.0**-0.9), 10.0**-0.9)),
        ({"offset": 0.01}, lambda x: x + 0.01),
        ({"delay_ms": 10.0}, lambda x: np.concatenate([np.zeros((480, 1)), x[:-480]])),
        ({"delay_ms": -10.0}, lambda x: np.concatenate([x[480:], np.zeros((480, 1))])),
        ({"silence_s": [0.5, 0.6]}, lambda x: np.concatenate([x[:24000], np.zeros((4800, 1)), x[28800:]])),
        ({"reverse_s": [0.5, 2.0]}, lambda x: np.concatenate([x[:24000], -x[24000:]])),
        ({"hold_s": [0.5, 0.6]}, lambda x: np.concatenate([x[:24000], np.full((4800, 1), x[24000, 0]), x[28800:]])),
        ({"lead_s": 1.0}, lambda x: np.concatenate([np.zeros((RATE, 1)), x])),
        ({"lead_s": -1.0}, lambda x: x[RATE:]),
        ({"seconds": 1.0}, lambda x: x[:RATE]),
        ({"bits": 8}, lambda x: np.round(x * 128.0) / 128.0),
        ({"drop": "right"}, lambda x: np.hstack([x, 0.0 * x])),
        ({"right_db": -20.0}, lambda x: np.hstack([x, 0.1 * x])),
        ({"invert": "right"}, lambda x: np.hstack([x, -x])),
    ],
)  # fmt: skip
def test_a_step_does_what_it_says(tmp_path: Path, step: dict[str, Any], expected: Any) -> None:
    """To single precision, in which the file is stored."""
    plain = made(tmp_path, plays="voice")
    assert made(tmp_path, plays="voice", then=[step]) == pytest.approx(expected(plain), abs=2e-7)


def test_filters_leave_what_they_should(tmp_path: Path) -> None:
    """By the third octave: nothing is lost an octave inside the cut, 40 dB an octave outside."""
    plain = made(tmp_path, plays="noise")[:, 0]
    for step, kept_hz, lost_hz in (("low_cut_hz", 2000.0, 500.0), ("high_cut_hz", 500.0, 2000.0)):
        cut = made(tmp_path, plays="noise", then=[{step: 1000.0}])[:, 0]
        for hz, low, high in ((kept_hz, -0.2, 0.2), (lost_hz, -200.0, -40.0)):
            band = signal.butter(4, [hz / 1.12, hz * 1.12], "band", fs=RATE, output="sos")
            change = db(rms(signal.sosfilt(band, cut)) / rms(signal.sosfilt(band, plain)))
            assert low <= change <= high


def test_hiss_hum_and_room(tmp_path: Path) -> None:
    """RMS levels as given; a room's tail falls by 60 dB in its decay (ISO 3382-1, by backward integration)."""
    assert db(rms(made(tmp_path, plays="silence", then=[{"hiss_dbfs": -50.0}]))) == pytest.approx(-50.0, abs=0.2)
    assert db(rms(made(tmp_path, plays="silence", then=[{"hum_dbfs": -40.0}]))) == pytest.approx(-40.0, abs=0.2)
    steps = [{"click": {"at_s": 0.1, "size": 1.0}}, {"room": {"decay_s": 1.0, "predelay_ms": 20.0}}]
    tail = made(tmp_path, plays="silence", then=steps)
    assert tail.shape[1] == 2
    begin = int(np.argmax(np.abs(tail[:, 0]) > 1e-6))
    assert begin == pytest.approx(0.12 * RATE, abs=2)
    left = np.cumsum(tail[::-1, 0] ** 2)[::-1]
    fall = 10.0 * np.log10(left[begin:] / left[begin])
    five, twenty_five = (int(np.argmax(fall <= level)) for level in (-5.0, -25.0))
    assert 3.0 * (twenty_five - five) / RATE == pytest.approx(1.0, rel=0.06)


def test_a_sum_lays_its_parts_through_gain_pan_and_time(tmp_path: Path) -> None:
    """By the equal-power law: cos and sin of the angle, both 1/√2 in the centre."""
    recipes = {
        "a.wav": Recipe(plays="kit", seconds=1.0, stored="float"),
        "b.wav": Recipe(plays="voice", seconds=1.0, stored="float"),
        "mix.wav": Recipe.model_validate(
            {
                "sum": [
                    {"sound": "a.wav", "pan": -100, "gain_db": -6.0},
                    {"sound": "b.wav", "pan": 0, "delay_ms": 5.0},
                ],
                "stored": "float",
            }
        ),
    }
    write_sounds(recipes, tmp_path)
    a, b, mix = (soundfile.read(tmp_path / name)[0] for name in recipes)
    late = np.concatenate([np.zeros(240), b[:-240]])
    expected = np.stack([10.0**-0.3 * a + late / np.sqrt(2.0), late / np.sqrt(2.0)], axis=1)
    assert mix == pytest.approx(expected, abs=3e-7)


@pytest.mark.parametrize(
    "recipe",
    [
        {}, {"plays": "tone", "sum": [{"sound": "a.wav"}]}, {"plays": "tone", "then": [{"gain_db": 1.0, "bits": 8}]},
        {"plays": "tone", "then": [{}]}, {"plays": "harp"}, {"plays": "tone", "seconds": 1e6},
    ],
)  # fmt: skip
def test_what_is_no_recipe_is_refused(recipe: dict[str, Any]) -> None:
    with pytest.raises(ValidationError):
        Recipe.model_validate(recipe)


def test_left_and_right_change_places(tmp_path: Path) -> None:
    leans = {"plays": "tone", "seconds": 0.5, "legs": 2}
    as_it_was = made(tmp_path, then=[{"right_db": -9.0}], **leans)
    swapped = made(tmp_path, then=[{"right_db": -9.0}, {"swap": True}], **leans)
    assert np.array_equal(swapped, as_it_was[:, ::-1])


def test_every_step_is_tried_or_heard_in_a_rule() -> None:
    """A step that nothing uses would be a word without meaning."""
    from mixlint.resources import folder

    rules = " ".join(path.read_text(encoding="utf-8") for path in folder("rules").glob("*/*.toml"))
    here = Path(__file__).read_text(encoding="utf-8")
    assert [word for word in Step.model_fields if f'"{word}"' not in here and f"{word} =" not in rules] == []
