"""Rules at other limits, from stored facts alone, against a real review under a standard with these very limits."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from mixlint.cli.app import app
from mixlint.errors import MixlintError, RulebookError
from mixlint.review.findings import Finding
from mixlint.rulebook import Standard, load_standard
from mixlint.runs.check import Review, check
from mixlint.session import Session
from mixlint.store.archive import Archive
from mixlint.store.survey import survey
from mixlint.store.survey_model import Survey
from mixlint.store.what_if import MAY_BE_SIGNED, NOT_AS_SAID, LimitWish, wish
from tests.benchmarks.bench_facts import large
from tests.store.stores import EXAMPLES, FLAWED, TOP, body, files, keep, write

CHANGES = {
    "a half": (0.5, 0.0),
    "twice": (2.0, 0.0),
    "none": (0.0, 0.0),
    "turned": (-1.0, 0.0),
    "three more": (1.0, 3.0),
}
"""What each number among all limits of all rules is multiplied by, and what is added to it, in its own unit."""


def at_limits(base: str, folder: Path, factor: float, more: float) -> tuple[Standard, list[LimitWish]]:
    """A standard with every number among the limits changed, but for rules that cannot be so; the same as wishes."""
    values: dict[str, float] = {}
    for rule in load_standard(base).rules.values():
        for name, limit in rule.limits.items():
            if isinstance(limit.value, int | float) and not isinstance(limit.value, bool):
                values[f"{rule.id}.{name}"] = round(limit.value * factor + more, 9)
    while True:
        path = folder / "other-limits.toml"
        limits = "".join(f'"{key}" = {value}\n' for key, value in values.items())
        path.write_text(f'name = "other-limits"\nbuilds_on = "{base}"\n[limits]\n{limits}')
        try:
            standard = load_standard(path)
        except RulebookError as fault:
            faulty = {Path(one.file).stem for one in fault.faults} | {one.key.split(".")[1] for one in fault.faults}
            left = {key: value for key, value in values.items() if key.partition(".")[0] not in faulty}
            assert len(left) < len(values)
            values = left
        else:
            return standard, [LimitWish(*key.rsplit(".", 1), repr(value)) for key, value in values.items()]


def asked(store: Path, wishes: list[LimitWish]) -> Survey:
    return survey(Archive(store), version="0", store="", day=date(2026, 1, 1), lapse_within=0, wishes=wishes)


def rows(findings: tuple[Finding, ...], verdict: str) -> Mapping[tuple[str, str], str]:
    return {(one.rule, one.fingerprint): one.grade for one in findings if one.verdict == verdict}


def held_against(made: Survey, before: Review, after: Review) -> int:
    """Row by row: what comes, what goes, at which grade, how many are open; and the outcome. How many rows turned."""
    was, now = rows(before.result.findings, "flagged"), rows(after.result.findings, "flagged")
    rules = {one.rule for one in made.what_if}
    assert not [one for one in made.what_if if one.untold]
    come = {(one.rule, row.fingerprint): row.grade for one in made.what_if for row in one.come}
    go = {(one.rule, row.fingerprint): row.grade for one in made.what_if for row in one.go}
    assert come == {key: grade for key, grade in now.items() if key not in was}
    assert go == {key: grade for key, grade in was.items() if key not in now}
    for one in made.what_if:
        assert one.flagged == sum(rule == one.rule for rule, _ in was)
        assert one.flagged_then == sum(rule == one.rule for rule, _ in now)
        assert one.open_then == sum(rule == one.rule for rule, _ in rows(after.result.findings, "open"))
    assert {rule for rule, _ in {**come, **go}} <= rules
    turned = [(one.now, one.then) for one in made.turns]
    assert turned == ([(before.outcome, after.outcome)] if before.outcome != after.outcome else [])
    return len(come) + len(go)


def reviewed(what: Session | Path, standard: Standard, *, keep: bool = False) -> Review:
    return check(what, standard=standard, audio=False, keep=keep, day=date(2026, 1, 1))


@pytest.mark.slow
@pytest.mark.parametrize("change", CHANGES)
def test_every_limit_of_the_shipped_rules_on_the_example(change: str, tmp_path: Path) -> None:
    """More than two hundred rules at once, among them those whose limits decide whether they apply at all."""
    standard, wishes = at_limits("pre-bounce", tmp_path, *CHANGES[change])
    store = tmp_path / "store"
    (before,) = keep(store, FLAWED, standard=load_standard("pre-bounce"))
    made = asked(store, wishes)
    assert len(made.what_if) > 200
    turned = held_against(made, before, reviewed(FLAWED, standard))
    assert turned >= {"a half": 1, "twice": 5, "none": 80, "turned": 300, "three more": 20}[change]


SONGS = ("drum-kit", "cue-sends", "left-centre-right", "parallel-compression", "mono-release", "large")


@pytest.mark.slow
@pytest.mark.parametrize("song", SONGS)
def test_every_limit_on_made_sessions(song: str, tmp_path: Path) -> None:
    if song == "large":
        path = tmp_path / "large.session.json"
        path.write_text(large(40, 2).json_text(), encoding="utf-8")
    else:
        path = EXAMPLES / f"{song}.session.json"
    store, base = tmp_path / "store", load_standard("pre-bounce")
    (before,) = keep(store, path, standard=base)
    for number, change in enumerate(("none", "turned")):
        (tmp_path / str(number)).mkdir()
        standard, wishes = at_limits("pre-bounce", tmp_path / str(number), *CHANGES[change])
        assert held_against(asked(store, wishes), before, reviewed(path, standard)) >= 5


def test_a_house_with_its_own_limits_grades_roles_and_rules_is_asked_as_it_was(tmp_path: Path) -> None:
    """The house of the examples: what it lays down is stored with each review, and its standard need not be there."""
    house = TOP / "example_sessions" / "house" / "mixlint-standard.toml"
    song = FLAWED
    standard, wishes = at_limits(str(house), tmp_path, 0.0, 0.0)
    (before,) = keep(tmp_path / "store", song, standard=load_standard(house))
    held_against(asked(tmp_path / "store", wishes), before, reviewed(song, standard))


LEADING = """\
id = "one-reverb-low"
title = "At most one reverb stands on a return, and is fed low"
area = "ambience"
grade = "note"
over = "return"
must = { effect = "reverb", inserts = { count = { at_most = "limits.most", of = { processor = { one_of = [
    "reverb",
    "equalizer",
] } } } } }
says = "{channel} has too many."
remedy = "Take one out."
why = "So."

[[grades]]
to = "hold"
when = { inserts = { some = { place = { at_least = "limits.place" } } } }
because = "it stands far down"

[limits.most]
value = 2
meaning = "how many"

[limits.place]
value = 2
meaning = "from where on"

[basis]
kind = "common practice"
"""


def test_rows_that_a_fact_leads_to_are_asked_again(tmp_path: Path) -> None:
    from mixlint.facts import TABLES

    number = next(name for name, fact in TABLES["insert"].facts.items() if fact.kind == "number" and not fact.unit)
    (tmp_path / "one-reverb-low.toml").write_text(LEADING.replace("place = {", f"{number} = {{"))
    house = tmp_path / "mixlint-standard.toml"
    house.write_text('name = "led"\ntakes = []\nrules = ["one-reverb-low.toml"]\n')
    song = write(tmp_path / "a.json", body())
    store = tmp_path / "store"
    (before,) = keep(store, song)
    for most, place in ((1, 2), (0, 0), (2, 0), (5, 9), (1, 0)):
        other = tmp_path / "other.toml"
        other.write_text(
            f'name = "other"\nbuilds_on = "mixlint-standard.toml"\n[limits]\n"one-reverb-low.most" = {most}\n'
            f'"one-reverb-low.place" = {place}\n'
        )
        wishes = [LimitWish("one-reverb-low", "most", str(most)), LimitWish("one-reverb-low", "place", str(place))]
        held_against(asked(store, wishes), before, reviewed(song, load_standard(other)))


def test_what_is_not_known_stays_open_by_kleene(tmp_path: Path) -> None:
    """A hidden wet share is open at any limit: nothing is guessed, and nothing fires."""
    made = body()
    made["channels"][1]["inserts"][1].pop("wet")
    keep(tmp_path / "store", write(tmp_path / "a.json", made))
    for value in ("-200", "0", "200"):
        (one,) = asked(tmp_path / "store", [LimitWish("return-fully-wet", "dry_db", value)]).what_if
        assert (one.flagged, one.flagged_then, one.open, one.open_then, one.untold) == (0, 0, 1, 1, ())


def test_a_signed_row_stays_signed_and_a_new_one_may_be_covered(tmp_path: Path) -> None:
    songs = [write(tmp_path / f"{n}.json", body(f"Song {n}", wet=wet)) for n, wet in enumerate((50.0, 100.0))]
    words = ["return-fully-wet", "--because", "meant", "--by", "RM", "--no-audio"]
    assert CliRunner().invoke(app, ["sign", str(songs[0]), *words, "--on", "Hall"]).exit_code == 0
    store = tmp_path / "store"
    before = keep(store, *songs)
    assert [one.outcome for one in before] == ["clear", "clear"]
    (one,) = asked(store, [LimitWish("return-fully-wet", "dry_db", "-10")]).what_if
    assert (one.flagged, one.flagged_then, one.untold) == (0, 0, ())  # it was signed, and still is
    made = asked(store, [LimitWish("return-fully-wet", "dry_db", "-300")])
    (one,) = made.what_if
    assert [row.session for row in one.come] == ["Song 1"]
    assert [(turn.session, turn.now, turn.then) for turn in made.turns] == [("Song 1", "clear", "held")]
    # where the line is unused now, what fires anew may be what it was written for
    write(songs[0], body("Song 0"))
    keep(store, *songs)
    made = asked(store, [LimitWish("return-fully-wet", "dry_db", "-300")])
    (one,) = made.what_if
    assert [row.session for row in one.come] == ["Song 1"]
    assert [(untold.why, untold.rows) for untold in one.untold] == [(MAY_BE_SIGNED, 1)]
    assert {(turn.session, turn.then) for turn in made.turns} == {("Song 0", None), ("Song 1", "held")}


def test_what_does_not_come_to_its_review_is_not_told(tmp_path: Path) -> None:
    """A store whose facts were changed by somebody: of these rows nothing is said but that."""
    import pyarrow.parquet as pq

    from mixlint.store.columns import file_name

    store = tmp_path / "store"
    keep(store, write(tmp_path / "a.json", body(wet=50.0)))
    (path,) = files(store, "facts")
    table = pq.read_table(path).to_pylist()
    for row in table:
        if row["fact"] == "dry_db":
            row["number"] = -90.0
    import pyarrow as pa

    pq.write_table(pa.Table.from_pylist(table, schema=pq.read_schema(path)), path)
    path.rename(path.with_name(file_name(path.name.rpartition("-")[0], path.read_bytes())))
    made = asked(store, [LimitWish("return-fully-wet", "dry_db", "-100")])
    assert [(one.why, one.rows) for one in made.what_if[0].untold] == [(NOT_AS_SAID, 1)]
    assert [(one.now, one.then) for one in made.turns] == [("held", None)]


def test_a_fact_that_was_never_worked_out_is_not_guessed(tmp_path: Path) -> None:
    import pyarrow.compute as pc
    import pyarrow.parquet as pq

    from mixlint.store.columns import file_name

    store = tmp_path / "store"
    keep(store, write(tmp_path / "a.json", body(wet=50.0)))
    (path,) = files(store, "facts")
    table = pq.read_table(path)
    pq.write_table(table.filter(pc.not_equal(table["fact"], "dry_db")), path)
    path.rename(path.with_name(file_name(path.name.rpartition("-")[0], path.read_bytes())))
    (one,) = asked(store, [LimitWish("return-fully-wet", "dry_db", "-100")]).what_if
    assert [(each.why, each.rows) for each in one.untold] == [("its review had not worked out dry_db", 1)]


def test_sessions_that_did_not_run_the_rule_are_counted_apart(tmp_path: Path) -> None:
    from mixlint.runs.storing import Asked

    store = tmp_path / "store"
    keep(store, write(tmp_path / "a.json", body(wet=50.0)))
    without = {"return-fully-wet"}
    keep(store, write(tmp_path / "b.json", body(wet=50.0)), asked=Asked(leave_out=tuple(without)), leave_out=without)
    (one,) = asked(store, [LimitWish("return-fully-wet", "dry_db", "5")]).what_if
    assert (one.sessions, one.elsewhere, one.flagged, one.flagged_then) == (1, 1, 1, 0)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("return-fully-wet.dry_db", "RULE.LIMIT=VALUE"),
        ("dry_db=3", "RULE.LIMIT=VALUE"),
        ("return-fully-wet.dry_bd=3", "did you mean dry_db?"),
        ("return-fuly-wet.dry_db=3", "did you mean return-fully-wet?"),
        ("return-fully-wet.dry_db=loud", "a number"),
        ("return-fully-wet.dry_db=true", "a number"),
        ("return-fully-wet.dry_db=nan", "a number"),
        ("return-fully-wet.dry_db=[1, 2]", "a number"),
        ("counterparts.least_together=50", "settings"),
        ("nothing-soloed.x=1", "it has none"),
    ],
)
def test_what_is_no_limit_is_told(typed: str, said: str, tmp_path: Path) -> None:
    keep(tmp_path / "store", write(tmp_path / "a.json", body()))
    done = CliRunner().invoke(app, ["survey", str(tmp_path / "store"), "--what-if", typed])
    assert (done.exit_code, done.stdout) == (2, "")
    assert said.casefold() in done.stderr.casefold()


def test_a_wish_is_read_as_it_is_typed() -> None:
    assert wish("a-rule.limit_db = -3.5") == LimitWish("a-rule", "limit_db", "-3.5")
    with pytest.raises(MixlintError):
        wish("=")


def test_json_and_text_tell_the_same_difference(tmp_path: Path) -> None:
    store = tmp_path / "store"
    keep(store, write(tmp_path / "a.json", body("Song A", wet=50.0)))
    words: list[Any] = ["survey", str(store), "--what-if", "return-fully-wet.dry_db=1"]
    made = json.loads(CliRunner().invoke(app, [*words, "--as", "json"]).stdout)
    (one,) = made["what_if"]
    assert one["limits"] == [{"limit": "dry_db", "was": [-40.0], "value": 1, "unit": "dB"}]
    assert (one["flagged"], one["flagged_then"], made["turns"][0]["then"]) == (1, 0, "clear")
    assert "is not flagged any more" in " ".join(CliRunner().invoke(app, words).stdout.split())
    table = CliRunner().invoke(app, [*words, "--as", "csv"]).stdout
    assert "return-fully-wet,dry_db 1 dB in place of −40 dB,1,0,0,1," in table
