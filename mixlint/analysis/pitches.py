"""Notes as frequencies and as lengths: equal temperament on A4 = 440 Hz (ISO 16:1975), and note values of a tempo."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from mixlint.session import Timeline, Unknown

A4_HZ: Final = 440.0
_STEPS: Final = {"C": -9, "D": -7, "E": -5, "F": -4, "G": -2, "A": 0, "B": 2}


def note_hz(note: str) -> float:
    """The frequency of a note such as ``E2``, hertz: 440 · 2^(semitones from A4 / 12)."""
    return float(A4_HZ * 2.0 ** ((_STEPS[note[0]] + 12 * (int(note[1:]) - 4)) / 12.0))


LOWEST_NOTES: Final = {
    "acoustic-guitar": "E2",
    "electric-guitar": "E2",
    "guitar": "E2",
    "lead-vocal": "A2",
    "vocal-double": "A2",
    "vocal": "A2",
    "backing-vocals": "C3",
    "toms": "E2",
}
"""Role to the lowest note that is to be expected of it, common practice, no source.

Guitars in standard tuning begin at E2, 82.4 Hz. Voices differ by an octave: A2 and C3 are low notes of most voices, so
that a filter set by ear for a high voice is not called too high.
"""

WEIGHT_HZ: Final = {"kick": 45.0, "bass": 45.0}
"""Roles whose weight lies under any one note, and where it is looked for (common practice, no source)."""


def lowest_hz(role: str) -> float | None:
    """Where a part's body begins, hertz; None for parts without a lowest note, such as cymbals."""
    if role in WEIGHT_HZ:
        return WEIGHT_HZ[role]
    return note_hz(LOWEST_NOTES[role]) if role in LOWEST_NOTES else None


def lowest_text(role: str) -> str:
    """The same for a reader: ``E2, 82.4 Hz``."""
    found = lowest_hz(role)
    if found is None:
        return "none"
    return f"{found:g} Hz" if role in WEIGHT_HZ else f"{LOWEST_NOTES[role]}, {found:.1f} Hz"


@dataclass(frozen=True, slots=True)
class NoteLength:
    """The note value nearest to a time: its name, its length in ms, and how far the time is off, per cent."""

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
    """The note value nearest to ``time_ms`` (above 0) in a song of one tempo."""
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
