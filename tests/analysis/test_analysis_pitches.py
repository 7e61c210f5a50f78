"""Notes as frequencies and note values as lengths."""

from __future__ import annotations

import pytest

from mixlint.analysis.pitches import nearest_length, note_hz, note_name
from mixlint.session import Tempo, Timeline, Unknown


@pytest.mark.parametrize(
    ("note", "hz"), [("A4", 440.0), ("C4", 261.6256), ("E2", 82.4069), ("A2", 110.0), ("C3", 130.8128), ("E1", 41.2034)]
)
def test_notes_are_those_of_equal_temperament(note, hz):
    """A4 = 440 Hz (ISO 16:1975); the others as in tables of equal temperament, from memory."""
    assert note_hz(note) == pytest.approx(hz, abs=5e-5)


@pytest.mark.parametrize(
    ("hz", "note"),
    [(440.0, "A4"), (261.6256, "C4"), (82.4069, "E2"), (46.2493, "F#1"), (27.5, "A0"), (45.0, ""), (85.0, "")],
)
def test_a_frequency_is_written_as_its_note_where_it_is_one(hz, note):
    """Frequencies as in tables of equal temperament, from memory; 45 Hz and 85 Hz lie between two notes."""
    assert note_name(hz) == note


@pytest.mark.parametrize(("ms", "name"), [(500.0, "1/4"), (375.0, "1/8 dotted"), (1000.0 / 3.0, "1/4 triplet")])
def test_note_lengths_at_120_bpm(ms, name):
    found = nearest_length(Timeline(tempos=(Tempo(bpm=120.0),)), ms * 1.01)
    assert not isinstance(found, Unknown)
    assert (found.name, found.off_percent) == (name, pytest.approx(1.0))


def test_a_tempo_that_changes_has_no_note_lengths():
    changing = Timeline(tempos=(Tempo(bpm=120.0), Tempo(beat=16.0, bpm=124.0)))
    assert isinstance(nearest_length(changing, 500.0), Unknown)
