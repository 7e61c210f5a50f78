"""Conditions on rows that a row leads to, and on values of the row itself: three-valued, and checked when loaded."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

from mixlint.errors import RulebookError
from mixlint.facts import TABLES, SessionContext
from mixlint.rulebook.conditions import Condition, Reader
from mixlint.rulebook.counting import over_all
from mixlint.rulebook.evaluation import RowEvaluation
from mixlint.rulebook.faults import Faults
from mixlint.rulebook.truth import NO, YES, Missing, Outcome
from mixlint.rulebook.values import Limit
from mixlint.session import Channel, Insert, Send, Session, Unknown

HIDDEN = Outcome("unknown", (Missing("kind", "nobody says", ""),))
LIMITS = {"most": Limit(value=1, unit=""), "most_db": Limit(value=-6.0, unit="dB")}


def read(over: str, raw: Any) -> Condition:
    faults = Faults()
    condition = Reader(TABLES[over], LIMITS, faults.of("toy"), tables=TABLES).read(raw, "must")
    faults.stop()
    assert condition is not None
    return condition


def truth(session: Session, over: str, subject: str, raw: Any) -> str:
    table = TABLES[over]
    (row,) = [row for row in table.rows(SessionContext(session)) if row.subject.name == subject]
    test = read(over, raw).test
    found = test(RowEvaluation(table, row)).truth
    assert test.holds(row, row) is {"yes": True, "no": False, "unknown": None}[found]
    return found


@pytest.mark.parametrize(
    ("operator", "met", "came_to"),
    [
        ("some", [NO, HIDDEN], "unknown"), ("some", [YES, HIDDEN], "yes"), ("some", [], "no"),
        ("every", [YES, HIDDEN], "unknown"), ("every", [NO, HIDDEN], "no"), ("every", [], "yes"),
        ("none", [NO, HIDDEN], "unknown"), ("none", [YES, HIDDEN], "no"), ("none", [], "yes"),
    ],
)  # fmt: skip
def test_operators_over_rows_are_kleenes(operator: str, met: list[Outcome], came_to: str):
    """Kleene 1952, section 64: the strong tables of or and and, over as many as there are."""
    assert over_all(operator, met).truth == came_to


@pytest.mark.parametrize(
    ("met", "most", "came_to"),
    [([YES, HIDDEN], 2, "yes"), ([YES, HIDDEN], 1, "unknown"), ([YES, YES, HIDDEN], 1, "no"), ([], 0, "yes")],
)
def test_a_count_is_settled_where_the_unknown_ones_cannot_change_it(met: list[Outcome], most: int, came_to: str):
    assert over_all("count", met, [lambda number: float(str(number)) <= most]).truth == came_to


def channel(name: str, kind: Any = "track", output: str | None = "Mix", **more: Any) -> Channel:
    return Channel(id=name, name=name, kind=kind, output=output, **more)


SONG = Session(
    channels=(
        channel("Vox [1]", sends=(Send(to="Hall", level_db=-9.0), Send(to="Slap", level_db=-20.0))),
        channel("PRINT Vox [1]", fader_db=-2.0),
        channel("Hall", "return", inserts=(Insert(name="Old Hall", kind="reverb"), Insert(name="Zorp"))),
        channel("Slap", "return", inserts=(Insert(name="Echo", kind="delay"),)),
        channel("Mix", "master", None),
    )
)  # fmt: skip


@pytest.mark.parametrize(
    ("subject", "raw", "came_to"),
    [
        ("Vox [1]", {"output": {"mix_bus": True}}, "yes"),
        ("Mix", {"output": {"mix_bus": True}}, "no"),
        ("Mix", {"output": {"count": {"is": 0}}}, "yes"),
        ("Vox [1]", {"sends": {"count": {"of": {"level_db": {"above": "limits.most_db"}}, "is": 0}}}, "yes"),
        ("Vox [1]", {"sends": {"count": {"at_most": "limits.most"}}}, "no"),
        ("Vox [1]", {"sends": {"some": {"to_channel": {"inserts": {"some": {"processor": "delay"}}}}}}, "yes"),
        ("Vox [1]", {"sends": {"every": {"to_channel": {"inserts": {"some": {"processor": "delay"}}}}}}, "unknown"),
        ("Vox [1]", {"other_channels": {"some": {"name": "PRINT {name}"}}}, "yes"),
        ("Vox [1]", {"other_channels": {"some": {"name": {"matches": "print {name}"}}}}, "yes"),
        ("Hall", {"other_channels": {"some": {"name": {"matches": "PRINT {name}"}}}}, "no"),
        ("Vox [1]", {"other_channels": {"some": {"fader_db": {"below": "{fader_db}"}}}}, "yes"),
        ("Vox [1]", {"other_channels": {"some": {"fader_db": {"within": {"of": "{fader_db}", "by": 1}}}}}, "yes"),
        ("PRINT Vox [1]", {"other_channels": {"some": {"fader_db": {"below": "{fader_db}"}}}}, "no"),
        ("PRINT Vox [1]", {"fader_db": {"below": "{output.fader_db}"}}, "yes"),
        ("Mix", {"fader_db": {"below": "{output.fader_db}"}}, "unknown"),
        ("PRINT Vox [1]", {"fader_db": {"at_most": {"of": "{output.fader_db}", "minus": 2.0}}}, "yes"),
        ("PRINT Vox [1]", {"fader_db": {"below": {"of": "{output.fader_db}", "minus": 2.0}}}, "no"),
        ("Vox [1]", {"partner": {"fader_db": {"above": "{fader_db}"}}}, "no"),
        ("PRINT Vox [1]", {"other_channels": {"none": {"fader_db": {"above": {"of": "{fader_db}", "plus": 1}}}}}, "no"),
        ("PRINT Vox [1]", {"output": {"fader_db": {"at_most": {"of": "{fader_db}", "plus": 3}}}}, "yes"),
        ("Hall", {"inserts": {"none": {"processor": "limiter"}}}, "unknown"),
        ("Slap", {"inserts": {"none": {"processor": "limiter"}}}, "yes"),
        ("Vox [1]", {"route": {"some": {"kind": "master"}}}, "yes"),
        ("Mix", {"fed_by": {"count": {"of": {"kind": "return"}, "is": 2}}}, "yes"),
        ("Hall", {"above_it": {"every": {"kind": "track"}}, "sends_received": {"count": {"is": 1}}}, "yes"),
    ],
)  # fmt: skip
def test_conditions_on_rows(subject: str, raw: Any, came_to: str):
    assert truth(SONG, "channel", subject, raw) == came_to


def test_an_export_without_processors_leaves_them_open():
    bare = Session(channels=(channel("Vox"), channel("Mix", "master", None)))
    assert truth(bare, "channel", "Vox", {"inserts": {"none": {"processor": "reverb"}}}) == "unknown"


def test_an_output_that_is_not_shown_leaves_open_where_it_goes():
    lost = Unknown(unknown="not told")
    song = Session(channels=(Channel(id="Vox", name="Vox", kind="track", output=lost), channel("Mix", "master", None)))
    assert truth(song, "channel", "Vox", {"output": {"name": "Drums"}}) == "unknown"
    assert truth(song, "channel", "Vox", {"route": {"some": {"name": "Drums"}}}) == "unknown"


def test_what_is_known_of_a_route_counts_where_its_end_is_not():
    lost = Unknown(unknown="not told")
    group = Channel(id="Drums", name="Drums", kind="group", output=lost)
    song = Session(channels=(channel("Kick", output="Drums"), group, channel("Mix", "master", None)))
    for raw, came_to in (
        ({"some": {"name": "Drums"}}, "yes"),
        ({"none": {"name": "Drums"}}, "no"),
        ({"some": {"name": "Mix"}}, "unknown"),
        ({"count": {"at_least": 1}}, "yes"),
        ({"count": {"at_most": 2}}, "unknown"),
    ):
        assert truth(song, "channel", "Kick", {"route": raw}) == came_to


@pytest.mark.parametrize(
    ("raw", "key", "said"),
    [
        ({"insert": {"some": {"processor": "reverb"}}}, "must.insert", "no fact insert"),
        ({"inserts": {"some": {"procesor": "reverb"}}}, "must.inserts.some.procesor", "processor"),
        ({"inserts": {"some": {"processor": "reverbs"}}}, "must.inserts.some.processor", "reverb"),
        ({"inserts": {"sum": {"processor": "reverb"}}}, "must.inserts.sum", "some"),
        ({"inserts": "reverb"}, "must.inserts", "some"),
        ({"inserts": {"at_most": 3}}, "must.inserts.at_most", "does not fit"),
        ({"inserts": {"count": {"of": {"processor": "reverb"}}}}, "must.inserts.count", "how many"),
        ({"inserts": {"count": {"at_most": "limits.most_db"}}}, "must.inserts.count.at_most", "dB"),
        ({"fader_db": {"below": "{pan}"}}, "must.fader_db.below", "is in pan"),
        ({"fader_db": {"below": "{name}"}}, "must.fader_db.below", "is a text"),
        ({"name": "PRINT {nam}"}, "must.name", "name"),
        ({"pan": {"below": {"of": "{pan}", "minus": "limits.most"}}}, "must.pan.below.minus", "without a unit"),
        ({"pan": {"below": {"of": "{pan}", "minus": -2}}}, "must.pan.below.minus", "negative"),
        ({"pan": {"below": {"of": "{pan}", "les": 2}}}, "must.pan.below", "a table"),
        ({"fader_db": {"below": {"of": "{nowhere}", "minus": 1}}}, "must.fader_db.below.of", "no fact nowhere"),
        ({"output": {"name": "{output}"}}, "must.output.name", "is a row"),
        ({"name": "{outputs.name}"}, "must.name", "output"),
        ({"name": "{sends.name}"}, "must.name", "does not lead to one row"),
    ],
)  # fmt: skip
def test_what_does_not_fit_is_told_when_the_rule_is_loaded(raw: Any, key: str, said: str):
    with pytest.raises(RulebookError) as fault:
        read("channel", raw)
    assert f"{key}: " in str(fault.value)
    assert said in str(fault.value)


README = (Path(__file__).resolve().parents[2] / "README.md").read_text(encoding="utf-8")
SECTION = README.partition("Some facts lead to rows of other tables")[2].partition("A misspelt word")[0]
SHOWN = re.findall(r"^must = .*$", SECTION, re.MULTILINE)


@pytest.mark.parametrize("line", SHOWN)
def test_what_the_readme_shows_can_be_read(line: str):
    assert len(SHOWN) >= 7
    must = tomllib.loads(line)["must"]
    assert read("session" if "all_channels" in must else "channel", must)
