"""The effect returns: responses against an outside reference, limits of the rules in force, sides, what is hidden."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from lxml import etree
from scipy import signal

from mixlint.analysis.ambience import path_response
from mixlint.analysis.gain_to_mix_bus import right_share
from mixlint.facts import House, SessionContext
from mixlint.reports.page.document import review_html
from mixlint.reports.pictures import ambience
from mixlint.reports.pictures.ambience.panels import AXIS_LEFT, AXIS_RIGHT, FREQUENCY, WIDTH, Panels
from mixlint.reports.pictures.ambience.returns import POINTS_HZ
from mixlint.reports.pictures.lettering import text_width
from mixlint.reports.pictures.picture import Picture, Pictures, Scene
from mixlint.review import review
from mixlint.review.findings import Report
from mixlint.rulebook import Standard, load_standard
from mixlint.session import (
    Automation,
    Channel,
    Clip,
    Equalizer,
    EqualizerBand,
    Insert,
    Send,
    Session,
    Unknown,
    is_known,
)
from tests.importers.made_sessions import sessions

RATE = 48_000.0


@pytest.fixture(scope="module")
def standard() -> Standard:
    return load_standard()


def bands(*given: EqualizerBand, name: str = "Band Filter") -> Insert:
    return Insert(name=name, kind="equalizer", opaque=False, equalizer=Equalizer(bands=given))


def low_cut(freq_hz: float, slope: float = 12.0) -> EqualizerBand:
    return EqualizerBand(kind="high-pass", freq_hz=freq_hz, slope_db_per_oct=slope)


def reverb(wet: Any = 100.0, **more: Any) -> Insert:
    return Insert(name="Old Hall", kind="reverb", wet=wet, **more)


def guitar(side: str, pan: float, to: str, **more: Any) -> Channel:
    return Channel(
        id=side, name=f"Acoustic Gtr {side}", kind="track", legs=1, pan=pan, output="mix",
        clips=(Clip(start_s=0.0, end_s=60.0),), sends=(Send(to=to, level_db=-12.0),), **more,
    )  # fmt: skip


def plate(id: str, pan: float, *inserts: Insert, output: str = "mix", **more: Any) -> Channel:
    return Channel(id=id, name=f"Plate {id}", kind="return", legs=2, pan=pan, output=output, inserts=inserts, **more)


MIX = Channel(id="mix", name="Mix Bus", kind="master", legs=2, output=None)


def picture_of(session: Session, standard: Standard | None = None) -> Picture:
    found = drawn(session, standard)
    assert found is not None
    return found


def drawn(session: Session, standard: Standard | None = None) -> Picture | None:
    context = SessionContext(session, standard.house if standard else House())
    made = review(context, standard, source="", digest="", everything=False, areas=["ambience"]) if standard else None
    rules = tuple(standard.rules.values()) if standard else ()
    return ambience.draw(Scene(context, made.findings if made else (), rules), "ambience", "Ambience")


def panels(picture: Picture) -> Panels:
    assert isinstance(picture.drawing, Panels)
    return picture.drawing


def response_of(*inserts: Insert, output: str = "mix", others: tuple[Channel, ...] = ()) -> np.ndarray:
    session = Session(channels=(guitar("L", -60.0, "a"), plate("a", 60.0, *inserts, output=output), *others, MIX))
    context = SessionContext(session)
    return np.asarray(path_response(context, context.channels["a"], POINTS_HZ).db)


def outside_db(b: np.ndarray, a: np.ndarray) -> np.ndarray:
    """A digital filter's response by scipy.signal.freqz, relative to 1 kHz."""
    _, h = signal.freqz(b, a, worN=np.array([1000.0, *POINTS_HZ]), fs=RATE)
    level = np.abs(h)
    return np.asarray(20.0 * np.log10(np.maximum(level[1:] / level[0], 1e-5)))


@pytest.mark.parametrize(("order", "slope"), [(2, 12.0), (3, 18.0), (4, 24.0)])
def test_a_low_cut_is_the_butterworth_filter_of_scipy(order: int, slope: float) -> None:
    """scipy.signal.butter, a design of its own by bilinear transform."""
    wanted = outside_db(*signal.butter(order, 150.0, "highpass", fs=RATE))
    assert response_of(bands(low_cut(150.0, slope)), reverb()) == pytest.approx(wanted, abs=0.01)


def test_a_bell_is_the_analogue_prototype_made_digital_by_scipy() -> None:
    """H(s) = (s² + s A/Q + 1) / (s² + s /(A Q) + 1) of the W3C Audio EQ Cookbook, by scipy.signal.bilinear."""
    freq, gain, q = 2500.0, 6.0, 2.0
    amount = 10.0 ** (gain / 40.0)
    warped = 2.0 * RATE * np.tan(np.pi * freq / RATE)
    up = [1.0 / warped**2, amount / q / warped, 1.0]
    down = [1.0 / warped**2, 1.0 / (amount * q) / warped, 1.0]
    wanted = outside_db(*signal.bilinear(up, down, fs=RATE))
    bell = bands(EqualizerBand(kind="bell", freq_hz=freq, gain_db=gain, q=q))
    assert response_of(bell, reverb()) == pytest.approx(wanted, abs=0.01)


def test_every_filter_on_the_way_counts_wherever_it_stands() -> None:
    """Two filters, one behind the effect and one on a bus that only the return feeds, against a cascade of scipy's."""
    bus = Channel(id="bus", name="Verbs", kind="group", legs=2, output="mix", inserts=(bands(low_cut(80.0)),))
    found = response_of(reverb(), bands(low_cut(150.0)), output="bus", others=(bus,))
    wanted = sum(outside_db(*signal.butter(2, hz, "highpass", fs=RATE)) for hz in (80.0, 150.0))
    assert found == pytest.approx(np.maximum(wanted, -100.0), abs=0.01)


def test_a_filter_that_is_switched_off_is_none() -> None:
    off = bands(low_cut(150.0)).model_copy(update={"on": False})
    assert response_of(off, reverb()) == pytest.approx(np.zeros(len(POINTS_HZ)))


CROSSED = Session(
    channels=(
        guitar("L", -60.0, "a"),
        guitar("R", 60.0, "b"),
        plate("a", 70.0, bands(low_cut(150.0)), reverb(pre_delay_ms=30.0)),
        plate("b", -70.0, reverb(wet=75.0, pre_delay_ms=200.0)),
        MIX,
    )
)


def test_what_a_return_does_is_drawn_where_it_is(standard: Standard) -> None:
    """One return is as it should be; the other keeps its low end, passes dry signal 9.5 dB down, and comes late."""
    picture = picture_of(CROSSED, standard)
    fine, wrong = panels(picture).panels
    assert fine.marks == ()
    assert {mark.kind for mark in wrong.marks} >= {"hold", "look"}
    assert wrong.shorts[0].value.text == "−9.5 dB"
    assert fine.shorts[0].value.text == "none"
    assert [panel.shorts[1].value.text for panel in (fine, wrong)] == ["30 ms", "200 ms"]
    assert picture.answer.startswith("Dry signal passes Plate b (−9.5 dB).")
    assert any(abs(mark.x - FREQUENCY.at(60.0)) < 0.2 for mark in wrong.marks)


def test_the_limit_is_that_of_the_rule_in_force(standard: Standard) -> None:
    """A standard that asks for more moves the foot down; without the rule there is none."""
    rule = standard.rules["return-low-cut"]
    limit = rule.limits["low_cut_db"].model_copy(update={"value": 18.0})
    strict = replace(rule, limits={**rule.limits, "low_cut_db": limit})
    context = SessionContext(CROSSED)
    feet = []
    for rules in ((rule,), (strict,), ()):
        found = ambience.draw(Scene(context, (), rules), "ambience", "Ambience")
        assert found is not None
        feet.append(panels(found).panels[1].limit)
    assert feet[0] is not None
    assert feet[1] is not None
    assert feet[2] is None
    assert feet[1] - feet[0] == pytest.approx(12.0 / 42.0 * 84.0, abs=0.11)


def test_a_limit_that_the_rule_does_not_ask_of_a_return_is_faint(standard: Standard) -> None:
    """A guitar that has lost its low end brings none to the return."""
    cut = guitar("L", -60.0, "a", inserts=(bands(low_cut(150.0)),))
    session = Session(channels=(cut, plate("a", 60.0, reverb()), MIX))
    assert panels(picture_of(session, standard)).panels[0].asked is False
    assert panels(picture_of(CROSSED, standard)).panels[0].asked is True


def test_sides_are_where_the_pans_put_them() -> None:
    """A ring for the guitar on its side, a dot for the return on the other; a moved pan moves the dot."""
    first, second = panels(picture_of(CROSSED)).panels
    middle = (AXIS_LEFT + AXIS_RIGHT) / 2
    for panel, left_fed in ((first, True), (second, False)):
        side = panel.shorts[2]
        assert side.dot is not None
        assert (side.dot > middle) is left_fed
        assert (side.rings[0][0] < middle) is left_fed
    moved = CROSSED.model_copy(
        update={"channels": tuple(c.model_copy(update={"pan": 0.0}) if c.id == "a" else c for c in CROSSED.channels)}
    )
    assert panels(picture_of(moved)).panels[0].shorts[2].dot == pytest.approx(middle, abs=0.1)


def test_the_share_of_a_side_is_that_of_the_pan_law() -> None:
    """Equal power: a mono part at −50 has cos²(π/8) of its energy on the left (from the law itself)."""
    context = SessionContext(Session(channels=(guitar("L", -50.0, "a"), plate("a", 0.0, reverb()), MIX)))
    assert right_share(context, "L", dry=True) == pytest.approx(1.0 - np.cos(np.pi / 8) ** 2, abs=1e-9)
    assert right_share(context, "a") == pytest.approx(0.5)


def test_a_pan_that_moves_counts_while_sound_passes() -> None:
    """Left for the quarter of the song in which it plays, right for the rest: all of it is on the left."""
    lane = Automation(target="pan", scale="pan", t=(0.0, 20.0, 20.0), v=(-100.0, -100.0, 100.0))
    part = guitar("L", 0.0, "a", automation=(lane,)).model_copy(update={"clips": (Clip(start_s=0.0, end_s=20.0),)})
    rest = Channel(id="x", name="Pad", kind="track", legs=1, output="mix", clips=(Clip(start_s=0.0, end_s=80.0),))
    context = SessionContext(Session(channels=(part, rest, plate("a", 0.0, reverb()), MIX)))
    share = right_share(context, "L", dry=True)
    assert is_known(share)
    assert share < 0.05


def test_what_is_hidden_is_drawn_as_unknown() -> None:
    """An equalizer without settings; inserts that the export does not show; a wet share that nobody tells."""
    opaque = Insert(name="Strange EQ", kind="equalizer")
    bare = plate("b", 0.0).model_copy(update={"missing": {"inserts": Unknown(unknown="the export holds none")}})
    dim = plate("c", 0.0, reverb(wet=Unknown(unknown="the export does not show it")))
    session = Session(
        channels=(
            guitar("L", 0.0, "a"), guitar("R", 0.0, "b"), guitar("C", 0.0, "c"),
            plate("a", 0.0, opaque, reverb()), bare, dim, MIX,
        )
    )  # fmt: skip
    picture = picture_of(session)
    first, second, third = panels(picture).panels
    assert first.partly
    assert first.hidden is not None
    assert first.hidden.whole == "not shown: Strange EQ"
    assert second.curve == ""
    assert second.hidden is not None
    assert third.shorts[0].dot is None
    assert third.shorts[0].value.text == "not known"
    assert "Not all is shown of Plate a, Plate b, Plate c." in picture.answer


def test_without_returns_there_is_nothing() -> None:
    assert drawn(Session(channels=(MIX,))) is None
    chorus = Channel(
        id="a", name="Chorus", kind="return", output="mix", inserts=(Insert(name="Wide", kind="modulation"),)
    )
    assert drawn(Session(channels=(guitar("L", 0.0, "a"), chorus, MIX))) is None


def test_of_many_returns_the_gravest_are_drawn_and_all_are_told(standard: Standard) -> None:
    many = [plate(str(n), 0.0, bands(low_cut(150.0)), reverb(wet=50.0 if n == 29 else 100.0)) for n in range(30)]
    parts = [guitar(f"g{n}", 0.0, str(n)) for n in range(30)]
    picture = picture_of(Session(channels=(*parts, *many, MIX)), standard)
    assert len(panels(picture).panels) == ambience.MOST
    assert panels(picture).panels[-1].lines[0].whole == "Plate 29"
    assert len(picture.words.rows) == 30


@pytest.mark.slow
@settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow])
@given(sessions())
def test_any_session_is_drawn_inside_its_frame_with_texts_apart(session: Session) -> None:
    picture = drawn(session)
    if picture is None:
        return
    one = panels(picture)
    for panel in one.panels:
        assert 0.0 <= panel.top < panel.bottom <= one.bottom
        for line in panel.lines:
            assert text_width(line.text, bold=line.kind == "name") <= one.left - 52
        for short in panel.shorts:
            assert one.text + text_width(short.value.text) <= WIDTH + 1
            assert short.dot is None or AXIS_LEFT <= short.dot <= AXIS_RIGHT
            assert all(AXIS_LEFT <= x <= AXIS_RIGHT for x, _ in short.rings)
        points = [(float(x), float(y)) for x, y in re.findall(r"([\d.]+) ([\d.]+)", panel.curve)]
        assert all(one.left <= x <= one.right and panel.top <= y <= panel.bottom for x, y in points)
    assert all(above.bottom < below.top for above, below in pairwise(one.panels))


def test_names_are_text_and_the_page_is_well_formed(standard: Standard) -> None:
    hostile = "</text><script>alert(1)</script>\x1b[31m" + "x" * 300
    session = Session(channels=(*(c.model_copy(update={"name": hostile}) for c in CROSSED.channels[:-1]), MIX))
    made = review(SessionContext(session), standard, source="", digest="", everything=False, areas=["prep"])
    html = review_html(Report(version="0", sessions=(made,)), [Pictures(None, (picture_of(session, standard),))])
    root = etree.fromstring(html.split("\n", 1)[1].encode(), etree.XMLParser(recover=False))
    assert len(root.findall(".//{*}script")) == 1  # the page's own
    assert "x" * 300 in "".join(root.itertext())
