"""A form of output is declared once: its own file and one row, and the command line knows it."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from importlib import import_module
from pathlib import Path

import pytest

from mixlint.reports.forms import LIST_FORMS, RESULT_FORMS, REVIEW_FORMS, result_forms

TOP = Path(__file__).resolve().parents[2]
SONG = TOP / "example_sessions" / "voice-and-one-guitar.session.json"
CHANNEL = "Lead Vocal"

ADDED = """
from mixlint.reports import forms
forms.REVIEW_FORMS["tally"] = forms.ReviewForm(
    "tally", "tests.reports.tally", "how many rows have each verdict",
    exact={exact}, quiet_rows={quiet}, pictures={drawn},
)
forms.RESULT_FORMS["size"] = forms.ResultForm(
    "size", "how long the text is", lambda made: f"{{len(made.as_text(made.page))}} {{made.result.format}}\\n"
)
from mixlint.cli import main
main()
"""


def run(
    *arguments: object, exact: bool = True, quiet: bool = False, drawn: bool = False, encoding: str = "ascii"
) -> tuple[int, bytes]:
    """The command line with one row more in each table, in a process of its own."""
    code = ADDED.format(exact=exact, quiet=quiet, drawn=drawn)
    done = subprocess.run(
        [sys.executable, "-c", code, *map(str, arguments)],
        cwd=TOP,
        env={**os.environ, "PYTHONIOENCODING": encoding, "MIXLINT_CACHE": ""},
        capture_output=True,
        check=False,
        timeout=120,
    )
    assert b"Traceback" not in done.stderr, done.stderr.decode()
    return done.returncode, done.stdout


@pytest.mark.slow
def test_a_new_form_is_had_by_its_name() -> None:
    """It gets the findings without clear and idle rows, the rules, and no picture."""
    status, said = run("review", SONG, "--as", "tally")
    lines = said.decode("utf-8").splitlines()
    counts = json.loads(run("review", SONG, "--as", "json")[1])["sessions"][0]["counts"]
    assert status == 0
    assert f"clear {counts['clear']}" not in lines
    assert ("pictures 0" in lines, lines[-1]) == (True, "größer")
    assert f"open {counts['open']}" in lines


@pytest.mark.slow
def test_a_new_form_is_given_what_its_row_wants() -> None:
    """Clear and idle rows, and a picture of each session; not exact, it is written as the stream can carry it."""
    lines = run("review", SONG, "--as", "tally", exact=False, quiet=True, drawn=True)[1].decode("ascii").splitlines()
    counts = json.loads(run("review", SONG, "--as", "json")[1])["sessions"][0]["counts"]
    assert {f"clear {counts['clear']}", f"idle {counts['idle']}", "pictures 1"} <= set(lines)
    assert lines[-1] == "gr??er"


def test_a_new_form_stands_in_the_help() -> None:
    said = " ".join(run("review", "--help")[1].decode().split())
    assert "tally: how many rows have each verdict." in said
    assert "|tally>" in said


@pytest.mark.slow
@pytest.mark.parametrize(
    ("command", "form"),
    [
        (["sheet", SONG], "mixlint-sheet/1"),
        (["trace", SONG, CHANNEL], "mixlint-trace/1"),
        (["rules"], "mixlint-rules/1"),
        (["facts", "return"], "mixlint-facts/1"),
        (["compare", SONG, SONG, "--no-audio"], "mixlint-compare/1"),
    ],
)
def test_a_new_form_of_results_is_had_from_every_other_command(command: list[object], form: str) -> None:
    status, said = run(*command, "--as", "size")
    length, told = said.decode().split()
    assert (status, told) == (0, form)
    assert int(length) == len(run(*command, encoding="utf-8")[1].decode("utf-8"))


def test_every_row_names_a_module_that_writes() -> None:
    for name, form in REVIEW_FORMS.items():
        assert form.name == name
        assert callable(import_module(form.module).write)
        assert form.says
        assert not form.says.endswith(".")
    assert set(RESULT_FORMS) <= {*REVIEW_FORMS, *LIST_FORMS}


@pytest.mark.slow
def test_a_form_of_one_command_is_offered_by_no_other() -> None:
    """``html`` is a form of comparisons; the other commands refuse it, and their help does not name it."""
    assert "html" in result_forms("compare")
    for command, given in (("sheet", [SONG]), ("trace", [SONG, CHANNEL]), ("rules", []), ("facts", ["return"])):
        assert "html" not in result_forms(command)
        assert run(command, *given, "--as", "html") == (2, b"")
        assert b"html" not in run(command, "--help")[1]


def test_the_names_are_known_without_what_writes() -> None:
    """The choices of ``--as`` cost nothing: none of the writers, and nothing they need, is imported for them."""
    code = (
        "import sys, mixlint.reports.forms; print([m for m in sys.modules if m.startswith(('mixlint.', 'pydantic'))])"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=TOP, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "['mixlint.reports', 'mixlint.reports.forms']"
