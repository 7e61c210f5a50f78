"""Rules that flag only what is heard: files written for the purpose stand in for the examples in the rule file."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from mixlint.facts import SessionContext
from mixlint.review.engine import judged
from mixlint.rulebook import load_standard
from mixlint.session import Clip
from tests.facts.audio_sessions import audio_context, sine, write
from tests.facts.small_sessions import mix, track

RULES = load_standard("pre-bounce").rules
CREST = np.pi / 2.0


def edge(folder: Path, level_db: float, **fades: float) -> SessionContext:
    """One clip that starts at the crest of a sine of ``level_db`` dBFS at the mix bus, and ends faded."""
    peak = 10.0 ** (level_db / 20.0)
    file = write(folder, "vocal.wav", np.stack([sine(100.0, 1.0, peak, CREST)] * 2, axis=1))
    clip = Clip(start_s=0.0, end_s=1.0, file=file.id, **{"fade_out_s": 0.01, "fade_in_s": 0.0} | fades)
    return audio_context(folder, [file], track("Vocal", legs=2, clips=(clip,)), mix())


def join(folder: Path, level_db: float, **fades: float) -> SessionContext:
    """A sine at −80 dBFS that meets the crest of one of ``level_db`` dBFS."""
    quiet, loud = (10.0 ** (db / 20.0) for db in (-80.0, level_db))
    one = write(folder, "one.wav", np.stack([sine(100.0, 1.0, quiet)] * 2, axis=1))
    two = write(folder, "two.wav", np.stack([sine(100.0, 1.0, loud, CREST)] * 2, axis=1))
    clips = (
        Clip(start_s=0.0, end_s=1.0, file=one.id, fade_in_s=0.01, fade_out_s=0.0),
        Clip(start_s=1.0, end_s=2.0, file=two.id, **{"fade_in_s": 0.0, "fade_out_s": 0.01} | fades),
    )
    return audio_context(folder, [one, two], track("Vocal", legs=2, clips=clips), mix())


def set_of(folder: Path, *tones: float) -> SessionContext:
    """Stems that hold one tone each."""
    files = [write(folder, f"Stem {n}.wav", sine(hz, 1.0)) for n, hz in enumerate(tones)]
    return audio_context(folder, files, *(track(f"Stem {n}") for n in range(len(files))), mix(), importer="stems")


HEARD: dict[str, dict[str, Callable[[Path], SessionContext]]] = {
    "edges-faded": {
        "flagged": lambda folder: edge(folder, -49.5),
        "clear": lambda folder: edge(folder, -50.5),
        "open": lambda folder: edge(folder, -20.0, fade_in_s=Clip(start_s=0.0, end_s=1.0).fade_in_s),
    },
    "joins-crossfaded": {
        "flagged": lambda folder: join(folder, -39.5),
        "clear": lambda folder: join(folder, -40.5),
    },
    "stems-differ": {
        "flagged": lambda folder: set_of(folder, 60.0, 90.0, 60.0),
        "clear": lambda folder: set_of(folder, 60.0, 90.0, 120.0),
    },
}


@pytest.mark.parametrize(("rule", "verdict"), [(rule, verdict) for rule, found in HEARD.items() for verdict in found])
def test_what_is_heard_is_judged(tmp_path: Path, rule: str, verdict: str) -> None:
    """Each stands half a decibel on its side of the rule's limit, where the rule has one."""
    findings = judged(HEARD[rule][verdict](tmp_path), RULES[rule])
    assert [finding.verdict for finding in findings] == [verdict], findings[0].message


@pytest.mark.parametrize("rule", list(HEARD))
def test_the_rule_says_that_it_needs_audio(rule: str) -> None:
    assert "audio" in RULES[rule].needs


def test_sixteen_bit_is_told_where_most_audio_is_longer(tmp_path: Path) -> None:
    """One file of 16 bit among three; the same file alone is no odd one out."""
    short = write(tmp_path, "old.wav", sine(60.0, 1.0), subtype="PCM_16")
    long = [write(tmp_path, f"{n}.wav", sine(60.0, 1.0)) for n in "ab"]

    def verdicts(*files):
        played = (track(f.id, clips=(Clip(start_s=0.0, end_s=1.0, file=f.id),)) for f in files)
        context = audio_context(tmp_path, list(files), *played, mix())
        return [finding.verdict for finding in judged(context, RULES["sources-uncompressed"])]

    assert verdicts(short, *long) == ["flagged", "clear", "clear"]
    assert verdicts(short) == ["clear"]


def test_stems_of_two_word_lengths_are_told(tmp_path: Path) -> None:
    files = [write(tmp_path, f"{n}.wav", sine(60.0, 1.0), subtype=s) for n, s in (("a", "PCM_16"), ("b", "PCM_24"))]
    for chosen, verdict in ((files, "flagged"), ([files[0], files[0].model_copy(update={"id": "c"})], "clear")):
        context = audio_context(tmp_path, list(chosen), track("A"), track("B"), mix(), importer="stems")
        assert [finding.verdict for finding in judged(context, RULES["stems-one-format"])] == [verdict]
