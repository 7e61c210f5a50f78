"""The review as text. Golden files are read by a person when they change; no outside standard exists."""

from __future__ import annotations

import os
import re
import unicodedata
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reportsamples import ANSWER, HARBOUR, HOSTILE, LULLABY, OPEN, PLATE, many, report

from mixlint.reports.plain import (
    Page,
    columns,
    encodable,
    in_columns,
    neutral,
    padded,
    shortened,
    without_orders,
    wrapped,
)
from mixlint.reports.text import Wanted, review_text
from mixlint.reports.words import CAUTION, fact_text, measured_text, opened_by_name, value_text, with_unit
from mixlint.review.findings import Counts, Evidence, Finding, GradeCounts, Reason, Report

ALL = Wanted(everything=True)
GOLDEN = Path(__file__).parent / "golden"


def same_as_golden(text: str, name: str) -> None:
    """Compare with the golden file; MIXLINT_WRITE_GOLDEN=1 writes it anew for a person to read."""
    file = GOLDEN / name
    if os.environ.get("MIXLINT_WRITE_GOLDEN"):
        file.write_text(text, encoding="utf-8")
    assert text == file.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("name", "shown", "page", "everything"),
    [
        ("two-sessions.txt", report(HARBOUR, LULLABY), Page(100), False),
        ("narrow-everything.txt", report(HARBOUR), Page(64), True),
        ("hostile.txt", report(HOSTILE), Page(90), False),
        ("weights.txt", report(HARBOUR), Page(100, weights=True), False),
        ("colours.txt", report(HARBOUR, LULLABY), Page(40, weights=True, colours=True), False),
    ],
)
def test_golden(name: str, shown: Report, page: Page, everything: bool) -> None:
    """Each layout reads exactly as it did when a person last looked at it."""
    same_as_golden(review_text(shown, page, Wanted(everything=everything)), name)


@pytest.mark.parametrize("width", [40, 50, 64, 76, 100, 140])
def test_no_line_is_wider_than_the_page(width: int) -> None:
    """Rows, messages and rules fit, the table of several sessions too; 40 columns is the least a page can have."""
    for line in review_text(report(HARBOUR, LULLABY), Page(width), ALL).splitlines():
        assert columns(line) <= width, line


@pytest.mark.parametrize("width", [40, 64, 100])
def test_nothing_is_cut_away(width: int) -> None:
    """Neither a long title nor a long path: all characters of the wide page are on the narrow one, in their order."""
    long = HARBOUR.model_copy(update={"source": f"/{'songs/' * 20}harbour.json", "title": "Harbour " * 40})
    name, title = (re.sub(r"\s", "", one) for one in (long.source, long.title))
    text = re.sub(r"\s", "", review_text(report(long, LULLABY), Page(width), ALL))
    assert text.count(title) == 1
    assert "…" not in text.replace(" … ", "")
    table = text[text.rindex("─") :]
    assert (name in table) is (width < 64) or table.startswith("─session")


def test_colour_is_a_help_and_never_a_difference() -> None:
    """Without its codes the coloured page is the plain one; only what holds and what asks for a look has a colour."""
    plain = review_text(report(HARBOUR, LULLABY), Page(100), ALL)
    coloured = review_text(report(HARBOUR, LULLABY), Page(100, weights=True, colours=True), ALL)
    assert re.sub(r"\x1b\[[0-9;]*m", "", coloured) == plain
    assert set(re.findall(r"\x1b\[([0-9;]*)m", coloured)) == {"0", "1", "2", "1;31", "1;35"}
    for _, said in re.findall(r"\x1b\[(1;3[15])m(.*?)\x1b", coloured):
        assert re.search(r"\b(hold|held|look)\b", said), said
    assert without_orders(coloured) == coloured


@pytest.mark.parametrize("code", ["1;31", "1;35"])
def test_the_colours_are_read_on_black_and_on_white(code: str) -> None:
    """At 3:1 or more (WCAG 2.2, 1.4.11) in the palette of xterm's manual: 205, 0, 0 and 205, 0, 205."""
    rgb = {"1;31": (205, 0, 0), "1;35": (205, 0, 205)}[code]
    linear = [(c / 255 / 12.92) if c / 255 <= 0.04045 else ((c / 255 + 0.055) / 1.055) ** 2.4 for c in rgb]
    luminance = 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
    assert 1.05 / (luminance + 0.05) >= 3.0
    assert (luminance + 0.05) / 0.05 >= 3.0


@given(
    st.lists(st.text(max_size=60), min_size=1, max_size=5),
    st.lists(st.integers(min_value=3, max_value=30), min_size=5, max_size=5),
)
def test_columns_hold_all_of_their_cells(cells: list[str], widths: list[int]) -> None:
    """Whatever is in them, side by side, straight, and read from top to bottom."""
    safe, rights = [neutral(cell) for cell in cells], {1, 3}
    widths = widths[: len(safe)]
    found = ["" for _ in safe]
    for line in in_columns(safe, widths, rights):
        at = 0
        for n, width in enumerate(widths):
            piece, taken = "", 0
            while taken < width and at < len(line):
                taken += columns(line[at])
                piece += line[at]
                at += 1
            while at < len(line) and columns(line[at]) == 0:  # what combines with the last sign
                piece += line[at]
                at += 1
            assert taken <= width
            found[n] += "".join(piece.split())
            gap, at = line[at : at + 2], at + 2
            assert not gap.strip()
    assert found == ["".join(cell.split()) for cell in safe]


def test_a_reader_is_told_where_on_the_desk_and_in_the_song() -> None:
    """A line of the export says nothing to anybody at a desk; a place in the song is said once."""
    finding = PLATE.model_copy(update={"where": "project.xml:1064", "desk": "channel 7 in Returns"})
    text = review_text(report(HARBOUR.model_copy(update={"findings": (finding,)})), Page(100))
    assert "project.xml" not in text
    assert "(channel 7 in Returns)" in text
    moving = finding.model_copy(update={"where": "bars 1 to 8, 0:00.0 to 0:19.0"})
    text = review_text(report(HARBOUR.model_copy(update={"findings": (moving,)})), Page(120))
    assert "(channel 7 in Returns, bars 1 to 8, 0:00.0 to 0:19.0)" in text
    said = moving.model_copy(update={"message": "Plate is dry in bars 1 to 8, 0:00.0 to 0:19.0."})
    text = review_text(report(HARBOUR.model_copy(update={"findings": (said,)})), Page(120))
    assert text.count("bars 1 to 8") == 1


def test_what_holds_stands_first_then_looks_then_questions_then_notes() -> None:
    changes = {"grade": "note", "cause": "", "fingerprint": "n1", "message": "a note.", "order": 0}
    note = ANSWER.model_copy(update=changes)
    session = HARBOUR.model_copy(update={"findings": (note, *HARBOUR.findings)})
    text = review_text(report(session), Page(100))
    places = [text.index(word) for word in ("\nhold: ", "\nlook: ", "\nquestions: ", "\nnote: ")]
    assert places == sorted(places)
    assert text.index("Plate passes") < text.index("The mix leans")


def test_evidence_and_assumptions_only_where_asked_for() -> None:
    session = HARBOUR.model_copy(update={"assumptions": ("pan law: linear", "solo is judged apart")})
    plain = review_text(report(session), Page(100))
    assert "evidence" not in plain
    assert "2 assumptions behind these figures: --assumptions lists them." in plain
    asked = review_text(report(session), Page(100), Wanted(why=True, assumptions=True))
    assert "evidence  from the export: dry −9.5 dB (wet share 25 %)" in asked
    assert "limit     dry −9.5 dB, limit −40 dB" in asked
    assert "    solo is judged apart" in asked


def test_quiet_is_outcome_counts_and_holds() -> None:
    text = review_text(report(HARBOUR), Page(100), Wanted(quiet=True))
    assert "held: do not bounce yet" in text
    assert "Plate passes" in text
    for left_out in ("The mix leans", "questions: ", "assum", "signed off, and", "clear,"):
        assert left_out not in text
    strict = review_text(report(HARBOUR), Page(100), Wanted(quiet=True), "look")
    assert "The mix leans" in strict


def test_the_head_counts_by_grade() -> None:
    by_grade = GradeCounts(hold=2, look=1, note=1)
    counts = Counts(flagged=4, open=3, flagged_by_grade=by_grade, open_by_grade=GradeCounts(hold=1, note=2))
    text = review_text(report(HARBOUR.model_copy(update={"counts": counts})), Page(100))
    assert "rows      2 hold, 1 look, 1 note, 3 questions (1 could hold the bounce)" in text


def test_several_sessions_end_in_a_table_that_says_which_is_held() -> None:
    again = HARBOUR.model_copy(update={"source": "/songs/second.json", "outcome": "look"})
    text = review_text(report(LULLABY, again, HARBOUR), Page(90))
    rows = [line.split()[:2] for line in text.splitlines() if ".json  " in line]
    assert rows == [["evening-harbour.json", "held"], ["/songs/second.json", "look"], ["lullaby.json", "clear"]]
    assert "3 sessions: 1 held, 1 look first, 1 clear." in text


def test_weights_only_mean_bold_and_dim() -> None:
    """No colour is ever written: SGR 1, 2 and 0 only (ECMA-48 clause 8.3.117)."""
    text = review_text(report(HARBOUR, LULLABY), Page(100, weights=True), ALL)
    assert set(re.findall(r"\x1b\[([0-9;]*)m", text)) == {"0", "1", "2"}


def test_hostile_names_cannot_reach_the_terminal() -> None:
    """Nothing in Unicode's categories Cc (but the line feed), Cs or the direction overrides is left."""
    text = review_text(report(HOSTILE), Page(80), ALL)
    bad = {c for c in text if c != "\n" and (unicodedata.category(c) in ("Cc", "Cs") or c in "\u202e\u2066\u200e")}
    assert bad == set()
    assert "␛[31mred" in text


def test_markup_in_names_is_left_as_it_is() -> None:
    """Square brackets are text, not styling."""
    assert "[bold]Gtr[/]" in review_text(report(HOSTILE), Page(100))


def test_findings_with_one_cause_stand_under_it() -> None:
    """The accordion follows from the lean of the mix and has no row of its own."""
    text = review_text(report(HARBOUR), Page(100))
    plate, head, follows = (text.index(word) for word in ("Plate passes", "The mix leans", "with it: "))
    assert plate < head < follows < text.index("Accordion sits 60 left")
    assert not re.search(r"^    Accordion", text, re.MULTILINE)


def test_a_ring_of_causes_loses_nothing() -> None:
    """Two findings that name each other as cause are both shown."""
    one = ANSWER.model_copy(update={"cause": "z2", "fingerprint": "z1", "message": "first of the ring"})
    two = ANSWER.model_copy(update={"cause": "z1", "fingerprint": "z2", "message": "second of the ring"})
    text = review_text(report(HARBOUR.model_copy(update={"findings": (one, two)})), Page(100))
    assert "first of the ring" in text
    assert "second of the ring" in text


def test_very_many_rows_keep_the_gravest_and_count_the_rest() -> None:
    """Of 100 look rows and one hold in the middle, 40 are shown, the hold first, then the others in desk order."""
    text = review_text(report(many(101)), Page(100))
    shown = [int(n) for n in re.findall(r"^    Part (\d+)", text, re.MULTILINE)]
    assert len(shown) == 40
    assert shown[0] == 50
    assert shown[1:] == sorted(shown[1:])
    assert "61 more flagged and not shown (61 look); --everything shows them." in text
    everything = review_text(report(many(101)), Page(100), ALL)
    assert len(re.findall(r"^    Part (\d+)", everything, re.MULTILINE)) == 101


def test_many_followers_of_one_cause_are_counted_too() -> None:
    """A cause with 100 findings under it does not drown the page either."""
    head = PLATE
    followers = [
        ANSWER.model_copy(update={"cause": head.fingerprint, "fingerprint": f"f{n}", "message": f"follower {n}."})
        for n in range(100)
    ]
    text = review_text(report(HARBOUR.model_copy(update={"findings": (head, *followers)})), Page(100))
    assert len(re.findall(r"follower \d+\.", text)) == 39
    assert "61 more flagged" in text


def _alone(finding: Finding) -> str:
    session = HARBOUR.model_copy(update={"findings": (finding,), "counts": Counts(flagged=1)})
    return review_text(report(session, session), Page(120))


def test_the_caution_stands_once_however_many_sessions() -> None:
    """A remedy that touches levels brings the caution about hearing, once per report."""
    assert _alone(PLATE).count(CAUTION) == 0  # wrapped over two lines at 120 columns
    assert " ".join(_alone(PLATE).split()).count(CAUTION) == 1


@pytest.mark.parametrize(
    "remedy",
    ["Bring the fader down.", "Raise the send.", "Trim the clip.", "Boost less.", "Unmute it.", "Add 3 dB."],
)
def test_level_words_bring_the_caution(remedy: str) -> None:
    """The caution does not hang on the unit of the evidence alone."""
    finding = ANSWER.model_copy(update={"remedy": remedy, "evidence": ()})
    assert "loud sound harms hearing" in " ".join(_alone(finding).split())


def test_no_caution_where_nothing_touches_levels() -> None:
    """Renaming a channel needs no caution."""
    finding = ANSWER.model_copy(update={"remedy": "Give the channel a name.", "evidence": ()})
    assert "hearing" not in _alone(finding)


def test_open_rows_with_one_reason_are_brought_together() -> None:
    """The reason is said once, each question beneath it."""
    other = OPEN.model_copy(update={"question": "Is Hall cut?", "fingerprint": "d5"})
    session = HARBOUR.model_copy(update={"findings": (OPEN, other)})
    text = review_text(report(session), Page(100))
    assert text.count("the settings of Valley EQ are hidden in the export") == 1
    assert "Is the low end cut before or after Plate?" in text
    assert "Is Hall cut?" in text


def test_the_words_of_other_trades_are_absent() -> None:
    """Findings are not called errors, warnings, violations, issues or problems."""
    text = review_text(report(HARBOUR, LULLABY), Page(100), ALL)
    assert not re.search(r"\b(error|warning|violation|issue|problem|score|policy|autofix)s?\b", text, re.IGNORECASE)


@pytest.mark.parametrize(
    ("value", "unit", "column", "full"),
    [
        (-9.5, "dB", "−9.5", "−9.5 dB"),
        (-200.0, "dB", "−∞", "−∞ dB"),
        (-50.0, "pan", "50 left", "50 left"),
        ((-30.0, 30.0), "pan", "30 left … 30 right", "30 left … 30 right"),
        ((-1.0, 1.0), "dB", "−1 … 1", "−1 … 1 dB"),
        (4.0, ":1", "4", "4:1"),
        (12000.0, "Hz", "12 000", "12 000 Hz"),
        (True, "", "yes", "yes"),
        (None, "dB", "not seen", "not seen"),
        ((), "", "none", "none"),
        (("a", "b", "c"), "", "a, b, c", "a, b, c"),
        (50.0, "%", "50", "50 %"),
        (3, "", "3", "3"),
    ],
)
def test_values_are_said_as_a_desk_is_read(value: float, unit: str, column: str, full: str) -> None:
    """One value in its column, and with its unit in a sentence."""
    assert value_text(value, unit) == column
    assert with_unit(value, unit) == full


def test_fact_names_become_words() -> None:
    """The unit of a fact stands in its own column, so its name drops it."""
    assert fact_text("worst_stretch_db") == "worst stretch"
    assert fact_text("effect") == "effect"


@given(st.text(max_size=80), st.integers(min_value=1, max_value=40))
def test_cells_are_exactly_as_wide_as_their_column(text: str, width: int) -> None:
    """Whatever a name holds, the grid stays straight."""
    safe = neutral(text)
    assert columns(padded(safe, width)) == width
    assert columns(shortened(safe, width)) <= width
    assert not any(unicodedata.category(c) in ("Cc", "Cs") for c in safe)


def test_plainer_signs_for_a_stream_that_cannot_carry_them() -> None:
    """An ASCII stream gets a hyphen for the minus sign, and ``?`` for what has no plain form."""
    assert encodable("−9.5 dB … 絵", "ascii") == "-9.5 dB ... ?"
    assert encodable("−9.5", "utf-8") == "−9.5"


@given(st.text(max_size=200), st.integers(min_value=20, max_value=90))
def test_wrapping_fits_and_loses_nothing_but_spaces(text: str, width: int) -> None:
    """Wide characters count double, long words are cut, every character stays."""
    safe = neutral(text)
    lines = wrapped(safe, width, "    ", "  - ")
    assert all(columns(line) <= width for line in lines)
    assert "".join("".join(lines).removeprefix("  -").split()) == "".join(safe.split())


def test_many_causes_with_followers_keep_to_the_same_number_of_rows() -> None:
    """Ten causes with nine findings under each: forty rows in all, the rest counted."""
    findings = []
    for n in range(10):
        findings.append(PLATE.model_copy(update={"fingerprint": f"h{n}", "message": f"row head {n}."}))
        findings += [
            ANSWER.model_copy(update={"cause": f"h{n}", "fingerprint": f"h{n}-{k}", "message": f"row {n}-{k}."})
            for k in range(9)
        ]
    text = review_text(report(HARBOUR.model_copy(update={"findings": tuple(findings)})), Page(100))
    assert len(re.findall(r"row (head )?[\d-]+\.", text)) == 40
    assert "60 more flagged and not shown" in text


def _rows(count: int, **updates: object) -> tuple[Finding, ...]:
    return tuple(
        ANSWER.model_copy(
            update={
                "subject": ANSWER.subject.model_copy(update={"id": f"n{n}", "name": f"Part {n}"}),
                "fingerprint": f"n{n}",
                "cause": None,
                **updates,
            }
        )
        for n in range(count)
    )


def test_many_housekeeping_rows_of_one_rule_are_said_once() -> None:
    """80 notes of one rule are one row with 79 names, and drown no look row behind them."""
    look = ANSWER.model_copy(update={"fingerprint": "look", "cause": None, "message": "the row that matters"})
    session = HARBOUR.model_copy(update={"findings": (*_rows(80, grade="note"), look)})
    text = " ".join(review_text(report(session), Page(100)).split())
    assert "the same for Part 1" in text
    assert "Part 12 and 67 more (80 in all)" in text
    assert "the row that matters" in text
    assert "not shown" not in text
    everything = review_text(report(session), Page(100), ALL)
    assert "the same for" not in everything


@pytest.mark.parametrize("grade", ["hold", "look", "note"])
def test_two_rows_of_one_rule_stand_for_themselves_three_are_one(grade: str) -> None:
    """Whatever their grade; of many the first names are listed and the rest counted."""
    texts = [
        " ".join(review_text(report(HARBOUR.model_copy(update={"findings": rows})), Page(100)).split())
        for rows in (_rows(2, grade=grade), _rows(3, grade=grade), _rows(658, grade=grade))
    ]
    assert "the same for" not in texts[0]
    assert "the same for Part 1, Part 2 (3 in all)" in texts[1]
    assert "Part 12 and 645 more (658 in all)" in texts[2]


def test_rows_of_one_rule_that_say_different_things_stand_apart() -> None:
    rows = [
        row.model_copy(update={"message": f"Part {n} ends at {end}."})
        for n, (row, end) in enumerate(zip(_rows(4), ("Spare", "Spare", "Spare", "Phones"), strict=True))
    ]
    text = review_text(report(HARBOUR.model_copy(update={"findings": tuple(rows)})), Page(100))
    assert "the same for Part 1, Part 2 (3 in all)" in text
    assert "Part 3 ends at Phones." in text


def test_missing_files_are_told_by_folder() -> None:
    folders = ("drums", "drums", "vox", "drums", "vox", "vox", "vox")
    rows = tuple(
        row.model_copy(
            update={
                "subject": row.subject.model_copy(update={"table": "media", "name": f"take {n}.wav"}),
                "message": f"take {n}.wav is missing.",
                "where": f"audio/{folder}/take {n}.wav",
            }
        )
        for n, (row, folder) in enumerate(zip(_rows(7, grade="hold"), folders, strict=True))
    )
    text = " ".join(review_text(report(HARBOUR.model_copy(update={"findings": rows})), Page(100)).split())
    assert "the same for take 1.wav, take 3.wav (3 in all)" in text
    assert "the same for take 4.wav, take 5.wav, take 6.wav (4 in all)" in text


def test_missing_files_are_one_row_whoever_plays_them() -> None:
    """The message as the checklist's own rule writes it: behind the file stands its channel, another one each time."""
    rows = tuple(
        row.model_copy(
            update={
                "subject": row.subject.model_copy(update={"table": "media", "name": f"{who}.wav"}),
                "message": f"{who}.wav is absent: the file '{who}.wav' is not there. {who} plays it.",
                "where": f"{who}.wav",
            }
        )
        for row, who in zip(_rows(3, grade="hold"), ("Kick", "Snare", "Lead Vox"), strict=True)
    )
    text = " ".join(review_text(report(HARBOUR.model_copy(update={"findings": rows})), Page(100)).split())
    assert "the same for Snare.wav, Lead Vox.wav (3 in all)" in text


@pytest.mark.parametrize(
    ("table", "name", "message", "said"),
    [
        ("lane", "Steel: fader", "The fader of Steel slides up.", "The fader of Steel slides up."),
        ("lane", "Steel: fader", "It slides up.", "Steel: fader: It slides up."),
        ("pair", "Gtr L and Gtr R", "Gtr R is 5 dB under Gtr L.", "Gtr R is 5 dB under Gtr L."),
        ("pair", "A and B", "Alto is under Baritone.", "A and B: Alto is under Baritone."),
        ("session", "the session", "The mix leans left.", "The mix leans left."),
    ],
)
def test_a_row_is_opened_by_the_name_that_it_does_not_say(table: str, name: str, message: str, said: str) -> None:
    (row,) = _rows(1)
    named = row.model_copy(update={"subject": row.subject.model_copy(update={"table": table, "name": name})})
    assert opened_by_name(named, message) == said


def test_many_open_rows_of_one_rule_ask_once_and_the_gravest_come_first() -> None:
    """33 hidden low cuts are one question with 33 names, behind the one question that could hold the bounce."""
    hidden = Reason(fact="low_cut_hz", why="the settings of EQ are hidden", settle="look at its low cut")
    wet = Reason(fact="dry_db", why="the wet share is not shown", settle="look at its mix control")
    notes = _rows(33, verdict="open", grade="note", rule="cut", question="Is it cut?", reasons=(hidden,))
    hold = _rows(1, verdict="open", grade="hold", rule="wet", question="Is it wet?", reasons=(wet,))
    shown = report(HARBOUR.model_copy(update={"findings": (*notes, *hold)}))
    assert "    33 more questions of housekeeping; --everything asks them" in review_text(shown, Page(100))
    text = review_text(shown, Page(100), ALL)
    assert text.index("Is it wet?") < text.index("Is it cut?")
    assert text.count("Is it cut?") == 1
    assert "(note, 33 in all, mixlint rules cut)" in " ".join(text.split())


def test_reasons_that_one_look_settles_stand_together() -> None:
    """Six reverbs with a hidden wet share are settled in one way, said once; not all reasons are listed."""
    rows = tuple(
        row.model_copy(update={"reasons": (Reason(fact="dry_db", why=f"Verb {n}: no wet share", settle="print it"),)})
        for n, row in enumerate(_rows(6, verdict="open", grade="hold", rule="wet", question="Is it wet?"))
    )
    text = review_text(report(HARBOUR.model_copy(update={"findings": rows})), Page(100))
    assert text.count("to settle it") == 1
    assert "Verb 2: no wet share" in text
    assert "and 3 more of the kind" in text
    assert text.count("Is it wet?") == 1


def test_the_same_remedy_is_said_once() -> None:
    """Rows of one rule with one remedy that say different things: the remedy is written out at the first."""
    rows = tuple(
        row.model_copy(update={"message": f"Part {n} {'far ' * n}away."})
        for n, row in enumerate(_rows(12, grade="hold", remedy="Find the file on the recording drive."))
    )
    text = review_text(report(HARBOUR.model_copy(update={"findings": rows})), Page(100))
    assert text.count("Find the file on the recording drive.") == 1
    assert text.count("      → ") == 1
    assert text.count("(mixlint rules pan-answered)") == 12


def test_gathered_names_bear_their_numbers_where_these_differ() -> None:
    """The head's own number is not said again beside every name."""
    number = Evidence(fact="step_db", value=9.0, unit="dB", limit=6.0, known="derived")
    rows = [row.model_copy(update={"evidence": (number,)}) for row in _rows(5, grade="note")]
    rows[3] = rows[3].model_copy(update={"evidence": (number.model_copy(update={"value": 12.0}),)})
    text = review_text(report(HARBOUR.model_copy(update={"findings": tuple(rows)})), Page(100))
    assert "Part 1, Part 2, Part 3 (12 dB), Part 4 (5 in all)" in text


def test_a_distance_in_pan_has_no_side() -> None:
    """Off centre by 60 is no place on the right; a pan of −60 is a place on the left."""
    rests = (
        Evidence(fact="off_centre", value=60.0, unit="pan distance", limit=30.0, known="derived"),
        Evidence(fact="pan", value=-60.0, unit="pan", limit=30.0, known="declared"),
    )
    said = measured_text(HARBOUR.findings[0].model_copy(update={"evidence": rests}))
    assert said == "off centre 60, limit 30; pan 60 left, limit 30 right"
