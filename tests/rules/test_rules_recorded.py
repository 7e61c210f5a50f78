"""What listens to single files is tried on real recordings: drums, guitars, voices, loops, noises, none of them faulty.

They come with a data package of Debian's (tests/recordings.py): public domain, of many makers.
"""

from __future__ import annotations

from pathlib import PurePath

import pytest

from mixlint.facts import SessionContext
from mixlint.media import Library
from mixlint.review import Finding
from mixlint.review.engine import judged
from mixlint.rulebook import load_standard
from mixlint.session import Channel, Clip, MediaFile, Session
from tests.recordings import recordings

RULES = load_standard("pre-bounce").rules
FOUND = recordings()

TRUE = {
    ("recording-keeps-its-tops", "drum_heavy_kick"),  # driven flat against full scale on purpose
    ("recording-keeps-its-tops", "loop_amen_full"),
    ("sides-of-a-file-keep-one-polarity", "perc_bell"),  # correlates by −0.71
    ("sides-of-a-file-keep-one-polarity", "vinyl_hiss"),  # the crackle of a record, which lies between its sides
    ("recording-without-clicks", "vinyl_hiss"),
    ("recording-without-clicks", "glitch_bass_g"),  # made of clicks
    ("recording-without-clicks", "glitch_perc1"),
    ("recording-without-clicks", "tabla_ghe5"),  # a splice at 0.2 s, −45 dBFS
    ("rests-without-noise", "ambi_sauna"),  # steam
    ("spectrum-goes-to-its-end", "ambi_soft_buzz"),  # these four end within a step
    ("spectrum-goes-to-its-end", "elec_bong"),
    ("spectrum-goes-to-its-end", "elec_cymbal"),
    ("spectrum-goes-to-its-end", "elec_lo_snare"),
    ("spectrum-goes-to-its-end", "misc_crow"),  # nothing at all over 5.1 kHz, 71 dB down within a step
}
"""What is told and true."""


@pytest.fixture(scope="module")
def flagged() -> list[Finding]:
    """The rows at look or hold that rules about files raise, each file on a track of its own."""
    root = FOUND[0].parent
    channels, media = [], []
    with_lengths = Library(Session(media=tuple(MediaFile(id=f.stem, path=f.name) for f in FOUND)), root)
    for file in FOUND:
        length = with_lengths.header(file.stem).duration_s  # type: ignore[union-attr]
        media.append(MediaFile(id=file.stem, path=file.name, duration_s=length))
        clip = Clip(start_s=0.0, end_s=length, file=file.stem, fade_in_s=0.0, fade_out_s=0.0)
        channels.append(Channel(id=file.stem, name=file.stem, kind="track", output="mix", clips=(clip,)))
    session = Session(
        channels=(*channels, Channel(id="mix", name="Mix Bus", kind="master", output=None)), media=tuple(media)
    )
    with Library(session, root) as audio:
        context = SessionContext(session, audio=audio)
        rules = [rule for rule in RULES.values() if rule.over == "media" and rule.needs]
        return [f for rule in rules for f in judged(context, rule) if f.verdict == "flagged" and f.grade != "note"]


@pytest.mark.slow
@pytest.mark.skipif(not FOUND, reason="no recordings at hand: python -m tests.recordings FOLDER fetches them")
def test_sound_recordings_are_told_nothing(flagged: list[Finding]) -> None:
    """Loops and single strokes are cut as they are meant to be; nothing else is told but what is there to be heard."""
    told = {(f.rule, PurePath(f.subject.name).stem) for f in flagged if f.rule != "first-and-last-note-are-whole"}
    assert told <= TRUE, told - TRUE
