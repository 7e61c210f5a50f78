"""What a sign-off says is what counts: nothing unseen, nothing twice, nothing without grounds, no day to come."""

from __future__ import annotations

import unicodedata
from datetime import date, timedelta
from pathlib import Path

import pytest

from mixlint.errors import BrokenFile, MixlintError
from mixlint.review.findings import Evidence, Finding, SubjectRef
from mixlint.signoffs.create import worst_grounds
from mixlint.signoffs.file import read_signoffs, signoffs_text
from mixlint.signoffs.lapse import MixState, why_ended, why_lapsed
from mixlint.signoffs.line import read_line
from mixlint.signoffs.paths import PROJECT
from tests.signoffs.signers import line

LINE = (
    'sign return-fully-wet return "Plate" because "intended sound" by RM on 2026-03-14 until never for finding '
    "grade hold rests dry_db=-9.5 held-to dry_db=-40.0"
)
SONG = LINE.replace(' "Plate"', "").replace("for finding", "for song")


@pytest.mark.parametrize(
    ("text", "says", "do"),
    [
        (f"# the house\r{LINE}", "a carriage return stands alone", "on a line of its own"),
        (LINE.replace("intended", "in\u202etended"), "U+202E", r"\\u202e"),
        ("# all \u2066well\u2069", "U+2066", r"\\u2066"),
        (LINE.replace("Plate", "Pl\U000e0041ate"), "U+E0041", r"\\udb40\\udc41"),
        (LINE.replace("Plate", "Pl\u00adate"), "U+00AD", "delete it"),
        (LINE.replace("rests dry_db=-9.5", "rests dry_db=-9.5 dry_db=-2.5"), "dry_db stands twice", "mixlint sign"),
        (SONG.partition(" rests")[0], "never lapse", "sign again"),
        (LINE.partition(" rests")[0], "never lapse", "sign again"),
        (SONG.replace("for song", "for project"), "in the file of one session", PROJECT),
        (
            'answer a b "c" yes because "d" by RM on 2026-03-14 until never for finding',
            "for which mix",
            "--answer",
        ),
    ],
)  # fmt: skip
def test_a_fault_names_file_line_and_cure(text: str, says: str, do: str, tmp_path: Path) -> None:
    path = tmp_path / "song.signed.txt"
    path.write_text(f"# a heading\n{text}\n", encoding="utf-8", newline="")
    with pytest.raises(BrokenFile) as caught:
        read_signoffs(path)
    assert caught.value.where == f"{path}, line 2"
    assert says in caught.value.what
    assert do.replace("\\\\", "\\") in caught.value.do


def test_project_lines_are_read_from_the_project_file(tmp_path: Path) -> None:
    path = tmp_path / PROJECT
    path.write_text(SONG.replace("for song", "for project") + "\n", encoding="utf-8")
    assert len(read_signoffs(path)) == 1


def test_spellings_that_need_unseen_characters_are_read(tmp_path: Path) -> None:
    """A joiner in Persian and a variant of a sign (Unicode 15, chapters 9.2 and 23.4), as 0.1.0 wrote them."""
    path = tmp_path / "song.signed.txt"
    path.write_text(LINE.replace("Plate", "می\u200cخواهم \u2665\ufe0f") + "\n", encoding="utf-8")
    assert read_signoffs(path)[0].name == "می\u200cخواهم \u2665\ufe0f"


def test_every_unseen_character_is_escaped_where_it_is_written(tmp_path: Path) -> None:
    """By the categories of the module unicodedata, and those that the Unicode Character Database leaves out besides."""
    unseen = [
        chr(code) for code in range(0x110000) if unicodedata.category(chr(code)) in ("Cc", "Cf", "Cs", "Zl", "Zp")
    ]
    unseen += [
        "\u034f",
        "\u115f",
        "\u1160",
        "\u17b4",
        "\u180b",
        "\u3164",
        "\ufe0f",
        "\uffa0",
        "\U000e0100",
        "\U000e0001",
    ]
    because = "a".join(unseen)
    text = signoffs_text([line("RM", because)], {})
    left = [c for c in text if c != "\n" and unicodedata.category(c) in ("Cc", "Cf", "Cs", "Zl", "Zp")]
    assert not left
    assert not {"\u034f", "\u3164", "\ufe0f", "\U000e0100"} & set(text)
    path = tmp_path / "song.signed.txt"
    path.write_text(text, encoding="utf-8")
    assert read_signoffs(path)[0].because == because


def test_a_day_to_come_does_not_count() -> None:
    """Tomorrow may be today elsewhere; 9999-12-31 was read without a word."""
    now = MixState(date(2026, 3, 14))
    assert not why_ended(line("RM", day=now.day + timedelta(days=1)), now)
    assert "9999-12-31, which is still to come" in why_ended(line("RM", day=date(9999, 12, 31)), now)


def finding(**values: object) -> Finding:
    """A flagged row with some values in its evidence, each held to a limit."""
    evidence = tuple(
        Evidence(fact=fact, value=value, limit=False, known="declared")
        for fact, value in values.items()  # type: ignore[arg-type]
    )
    return Finding(
        rule="nothing-soloed", area="prep", grade="hold", verdict="flagged",
        subject=SubjectRef(table="channel", id="a", name="A"), message="m", remedy="r", evidence=evidence,
        fingerprint="f",
    )  # fmt: skip


def test_a_wide_line_rests_on_what_its_rows_have() -> None:
    """A switch that all have; each of the words that they have; and nothing to rest on is no sign-off."""
    assert worst_grounds([finding(soloed=True), finding(soloed=True)]) == ({"soloed": True}, {})
    rests, _ = worst_grounds([finding(kind="b"), finding(kind="a")])
    assert rests == {"kind": ("a", "b")}
    wide = read_line(SONG.replace("dry_db=-9.5 held-to dry_db=-40.0", 'kind=["a","b"]'))
    assert not why_lapsed(wide, finding(kind="b"), None)
    assert "kind was a or b when it was signed, and is c now" in why_lapsed(wide, finding(kind="c"), None)
    with pytest.raises(MixlintError, match="one by one"):
        worst_grounds([finding()])
