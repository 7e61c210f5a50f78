"""What a clip itself holds, as measured: the stretch of its file that it plays, by itself.

Levels are told as it plays, with its clip gain; its fades and all that lies behind it on the channel are left out. What
was measured in the file over time serves as far as it goes; true peak, loudness and noise are read in the stretch
itself, once, when they are asked for. A clip that plays faster or slower is read as its samples are.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import moment_text
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import NOT_OPENED
from mixlint.analysis.mono_fold import fold_db
from mixlint.analysis.played_stretches import Played, Stretch
from mixlint.analysis.settings import Setting
from mixlint.facts.clip.clip_regions import ClipRegion, file_of
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.media.residue import NOISY, REST
from mixlint.session import NotKnown, Unknown, known
from mixlint.units import SILENCE_DB, number_text

if TYPE_CHECKING:
    from mixlint.media.stretch_reading import StretchReading

FACTS: Facts[ClipRegion] = Facts()

SILENT: Final = Setting(
    "clip_sound.silent",
    -60.0,
    "dBFS",
    "A clip is silent where none of its samples, with its clip gain, comes over this for a hundredth of a second.",
    lowest=-160.0,
    highest=-20.0,
)
LEAST_S: Final = 0.5
"""A shorter stretch has no offset that could be told from its wave: five tenths of a second, by which it is read."""


class ClipSound(NamedTuple):
    """What one clip plays.

    Args:
        media: the id of its file.
        start_s, end_s: the stretch, seconds of the file.
        gain_db: its clip gain.
        played: what was measured there.
    """

    media: str
    start_s: float
    end_s: float
    gain_db: float
    played: Played


@per_session
def clip_sound(context: SessionContext, region: ClipRegion) -> ClipSound | Unknown:
    """What a clip plays; Unknown without its audio, and where its place in the file, its speed or gain is not known."""
    clip = region.clip
    if clip.plays != "audio":
        return Unknown(unknown="it plays no audio")
    if context.audio is None:
        return NOT_OPENED
    media = file_of(context, clip)
    offset, speed, gain = known(clip.offset_s), known(clip.speed), known(clip.gain_db)
    if speed <= 0.0:
        return Unknown(unknown="it plays backwards", settle="print it, and review the print")
    end = offset + (clip.end_s - clip.start_s) * speed
    stretch = Stretch(offset, end, clip, True)
    return ClipSound(media.id, offset, end, gain, Played(known(context.audio.measure(media.id)), [stretch]))


def _sound(row: Row[ClipRegion]) -> ClipSound:
    """The same of a row's clip.

    Raises:
        NotKnown: it is not known.
    """
    return known(clip_sound(row.context, row.item))


def _read(row: Row[ClipRegion]) -> StretchReading:
    """What its stretch holds that has to be read anew.

    Raises:
        NotKnown: it cannot be read.
    """
    sound = _sound(row)
    if row.context.audio is None:
        raise NotKnown(NOT_OPENED)
    return known(row.context.audio.stretch(sound.media, sound.start_s, sound.end_s))


def _louder(level_db: float, gain_db: float) -> float:
    return max(SILENCE_DB, level_db + gain_db) if level_db > SILENCE_DB else SILENCE_DB


def _place(row: Row[ClipRegion], file_s: float) -> str:
    """A place in the file for a reader: where the first of its repeats plays it."""
    return moment_text(row.context, _sound(row).played.parts[0].song_s(file_s))


# --- levels


@FACTS.fact(
    "number",
    "The highest sample of the stretch it plays, with its clip gain; before its fades and its channel.",
    unit="dBFS",
    how="measured",
)
def peak_dbfs(row: Row[ClipRegion]) -> FactValue:
    from mixlint.media.measure import decibels

    sound = _sound(row)
    measure, inside = sound.played.measure, sound.played.cells()
    cells = measure.peak[:, inside]
    if not cells.size:
        return FactValue(SILENCE_DB, "measured", row.subject.where, "nothing of its file lies there")
    at = float(inside.nonzero()[0][int(cells.max(axis=0).argmax())]) * measure.cell_s
    level = _louder(decibels(float(cells.max())), sound.gain_db)
    return FactValue(level, "measured", row.subject.where, _place(row, max(at, sound.start_s)))


@FACTS.fact(
    "number",
    "The true peak of the stretch it plays (ITU-R BS.1770-5), with its clip gain; before its fades and its channel.",
    unit="dBTP",
    how="measured",
)
def true_peak_dbtp(row: Row[ClipRegion]) -> float:
    return _louder(max(_read(row).true_peak_db), _sound(row).gain_db)


@FACTS.fact(
    "number",
    "The programme loudness of the stretch it plays (ITU-R BS.1770-5, gated), with its clip gain; before its fades and "
    "its channel.",
    unit="LUFS",
    how="measured",
)
def loudness_lufs(row: Row[ClipRegion]) -> float | Unknown:
    from mixlint.media.measure import programme_lufs

    return programme_lufs(_read(row).energy * 10.0 ** (_sound(row).gain_db / 10.0), "it")


# --- silence


@per_session
def _silences(context: SessionContext, region: ClipRegion) -> list[tuple[float, float]] | Unknown:
    """The stretches in which a clip is silent, seconds of the song at its first place, in order."""
    import numpy as np

    from mixlint.signal.runs import runs

    sound = known(clip_sound(context, region))
    measure, stretch = sound.played.measure, sound.played.parts[0]
    # The cells that the clip touches, those beyond the ends of the file among them.
    first, last = (
        int(np.floor(sound.start_s / measure.cell_s + 1e-6)),
        int(np.ceil(sound.end_s / measure.cell_s - 1e-6)),
    )
    at = np.arange(first, max(first + 1, last))
    inside = (at >= 0) & (at < measure.peak.shape[1])
    peaks = np.zeros(at.size)
    peaks[inside] = measure.peak[:, at[inside]].max(axis=0)
    quiet = peaks <= 10.0 ** ((context.setting(SILENT) - sound.gain_db) / 20.0)
    return [
        (
            stretch.song_s(max(sound.start_s, (first + a) * measure.cell_s)),
            stretch.song_s(min(sound.end_s, (first + b + 1) * measure.cell_s)),
        )
        for a, b in runs(quiet)
    ]


@FACTS.fact(
    "number",
    "For how much of its time it is silent, with its clip gain, to a hundredth of a second; beyond the ends of its "
    "file, too.",
    unit="%",
    how="measured",
    settings=(SILENT,),
)
def silent_percent(row: Row[ClipRegion]) -> float:
    silent = sum(end - start for start, end in known(_silences(row.context, row.item)))
    return min(100.0, 100.0 * silent / row.need("length_s").number)


@FACTS.fact("number", "The longest time for which it is silent so.", unit="s", how="measured", settings=(SILENT,))
def longest_silence_s(row: Row[ClipRegion]) -> FactValue:
    silences = known(_silences(row.context, row.item))
    start, end = max(silences, key=lambda one: one[1] - one[0], default=(0.0, 0.0))
    note = f"from {moment_text(row.context, start)} on" if silences else "nowhere"
    return FactValue(end - start, "measured", row.subject.where, note)


# --- the wave itself


@FACTS.fact(
    "number",
    "Waves cut off flat in the stretch it plays, at full scale and under it; whatever its clip gain.",
    how="measured",
)
def cut_tops(row: Row[ClipRegion]) -> FactValue:
    played = _sound(row).played
    marks, total = played.marks("clipped", "flat"), played.count("clipped", "flat")
    if not marks:
        return FactValue(0, "measured", row.subject.where, "none")
    longest = max(marks, key=lambda mark: mark.length_s)
    about = "about, since not every place of its file was kept; " if total > len(marks) else ""
    note = f"{about}the longest {number_text(longest.length_s * 1000.0, 'ms')} at {_place(row, longest.start_s)}"
    return FactValue(total, "measured", row.subject.where, note)


@FACTS.fact(
    "number",
    "The offset of the stretch it plays in full scale: how far its middle lies from zero where it is quiet; before its "
    "clip gain.",
    unit="%",
    how="measured",
)
def offset_percent(row: Row[ClipRegion]) -> FactValue | Unknown:
    sound = _sound(row)
    if sound.end_s - sound.start_s < LEAST_S:
        return Unknown(unknown="it is too short to have an offset that its wave does not hide")
    offset, leg = sound.played.offset()
    name = sound.played.leg_name(leg)
    return FactValue(100.0 * abs(offset), "measured", row.subject.where, f"on the {name or 'only'} leg")


# --- its two legs


def _legs(row: Row[ClipRegion]) -> ClipSound:
    """What it plays, of two legs.

    Raises:
        NotKnown: it is not known, or has another number of them.
    """
    sound = _sound(row)
    if sound.played.measure.legs != 2:
        raise NotKnown(Unknown(unknown="its file has no two legs"))
    return sound


@FACTS.fact(
    "number",
    "How alike left and right are in the stretch it plays: 1 for the same, 0 for nothing in common, −1 for one turned "
    "over; unweighted.",
    how="measured",
)
def correlation(row: Row[ClipRegion]) -> float | Unknown:
    sound = _legs(row)
    edges, measure = (sound.start_s, sound.end_s), sound.played.measure
    left, right = (float(one) for one in measure.power_at(edges)[:, 0])
    if left * right <= 0.0:
        return Unknown(unknown="a side of it is silent")
    shared = float(measure.product_at(edges)[0]) / (left * right) ** 0.5
    return float(max(-1.0, min(1.0, shared)))


@FACTS.fact(
    "number",
    "What the stretch it plays loses when left and right are brought together, K-weighted, against the mean of both "
    "sides; 3 dB where the two have nothing in common.",
    unit="dB",
    how="measured",
)
def mono_loss_db(row: Row[ClipRegion]) -> float | Unknown:
    sound = _legs(row)
    edges, measure = (sound.start_s, sound.end_s), sound.played.measure
    left, right = (float(one) for one in measure.energy_at(edges)[:, 0])
    if left + right <= 0.0:
        return Unknown(unknown="it is silent")
    return -fold_db(left, right, float(measure.cross_at(edges)[0]))


# --- its rests


@FACTS.fact(
    "number",
    "The level of the noise in the rests of the stretch it plays, hum aside, with its clip gain; −200 where what is "
    "left there is no noise.",
    unit="dBFS",
    how="measured",
    settings=(REST, NOISY),
)
def noise_floor_dbfs(row: Row[ClipRegion]) -> FactValue | Unknown:
    import numpy as np

    from mixlint.signal.decibel import power_to_db

    sound = _sound(row)
    power = sound.played.measure.power[:, sound.played.blocks()]
    rests = _read(row).rests if power.any() else ()
    if not rests:
        return Unknown(unknown="no part of it is quiet and even")
    leg = max(range(len(rests)), key=lambda one: rests[one].level_db)
    sounding = power[leg][power[leg] > 0.0]
    loud = power_to_db(float(np.quantile(sounding, 0.9))) if sounding.size else SILENCE_DB
    if loud - rests[leg].level_db < row.context.setting(REST):
        return Unknown(unknown="it has no rests: it is nowhere quiet for long beside its music")
    if rests[leg].flat < row.context.setting(NOISY):
        return FactValue(SILENCE_DB, "measured", row.subject.where, "what is left in its rests is no noise")
    under = number_text(loud - rests[leg].floor_db, "dB")
    return FactValue(
        _louder(rests[leg].floor_db, sound.gain_db), "measured", row.subject.where, f"{under} under its music"
    )
