"""Changes for good, on courses of levels whose steps are known. Common practice, no source: the steps are planted."""

from __future__ import annotations

import numpy as np
import pytest

from mixlint.signal.level_steps import floor_step, is_dead, step_beside

BANDS, PLACES = 10, 240


def music(seed: int, level: float = -30.0) -> np.ndarray:
    """Notes of half a second with rests between, dB, no two alike, darker to the top."""
    random = np.random.default_rng(seed)
    on = np.arange(PLACES) % 8 < 5
    notes = level + random.uniform(-8.0, 4.0, (BANDS, PLACES)) - 3.0 * np.arange(BANDS)[:, None]
    return np.where(on, notes, -140.0)


def noise(seed: int, level: float = -85.0) -> np.ndarray:
    """The even noise of a chain, as a tenth of a second shows it: within a decibel."""
    return (
        level + 3.0 * np.arange(BANDS)[:, None] - 27.0 + np.random.default_rng(seed).normal(0.0, 0.4, (BANDS, PLACES))
    )


def together(*levels: np.ndarray) -> np.ndarray:
    return 10.0 * np.log10(np.sum([10.0 ** (one / 10.0) for one in levels], axis=0))


@pytest.mark.parametrize(("at", "by"), [(90, -9.0), (130, 8.0), (150, -14.0)])
def test_a_gain_that_steps_is_placed_and_measured(at: int, by: float) -> None:
    course = together(music(1), noise(2))
    course[:, at:] += by
    found = floor_step(course, 30, 4.0)
    assert found is not None
    assert not found.dead
    assert abs(found.at - at) <= 6  # to the next rest, in which the noise is seen
    assert float(np.median(found.by_db)) == pytest.approx(by, abs=1.0)


def test_a_musician_who_plays_softer_changes_no_noise() -> None:
    soft = music(3)
    soft[:, 120:] -= 10.0
    assert floor_step(together(soft, noise(4)), 30, 4.0) is None


def test_a_part_that_ends_or_begins_changes_nothing() -> None:
    ends, begins = music(5), music(6)
    ends[:, 120:] = -140.0
    begins[:, :120] = -140.0
    assert floor_step(together(ends, noise(7)), 30, 4.0) is None
    assert floor_step(together(begins, noise(8)), 30, 4.0) is None


def test_a_microphone_that_dies_leaves_less_noise() -> None:
    course = together(music(9), noise(10))
    course[:, 140:] = noise(11, -92.0)[:, 140:]
    found = floor_step(course, 30, 4.0)
    assert found is not None
    assert found.dead
    assert abs(found.at - 140) <= 6


def test_even_noise_is_dead_and_music_is_not() -> None:
    assert is_dead(noise(12)[5])
    assert not is_dead(together(music(13), noise(14)).max(axis=0))


def test_one_of_two_microphones_that_steps() -> None:
    one, other = music(15), music(15, -36.0)
    one[:, 100:] -= 8.0
    found = step_beside(one, other, 30, 4.0)
    assert found is not None
    assert abs(found.at - 100) <= 3
    assert float(np.nanmedian(found.by_db)) == pytest.approx(-8.0, abs=0.5)


def test_two_microphones_that_hear_one_crescendo() -> None:
    one, other = music(16), music(16, -36.0)
    for course in (one, other):
        course[:, 100:] += 8.0
    assert step_beside(one, other, 30, 4.0) is None


def test_a_fellow_that_changes_itself_tells_nothing() -> None:
    one, other = music(17), music(17, -36.0)
    other[:, 100:] -= 8.0
    assert step_beside(one, other, 30, 4.0) is None


def test_another_instrument_in_a_few_octaves_tells_nothing() -> None:
    one, other = music(18), music(18, -36.0)
    one[7:, 100:] -= 15.0
    assert step_beside(one, other, 30, 4.0) is None
