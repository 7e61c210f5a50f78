"""Tone as a picture: its curves are those of the equalizers that the session holds."""

from __future__ import annotations

import re
from typing import Any

import numpy as np
import pytest
from drawn import collisions, geometry, hall, picture, session, strip, svg_of, to
from hypothesis import given, settings
from hypothesis import strategies as st
from lxml import etree
from scipy.signal import butter, freqz

from mixlint.analysis.tone import KnownResponse, known_response
from mixlint.facts import SessionContext
from mixlint.reports.pictures.picture import Missing, Picture
from mixlint.reports.pictures.tone import HIGH_DB, LOW_DB, PLOT_H, PLOT_W, frequencies
from mixlint.session import Equalizer, EqualizerBand, Insert, Unknown

RATE = 48_000.0


def eq(*bands: EqualizerBand) -> Insert:
    """An equalizer whose bands are shown."""
    return Insert(name="Desk EQ", kind="equalizer", opaque=False, equalizer=Equalizer(bands=bands))


def low_cut(hz: float) -> EqualizerBand:
    return EqualizerBand(kind="high-pass", freq_hz=hz, q=2**-0.5, slope_db_per_oct=12.0)


def bell(hz: float, db: float, q: float = 1.0) -> EqualizerBand:
    return EqualizerBand(kind="bell", freq_hz=hz, gain_db=db, q=q)


def points(path: str) -> Any:
    """The points of a path, (n, 2)."""
    return np.array(re.findall(r"(-?[\d.]+) (-?[\d.]+)", path), dtype=float)


def drawn_db(made: Any, n: int = 0, curve: int = 0) -> tuple[Any, Any]:
    """Frequencies and gains of a curve as it stands in the picture."""
    sheet = geometry(made).sheets[n]
    found = points(sheet.curves[curve].path)
    hz = 20.0 * 1000.0 ** ((found[:, 0] - sheet.x) / PLOT_W)
    return hz, HIGH_DB - (found[:, 1] - sheet.y) / PLOT_H * (HIGH_DB - LOW_DB)


def test_a_low_cut_is_that_of_butterworth() -> None:
    """scipy.signal.butter, order two: −3 dB at its frequency, 12 dB an octave below."""
    made = picture("tone", session(strip("Lead Vocal", inserts=(eq(low_cut(100.0)),)), sample_rate_hz=RATE))
    hz, db = drawn_db(made)
    _, wanted = freqz(*butter(2, 100.0, "high", fs=RATE), worN=hz, fs=RATE)
    assert db == pytest.approx(20.0 * np.log10(np.abs(wanted)), abs=0.6)


def test_a_bell_is_that_of_the_cookbook() -> None:
    """The bell of R. Bristow-Johnson's cookbook (a W3C note), worked out here and run through scipy.signal.freqz."""
    made = picture("tone", session(strip("Lead Vocal", inserts=(eq(bell(1000.0, 6.0, 1.4)),)), sample_rate_hz=RATE))
    w, a = 2.0 * np.pi * 1000.0 / RATE, 10.0 ** (6.0 / 40.0)
    alpha = np.sin(w) / (2.0 * 1.4)
    hz, db = drawn_db(made)
    b = [1 + alpha * a, -2 * np.cos(w), 1 - alpha * a]
    _, wanted = freqz(b, [1 + alpha / a, -2 * np.cos(w), 1 - alpha / a], worN=hz, fs=RATE)
    assert db == pytest.approx(20.0 * np.log10(np.abs(wanted)), abs=0.4)
    assert made.answer.startswith("Lead Vocal is raised most: by 6 dB about 1 000 Hz.")


def test_what_stands_on_a_group_counts_and_what_is_off_does_not() -> None:
    lead = strip("Lead Vocal", output="g", inserts=(eq(bell(1000.0, 6.0)).model_copy(update={"on": False}),))
    group = strip("g", "group", inserts=(eq(bell(300.0, -4.0)),))
    made = picture("tone", session(lead, group))
    assert isinstance(made, Picture)
    assert "lowered most: by 4 dB about 300 Hz" in made.answer


def test_two_that_belong_together_share_a_sheet() -> None:
    def guitars(db: float) -> Any:
        left = strip("Acoustic Gtr L", pan=-50.0, inserts=(eq(bell(1000.0, 3.0)),))
        right = strip("Acoustic Gtr R", pan=50.0, inserts=(eq(bell(1000.0, db)),))
        return picture("tone", session(left, right))

    alike, unlike = guitars(3.0), guitars(-2.0)
    assert [[curve.kind for curve in sheet.curves] for sheet in geometry(alike).sheets] == [["first"]]
    assert [[curve.kind for curve in sheet.curves] for sheet in geometry(unlike).sheets] == [["first", "second"]]
    assert alike.answer.startswith("The two of the pair have one tone.")
    assert unlike.answer.startswith("Acoustic Gtr L and Acoustic Gtr R differ by 5 dB about 1 000 Hz.")
    assert {one.text for one in geometry(alike).labels} >= {"Acoustic Gtr L and R"}


def test_what_is_hidden_is_said_and_never_drawn_as_flat() -> None:
    made = picture(
        "tone", session(strip("Lead Vocal", inserts=(Insert(name="Old EQ", kind="equalizer"),)), strip("Kick"))
    )
    d = geometry(made)
    assert [(one.hidden, one.curves) for one in d.sheets] == [(True, ())]
    texts = {one.text for one in d.labels}
    assert texts >= {"in part hidden: Old EQ", "No equalizer and no filter: Kick"}
    assert "hidden" in made.answer


def test_without_any_equalizer_there_is_no_picture() -> None:
    made = picture("tone", session(strip("Kick")))
    assert isinstance(made, Missing)
    assert made.why == "no equalizer or filter is on the path of any part"
    assert picture("tone", session()) is None


def test_inserts_that_are_not_shown_are_named() -> None:
    gone = strip("Fiddle", missing={"inserts": Unknown(unknown="the list has no inserts")})
    made = picture("tone", session(strip("Kick", inserts=(eq(low_cut(40.0)),)), gone))
    assert "Inserts not shown: Fiddle" in {one.text for one in geometry(made).labels}
    assert isinstance(picture("tone", session(gone)), Missing)


def test_a_return_shows_the_filters_of_its_ambience() -> None:
    sent = strip("Lead Vocal", sends=(to("Hall"),))
    wet = hall("Hall").model_copy(update={"inserts": (*hall("Hall").inserts, eq(low_cut(200.0)))})
    d = geometry(picture("tone", session(sent, wet)))
    assert [one.text for one in d.labels if one.kind == "name"] == ["Hall"]


BANDS = st.builds(
    EqualizerBand,
    kind=st.sampled_from(("high-pass", "low-pass", "band-pass", "high-shelf", "low-shelf", "bell", "notch")),
    freq_hz=st.floats(20.0, 20_000.0),
    gain_db=st.floats(-24.0, 24.0),
    q=st.floats(0.1, 20.0),
)
NAMES = st.sampled_from(("Acoustic Gtr L", "Acoustic Gtr R", "W" * 60, "東京のギターです", "<b>", "{{ 7 }}", "Kick"))


@pytest.mark.slow
@settings(deadline=None, max_examples=20)
@given(st.lists(st.tuples(NAMES, st.lists(BANDS, max_size=3), st.booleans()), min_size=1, max_size=12))
def test_curves_stay_in_their_sheets_and_labels_apart(parts: list[Any]) -> None:
    hidden = Insert(name="Old EQ of a very long name indeed", kind="equalizer")
    strips = [
        strip(f"p{n}", name=name, pan=(-50.0, 50.0)[n % 2], inserts=(eq(*bands), *((hidden,) if dark else ())))
        for n, (name, bands, dark) in enumerate(parts)
    ]
    made = picture("tone", session(*strips))
    if not isinstance(made, Picture):
        return
    d = geometry(made)
    assert collisions(d) == []
    for sheet in d.sheets:
        for curve in sheet.curves:
            found = points(curve.path)
            if found.size:
                assert found[:, 0].min() >= sheet.x - 0.1
                assert found[:, 0].max() <= sheet.x + PLOT_W + 0.1
                assert found[:, 1].min() >= sheet.y - 0.1
                assert found[:, 1].max() <= sheet.y + PLOT_H + 0.1
    etree.fromstring(svg_of(made))


@pytest.mark.slow
def test_a_thousand_channels_are_folded_by_families() -> None:
    strips = [
        strip(f"p{n}", name=f"{('Kick', 'Piano', 'Zorf')[n % 3]} {n}", inserts=(eq(bell(100.0 + 9 * n, 5.0)),))
        for n in range(1000)
    ]
    made = picture("tone", session(*strips))
    assert isinstance(made, Picture)
    assert len(geometry(made).sheets) == 3
    assert len(svg_of(made)) < 150_000


def test_the_response_of_a_chain_is_the_sum_of_its_bands_in_decibels() -> None:
    """Filters in series multiply (the definition of a transfer function)."""
    at = frequencies()
    one, two = strip("a", inserts=(eq(bell(400.0, 5.0)),)), strip("b", inserts=(eq(low_cut(90.0)),))
    context = SessionContext(session(one, two))
    each = [known_response(context, [channel], at) for channel in (one, two)]
    both = known_response(context, [one, two], at)
    assert isinstance(both, KnownResponse)
    assert both.db == pytest.approx(sum(found.db for found in each if isinstance(found, KnownResponse)))
