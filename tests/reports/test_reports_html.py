"""The page: well-formed, self-contained, safe against names, and its drawings."""

from __future__ import annotations

import math
import re
from base64 import b64encode
from hashlib import sha256
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree
from reportsamples import HARBOUR, HOSTILE, HOSTILE_NAME, LULLABY, report

from mixlint.facts import SessionContext
from mixlint.reports.page.document import review_html
from mixlint.reports.pictures import pictures_of
from mixlint.reports.pictures.over_time import draw_balance
from mixlint.reports.pictures.picture import Pictures, Scene
from mixlint.reports.pictures.routing import BOX_HEIGHT, BOX_WIDTH, COLUMNS, draw_routing
from mixlint.reports.pictures.routing import _apart as apart
from mixlint.routing import Routing
from mixlint.session import Automation, Channel, Clip, Insert, Send, Session, Tempo, Timeline, Unknown

XHTML = "{*}"


def strip(id: str, kind: str, output: str | None, **more: object) -> Channel:
    """A channel of a small invented session."""
    return Channel.model_validate({"id": id, "name": id.title(), "kind": kind, "output": output, **more})


SMALL = Session(
    title="Lamp Song",
    timeline=Timeline(tempos=(Tempo(bpm=96),)),
    channels=(
        strip("voice", "track", "voices", legs=1, clips=(Clip(start_s=0, end_s=60),), sends=(Send(to="hall"),)),
        strip("fiddle", "track", "mix", legs=1, pan=-40.0, clips=(Clip(start_s=0, end_s=60),), mute=True),
        strip("voices", "group", "mix", legs=2, sends=(Send(to="hall", tap="pre", level_db=-9.0),)),
        strip("hall", "return", "wet", legs=2, inserts=(Insert(name="Stair Well", kind="reverb"),)),
        strip("wet", "group", "mix", legs=2),
        strip("mix", "master", None, legs=2),
    ),
)


def page(*, everything: bool = False) -> str:
    """A page with everything on it: three sessions, one with pictures, one hostile."""
    pictures = [pictures_of(Scene(SessionContext(SMALL)))]
    return review_html(report(HARBOUR, LULLABY, HOSTILE), pictures, everything=everything)


def test_the_page_is_well_formed() -> None:
    """An XML parser that recovers nothing reads it; the page is written to be both HTML and XML."""
    body = page(everything=True).split("\n", 1)[1]
    root = etree.fromstring(body.encode("utf-8"), etree.XMLParser(recover=False, resolve_entities=False))
    assert root.tag == "html"
    assert len(root.findall("./body/main/article")) == 3
    ids = [e.get("id") for e in root.iter() if e.get("id")]
    assert len(ids) == len(set(ids))


def test_the_page_loads_nothing() -> None:
    """No address, nothing that a browser would fetch; the policy takes the page's own script and style, and says so."""
    text = page(everything=True)
    root = etree.fromstring(text.split("\n", 1)[1].encode("utf-8"))
    tags = {e.tag for e in root.iter() if isinstance(e.tag, str)}
    assert not tags & {"link", "img", "iframe", "object", "embed", "image", "use", "base"}
    for element in root.iter():
        for name, value in element.attrib.items():
            if name.split("}")[-1] in ("href", "src", "action", "data", "poster", "srcset"):
                assert str(value).startswith("#")
            assert not str(name).startswith("on")
            assert name != "style"  # the policy refuses it
    assert not re.search(r"url\(|@import|https?:|//[a-z]", text)


def test_the_policy_knows_script_and_style_by_their_hashes() -> None:
    """As a browser works them out, over the text between the tags (Content Security Policy Level 3, 2.3.1)."""
    root = etree.fromstring(page().split("\n", 1)[1].encode("utf-8"))
    policy = next(e.get("content") for e in root.iter("meta") if e.get("http-equiv") == "Content-Security-Policy")
    for tag in ("script", "style"):
        one = next(root.iter(tag))
        assert len(list(root.iter(tag))) == 1
        digest = b64encode(sha256((one.text or "").encode()).digest()).decode()
        assert f"; {tag}-src 'sha256-{digest}'" in str(policy)
    assert str(policy).startswith("default-src 'none'; ")


def test_nothing_of_a_session_stands_in_script_or_style() -> None:
    """They are the same on every page that has the same pictures."""
    said = {review_html(report(one)).partition("<script>")[2] for one in (HARBOUR, LULLABY, HOSTILE)}
    styles = {review_html(report(one)).partition("<style>")[2].partition("</style>")[0] for one in (HARBOUR, HOSTILE)}
    assert len(said) == len(styles) == 1


def test_names_are_text_and_never_markup() -> None:
    """Markup, template braces and control characters in names come out as visible text."""
    text = page()
    root = etree.fromstring(text.split("\n", 1)[1].encode("utf-8"))
    said = "".join(root.itertext())
    assert "<script>alert(1)</script>" in said
    assert "{{ 7*7 }}" in said
    assert not re.search("[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\ufffe\uffff]", text)
    assert HOSTILE_NAME not in said


def test_hostile_channel_names_in_sheet_and_drawing() -> None:
    """The sheet and the drawing are as safe as the findings."""
    bad = Channel.model_validate({**SMALL.channels[0].model_dump(), "name": HOSTILE_NAME})
    session = SMALL.model_copy(update={"channels": (bad, *SMALL.channels[1:])})
    text = review_html(report(LULLABY), [pictures_of(Scene(SessionContext(session)))])
    etree.fromstring(text.split("\n", 1)[1].encode("utf-8"))
    assert "\x1b" not in text
    assert text.count("<script") == 1


def test_the_page_says_what_the_text_says() -> None:
    """Outcome, numbers, remedy, question, sign-off, assumption and caution are all there."""
    said = " ".join("".join(etree.fromstring(page().split("\n", 1)[1].encode("utf-8")).itertext()).split())
    for words in (
        "Held: do not bounce yet",
        "Clear to bounce",
        "−9.5",
        "−40",
        "Set the effect to 100 % wet",
        "Is the low end cut before or after Plate?",
        "the drummer asked for it",
        "pan law: equal power",
    ):
        assert words in said
    assert said.count("loud sound harms hearing") == 1


def test_clear_and_idle_rows_only_when_asked_for() -> None:
    """``--everything`` adds them."""
    assert "mix-bus-headroom" not in page()
    assert "mix-bus-headroom" in page(everything=True)
    assert "stems-line-up" in page(everything=True)


def test_the_drawing_puts_strips_into_their_columns() -> None:
    """Tracks left, then groups, returns, buses (fed by a return), and the mix bus at the right."""
    drawn = draw_routing(Routing(SMALL, {"hall": {0: "reverb"}}))
    assert drawn is not None
    assert [head for _, head in drawn.heads] == list(COLUMNS)
    x = {box.label: box.x for box in drawn.boxes}
    assert x["Voice"] == x["Fiddle"] < x["Voices"] < x["Hall"] < x["Wet"] < x["Mix"]


def test_the_drawing_has_a_line_per_connection() -> None:
    """Five outputs and two sends; what a mute silences is faint; titles say it in words."""
    drawn = draw_routing(Routing(SMALL))
    assert drawn is not None
    assert sorted(line.kind for line in drawn.lines) == ["output"] * 5 + ["post", "pre"]
    titles = {line.title: line.quiet for line in drawn.lines}
    assert titles["Voices to Hall: pre-fader send, −9 dB"] is False
    assert titles["Fiddle to Mix (silent)"] is True


def test_a_mute_that_automation_holds_is_drawn_as_one() -> None:
    """As one that is stored; a stored mute that automation holds open is none."""
    voice, fiddle = (next(c for c in SMALL.channels if c.name == name) for name in ("Voice", "Fiddle"))
    assert (voice.mute, fiddle.mute) == (False, True)
    held = {
        channel.id: Automation(target="mute", scale="switch", t=(0.0,), v=(1.0 - float(channel.mute is True),))
        for channel in (voice, fiddle)
    }
    channels = (c.model_copy(update={"automation": (held[c.id],)}) if c.id in held else c for c in SMALL.channels)
    drawn = draw_routing(Routing(SMALL.model_copy(update={"channels": tuple(channels)})))
    assert drawn is not None
    quiet = {box.label: box.quiet for box in drawn.boxes}
    assert (quiet["Voice"], quiet["Fiddle"]) == (True, False)


def test_no_two_boxes_overlap_and_all_lie_inside() -> None:
    """Forty tracks into nine groups: every box apart from the next and within the drawing."""
    tracks = [strip(f"t{n}", "track", f"g{n % 9}") for n in range(40)]
    groups = [strip(f"g{n}", "group", "mix") for n in range(9)]
    drawn = draw_routing(Routing(Session(channels=(*tracks, *groups, strip("mix", "master", None)))))
    assert drawn is not None
    for column in {box.x for box in drawn.boxes}:
        heights = sorted(box.y for box in drawn.boxes if box.x == column)
        assert all(b - a >= BOX_HEIGHT for a, b in pairwise(heights))
    assert all(0 <= b.x <= drawn.width - BOX_WIDTH and 0 <= b.y <= drawn.height - BOX_HEIGHT for b in drawn.boxes)


def test_a_loop_and_unknown_kinds_can_be_drawn() -> None:
    """Feedback between two returns, a send to itself and a strip of unknown kind do not break the drawing."""
    session = Session(
        channels=(
            strip("a", "return", "mix", sends=(Send(to="b"), Send(to="a"))),
            strip("b", "return", "mix", sends=(Send(to="a"),)),
            Channel(id="c", name="", kind=Unknown(unknown="not given"), output="mix"),
            strip("mix", "master", None, sends=(Send(to="a"),)),
        )
    )
    drawn = draw_routing(Routing(session))
    assert drawn is not None
    assert len(drawn.boxes) == 4
    assert draw_routing(Routing(Session())) is None


@given(st.lists(st.floats(min_value=-500, max_value=500), max_size=30))
def test_boxes_stay_near_their_wishes(wishes: list[float]) -> None:
    """Isotonic regression keeps the mean of the wishes and the order, at the least distance."""
    wishes = sorted(wishes)
    heights = apart(wishes, 10.0)
    assert all(b - a >= 10.0 - 1e-9 for a, b in pairwise(heights))
    if wishes:
        assert math.isclose(sum(heights), sum(wishes), rel_tol=1e-9, abs_tol=1e-6)


def test_the_balance_curve_breaks_where_nothing_is_judged() -> None:
    """Not-a-number parts the curve; a lone point becomes a dot; left is up."""
    nan = float("nan")
    drawn = draw_balance([0, 1, 2, 3, 4, 5, 6], [1.0, 2.0, nan, -3.0, nan, 4.0, 4.0], [(5.0, "Chorus")])
    assert drawn is not None
    assert len(drawn.pieces) == 2
    assert len(drawn.dots) == 1
    even = next(y for y, said in drawn.scale if said == "even")
    assert drawn.dots[0][1] > even  # −3 dB: right is heavier, drawn below the line
    assert "nan" not in str(drawn)
    assert [name for _, name in drawn.markers] == ["Chorus"]
    assert draw_balance([0.0, 1.0], [nan, nan]) is None
    assert draw_balance([], []) is None


def test_the_balance_picture_stays_in_its_frame_and_small() -> None:
    """A song of two hours with a wild curve: every point inside, and not 72,000 of them."""
    times = [n / 10 for n in range(72_000)]
    drawn = draw_balance(times, [60.0 * math.sin(t) for t in times])
    assert drawn is not None
    points = [tuple(map(float, p.split())) for p in re.split("[ML]", drawn.pieces[0]) if p]
    assert len(points) <= 2 * drawn.width + 2
    assert all(drawn.left <= x <= drawn.right and drawn.top <= y <= drawn.bottom for x, y in points)
    assert len(drawn.ticks) <= 13


def test_fewer_pictures_than_sessions() -> None:
    """A page without pictures is still a page."""
    assert "Channel sheet" not in review_html(report(HARBOUR))
    with pytest.raises(ValueError, match=r"shorter|longer"):
        review_html(report(HARBOUR), [Pictures(), Pictures()])
