"""Findings of two reviews: new, worse, better, gone; and a review held against a baseline."""

from __future__ import annotations

from typing import Any

from mixlint.review.baseline import baseline_findings, only_new
from mixlint.review.compare import approved_findings, earlier_findings, finding_changes, findings_to_approve
from mixlint.review.engine import counts, outcome
from mixlint.review.findings import Evidence, Finding, Report, SessionReview, SubjectRef
from mixlint.rulebook import load_standard

RULES = load_standard("pre-bounce").rules


def row(name: str, dry: float | None = -9.5, verdict: str = "flagged", **more: Any) -> Finding:
    known = "declared" if dry is not None else "unknown"
    evidence = (Evidence(fact="dry_db", value=dry, unit="dB", limit=-40.0, known=known),)
    subject = SubjectRef(table="return", id=name, name=name)
    body = {"rule": "return-fully-wet", "area": "ambience", "grade": "hold", "verdict": verdict, "message": name}
    return Finding(**{**body, "subject": subject, "evidence": evidence, "fingerprint": name, **more})


def reviewed(*rows: Finding, source: str = "song.json") -> SessionReview:
    return SessionReview(
        source=source, title="", importer="json", digest="", standard="x", findings=rows,
        outcome=outcome(rows, "hold"), counts=counts(rows),
    )  # fmt: skip


def came(old: SessionReview, new: SessionReview, renamed: dict[str, str] | None = None) -> list[tuple[str, str]]:
    return [(t.came, t.name) for t in finding_changes(earlier_findings(old.findings, renamed), new, RULES)]


def test_new_worse_better_gone() -> None:
    old = reviewed(row("A"), row("B"), row("C"), row("D"), row("E", verdict="clear"))
    new = reviewed(row("A"), row("B", -3.0), row("C", -20.0), row("D", verdict="clear"), row("E"))
    assert came(old, new) == [("worse", "B"), ("better", "C"), ("new", "E"), ("gone", "D")]


def test_less_than_the_margin_is_neither_worse_nor_better() -> None:
    assert came(reviewed(row("A", -9.5)), reviewed(row("A", -8.0))) == []


def test_what_cannot_be_seen_any_more_is_not_gone() -> None:
    assert came(reviewed(row("A")), reviewed(row("A", None, "open"))) == []
    assert came(reviewed(row("A", None, "open")), reviewed(row("A"))) == [("new", "A")]


def test_a_graver_grade_is_worse() -> None:
    assert came(reviewed(row("A", grade="look")), reviewed(row("A"))) == [("worse", "A")]


def test_a_renamed_channel_takes_its_finding_along() -> None:
    assert came(reviewed(row("A")), reviewed(row("Plate"))) == [("new", "Plate"), ("gone", "A")]
    assert came(reviewed(row("A")), reviewed(row("Plate")), {"A": "Plate"}) == []


def test_a_baseline_leaves_what_is_new_or_worse() -> None:
    old = Report(version="1", sessions=(reviewed(row("A"), row("B"), row("C", None, "open")),))
    new = reviewed(row("A"), row("B", -3.0), row("C", None, "open"), row("D"), row("E", verdict="clear"))
    made = only_new(new, baseline_findings(old, new, "base.json"), RULES, "base.json", "hold")
    assert [f.subject.name for f in made.findings] == ["B", "D", "E"]
    assert (made.counts.flagged, made.counts.open, made.outcome) == (2, 0, "held")
    assert made.baseline is not None
    assert (made.baseline.source, made.baseline.known) == ("base.json", 2)
    same = only_new(old.sessions[0], baseline_findings(old, new, ""), RULES, "", "hold")
    assert (same.outcome, same.findings) == ("clear", ())


def test_a_baseline_of_several_sessions_is_told_by_the_file() -> None:
    report = Report(version="1", sessions=(reviewed(row("A"), source="x/one.json"), reviewed(source="x/two.json")))
    one, two, three = (reviewed(row("A"), source=f"elsewhere/{n}.json") for n in ("one", "two", "three"))
    assert [len(baseline_findings(report, s, "")) for s in (one, two, three)] == [1, 0, 0]


def test_an_approval_is_a_baseline_too() -> None:
    old = reviewed(row("A"), row("A", -20.0), row("B", verdict="clear"))
    known = approved_findings(findings_to_approve(old.findings))
    assert {key[2:] for key in known} == {("a", 1), ("a", 2)}
    assert finding_changes(known, old, RULES) == []
