"""What helps at the desk: ``-h``, exit statuses in the help, names completed by the shell, the man page."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from cli_sessions import Run
from typer.testing import CliRunner

from mixlint.cli.app import app
from mixlint.cli.statuses import STATUSES
from mixlint.rulebook import load_standard
from mixlint.rulebook.standard import shipped_standards
from tests.man_page import PAGE, man_page

TOP = Path(__file__).resolve().parents[2]


@pytest.mark.parametrize("command", ["", *STATUSES])
def test_the_short_help_is_the_long_one(command: str) -> None:
    short, long = (CliRunner().invoke(app, [*([command] if command else []), flag]) for flag in ("-h", "--help"))
    assert (short.exit_code, short.output) == (0, long.output)
    assert "-h, --help" in short.output
    if command:
        told = " ".join(short.output.partition("Exit status:")[2].split())
        for status, meaning in STATUSES[command]:
            assert f"{status} {meaning}" in told


def test_every_command_tells_its_exit_statuses() -> None:
    assert set(STATUSES) == {command.callback.__name__ for command in app.registered_commands if command.callback}


def completed(mixlint: Run, line: str, at: Path) -> list[str]:
    """What bash is offered at the end of a line, as the script of ``--show-completion`` asks for it."""
    env = {"COMP_WORDS": line, "COMP_CWORD": str(line.count(" ")), "_MIXLINT_COMPLETE": "complete_bash"}
    result = mixlint(env=env, cwd=at)
    assert (result.returncode, result.stderr) == (0, b"")
    return result.stdout.decode().split()


@pytest.mark.slow
def test_the_shell_completes_rules_areas_standards_and_forms(mixlint: Run, tmp_path: Path) -> None:
    away = tmp_path / "away"
    (away / ".git").mkdir(parents=True)  # no house above it
    shipped = load_standard("pre-bounce")
    lows = [one for one in shipped.rules if one.startswith("low-")]
    assert completed(mixlint, "mixlint rules low-", away) == lows
    assert completed(mixlint, "mixlint review --only low-", away) == lows
    areas = completed(mixlint, "mixlint review x.json --area ", away)
    assert areas == sorted({rule.area for rule in shipped.rules.values()})
    assert completed(mixlint, "mixlint sheet --standard ", away) == shipped_standards()
    assert completed(mixlint, "mixlint review --as s", away) == ["sarif"]
    assert completed(mixlint, "mixlint sheet --as ", away) == ["text", "json", "csv", "tsv"]


@pytest.mark.slow
def test_the_shell_completes_what_the_house_has_in_force(mixlint: Run, tmp_path: Path) -> None:
    """The house of these tests takes five rules; one that cannot be used completes nothing and says nothing."""
    assert completed(mixlint, "mixlint rules n", tmp_path) == ["nothing-soloed", "no-feedback-loop"]
    (tmp_path / "mixlint-standard.toml").write_text("name = \n", encoding="utf-8")
    assert completed(mixlint, "mixlint rules n", tmp_path) == []
    assert completed(mixlint, "mixlint sign gone.json n", tmp_path) == []


@pytest.mark.slow
def test_the_shell_gets_its_script(mixlint: Run) -> None:
    result = mixlint("--show-completion", env={"SHELL": "/bin/bash"})
    if result.returncode == 0 and result.stdout:  # the shell this runs in is told by its processes
        assert b"_MIXLINT_COMPLETE" in result.stdout


def test_the_man_page_is_what_the_help_says() -> None:
    assert PAGE.read_text(encoding="utf-8") == man_page(), "run: python -m tests.man_page --write"


def test_the_man_page_names_every_command_option_and_status() -> None:
    """And is in the wheel where ``man`` looks: share/man/man1 (Filesystem Hierarchy Standard 3.0, 4.11)."""
    page = man_page().replace("\\-", "-")
    for command, statuses in STATUSES.items():
        assert page.count(f".SS mixlint {command}\n") == 2
        for status, meaning in statuses:
            assert f".B {status}\n{meaning}\n" in page
    for option in ("--version", "-h, --help", "--only ID", "--prove", "--hold-on"):
        assert f".B {option}" in page
    wheel = tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["hatch"]["build"]["targets"][
        "wheel"
    ]
    assert wheel["shared-data"] == {PAGE.relative_to(TOP).as_posix(): "share/man/man1/mixlint.1"}


def test_no_line_of_the_man_page_is_taken_for_a_request() -> None:
    """man(7): a line that begins with a full stop or an apostrophe is a request."""
    known = (".TH ", ".SH ", ".SS ", ".TP", ".PP", ".B ", ".br", '.\\"')
    for line in man_page().splitlines():
        assert not line.startswith((".", "'")) or line.startswith(known)
