"""Stems in the print of their mix: faults that were planted, against what is told of them."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from mixlint.facts import SessionContext
from mixlint.importers import read
from mixlint.media import Library
from mixlint.session import Unknown
from mixlint.signal import synthesis
from tests.facts.audio_sessions import RATE, write
from tests.facts.small_sessions import ask, value

SECONDS = 2.0


def two(leg: np.ndarray, left: float = 1.0, right: float = 1.0) -> np.ndarray:
    return np.stack([left * leg, right * leg], axis=1)


def sounds() -> dict[str, np.ndarray]:
    """A kit, a voice and noise that rests at first, (n, 2) each; the sum stays under full scale."""
    noise = synthesis.noise(3, SECONDS, RATE)
    noise[: RATE // 2] = 0.0
    fade = np.ones(round(SECONDS * RATE))
    fade[-RATE // 4 :] = np.linspace(1.0, 0.0, RATE // 4)
    return {
        "Drums": two(synthesis.kit(1, SECONDS, RATE) * fade, 0.3, 0.2),
        "Vocal": two(synthesis.voice(220.0, 2, SECONDS, RATE) * fade, 0.3, 0.3),
        "Shaker": two(noise * fade, 0.02, 0.05),
    }


def context(folder: Path, stems: dict[str, np.ndarray], mix: np.ndarray | None, name: str = "Mix") -> SessionContext:
    for stem, samples in stems.items():
        write(folder, f"{stem}.wav", samples)
    if mix is not None:
        write(folder, f"{name}.wav", mix)
    session = read(folder)
    return SessionContext(session, None, Library(session, folder))


def mixed(parts: dict[str, np.ndarray]) -> np.ndarray:
    return np.asarray(sum(parts.values()))


def test_right_stems_leave_no_more_than_rounding(tmp_path):
    parts = sounds()
    at = context(tmp_path, parts, mixed(parts))
    assert value(at, "stems", tmp_path.name, "missing_db") < -100.0
    for name in parts:
        assert value(at, "stem", f"{name}.wav", "late_ms") == 0.0
        assert value(at, "stem", f"{name}.wav", "level_off_db") == pytest.approx(0.0, abs=0.01)


@pytest.mark.parametrize("lag", [1, -1, 240])
def test_a_late_stem_is_told_to_the_sample(tmp_path, lag):
    parts = sounds()
    at = context(tmp_path, {**parts, "Vocal": np.roll(parts["Vocal"], lag, axis=0)}, mixed(parts))
    assert value(at, "stem", "Vocal.wav", "late_ms") == pytest.approx(1000.0 * lag / RATE)
    assert value(at, "stem", "Drums.wav", "late_ms") == 0.0


def test_level_polarity_and_sides(tmp_path):
    parts = sounds()
    given = {"Drums": parts["Drums"] * 10 ** (-2 / 20), "Vocal": -parts["Vocal"], "Shaker": parts["Shaker"][:, ::-1]}
    at = context(tmp_path, given, mixed(parts))
    assert value(at, "stem", "Drums.wav", "level_off_db") == pytest.approx(-2.0, abs=0.01)
    assert value(at, "stem", "Vocal.wav", "polarity_kept") is False
    assert value(at, "stem", "Shaker.wav", "sides_kept") is False
    assert value(at, "stems", tmp_path.name, "missing_db") < -100.0


def test_what_is_missing_is_told_with_its_place_and_range(tmp_path):
    """Noise over 4 kHz from 0.5 s on, that no stem holds."""
    parts = sounds()
    spectrum = np.fft.rfft(parts["Shaker"], axis=0)
    spectrum[: round(4000 * SECONDS)] = 0.0
    parts["Shaker"] = np.fft.irfft(spectrum, axis=0)
    at = context(tmp_path, {one: parts[one] for one in ("Drums", "Vocal")}, mixed(parts))
    energy = (parts["Shaker"] ** 2).sum() / (mixed(parts) ** 2).sum()
    told = ask(at, "stems", tmp_path.name, "missing_db")
    assert told.value == pytest.approx(10.0 * np.log10(energy), abs=0.3)
    assert told.note.startswith("0:00.5 to 0:02.0")
    low, high = told.note.partition("from ")[2].removesuffix(" Hz").split(" to ")
    assert float(low.replace("\N{NO-BREAK SPACE}", "").replace(" ", "")) >= 4000.0
    assert float(high.replace(" ", "")) <= 24000.0


def test_a_print_is_known_by_its_sound(tmp_path):
    parts = sounds()
    at = context(tmp_path, parts, mixed(parts), name="Lantern 7")
    assert value(at, "stem", "Lantern 7.wav", "kind") == "mix"
    assert value(at, "stems", tmp_path.name, "count") == 3


def test_parts_alone_have_no_print_among_them(tmp_path):
    at = context(tmp_path, sounds(), None)
    assert {value(at, "stem", f"{name}.wav", "kind") for name in sounds()} == {"part"}
    assert isinstance(ask(at, "stems", tmp_path.name, "missing_db"), Unknown)


def test_a_stem_that_the_print_leaves_out(tmp_path):
    parts = sounds()
    at = context(tmp_path, parts, mixed({one: parts[one] for one in ("Drums", "Vocal")}))
    assert value(at, "stem", "Shaker.wav", "in_print") is False
    assert value(at, "stem", "Vocal.wav", "in_print") is True


def test_a_damaged_stem_leaves_the_others_judged(tmp_path):
    parts = sounds()
    mix = mixed(parts)
    context(tmp_path, parts, mix)
    (tmp_path / "Shaker.wav").write_bytes(b"RIFF nothing of the kind")
    session = read(tmp_path)
    at = SessionContext(session, None, Library(session, tmp_path))
    assert value(at, "stem", "Vocal.wav", "late_ms") == 0.0
    assert isinstance(ask(at, "stem", "Shaker.wav", "late_ms"), Unknown)
    told = ask(at, "stems", tmp_path.name, "missing_db")
    assert isinstance(told, Unknown)
    assert "Shaker.wav cannot be read" in told.unknown


def test_another_rate_is_told_and_not_guessed(tmp_path):
    parts = sounds()
    context(tmp_path, parts, mixed(parts))
    write(tmp_path, "Shaker.wav", parts["Shaker"], rate=44_100)
    session = read(tmp_path)
    told = ask(SessionContext(session, None, Library(session, tmp_path)), "stems", tmp_path.name, "missing_db")
    assert isinstance(told, Unknown)
    assert "44100 Hz, 48000 Hz" in told.unknown
