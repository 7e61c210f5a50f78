"""The picture of the routing obeys the session: its strips, its lines, what is silent, marked, folded or not known."""

from __future__ import annotations

import re
import time
from collections.abc import Iterable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lxml import etree
from reportsamples import HARBOUR, report

from mixlint.analysis.context import SessionContext
from mixlint.importers import read
from mixlint.reports.page.document import review_html
from mixlint.reports.pictures.lettering import text_width
from mixlint.reports.pictures.picture import Missing, Picture, Pictures, Scene
from mixlint.reports.pictures.routing import draw
from mixlint.reports.pictures.routing.drawing import Drawing, Line
from mixlint.review.findings import Finding, SubjectRef
from mixlint.session import Automation, Channel, Clip, Insert, Send, Session, Unknown

EXAMPLES = Path(__file__).parents[3] / "example_sessions"


def strip(id: str, kind: str, output: str | None, **more: object) -> Channel:
    """A channel of a small invented session."""
    return Channel.model_validate({"id": id, "name": id.title(), "kind": kind, "output": output, **more})


SMALL = Session(
    title="Lamp Song",
    channels=(
        strip("voice", "track", "voices", legs=1, clips=(Clip(start_s=0, end_s=60),), sends=(Send(to="hall"),)),
        strip("fiddle", "track", "mix", legs=1, pan=-40.0, clips=(Clip(start_s=0, end_s=60),), mute=True),
        strip("voices", "group", "mix", legs=2, sends=(Send(to="hall", tap="pre", level_db=-9.0),)),
        strip("hall", "return", "wet", legs=2, inserts=(Insert(name="Stair Well", kind="reverb"),)),
        strip("wet", "group", "mix", legs=2),
        strip("mix", "master", None, legs=2),
    ),
)


def draw_routing(context: SessionContext, findings: Iterable[Finding] = ()) -> Drawing | None:
    """The drawing alone; None where no channel carries audio."""
    made = draw(Scene(context, tuple(findings)), "routing", "Routing")
    if isinstance(made, Missing):
        return None
    assert isinstance(made.drawing, Drawing)
    return made.drawing


def drawn(session: Session, *findings: Finding) -> Drawing:
    """The drawing of a session."""
    found = draw_routing(SessionContext(session), findings)
    assert found is not None
    return found


def changed(session: Session, id: str, **update: object) -> Session:
    """The session with something of one channel changed."""
    return session.model_copy(
        update={"channels": tuple(c.model_copy(update=update) if c.id == id else c for c in session.channels)}
    )


def own(drawing: Drawing) -> list[Line]:
    """The lines, but for what several have in common."""
    return [line for line in drawing.lines if not line.shared]


def line(drawing: Drawing, start: str) -> Line:
    """The one line whose title starts so."""
    (found,) = (one for one in own(drawing) if one.title.startswith(start))
    return found


def marked(drawing: Drawing, name: str) -> set[str]:
    """The marks in the box of a strip."""
    (box,) = (one for one in drawing.boxes if one.title.split(",")[0] == name)
    return {
        one.sort
        for one in drawing.marks
        if box.x <= one.x <= box.x + drawing.box_width and box.y <= one.y <= box.y + box.height
    }


def test_signals_run_from_left_to_right() -> None:
    """Each strip stands to the right of all that feed it, and a track right before the first that it feeds."""
    x = {box.label: box.x for box in drawn(SMALL).boxes}
    assert x["Voice"] < x["Voices"] < x["Hall"] < x["Wet"] < x["Mix"]
    assert x["Fiddle"] == x["Wet"]


def test_the_drawing_has_a_line_per_connection() -> None:
    """Five outputs and two sends; what a mute silences is faint; titles say it in words."""
    found = drawn(SMALL)
    assert sorted(one.kind for one in own(found)) == ["output"] * 5 + ["post", "pre"]
    titles = {one.title: one.quiet for one in own(found)}
    assert titles["Voices to Hall: pre-fader send, send −9 dB"] is False
    assert titles["Fiddle to Mix: output, fader 0 dB (silent)"] is True


def test_a_removed_send_removes_its_line() -> None:
    """And nothing else; one that is switched off has no line either."""
    before = {one.title for one in own(drawn(SMALL))}
    for sends in ((), (Send(to="hall", on=False),)):
        after = {one.title for one in own(drawn(changed(SMALL, "voice", sends=sends)))}
        assert before - after == {"Voice to Hall: post-fader send, send 0 dB, fader 0 dB"}
        assert not after - before


def test_a_line_is_as_thick_as_its_gain() -> None:
    """Six decibels less are half as thick (20·log10(2) = 6.02 dB); what is taken before the fader stays as it is."""
    plain, low = drawn(SMALL), drawn(changed(SMALL, "voices", fader_db=-6.0206))
    assert line(low, "Voices to Mix").thickness == pytest.approx(line(plain, "Voices to Mix").thickness / 2, abs=0.06)
    assert line(low, "Voices to Hall").thickness == line(plain, "Voices to Hall").thickness
    post = drawn(changed(SMALL, "voice", fader_db=-6.0206))
    assert line(post, "Voice to Hall").thickness < line(plain, "Voice to Hall").thickness


def test_a_level_that_is_not_known_is_drawn_as_that() -> None:
    """Hollow, and said in words; so is a send of which it is not seen whether it is taken before the fader."""
    gone = Unknown(unknown="the export gives no level")
    found = line(drawn(changed(SMALL, "voices", sends=(Send(to="hall", tap="pre", level_db=gone),))), "Voices to Hall")
    assert found.hollow
    assert "send not seen" in found.title
    tap = line(drawn(changed(SMALL, "voices", sends=(Send(to="hall", tap=gone),))), "Voices to Hall")
    assert (tap.kind, tap.hollow) == ("untold", True)
    assert not any(one.hollow for one in drawn(SMALL).lines)


def test_a_mute_that_automation_holds_is_drawn_as_one() -> None:
    """As one that is stored; a stored mute that automation holds open is none; one that moves is marked as such."""
    session = SMALL
    for id, value in (("voice", 1.0), ("fiddle", 0.0)):
        lane = Automation(target="mute", scale="switch", t=(0.0,), v=(value,))
        session = changed(session, id, automation=(lane,))
    found = drawn(session)
    quiet = {box.label: box.quiet for box in found.boxes}
    assert (quiet["Voice"], quiet["Fiddle"]) == (True, False)
    assert marked(found, "Voice") == {"muted"}
    assert marked(found, "Fiddle") == set()
    lane = Automation(target="mute", scale="switch", t=(0.0, 30.0), v=(0.0, 1.0))
    found = drawn(changed(SMALL, "voice", automation=(lane,)))
    assert marked(found, "Voice") == {"at-times"}
    assert not line(found, "Voice to Voices").quiet


def test_what_only_silent_strips_feed_is_silent() -> None:
    """The group and the return of a muted voice, and their lines."""
    found = drawn(changed(SMALL, "voice", mute=True))
    assert {box.label for box in found.boxes if box.quiet} == {"Voice", "Fiddle", "Voices", "Hall", "Wet", "Mix"}
    found = drawn(changed(SMALL, "wet", mute=True))
    assert line(found, "Hall to Wet").quiet
    assert not line(found, "Voice to Voices").quiet


def test_solo_dead_ends_and_what_is_not_seen_are_marked() -> None:
    """Each where it is; a strip whose output is not seen is no dead end."""
    session = changed(SMALL, "voice", solo=True)
    session = changed(session, "wet", output=None)
    found = drawn(session)
    assert marked(found, "Voice") == {"solo"}
    assert marked(found, "Wet") == {"dead"}
    assert "dead" in marked(found, "Hall")
    assert marked(found, "Voices") == set()
    found = drawn(changed(SMALL, "wet", output=Unknown(unknown="not exported")))
    assert marked(found, "Wet") == {"unseen"}
    picture = draw(Scene(SessionContext(session)), "routing", "Routing")
    assert isinstance(picture, Picture)
    assert picture.answer.startswith("Hall and Wet do not reach the mix bus. Voice is soloed; Fiddle is muted")
    assert ("Wet", "reaches no mix bus") in picture.words.rows


def finding(table: str, id: str, *channels: str, grade: str = "hold", verdict: str = "flagged") -> Finding:
    """A finding about something."""
    return Finding.model_validate(
        {
            "rule": "r",
            "area": "a",
            "grade": grade,
            "verdict": verdict,
            "subject": SubjectRef(table=table, id=id, name=id),
            "message": f"{table} {id} is wrong.",
            "channels": channels,
            "fingerprint": "f",
        }
    )


def test_findings_are_marked_where_they_are() -> None:
    """On the strip, or on the line that they are about; holds and looks by shapes of their own; questions not."""
    found = drawn(
        SMALL,
        finding("channel", "voice", "voice", grade="look"),
        finding("send", "voices:0", "voices", "hall"),
        finding("feed", "voice:out", "voice", "voices", grade="look"),
        finding("channel", "wet", "wet", verdict="open"),
        finding("channel", "mix", "mix", grade="note"),
        finding("session", "", "hall"),
    )
    assert marked(found, "Voice") == {"look"}
    assert not marked(found, "Wet") | marked(found, "Hall") | marked(found, "Mix")
    (on_send,) = (one for one in found.marks if one.title == "send voices:0 is wrong.")
    (on_feed,) = (one for one in found.marks if one.title == "feed voice:out is wrong.")
    assert (on_send.sort, on_feed.sort) == ("hold", "look")
    for mark in (on_send, on_feed):
        assert not any(b.x <= mark.x <= b.x + found.box_width and b.y <= mark.y <= b.y + b.height for b in found.boxes)


def test_a_loop_is_drawn_back_and_marked() -> None:
    """Feedback between two returns, a send to itself, a strip of unknown kind, and a mix bus that feeds one."""
    session = Session(
        channels=(
            strip("a", "return", "mix", sends=(Send(to="b"), Send(to="a"))),
            strip("b", "return", "mix", sends=(Send(to="a", level_db=-6.0),)),
            Channel(id="c", name="", kind=Unknown(unknown="not given"), output="mix"),
            strip("mix", "master", None, sends=(Send(to="a", level_db=-20.0),)),
        )
    )
    found = drawn(session)
    assert len(found.boxes) == 4
    assert {one.title.split(":")[0] for one in found.lines if one.back} == {"A to A", "B to A", "Mix to A"}
    assert all(one.arrow for one in found.lines if one.back)
    assert [one.sort for one in found.marks].count("loop") == 3
    picture = draw(Scene(SessionContext(session)), "routing", "Routing")
    assert isinstance(picture, Picture)
    assert "A feeds itself" in picture.answer
    assert "A and B feed each other" in picture.answer


def test_a_session_without_audio_channels_has_no_drawing() -> None:
    missing = draw(Scene(SessionContext(Session())), "routing", "Routing")
    assert isinstance(missing, Missing)
    assert missing.why == "the session has no channel that carries audio"


def test_without_a_mix_bus_nothing_is_called_a_dead_end() -> None:
    session = Session(channels=SMALL.channels[:-1])
    picture = draw(Scene(SessionContext(session)), "routing", "Routing")
    assert isinstance(picture, Picture)
    assert "is not known" in picture.answer
    assert isinstance(picture.drawing, Drawing)
    assert not any(one.sort == "dead" for one in picture.drawing.marks)


NAMES = st.text(st.characters(codec="utf-8"), max_size=60) | st.sampled_from(
    ["WWWWWWWWWWWWWWWWWWWWWW", "<b>&\x1b\u202e"]
)


@st.composite
def sessions(draw: st.DrawFn) -> Session:
    """Any few strips with any outputs, sends, mutes, solos and levels, known or not."""
    count = draw(st.integers(1, 9))
    ids = [f"c{n}" for n in range(count)]
    gone = Unknown(unknown="not seen")
    level = st.floats(-200, 12) | st.just(gone)
    sends = st.builds(
        Send,
        to=st.sampled_from([*ids, "nowhere", gone]),
        level_db=level,
        tap=st.sampled_from(["pre", "post", gone]),
        on=st.sampled_from([True, False, gone]),
    )
    channel = st.fixed_dictionaries(
        {
            "name": NAMES,
            "kind": st.sampled_from(["track", "group", "return", "master", "vca", gone]),
            "output": st.sampled_from([*ids, None, gone]),
            "sends": st.lists(sends, max_size=4).map(tuple),
            "mute": st.sampled_from([True, False, gone]),
            "solo": st.sampled_from([True, False, gone]),
            "fader_db": level,
        }
    )
    return Session(channels=tuple(Channel(id=one, **draw(channel)) for one in ids))


@given(sessions(), st.data())
@settings(max_examples=30)
def test_any_session_is_drawn_whole_and_apart(session: Session, data: st.DataObject) -> None:
    """Every wired edge once; marks inside, off the boxes' labels and apart; labels as short as their boxes."""
    context = SessionContext(session)
    wired = context.routing.wiring.edges
    about = [finding("send", f"{e.source}:{e.send}", e.source, e.to) for e in wired if e.send is not None]
    about += [finding("channel", c.id, c.id, grade="look") for c in session.channels]
    found = draw_routing(context, data.draw(st.lists(st.sampled_from(about), max_size=6)))
    if found is None:
        assert all(c.kind == "vca" for c in session.channels)
        return
    assert sorted(n for one in own(found) for n in one.numbers) == [e.number for e in wired]
    assert len(found.boxes) == sum(c.kind != "vca" for c in session.channels)
    for mark in found.marks:
        assert 5.0 <= mark.x <= found.width - 5.0
        assert 5.0 <= mark.y <= found.height - 5.0
        for box in found.boxes:
            inside = box.x <= mark.x <= box.x + found.box_width and box.y <= mark.y <= box.y + box.height
            if inside:  # then it is one of its own, behind its label
                assert box.x + 9.0 + text_width(box.label) <= mark.x - 5.0
            else:
                off_x = max(box.x - mark.x, mark.x - box.x - found.box_width)
                assert max(off_x, box.y - mark.y, mark.y - box.y - box.height) >= 5.0
    assert all(text_width(box.label) <= found.box_width - 13.0 for box in found.boxes)
    places = sorted((mark.x, mark.y) for mark in found.marks)
    for n, (x, y) in enumerate(places):
        assert all(max(abs(x - a), abs(y - b)) >= 11.9 for a, b in places[n + 1 :])


def page(session: Session) -> str:
    """The page with the picture of a session, read by an XML parser that mends nothing; ids stand once."""
    picture = draw(Scene(SessionContext(session)), "routing", "Routing")
    assert isinstance(picture, Picture)
    text = review_html(report(HARBOUR), [Pictures(None, (picture,))])
    root = etree.fromstring(text.split("\n", 1)[1].encode("utf-8"), etree.XMLParser(recover=False))
    ids = [one.get("id") for one in root.iter() if one.get("id")]
    assert len(ids) == len(set(ids))
    assert {str(one.get("href")) for one in root.iter("{*}a")} <= {f"#{one}" for one in ids}
    return text


def test_the_page_holds_the_drawing() -> None:
    """Each line once, hostile names as text, nothing that runs."""
    text = page(changed(SMALL, "voice", name="<script>{{ 7*7 }}\x1b"))
    assert len(re.findall(r'class="line ', text)) == 7
    assert text.count("<script") == 1  # the page's own
    assert "\x1b" not in text


@pytest.mark.parametrize("name", ["sixpenny-weathervane", "sixpenny-weathervane-flawed", "cue-sends", "drum-kit"])
def test_example_sessions_are_drawn_whole(name: str) -> None:
    session = read(EXAMPLES / f"{name}.session.json")
    context = SessionContext(session)
    found = draw_routing(context)
    assert found is not None
    assert sorted(n for one in own(found) for n in one.numbers) == [e.number for e in context.routing.wiring.edges]
    assert len(page(session)) < 60_000


PARTS = ("Kick", "Snare", "Tom", "Bass", "Electric Gtr", "Piano", "Violin", "Viola", "Cello", "Lead Vox", "BV", "Flute")


def large(tracks: int) -> Session:
    """A large desk: parts of twelve kinds into groups, each with two sends to one of six returns."""
    channels = [
        strip(
            f"t{n}",
            "track",
            f"g{n % 12}",
            name=f"{PARTS[n % 12]} {n // 12 + 1}",
            sends=(Send(to=f"r{n % 5}", level_db=-9.0), Send(to="r5", tap="pre", on=n % 3 == 0)),
            mute=n % 50 == 7,
        )
        for n in range(tracks)
    ]
    channels += [strip(f"g{n}", "group", "mix", name=f"{PARTS[n]} Group") for n in range(12)]
    channels += [strip(f"r{n}", "return", "mix", name=f"Hall {n + 1}") for n in range(6)]
    return Session(channels=(*channels, strip("mix", "master", None)))


def test_a_large_session_is_folded_by_family() -> None:
    """Each strip in one box, each line in one merged line, a drawing for each family, and a height that stays sane."""
    session = large(1000)
    context = SessionContext(session)
    found = draw_routing(context)
    assert found is not None
    folded = [box for box in found.boxes if box.shape == "family"]
    counted = sum(int(box.title.split(":")[0].split("(")[1].rstrip(")")) for box in folded)
    assert counted + len(found.boxes) - len(folded) == len(session.channels)
    assert sorted(n for one in own(found) for n in one.numbers) == [e.number for e in context.routing.wiring.edges]
    assert [one.anchor for one in found.families] == [box.anchor for box in folded if box.anchor]
    assert found.height < 1500
    assert all(one.drawing is not None and one.drawing.height < 2000 for one in found.families)
    muted = next(one for one in found.marks if one.sort == "muted")
    assert "muted" in muted.title


def test_what_is_large_costs_little() -> None:
    """A picture of 150 channels and one of 1,000: bytes are held; times are wide of what is seen (0.1 s, 0.3 s)."""
    empty = len(page(Session(channels=(strip("mix", "master", None),))))
    for tracks, most in ((41, 60_000), (131, 150_000), (981, 150_000)):
        session = large(tracks)
        start = time.process_time()
        draw_routing(SessionContext(session))
        assert time.process_time() - start < 10.0
        assert len(page(session)) - empty < most


@given(st.integers(151, 190), st.integers(0, 10_000))
@settings(max_examples=3)
def test_any_wiring_can_be_folded(count: int, seed: int) -> None:
    """Lines at random, rings among them, between more strips than are drawn singly."""
    ids = [f"c{n}" for n in range(count)]
    to = [ids[(n * 7919 + seed * 31) % count] for n in range(2 * count)]
    kinds = ("track", "track", "group", "return")
    channels = [
        strip(one, kinds[n % 4], to[n], name=f"{PARTS[(n * seed) % 12]} {n}", sends=(Send(to=to[count + n]),))
        for n, one in enumerate(ids)
    ]
    context = SessionContext(Session(channels=(*channels, strip("mix", "master", None))))
    found = draw_routing(context)
    assert found is not None
    inside = len(context.routing.wiring.edges) - sum(len(one.numbers) for one in own(found))
    assert inside >= 0
    assert found.families


def test_lines_that_run_together_end_where_the_rest_begins() -> None:
    """Voices over two layers to one hall: lines of their own, and what they have in common from there on."""
    voices = [strip(f"v{n}", "track", "sub", sends=(Send(to="hall"),)) for n in range(4)]
    session = Session(
        channels=(
            *voices,
            strip("sub", "group", "bus"),
            strip("bus", "group", "mix", sends=(Send(to="hall"),)),
            strip("hall", "return", "mix"),
            strip("mix", "master", None),
        )
    )
    found = drawn(session)
    shared = [one for one in found.lines if one.shared]
    assert shared
    for whole in shared:
        start = re.match(r"M([\d.]+) ([\d.]+)", whole.path)
        assert start is not None
        meeting = [one for one in own(found) if one.path.endswith((f" {start[1]} {start[2]}", f"H{start[1]}"))]
        assert {n for one in meeting for n in one.numbers} >= set(whole.numbers)
