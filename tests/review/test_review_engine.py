"""Rules held against rows: verdicts, messages, evidence, order, counts and outcome."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from toytables import BOAT, HIDDEN, TOYS, toy_desk

from mixlint.facts import House, SessionContext
from mixlint.facts.declare import FactValue
from mixlint.review import Finding, SessionReview, review
from mixlint.review.engine import judged
from mixlint.rulebook import Rule, Standard
from mixlint.rulebook.faults import Faults, RulebookError
from mixlint.rulebook.rule import Change, ready
from mixlint.rulebook.rule_file import RuleFile, Written, read_rule_file
from mixlint.session import Session, Unknown

DEEP: dict[str, Any] = {
    "id": "boat-afloat",
    "title": "Every boat floats",
    "area": "prep",
    "grade": "hold",
    "over": "boat",
    "when": {"drive": "sail"},
    "must": {"depth_db": {"at_most": "limits.deepest"}},
    "says": "{channel} sits {depth_db} dB deep, {limits.deepest} dB at most.",
    "remedy": "Bail {channel} out.",
    "needs_ears": "Does {channel} float?",
    "why": "Boats that sink are lost.",
    "limits": {"deepest": {"value": -6.0, "unit": "dB"}},
    "basis": {"kind": "common practice"},
}


def rule(**changes: Any) -> Rule:
    file = RuleFile.model_validate({**DEEP, **changes})
    faults = Faults()
    made = ready(Written(file, Path(f"{file.id}.toml"), f"{file.id}.toml"), TOYS, faults)
    faults.stop()
    assert made is not None
    return made


def one(made: Rule, **boat: Any) -> Finding:
    findings = judged(toy_desk({"name": "Gull", "drive": "sail", **boat}), made)
    assert len(findings) == 1
    return findings[0]


def reviewed(context: SessionContext, *rules: Rule, **choices: Any) -> SessionReview:
    standard = Standard("house", "", "", {r.id: r for r in rules}, House(), ())
    return review(context, standard, source="harbour.json", digest="sha256:00", **choices)


def test_flagged() -> None:
    """What does not hold is flagged, with message, remedy and the evidence of ``must`` before that of ``when``."""
    found = one(rule(), depth_db=FactValue(-2.5, "measured", "log:7", "at low tide"))
    assert (found.verdict, found.rule, found.area, found.grade) == ("flagged", "boat-afloat", "prep", "hold")
    assert found.message == "Gull sits −2.5 dB deep, −6 dB at most."
    assert found.remedy == "Bail Gull out."
    assert (found.question, found.reasons) == ("", ())
    assert (found.subject.table, found.subject.id, found.subject.name) == ("boat", "b0", "Gull")
    assert (found.where, found.order, found.channels) == ("log:7", 0, ("b0",))
    depth, drive = found.evidence
    assert (depth.fact, depth.value, depth.unit, depth.limit) == ("depth_db", -2.5, "dB", -6.0)
    assert (depth.known, depth.where, depth.note) == ("measured", "log:7", "at low tide")
    assert (drive.fact, drive.value, drive.limit, drive.known) == ("drive", "sail", None, "declared")


def test_clear() -> None:
    """What holds is clear; its title says the good state."""
    found = one(rule(), depth_db=-6.0)
    assert (found.verdict, found.message, found.remedy) == ("clear", "Every boat floats.", "")
    assert found.evidence[0].value == -6.0


def test_idle_when_the_rule_does_not_apply() -> None:
    """``must`` is not even looked at."""
    found = one(rule(), drive="oar", depth_db=Unknown(unknown="not to be asked"))
    assert (found.verdict, found.reasons, found.question) == ("idle", (), "")
    assert [e.fact for e in found.evidence] == ["drive"]


def test_open_when_must_cannot_be_seen() -> None:
    """The reason, what would settle it, and the question."""
    found = one(rule())
    assert found.verdict == "open"
    assert found.message == "Gull: cannot be seen: nobody wrote it down. To settle it: ask the harbour."
    assert found.question == "Does Gull float?"
    assert [(r.fact, r.why, r.settle) for r in found.reasons] == [
        ("depth_db", "nobody wrote it down", "ask the harbour")
    ]
    assert found.remedy == ""
    assert (found.evidence[0].value, found.evidence[0].known) == (None, "unknown")
    assert (found.evidence[0].limit, found.evidence[0].note) == (-6.0, "nobody wrote it down")


def test_open_when_it_cannot_be_seen_whether_the_rule_applies() -> None:
    """An unknown ``when`` is open for its own reason, even where ``must`` would not hold."""
    found = one(rule(), drive=Unknown(unknown="the rig is hidden"), depth_db=-1.0)
    assert (found.verdict, [r.fact for r in found.reasons]) == ("open", ["drive"])
    assert found.message == "Gull: cannot be seen: the rig is hidden."


def test_open_in_the_words_of_the_rule() -> None:
    """``says_open`` takes the place of the usual message; the reasons stay."""
    found = one(rule(says_open="How deep {channel} sits was never measured; it lies {pan}."), pan=-40.0)
    assert found.message == "How deep Gull sits was never measured; it lies 40 left."
    assert len(found.reasons) == 1


def test_one_reason_is_given_once() -> None:
    """Two facts hidden for one reason do not say it twice; two reasons are both told."""
    must = {"depth_db": {"at_most": "limits.deepest"}, "oars": 2, "afloat": True}
    found = one(rule(must=must), afloat=Unknown(unknown="fog"))
    assert [(r.fact, r.why) for r in found.reasons] == [("depth_db", "nobody wrote it down"), ("afloat", "fog")]
    assert found.message == "Gull: cannot be seen: nobody wrote it down; fog. To settle it: ask the harbour."


def test_every_broken_limit_is_shown() -> None:
    """``must`` is looked at whole, so that a second number beyond its limit is not hidden behind the first."""
    must = {"depth_db": {"at_most": "limits.deepest"}, "oars": {"between": [2, 8]}}
    found = one(rule(must=must), depth_db=0.0, oars=40)
    assert [(e.fact, e.value, e.limit) for e in found.evidence if e.limit is not None] == [
        ("depth_db", 0.0, -6.0),
        ("oars", 40, (2, 8)),
    ]


def test_a_flag_beats_what_cannot_be_seen() -> None:
    """One demand known to be broken is enough."""
    found = one(rule(must={"depth_db": {"at_most": "limits.deepest"}, "afloat": True}), depth_db=0.0)
    assert (found.verdict, found.reasons) == ("flagged", ())


def test_what_stands_in_when_is_shown_without_a_limit() -> None:
    """How far a boat lies from the middle is why it is looked at, not what it is held to."""
    made = rule(when={"off_centre": {"at_least": "limits.deepest"}}, must={"afloat": True}, says="{channel}",
                limits={"deepest": {"value": 30, "unit": "pan distance"}})  # fmt: skip
    found = one(made, off_centre=50.0, afloat=False)
    assert [(e.fact, e.value, e.limit) for e in found.evidence] == [
        ("afloat", False, True),
        ("off_centre", 50.0, None),
    ]


def test_a_fact_of_both_conditions_is_shown_once() -> None:
    """The row of ``must`` with its limit stands for both."""
    found = one(rule(when={"depth_db": {"known": True}}), depth_db=0.0)
    assert [(e.fact, e.limit) for e in found.evidence] == [("depth_db", -6.0)]


def test_the_settings_in_force_stand_beside_the_fact_that_rests_on_them() -> None:
    """With the house's value where it sets one; the other facts of the row rest on none."""
    made = rule(must={"aground": False, "depth_db": {"at_most": "limits.deepest"}})
    deep = toy_desk({"depth_db": 4.0, "drive": "sail"})
    deep.house = House(settings={"harbour.shallow_db": 3.5})
    found = judged(deep, made)[0]
    assert {e.fact: [(s.name, s.value, s.unit) for s in e.settings] for e in found.evidence} == {
        "aground": [("harbour.shallow_db", 3.5, "dB")],
        "depth_db": [],
        "drive": [],
    }
    hidden = one(made, depth_db=HIDDEN)
    assert [s.name for s in hidden.evidence[0].settings] == ["harbour.shallow_db"]


def test_measured_values_are_rounded_in_the_evidence() -> None:
    """Reports do not differ by the last bits of a machine; minus zero is zero."""
    assert one(rule(), depth_db=-9.542425094393248).evidence[0].value == -9.542425
    assert str(one(rule(), depth_db=-1e-12).evidence[0].value) == "0.0"
    found = one(rule(must={"bells": {"none": {"above": 500}}}, says="x {limits.deepest}"), bells=(440.00000001, 501.0))
    assert found.evidence[0].value == (440.0, 501.0)


def test_an_empty_table_is_one_idle_row() -> None:
    """So that the rule is seen to have been there."""
    made = rule(over="quay", when=None, must={"quay_name": "x"}, says="{limits.deepest}")
    findings = judged(toy_desk(), made)
    assert [(f.verdict, f.subject.name, f.subject.id) for f in findings] == [("idle", "no quay in this session", "")]


def test_fingerprints_outlive_ids_order_case_and_values() -> None:
    """What a finding is known by is its rule, its table and the name."""
    before = judged(toy_desk({"name": "Gull", "depth_db": 0.0}, {"name": "Tern"}), rule(when=None))
    after = judged(toy_desk({"name": "Tern"}, {"name": " GULL "}, {"name": "Auk"}), rule(when=None, grade="note"))
    prints = {f.subject.name.strip().casefold(): f.fingerprint for f in after}
    assert [f.fingerprint for f in before] == [prints["gull"], prints["tern"]]
    assert len({*prints.values()}) == 3
    other = judged(toy_desk({"name": "Gull"}), rule(id="boat-dry", when=None))
    assert other[0].fingerprint not in {f.fingerprint for f in before}


def test_fingerprint_of_the_session_outlives_its_title() -> None:
    """The one row of ``session`` is the same under a new title."""
    from mixlint.facts import TABLES

    file = RuleFile.model_validate(
        {**DEEP, "over": "session", "when": None, "must": {"name": "x"}, "says": "{limits.deepest}"}
    )
    made = ready(Written(file, Path("a.toml"), "a.toml"), TABLES, Faults())
    assert made is not None
    prints = {judged(SessionContext(Session(title=title)), made)[0].fingerprint for title in ("Mix 3", "Mix 4", "")}
    assert len(prints) == 1


def test_namesakes_are_told_apart() -> None:
    """Of several boats of one name each has its own fingerprint."""
    found = judged(toy_desk(*[{"name": "Gull"}] * 3), rule())
    assert len({f.fingerprint for f in found}) == 3
    assert all(len(f.fingerprint) == 16 and int(f.fingerprint, 16) >= 0 for f in found)


def test_findings_stand_in_desk_order_graver_first() -> None:
    """On one channel: hold before look before note, then by rule."""
    context = toy_desk({"name": "Gull", "order": 1}, {"name": "Tern", "order": 0})
    rules = [rule(id=i, grade=g, when=None) for i, g in (("b", "note"), ("a", "note"), ("z", "hold"), ("m", "look"))]
    found = reviewed(context, *rules).findings
    assert [(f.subject.name, f.rule) for f in found] == [
        (boat, i) for boat in ("Tern", "Gull") for i in ("z", "m", "a", "b")
    ]


def test_counts_title_and_sources() -> None:
    """One count per row; the session's own particulars are carried over."""
    context = toy_desk(
        {"drive": "sail", "depth_db": 0.0}, {"drive": "sail", "depth_db": -9.0}, {"drive": "oar"}, {"drive": "sail"},
        {"drive": HIDDEN},
    )  # fmt: skip
    made = reviewed(context, rule())
    assert made.counts.model_dump() == {
        "flagged": 1, "open": 2, "signed": 0, "clear": 1, "idle": 1,
        "flagged_by_grade": {"hold": 1, "look": 0, "note": 0}, "open_by_grade": {"hold": 2, "look": 0, "note": 0},
    }  # fmt: skip
    assert (made.title, made.source, made.digest) == ("Harbour", "harbour.json", "sha256:00")
    assert (made.standard, made.importer) == ("house", "json")
    assert made.assumptions == context.assumptions()
    assert made.assumptions


def test_quiet_rows_are_counted_even_where_no_finding_of_them_is_made() -> None:
    """The same review, its clear and idle rows aside: a namesake among them still takes part in the fingerprints."""
    boats = ({"name": "Gull", "drive": "oar"}, {"name": "Gull", "drive": "sail", "depth_db": 0.0}, {"drive": HIDDEN})
    rules = (rule(), rule(id="no-quay", over="quay", when=None, must={"quay_name": "x"}, says="{limits.deepest}"))
    whole = reviewed(toy_desk(*boats), *rules)
    brief = reviewed(toy_desk(*boats), *rules, everything=False)
    assert whole.counts.model_dump(exclude_defaults=True) == {
        "flagged": 1, "open": 1, "idle": 2, "flagged_by_grade": {"hold": 1}, "open_by_grade": {"hold": 1},
    }  # fmt: skip
    assert {f.verdict for f in whole.findings} == {"flagged", "open", "idle"}
    assert brief.findings == tuple(f for f in whole.findings if f.verdict in ("flagged", "open"))
    assert brief == whole.model_copy(update={"findings": brief.findings})


@pytest.mark.parametrize(
    ("grade", "hold_on", "outcome"),
    [
        ("hold", "hold", "held"), ("look", "hold", "look"), ("note", "hold", "clear"),
        ("hold", "look", "held"), ("look", "look", "held"), ("note", "look", "clear"),
        ("hold", "note", "held"), ("look", "note", "held"), ("note", "note", "held"),
    ],
)  # fmt: skip
def test_outcome(grade: str, hold_on: str, outcome: str) -> None:
    """Flagged findings as grave as asked, or graver, hold the bounce; a lighter one is looked at, save a note."""
    made = rule(grade=grade)
    assert reviewed(toy_desk({"drive": "sail", "depth_db": 0.0}), made, hold_on=hold_on).outcome == outcome


@pytest.mark.parametrize(
    ("boat", "grade", "outcome"),
    [
        ({"drive": "sail"}, "hold", "look"),
        ({"drive": "sail"}, "look", "clear"),
        ({"drive": "oar"}, "hold", "clear"),
        ({"drive": "sail", "depth_db": -9.0}, "hold", "clear"),
    ],
    ids=str,
)
def test_only_flags_hold(boat: dict[str, Any], grade: str, outcome: str) -> None:
    """Open, idle and clear rows never do; but nothing is clear while what could hold it cannot be seen."""
    assert reviewed(toy_desk(boat), rule(grade=grade), hold_on="note").outcome == outcome


CASES = [
    {"to": "hold", "when": {"oars": {"above": "limits.crew"}}, "because": "a whole crew would drown"},
    {"to": "note", "when": {"afloat": True}, "because": "it floats all the same"},
]
CREW = {**DEEP["limits"], "crew": {"value": 4.0}}


@pytest.mark.parametrize(
    ("facts", "grade", "because"),
    [
        ({"oars": 8, "afloat": True}, "hold", "a whole crew would drown"),
        ({"oars": 2, "afloat": True}, "note", "it floats all the same"),
        ({"oars": 2, "afloat": False}, "look", ""),
        ({"oars": HIDDEN, "afloat": HIDDEN}, "look", ""),
    ],
)
def test_a_grade_goes_by_the_first_case_that_holds(facts: dict[str, Any], grade: str, because: str) -> None:
    """What cannot be seen makes nothing graver; the fact that does stands in the evidence, without being a limit."""
    made = rule(grade="look", grades=CASES, limits=CREW)
    found = one(made, depth_db=0.0, **facts)
    assert (found.grade, found.grade_because) == (grade, because)
    shown = {e.fact: e.limit for e in found.evidence}
    decisive = {"hold": "oars", "note": "afloat", "look": ""}[grade]
    assert (shown.keys() & {"oars", "afloat"}) == ({decisive} if decisive else set())
    assert shown.get(decisive) is None


def test_a_row_that_cannot_be_seen_has_the_grade_of_its_consequence() -> None:
    found = one(rule(grade="look", grades=CASES, limits=CREW), oars=8)
    assert (found.verdict, found.grade) == ("open", "hold")
    assert one(rule(grade="look", grades=CASES, limits=CREW), oars=8, depth_db=-9.0).grade == "look"


def test_counts_and_outcome_go_by_the_grade_of_the_row() -> None:
    made = rule(grade="look", grades=CASES, limits=CREW)
    found = reviewed(toy_desk({"drive": "sail", "depth_db": 0.0, "oars": 8}), made)
    assert (found.outcome, found.counts.flagged_by_grade.hold) == ("held", 1)


def test_a_standard_that_lays_the_grade_down_knows_no_cases() -> None:
    file = RuleFile.model_validate({**DEEP, "grades": CASES, "limits": CREW})
    made = ready(Written(file, Path("a.toml"), "a.toml"), TOYS, Faults(), Change(grade="note", grade_by="harbour"))
    assert made is not None
    assert (made.grade, made.grades) == ("note", ())


@pytest.mark.parametrize(
    ("case", "said"),
    [
        ({"to": "hold", "when": {"ours": 8}, "because": "x"}, "oars"),
        ({"to": "grave", "when": {"oars": 8}, "because": "x"}, "hold"),
        ({"to": "hold", "when": {"oars": 8}}, "because"),
    ],
)
def test_a_fault_in_a_case_is_told_with_its_place(case: dict[str, Any], said: str, tmp_path: Path) -> None:
    lines = [f"{key} = {json.dumps(value).replace(': ', ' = ')}" for key, value in case.items()]
    body = {key: value for key, value in DEEP.items() if key not in ("basis", "limits", "when", "must")}
    head = [f"{key} = {json.dumps(value)}" for key, value in body.items()]
    text = "\n".join([*head, "must = { oars = 2 }", "[[grades]]", *lines, "[basis]", 'kind = "common practice"'])
    path = tmp_path / "boat-afloat.toml"
    path.write_text(text)
    faults = Faults()
    written = read_rule_file(path, path.name, faults)
    if written is not None:
        assert ready(written, TOYS, faults) is None
    with pytest.raises(RulebookError) as told:
        faults.stop()
    assert "grades" in str(told.value)
    assert said in str(told.value)


def test_area_and_leave_out() -> None:
    """Only the rules of an area; not those left out."""
    rules = [rule(id="a", area="prep"), rule(id="b", area="levels"), rule(id="c", area="levels")]
    context = toy_desk({"drive": "sail"})
    assert {f.rule for f in reviewed(context, *rules).findings} == {"a", "b", "c"}
    assert {f.rule for f in reviewed(context, *rules, areas={"levels"}).findings} == {"b", "c"}
    assert {f.rule for f in reviewed(context, *rules, areas={"levels"}, leave_out=frozenset({"b"})).findings} == {"c"}
    assert {f.rule for f in reviewed(context, *rules, areas={"levels", "prep"}).findings} == {"a", "b", "c"}
    assert {f.rule for f in reviewed(context, *rules, only={"a", "c"}).findings} == {"a", "c"}


def test_a_rule_left_out_computes_nothing() -> None:
    """Facts that only a left-out rule asks for are never asked."""
    context = toy_desk({"drive": "sail", "depth_db": 0.0})
    reviewed(context, rule(), rule(id="b", must={"oars": 2}, says="{limits.deepest}"), leave_out=frozenset({"b"}))
    assert set(BOAT.rows(context)[0].values) == {"drive", "depth_db"}
