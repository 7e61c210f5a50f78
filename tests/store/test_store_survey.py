"""What a survey says, against plain SQL written by hand and a recount in plain Python of the JSON reports."""

from __future__ import annotations

import csv
import io
import json
from collections import Counter, defaultdict
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import duckdb
import pytest
from lxml import html
from typer.testing import CliRunner

import mixlint
from mixlint.cli.app import app
from mixlint.reports.forms import result_forms
from mixlint.runs import storing
from mixlint.runs.storing import Asked
from mixlint.store.archive import Archive
from mixlint.store.survey import survey
from tests.store.stores import body, keep, write


def surveyed(store: Path, *words: object) -> Any:
    done = CliRunner().invoke(app, ["survey", str(store), *map(str, words)])
    assert done.exit_code == 0, done.stderr
    return json.loads(done.stdout) if words[-1:] == ("json",) or words[1:2] == ("json",) else done.stdout


class Clock(datetime):
    """The time at which the store believes that a review is done."""

    at = datetime(2026, 3, 1, 12, tzinfo=UTC)

    @classmethod
    def now(cls, tz: Any = None) -> datetime:
        """The time that a test says, and a second later at each look."""
        cls.at += timedelta(seconds=1)
        return cls.at.astimezone(tz)


@pytest.fixture
def archive(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[Path, list[dict[str, Any]]]:
    """A store of five sessions over four months, and the JSON of every review in it, with its day."""
    monkeypatch.setattr(storing, "datetime", Clock)
    store, told = tmp_path / "store", []

    def run(day: str, engineer: str, **songs: dict[str, Any]) -> None:
        Clock.at = datetime.fromisoformat(f"{day}T09:00:00+00:00")
        paths = [write(tmp_path / f"{name}.json", made) for name, made in songs.items()]
        reviews = keep(store, *paths, asked=Asked(audio=False, engineer=engineer))
        report = json.loads(mixlint.report(reviews, "json"))
        told.extend({"day": day, "engineer": engineer, **one} for one in report["sessions"])

    run("2026-03-01", "RM", a=body("A", solo=True), b=body("B", wet=60.0))
    run("2026-03-09", "RM", a=body("A", solo=True, wet=50.0), c=body("C"))
    run("2026-04-02", "LK", a=body("A", wet=50.0), b=body("B"), d=body("D", solo=True))
    run("2026-05-05", "LK", b=body("B", wet=60.0), a=body("A", wet=50.0, solo=True))
    run("2026-06-06", "RM", e=body("E", solo=True, wet=70.0))
    return store, told


def latest(told: list[dict[str, Any]]) -> dict[str, dict[str, Any]]:
    return {one["source"]: one for one in told}  # they stand in the order of their days


def test_counts_are_those_of_a_recount_in_plain_python(archive: tuple[Path, list[dict[str, Any]]]) -> None:
    store, told = archive
    made, now = surveyed(store, "--as", "json"), latest(told)
    assert (made["runs"], made["reviews"], len(made["sessions"])) == (5, len(told), 5)
    outcomes = Counter(one["outcome"] for one in now.values())
    assert made["outcomes"] == {name: outcomes[name] for name in ("held", "look", "clear")}
    assert {(one["path"], one["outcome"], one["hold"], one["engineer"]) for one in made["sessions"]} == {
        (path, one["outcome"], one["counts"]["flagged_by_grade"]["hold"], one["engineer"]) for path, one in now.items()
    }
    flagged = defaultdict(list)
    for path, one in now.items():
        for finding in one["findings"]:
            if finding["verdict"] == "flagged":
                flagged[finding["rule"]].append((path, finding["grade"]))
    assert {one["rule"]: (one["rows"], one["sessions"], one["hold"]) for one in made["rules"]} == {
        rule: (len(rows), len({path for path, _ in rows}), sum(grade == "hold" for _, grade in rows))
        for rule, rows in flagged.items()
    }
    months = defaultdict(Counter)
    for one in told:
        months[one["day"][:7]][one["outcome"]] += 1
    assert {one["month"]: (one["held"], one["look"], one["clear"]) for one in made["months"]} == {
        month: (found["held"], found["look"], found["clear"]) for month, found in months.items()
    }
    engineers = Counter((one["engineer"], one["outcome"]) for one in now.values())
    assert {one["name"]: one["held"] for one in made["engineers"]} == {
        name: engineers[name, "held"] for name in ("RM", "LK")
    }
    assert [(one["name"], one["sessions"]) for one in made["clients"]] == [(None, 5)]
    assert [(one["name"], one["sessions"]) for one in made["standards"]] == [("lamp-house", 5)]


def since_by_hand(told: list[dict[str, Any]]) -> dict[str, str]:
    """Rule → the first day since which one of its rows has been flagged in each review of its session."""
    found: dict[str, str] = {}
    for path in {one["source"] for one in told}:
        mine = [one for one in told if one["source"] == path]
        for rule, fingerprint in flagged_in(mine[-1]):
            first = mine[-1]["day"]
            for one in reversed(mine):
                if (rule, fingerprint) not in flagged_in(one):
                    break
                first = one["day"]
            found[rule] = min(found.get(rule, first), first)
    return found


def flagged_in(one: dict[str, Any]) -> set[tuple[str, str]]:
    return {(f["rule"], f["fingerprint"]) for f in one["findings"] if f["verdict"] == "flagged"}


def test_since_when_is_an_unbroken_run_of_reviews(archive: tuple[Path, list[dict[str, Any]]]) -> None:
    store, told = archive
    made = surveyed(store, "--as", "json")
    assert {one["rule"]: one["since"] for one in made["rules"]} == since_by_hand(told)
    by_rule = {one["rule"]: one["since"] for one in made["rules"]}
    assert by_rule["return-fully-wet"] == "2026-03-09"  # A since then without a break; B was cured in between
    assert by_rule["nothing-soloed"] == "2026-04-02"  # D; A was cured in between


def test_counts_are_those_of_plain_sql(archive: tuple[Path, list[dict[str, Any]]]) -> None:
    """DuckDB alone over the files, with nothing of mixlint between."""
    store, _ = archive
    made = surveyed(store, "--as", "json")
    last = f"""
        (SELECT s.* FROM '{store}/sessions/*/*.parquet' s
         WHERE s.done = (SELECT max(t.done) FROM '{store}/sessions/*/*.parquet' t WHERE t.place = s.place))"""
    with duckdb.connect() as plain:
        assert plain.execute(f"SELECT outcome, count(*) FROM {last} GROUP BY 1 ORDER BY 1").fetchall() == [
            ("clear", made["outcomes"]["clear"]), ("held", made["outcomes"]["held"]),
        ]  # fmt: skip
        rows = plain.execute(
            f"SELECT f.rule, count(*), count(DISTINCT f.session) FROM '{store}/findings/*/*.parquet' f "
            f"JOIN {last} l ON l.session = f.session WHERE f.verdict = 'flagged' GROUP BY 1 ORDER BY 2 DESC, 3 DESC, 1"
        ).fetchall()
        assert rows == [(one["rule"], one["rows"], one["sessions"]) for one in made["rules"]]
        by_engineer = plain.execute(
            f"SELECT engineer, count(*), sum(flagged) FROM {last} GROUP BY 1 ORDER BY 1"
        ).fetchall()
        assert by_engineer == sorted((one["name"], one["sessions"], one["flagged"]) for one in made["engineers"])
    asked = surveyed(store, "--sql", "SELECT rule, count(*) AS n FROM findings JOIN latest USING (session) "
                     "WHERE verdict = 'flagged' GROUP BY 1 ORDER BY 2 DESC, 1", "--as", "csv")  # fmt: skip
    assert [*csv.reader(io.StringIO(asked))][1:] == [[rule, str(number)] for rule, number, _ in rows]


def test_a_review_of_a_part_tells_nothing_of_the_session(tmp_path: Path) -> None:
    store = tmp_path / "store"
    song, other = write(tmp_path / "a.json", body("A", solo=True)), write(tmp_path / "b.json", body("B", solo=True))
    keep(store, song)
    only = Asked(audio=False, only=("no-feedback-loop",))
    for path in (song, other):
        keep(store, path, asked=only, only={"no-feedback-loop"})
    made = surveyed(store, "--as", "json")
    assert [one["outcome"] for one in made["sessions"]] == ["held"]
    assert (made["partial"], made["reviews"]) == (1, 3)
    assert "1 was only ever reviewed in part" in surveyed(store)


def signed_line(rule: str, name: str, by: str, until: str) -> list[str]:
    return [rule, "--on", name, "--because", "meant so", "--by", by, "--until", until, "--no-audio"]


@pytest.mark.slow
def test_what_is_signed_by_whom_and_lapses_soon(tmp_path: Path) -> None:
    song, store = write(tmp_path / "a.json", body("A", solo=True, wet=50.0)), tmp_path / "store"
    today = date.today()
    soon, later = (str(today + timedelta(days=days)) for days in (5, 40))
    for words in (
        signed_line("nothing-soloed", "Lead Vocal", "RM", soon),
        signed_line("return-fully-wet", "Hall", "LK", later),
    ):
        done = CliRunner().invoke(app, ["sign", str(song), *words])
        assert done.exit_code == 0, done.stderr
    (review,) = keep(store, song)
    assert review.outcome == "clear"
    made = surveyed(store, "--as", "json")
    assert [(one["rule"], one["by"], one["until"], one["days"]) for one in made["signed"]] == [
        ("nothing-soloed", ["RM"], soon, 5), ("return-fully-wet", ["LK"], later, 40),
    ]  # fmt: skip
    assert [one["rule"] for one in made["lapsing"]] == ["nothing-soloed"]
    assert [one["rule"] for one in surveyed(store, "--as", "json", "--lapse-within", 40)["lapsing"]] == [
        "nothing-soloed", "return-fully-wet",
    ]  # fmt: skip
    assert [(one["by"], one["rows"], one["would_hold"]) for one in made["signers"]] == [("LK", 1, 1), ("RM", 1, 1)]
    by_finding = {f.rule: f.signature for f in review.findings if f.verdict == "signed"}
    rows = (
        Archive(store).ask("SELECT rule, signers, day, because, scope, file FROM signed WHERE state = 'in force'").rows
    )
    assert {row[0]: row[1:] for row in rows} == {
        rule: (list(one.by), one.on, one.because, one.scope, one.file) for rule, one in by_finding.items() if one
    }
    # the level rises: the sign-off of the return lapses, and the survey says so
    write(song, body("A", solo=True, wet=20.0))
    keep(store, song)
    made = surveyed(store, "--as", "json")
    assert [(one["rule"], one["state"]) for one in made["sign_notes"]] == [("return-fully-wet", "lapsed")]
    assert [one["rule"] for one in made["signed"]] == ["nothing-soloed"]


@pytest.mark.parametrize("width", [40, 60, 100, 140])
def test_text_fits_into_its_width_and_says_all(
    width: int, archive: tuple[Path, list[dict[str, Any]]], monkeypatch: pytest.MonkeyPatch
) -> None:
    store, _ = archive
    monkeypatch.setenv("COLUMNS", str(width))
    text = surveyed(store, "--what-if", "return-fully-wet.dry_db=0")
    assert max(map(len, text.splitlines())) <= width
    said = " ".join(text.split())
    for one in ("rules that fire most", "sessions that are held", "per engineer", "per client", "not given"):
        assert one in said


def test_each_form_says_the_same(archive: tuple[Path, list[dict[str, Any]]]) -> None:
    store, _ = archive
    words = ("--what-if", "return-fully-wet.dry_db=0")
    made = surveyed(store, *words, "--as", "json")
    tables = {form: surveyed(store, *words, "--as", form) for form in ("csv", "tsv")}
    rows = {
        form: [*csv.reader(io.StringIO(text), delimiter="\t" if form == "tsv" else ",")]
        for form, text in tables.items()
    }
    assert rows["csv"] == rows["tsv"]
    assert rows["csv"][0] == ["mixlint-survey/1", made["day"]]
    for one in made["rules"]:
        mine = next(row for row in rows["csv"] if row[:1] == [one["rule"]])
        assert mine[1:3] == [str(one["rows"]), str(one["hold"])]
    page = surveyed(store, *words, "--as", "html")
    tree = html.document_fromstring(page)
    headings = [one.text_content() for one in tree.iter("h2")]
    assert headings[:2] == ["What fires most", "Reviews, month by month"]
    assert "Rules that fire most, and since when" in headings
    assert not tree.xpath("//script | //@src | //link | //img")
    assert len({one.get("id") for one in tree.iter("figure")}) == len([*tree.iter("figure")]) >= 4
    for figure in tree.iter("figure"):
        assert figure.findtext("figcaption")
        assert figure.find(".//svg").get("aria-label") == figure.findtext("figcaption")
        assert len(figure.findall(".//details//tbody/tr")) >= 1
    words_of = tree.xpath("//figure[h2='What fires most']//details//tbody/tr")
    assert [[cell.text_content() for cell in row] for row in words_of] == [
        [one["rule"], str(one["hold"]), str(one["look"]), str(one["note"]), str(one["rows"])] for one in made["rules"]
    ]
    assert set(result_forms("survey")) == {"text", "json", "html", "csv", "tsv"}


def test_a_survey_is_written_again_over_its_own(archive: tuple[Path, list[dict[str, Any]]], tmp_path: Path) -> None:
    store, _ = archive
    for form in result_forms("survey"):
        out = tmp_path / f"out.{form}"
        for _ in range(2):
            surveyed(store, f"--as={form}", "--out", out)
    (tmp_path / "mine.csv").write_text("rule,rows\n")
    done = CliRunner().invoke(app, ["survey", str(store), "--as", "csv", "--out", str(tmp_path / "mine.csv")])
    assert done.exit_code == 2


READ_ONLY = (
    "COPY findings TO '{out}'", "SELECT * FROM read_csv('{file}')", "SELECT * FROM '{file}'",
    "SELECT * FROM read_text('{file}')", "SELECT * FROM glob('{folder}/*')",
    "ATTACH '{out}'", "CREATE TABLE x AS SELECT 1", "DROP VIEW findings",
    "INSTALL httpfs", "LOAD httpfs", "SET enable_external_access = true", "RESET lock_configuration", "PRAGMA version",
    "SELECT 1; SELECT 2", "", "DELETE FROM findings", "SELECT * FROM tmp_path", "EXPORT DATABASE '{out}'",
    "CALL pragma_version()",
    "SELECT * FROM read_parquet('{folder}/findings/*/*.parquet')",
)  # fmt: skip


@pytest.mark.parametrize("query", READ_ONLY)
def test_a_query_reads_the_views_and_nothing_else(query: str, tmp_path: Path) -> None:
    store, out = tmp_path / "store", tmp_path / "out"
    keep(store, write(tmp_path / "a.json", body("A")))
    secret = tmp_path / "secret.csv"
    secret.write_text("a\nxyzzy\n")
    before = {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}
    words = query.format(out=out, file=secret, folder=store)
    done = CliRunner().invoke(app, ["survey", str(store), "--sql", words])
    assert (done.exit_code, done.stdout) == (2, ""), done.stdout
    assert done.stderr.startswith("mixlint: --sql: ")
    assert "xyzzy" not in done.stderr
    assert {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()} == before


def test_a_query_has_the_forms_of_a_table(archive: tuple[Path, list[dict[str, Any]]]) -> None:
    store, _ = archive
    query = "SELECT title, outcome, flagged, done, [flagged] AS l FROM latest ORDER BY title"
    made = surveyed(store, "--sql", query, "--as", "json")
    assert made["format"] == "mixlint-query/1"
    assert [one["name"] for one in made["columns"]] == ["title", "outcome", "flagged", "done", "l"]
    assert [row[0] for row in made["rows"]] == ["A", "B", "C", "D", "E"]
    assert made["rows"][0][3].startswith("2026-05-05T")
    table = [*csv.reader(io.StringIO(surveyed(store, "--sql", query, "--as", "csv")))]
    assert table[0] == ["title", "outcome", "flagged", "done", "l"]
    assert [row[:3] for row in table[1:]] == [[a, b, str(c)] for a, b, c, *_ in made["rows"]]
    assert "title" in surveyed(store, "--sql", query)
    assert surveyed(store, "--sql", "SELECT 1 WHERE false").strip()
    assert surveyed(store, "--sql", "SHOW TABLES")
    assert surveyed(store, "--sql", "DESCRIBE facts")
    assert surveyed(store, "--sql", "PIVOT findings ON verdict USING count(*) GROUP BY rule")
    done = CliRunner().invoke(app, ["survey", str(store), "--sql", query, "--as", "html"])
    assert done.exit_code == 2


def test_the_day_is_that_of_the_survey(tmp_path: Path) -> None:
    store = tmp_path / "store"
    keep(store, write(tmp_path / "a.json", body("A")))
    made = survey(Archive(store), version="0", store="s", day=date(2030, 2, 3), lapse_within=3)
    assert (made.day, made.lapse_within, made.store) == ("2030-02-03", 3, "s")
