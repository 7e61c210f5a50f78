"""One sign-off, one line: written, read back, refused."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from string import ascii_letters, ascii_lowercase, digits

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mixlint.errors import BrokenFile
from mixlint.signoffs.file import AREAS, read_signoffs, signoffs_text
from mixlint.signoffs.line import ANSWERS, SCOPES, SignOff, end_of, line_text, read_line
from mixlint.signoffs.paths import session_signoffs

LINE = (
    'sign return-fully-wet return "Plate" because "intended sound" by RM on 2026-03-14 until mix 5 for finding '
    'grade hold rests dry_db=-9.5 effect="reverb" held-to dry_db=-40.0'
)
LETTERS, SIGNS = st.sampled_from(ascii_lowercase), ascii_lowercase + digits  # st.from_regex takes four times as long
WORDS = st.builds(
    lambda first, rest, more: "-".join([first + rest, *more]),
    LETTERS, st.text(SIGNS, max_size=8), st.lists(st.text(SIGNS, min_size=1, max_size=5), max_size=2),
)  # fmt: skip
NAMES = st.builds(lambda first, rest: first + rest, LETTERS, st.text(SIGNS + "_", max_size=12))
TEXTS = st.text(min_size=1, max_size=30)
SCALARS = st.one_of(
    st.booleans(), st.integers(-9999, 9999), st.floats(allow_nan=False, allow_infinity=False), st.text(max_size=20)
)
VALUES = st.one_of(SCALARS, st.lists(SCALARS, max_size=4).map(tuple))
FACTS = st.dictionaries(NAMES, VALUES, max_size=4)


@st.composite
def items(draw: st.DrawFn) -> SignOff:
    answer = draw(st.none() | st.sampled_from(ANSWERS))
    scope = draw(st.sampled_from(SCOPES))
    narrow = scope in ("finding", "part")
    day = st.dates(date(2000, 1, 1), date(2100, 1, 1))
    until = st.one_of(st.just("never"), day.map(str), st.integers(0, 999).map(lambda n: f"mix {n}"))
    return SignOff(
        rule=draw(WORDS), table=draw(WORDS), name=draw(TEXTS) if narrow else "",
        number=draw(st.integers(1, 9)) if scope == "finding" else 1, because=draw(TEXTS),
        by=draw(st.text(ascii_letters, min_size=1, max_size=4)), on=draw(day), until=draw(until),
        scope=scope, grade="" if answer else draw(st.sampled_from(("hold", "look", "note"))), answer=answer,
        content="abc/unheard" if answer else "", settings="" if answer else draw(st.sampled_from(("", "0a9f"))),
        rests=draw(FACTS), limits=draw(FACTS),
    )  # fmt: skip


@pytest.mark.slow
@settings(max_examples=200, deadline=None)
@given(item=items())
def test_a_line_comes_back(item: SignOff) -> None:
    """Whatever the names and reasons hold, it is one line, and read again it is the same."""
    text = line_text(item)
    assert len(text.splitlines()) == 1
    assert read_line(text) == item


def test_a_line_reads_like_a_sentence() -> None:
    item = read_line(LINE)
    assert line_text(item) == LINE
    assert (item.rule, item.name, item.by, item.until, item.grade) == (
        "return-fully-wet",
        "Plate",
        "RM",
        "mix 5",
        "hold",
    )
    assert (item.rests, item.limits) == ({"dry_db": -9.5, "effect": "reverb"}, {"dry_db": -40.0})


@pytest.mark.parametrize(
    ("broken", "says"),
    [
        ("sing x y", "begins with sign or answer"),
        (LINE.replace(' "Plate"', ""), "names it"),
        (LINE.replace("because", "as"), "because is missing"),
        (LINE.replace("2026-03-14", "14.3.2026"), "is no day"),
        (LINE.replace("finding", "house"), "the scope is one of"),
        (LINE.replace("grade hold", "grade grave"), "the grade is one of"),
        (LINE.replace("-9.5", "NaN"), "cannot be read"),
        (LINE.replace("by RM", "by ?"), "no initials"),
        (LINE.replace("mix 5", "mix five"), "no whole number"),
        (LINE + " and more", "nothing is expected"),
        ('sign x y "never closed', "cannot be read"),
        ("answer x y", "answer is missing"),
    ],
)
def test_a_broken_line_says_where(broken: str, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        read_line(broken)


@pytest.mark.parametrize(("given_", "kept"), [("never", "never"), ("Mix 07", "mix 7"), ("2026-12-01", "2026-12-01")])
def test_ends(given_: str, kept: str) -> None:
    assert end_of(given_) == kept


@pytest.mark.parametrize("given_", ["soon", "mix", "2026-13-01", ""])
def test_ends_that_are_none(given_: str) -> None:
    with pytest.raises(ValueError, match="no day"):
        end_of(given_)


@pytest.mark.slow
@settings(max_examples=50, deadline=None)
@given(found=st.lists(items(), max_size=8), order=st.randoms())
def test_a_file_does_not_hang_on_the_order_of_signing(found: list[SignOff], order: object) -> None:
    """The same sign-offs give the same text, and the text read and written again is itself."""
    areas = {item.rule: AREAS[len(item.rule) % len(AREAS)] for item in found}
    once = {(*i.key, i.signer, bool(i.answer)): i for i in found}
    mixed = list(once.values())
    order.shuffle(mixed)  # type: ignore[attr-defined]
    assert signoffs_text(mixed, areas) == signoffs_text(once.values(), areas)


def test_a_file_has_every_heading_and_no_totals(tmp_path: Path) -> None:
    path = tmp_path / "song.signed.txt"
    text = signoffs_text([read_line(LINE)], {"return-fully-wet": "ambience"})
    path.write_text(text, encoding="utf-8")
    assert [one.removeprefix("# ") for one in text.splitlines() if one.startswith("# ")][1:] == list(AREAS)
    assert text.splitlines()[text.splitlines().index("# ambience") + 1] == LINE
    assert read_signoffs(path) == [read_line(LINE)]
    assert signoffs_text(read_signoffs(path), {"return-fully-wet": "ambience"}) == text


def test_the_later_line_of_one_person_stays() -> None:
    later = read_line(LINE.replace("2026-03-14", "2026-04-01").replace("intended sound", "style"))
    for pair in ([read_line(LINE), later], [later, read_line(LINE)]):
        assert signoffs_text(pair, {}).count("sign return-fully-wet") == 1
        assert '"style"' in signoffs_text(pair, {})
    other = read_line(LINE.replace("by RM", "by TK"))
    assert signoffs_text([read_line(LINE), other], {}).count("sign return-fully-wet") == 2


@pytest.mark.parametrize(
    ("text", "says", "place"),
    [
        (f"# a\n{LINE}\nsign it\n", "this is no sign-off", "line 3"),
        (f"<<<<<<< mine\n{LINE}\n=======\n>>>>>>> theirs\n", "a merge conflict is left", "line 1"),
    ],
)
def test_a_broken_file_names_the_line(text: str, says: str, place: str, tmp_path: Path) -> None:
    path = tmp_path / "song.signed.txt"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(BrokenFile, match=says) as caught:
        read_signoffs(path)
    assert place in caught.value.where


def test_other_line_ends_and_a_byte_order_mark_are_read(tmp_path: Path) -> None:
    """What editors of other systems leave behind."""
    path = tmp_path / "song.signed.txt"
    path.write_bytes(b"\xef\xbb\xbf# x\r\n" + LINE.encode() + b"\r\n")
    assert read_signoffs(path) == [read_line(LINE)]


def test_the_file_lies_beside_the_session(tmp_path: Path) -> None:
    (tmp_path / "stems").mkdir()
    assert session_signoffs(tmp_path / "song.v2.dawproject") == tmp_path / "song.v2.signed.txt"
    assert session_signoffs(tmp_path / "stems") == tmp_path / "stems.signed.txt"
