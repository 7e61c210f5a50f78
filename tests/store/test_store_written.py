"""What a run adds to a store, read back by pyarrow and by DuckDB alone and held against the JSON of the same review."""

from __future__ import annotations

import json
import re
import tomllib
from contextlib import chdir
from math import log10
from pathlib import Path
from typing import Any

import duckdb
import pyarrow as pa
import pyarrow.parquet as pq
import pytest
from typer.testing import CliRunner

from mixlint.cli.app import app
from mixlint.reports.forms import REVIEW_FORMS
from mixlint.store.columns import KINDS
from tests.store.stores import FLAWED, TOP, body, files, keep, kept_of, write

COMMON = ("rule", "area", "grade", "grade_because", "verdict", "message", "remedy", "question", "fingerprint", "cause")


def reviewed(*words: object) -> Any:
    return CliRunner().invoke(app, ["review", *map(str, words)])


def whole(store: Path, kind: str) -> list[dict[str, Any]]:
    """The rows of a kind, as pyarrow reads them."""
    return [row for path in files(store, kind) for row in pq.read_table(path).to_pylist()]


@pytest.mark.slow
def test_findings_are_those_of_the_report(tmp_path: Path) -> None:
    """By two readers that know nothing of mixlint: every value of every finding, and every count."""
    store = tmp_path / "store"
    done = reviewed(FLAWED, "--no-audio", "--standard", "pre-bounce", "--as", "json", "--store", store)
    assert done.exit_code == 1, done.stderr
    (session,) = json.loads(done.stdout)["sessions"]
    said = [one for one in session["findings"] if one["verdict"] in ("flagged", "open", "signed")]
    rows = whole(store, "findings")
    assert len(rows) == len(said) > 10
    for number, (row, one) in enumerate(zip(rows, said, strict=True), start=1):
        assert [row[name] for name in COMMON] == [one[name] for name in COMMON]
        assert (row["number"], row["name"], row["of_table"]) == (
            number,
            one["subject"]["name"],
            one["subject"]["table"],
        )
        assert (row["rule_title"], row["found_at"]) == (one["title"], one["where"])
        assert json.loads(row["evidence"]) == one["evidence"]
        assert json.loads(row["reasons"]) == one["reasons"]
    (mine,) = whole(store, "sessions")
    counts = session["counts"]
    for name in ("title", "importer", "digest", "outcome", "standard"):
        assert mine[name] == session[name]
    assert mine["path"] == session["source"]
    for verdict in ("flagged", "open", "signed", "clear", "idle"):
        assert mine[verdict] == counts[verdict]
    for grade in ("hold", "look", "note"):
        assert mine[f"flagged_{grade}"] == counts["flagged_by_grade"][grade]
        assert mine[f"open_{grade}"] == counts["open_by_grade"][grade]
    counted = dict(
        duckdb.sql(
            f"SELECT verdict, count(*) FROM read_parquet('{store}/judged/*/*.parquet') GROUP BY verdict"
        ).fetchall()
    )
    empty = counts["idle"] - counted["idle"]  # a rule whose table has no rows is idle once, and judges none
    assert empty >= 0
    assert {**counted, "idle": counts["idle"]} == {v: counts[v] for v in ("flagged", "open", "clear", "idle")}


def test_facts_are_those_that_the_evidence_shows(tmp_path: Path) -> None:
    """Each value in the evidence of a finding is stored for that rule and row; a number to the sixth decimal."""
    store, song = tmp_path / "store", write(tmp_path / "lamp.json", body(wet=60.0, solo=True))
    (review,) = keep(store, song)
    facts = whole(store, "facts")
    checked = 0
    for finding in review.findings:
        for one in finding.evidence:
            rows = [
                f for f in facts if (f["rule"], f["name"], f["fact"]) == (finding.rule, finding.subject.name, one.fact)
            ]
            assert rows, (finding.rule, one.fact)
            for row in rows:
                kind = {bool: "truth", str: "text", float: "number", int: "number", tuple: "list"}[type(one.value)]
                assert (row["kind"], row["unit"], row["how"]) == (kind, one.unit, one.known)
                value = json.loads(row["text"]) if kind == "list" else row[kind]
                expected = list(one.value) if isinstance(one.value, tuple) else one.value
                assert value == (pytest.approx(expected, abs=1e-6) if kind == "number" else expected)
            checked += 1
    assert checked >= 5
    dry = next(f for f in facts if f["rule"] == "return-fully-wet" and f["fact"] == "dry_db" and f["limit_name"])
    assert (dry["limit_name"], dry["name"]) == ("dry_db", "Hall")
    assert dry["number"] == pytest.approx(20 * log10(40 / 60), abs=1e-6)  # dry over wet share, dB


def test_a_fact_that_is_not_known_is_stored_with_its_reason(tmp_path: Path) -> None:
    made = body()
    made["channels"][1]["inserts"][1].pop("wet")
    store = tmp_path / "store"
    (review,) = keep(store, write(tmp_path / "lamp.json", made))
    finding = next(one for one in review.findings if one.rule == "return-fully-wet")
    row = next(f for f in whole(store, "facts") if f["rule"] == finding.rule and f["fact"] == "dry_db")
    assert (row["kind"], row["number"], row["how"]) == ("unknown", None, None)
    assert row["unknown"] == finding.reasons[0].why


def test_rows_that_a_fact_leads_to_are_stored_with_what_was_asked_of_them(tmp_path: Path) -> None:
    (tmp_path / "mixlint-standard.toml").write_text('name = "led"\ntakes = []\nrules = ["verb-comes-last.toml"]\n')
    (tmp_path / "verb-comes-last.toml").write_text(
        'id = "verb-comes-last"\ntitle = "Few processors are wet"\narea = "ambience"\ngrade = "look"\n'
        'over = "channel"\n'
        'when = { kind = "return" }\n'
        'must = { inserts = { count = { at_most = "limits.most", of = { processor = "reverb" } } } }\n'
        'says = "{channel} has too many."\nremedy = "Take one out."\nwhy = "So."\n'
        '[limits.most]\nvalue = 0\nmeaning = "how many"\n[basis]\nkind = "common practice"\n'
    )
    store = tmp_path / "store"
    (review,) = keep(store, write(tmp_path / "lamp.json", body()))
    assert [one.verdict for one in review.findings] == ["flagged"]
    facts = whole(store, "facts")
    leads = next(f for f in facts if f["fact"] == "inserts")
    assert (leads["kind"], leads["limit_name"], len(leads["rows"])) == ("rows", "most", 2)
    asked = {f["row"]: f["text"] for f in facts if f["of_table"] == "insert" and f["fact"] == "processor"}
    assert [asked[row] for row in leads["rows"]] == ["equalizer", "reverb"]


@pytest.mark.parametrize("form", REVIEW_FORMS)
def test_no_form_changes_what_is_stored_nor_the_store_what_is_told(form: str, tmp_path: Path) -> None:
    """Output and status are the same with a store and without, for one session and for two."""
    song = write(tmp_path / "lamp.json", body(wet=50.0))
    store = tmp_path / "store"
    with chdir(tmp_path):
        plain = reviewed(song.name, "--no-audio", "--as", form)
        kept = reviewed(song.name, "--no-audio", "--as", form, "--store", store)
    assert (kept.exit_code, kept.stdout, kept.stderr) == (plain.exit_code, plain.stdout, plain.stderr)
    assert kept.exit_code == 1
    keep(tmp_path / "again", song)
    skipped = {"session", "run", "done", "begun", "place", "path"}
    for kind in KINDS:
        both = [
            [{n: v for n, v in row.items() if n not in skipped} for row in whole(s, kind)]
            for s in (store, tmp_path / "again")
        ]
        assert both[0] == both[1], kind


@pytest.mark.slow
def test_several_sessions_are_stored_by_one_run(tmp_path: Path) -> None:
    songs = [write(tmp_path / f"song {n}.json", body(f"Song {n}", solo=n == 1)) for n in range(3)]
    bad = tmp_path / "broken.json"
    bad.write_text('{"format": "mixlint-session/1", ')
    store = tmp_path / "store"
    done = reviewed(*songs, bad, "--no-audio", "--as", "line", "--store", store)
    assert done.exit_code == 2
    sessions = whole(store, "sessions")
    assert [(one["title"], one["outcome"]) for one in sessions] == [
        ("Song 0", "clear"), ("Song 1", "held"), ("Song 2", "clear"),
    ]  # fmt: skip
    (run,) = whole(store, "runs")
    assert {one["run"] for one in sessions} == {run["run"]}
    assert len({one["place"] for one in sessions}) == len({one["session"] for one in sessions}) == 3
    assert len(files(store, "sessions")) == 1
    keep(store, songs[0])
    assert len(whole(store, "sessions")) == 4
    assert len({one["place"] for one in whole(store, "sessions")}) == 3  # the first is the same again
    assert len(files(store, "rules")) == 1  # one standard, whatever the runs


def test_columns_are_as_declared_and_names_can_be_asked_bare(tmp_path: Path) -> None:
    """The declared form is what pyarrow finds; no column needs quotation marks in DuckDB."""
    store = tmp_path / "store"
    keep(store, write(tmp_path / "lamp.json", body(solo=True)))
    signless = {"signed"}
    for kind in KINDS.values():
        for path in files(store, kind.name) or ([] if kind.name in signless else [store]):
            schema = pq.read_schema(path)
            assert schema.names == [one.name for one in kind.columns]
            assert schema.metadata[b"mixlint-store"] == b"1"
            assert schema.metadata[b"mixlint-kind"] == kind.name.encode()
        table = kind.schema().empty_table()
        with duckdb.connect() as connection:
            connection.register("asked", table)
            for one in kind.columns:
                connection.execute(f"SELECT {one.name} FROM asked WHERE {one.name} IS NULL ORDER BY {one.name} DESC")


def test_nothing_in_a_store_names_a_machine_or_a_user(tmp_path: Path) -> None:
    import getpass
    import socket

    store = tmp_path / "store"
    song = write(tmp_path / "lamp.json", body())
    with chdir(tmp_path):
        keep(store, Path(song.name))
    names = [str(path.relative_to(store)) for path in store.rglob("*") if path.is_file()]
    pattern = r"[a-z]+/(\d{4}-\d\d|[0-9a-f]{2})/(\d{8}T\d{6}Z-[0-9a-f]{16}-\d{4}|[0-9a-f]{32})-[0-9a-f]{16}\.parquet"
    assert all(re.fullmatch(pattern, one) or one == "mixlint-store.json" for one in names)
    texts = [str(row) for kind in ("runs", "sessions") for row in whole(store, kind)]
    assert not any(
        said in text for text in texts for said in (socket.gethostname(), str(tmp_path), f"'{getpass.getuser()}'")
    )


def test_engineer_and_client_come_from_the_option_the_export_or_the_standard(tmp_path: Path) -> None:
    house = tmp_path / "mixlint-standard.toml"
    songs = {
        "none": write(tmp_path / "none.json", body()),
        "export": write(tmp_path / "export.json", body(metadata={"Engineer": "Ada Marsh", "Artist": "The Terns"})),
    }
    store = tmp_path / "store"
    assert reviewed(songs["none"], "--no-audio", "--store", store).exit_code == 0
    house.write_text(f'{house.read_text()}[archive]\nengineer = "Bo Reed"\nclient = "Larkspur"\n')
    assert reviewed(songs["none"], "--no-audio", "--store", store).exit_code == 0
    assert reviewed(songs["export"], "--no-audio", "--store", store).exit_code == 0
    assert reviewed(songs["export"], "--no-audio", "--store", store, "--engineer", "Cy  Holm").exit_code == 0
    said = [(one["engineer"], one["client"]) for one in sorted(whole(store, "sessions"), key=lambda one: one["done"])]
    assert said == [(None, None), ("Bo Reed", "Larkspur"), ("Ada Marsh", "Larkspur"), ("Cy Holm", "Larkspur")]
    alone = reviewed(songs["none"], "--no-audio", "--client", "X")
    assert alone.exit_code == 2
    assert "--store" in alone.stderr


def test_a_part_of_the_checklist_is_no_whole_review(tmp_path: Path) -> None:
    song, store = write(tmp_path / "lamp.json", body(solo=True)), tmp_path / "store"
    earlier = tmp_path / "earlier.json"
    earlier.write_text(reviewed(song, "--no-audio", "--as", "json").stdout)
    for more in ([], ["--only", "nothing-soloed"], ["--area", "ambience"], ["--leave-out", "nothing-soloed"],
                 ["--baseline", earlier]):  # fmt: skip
        reviewed(song, "--no-audio", "--store", store, *more)
    rows = sorted(whole(store, "sessions"), key=lambda one: one["done"])
    assert [one["whole"] for one in rows] == [True, False, False, True, False]
    assert [one["baseline"] is not None for one in rows] == [False] * 4 + [True]


def test_the_missing_extra_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("mixlint.store.extra.find_spec", lambda name: None if name == "duckdb" else object())
    for words in (["review", str(write(tmp_path / "lamp.json", body())), "--store", "x"], ["survey", "x"]):
        done = CliRunner().invoke(app, words)
        assert (done.exit_code, done.stdout) == (2, "")
        assert 'pip install "mixlint[store]"' in done.stderr
        assert "duckdb" in done.stderr
    extras = tomllib.loads((TOP / "pyproject.toml").read_text())["project"]["optional-dependencies"]["store"]
    assert [re.split(r"[>=]", one)[0] for one in extras] == ["pyarrow", "duckdb"]


@pytest.mark.parametrize("where", ["file", "other", "newer", "mark"])
def test_what_is_no_store_is_refused_before_anything_is_reviewed(where: str, tmp_path: Path) -> None:
    song, store = write(tmp_path / "lamp.json", body()), tmp_path / "store"
    if where == "file":
        store.write_text("x")
    else:
        store.mkdir()
        name, text = {
            "other": ("notes.txt", "x"),
            "newer": ("mixlint-store.json", '{"format": "mixlint-store/2"}'),
            "mark": ("mixlint-store.json", "{"),
        }[where]
        (store / name).write_text(text)
    before = sorted(tmp_path.rglob("*"))
    done = reviewed(song, "--no-audio", "--store", store)
    assert (done.exit_code, done.stdout) == (2, "")
    said = {"file": "no folder", "other": "something else", "newer": "mixlint-store/2", "mark": "damaged"}[where]
    assert said in done.stderr
    assert sorted(tmp_path.rglob("*")) == before


def test_a_store_that_cannot_be_written_loses_no_review(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The report is what it is without a store; the status is one of its own."""
    song, store = write(tmp_path / "lamp.json", body(solo=True)), tmp_path / "store"
    plain = reviewed(song, "--no-audio", "--as", "json")

    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("pyarrow.parquet.write_table", full)
    done = reviewed(song, "--no-audio", "--as", "json", "--store", store)
    assert done.exit_code == 3
    assert done.stdout == plain.stdout
    assert "the reviews are told, and could not be stored" in done.stderr
    assert "No space left" in done.stderr
    assert not [path for path in store.rglob("*") if path.suffix in (".parquet", ".tmp")]


def test_a_review_that_cannot_be_kept_is_told_and_costs_no_other(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A fault of ours, or of Arrow, in what is kept of one session: its report is told, and the others are stored."""
    from mixlint.runs import storing

    songs = [write(tmp_path / f"{n}.json", body(f"Song {n}")) for n in range(2)]
    real, store = storing.judged_columns, tmp_path / "store"

    def first_fails(session: str, kept: Any) -> Any:
        found = dict(real(session, kept))
        return found | {"row": ["no number"] * len(found["row"])} if session.endswith("000001") else found

    monkeypatch.setattr(storing, "judged_columns", first_fails)
    done = reviewed(*songs, "--no-audio", "--as", "line", "--store", store)
    assert done.exit_code == 3
    assert [line.split("\t")[3] for line in done.stdout.splitlines() if "\toutcome\t" in line] == ["Song 0", "Song 1"]
    assert "its review cannot be kept" in done.stderr
    assert [one["title"] for one in whole(store, "sessions")] == ["Song 1"]


def test_what_could_not_be_written_is_written_later(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from mixlint.rulebook import load_standard
    from mixlint.runs.check import check
    from mixlint.runs.storing import Asked, Storing

    song, store = write(tmp_path / "lamp.json", body()), tmp_path / "store"
    storing = Storing(store, Asked())
    standard = load_standard(None, song)
    made = check(song, standard=standard, keep=True)
    storing.add(song, made.result, kept_of(made), standard)
    with monkeypatch.context() as broken:
        real, calls = pq.write_table, []

        def third_fails(table: pa.Table, *more: Any, **named: Any) -> None:
            calls.append(table)
            if len(calls) == 3:
                raise OSError(5, "Input/output error")
            real(table, *more, **named)

        broken.setattr("pyarrow.parquet.write_table", third_fails)
        storing.write()
    assert storing.fault is not None
    assert not files(store, "sessions")
    storing.write()
    assert storing.fault is None
    assert [len(files(store, kind)) for kind in ("rules", "facts", "judged", "runs", "sessions")] == [1] * 5
    assert len(whole(store, "facts")) == len({str(row) for row in whole(store, "facts")})


@pytest.mark.slow
def test_a_run_with_a_store_recalls_no_review_that_has_no_facts(tmp_path: Path) -> None:
    """What is kept between runs holds no facts; each run with a store makes its reviews anew."""
    songs = [write(tmp_path / f"song {n}.json", body(f"Song {n}", solo=n == 1)) for n in range(2)]
    plain = [reviewed(*songs, "--no-audio", "--as", "json") for _ in range(2)]
    for number in (1, 2):
        done = reviewed(*songs, "--no-audio", "--as", "json", "--store", tmp_path / "store", "--jobs", "2")
        assert (done.exit_code, done.stdout) == (plain[1].exit_code, plain[1].stdout)
        facts = {row["session"] for row in whole(tmp_path / "store", "facts")}
        assert len(whole(tmp_path / "store", "sessions")) == len(facts) == 2 * number
    pages = tmp_path / "pages"
    done = reviewed(*songs, "--no-audio", "--as", "html", "--out", f"{pages}/", "--store", tmp_path / "other")
    assert done.exit_code == 1
    assert len(list(pages.glob("*.html"))) == 3
    assert [one["title"] for one in whole(tmp_path / "other", "sessions")] == ["Song 0", "Song 1"]
