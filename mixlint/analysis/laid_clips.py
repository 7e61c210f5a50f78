"""Clips laid on the song sample by sample: their gains, and their fades as straight lines.

A clip is laid at its own speed. Whoever needs a stretch of the song reads it here, so that it is laid in one way.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from mixlint.session import Clip, Unknown, is_known

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    import numpy as np
    from numpy.typing import NDArray

    from mixlint.media import Library

    Floats = NDArray[np.float64]


class SongStretch(NamedTuple):
    """A stretch of the song that is read: from where, from where on it counts, and to where, seconds."""

    start_s: float
    from_s: float
    end_s: float

    def samples(self, rate: float) -> int:
        """How many samples it has."""
        return round((self.end_s - self.start_s) * rate)


def even_stretches(
    sounding: Sequence[tuple[float, float]], count: int, length_s: float, ahead_s: float
) -> list[SongStretch]:
    """Stretches that lie evenly over the time in which something sounds, each with what is run ahead of it.

    Args:
        sounding: spans of the song in order, seconds, none over another.
        count: how many stretches.
        length_s: how long each is.
        ahead_s: how much before it is read and not counted.
    """
    total = sum(end - start for start, end in sounding)
    wanted = [(number + 0.5) * total / count - length_s / 2.0 for number in range(count)]
    found, passed = [], 0.0
    for start, end in sounding:
        for at in (one for one in wanted if passed <= one < passed + end - start):
            begin = start + at - passed
            found.append(SongStretch(max(0.0, begin - ahead_s), begin, begin + length_s))
        passed += end - start
    return found


def files_of(clips: Iterable[Clip]) -> list[str]:
    """The ids of the files that clips play, those that name none left out."""
    return [clip.file for clip in clips if clip.file is not None]


def is_followed(clip: Clip) -> bool:
    """True for a clip whose samples can be laid on the song: at its own speed, forwards, its file and gain known."""
    return clip.file is not None and is_known(clip.offset_s) and is_known(clip.gain_db) and clip.speed == 1.0


def laid_clips(
    audio: Library, clips: Sequence[Clip], stretches: Sequence[SongStretch], rate: float
) -> list[Floats | None] | Unknown:
    """The samples (2, n) of a part's clips over each stretch, clip gains and fades laid on; None where it rests."""
    import numpy as np

    from mixlint.media.meter import mend

    found: list[Floats | None] = [None] * len(stretches)
    wanted: dict[str, list[tuple[int, Clip, int, int]]] = {}
    spans = [(first := round(one.start_s * rate), first + one.samples(rate)) for one in stretches]
    for clip in clips:
        begin, stop = round(clip.start_s * rate), round(clip.end_s * rate)
        for number, (first, last) in enumerate(spans):
            a, b = max(first, begin), min(last, stop)
            if b > a and clip.file is not None:
                wanted.setdefault(clip.file, []).append((number, clip, a, b))
    for file, asked in wanted.items():  # one pass for each file
        places = [(_offset(clip) + (a - round(clip.start_s * rate)) / rate, (b - a) / rate) for _, clip, a, b in asked]
        read = audio.excerpts(file, places)
        if isinstance(read, Unknown):
            return read
        for samples, (number, clip, a, b) in zip(read, asked, strict=True):
            mend(samples)
            stretch = stretches[number]
            out = found[number]
            if out is None:
                out = found[number] = np.zeros((2, stretch.samples(rate)))
            both = np.asarray(samples[:2, : b - a], dtype=np.float64) * _ramp(clip, np.arange(a, b) / rate)
            first = a - round(stretch.start_s * rate)
            out[:, first : first + both.shape[1]] += both
    return found


def _offset(clip: Clip) -> float:
    return clip.offset_s if is_known(clip.offset_s) else 0.0


def _ramp(clip: Clip, times: Floats) -> Floats:
    """The gain (n,) of a clip at times of the song, seconds: its clip gain and its fades as straight lines."""
    import numpy as np

    gain = np.full(times.shape, 10.0 ** ((clip.gain_db if is_known(clip.gain_db) else 0.0) / 20.0))
    if is_known(clip.fade_in_s) and clip.fade_in_s > 0.0:
        gain *= np.clip((times - clip.start_s) / clip.fade_in_s, 0.0, 1.0)
    if is_known(clip.fade_out_s) and clip.fade_out_s > 0.0:
        gain *= np.clip((clip.end_s - times) / clip.fade_out_s, 0.0, 1.0)
    return gain


def moved(samples: Floats, curve: Floats, times: Floats, stretch: SongStretch, rate: float) -> Floats:
    """Samples (2, n) of a stretch behind a matrix that may move.

    Args:
        samples: as they come.
        curve: (T or 1, 2, 2) ``out = M @ in``.
        times: (T,) seconds of the song, ascending.
        stretch: the stretch, with whose start they begin.
        rate: samples per second.
    """
    import numpy as np

    if curve.shape[0] == 1:
        (a, b), (c, d) = curve[0].tolist()
        if b == 0.0 and c == 0.0:
            return np.asarray(samples * np.array([[a], [d]]))
        return np.stack([a * samples[0] + b * samples[1], c * samples[0] + d * samples[1]])
    at = stretch.start_s + np.arange(samples.shape[1]) / rate
    out = np.zeros_like(samples)
    for i in range(2):
        for j in range(2):
            out[i] += np.interp(at, times, curve[:, i, j]) * samples[j]
    return out
