"""The checklist on whole sessions: clean ones raise nothing, and the standard for acoustic songs asks for more."""

from __future__ import annotations

from pathlib import Path

import pytest

from mixlint.facts import SessionContext
from mixlint.importers import read
from mixlint.review.engine import judged
from mixlint.rulebook import load_standard
from mixlint.session import Channel, Equalizer, EqualizerBand, Insert, Session

EXAMPLES = Path(__file__).resolve().parents[2] / "example_sessions"
AREAS = ("ambience", "width", "tone", "dynamics", "phase")
CLEAN = (
    "sixpenny-weathervane",
    "voice-and-one-guitar",
    "left-centre-right",
    "mono-release",
    "cue-sends",
    "parallel-compression",
    "drum-kit",
)


def flagged(session: Session, standard: str | Path) -> set[tuple[str, str]]:
    """Rule and subject of each flagged finding of these areas."""
    house = load_standard(standard)
    at = SessionContext(session, house.house)
    rules = [rule for rule in house.rules.values() if rule.area in AREAS]
    return {(f.rule, f.subject.name) for rule in rules for f in judged(at, rule) if f.verdict == "flagged"}


@pytest.mark.parametrize("name", CLEAN)
def test_a_clean_session_under_its_own_intent_raises_nothing(name):
    own = EXAMPLES / f"{name}.standard.toml"
    session = read(EXAMPLES / f"{name}.session.json")
    assert flagged(session, own if own.exists() else "pre-bounce") == set()


def test_the_flawed_twin_raises_what_was_planted_in_these_areas():
    session = read(EXAMPLES / "sixpenny-weathervane-flawed.session.json")
    assert flagged(session, "pre-bounce") == {
        ("return-fully-wet", "Gtr R Verb"),
        ("return-low-cut", "Gtr L Verb"),
        ("pan-answered", "Acoustic Gtr L"),
        ("stereo-balanced", "Sixpenny Weathervane (flawed)"),
    }


def test_the_clean_song_is_mixed_as_the_house_for_acoustic_songs_mixes():
    assert flagged(read(EXAMPLES / "sixpenny-weathervane.session.json"), "acoustic-song") == set()


def changed(name: str, **update: object) -> Session:
    """The clean song with one channel changed."""
    session = read(EXAMPLES / "sixpenny-weathervane.session.json")
    channels = tuple(c.model_copy(update=update) if c.name == name else c for c in session.channels)
    return session.model_copy(update={"channels": channels})


def shaped(channel: Channel, *bands: EqualizerBand) -> tuple[Insert, ...]:
    settings = Equalizer(bands=bands)
    return (*channel.inserts, Insert(name="Second EQ", kind="equalizer", opaque=False, equalizer=settings))


def test_moves_that_pass_elsewhere_are_large_in_this_house():
    session = read(EXAMPLES / "sixpenny-weathervane.session.json")
    (lead,) = [c for c in session.channels if c.name == "Lead Vocal"]
    cut = EqualizerBand(kind="bell", freq_hz=300.0, gain_db=-4.0, q=1.0)
    shelf = EqualizerBand(kind="high-shelf", freq_hz=9000.0, gain_db=2.8)
    louder = changed("Lead Vocal", inserts=shaped(lead, cut, shelf))
    assert flagged(louder, "pre-bounce") == set()
    row = "Lead Vocal: Second EQ"
    assert flagged(louder, "acoustic-song") == {("eq-moves-small", row), ("eq-shelf-gentle", row)}


def test_a_guitar_room_on_its_own_side_is_a_look_in_this_house():
    session = changed("Gtr L Verb", pan=-50.0)
    assert ("ambience-opposite", "Acoustic Gtr L") in flagged(session, "acoustic-song")
    assert load_standard("acoustic-song").rules["ambience-opposite"].grade == "look"
    assert load_standard("pre-bounce").rules["ambience-opposite"].grade == "note"


def test_this_house_alone_has_an_angle_for_its_pairs():
    session = read(EXAMPLES / "sixpenny-weathervane.session.json")
    channels = tuple(
        c.model_copy(update={"pan": 0.6 * c.pan}) if c.name.startswith("Acoustic Gtr") else c for c in session.channels
    )
    drawn_in = session.model_copy(update={"channels": channels})
    assert ("pairs-at-house-angle", "Acoustic Gtr L and Acoustic Gtr R") in flagged(drawn_in, "acoustic-song")
    assert "pairs-at-house-angle" not in load_standard("pre-bounce").rules
