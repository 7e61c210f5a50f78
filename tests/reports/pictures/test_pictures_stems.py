"""Stems against the print of their mix as a picture: planted faults are drawn as what they are."""

from __future__ import annotations

from math import log10
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mixlint.analysis.stem_sum import StemSum
from mixlint.facts import SessionContext
from mixlint.importers import read
from mixlint.media import Library
from mixlint.reports.pictures import KINDS
from mixlint.reports.pictures.picture import Missing, Picture, Scene, Words
from mixlint.reports.pictures.stems import MOST, Stem, StemsPicture, draw_stems
from mixlint.review.findings import Finding, SubjectRef
from mixlint.signal import synthesis
from tests.facts.audio_sessions import RATE, write
from tests.facts.small_sessions import context, mix, track
from tests.reports.pictures.read_again import markup, outside, overlaps, svg
from tests.reports.pictures.test_pictures_pairs import NAMES

KIND = next(kind for kind in KINDS if kind.name == "stems")
SECONDS = 4.0


def sounds() -> dict[str, np.ndarray]:
    """A kit, a voice and noise, (n, 2) each."""
    parts = (
        synthesis.kit(1, SECONDS, RATE),
        synthesis.voice(220.0, 2, SECONDS, RATE),
        synthesis.noise(3, SECONDS, RATE),
    )
    gains = ((0.3, 0.2), (0.3, 0.3), (0.02, 0.05))
    return {
        name: np.stack([left * part, right * part], axis=1)
        for name, part, (left, right) in zip(("Drums", "Vocal", "Shaker"), parts, gains, strict=True)
    }


def folder(place: Path, stems: dict[str, np.ndarray], printed: np.ndarray | None) -> SessionContext:
    for name, samples in stems.items():
        write(place, f"{name}.wav", samples)
    if printed is not None:
        write(place, "Mix.wav", printed)
    session = read(place)
    return SessionContext(session, None, Library(session, place))


def summed(parts: dict[str, np.ndarray]) -> np.ndarray:
    return np.asarray(sum(parts.values()))


def drawn(at: SessionContext, *findings: Finding) -> tuple[Picture, StemsPicture]:
    found = KIND.draw(Scene(at, findings))
    assert isinstance(found, Picture)
    assert isinstance(found.drawing, StemsPicture)
    return found, found.drawing


@pytest.mark.slow
def test_stems_that_add_up_are_told_so(tmp_path: Path) -> None:
    parts = sounds()
    picture, drawing = drawn(folder(tmp_path, parts, summed(parts)))
    assert picture.answer.startswith("The stems add up to Mix.wav: nothing but rounding is left over")
    assert {row.state for row in drawing.rows} == {"inside"}
    assert {row.said for row in drawing.rows} == {"as it is"}
    floor = {float(one.split("V")[1]) for one in drawing.left.split("H")[1:] if "V" in one}
    assert floor <= {float(drawing.bottom)}


@pytest.mark.slow
def test_each_fault_is_drawn_as_what_it_is(tmp_path: Path) -> None:
    """One stem turned over, one that the print does not hold, and a part that is in no stem, which hides a level."""
    parts = sounds()
    stems = {
        "Drums": parts["Drums"],
        "Shaker": -0.5 * parts["Shaker"],
        "Keys": 0.1 * np.repeat(synthesis.voice(180.0, 9, SECONDS, RATE)[:, None], 2, axis=1),
    }
    picture, drawing = drawn(folder(tmp_path, stems, summed(parts)))
    rows = {row.label: row for row in drawing.rows}
    assert (rows["Keys"].state, rows["Keys"].said) == ("absent", "not in the print")
    assert rows["Shaker"].said == "turned over, level open"
    assert rows["Drums"].state == "inside"
    assert rows["Shaker"].x < rows["Drums"].x
    assert "Not in the print: Keys.wav." in picture.answer
    assert " of Mix.wav are " in picture.answer
    assert "V" in drawing.left


def test_a_level_that_is_off_is_told(tmp_path: Path) -> None:
    parts = sounds()
    _, drawing = drawn(folder(tmp_path, {**parts, "Vocal": 0.5 * parts["Vocal"]}, summed(parts)))
    assert [row.said for row in drawing.rows if row.label == "Vocal"] == ["6 dB softer"]


@pytest.mark.slow
def test_a_stem_that_is_there_twice_is_told_as_a_copy(tmp_path: Path) -> None:
    parts = sounds()
    picture, drawing = drawn(folder(tmp_path, {**parts, "Drums Two": parts["Drums"]}, summed(parts)))
    assert "Twice in the set: Drums Two.wav and Drums.wav." in picture.answer
    assert [row.state for row in drawing.rows if row.label.startswith("Drums")] == ["copy", "copy"]


@pytest.mark.slow
def test_a_stretch_in_which_the_print_holds_another_take_is_a_bar_there(tmp_path: Path) -> None:
    parts = {name: np.concatenate([one] * 4) for name, one in sounds().items()}
    stems = {**parts, "Vocal": parts["Vocal"].copy()}
    stems["Vocal"][8 * RATE : 12 * RATE] = parts["Vocal"][9 * RATE : 13 * RATE]
    _, drawing = drawn(folder(tmp_path, stems, summed(parts)))
    ((x, width),) = next(row.bars for row in drawing.rows if row.label == "Vocal")
    span = drawing.time_end - drawing.time
    assert x == pytest.approx(drawing.time + span * 8.0 / 16.0, abs=0.2)
    assert width == pytest.approx(span * 4.0 / 16.0, abs=0.2)


def test_a_folder_without_a_print_and_a_session(tmp_path: Path) -> None:
    """The one tells what would give the picture, the other has nothing of the kind."""
    found = KIND.draw(Scene(folder(tmp_path, dict([*sounds().items()][:2]), None)))
    assert isinstance(found, Missing)
    assert "there is no print of the mix" in found.why
    assert "--print" in found.settle
    assert KIND.draw(Scene(context(track("Vocal"), mix()))) is None


def test_a_finding_is_marked_at_its_stem_and_at_the_set(tmp_path: Path) -> None:
    parts = sounds()
    at = folder(tmp_path, parts, summed(parts))
    media = next(m.id for m in at.session.media if m.path.endswith("Vocal.wav"))
    about = [
        Finding(
            rule="x", area="handover", grade=grade, verdict="flagged", message=f"said of {table}",
            subject=SubjectRef(table=table, id=row, name="n"), fingerprint="x",
        )
        for table, row, grade in (("stem", media, "hold"), ("stems", "stems", "look"))
    ]  # fmt: skip
    picture, drawing = drawn(at, *about)
    assert [row.label for row in drawing.rows if row.flag is not None] == ["Vocal"]
    text = markup(picture)
    assert text.count('class="flag hold"') == text.count('class="flag look"') == 1
    assert "said of stem<" in text
    assert "said of stems<" in text


def total(seconds: float = 200.0, left: float = 1e-4) -> StemSum:
    rng = np.random.default_rng(1)
    whole = rng.uniform(0.5, 1.0, round(seconds / 0.5))
    return StemSum(48_000.0, {}, -20.0, 10.0 * log10(left), 0.0, 0, None, whole * left, whole, 0.5, (), {})


@st.composite
def some_stems(draw: st.DrawFn) -> list[Stem]:
    found = []
    for _ in range(draw(st.integers(1, 20))):
        state = draw(st.sampled_from(("inside", "absent", "copy", "open")))
        share = draw(st.none() | st.floats(-200.0, 3.0)) if state != "inside" else draw(st.floats(-200.0, 3.0))
        start = draw(st.floats(0, 190))
        bars = draw(st.just(()) | st.just(((start, start + 8.0),)))
        found.append(Stem(_plain(draw(NAMES)) or "a", state, share, _plain(draw(NAMES)), bars, None))
    return found


def _plain(text: str) -> str:
    from mixlint.reports.plain import neutral

    return neutral("".join(char for char in text if ord(char) < 0xD800 or ord(char) > 0xFFFF)).strip()


@pytest.mark.slow
@settings(max_examples=30, deadline=None)
@given(some_stems(), st.integers(0, 2), st.floats(0.5, 9000.0))
def test_no_text_lies_on_another_or_leaves_the_picture(stems: list[Stem], more: int, seconds: float) -> None:
    drawing = svg(Picture("stems", "x", "y", draw_stems(total(max(seconds, 1.0)), stems, None, more), Words((), ())))
    assert overlaps(drawing) == []
    assert outside(drawing) == []
    assert all(200.0 < float(bar.get("x", "0")) < 580.0 for bar in drawing.iter("rect"))


def test_many_stems_stay_small() -> None:
    stems = [Stem(f"Stem {n}.wav", "inside", -12.0, "3 dB softer", (), None) for n in range(MOST)]
    text = markup(Picture("stems", "x", "y", draw_stems(total(3600.0), stems, None, 940), Words((), ())))
    assert len(text) < 60_000
    assert "940 more stems" in text
