"""Notes as frequencies and as lengths: equal temperament on A4 = 440 Hz (ISO 16:1975), and note values of a tempo."""

from __future__ import annotations

from math import log2
from typing import Final, NamedTuple

from mixlint.analysis.context import SessionContext
from mixlint.analysis.settings import Setting
from mixlint.naming.setting_reading import says
from mixlint.session import Timeline, Unknown

A4_HZ: Final = 440.0
"""Standard tuning frequency (ISO 16:1975), hertz."""

_STEPS: Final = {"C": -9, "D": -7, "E": -5, "F": -4, "G": -2, "A": 0, "B": 2}
"""Natural note → semitones from the A of its octave."""

_NAMES: Final = ("C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B")


def note_hz(note: str) -> float:
    """The frequency of a natural note such as ``E2``, hertz: 440 · 2^(semitones from A4 / 12), by equal temperament."""
    return float(A4_HZ * 2.0 ** ((_STEPS[note[0]] + 12 * (int(note[1:]) - 4)) / 12.0))


def _lowest(name: str, note: str, meaning: str) -> Setting:
    """The setting ``lowest_notes.NAME``, shipped with the frequency of a note."""
    return Setting(f"lowest_notes.{name}", note_hz(note), "Hz", meaning)


GUITAR: Final = _lowest("guitar", "E2", "Where the body of a guitar begins: E2, the low string in standard tuning.")
VOICE: Final = _lowest("voice", "A2", "Where the body of a voice begins: A2, a low note of most of them.")
BACKING_VOCALS: Final = _lowest("backing_vocals", "C3", "Where the body of backing vocals begins: C3.")
TOMS: Final = _lowest("toms", "E2", "Where the body of toms begins: E2.")
WEIGHT: Final = Setting("lowest_notes.weight", 45.0, "Hz", "Where kick and bass are asked for their weight.")

LOWEST_NOTES: Final = {
    "acoustic-guitar": GUITAR,
    "electric-guitar": GUITAR,
    "guitar": GUITAR,
    "lead-vocal": VOICE,
    "vocal-double": VOICE,
    "vocal": VOICE,
    "backing-vocals": BACKING_VOCALS,
    "toms": TOMS,
    "kick": WEIGHT,
    "bass": WEIGHT,
    "backing-track": WEIGHT,
}
"""Role to where its body begins, common practice, no source.

Voices differ by an octave: A2 and C3 are low notes of most voices, so that a filter set by ear for a high voice is not
called too high. The weight of a kick and a bass lies under any one note.
"""

BODY: Final = (GUITAR, VOICE, BACKING_VOCALS, TOMS, WEIGHT)
"""Every setting that :func:`lowest_hz` may read."""

REACHES: Final = ("e1", "c2", "e2", "c3", "g3", "c4")
"""The lowest notes that instruments are built for, as the marks of the word files name them; no setting."""

BUILT: Final = frozenset({"strings", "winds", "brass"})
"""Roles under which instruments of several registers stand, which their names tell apart."""

ONE_CENT: Final = 0.01
"""A frequency this near to one of equal temperament, in semitones, is written as its note: wording."""


def lowest_hz(context: SessionContext, role: str) -> float | None:
    """Where the body of a part of this role begins, hertz; None for roles without a lowest note, such as cymbals."""
    setting = LOWEST_NOTES.get(role)
    return None if setting is None else context.setting(setting)


def part_lowest_hz(context: SessionContext, channel_id: str) -> float | None:
    """Where the body of a part begins, hertz: as its instrument is built, where its name tells that, else by its role.

    Of several instruments in one name the lowest counts.
    """
    role, words = context.role(channel_id) or "", context.house.vocabulary
    if role in BUILT:
        name = context.name(channel_id)
        return next((note_hz(note.upper()) for note in REACHES if says(name, f"reach-{note}", words)), None)
    return lowest_hz(context, role)


def lowest_text(context: SessionContext, channel_id: str) -> str:
    """The same for a reader: ``E2, 82.4 Hz``, the frequency alone where it is that of no note, ``none`` for None."""
    found = part_lowest_hz(context, channel_id)
    if found is None:
        return "none"
    note = note_name(found)
    return f"{note}, {found:.1f} Hz" if note else f"{found:g} Hz"


def note_name(hz: float) -> str:
    """The note whose frequency ``hz`` (above 0) is, such as ``E2``; empty where it is that of none.

    The inverse of :func:`note_hz`: 12 log2(hz / 440 Hz) semitones from A4, to a cent.
    """
    semitones = 12.0 * log2(hz / A4_HZ)
    nearest = round(semitones)
    if abs(semitones - nearest) > ONE_CENT:
        return ""
    octave, step = divmod(nearest + 9, 12)
    return f"{_NAMES[step]}{octave + 4}"


class NoteLength(NamedTuple):
    """The note value nearest to a time.

    Args:
        name: such as ``1/8 dotted``.
        ms: its length, ms.
        off_percent: how far the time asked about is from it, per cent of its length, 0 or more.
    """

    name: str
    ms: float
    off_percent: float


_VALUES: Final = tuple(
    (f"1/{part}{kind}", 4.0 / part * factor)
    for part in (2, 4, 8, 16, 32)
    for kind, factor in (("", 1.0), (" dotted", 1.5), (" triplet", 2.0 / 3.0))
)
"""Note values in quarter notes, from the dotted half to the triplet thirty-second."""


def nearest_length(timeline: Timeline | Unknown, time_ms: float) -> NoteLength | Unknown:
    """The note value nearest to ``time_ms`` (above 0) in a song of one tempo.

    Nearest is where the ratio of the two comes closest to 1. Unknown where the tempo is, or where it changes.
    """
    if isinstance(timeline, Unknown):
        return timeline
    tempos = {tempo.bpm for tempo in timeline.tempos}
    if len(tempos) > 1:
        return Unknown(unknown="the tempo changes in the song", settle="compare it with the tempo where it is heard")
    quarter_ms = 60_000.0 / tempos.pop()
    name, ms = min(
        ((name, quarters * quarter_ms) for name, quarters in _VALUES), key=lambda value: abs(time_ms / value[1] - 1.0)
    )
    return NoteLength(name, ms, 100.0 * abs(time_ms / ms - 1.0))
