"""Stores by strangers: damaged and foreign files, links, newer forms, names that programs would obey."""

from __future__ import annotations

import csv
import io
import json
import random
import sys
from pathlib import Path
from typing import Any

import pyarrow as pa
import pyarrow.parquet as pq
import pytest
from lxml import html
from typer.testing import CliRunner

from mixlint.cli.app import app
from mixlint.reports.forms import result_forms
from mixlint.store.columns import KINDS, file_name
from tests.links import link
from tests.store.stores import TOP, body, files, keep, write

sys.path.insert(0, str(TOP / "tests" / "reports"))
from hostile import faults, name, session_body


def surveyed(*words: object) -> Any:
    return CliRunner().invoke(app, ["survey", *map(str, words)])


@pytest.fixture
def store(tmp_path: Path) -> Path:
    """Two runs over two sessions; the first of them is soloed."""
    songs = [write(tmp_path / f"{n}.json", body(f"Song {n}", solo=n == 0)) for n in range(2)]
    keep(tmp_path / "store", *songs)
    keep(tmp_path / "store", *songs)
    return tmp_path / "store"


def forged(table: pa.Table, folder: Path, number: int) -> Path:
    """A file as a stranger who knows the form can make it: its name fits its content."""
    folder.mkdir(parents=True, exist_ok=True)
    made = folder / "made"
    pq.write_table(table, made)
    name = file_name(f"20260101T000000Z-0123456789abcdef-{number:04d}", made.read_bytes())
    return made.rename(folder / name)


def left_out(store: Path, *more: str) -> dict[str, str]:
    """The files that a survey tells of."""
    done = surveyed(store, "--as", "json", *more)
    assert done.exit_code == 0, done.stderr
    return {one["file"]: one["why"] for one in json.loads(done.stdout)["left_out"]}


@pytest.mark.parametrize("damage", ["empty", "cut", "text", "head", "tail"])
def test_a_damaged_file_is_told_and_left_out(damage: str, store: Path) -> None:
    path = files(store, "findings")[0]
    data = path.read_bytes()
    path.write_bytes(
        {
            "empty": b"",
            "cut": data[: len(data) // 2],
            "text": b"not parquet at all",
            "head": b"\0" * 64 + data[64:],
            "tail": data[:-40] + b"\xff" * 36 + data[-4:],
        }[damage]
    )
    told = left_out(store)
    assert list(told) == [str(path.relative_to(store))]
    assert told[str(path.relative_to(store))].startswith("it is damaged")
    text = surveyed(store)
    assert "files that were left out" in text.stdout
    query = surveyed(store, "--sql", "SELECT count(*) AS n FROM findings")
    assert query.exit_code == 0
    assert path.name in query.stderr


def test_flipped_bits_never_show_a_traceback_nor_a_wrong_value(store: Path) -> None:
    """Pages bear checksums: what is read is what was written, or the file is told."""
    path = files(store, "judged")[0]
    data = path.read_bytes()
    query = "SELECT rule, verdict, count(*) FROM judged GROUP BY ALL ORDER BY ALL"
    whole = surveyed(store, "--sql", query, "--as", "csv").stdout
    rows = [line.rpartition(",") for line in whole.splitlines()]
    half = "".join(f"{a},{int(n) // 2 if n.isdigit() else n}\n" for a, _, n in rows)
    chance = random.Random(3)
    for _ in range(20):
        place = chance.randrange(len(data))
        path.write_bytes(data[:place] + bytes([data[place] ^ 1 << chance.randrange(8)]) + data[place + 1 :])
        done = surveyed(store, "--sql", query, "--as", "csv")
        assert done.exception is None or isinstance(done.exception, SystemExit), (place, done.exception)
        assert done.exit_code == 0, (place, done.stderr)
        assert done.stdout == half, place
        assert path.name in done.stderr


def test_a_forged_file_with_damaged_pages_is_told_and_left_out(store: Path) -> None:
    """Its name fits its content, its end reads well, and its pages do not."""
    path = files(store, "findings")[0]
    data = path.read_bytes()
    broken = data[:8] + b"\xff" * 200 + data[208:]
    path.with_name(file_name("20260101T000000Z-0123456789abcdef-0001", broken)).write_bytes(broken)
    ((told, why),) = left_out(store).items()
    assert "20260101T000000Z" in told
    assert why.startswith("it is damaged")


def test_files_of_others_and_links_are_told_and_left_out(store: Path, tmp_path: Path) -> None:
    month = files(store, "sessions")[0].parent
    (month / "notes.txt").write_text("x")
    (month / ".hidden").write_text("x")
    one = forged(pa.table({"session": ["x"]}), month, 1)
    two = forged(pq.read_table(files(store, "findings")[0]), month, 2)
    named = "20260101T000000Z-0123456789abcdef-0003-0123456789abcdef.parquet"
    link(month / named, files(store, "sessions")[0])
    (store / "sessions" / "elsewhere").mkdir()
    (store / "runs" / "2026-01").mkdir()
    (store / "runs" / "2026-01" / named).mkdir()
    told = left_out(store)
    place = f"sessions/{month.name}"
    assert told == {
        f"{place}/notes.txt": "it is none of a store",
        f"{place}/{one.name}": "it holds other columns than sessions of this form",
        f"{place}/{two.name}": "it holds other columns than sessions of this form",
        f"{place}/{named}": "it is a link",
        "sessions/elsewhere": "it is none of a store",
        f"runs/2026-01/{named}": "it is none of a store",
    }


def test_a_store_of_a_newer_form_is_refused_with_a_word(store: Path) -> None:
    path = files(store, "findings")[0]
    table = pq.read_table(path)
    marks = {**(table.schema.metadata or {}), b"mixlint-store": b"2"}
    forged(table.replace_schema_metadata(marks), path.parent, 1)
    done = surveyed(store)
    assert (done.exit_code, done.stdout) == (2, "")
    assert "mixlint-store/2" in done.stderr
    assert "use a newer mixlint" in done.stderr.casefold()
    (store / "mixlint-store.json").write_text('{"format": "mixlint-store/7"}\n')
    assert "mixlint-store/7" in surveyed(store).stderr


@pytest.mark.parametrize("what", ["absent", "file", "empty"])
def test_what_is_no_store_is_told(what: str, tmp_path: Path) -> None:
    place = tmp_path / "place"
    if what == "file":
        place.write_text("x")
    elif what == "empty":
        place.mkdir()
    done = surveyed(place)
    assert (done.exit_code, done.stdout) == (2, "")
    assert "no store of reviews" in done.stderr


def test_a_store_without_a_review_is_surveyed(tmp_path: Path) -> None:
    place = tmp_path / "place"
    place.mkdir()
    (place / "mixlint-store.json").write_text('{"format": "mixlint-store/1"}\n')
    for form in result_forms("survey"):
        assert surveyed(place, "--as", form).exit_code == 0
    assert "none yet" in surveyed(place).stdout


FORGED: dict[str, Any] = {
    "text": name(1), "number": float("nan"), "whole": -(2**62), "truth": None, "moment": None,
    "texts": [name(2), None], "wholes": [-1, 2**40],
}  # fmt: skip


@pytest.mark.parametrize("kind", KINDS)
def test_rows_that_no_run_wrote_show_no_traceback(kind: str, store: Path) -> None:
    """Every value of the right type and none of it sensible, in the very sessions that are there."""
    session = pq.read_table(files(store, "sessions")[0]).to_pylist()[0]
    known = {"session": session["session"], "rule": "nothing-soloed", "run": session["run"], "place": session["place"],
             "standard_digest": session["standard_digest"], "fact": "soloed", "whole": True,
             "outcome": "held", "grade": "hold", "verdict": "flagged", "state": "in force"}  # fmt: skip
    row = {one.name: known.get(one.name, FORGED[one.type]) for one in KINDS[kind].columns}
    bare = {one.name: known.get(one.name) for one in KINDS[kind].columns}
    table = pa.Table.from_pylist([row, bare], schema=KINDS[kind].schema())
    forged(table, store / kind / "2026-01", 1)
    for more in ((), ("--what-if", "return-fully-wet.dry_db=-3"), ("--as", "html"), ("--as", "json")):
        done = surveyed(store, *more)
        assert done.exception is None or isinstance(done.exception, SystemExit), done.exception
        assert done.exit_code in (0, 2)
        assert not faults(done.stdout, markup="html" in more), done.stdout
        assert not faults(done.stderr)


@pytest.mark.slow
def test_no_form_holds_what_a_program_obeys(tmp_path: Path) -> None:
    song = write(tmp_path / "::set-output name=f::x ##[y] \u202e.json", session_body())
    keep(tmp_path / "::store ##[x]", song)
    store = tmp_path / "::store ##[x]"
    (song.parent / f"{song.name.removesuffix('.json')}.signed.txt").unlink(missing_ok=True)
    numbers = []
    for words in (
        (),
        ("--what-if", "return-fully-wet.dry_db=-3"),
        ("--sql", "SELECT * FROM findings"),
        ("--sql", "SELECT '=1+1' AS \"=2+2\", name, '::x' AS \"##[y]\", [name] AS l, {'=k': name} AS s FROM findings"),
    ):
        for form in result_forms("survey"):
            if "--sql" in words and form == "html":
                continue
            done = surveyed(store, *words, "--as", form)
            assert done.exit_code == 0, done.stderr
            assert done.stdout
            spreadsheet = form in ("csv", "tsv")
            assert not faults(done.stdout, markup=form == "html", spreadsheet=spreadsheet), (words, form)
            if form == "json":
                json.loads(done.stdout)
            elif form == "html":
                page = html.document_fromstring(done.stdout)
                assert not page.xpath("//img | //iframe | //script | //@*[starts-with(name(), 'on')]")
            elif spreadsheet:
                for sign in ({"csv": ",", "tsv": "\t"}[form], ";"):
                    cells = [one for row in csv.reader(io.StringIO(done.stdout), delimiter=sign) for one in row]
                    run = [one for one in cells if one.startswith(("=", "+", "-", "@", "\t", "\r", "＝"))]
                    numbers += [one for one in run if not one.lstrip("-").replace(".", "").isdigit()]
    assert numbers == []
    for words in (
        ("--what-if", f"{name(3)}.x=1"),
        ("--what-if", name(4)),
        ("--sql", name(5)),
        ("--sql", "SELECT ''::x"),
    ):
        done = surveyed(store, *words)
        assert done.exit_code == 2
        assert done.stderr
        assert not faults(done.stderr), done.stderr
