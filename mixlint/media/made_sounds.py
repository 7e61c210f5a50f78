"""The sounds of an example, made and written as files."""

from __future__ import annotations

import struct
from collections.abc import Callable, Mapping
from functools import lru_cache
from html import escape
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from mixlint.media.made_adm import adm_chunks
from mixlint.media.recipe import Again, Howl, Label, Onward, Recipe, Room, Step

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

STORED: Final = {
    "16 bit": ("WAV", "PCM_16"),
    "24 bit": ("WAV", "PCM_24"),
    "float": ("WAV", "FLOAT"),
    "flac": ("FLAC", "PCM_24"),
}


def write_sounds(recipes: Mapping[str, Recipe], folder: Path) -> None:
    """Make the sounds of one example and write each under its name below ``folder``.

    Raises:
        ValueError: a sum names a sound that does not stand before it.
    """
    made: dict[str, Floats] = {}
    for name, recipe in recipes.items():
        made[name] = made_sound(recipe, made)
        if not recipe.no_file:
            write_sound(recipe, made[name], folder / name)


def write_sound(recipe: Recipe, samples: Floats, path: Path) -> None:
    """Write a sound, samples (legs, n), as its recipe has it stored, labelled and damaged."""
    import numpy as np
    import soundfile

    path.parent.mkdir(parents=True, exist_ok=True)
    form, subtype = STORED[recipe.stored]
    kept = samples if recipe.stored == "float" else np.clip(samples, -1.0, 1.0)
    soundfile.write(path, kept.T, recipe.rate_hz, subtype=subtype, format=form)
    if recipe.label is not None:
        _label(path, recipe.label, recipe.rate_hz)
    if recipe.described is not None:
        _append(path, adm_chunks(recipe.described))
    if recipe.damage is not None:
        _damage(path, recipe.damage)


def _label(path: Path, label: Label, rate_hz: int) -> None:
    """Add an iXML and a ``bext`` chunk at the end of a wave file, and its cue points with their labels."""
    bext = bytearray(602)
    struct.pack_into("<QH", bext, 338, round(label.stamp_s * rate_hz), 2)
    figures = (label.lufs, label.range_lu, label.true_peak_dbtp, label.momentary_lufs, label.short_term_lufs)
    struct.pack_into("<5h", bext, 412, *(0x7FFF if one is None else round(100.0 * one) for one in figures))
    ixml = f"<BWFXML><TRACK_LIST><TRACK><NAME>{escape(label.track)}</NAME></TRACK></TRACK_LIST></BWFXML>".encode()
    bodies = {b"bext": bytes(bext), b"iXML": ixml}
    if label.cues:
        points = [struct.pack("<II4s8xI", n, 0, b"data", round(c.at_s * rate_hz)) for n, c in enumerate(label.cues, 1)]
        texts = [struct.pack("<I", n) + c.name.encode() + b"\0" for n, c in enumerate(label.cues, 1)]
        listed = [b"labl" + struct.pack("<I", len(one)) + one + bytes(len(one) % 2) for one in texts]
        bodies |= {b"cue ": struct.pack("<I", len(points)) + b"".join(points), b"LIST": b"adtl" + b"".join(listed)}
    _append(path, bodies)


def _append(path: Path, bodies: Mapping[bytes, bytes]) -> None:
    """Add chunks at the end of a wave file."""
    stored = path.read_bytes()
    stored += b"".join(
        name + struct.pack("<I", len(body)) + body + bytes(len(body) % 2) for name, body in bodies.items()
    )
    path.write_bytes(stored[:4] + struct.pack("<I", len(stored) - 8) + stored[8:])


def _damage(path: Path, what: str) -> None:
    stored = bytearray(path.read_bytes())
    if what == "end-lost":
        stored = stored[: len(stored) * 3 // 5]
    else:
        middle = len(stored) // 2
        stored[middle : middle + 2000] = bytes(2000)
    path.write_bytes(stored)


def made_sound(recipe: Recipe, made: Mapping[str, Floats]) -> Floats:
    """The samples (legs, n) of a recipe.

    Args:
        recipe: what to make.
        made: the sounds that its sum may name.

    Raises:
        ValueError: it names another.
    """
    import numpy as np

    fs = float(recipe.rate_hz)
    if recipe.sum:
        samples = _summed(recipe, made, fs)
    elif recipe.legs_of:
        samples = _side_by_side(recipe.legs_of, made)
    else:
        assert recipe.plays is not None
        plain = _played(recipe.plays, recipe.hz, recipe.take, recipe.seconds, fs) * 10.0 ** (recipe.peak_dbfs / 20.0)
        samples = np.repeat(plain[None], recipe.legs, axis=0)
    random = np.random.default_rng(recipe.take + 7919)
    for step in recipe.then:
        samples = _done(samples, step, fs, random)
    return samples


@lru_cache(maxsize=16)
def _played(plays: str, hz: float, take: int, seconds: float, fs: float) -> Floats:
    """The same sound serves many examples: it is made once, and read-only."""
    import numpy as np

    from mixlint.signal import synthesis

    makers: dict[str, Callable[[], Floats]] = {
        "tone": lambda: synthesis.tone(hz, seconds, fs),
        "pluck": lambda: synthesis.pluck(hz, take, seconds, fs),
        "voice": lambda: synthesis.voice(hz, take, seconds, fs),
        "kit": lambda: synthesis.kit(take, seconds, fs),
        "hall": lambda: synthesis.hall(take, seconds, fs),
        "metronome": lambda: synthesis.metronome(seconds, fs),
        "noise": lambda: synthesis.noise(take, seconds, fs),
        "silence": lambda: np.zeros(round(seconds * fs)),
    }
    made = makers[plays]()
    made.setflags(write=False)
    return made


def _side_by_side(sounds: tuple[str, ...], made: Mapping[str, Floats]) -> Floats:
    import numpy as np

    unknown = [one for one in sounds if one not in made]
    if unknown:
        raise ValueError(f"{unknown[0]} does not stand before the sound that has its legs")
    length = max(made[one].shape[1] for one in sounds)
    return np.concatenate([np.pad(made[one], ((0, 0), (0, length - made[one].shape[1]))) for one in sounds])


def _summed(recipe: Recipe, made: Mapping[str, Floats], fs: float) -> Floats:
    import numpy as np

    from mixlint.signal import synthesis

    unknown = [part.sound for part in recipe.sum if part.sound not in made]
    if unknown:
        raise ValueError(f"{unknown[0]} does not stand before the sum that names it")
    length = max(made[part.sound].shape[1] for part in recipe.sum)
    wide = recipe.legs == 2 or any(part.pan is not None or made[part.sound].shape[0] == 2 for part in recipe.sum)
    out = np.zeros((2 if wide else 1, length))
    for part in recipe.sum:
        sound = made[part.sound]
        if part.delay_ms:
            sound = np.stack([synthesis.late(leg, part.delay_ms / 1000.0 * fs) for leg in sound])
        gains = np.ones(out.shape[0])
        if part.pan is not None:
            angle = (part.pan + 100.0) / 200.0 * np.pi / 2.0
            gains = np.array([np.cos(angle), np.sin(angle)])
        out[:, : sound.shape[1]] += sound * (gains * 10.0 ** (part.gain_db / 20.0))[:, None]
    return out


def _done(samples: Floats, step: Step, fs: float, random: np.random.Generator) -> Floats:
    """What one step makes of samples (legs, n)."""
    (word,) = step.model_fields_set
    return _steps(fs, random)[word](samples.copy(), getattr(step, word))


def _each(change: Callable[[Floats], Floats], samples: Floats) -> Floats:
    import numpy as np

    return np.stack([change(leg) for leg in samples])


def _span(samples: Floats, span: tuple[float, float], fs: float) -> slice:
    return slice(round(span[0] * fs), min(samples.shape[1], round(span[1] * fs)))


def _times(samples: Floats, at: slice, factor: float) -> Floats:
    samples[:, at] *= factor
    return samples


def _hold(samples: Floats, span: tuple[float, float], fs: float) -> Floats:
    at = _span(samples, span, fs)
    samples[:, at] = samples[:, at.start : at.start + 1]
    return samples


def _side(samples: Floats, side: str, change: Callable[[Floats], Floats]) -> Floats:
    """Two legs, of which one or both are changed; a sound of one leg becomes one of two."""
    import numpy as np

    if samples.shape[0] == 1 and side != "both":
        samples = np.repeat(samples, 2, axis=0)
    for leg in range(samples.shape[0]):
        if side == "both" or (side == "left") == (leg == 0):
            samples[leg] = change(samples[leg])
    return samples


def _hum(samples: Floats, dbfs: float, fs: float) -> Floats:
    import numpy as np

    t = np.arange(samples.shape[1]) / fs
    hum = sum(np.sin(2.0 * np.pi * 50.0 * n * t + n) / n for n in range(1, 7))
    humming: Floats = samples + np.asarray(hum) * 10.0 ** (dbfs / 20.0) / float(np.std(hum))
    return humming


def _click(samples: Floats, at_s: float, size: float, fs: float) -> Floats:
    samples[:, round(at_s * fs)] += size
    return samples


def _faded(samples: Floats, seconds: float, fs: float, *, end: bool) -> Floats:
    import numpy as np

    count = min(samples.shape[1], round(seconds * fs))
    ramp = np.linspace(0.0, 1.0, count, endpoint=False)
    if end:
        samples[:, samples.shape[1] - count :] *= ramp[::-1]
    else:
        samples[:, :count] *= ramp
    return samples


def _led(samples: Floats, seconds: float, fs: float) -> Floats:
    import numpy as np

    count = round(seconds * fs)
    return np.pad(samples, ((0, 0), (count, 0))) if count >= 0 else samples[:, -count:]


def _long(samples: Floats, seconds: float, fs: float) -> Floats:
    import numpy as np

    count = round(seconds * fs)
    return np.pad(samples, ((0, 0), (0, max(0, count - samples.shape[1]))))[:, :count]


def _in_room(samples: Floats, room: Room, fs: float, random: np.random.Generator) -> Floats:
    """Two legs: each side has a tail of its own."""
    import numpy as np

    from mixlint.signal import synthesis

    if samples.shape[0] == 1:
        samples = np.repeat(samples, 2, axis=0)
    out = []
    for leg in samples:
        response = synthesis.room(int(random.integers(1 << 30)), room.decay_s, room.predelay_ms / 1000.0, fs)
        dry = 0.0 if room.dry_db is None else 10.0 ** (room.dry_db / 20.0)
        out.append(synthesis.convolved(leg, response) + dry * leg)
    return np.stack(out)


def _wide(samples: Floats, fs: float, random: np.random.Generator) -> Floats:
    """Two legs with the sound in both and early reflections of each side's own."""
    import numpy as np

    from mixlint.signal import synthesis

    if samples.shape[0] == 1:
        samples = np.repeat(samples, 2, axis=0)
    responses = [synthesis.room(int(random.integers(1 << 30)), 0.15, 0.003, fs) for _ in range(2)]
    return np.stack([leg + 0.6 * synthesis.convolved(leg, one) for leg, one in zip(samples, responses, strict=True)])


def _not_a_number(samples: Floats, at_s: float, fs: float) -> Floats:
    samples[:, round(at_s * fs)] = float("nan")
    return samples


def _repeated(samples: Floats, at: int) -> Floats:
    samples[:, at : at + 1024] = samples[:, at - 1024 : at]
    return samples


def _burst(samples: Floats, at: slice, random: np.random.Generator) -> Floats:
    samples[:, at] = random.uniform(-1.0, 1.0, samples[:, at].shape)
    return samples


def _onward(samples: Floats, change: Onward, fs: float) -> Floats:
    from mixlint.signal import synthesis

    at = round(change.at_s * fs)
    rest = samples[:, at:] * 10.0 ** (change.gain_db / 20.0)
    cut = change.high_cut_hz
    if cut is not None:
        rest = _each(lambda leg: synthesis.shaped(leg, fs, high_cut_hz=cut), rest)
    samples[:, at:] = rest
    return samples


def _howl(samples: Floats, howl: Howl, fs: float) -> Floats:
    import numpy as np

    t = np.arange(samples.shape[1]) / fs
    times = [howl.from_s, howl.to_s, howl.to_s + 0.1]
    level = np.interp(t, times, [howl.dbfs - 50.0, howl.dbfs, howl.dbfs - 80.0], left=-200.0, right=-200.0)
    howling: Floats = samples + 10.0 ** (level / 20.0) * np.sin(2.0 * np.pi * howl.hz * t)
    return howling


def _again(samples: Floats, again: Again, fs: float) -> Floats:
    late = round(again.every_s * fs)
    for start in range(late, samples.shape[1], late):
        end = min(samples.shape[1], start + late)
        samples[:, start:end] += again.gain * samples[:, start - late : end - late]
    return samples


def _crackling(samples: Floats, at: slice, random: np.random.Generator) -> Floats:
    count = at.stop - at.start
    spots = random.random(count) < 0.004
    samples[:, at] += spots * random.choice([-1.0, 1.0], count) * random.uniform(0.06, 0.3, count)
    return samples


def _right_out(samples: Floats, at: slice) -> Floats:
    samples[1, at] *= 0.01
    return samples


def _noise_instead(samples: Floats, at: slice, dbfs: float, random: np.random.Generator) -> Floats:
    samples[:, at] = 10.0 ** (dbfs / 20.0) * random.standard_normal(samples[:, at].shape)
    return samples


def _telephone(samples: Floats, at: slice, fs: float) -> Floats:
    """Slots of 577 µs in frames of 120/26 ms."""
    import numpy as np

    t = np.arange(at.stop - at.start) / fs
    samples[:, at] += 0.15 * ((t % (0.12 / 26.0)) < 577e-6)
    return samples


def _gated(samples: Floats, dbfs: float, fs: float) -> Floats:
    import numpy as np

    step = round(0.01 * fs)
    count = samples.shape[1] // step * step
    power = np.mean(samples[:, :count].reshape(len(samples), -1, step) ** 2, axis=2).max(axis=0)
    opened = np.repeat((power > 10.0 ** (dbfs / 10.0)).astype(np.float64), step)
    opened = np.pad(opened, (0, samples.shape[1] - count))
    gated: Floats = samples * np.convolve(opened, np.full(48, 1.0 / 48.0), "same")
    return gated


def _dies(samples: Floats, at: int) -> Floats:
    samples[1, at:] = 0.0
    return samples


def _steps(fs: float, random: np.random.Generator) -> dict[str, Callable[[Floats, Any], Floats]]:
    """By the word of a step: what makes of samples (legs, n) and its value the samples after it."""
    import numpy as np

    from mixlint.signal import synthesis

    return {
        "gain_db": lambda x, v: x * 10.0 ** (v / 20.0),
        "low_cut_hz": lambda x, v: _each(lambda leg: synthesis.shaped(leg, fs, low_cut_hz=v), x),
        "high_cut_hz": lambda x, v: _each(lambda leg: synthesis.shaped(leg, fs, high_cut_hz=v), x),
        "shelf_db": lambda x, v: _each(lambda leg: synthesis.shaped(leg, fs, shelf_db=v), x),
        "from_s": lambda x, v: _onward(x, v, fs),
        "howl": lambda x, v: _howl(x, v, fs),
        "repeats": lambda x, v: _again(x, v, fs),
        "crackle_s": lambda x, v: _crackling(x, _span(x, v, fs), random),
        "right_out_s": lambda x, v: _right_out(x, _span(x, v, fs)),
        "noise": lambda x, v: _noise_instead(x, _span(x, v.span_s, fs), v.dbfs, random),
        "telephone_s": lambda x, v: _telephone(x, _span(x, v, fs), fs),
        "gate_dbfs": lambda x, v: _gated(x, v, fs),
        "clip_dbfs": lambda x, v: np.clip(x, -(10.0 ** (v / 20.0)), 10.0 ** (v / 20.0)),
        "invert": lambda x, v: _side(x, v, lambda leg: -leg),
        "delay_ms": lambda x, v: _each(lambda leg: synthesis.late(leg, v / 1000.0 * fs), x),
        "delay_right_ms": lambda x, v: _side(x, "right", lambda leg: synthesis.late(leg, v / 1000.0 * fs)),
        "stretch": lambda x, v: _each(lambda leg: synthesis.faster(leg, v), x),
        "silence_s": lambda x, v: _times(x, _span(x, v, fs), 0.0),
        "hold_s": lambda x, v: _hold(x, v, fs),
        "reverse_s": lambda x, v: _times(x, _span(x, v, fs), -1.0),
        "drop": lambda x, v: _side(x, v, lambda leg: 0.0 * leg),
        "swap": lambda x, _: x[::-1],
        "right_db": lambda x, v: _side(x, "right", lambda leg: leg * 10.0 ** (v / 20.0)),
        "offset": lambda x, v: x + v,
        "hiss_dbfs": lambda x, v: x + 10.0 ** (v / 20.0) * random.standard_normal(x.shape),
        "hum_dbfs": lambda x, v: _hum(x, v, fs),
        "click": lambda x, v: _click(x, v.at_s, v.size, fs),
        "repeat_s": lambda x, v: _repeated(x, round(v * fs)),
        "burst_s": lambda x, v: _burst(x, _span(x, v, fs), random),
        "square_dbfs": lambda x, v: (
            np.sign(np.sin(220.0 * np.pi * np.arange(x.shape[1]) / fs) + 1e-9) * np.full_like(x, 10.0 ** (v / 20.0))
        ),
        "right_dies_s": lambda x, v: _dies(x, round(v * fs)),
        "bits": lambda x, v: np.round(x * 2.0 ** (v - 1)) / 2.0 ** (v - 1),
        "fade_in_s": lambda x, v: _faded(x, v, fs, end=False),
        "fade_out_s": lambda x, v: _faded(x, v, fs, end=True),
        "lead_s": lambda x, v: _led(x, v, fs),
        "seconds": lambda x, v: _long(x, v, fs),
        "not_a_number_s": lambda x, v: _not_a_number(x, v, fs),
        "room": lambda x, v: _in_room(x, v, fs, random),
        "wide": lambda x, _: _wide(x, fs, random),
        "drive_db": lambda x, v: np.tanh(x * 10.0 ** (v / 20.0)) * np.abs(x).max(),
    }
