"""The song over time: the drawing obeys the session, keeps its labels apart, and says what is not known."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from lxml import etree

from mixlint.analysis.balance import imbalance, leans
from mixlint.analysis.level_over_time import level_over_time
from mixlint.facts import House, SessionContext
from mixlint.reports.page.document import review_html
from mixlint.reports.pictures import over_time
from mixlint.reports.pictures.axis import Scale
from mixlint.reports.pictures.lettering import text_width
from mixlint.reports.pictures.over_time.bands import draw_balance
from mixlint.reports.pictures.over_time.drawing import LEFT, RIGHT, WIDTH, Band, Stack, Text
from mixlint.reports.pictures.over_time.rows import MOST_PARTS
from mixlint.reports.pictures.picture import Missing, Picture, Pictures, Scene
from mixlint.review import review
from mixlint.review.findings import Report
from mixlint.rulebook import Standard, load_standard
from mixlint.session import Automation, Channel, Clip, Marker, Session, Unknown, is_known
from mixlint.signal.programme import ProgrammeMeter
from tests.facts.audio_sessions import RATE, audio_context, sine, write
from tests.importers.made_sessions import sessions


@pytest.fixture(scope="module")
def standard() -> Standard:
    return load_standard()


def part(name: str, *spans: tuple[float, float], output: str | None = "mix", **more: object) -> Channel:
    """A mono track that plays in some spans."""
    clips = tuple(Clip(start_s=start, end_s=end) for start, end in spans)
    return Channel.model_validate(
        {"id": name, "name": name, "kind": "track", "legs": 1, "output": output, "clips": clips, **more}
    )


def song(*channels: Channel, **more: object) -> Session:
    mix = Channel(id="mix", name="Mix Bus", kind="master", legs=2, output=None)
    return Session.model_validate({"title": "Lamp Song", "channels": (*channels, mix), **more})


def drawn(session: Session, standard: Standard | None = None) -> Picture:
    """The picture of a session, with the findings of its review under a standard."""
    context = SessionContext(session, standard.house if standard else House())
    made = review(context, standard, source="", digest="", everything=False) if standard else None
    found = over_time.draw(Scene(context, made.findings if made else ()), "over_time", "Over time")
    assert isinstance(found, Picture)
    return found


def stack(picture: Picture) -> Stack:
    assert isinstance(picture.drawing, Stack)
    return picture.drawing


LEANING = song(
    part("Gtr L", (0.0, 120.0), pan=-80.0),
    part("Gtr R", (0.0, 60.0), (80.0, 120.0), pan=80.0),
    part("Vocal", (20.0, 50.0)),
    markers=(Marker(time_s=0.0, name="Verse"), Marker(time_s=60.0, name="Bridge")),
)


def test_the_stretch_that_leans_is_told_with_its_cause() -> None:
    """Where the right guitar rests left is heavier, and the left guitar pulls it."""
    picture = drawn(LEANING)
    assert "Left is up to" in picture.answer
    assert "because of Gtr L" in picture.answer
    first = stack(picture).shades[0]
    time = Scale(0.0, 120.0, LEFT, RIGHT)
    assert first.x < time.at(70.0) < first.x + first.width
    rows = {row.label.text: row for row in stack(picture).rows}
    assert rows["Gtr L"].heavy
    assert not rows["Gtr R"].heavy


def test_an_even_mix_is_not_shaded() -> None:
    picture = drawn(song(part("Gtr L", (0.0, 60.0), pan=-80.0), part("Gtr R", (0.0, 60.0), pan=80.0)))
    assert stack(picture).shades == ()
    assert "even throughout" in picture.answer


def test_a_moved_pan_moves_the_curve() -> None:
    """Turned round, the balance is drawn on the other side of its middle."""
    turned = song(*(c.model_copy(update={"pan": -c.pan}) for c in LEANING.channels if c.id != "mix"))
    here, there = (stack(drawn(s)).bands[0] for s in (LEANING, turned))
    over, under = ([y - even_of(band) for y in heights(band.curves[0].paths)] for band in (here, there))
    assert min(over) < -20.0
    assert over == pytest.approx([-y for y in under], abs=0.11)
    assert "Right is" in drawn(turned).answer


def even_of(band: Band) -> float:
    return next(y for y, said, _ in band.scale if said == "even")


def heights(paths: tuple[str, ...]) -> list[float]:
    return [float(y) for path in paths for _, y in re.findall(r"([\d.]+) ([\d.]+)", path)]


def strokes(path: str) -> list[tuple[float, float]]:
    return [(float(a), float(b)) for a, b in re.findall(r"M([\d.]+) [\d.]+H([\d.]+)", path)]


def test_rows_hold_what_plays_with_its_gaps() -> None:
    rows = {row.label.text: row for row in stack(drawn(LEANING)).rows}
    time = Scale(0.0, 120.0, LEFT, RIGHT)
    assert strokes(rows["Gtr R"].path) == [(time.at(0), time.at(60)), (time.at(80), time.at(120))]
    assert strokes(rows["Vocal"].path) == [(time.at(20), time.at(50))]
    assert list(rows) == ["Gtr L", "Gtr R", "Vocal"]


def test_a_part_that_does_not_reach_the_mix_is_drawn_so() -> None:
    session = song(part("Gtr", (0.0, 60.0)), part("Bass", (0.0, 60.0), mute=True))
    assert [row.silent for row in stack(drawn(session)).rows] == [False, True]


def test_more_parts_than_can_be_read_are_folded_by_family() -> None:
    parts = [part(f"Kick {n}" if n % 2 else f"Lead Vocal {n}", (n, n + 10.0)) for n in range(MOST_PARTS + 4)]
    rows = stack(drawn(song(*parts))).rows
    assert [row.label.text for row in rows] == ["vocals (14)", "drums (14)"]
    assert len(stack(drawn(song(*parts[:MOST_PARTS]))).rows) == MOST_PARTS


def test_automation_that_does_not_come_back_is_marked_where_it_leaves(standard: Standard) -> None:
    """A fader that goes down in the middle of the song and stays there: told by its rule, drawn from there on."""
    lane = Automation(target="fader", scale="dB", t=(0.0, 60.0, 60.0), v=(0.0, 0.0, -60.0))
    session = song(part("Lead Vocal", (0.0, 120.0), automation=(lane,)), part("Piano", (0.0, 120.0)))
    picture = drawn(session, standard)
    row = next(row for row in stack(picture).rows if row.label.text == "Lead Vocal")
    at = Scale(0.0, 120.0, LEFT, RIGHT).at(60.0)
    assert [one.x for one in row.loose] == [at]
    assert row.loose[0].end == RIGHT
    assert any(abs(mark.x - at) < 0.2 and mark.kind in ("hold", "look") for mark in row.marks)
    assert "Automation does not come back on Lead Vocal (from 1:00.0)" in picture.answer
    back = lane.model_copy(update={"t": (*lane.t, 70.0), "v": (*lane.v, 0.0)})
    calm = song(part("Lead Vocal", (0.0, 120.0), automation=(back,)), part("Piano", (0.0, 120.0)))
    assert not any(row.loose for row in stack(drawn(calm, standard)).rows)


def test_a_lane_that_no_rule_objects_to_is_drawn_quietly() -> None:
    lane = Automation(target="fader", scale="dB", t=(0.0, 60.0, 60.0), v=(0.0, 0.0, -3.0))
    picture = drawn(song(part("Piano", (0.0, 120.0), automation=(lane,))))
    assert [mark.kind for row in stack(picture).rows for mark in row.marks] == ["drift"]
    assert "does not come back" not in picture.answer
    assert any(row[0].startswith("Piano: fader goes from 0 dB to −3 dB at 1:00.0") for row in picture.words.rows)


def test_a_finding_with_a_place_is_marked_at_it(standard: Standard) -> None:
    """The balance of the mix is no channel's: its mark stands on the row of the whole mix."""
    loud = song(*(c.model_copy(update={"fader_db": 6.0}) if c.id == "Gtr L" else c for c in LEANING.channels[:-1]))
    rows = stack(drawn(loud, standard)).rows
    assert rows[0].label.text == "the whole mix"
    assert any("leans left" in mark.title for mark in rows[0].marks)


def test_without_clips_there_is_no_axis() -> None:
    found = over_time.draw(Scene(SessionContext(song(part("Gtr")))), "over_time", "Over time")
    assert isinstance(found, Missing)
    assert "no clips" in found.why


def test_what_is_not_known_is_said_in_its_place() -> None:
    """Without audio no level; with a gain that nothing tells no balance either."""
    picture = drawn(song(part("Gtr", (0.0, 60.0), fader_db=Unknown(unknown="it is not in the export"))))
    notes = [band.note for band in stack(picture).bands]
    assert all(note.startswith("not known: ") for note in notes)
    assert "is not known" in picture.answer
    assert [band.scale for band in stack(picture).bands] == [(), ()]


def texts(one: Stack) -> Iterator[tuple[Text, bool]]:
    """Every text of the upper part, and whether it is bold."""
    yield from ((section.label, False) for section in one.sections if section.label)
    yield from ((shade.label, True) for shade in one.shades if shade.label)
    yield from ((pin.label, False) for band in one.bands for pin in band.pins)
    yield from ((row.label, False) for row in one.rows)


@pytest.mark.slow
@settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow])
@given(sessions())
def test_any_session_is_drawn_inside_its_frame_with_texts_apart(session: Session) -> None:
    found = over_time.draw(Scene(SessionContext(session)), "over_time", "Over time")
    if isinstance(found, Missing):
        return
    one = stack(found)
    boxes = [(t.x, t.y, text_width(t.text, bold=bold)) for t, bold in texts(one)]
    assert all(x >= 0 and x + width <= WIDTH and 10 <= y <= one.height for x, y, width in boxes)
    for n, (x, y, width) in enumerate(boxes):
        for x2, y2, width2 in boxes[n + 1 :]:
            assert abs(y - y2) >= 12 or x + width <= x2 or x2 + width2 <= x
    assert not any("nan" in path for band in one.bands for curve in band.curves for path in curve.paths)
    for row in one.rows:
        assert all(b.x - a.x >= 11.9 for a, b in pairwise(row.marks))
        assert all(LEFT <= a <= b <= RIGHT + 1 for a, b in strokes(row.path))
    assert all(a[1] <= b[0] for a, b in pairwise(one.panes))


def test_names_are_text_and_the_page_is_well_formed() -> None:
    hostile = "</text><script>alert(1)</script>\x1b[31m" + "x" * 300
    session = song(part(hostile, (0.0, 60.0), pan=-90.0), markers=(Marker(time_s=1.0, name=hostile),))
    html = review_html(Report(version="0", sessions=(reviewed(session),)), [Pictures(None, (drawn(session),))])
    root = etree.fromstring(html.split("\n", 1)[1].encode(), etree.XMLParser(recover=False))
    assert len(root.findall(".//{*}script")) == 1  # the page's own
    assert "x" * 300 in "".join(root.itertext())


def reviewed(session: Session):  # type: ignore[no-untyped-def]
    return review(SessionContext(session), load_standard(), source="", digest="", everything=False, areas=["prep"])


def test_the_balance_curve_breaks_where_nothing_is_judged() -> None:
    """Not-a-number parts the curve; a lone point becomes a dot; left is up."""
    nan = float("nan")
    time = Scale(0.0, 6.0, LEFT, RIGHT)
    band = draw_balance(enumerate([1.0, 2.0, nan, -3.0, nan, 4.0, 4.0]), time, 10.0, measured=True)
    paths = band.curves[0].paths
    assert len(paths) == 3
    assert paths[1].endswith("h.1")
    assert heights((paths[1],))[0] > even_of(band)  # −3 dB: right is heavier, drawn below the line
    assert "nan" not in str(band)


def test_the_balance_band_stays_in_its_frame_and_small() -> None:
    """A song of two hours with a wild curve: every point inside, and not 72,000 of them."""
    time = Scale(0.0, 7200.0, LEFT, RIGHT)
    points = [(n / 10, 60.0 * math.sin(n / 10)) for n in range(72_000)]
    band = draw_balance(points, time, 10.0, measured=False)
    drawn_points = re.findall(r"([\d.]+) ([\d.]+)", band.curves[0].paths[0])
    assert len(drawn_points) <= 2 * (RIGHT - LEFT) + 2
    assert all(LEFT <= float(x) <= RIGHT and band.top <= float(y) <= band.bottom for x, y in drawn_points)


def test_the_worst_lean_is_that_of_the_session_and_the_next_lies_apart() -> None:
    context = SessionContext(
        song(
            part("Gtr L", (0.0, 200.0), pan=-80.0),
            part("Gtr R", (0.0, 40.0), (70.0, 120.0), (150.0, 200.0), pan=80.0),
        )
    )
    whole, found = imbalance(context), leans(context)
    assert is_known(whole)
    assert is_known(found)
    assert (found[0].db, found[0].span, found[0].causes) == (whole.worst_db, whole.worst, whole.stretch_causes)
    assert len(found) >= 2
    spans = sorted(one.span for one in found)
    assert all(a[1] <= b[0] for a, b in pairwise(spans))
    assert all(abs(one.db) >= abs(found[0].db) / 2.0 for one in found)


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> SessionContext:
    """Ten seconds of a tone with a print of it on a track, two seconds late, that is loudest in its seventh second."""
    folder: Path = tmp_path_factory.mktemp("printed")
    tone = sine(997.0, 10.0, 0.1)
    tone[round(6.5 * RATE) : round(6.6 * RATE)] *= 8.0
    media = [write(folder, "tone.wav", tone), write(folder, "mix.wav", np.stack([tone, tone], axis=1))]
    clips = (Clip(start_s=0.0, end_s=10.0, file="tone.wav", offset_s=0.0),)
    late = (Clip(start_s=2.0, end_s=12.0, file="mix.wav", offset_s=0.0),)
    return audio_context(
        folder,
        media,
        Channel(id="t", name="Fiddle", kind="track", legs=1, output="mix", clips=clips),
        Channel(id="p", name="Mix Print", kind="track", legs=2, output=None, clips=late, mute=True),
        Channel(id="mix", name="Mix Bus", kind="master", legs=2, output=None),
    )


def test_a_print_gives_loudness_and_peak_where_they_are(printed: SessionContext) -> None:
    """Against the meter of ITU-R BS.1770-5 and EBU Tech 3341, which libebur128 checks elsewhere."""
    found = level_over_time(printed)
    assert is_known(found)
    assert (found.print_name, found.laid) == ("mix.wav", True)
    meter = ProgrammeMeter(2, float(RATE))
    assert printed.audio is not None
    with printed.audio.side_by_side(["mix.wav"]) as (file,):
        for block in file.blocks():
            meter.feed(block)
    wanted = meter.result()
    assert wanted.short_term_lufs is not None
    assert np.nanmax(found.lufs) == pytest.approx(wanted.short_term_lufs, abs=0.1)
    assert is_known(found.highest)
    assert found.highest.db == pytest.approx(max(wanted.true_peak_dbtp), abs=0.01)
    assert found.highest.at_s == pytest.approx(2.0 + 6.55, abs=0.06)
    picture = over_time.draw(Scene(printed), "over_time", "Over time")
    assert isinstance(picture, Picture)
    assert re.search(r"highest peak of mix\.wav is −1\.9 dBTP at 0:08\.[56]", picture.answer)
    pin = stack(picture).bands[1].pins[0]
    assert pin.x == Scale(0.0, 12.0, LEFT, RIGHT).at(found.highest.at_s)


def test_without_a_print_the_parts_are_added_up(tmp_path: Path) -> None:
    """Loudness of a tone of known level: 997 Hz at −20 dBFS on both legs reads −20 LUFS (EBU Tech 3341, case 1)."""
    tone = sine(997.0, 10.0, 0.1)
    tone[:RATE] *= np.linspace(0.0, 1.0, RATE)  # a tone that is cut off is higher between its samples
    tone[-RATE:] *= np.linspace(1.0, 0.0, RATE)
    media = [write(tmp_path, "tone.wav", np.stack([tone, tone], axis=1))]
    clips = (Clip(start_s=0.0, end_s=10.0, file="tone.wav", offset_s=0.0),)
    context = audio_context(
        tmp_path,
        media,
        Channel(id="t", name="Fiddle", kind="track", legs=2, output="mix", clips=clips),
        Channel(id="mix", name="Mix Bus", kind="master", legs=2, output=None),
    )
    found = level_over_time(context)
    assert is_known(found)
    assert found.print_name == ""
    assert np.nanmedian(found.lufs) == pytest.approx(-20.0, abs=0.1)
    assert is_known(found.highest)
    assert found.highest.db == pytest.approx(-20.0, abs=0.05)
