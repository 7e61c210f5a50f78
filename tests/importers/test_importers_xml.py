"""The XML pass: places in long files, encodings, limits, and the fast lane against the ordinary one."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mixlint.errors import BrokenFile, RefusedFile
from mixlint.importers.dawproject import xml_tree
from mixlint.importers.dawproject.automation_blocks import AutomationBlockExtractor
from mixlint.importers.dawproject.xml_tree import Node, PointsNode, read_tree
from mixlint.media import xml_parser
from mixlint.media.xml_parser import XmlLimits, read_texts
from tests.importers.documents import channel, document, read, track


def tree(text: str | bytes, limits: XmlLimits | None = None) -> Node:
    data = text if isinstance(text, bytes) else text.encode()
    return read_tree(io.BytesIO(data), "project.xml", limits or XmlLimits())


def _points(inside: str) -> str:
    return f"<Project><Points>{inside}</Points></Project>"


def points_of(root: Node) -> list[tuple[list[float], list[float], bytes]]:
    return [(list(one.times), list(one.values), bytes(one.holds)) for one in root.walk() if isinstance(one, PointsNode)]


def test_places_stay_right_past_line_65534(tmp_path: Path) -> None:
    # A line number of 16 bits would wrap here.
    session = read(tmp_path, document("\n" * 70_000 + track("Late")))
    assert channel(session, "Late").where == "project.xml:70006"


def test_places_stay_right_behind_lifted_points(tmp_path: Path) -> None:
    run = "".join(f'\n<RealPoint time="{n}" value="0.5" interpolation="linear"/>' for n in range(70_000))
    lane = (
        '<Points><Target parameter="v"/>'
        + run
        + '\n</Points>\n<Points><Target parameter="p"/><RealPoint time="0" value="0.5"/></Points>'
    )
    controls = '<Volume unit="linear" value="1" id="v"/><Pan unit="percent" value="50" id="p"/>'
    part = channel(read(tmp_path, document(track("Part", controls), lane)), "Part")
    where = {str(one.target): one.where for one in part.automation}
    assert where == {"fader": "project.xml:11", "pan": "project.xml:70013"}
    assert len(part.automation[0].t) == 70_000


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "iso-8859-1"])
def test_encodings(encoding: str) -> None:
    name = "Trömmel" if encoding == "iso-8859-1" else "Trömmel 東"
    declared = {"utf-8-sig": "utf-8", "utf-16-le": "utf-16"}.get(encoding, encoding)
    inside = f'<Structure>\n<Track name="{name}"/></Structure>'
    text = f'<?xml version="1.0" encoding="{declared}"?>\n<Project>{inside}</Project>'
    data = text.encode(encoding)
    if encoding == "utf-16-le":
        data = b"\xff\xfe" + data
    node = tree(data).children[0].children[0]
    assert (node.get("name"), node.line) == (name, 3)


@pytest.mark.parametrize(
    ("text", "limits", "says"),
    [
        ("<Project><Track/><Track/></Project>", XmlLimits(elements=2), "more than 2 elements"),
        ("<Project><Track><Track/></Track></Project>", XmlLimits(depth=2), "more than 2 deep"),
        ("<Project a='1' b='2'/>", XmlLimits(attributes=1), "more than 1 attributes"),
        ("<Project>" + " " * 5000 + "</Project>", XmlLimits(size=4096), "more than 4096 bytes"),
        (_points("<RealPoint time='0' value='0'/>" * 4), XmlLimits(points=3), "more than 3"),
        (_points('<RealPoint time="0" value="0"/>' * 40), XmlLimits(points=30), "more than 30"),
        ("<Project><a/><b/><c/></Project>", XmlLimits(names=2), "more than 2 different names"),
        ("<!DOCTYPE Project><Project/>", XmlLimits(), "document type"),
    ],
)  # fmt: skip
def test_every_limit_holds(text: str, limits: XmlLimits, says: str) -> None:
    with pytest.raises(RefusedFile, match=says):
        tree(text, limits)


def test_broken_markup_gives_its_line() -> None:
    with pytest.raises(BrokenFile) as caught:
        tree("<Project>\n<Structure>\n</Project>")
    assert caught.value.where == "project.xml:3"


def test_entities_that_need_no_document_type_are_read() -> None:
    assert tree('<Project><Track name="R&amp;B &#228;"/></Project>').children[0].get("name") == "R&B ä"


def test_metadata_are_texts_by_tag() -> None:
    data = b"<MetaData><Title>R&amp;B</Title><Artist>\n </Artist><Deep><In>x</In></Deep><Title> two</Title></MetaData>"
    assert read_texts(io.BytesIO(data), "metadata.xml", XmlLimits()) == {"Title": "R&B two"}


_NUMBERS = st.one_of(
    st.floats(allow_nan=False, allow_infinity=False).map(repr),
    st.integers(-5, 5).map(str),
    st.sampled_from(["", "inf", "nan", "1e5", "--5", "1.2.3", "true", " 1", "0x1", "1_0"]),
)


@st.composite
def _point_lists(draw: st.DrawFn) -> str:
    """Points as they come: mostly plain runs in one spelling, with odd ones among them."""
    order = draw(st.permutations(["time", "value", "interpolation"]))
    text = []
    for _ in range(draw(st.integers(0, 30))):
        number = draw(st.integers(-9, 9)) if draw(st.integers(0, 9)) else None
        value = str(number) if number is not None else draw(_NUMBERS)
        given = {"time": str(len(text)), "value": value, "interpolation": draw(st.sampled_from(["linear", "hold"]))}
        names = order if draw(st.integers(0, 19)) else draw(st.permutations(order))[: draw(st.integers(1, 3))]
        attrs = " ".join(f'{name}="{given[name]}"' for name in names)
        end = draw(st.sampled_from(["/>", " />", "/>\n", "/>\n    ", "/>", "></RealPoint>", "/><!-- x -->"]))
        text.append(f"<RealPoint {attrs}{end}")
        if not draw(st.integers(0, 29)):
            text.append(
                draw(
                    st.sampled_from(['<Target parameter="x"/>', "text", '<BoolPoint time="9" value="true"/>', "<Odd/>"])
                )
            )
    return "".join(text)


class _NoExtractor(AutomationBlockExtractor):
    """The ordinary way: nothing is lifted out."""

    def feed(self, piece: bytes) -> bytes:
        return piece


@pytest.mark.slow
@settings(max_examples=300, deadline=None)
@given(lists=st.lists(_point_lists(), min_size=1, max_size=3), chunk=st.sampled_from([7, 64, 1 << 18]))
def test_the_fast_lane_reads_what_the_ordinary_one_reads(lists: list[str], chunk: int) -> None:
    text = (
        "<Project>\n"
        + "\n".join(f'<Points id="{n}">{one}</Points>' for n, one in enumerate(lists))
        + "<Track/></Project>"
    )
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(xml_parser, "CHUNK", chunk)
        fast = tree(text)
        patch.setattr(xml_tree, "AutomationBlockExtractor", _NoExtractor)
        slow = tree(text)
    assert repr(points_of(fast)) == repr(points_of(slow))  # repr, so that NaN equals itself
    assert [(one.tag, one.line) for one in fast.walk()] == [(one.tag, one.line) for one in slow.walk()]


def test_the_fast_lane_is_taken() -> None:
    extractor = AutomationBlockExtractor(1 << 18)
    run = b'<RealPoint value="1" interpolation="linear" time="0"/>\n' * 100
    out = extractor.feed(b"<Points>" + run + b"</Points>") + extractor.flush()
    assert out.count(b"RealPoint") == 0
    assert out.count(b"\n") == 100
    assert len(next(iter(extractor.blocks.values())).times) == 100


@pytest.mark.parametrize(
    "text",
    [
        b"<Project><!-- " + b'<RealPoint value="1" time="0"/>' * 20 + b" --></Project>",
        b"<Project><Track><![CDATA[" + b'<RealPoint value="1" time="0"/>' * 20 + b"]]></Track></Project>",
        b"<Project>" + b'<RealPoint value="1" time="0"/>' * 20 + b"</Project>",
        b'<Project><_run n="0"/><Points><_run n="0"/></Points></Project>',
    ],
)
def test_points_that_are_none_do_not_appear(text: bytes) -> None:
    assert sum(len(times) for times, _, _ in points_of(tree(text))) == 0


def test_markup_that_is_broken_inside_a_run_is_still_broken() -> None:
    with pytest.raises(BrokenFile):
        tree(
            b"<Project><Points>"
            + b'<RealPoint value="1" time="0"/>' * 20
            + b'& <RealPoint value="1" time="0"/></Points></Project>'
        )
