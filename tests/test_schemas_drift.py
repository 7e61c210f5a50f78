"""The JSON Schemas in ``schemas/`` are made from the models and the vocabulary, and must not drift from them.

``python tests/test_schemas_drift.py --write`` writes them anew.
"""

from __future__ import annotations

import json
import sys
import tomllib
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from mixlint.comparison import Approval
from mixlint.facts import TABLES
from mixlint.facts.channel_sheet import Sheet
from mixlint.facts.channel_why import Why
from mixlint.reports.catalogue import Catalogue
from mixlint.reports.fact_list import FactList
from mixlint.reports.fact_rows import AskedRows
from mixlint.reports.query import QueryAnswer
from mixlint.reports.standard_list import StandardList
from mixlint.review.compare import ComparisonReport
from mixlint.review.findings import Report
from mixlint.review.proof import Proof
from mixlint.routing.trace_model import Trace
from mixlint.rulebook import load_standard
from mixlint.rulebook.settings import settings_of
from mixlint.store.survey_model import Survey
from tests.schemas import identified, model_schema, rule_schema, session_schema, standard_schema

EVERYTHING = Path(__file__).resolve().parent / "everything.toml"

TOP = Path(__file__).resolve().parents[1]
FOLDER = TOP / "schemas"
NAMES = (
    "approval", "compare", "facts", "proof", "query", "report", "rows", "rule", "rules", "session", "sheet", "standard",
    "standards", "survey", "trace", "why",
)  # fmt: skip
RULES = sorted(path for path in (TOP / "rules").glob("*/*.toml") if path.parent.name not in ("standards", "words"))
STANDARDS = sorted((TOP / "rules" / "standards").glob("*.toml"))


def made() -> dict[str, dict[str, Any]]:
    """Every schema by name, made now."""
    schemas = {
        "approval": model_schema(Approval, "An approved mix"),
        "compare": model_schema(ComparisonReport, "What changed between two revisions"),
        "facts": model_schema(FactList, "The vocabulary: every fact of every table"),
        "proof": model_schema(Proof, "How a standard stood its proof"),
        "query": model_schema(QueryAnswer, "The answer to a query of a store of reviews"),
        "report": model_schema(Report, "A mixlint report"),
        "rows": model_schema(AskedRows, "The rows of one table of a session, with what was asked of them"),
        "rule": rule_schema(TABLES),
        "rules": model_schema(Catalogue, "The rules in force under one standard"),
        "session": session_schema(),
        "sheet": model_schema(Sheet, "A channel sheet"),
        "standard": standard_schema(
            [rule.file for rule in load_standard(EVERYTHING).rules.values()], settings_of(TABLES.values()).values()
        ),
        "standards": model_schema(StandardList, "The checklists that come with mixlint"),
        "survey": model_schema(Survey, "What a store of reviews tells"),
        "trace": model_schema(Trace, "One channel's ways to the mix bus"),
        "why": model_schema(Why, "Why channels have their roles"),
    }
    return {name: identified(name, schema) for name, schema in schemas.items()}


def text(schema: dict[str, Any]) -> str:
    """A schema as it stands on disk."""
    return json.dumps(schema, indent=2, ensure_ascii=False) + "\n"


@pytest.fixture(scope="module")
def schemas() -> dict[str, dict[str, Any]]:
    return made()


def test_every_schema_is_there() -> None:
    """The folder holds the schemas named here and no others."""
    assert sorted(path.name for path in FOLDER.glob("*.json")) == [f"{name}.schema.json" for name in NAMES]


@pytest.mark.parametrize("name", NAMES)
def test_schema_is_what_the_models_say(schemas: dict[str, dict[str, Any]], name: str) -> None:
    """The file equals what is made now."""
    written = (FOLDER / f"{name}.schema.json").read_text(encoding="utf-8")
    assert written == text(schemas[name]), "run: python tests/test_schemas_drift.py --write"


@pytest.mark.parametrize("name", NAMES)
def test_schema_has_a_name_of_its_own(schemas: dict[str, dict[str, Any]], name: str) -> None:
    """Its ``$id`` is a URN (RFC 8141) with the version of the form, so that a validator can keep several apart."""
    form = schemas[name]["properties"].get("format", {}).get("const", f"mixlint-{name}/1")
    assert form.rpartition("/")[0] in (f"mixlint-{name}", "mixlint-approval")
    assert schemas[name]["$id"] == f"urn:mixlint:{name}:{form.rpartition('/')[2]}"


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_schema_is_a_schema(schemas: dict[str, dict[str, Any]], name: str) -> None:
    """Each is valid under its own dialect, JSON Schema draft 2020-12."""
    Draft202012Validator.check_schema(schemas[name])


@pytest.mark.parametrize("path", RULES, ids=lambda p: p.stem)
def test_shipped_rule_is_valid_under_the_schema(schemas: dict[str, dict[str, Any]], path: Path) -> None:
    """Every rule file that ships passes the schema that an editor uses."""
    rule = tomllib.loads(path.read_text(encoding="utf-8"))
    assert [e.message for e in Draft202012Validator(schemas["rule"]).iter_errors(rule)] == []


@pytest.mark.parametrize("path", STANDARDS, ids=lambda p: p.stem)
def test_shipped_standard_is_valid_under_the_schema(schemas: dict[str, dict[str, Any]], path: Path) -> None:
    """Every standard file that ships passes the schema that an editor uses."""
    standard = tomllib.loads(path.read_text(encoding="utf-8"))
    assert [e.message for e in Draft202012Validator(schemas["standard"]).iter_errors(standard)] == []


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("over", "retrun"),
        ("must", {"dry_bd": {"at_most": -40.0}}),
        ("must", {"dry_db": {"matches": "x"}}),
        ("must", {"effect": "reverbb"}),
        ("must", {"channel_only": True}),
        ("must", {}),
        ("must", {"any": []}),
        ("when", {"not": {"fed": "yes"}}),
        ("grade", "grave"),
        ("id", "Return Fully Wet"),
        ("severity", "high"),
    ],
)
def test_schema_refuses_what_the_loader_refuses(schemas: dict[str, dict[str, Any]], key: str, value: object) -> None:
    """A misspelt table, fact, operator, word, grade or key shows in the editor."""
    rule = tomllib.loads((TOP / "rules" / "ambience" / "return-fully-wet.toml").read_text(encoding="utf-8"))
    validator = Draft202012Validator(schemas["rule"])
    assert validator.is_valid(rule)
    assert not validator.is_valid({**rule, key: value})


@pytest.mark.parametrize(
    ("settings", "valid"),
    [
        ({"counterparts.least_together": 60.0}, True),
        ({"counterparts": {"least_together": 60}}, True),
        ({"counterparts.least_togther": 60.0}, False),
        ({"counterparts": {"least_togther": 60.0}}, False),
        ({"counterparts.least_together": 101.0}, False),
        ({"counterparts.least_together": "60"}, False),
    ],
)
def test_schema_of_a_standard_knows_the_settings(
    schemas: dict[str, dict[str, Any]], settings: dict[str, Any], valid: bool
) -> None:
    """Names, in both spellings, and ranges; an editor completes them."""
    assert Draft202012Validator(schemas["standard"]).is_valid({"name": "yard", "settings": settings}) is valid


if __name__ == "__main__":
    if sys.argv[1:] != ["--write"]:
        raise SystemExit("usage: python tests/test_schemas_drift.py --write")
    for one, schema in made().items():
        (FOLDER / f"{one}.schema.json").write_text(text(schema), encoding="utf-8")
