"""Pairs of microphones as a picture: it obeys their sound, and no text lies on another."""

from __future__ import annotations

from math import inf
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mixlint.facts import SessionContext
from mixlint.facts.microphones.combs import Comb
from mixlint.reports.pictures import KINDS
from mixlint.reports.pictures.pairs import MOST, Pair, PairsPicture, draw_pairs
from mixlint.reports.pictures.picture import Missing, Picture, Scene, Words
from mixlint.review.findings import Finding, SubjectRef
from mixlint.session import Clip
from tests.facts.audio_sessions import RATE, audio_context, write
from tests.facts.small_sessions import context, mix, track
from tests.reports.pictures.read_again import markup, outside, overlaps, svg

KIND = next(kind for kind in KINDS if kind.name == "pairs")
SECONDS = 4


def strokes(seed: int, hz: float) -> np.ndarray:
    """A plucked part: tones that die away at times of its own."""
    rng = np.random.default_rng(seed)
    out, t = np.zeros(SECONDS * RATE), np.arange(RATE // 4) / RATE
    for start in np.arange(0.1, SECONDS - 0.4, 0.37):
        at = round((start + 0.02 * rng.random()) * RATE)
        one = np.sin(2.0 * np.pi * hz * t) * np.exp(-t / 0.1) + 0.4 * rng.normal(size=t.size) * np.exp(-t / 0.03)
        out[at : at + t.size] += rng.uniform(0.5, 1.0) * one
    return 0.2 * out


def later(samples: np.ndarray, by: int) -> np.ndarray:
    return np.concatenate((np.zeros(by), samples[: samples.size - by]))


def heard(folder: Path, sounds: dict[str, np.ndarray], **pans: float) -> SessionContext:
    files, channels = [], []
    for name, samples in sounds.items():
        rng = np.random.default_rng(len(files))
        files.append(write(folder, f"{name}.wav", samples + 1e-4 * rng.standard_normal(samples.size)))
        clip = Clip(start_s=0.0, end_s=samples.size / RATE, file=f"{name}.wav")
        channels.append(track(name, clips=(clip,), pan=pans.get(name.split()[-1], 0.0)))
    return audio_context(folder, files, *channels, mix())


def drawn(at: SessionContext, *findings: Finding) -> Picture:
    found = KIND.draw(Scene(at, findings))
    assert isinstance(found, Picture)
    assert isinstance(found.drawing, PairsPicture)
    return found


def cells(picture: Picture) -> dict[str, str]:
    """The first row of the words, by column."""
    return dict(zip(picture.words.head, picture.words.rows[0], strict=True))


def bass(by: int, sign: float = 1.0) -> dict[str, np.ndarray]:
    part = strokes(3, 90.0)
    return {"Bass DI": part, "Bass Amp": sign * later(part, by)}


def test_the_delay_is_told_in_time_samples_and_air(tmp_path: Path) -> None:
    """240 samples at 48 kHz are 5 ms; sound goes 343 m/s in air at 20 °C (ISO 9613-1), so that is 1.715 m."""
    picture = drawn(heard(tmp_path, bass(240)))
    said = cells(picture)
    assert said["pair"] == "Bass Amp behind Bass DI"
    assert (said["later by"], said["samples"], said["air"]) == ("5 ms", "240", "1.7 m")
    assert said["first notch"] == "100 Hz"
    assert picture.answer.startswith("Bass Amp comes 5 ms (1.7 m) behind Bass DI, later than its sound takes.")


@pytest.mark.slow
def test_one_turned_over_and_a_longer_delay_move_what_is_drawn(tmp_path: Path) -> None:
    rows = []
    for n, (by, sign) in enumerate(((48, 1.0), (240, 1.0), (240, -1.0))):
        folder = tmp_path / str(n)
        folder.mkdir()
        picture = drawn(heard(folder, bass(by, sign)))
        rows.append(picture.drawing.rows[0])  # type: ignore[attr-defined]
    near, far, turned = rows
    assert far.dot == turned.dot
    assert near.notch > far.notch
    assert (far.sign, turned.sign, turned.turned) == ("the same", "turned over", True)
    assert far.curve != turned.curve


def test_two_on_opposite_sides_comb_in_mono_alone(tmp_path: Path) -> None:
    """Hard left and hard right no side of the mix has both; in mono they meet at equal level."""
    part = strokes(5, 160.0)
    sounds = {"Gtr Body": part, "Gtr Neck": later(part, 29)}
    said = cells(drawn(heard(tmp_path, sounds, Body=-100.0, Neck=100.0)))
    assert said["depth before"] == "0 dB"
    assert float(said["depth in mono"].removesuffix(" dB").replace("−", "-")) < -10.0


@pytest.mark.slow
def test_two_that_are_not_heard_are_told_as_missing(tmp_path: Path) -> None:
    """By their names they are one performance; by their sound they have nothing in common."""
    found = KIND.draw(Scene(heard(tmp_path, {"Kick In": strokes(7, 60.0), "Kick Out": strokes(8, 66.0)})))
    assert isinstance(found, Missing)
    assert found.why
    both = drawn(heard(tmp_path, {**bass(48), "Kick In": strokes(7, 60.0), "Kick Out": strokes(8, 66.0)}))
    assert "1 pair could not be measured." in both.answer
    assert any(row[1].startswith("not measured: ") for row in both.words.rows)
    assert "not measured" in markup(both)


def test_without_audio_the_names_are_there_and_the_picture_is_not() -> None:
    found = KIND.draw(Scene(context(track("Kick In"), track("Kick Out"), mix())))
    assert isinstance(found, Missing)
    assert (found.why, found.settle) == ("the audio was not opened", "review it with its audio")


def test_a_session_without_two_microphones_has_no_such_picture() -> None:
    assert KIND.draw(Scene(context(track("Vocal"), track("Bass"), mix()))) is None


def test_a_finding_is_marked_where_it_is(tmp_path: Path) -> None:
    at = heard(tmp_path, bass(240))
    ids = tuple(c.id for c in at.session.channels[:2])
    found = Finding(
        rule="two-mics-in-time", area="phase", grade="look", verdict="flagged", channels=ids, message="late <it is>",
        subject=SubjectRef(table="microphones", id="+".join(ids), name="Bass DI and Bass Amp"), fingerprint="x",
    )  # fmt: skip
    text = markup(drawn(at, found))
    assert 'class="flag look"' in text
    assert "late &lt;it is&gt;" in text
    assert 'class="flag look"' not in markup(drawn(at))


CHANNEL = track("x")


def test_the_ruler_is_one_for_all() -> None:
    """Later means farther along it, and a delay that changes has an end of its own."""
    combs = [Comb(CHANNEL, CHANNEL, ms / 1000.0, None, None, 1, 1.0, True, False, None, 0.0, 0.0) for ms in (0.2, 1, 7)]
    moving = combs[1]._replace(course_s=(0.001, 0.003))
    rows = draw_pairs([Pair("a", "b", comb, "", 0, None) for comb in (*combs, moving)]).rows
    assert rows[0].dot < rows[1].dot < rows[2].dot
    assert rows[3].to is not None
    assert rows[3].dot == rows[1].dot < rows[3].to < rows[2].dot


NAMES = st.text(max_size=60) | st.sampled_from(
    ["WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW", "鼓鼓鼓鼓鼓鼓鼓鼓鼓鼓鼓鼓鼓鼓鼓鼓鼓鼓鼓鼓鼓鼓", "<script>"]
)


@st.composite
def some_pairs(draw: st.DrawFn) -> list[Pair]:
    made = []
    for n in range(draw(st.integers(1, 12))):
        lag = draw(st.floats(0.0, 0.25))
        comb = Comb(
            CHANNEL, CHANNEL, lag, draw(st.none() | st.just((lag, -lag / 2.0))), draw(st.none() | st.just(lag * 48e3)),
            draw(st.sampled_from((1, -1, 0))), draw(st.floats(0.0, 1.0)), draw(st.booleans()), draw(st.booleans()),
            None, draw(st.floats(-60, 60) | st.just(inf)), draw(st.floats(-60, 60) | st.just(-inf)),
        )  # fmt: skip
        why = draw(st.just("") | st.text(min_size=1, max_size=200))
        names = draw(NAMES).strip() or "a", draw(NAMES).strip() or "b"
        made.append(Pair(*names, None if why else comb, why, n // draw(st.integers(1, 3)), None))
    return made


@pytest.mark.slow
@settings(max_examples=30, deadline=None)
@given(some_pairs(), st.integers(0, 3))
def test_no_text_lies_on_another_or_leaves_the_picture(pairs: list[Pair], more: int) -> None:
    clean = [
        pair._replace(first=_plain(pair.first), second=_plain(pair.second), why=_plain(pair.why)) for pair in pairs
    ]
    picture = Picture("pairs", "x", "y", draw_pairs(clean, more), Words((), ()))
    drawing = svg(picture)
    assert overlaps(drawing) == []
    assert outside(drawing) == []


def _plain(text: str) -> str:
    from mixlint.reports.plain import neutral

    return neutral("".join(char for char in text if ord(char) < 0xD800 or ord(char) > 0xFFFF))


def test_a_hundred_pairs_stay_small() -> None:
    """Under 60 KB, whatever there is: the foremost are drawn and the others counted."""
    comb = Comb(CHANNEL, CHANNEL, 0.002, None, 96.0, 1, 0.8, True, False, None, 1.0, 2.0)
    pairs = [Pair(f"Drum {n}", f"Overhead {n}", comb, "", n, None) for n in range(MOST)]
    picture = Picture("pairs", "x", "y", draw_pairs(pairs, 60), Words((), ()))
    text = markup(picture)
    assert len(text) < 60_000
    assert "60 more pairs" in text
