"""The forms that programs read: JSON, SARIF, JUnit, and one line per finding."""

from __future__ import annotations

import importlib
import json
import os
import re
import unicodedata
import xml.etree.ElementTree as ET
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from jsonschema import Draft202012Validator, validators
from reportsamples import ANSWER, BALANCE, ESCAPE, HARBOUR, HOSTILE, LULLABY, PLATE, many, report

from mixlint.reports.json import model_json, plain_json
from mixlint.reports.junit import review_junit
from mixlint.reports.line import review_lines
from mixlint.reports.page.document import review_html
from mixlint.reports.plain import Page
from mixlint.reports.sarif import review_sarif, uri
from mixlint.reports.text import Wanted, review_text
from mixlint.review.engine import without_quiet
from mixlint.review.findings import Report, SessionReview

ALL = report(HARBOUR, LULLABY, HOSTILE)


# JSON


def test_json_follows_the_schema_of_its_models() -> None:
    """JSON Schema draft 2020-12, generated from the models, accepts what is written and refuses a strange grade."""
    checker = Draft202012Validator(Report.model_json_schema(mode="serialization"))
    body = json.loads(model_json(ALL))
    checker.validate(body)
    body["sessions"][0]["findings"][0]["grade"] = "severe"
    assert not checker.is_valid(body)


def test_json_has_the_agreed_keys() -> None:
    """The keys that readers of ``mixlint-report/1`` rely on."""
    body = json.loads(model_json(ALL))
    assert body["format"] == "mixlint-report/1"
    session = body["sessions"][0]
    for key in ("source", "title", "importer", "digest", "standard", "outcome", "counts", "assumptions", "findings"):
        assert key in session
    plate = next(f for f in session["findings"] if f["rule"] == "return-fully-wet")
    assert plate["subject"] == {"table": "return", "id": "id42", "name": "Plate"}
    evidence = plate["evidence"][0]
    assert (evidence["value"], evidence["limit"], evidence["unit"], evidence["known"]) == (
        -9.5,
        -40.0,
        "dB",
        "declared",
    )


def test_json_round_trips_and_is_stable() -> None:
    """Read back and written again it is the same to the byte, hostile names included."""
    text = model_json(ALL)
    again = Report.model_validate_json(text)
    assert again == ALL
    assert model_json(again) == text


def test_json_holds_no_character_a_terminal_obeys() -> None:
    """RFC 8259 section 7 asks for escapes below U+0020 only; C1 controls and direction marks are escaped too."""
    text = model_json(ALL)
    assert not [c for c in text if c != "\n" and (unicodedata.category(c) == "Cc" or c == "\u202e")]
    assert json.loads(text)["sessions"][2]["findings"][0]["subject"]["name"] == HOSTILE.findings[0].subject.name


def test_plain_json_refuses_what_json_has_not() -> None:
    """RFC 8259 section 6: neither NaN nor infinity is a number."""
    with pytest.raises(ValueError, match="JSON"):
        plain_json({"a": float("nan")})


def test_clear_and_idle_rows_stay_away_unless_asked_for() -> None:
    """The counts keep what the rows leave out."""
    quiet = without_quiet(report().sessions[0])
    assert {f.verdict for f in quiet.findings} == {"flagged", "open", "signed"}
    assert (quiet.counts.clear, quiet.counts.idle) == (1, 1)


# SARIF 2.1.0 (OASIS Standard, Errata 01)


def _log(*sessions: SessionReview) -> dict[str, Any]:
    log: dict[str, Any] = json.loads(review_sarif(report(*sessions)))
    return log


def _by_rule(log: dict[str, Any]) -> dict[str, dict[str, Any]]:
    return {r["ruleId"]: r for r in log["runs"][0]["results"]}


@pytest.mark.skipif("MIXLINT_SARIF_SCHEMA" not in os.environ, reason="MIXLINT_SARIF_SCHEMA names no schema file")
@pytest.mark.parametrize("sessions", [(HARBOUR,), (HARBOUR, LULLABY, HOSTILE), (many(200),), (LULLABY,)])
def test_sarif_follows_the_published_schema(sessions: tuple[SessionReview, ...]) -> None:
    """The OASIS schema sarif-2.1.0-rtm.5.json, and it refuses a level that SARIF does not have."""
    schema = json.loads(Path(os.environ["MIXLINT_SARIF_SCHEMA"]).read_text(encoding="utf-8"))
    checker = validators.validator_for(schema)(schema)
    log = _log(*sessions)
    checker.validate(log)
    broken = json.loads(json.dumps(log))
    broken["runs"][0]["tool"]["driver"].pop("name")
    assert not checker.is_valid(broken)


def test_sarif_kinds_and_levels() -> None:
    """Section 3.27.10: a level other than ``none`` belongs to kind ``fail`` only."""
    found = _by_rule(_log(HARBOUR))
    assert {rule: (r["kind"], r["level"]) for rule, r in found.items()} == {
        "return-fully-wet": ("fail", "error"),
        "stereo-balanced": ("fail", "warning"),
        "pan-answered": ("fail", "warning"),
        "return-low-cut": ("open", "none"),
        "solo-off": ("fail", "error"),
        "mix-bus-headroom": ("pass", "none"),
        "stems-line-up": ("notApplicable", "none"),
    }


def test_sarif_rule_indices_point_at_their_rules() -> None:
    """Section 3.27.6: ruleIndex is the index within the driver's rules."""
    log = _log(HARBOUR, LULLABY, HOSTILE)
    for run in log["runs"]:
        rules = run["tool"]["driver"]["rules"]
        for result in run["results"]:
            assert rules[result["ruleIndex"]]["id"] == result["ruleId"]
        assert len({r["id"] for r in rules}) == len(rules)


def test_sarif_regions_only_for_a_line_of_the_session_file_itself() -> None:
    """A line inside a container is a related location in a nested artifact (section 3.24.3, parentIndex)."""
    inside = _by_rule(_log(HARBOUR))["return-fully-wet"]
    main = inside["locations"][0]["physicalLocation"]
    assert main["artifactLocation"]["uri"] == "evening-harbour.json"
    assert "region" not in main
    log = _log(HARBOUR)
    related = inside["relatedLocations"][0]["physicalLocation"]
    assert related["region"] == {"startLine": 118}
    member = log["runs"][0]["artifacts"][related["artifactLocation"]["index"]]
    assert (member["location"]["uri"], member["parentIndex"]) == ("project.xml", 0)

    direct = PLATE.model_copy(update={"where": "evening-harbour.json:40"})
    result = _log(HARBOUR.model_copy(update={"findings": (direct,)}))["runs"][0]["results"][0]
    assert result["locations"][0]["physicalLocation"]["region"] == {"startLine": 40}
    assert "relatedLocations" not in result


def test_sarif_signed_rows_are_suppressed() -> None:
    """Section 3.35: a suppression needs a kind; the status says it was accepted."""
    found = _by_rule(_log(HARBOUR))
    assert found["solo-off"]["suppressions"][0]["status"] == "accepted"
    assert all("suppressions" not in r for rule, r in found.items() if rule != "solo-off")


def test_sarif_names_channels_as_logical_locations() -> None:
    """Section 3.33: a session item is a logical location with a fully qualified name."""
    logical = _by_rule(_log(HARBOUR))["return-fully-wet"]["locations"][0]["logicalLocations"][0]
    assert logical == {"name": "Plate", "fullyQualifiedName": "return/Plate", "kind": "return"}


@pytest.mark.parametrize(
    ("path", "said"),
    [
        ("songs/a b.json", "songs/a%20b.json"),
        ("/srv/ü#1.json", "file:///srv/%C3%BC%231.json"),
        ("a:b?.json", "a%3Ab%3F.json"),
        ("100%.json", "100%25.json"),
    ],
)
def test_sarif_uris_are_percent_encoded(path: str, said: str) -> None:
    """RFC 3986 sections 2.1 and 4.2: reserved characters encoded, no colon in the first segment of a relative path."""
    assert uri(path) == said


# JUnit XML


def _suites(*sessions: SessionReview) -> ET.Element:
    return _parsed(review_junit(report(*sessions)))


def _parsed(text: str) -> ET.Element:
    return ET.fromstring(text.encode("utf-8"))  # noqa: S314 - written by the code under test


def test_junit_is_xml_and_counts_what_it_holds() -> None:
    """Python's own XML parser is the outside check; each count equals the elements beneath it."""
    root = _suites(HARBOUR, LULLABY, HOSTILE)
    for element in [root, *root.iter("testsuite")]:
        assert int(element.get("tests", "")) == len(list(element.iter("testcase")))
        assert int(element.get("failures", "")) == len(list(element.iter("failure")))
        assert int(element.get("skipped", "")) == len(list(element.iter("skipped")))
    assert int(root.get("tests", "")) == 8
    whole = _parsed(review_junit(report(HARBOUR, LULLABY, HOSTILE), everything=True))
    assert int(whole.get("tests", "")) == 9  # with the row whose rule does not apply


def test_junit_shows_what_is_to_be_looked_at_and_passes_no_such_row() -> None:
    """A look that holds nothing is skipped with its message; a note passes."""
    note = ANSWER.model_copy(update={"grade": "note", "fingerprint": "n9", "message": "a note."})
    root = _suites(HARBOUR.model_copy(update={"findings": (BALANCE, note)}))
    cases = {case.get("classname"): case for case in root.iter("testcase")}
    skipped = cases["width.stereo-balanced"].find("skipped")
    assert skipped is not None
    assert skipped.get("message", "").startswith("look: The mix leans")
    assert [child.tag for child in cases["width.pan-answered"]] == ["system-out"]


def test_junit_fails_only_what_holds_the_bounce() -> None:
    """With the bounce held on *hold* a *look* row does not fail the run; held on *look* it does."""
    assert [f.get("type") for f in _suites(HARBOUR).iter("failure")] == ["hold"]
    strict = _parsed(review_junit(report(HARBOUR), "look"))
    assert sorted(f.get("type", "") for f in strict.iter("failure")) == ["hold", "look", "look"]


def test_junit_says_why_a_row_cannot_be_seen() -> None:
    """The reason and what would settle it stand in the skipped element."""
    messages = [s.get("message", "") for s in _suites(HARBOUR).iter("skipped")]
    assert any("hidden in the export (to settle it: print the return alone" in m for m in messages)


def test_junit_survives_names_that_xml_forbids() -> None:
    """XML 1.0 production 2: control characters and U+FFFE are no characters of XML."""
    text = review_junit(report(HOSTILE))
    _parsed(text)
    assert "\x1b" not in text
    assert "\ufffe" not in text
    assert "<script>" not in text


def test_junit_is_read_by_another_program() -> None:
    """PyPI junitparser, where it is installed, finds the same cases and the one failure."""
    try:
        junitparser: ModuleType = importlib.import_module("junitparser")
    except ModuleNotFoundError:
        pytest.skip("junitparser is not installed")
    parsed = junitparser.JUnitXml.fromstring(review_junit(report(HARBOUR, HOSTILE)).encode("utf-8"))
    suites = list(parsed)
    assert suites[0].name == "Evening Harbour"
    assert sum(len(list(s)) for s in suites) == 9
    assert sum(s.failures for s in suites) == 2


# One line per finding


def test_lines_have_five_fields_and_no_stray_line_feed() -> None:
    """One line per finding, five fields each, whatever the names hold."""
    lines = review_lines(ALL).split("\n")
    assert lines.pop() == ""
    assert len(lines) == 12
    assert all(len(line.split("\t")) == 5 for line in lines)
    assert lines[0].split("\t")[:4] == ["evening-harbour.json", "outcome", "held", "Evening Harbour"]
    assert lines[1].split("\t")[:4] == ["evening-harbour.json", "look", "stereo-balanced", "Evening Harbour"]
    verdicts = ["outcome", "look", "look", "hold", "open", "signed", "clear", "idle"]
    assert [line.split("\t")[1] for line in lines[:8]] == verdicts


def test_a_clear_session_is_one_line() -> None:
    """Nothing flagged: the outcome and the counts, and no more."""
    (line,) = review_lines(report(LULLABY)).splitlines()
    assert line.split("\t")[1:3] == ["outcome", "clear"]


def test_machine_forms_carry_no_directions_or_escapes() -> None:
    """None of the forms that may reach a terminal holds an escape or a direction override."""
    for text in (review_lines(ALL), review_sarif(ALL), review_junit(ALL)):
        assert not re.search("[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]", text)


def test_what_installed_packages_failed_at_stands_in_every_report() -> None:
    """In JSON, a notification of the run in SARIF, a property in JUnit, in the text however short, on the page."""
    note = f"package leaky 1.0, entry point hull of mixlint.importers: it leaks {ESCAPE}"
    failed = report(HARBOUR.model_copy(update={"notes": (note,)}))
    assert json.loads(model_json(failed))["sessions"][0]["notes"] == [note]
    (told,) = json.loads(review_sarif(failed))["runs"][0]["invocations"][0]["toolExecutionNotifications"]
    assert (told["level"], "it leaks" in told["message"]["text"]) == ("warning", True)
    assert "toolExecutionNotifications" not in review_sarif(report(HARBOUR))
    (named,) = ET.fromstring(review_junit(failed).encode("utf-8")).findall(".//property[@name='failed 1']")  # noqa: S314
    assert "it leaks" in named.get("value", "")
    for text in (review_text(failed, Page()), review_text(failed, Page(), Wanted(quiet=True)), review_html(failed)):
        assert "entry point hull of mixlint.importers: it leaks" in " ".join(text.split())
        assert "\x1b" not in text
