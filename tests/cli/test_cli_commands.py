"""sheet, trace, rules, facts and convert."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from cli_sessions import session_body
from typer.testing import CliRunner, Result

from mixlint import resources
from mixlint.cli.app import app
from mixlint.cli.progress import Progress
from mixlint.facts import TABLES
from mixlint.media.cache_folder import cache_folder
from mixlint.reports.plain import Page
from mixlint.reports.rule_page import rule_page
from mixlint.rulebook import Standard, load_standard
from mixlint.runs.written import MARK
from mixlint.session import Session

RULES = sorted(
    p.stem for p in resources.folder("rules").glob("*/*.toml") if p.parent.name not in ("standards", "words")
)


def run(*arguments: object) -> Result:
    """The command line in this process."""
    return CliRunner().invoke(app, [str(a) for a in arguments])


def test_sheet_as_text(clear: Path) -> None:
    """A mono source in the centre arrives 3.01 dB down on each side (equal power, W3C StereoPannerNode)."""
    result = run("sheet", clear)
    assert result.exit_code == 0, result.output
    row = next(line for line in result.stdout.splitlines() if line.startswith("Lead Vocal"))
    assert row.split() == ["Lead", "Vocal", "lead-vocal", "Mix", "Bus", "0", "centre", "−3.01", "−3.01"]
    assert "Hall, −12 dB, post-fader" in result.stdout


def test_sheet_as_json(clear: Path) -> None:
    """The form ``mixlint-sheet/1``; a return arrives by ambience only, so ``to_mix`` is null."""
    body = json.loads(run("sheet", clear, "--as", "json").stdout)
    assert body["format"] == "mixlint-sheet/1"
    found = {c["id"]: c for c in body["channels"]}
    assert found["voice"]["to_mix"]["left_db"] == pytest.approx(-3.0103, abs=1e-3)
    assert found["voice"]["sends"] == [{"to": "hall", "level_db": -12.0, "pan": 0.0, "tap": "post", "on": True}]
    assert found["hall"]["to_mix"] is None


def test_sheet_of_a_folder_with_several_sessions(clear: Path, held: Path, tmp_path: Path) -> None:
    """One must be named."""
    result = run("sheet", tmp_path)
    assert result.exit_code == 2
    assert "2 sessions" in result.stderr
    assert "Name one of them." in result.stderr


@pytest.mark.parametrize("name", ["Lead Vocal", "lead vocal", "voice"])
def test_trace_by_name_or_id(name: str, clear: Path) -> None:
    """The direct way and the one through the hall."""
    body = json.loads(run("trace", clear, name, "--as", "json").stdout)
    assert (body["format"], body["channel"], body["at_hz"]) == ("mixlint-trace/1", "Lead Vocal", 1000.0)
    kinds = {a["kind"]: a for a in body["arrivals"]}
    assert kinds["direct"]["path"] == ["Lead Vocal", "Mix Bus"]
    assert kinds["direct"]["left_db"] == pytest.approx(-3.0103, abs=1e-3)
    assert kinds["ambience"]["path"] == ["Lead Vocal", "Hall", "Mix Bus"]
    assert "arrives" in run("trace", clear, name).stdout


def test_trace_at_another_frequency(clear: Path) -> None:
    """The 200 Hz low cut of the hall takes more at 60 Hz than at 1 kHz."""

    def ambience(hz: int) -> float:
        body = json.loads(run("trace", clear, "voice", "--at", hz, "--as", "json").stdout)
        level: float = next(a["left_db"] for a in body["arrivals"] if a["kind"] == "ambience")
        return level

    # Second-order Butterworth: 10 log10(1 + (200/60)^4) − 10 log10(1 + (200/1000)^4) = 20.95 dB
    assert ambience(1000) - ambience(60) == pytest.approx(20.95, abs=0.1)


def test_trace_of_a_channel_that_is_not_there(clear: Path) -> None:
    """The nearest name is said."""
    result = run("trace", clear, "Led Vocal")
    assert result.exit_code == 2
    assert "Perhaps Lead Vocal is meant." in result.stderr


def test_trace_of_a_name_that_two_channels_share(tmp_path: Path) -> None:
    """The ids are said."""
    body = session_body()
    body["channels"].insert(1, {**body["channels"][0], "id": "second"})
    path = tmp_path / "twice.json"
    path.write_text(json.dumps(body), encoding="utf-8")
    result = run("trace", path, "Lead Vocal")
    assert result.exit_code == 2
    assert "voice, second" in result.stderr
    assert run("trace", path, "second").exit_code == 0


@pytest.mark.parametrize("hz", ["0", "-5", "nan", "inf", "loud"])
def test_trace_at_no_frequency(hz: str, clear: Path) -> None:
    """A frequency is a positive number."""
    result = run("trace", clear, "voice", "--at", hz)
    assert result.exit_code == 2
    assert "Traceback" not in result.output


@pytest.mark.slow
def test_rules_lists_the_checklist() -> None:
    """Every rule in force, in text and as ``mixlint-rules/1``."""
    text = run("rules").stdout
    body = json.loads(run("rules", "--as", "json").stdout)
    assert (body["format"], body["standard"]) == ("mixlint-rules/1", "pre-bounce")
    assert sorted(r["id"] for r in body["rules"]) == sorted(load_standard().rules)
    assert set(body["rules"][0]) == {"id", "title", "area", "grade", "over", "limits", "settings"}
    assert all(r["id"] in text for r in body["rules"])
    wet = next(r for r in body["rules"] if r["id"] == "return-fully-wet")
    assert (wet["limits"]["dry_db"]["value"], wet["limits"]["dry_db"]["unit"]) == (-40.0, "dB")


@pytest.fixture(scope="module")
def shipped() -> Standard:
    """The shipped checklist, loaded once for all of its pages."""
    return load_standard()


@pytest.mark.slow
@pytest.mark.parametrize("rule", RULES)
def test_every_rule_has_a_page(rule: str, shipped: Standard) -> None:
    """Title, why, what has to hold, remedy and basis; no placeholder is left in braces."""
    found = shipped.rules.get(rule)
    if found is None:
        pytest.skip("the shipped checklist leaves this rule out")
    page = rule_page(found, shipped.name, Page(80))
    said = " ".join(page.split())
    assert found.title in said
    assert " ".join(found.why.split())[:60] in said
    for heading in ("Why", "What has to hold", "Remedy", "Basis"):
        assert heading in page
    assert "Examples:" in page or "Traps" in page
    assert "{" not in page
    assert "limits." not in page.split("What has to hold")[1].split("\n\n")[0]


def test_the_command_shows_the_page_of_one_rule_of_each_area(shipped: Standard) -> None:
    areas = {rule.area: rule for rule in shipped.rules.values()}
    assert len(areas) > 5
    for rule in areas.values():
        result = run("rules", rule.id)
        assert result.exit_code == 0, result.output
        assert result.stdout.rstrip() == rule_page(rule, shipped.name, Page()).rstrip()


def test_a_page_says_who_laid_a_limit_down(tmp_path: Path) -> None:
    """A house's own limit is named as such."""
    standard = tmp_path / "house.toml"
    standard.write_text('name = "lamp-house"\n[limits]\n"return-fully-wet.dry_db" = -50.0\n')
    result = run("rules", "return-fully-wet", "--standard", standard)
    assert result.exit_code == 0, result.output
    assert "−50 dB, laid down by lamp-house" in " ".join(result.stdout.split())


def test_rules_of_one_area() -> None:
    """Only that area."""
    body = json.loads(run("rules", "--area", "ambience", "--as", "json").stdout)
    assert {r["area"] for r in body["rules"]} == {"ambience"}


def test_a_rule_that_is_not_there() -> None:
    """The nearest name is said."""
    result = run("rules", "return-fuly-wet")
    assert result.exit_code == 2
    assert "Perhaps return-fully-wet is meant." in result.stderr


def test_facts_lists_the_vocabulary() -> None:
    """Every table; one table alone; a table that is not there."""
    body = json.loads(run("facts", "--as", "json").stdout)
    assert body["format"] == "mixlint-facts/1"
    assert {f["table"] for f in body["facts"]} == set(TABLES)
    one = json.loads(run("facts", "return", "--as", "json").stdout)
    assert {f["table"] for f in one["facts"]} == {"return"}
    assert "dry_db  number in dB" in run("facts", "return").stdout
    missing = run("facts", "retrun")
    assert missing.exit_code == 2
    assert "Perhaps return is meant." in missing.stderr


def test_facts_are_asked_of_a_session(held: Path) -> None:
    """Row by row, in text and as JSON; of one table at a time, and of facts that it has."""
    said = run("facts", "return", "effect", "dry_db", "low_cut_db", "--of", held, "--no-audio")
    assert said.stdout.splitlines()[:2] == ["Hall", "    effect: reverb (calculated)"]
    body = json.loads(run("facts", "return", "dry_db", "--of", held, "--no-audio", "--as", "json").stdout)
    (row,) = body["rows"]
    assert (body["format"], body["table"], row["name"]) == ("mixlint-rows/1", "return", "Hall")
    (dry,) = row["facts"]
    assert (dry["fact"], dry["unit"], dry["known"]) == ("dry_db", "dB", "declared")
    assert run("facts", "loop", "--of", held, "--no-audio").stdout == "no loop in this session\n"
    for command, cure in (
        (["facts", "--of", held], "Name the table"),
        (["facts", "return", "dry_bd", "--of", held], "Perhaps dry_db is meant."),
        (["facts", "return", "dry_db"], "Name it with --of PATH."),
        (["facts", "return", "--of", held, "--out", held], "would overwrite what is being read"),
    ):
        refused = run(*command)
        assert (refused.exit_code, cure in refused.stderr) == (2, True), refused.stderr


def test_convert_writes_the_neutral_form(clear: Path, tmp_path: Path) -> None:
    """What is written reads as the same session, and converts to the same bytes again."""
    first, second = tmp_path / "a" / "one.json", tmp_path / "a" / "two.json"
    first.parent.mkdir()
    result = run("convert", clear, "--out", first)
    assert result.exit_code == 0, result.output
    assert "3 channels" in " ".join(result.stdout.split())
    assert Session.model_validate_json(first.read_text(encoding="utf-8")).title == "Lamp Song"
    assert run("convert", first, "--out", second).exit_code == 0
    assert first.read_bytes() == second.read_bytes()


def test_convert_needs_a_place_and_spares_its_input(clear: Path) -> None:
    """No --out is a usage mistake; the input is not overwritten."""
    before = clear.read_bytes()
    assert run("convert", clear).exit_code == 2
    assert run("convert", clear, "--out", clear).exit_code == 2
    assert clear.read_bytes() == before


@pytest.mark.parametrize("command", [("sheet",), ("trace", "voice"), ("convert",)])
def test_bad_input_is_said_without_a_traceback(command: tuple[str, ...], broken: Path, tmp_path: Path) -> None:
    """Damaged, missing and foreign files."""
    foreign = tmp_path / "notes.txt"
    foreign.write_text("just words")
    for path in (broken, foreign, tmp_path / "missing.json"):
        arguments = [command[0], path, *command[1:]]
        if command[0] == "convert":
            arguments += ["--out", tmp_path / "out.json"]
        result = run(*arguments)
        assert result.exit_code == 2, result.output
        assert result.stderr.startswith("mixlint: ")
        assert "Traceback" not in result.output


@pytest.mark.slow
@pytest.mark.parametrize("command", ["sheet", "trace", "rules", "facts"])
def test_every_reading_command_writes_to_a_file(command: str, clear: Path, tmp_path: Path) -> None:
    """--out holds what stdout would show."""
    given = {"sheet": [clear], "trace": [clear, "voice"], "rules": [], "facts": []}[command]
    for form in ("text", "json"):
        out = tmp_path / f"{command}.{form}"
        shown = run(command, *given, "--as", form).stdout
        assert run(command, *given, "--as", form, "--out", out).exit_code == 0
        assert out.read_text(encoding="utf-8") == shown + (f"\n{MARK}\n" if form == "text" else "")
        out.unlink()


def test_the_cache_folder(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Named, switched off, the user's own, or none where it could not be written."""
    monkeypatch.setenv("MIXLINT_CACHE", str(tmp_path / "kept"))
    assert cache_folder() == tmp_path / "kept"
    monkeypatch.setenv("MIXLINT_CACHE", "")
    assert cache_folder() is None
    monkeypatch.delenv("MIXLINT_CACHE")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "user"))
    assert cache_folder() == tmp_path / "user" / "mixlint"
    (tmp_path / "file").write_text("")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "file"))
    assert cache_folder() is None


class Screen:
    """A stderr that says it is a terminal and keeps what is written to it."""

    encoding = "utf-8"

    def __init__(self, terminal: bool) -> None:
        self.terminal = terminal
        self.text = ""

    def isatty(self) -> bool:
        return self.terminal

    def write(self, text: str) -> int:
        self.text += text
        return len(text)

    def flush(self) -> None:
        """Nothing to do."""


@pytest.mark.parametrize("terminal", [True, False])
def test_progress_shows_on_a_terminal_only(terminal: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    """A line once patience runs out, made safe, and wiped at the end."""
    import threading

    from mixlint.cli import progress as module

    shown = threading.Event()
    screen = Screen(terminal)
    write = screen.write

    def watched(text: str) -> int:
        if "walk" in text or not terminal:  # on a busy machine a line may come before the first step
            shown.set()
        return write(text)

    screen.write = watched  # type: ignore[method-assign]
    monkeypatch.setattr("sys.stderr", screen)
    monkeypatch.setattr(module, "PATIENCE_S", 0.01)
    with Progress(3) as progress:
        progress.step("walk\x1b[2J.json")
        assert shown.wait(5.0 if terminal else 0.1) is terminal
    if terminal:
        assert "walk␛[2J.json (1 of 3)" in screen.text
        assert screen.text.endswith("\r\x1b[K")
    else:
        assert screen.text == ""


def test_a_page_says_limits_as_they_stand() -> None:
    """The condition is said in words with the number in force: at most −40 dB."""
    said = " ".join(run("rules", "return-fully-wet").stdout.split())
    assert "What has to hold Dry is at most −40 dB." in said
    assert "effect is one of reverb, delay" in said
