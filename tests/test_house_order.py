"""The order of the house: layers, types, formatting, and the promises README makes. One command runs it all."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

TOP = Path(__file__).resolve().parents[1]


def run(*command: str) -> None:
    """Run a tool of this environment from the top of the checkout; its output is the failure message."""
    done = subprocess.run(
        [sys.executable, "-m", *command], cwd=TOP, capture_output=True, text=True, timeout=300, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr


def test_layers_hold():
    """Every room imports only from rooms below it, and every room has its place (import-linter, exhaustive)."""
    code = "from importlinter.cli import lint_imports_command; lint_imports_command()"
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=TOP, capture_output=True, text=True, timeout=300, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.mark.slow
def test_types_hold():
    run("mypy")


@pytest.mark.parametrize("path", sorted((TOP / "tests" / "benchmarks").glob("bench_*.py")), ids=lambda path: path.stem)
def test_benchmarks_start(path: Path):
    """Nobody runs them every day; what they call must still be there."""
    run(f"tests.benchmarks.{path.stem}", "--help")


def test_code_is_formatted():
    run("ruff", "format", "--check", ".")


def test_code_is_linted():
    run("ruff", "check", ".")


def test_files_stay_short():
    """A file of the package holds one subject, and stays under 500 lines."""
    long = {
        str(path.relative_to(TOP)): lines
        for path in (TOP / "mixlint").rglob("*.py")
        if (lines := len(path.read_text(encoding="utf-8").splitlines())) > 500
    }
    assert not long


def test_every_room_says_what_it_is_for():
    for init in (TOP / "mixlint").glob("*/__init__.py"):
        text = init.read_text(encoding="utf-8")
        assert text.startswith('"""'), f"{init} has no docstring"


def test_ci_runs_the_test_command_of_readme():
    commands = re.findall(r"^python3 -m venv .*$", (TOP / "README.md").read_text(encoding="utf-8"), re.MULTILINE)
    assert len(commands) == 2, "README gives two commands: one runs the main job, one passes the tests"
    assert commands[1] in (TOP / ".ci" / "run").read_text(encoding="utf-8").splitlines()


def test_dependencies_stay_within_the_budget():
    """At most seven direct dependencies, and scipy is none of them."""
    project = tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    names = [re.split(r"[<>=\[;]", d)[0] for d in project["dependencies"]]
    assert len(names) <= 7
    assert "scipy" not in names


@pytest.mark.skipif(os.name == "nt", reason="the executable bit is a POSIX matter")
def test_ci_script_can_be_executed():
    assert os.access(TOP / ".ci" / "run", os.X_OK)
