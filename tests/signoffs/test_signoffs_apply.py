"""Sign-offs held against a review: verdicts, two-person rules, scopes, answers, what is told about them."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from mixlint.errors import MixlintError
from mixlint.review.engine import counts, outcome
from mixlint.review.findings import Evidence, Finding, SessionReview, SubjectRef
from mixlint.review.run import ChecklistRun
from mixlint.rulebook import load_standard
from mixlint.rulebook.rule import Rule
from mixlint.signoffs.apply import with_signoffs
from mixlint.signoffs.create import Wish, new_signoff, rows_meant
from mixlint.signoffs.file import FiledSignOff
from mixlint.signoffs.lapse import MixState

DAY = date(2026, 3, 14)
STANDARD = load_standard("pre-bounce")
RULES = STANDARD.rules
WET = RULES["return-fully-wet"]
NAMES = {"p": "Plate", "h": "Hall"}
FILE = Path("song.signed.txt")


def row(
    name: str = "Plate", dry: float = -9.5, *, rule: str = WET.id, verdict: str = "flagged", **more: Any
) -> Finding:
    evidence = (Evidence(fact="dry_db", value=dry, unit="dB", limit=-40.0, known="declared"),)
    subject = SubjectRef(table="return", id=name[0].lower(), name=name)
    body: dict[str, Any] = {
        "rule": rule, "area": "ambience", "grade": "hold", "verdict": verdict, "subject": subject,
        "message": f"{name} passes dry signal.", "evidence": evidence, "channels": (name[0].lower(),),
        "fingerprint": name, "question": f"Is {name} wholly wet?" if verdict == "open" else "",
    }  # fmt: skip
    return Finding(**{**body, **more})


def reviewed(*rows: Finding) -> SessionReview:
    return SessionReview(
        source="song.json", title="Song", importer="json", digest="", standard="house", findings=rows,
        outcome=outcome(rows, "hold"), counts=counts(rows),
    )  # fmt: skip


def signs(*rows: Finding, by: str = "RM", scope: Any = "finding", because: str = "style", **more: Any) -> FiledSignOff:
    wish = Wish(
        rows[0].rule, because, by, DAY, on=more.pop("part", None), until=more.pop("until", "never"), scope=scope,
        answer=more.pop("answer", None),
    )  # fmt: skip
    return FiledSignOff(new_signoff(wish, rows, more.pop("findings", rows), more.pop("content", "")), FILE)


def under(made: SessionReview, *lines: FiledSignOff, rules: dict[str, Rule] | None = None, **now: Any) -> SessionReview:
    state = MixState(now.get("day", DAY), now.get("mix"), now.get("content", ""))
    run = ChecklistRun(replace(STANDARD, rules=rules or RULES), state.day)
    return with_signoffs(made, lines, run, state, NAMES)


def test_a_signed_row_no_longer_holds_and_stays_in_sight() -> None:
    made = under(reviewed(row()), signs(row()))
    (found,) = made.findings
    assert (found.verdict, made.outcome, made.counts.signed, made.counts.flagged) == ("signed", "clear", 1, 0)
    assert found.signature is not None
    assert (found.signature.by, found.signature.because, found.signature.on) == (("RM",), "style", "2026-03-14")
    assert found.message == "Plate passes dry signal."


def test_it_lapses_by_the_margin_and_says_why() -> None:
    made = under(reviewed(row(dry=-7.4)), signs(row(dry=-9.5)))
    assert (made.findings[0].verdict, made.outcome) == ("flagged", "held")
    (note,) = made.signing.lapsed
    assert (note.rule, note.name, note.by) == ("return-fully-wet", "Plate", "RM")
    assert note.why == "dry db was −9.5 dB when it was signed, and is −7.4 dB now"


def test_the_margin_of_the_rule_wins() -> None:
    wide = {WET.id: replace(WET, margins={"dry_db": 5.0})}
    assert under(reviewed(row(dry=-7.4)), signs(row(dry=-9.5)), rules=wide).findings[0].verdict == "signed"
    assert under(reviewed(row(dry=-4.5)), signs(row(dry=-9.5)), rules=wide).findings[0].verdict == "flagged"


def test_letter_case_ids_and_order_do_not_matter() -> None:
    other = row("PLATE ").model_copy(update={"subject": SubjectRef(table="return", id="z9", name="PLATE ")})
    assert under(reviewed(row("Hall"), other), signs(row())).findings[1].verdict == "signed"


def test_two_people_where_the_rule_asks_for_two() -> None:
    """One alone waits; twice the same person is one; two different initials are two."""
    two = {WET.id: replace(WET, may_sign="two")}
    alone = under(reviewed(row()), signs(row()), rules=two)
    assert alone.findings[0].verdict == "flagged"
    assert [note.why for note in alone.signing.waiting] == ["a second person must sign this rule off too"]
    again = under(reviewed(row()), signs(row()), signs(row(), by="rm"), rules=two)
    assert again.findings[0].verdict == "flagged"
    both = under(reviewed(row()), signs(row()), signs(row(), by="TK"), rules=two)
    assert both.findings[0].verdict == "signed"
    assert both.findings[0].signature is not None
    assert both.findings[0].signature.by == ("RM", "TK")
    half = under(reviewed(row(dry=-7.0)), signs(row()), signs(row(dry=-7.0), by="TK"), rules=two)
    assert half.findings[0].verdict == "flagged"


def test_nobody_may_sign() -> None:
    nobody = {WET.id: replace(WET, may_sign="nobody")}
    made = under(reviewed(row()), signs(row()), rules=nobody)
    assert made.findings[0].verdict == "flagged"
    assert [note.why for note in made.signing.lapsed] == ["nobody may sign this rule off"]


def test_the_end() -> None:
    """The last day holds and is told; the day after does not."""
    line = signs(row(), until="2026-03-20")
    soon = under(reviewed(row()), line)
    assert (soon.findings[0].verdict, [n.why for n in soon.signing.ending]) == ("signed", ["it ends after 2026-03-20"])
    late = under(reviewed(row()), line, day=date(2026, 3, 21))
    assert (late.findings[0].verdict, [n.why for n in late.signing.lapsed]) == ("flagged", ["it held until 2026-03-20"])
    mix = signs(row(), until="mix 5")
    assert under(reviewed(row()), mix, mix=5).findings[0].verdict == "signed"
    assert under(reviewed(row()), mix, mix=6).findings[0].verdict == "flagged"


def test_an_end_in_the_past_is_refused() -> None:
    with pytest.raises(MixlintError, match="has passed"):
        signs(row(), until="2026-03-13")


def test_scopes() -> None:
    """The song: every row of the rule, no worse than the worst that was signed. A part: the rows of that channel."""
    plate, hall = row("Plate", -9.5), row("Hall", -20.0)
    song = signs(plate, hall, scope="song")
    assert song.item.rests == {"dry_db": -9.5}
    assert [f.verdict for f in under(reviewed(plate, hall, row("Room", -8.0)), song).findings] == ["signed"] * 3
    worse = under(reviewed(row("Room", -7.0)), song)
    assert worse.findings[0].verdict == "flagged"
    part = signs(plate, scope="part", part="Plate")
    assert [f.verdict for f in under(reviewed(plate, hall), part).findings] == ["signed", "flagged"]
    other = row("Plate → Hall").model_copy(update={"channels": ("p", "h")})
    assert under(reviewed(other), part).findings[0].verdict == "signed"


def test_one_of_two_namesakes() -> None:
    """A line is for the one it was written for; in another order it is still found, and never covers both."""
    one, other = row(dry=-9.5), row(dry=-25.0)
    line = signs(other, findings=(one, other))
    assert line.item.number == 2
    assert [f.verdict for f in under(reviewed(one, other), line).findings] == ["flagged", "signed"]
    assert [f.verdict for f in under(reviewed(other, one), line).findings] == ["signed", "flagged"]


def test_unused_lines_say_why() -> None:
    rows = (row("Hall", verdict="clear"), row("Room", verdict="open"))
    strange = FiledSignOff(replace(signs(row()).item, rule="boat-afloat"), FILE)
    made = under(reviewed(*rows), signs(row("Hall")), signs(row("Room")), signs(row("Plate")), strange)
    assert [(n.name, n.why) for n in made.signing.unused] == [
        ("Hall", "the rule is clear here now"),
        ("Room", "it cannot be seen any more, and asks for an answer"),
        ("Plate", "nothing in the session goes by this name"),
        ("Plate", "this standard has no such rule"),
    ]
    none = ChecklistRun(STANDARD, DAY, leave_out=frozenset(RULES))
    left_out = with_signoffs(reviewed(), [signs(row())], none, MixState(DAY), NAMES)
    assert left_out.signing.unused == ()


@pytest.mark.parametrize(
    ("answer", "verdict", "held"),
    [("yes", "signed", "clear"), ("no", "flagged", "held"), ("not-applicable", "idle", "clear")],
)
def test_answers(answer: str, verdict: str, held: str) -> None:
    """A question is answered for one very mix; *no* holds the bounce as if it had been seen."""
    asked = row(verdict="open")
    line = signs(asked, answer=answer, content="a/b", because="listened to it alone")
    made = under(reviewed(asked), line, content="a/b")
    assert (made.findings[0].verdict, made.outcome) == (verdict, held)
    assert "Is Plate wholly wet? RM answered" in made.findings[0].message
    later = under(reviewed(asked), line, content="c/b")
    assert later.findings[0].verdict == "open"
    assert [n.why for n in later.signing.lapsed] == ["the mix has changed since it was answered"]


EVERY_RULE = load_standard(Path(__file__).resolve().parents[1] / "everything.toml").rules
ASKED = [rule for rule in EVERY_RULE.values() if rule.needs_ears.text]


@pytest.mark.parametrize("rule", ASKED, ids=lambda rule: rule.id)
def test_the_fine_answer_signs_a_question_off_and_the_other_one_flags_it(rule: Rule) -> None:
    """Of every rule that asks."""
    asked = row(rule=rule.id, verdict="open", question=rule.needs_ears.text, fine_answer=rule.fine_answer)
    other = "no" if rule.fine_answer == "yes" else "yes"
    came = {}
    for answer in (rule.fine_answer, other):
        lines = [signs(asked, answer=answer, by=by, content="a/b") for by in ("RM", "TK")]
        came[answer] = under(reviewed(asked), *lines, rules=EVERY_RULE, content="a/b").findings[0].verdict
    assert came == {rule.fine_answer: "signed", other: "flagged"}


def test_where_no_is_fine_a_no_signs_off() -> None:
    """A question that asks for the fault: is a mono switch acting?"""
    asked = row(verdict="open", fine_answer="no")
    signed = under(reviewed(asked), signs(asked, answer="no", content="a/b"), content="a/b")
    assert (signed.findings[0].verdict, signed.outcome) == ("signed", "clear")
    held = under(reviewed(asked), signs(asked, answer="yes", content="a/b"), content="a/b")
    assert (held.findings[0].verdict, held.outcome) == ("flagged", "held")
    assert "RM answered yes." in held.findings[0].message


def test_one_no_outweighs_a_yes() -> None:
    asked = row(verdict="open")
    lines = [signs(asked, answer=a, by=b, content="a/b") for a, b in (("yes", "RM"), ("no", "TK"))]
    (found,) = under(reviewed(asked), *lines, content="a/b").findings
    assert (found.verdict, "TK answered no" in found.message) == ("flagged", True)


def test_a_sign_off_is_no_answer_and_an_answer_no_sign_off() -> None:
    asked = row(verdict="open")
    assert under(reviewed(asked), signs(row())).findings[0].verdict == "open"
    assert under(reviewed(row()), signs(asked, answer="yes", content="a/b"), content="a/b").findings[0].verdict == (
        "flagged"
    )


def test_which_row_is_meant() -> None:
    """The one flagged row, or the one named; several without a name are refused with their names."""
    plate, hall = row("Plate"), row("Hall")
    assert rows_meant([plate], WET, None, "finding", asked=False, names=NAMES) == [plate]
    assert rows_meant([plate, hall], WET, "hall", "finding", asked=False, names=NAMES) == [hall]
    assert rows_meant([plate, hall], WET, None, "song", asked=False, names=NAMES) == [plate, hall]
    with pytest.raises(MixlintError, match="2 rows") as caught:
        rows_meant([plate, hall], WET, None, "finding", asked=False, names=NAMES)
    assert "Plate, Hall" in caught.value.do
    with pytest.raises(MixlintError, match="no flagged row") as caught:
        rows_meant([row(verdict="open")], WET, None, "finding", asked=False, names=NAMES)
    assert "--answer" in caught.value.do
