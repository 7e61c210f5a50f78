"""The page: well-formed, self-contained, safe against names, and its drawings."""

from __future__ import annotations

import re
from base64 import b64encode
from hashlib import sha256

import pytest
from lxml import etree
from reportsamples import HARBOUR, HOSTILE, HOSTILE_NAME, LULLABY, report

from mixlint.facts import SessionContext
from mixlint.reports.page.document import review_html
from mixlint.reports.pictures import pictures_of
from mixlint.reports.pictures.picture import Pictures, Scene
from mixlint.session import Channel, Clip, Insert, Send, Session, Tempo, Timeline

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


def test_fewer_pictures_than_sessions() -> None:
    """A page without pictures is still a page."""
    assert "Channel sheet" not in review_html(report(HARBOUR))
    with pytest.raises(ValueError, match=r"shorter|longer"):
        review_html(report(HARBOUR), [Pictures(), Pictures()])
