"""The mix in stereo as a picture: it obeys the session, and nothing in it lies on anything else."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from drawn import collisions, geometry, hall, picture, session, strip, svg_of, to
from hypothesis import given, settings
from hypothesis import strategies as st
from lxml import etree

from mixlint.analysis.stereo_image import position_of_powers
from mixlint.facts import SessionContext
from mixlint.reports.pictures.picture import Missing, Picture
from mixlint.reports.pictures.shapes import BIGGEST, radius
from mixlint.reports.pictures.stereo.layout import x_of
from mixlint.review import Finding, review
from mixlint.review.findings import Evidence, SubjectRef
from mixlint.rulebook import load_standard
from mixlint.session import Automation, Session, Unknown

LEFT = strip("Acoustic Gtr L", pan=-50.0)
RIGHT = strip("Acoustic Gtr R", pan=50.0)
VOICE = strip("Lead Vocal")


def drawn(of: Session, *findings: Finding) -> Any:
    """The geometry."""
    return geometry(picture("stereo", of, *findings))


def answer(of: Session, *findings: Finding) -> str:
    made = picture("stereo", of, *findings)
    assert isinstance(made, Picture)
    return made.answer


def spot(d: Any, name: str) -> Any:
    return next(one for one in d.spots if one.title.startswith(name))


def alone(name: str) -> Finding:
    """A finding that nobody answers a part."""
    return Finding(
        rule="pan-answered", area="width", grade="hold", verdict="flagged", message=f"{name} is alone.",
        subject=SubjectRef(table="source", id=name, name=name), fingerprint="a", channels=(name,),
        evidence=(Evidence(fact="answered", value=False, limit=True, known="derived"),),
    )  # fmt: skip


@given(st.floats(-100.0, 100.0))
def test_a_place_is_the_pan_of_equal_power(pan: float) -> None:
    """W3C Web Audio API, StereoPannerNode: x = (pan + 1) / 2, gains cos(x π/2) and sin(x π/2)."""
    x = (pan / 100.0 + 1.0) / 2.0
    left, right = np.cos(x * np.pi / 2.0) ** 2, np.sin(x * np.pi / 2.0) ** 2
    assert position_of_powers(left, right) == pytest.approx(pan, abs=1e-6)


def test_nothing_at_all_is_in_the_centre() -> None:
    assert position_of_powers(0.0, 0.0) == 0.0


@pytest.mark.parametrize("pan", [-100.0, -50.0, 0.0, 30.0, 100.0])
def test_a_moved_pan_moves_its_mark(pan: float) -> None:
    d = drawn(session(strip("Fiddle", pan=pan), VOICE))
    assert spot(d, "Fiddle").x == pytest.approx(x_of(pan), abs=0.2)


def test_a_place_is_told_by_all_paths_and_not_by_the_pan_alone() -> None:
    """A part in the centre whose group stands at the right arrives at the right."""
    d = drawn(session(strip("Fiddle", output="g"), strip("g", "group", pan=60.0), VOICE))
    assert spot(d, "Fiddle").x > x_of(20.0)


def test_an_area_halves_for_ten_decibels() -> None:
    """Loudness in sones halves for 10 dB (Stevens's law as in ISO 532, from memory)."""
    assert (radius(0.1, 1.0) / BIGGEST) ** 2 == pytest.approx(0.5, abs=0.01)
    d = drawn(session(VOICE, strip("Fiddle", fader_db=-10.0)))
    assert (spot(d, "Fiddle").r / spot(d, "Lead Vocal").r) ** 2 == pytest.approx(0.5, abs=0.02)


def test_a_pair_is_joined_until_one_of_it_moves_away() -> None:
    d = drawn(session(LEFT, RIGHT, VOICE))
    assert [one.kind for one in d.strokes] == ["pair"]
    (line,) = d.strokes
    assert line.points[0][0] < x_of(-40.0)
    assert line.points[1][0] > x_of(40.0)
    centred = RIGHT.model_copy(update={"pan": 0.0})
    assert "pair" not in {one.kind for one in drawn(session(LEFT, centred, VOICE)).strokes}


def test_who_stands_alone_is_open_with_an_empty_place_opposite() -> None:
    centred = session(LEFT, RIGHT.model_copy(update={"pan": 0.0}), VOICE)
    made = picture("stereo", centred, alone("Acoustic Gtr L"))
    assert isinstance(made, Picture)
    d = geometry(made)
    assert spot(d, "Acoustic Gtr L").kind == "alone"
    (ghost,) = [one for one in d.spots if one.kind == "ghost"]
    assert ghost.x == pytest.approx(x_of(50.0), abs=0.2)
    assert [one.grade for one in d.flags] == ["hold"]
    assert any(one.kind == "alone" and one.text == "Acoustic Gtr L" for one in d.labels)
    assert made.answer.startswith(
        "Acoustic Gtr L (50 left) stands alone: Acoustic Gtr R, its other half by name, stands in the centre."
    )
    assert "Acoustic Gtr R stands in the centre" in {one.text for one in d.labels}


@pytest.mark.slow
def test_the_review_and_the_picture_tell_the_same_part() -> None:
    """The shipped checklist finds the lone guitar, and the caption names it; of the mended session it names nobody."""
    standard = load_standard(None)
    flawed = session(LEFT, RIGHT.model_copy(update={"pan": 0.0}), VOICE)
    found = review(SessionContext(flawed, standard.house), standard, source="", digest="", everything=False)
    assert "Acoustic Gtr L (50 left) stands alone" in answer(flawed, *found.findings)
    mended = session(LEFT, RIGHT, VOICE)
    found = review(SessionContext(mended, standard.house), standard, source="", digest="", everything=False)
    assert answer(mended, *found.findings).startswith("Every part off the centre is answered on the other side.")


def test_what_a_partner_lacks_is_said() -> None:
    soft = session(LEFT, RIGHT.model_copy(update={"fader_db": -10.0}), VOICE)
    said = "Acoustic Gtr L (50 left) stands alone: Acoustic Gtr R, its other half by name, is 10 dB quieter."
    assert answer(soft, alone("Acoustic Gtr L")).startswith(said)
    muted = session(LEFT, RIGHT.model_copy(update={"mute": True}), VOICE)
    assert "its other half by name, is not heard." in answer(muted, alone("Acoustic Gtr L"))


def test_a_finding_goes_before_a_counterpart() -> None:
    d = drawn(session(LEFT, RIGHT, VOICE), alone("Acoustic Gtr L"))
    assert "pair" not in {one.kind for one in d.strokes}
    assert spot(d, "Acoustic Gtr L").kind == "alone"


@pytest.mark.slow
def test_who_waits_for_a_silent_partner_stands_alone() -> None:
    """The shipped checklist tells it of the silent half, and the picture of the one that is heard."""
    standard = load_standard(None)
    silent = session(LEFT, RIGHT.model_copy(update={"clips": ()}), VOICE)
    found = review(SessionContext(silent, standard.house), standard, source="", digest="", everything=False)
    said = "Acoustic Gtr L (50 left) stands alone: Acoustic Gtr R, its other half by name, is not heard."
    assert answer(silent, *found.findings).startswith(said)


def test_an_open_question_is_no_answer() -> None:
    asked = alone("Zorf").model_copy(update={"verdict": "open"})
    assert "stands alone" not in answer(session(strip("Zorf", pan=-60.0), VOICE), asked)


def test_ambience_on_its_own_side_is_named_where_others_cross() -> None:
    guitars = [LEFT.model_copy(update={"sends": (to("Verb L"),)}), RIGHT.model_copy(update={"sends": (to("Verb R"),)})]
    one_side = session(*guitars, VOICE, hall("Verb L", 60.0), hall("Verb R", 60.0))
    assert "Verb R comes back on the side of Acoustic Gtr R, where others cross." in answer(one_side)
    crossed = session(*guitars, VOICE, hall("Verb L", 60.0), hall("Verb R", -60.0))
    assert "comes back" not in answer(crossed)


def test_without_a_finding_a_part_without_answer_is_open() -> None:
    d = drawn(session(LEFT, VOICE))
    assert spot(d, "Acoustic Gtr L").kind == "open"
    assert "Acoustic Gtr L, unanswered" in {one.text for one in d.labels}
    assert answer(session(LEFT, VOICE)).startswith("No like part answers Acoustic Gtr L (50 left)")


def test_a_name_that_tells_nothing_is_not_called_unanswered() -> None:
    assert spot(drawn(session(strip("Zorf", pan=-60.0), VOICE)), "Zorf").kind == "unread"


def test_a_return_is_joined_to_the_part_that_alone_feeds_it() -> None:
    guitars = [LEFT.model_copy(update={"sends": (to("Verb L"),)}), RIGHT.model_copy(update={"sends": (to("Verb R"),)})]
    d = drawn(session(*guitars, VOICE, hall("Verb L", 50.0), hall("Verb R", -50.0)))
    assert sorted(one.kind for one in d.strokes) == ["ambience", "ambience", "pair"]
    assert spot(d, "Verb L").x > x_of(0.0) > spot(d, "Verb R").x
    assert spot(d, "Verb L").y != spot(d, "Acoustic Gtr L").y
    removed = [LEFT.model_copy(update={"sends": ()}), guitars[1]]
    d = drawn(session(*removed, VOICE, hall("Verb L", 50.0), hall("Verb R", -50.0)))
    assert sorted(one.kind for one in d.strokes) == ["ambience", "pair"]
    assert not [one for one in d.spots if one.title.startswith("Verb L")]


def test_a_return_of_several_stands_apart_and_says_of_how_many() -> None:
    fed = [one.model_copy(update={"sends": (to("Hall"),)}) for one in (LEFT, RIGHT, VOICE)]
    d = drawn(session(*fed, hall("Hall")))
    assert "ambience" not in {one.kind for one in d.strokes}
    assert "Hall, of 3 parts" in {one.text for one in d.labels}
    assert d.bands[-1].lines == ("ambience", "of several")


def test_what_is_not_heard_is_listed_apart() -> None:
    muted, lost = strip("Fiddle", mute=True, pan=30.0), strip("Banjo", output=None)
    d = drawn(session(VOICE, muted, lost))
    texts = [one.text for one in d.labels]
    assert texts[texts.index("Muted:") + 1] == "Fiddle"
    assert texts[texts.index("Does not reach the mix bus:") + 1] == "Banjo"
    assert [one.title.split(",")[0] for one in d.spots] == ["Lead Vocal"]


def test_what_is_not_known_is_listed_with_its_reason() -> None:
    made = picture("stereo", session(VOICE, strip("Fiddle", pan=Unknown(unknown="the list gives no pan"))))
    assert isinstance(made, Picture)
    assert [one.title.split(",")[0] for one in geometry(made).spots] == ["Lead Vocal"]
    row = next(row for row in made.words.rows if row[0] == "Fiddle")
    assert row[1] == "place not known"
    assert "pan" in row[-1]
    assert "not known" in made.answer


def test_no_tone_is_guessed() -> None:
    """Without audio there is one band, which says that nothing was measured."""
    d = drawn(session(LEFT, RIGHT, VOICE))
    assert [one.lines for one in d.bands] == [("tone not", "measured")]
    assert d.head == ""


def test_which_side_is_heavier_and_what_crowds_the_centre() -> None:
    others = [strip(name) for name in ("Piano", "Acoustic Gtr", "Strings")]
    said = answer(session(VOICE, *others, strip("Organ", pan=-80.0)))
    assert "The left is heavier by" in said
    assert "Organ" in said
    assert "Piano, Acoustic Gtr, Strings crowd Lead Vocal there" in said
    texts = {one.text for one in drawn(session(VOICE, *others)).labels}
    assert "Piano, in the voice's range" in texts
    assert "estimated" in said


def test_a_pan_that_moves_is_shown_as_far_as_it_goes() -> None:
    lane = Automation(target="pan", scale="pan", shape="linear", t=(0.0, 60.0), v=(-60.0, 60.0))
    d = drawn(session(VOICE, strip("Fiddle", automation=(lane,))))
    (bar,) = [one for one in d.strokes if one.kind == "moves"]
    assert bar.points[0][0] < x_of(-50.0)
    assert bar.points[1][0] > x_of(50.0)


def test_a_session_of_nothing_and_one_without_a_mix_bus() -> None:
    assert picture("stereo", session()) is None
    assert isinstance(picture("stereo", Session(channels=(strip("Fiddle", output=None),))), Missing)


NAMES = st.sampled_from(
    ("Lead Vocal", "Acoustic Gtr L", "Acoustic Gtr R", "Kick", "Piano 1", "Piano 2", "Zorf", "W" * 60, "東京のギター",
     "<script>", "Strings L", "Strings R", "Hat", "{{ 7 }}", "\u202eback")
)  # fmt: skip
PANS = st.sampled_from((-100.0, -70.0, -50.0, -15.0, 0.0, 3.0, 20.0, 50.0, 100.0))
SENDS = st.lists(st.integers(0, 3), max_size=3)
PARTS = st.tuples(NAMES, PANS, st.sampled_from((1, 1, 2)), st.floats(-40.0, 6.0), SENDS)


@pytest.mark.slow
@settings(deadline=None, max_examples=30)
@given(st.lists(PARTS, min_size=1, max_size=14), st.lists(PANS, min_size=4, max_size=4), st.data())
def test_nothing_lies_on_anything_else(parts: list[Any], pans: list[float], data: st.DataObject) -> None:
    strips = [
        strip(f"p{n}", name=name, pan=pan, legs=legs, fader_db=level, sends=tuple(to(f"r{k}") for k in set(sends)))
        for n, (name, pan, legs, level, sends) in enumerate(parts)
    ]
    lone = data.draw(st.sets(st.sampled_from([one.id for one in strips])))
    made = picture(
        "stereo", session(*strips, *(hall(f"r{n}", pan) for n, pan in enumerate(pans))), *(alone(one) for one in lone)
    )
    assert isinstance(made, Picture)
    assert collisions(geometry(made)) == []
    heard = {one.id for one in strips}
    assert len([one for one in geometry(made).spots if one.kind != "ghost" and "return" not in one.kind]) == len(heard)
    etree.fromstring(svg_of(made))


@pytest.mark.slow
def test_a_thousand_channels_are_folded_by_families() -> None:
    words = ("Kick", "Acoustic Gtr", "Piano", "Backing Vox", "Zorf")
    strips = [
        strip(f"p{n}", name=f"{words[n % 5]} {n // 5}", pan=(-60.0, 0.0, 60.0)[n % 3], sends=(to(f"r{n % 40}"),))
        for n in range(960)
    ]
    made = picture("stereo", session(*strips, *(hall(f"r{n}") for n in range(40))))
    assert isinstance(made, Picture)
    assert collisions(geometry(made)) == []
    assert len(svg_of(made)) < 150_000
    texts = [one.text for one in geometry(made).labels]
    folded = [text.split(", ")[1] for text in texts if text.endswith(" parts") and ", of" not in text]
    assert sum(int(text.split()[0]) for text in folded) == 960
    assert any(one.kind == "pair" for one in geometry(made).strokes)


def test_sixty_channels_stay_small() -> None:
    strips = [strip(f"p{n}", name=f"Harmony {n}", pan=n % 2 * 80.0 - 40.0, sends=(to(f"r{n % 8}"),)) for n in range(52)]
    made = picture("stereo", session(*strips, *(hall(f"r{n}") for n in range(8))))
    assert isinstance(made, Picture)
    assert len(svg_of(made)) < 60_000


def test_nothing_is_said_of_a_side_without_those_whose_place_is_not_known() -> None:
    """A part that may stand anywhere may answer, weigh and crowd: the caption says so, and no share is of the whole."""
    hidden = Unknown(unknown="the export hides it", settle="look at it")
    lute, bass, voice = strip("Lute", pan=hidden), strip("Bass"), strip("Voice")
    made = picture("stereo", session(lute, bass, voice))
    assert isinstance(made, Picture)
    assert "No part stands off the centre, as far as places are known. Where Lute stands is not known." in made.answer
    assert "2 parts that are placed" in made.answer
    assert any("of what is placed" in label.text for label in geometry(made).labels)
    bare = picture("stereo", session(lute, strip("Fiddle", pan=hidden)))
    assert isinstance(bare, Missing)
    assert bare.why.startswith("it is not known where any part stands: Lute: ")
