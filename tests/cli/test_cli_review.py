"""``mixlint review``: exit statuses, forms, several sessions, options, and what is written where."""

from __future__ import annotations

import json
import xml.etree.ElementTree as ET
from pathlib import Path
from typing import Any

import pytest
from cli_sessions import session_body, write_session
from typer.testing import CliRunner, Result

from mixlint.cli.app import app
from mixlint.runs import each_apart
from mixlint.runs.written import MARK
from tests.links import link as make_link

FORMS = ("text", "json", "sarif", "junit", "html", "line")


def run(*arguments: object) -> Result:
    """The command line in this process."""
    return CliRunner().invoke(app, [str(a) for a in arguments])


def test_a_clear_session_exits_with_0(clear: Path) -> None:
    """Nothing holds the bounce."""
    result = run("review", clear)
    assert result.exit_code == 0, result.output
    assert "clear to bounce" in result.stdout
    assert result.stderr == ""


def test_a_held_session_exits_with_1(held: Path) -> None:
    """A reverb return that passes dry signal is held, with measured value, limit and remedy."""
    result = run("review", held)
    assert result.exit_code == 1
    assert "held: do not bounce yet" in result.stdout
    row = next(line for line in result.stdout.splitlines() if line.startswith("    Hall"))
    assert "Hall passes 0 dB of dry signal" in row  # half wet: dry and wet alike, 20 log10(1) = 0 dB
    assert "dry 0 dB, limit −40 dB" in run("review", held, "--why").stdout
    assert "mixlint rules return-fully-wet" in " ".join(result.stdout.split())
    assert "hearing" in result.stdout


@pytest.mark.slow
def test_what_the_readme_shows_is_what_the_program_prints(monkeypatch: pytest.MonkeyPatch) -> None:
    """Line by line, in the same order; the README shows the beginning."""
    root = Path(__file__).resolve().parents[2]
    monkeypatch.chdir(root)
    _, _, block = (root / "README.md").read_text(encoding="utf-8").partition("```\nsession ")
    shown = [line for line in f"session {block.partition('```')[0]}".splitlines() if line]
    said = run("review", "example_sessions/sixpenny-weathervane-flawed.dawproject").stdout.splitlines()
    said = [line for line in said if line and not set(line) <= {"─"}]
    assert len(shown) > 6
    assert said[: len(shown)] == shown


@pytest.mark.slow
@pytest.mark.parametrize("form", FORMS)
def test_every_form_keeps_the_exit_status(form: str, clear: Path, held: Path) -> None:
    """The form of the output does not change the outcome."""
    assert run("review", clear, "--as", form).exit_code == 0
    assert run("review", held, "--as", form).exit_code == 1


def test_json_says_what_the_text_says(held: Path) -> None:
    """Outcome, finding, digest and the place of the session."""
    body = json.loads(run("review", held, "--as", "json").stdout)
    session = body["sessions"][0]
    assert (body["format"], session["outcome"], session["source"]) == ("mixlint-report/1", "held", str(held))
    assert session["digest"].startswith("sha256:")
    finding = next(f for f in session["findings"] if f["rule"] == "return-fully-wet")
    assert (finding["verdict"], finding["grade"], finding["subject"]["name"]) == ("flagged", "hold", "Hall")
    assert "clear" not in {f["verdict"] for f in session["findings"]}


@pytest.mark.slow
def test_the_same_session_gives_the_same_bytes(held: Path) -> None:
    """Two runs do not differ."""
    for form in FORMS:
        assert run("review", held, "--as", form).stdout == run("review", held, "--as", form).stdout


def test_everything_adds_clear_and_idle_rows(clear: Path) -> None:
    """Without it they are counted only."""
    verdicts = {
        f["verdict"]
        for f in json.loads(run("review", clear, "--as", "json", "--everything").stdout)["sessions"][0]["findings"]
    }
    assert "clear" in verdicts
    assert "not applicable\n" in run("review", clear, "--everything").stdout


def test_hold_on_note_holds_what_look_would_not(tmp_path: Path) -> None:
    """A *look* row holds the bounce only when asked to; JUnit and the exit status agree."""
    body = session_body()
    body["channels"][1]["inserts"].pop(0)  # no low cut on the way to or from the hall: a look row
    path = tmp_path / "no-low-cut.json"
    path.write_text(json.dumps(body), encoding="utf-8")
    assert run("review", path).exit_code == 0
    assert run("review", path, "--hold-on", "look").exit_code == 1
    for hold_on, failures in (("hold", 0), ("look", 1)):
        text = run("review", path, "--as", "junit", "--hold-on", hold_on).stdout
        suites = ET.fromstring(text.encode("utf-8"))  # noqa: S314 - written by the code under test
        assert int(suites.get("failures", "")) == failures


def test_area_and_leave_out_narrow_the_checklist(held: Path) -> None:
    """What is left out cannot hold the bounce."""
    assert run("review", held, "--leave-out", "return-fully-wet").exit_code == 0
    assert run("review", held, "--area", "routing").exit_code == 0
    assert run("review", held, "--area", "ambience").exit_code == 1
    assert run("review", held, "--area", "ambience", "--area", "routing").exit_code == 1
    assert run("review", held, "--only", "return-fully-wet").exit_code == 1
    assert run("review", held, "--only", "return-low-cut", "--only", "nothing-soloed").exit_code == 0


@pytest.mark.parametrize(
    ("option", "value", "said"),
    [
        ("--leave-out", "return-fuly-wet", "Perhaps return-fully-wet is meant."),
        ("--only", "return-fuly-wet", "Perhaps return-fully-wet is meant."),
        ("--area", "ambiance", "Perhaps ambience is meant."),
        ("--as", "jason", "Choose one of text, json"),
        ("--standard", "pre-bonce", "pre-bounce"),
    ],
)
def test_a_misspelt_name_is_answered_with_the_right_one(option: str, value: str, said: str, clear: Path) -> None:
    """Exit status 2, and the nearest known name."""
    result = run("review", clear, option, value)
    assert result.exit_code == 2
    assert said in result.stderr
    assert result.stdout == ""


@pytest.mark.parametrize(
    "arguments",
    [("--as", "xml"), ("--hold-on", "fail"), ("--no-such-option",), ("--out",)],
)
def test_usage_mistakes_exit_with_2(arguments: tuple[str, ...], clear: Path) -> None:
    """The message stands on stderr."""
    result = run("review", clear, *arguments)
    assert result.exit_code == 2
    assert result.stderr
    assert result.stdout == ""


@pytest.mark.parametrize(
    ("option", "value", "said"),
    [
        ("--hold-on", "fail", "'fail' is not one of 'hold', 'look', 'note'"),
        ("--minutes", "soon", "'--minutes': a number belongs here"),
        ("--minutes", "0", "0.0001 is the least"),
    ],
)
def test_a_wrong_value_is_told_without_the_library_s_words(option: str, value: str, said: str, clear: Path) -> None:
    result = run("review", clear, option, value)
    assert result.exit_code == 2
    assert said in result.stderr
    assert "Value error" not in result.stderr
    assert "Input should" not in result.stderr


def test_a_path_is_needed() -> None:
    """Review reads no default."""
    assert run("review").exit_code == 2


def test_a_missing_file_says_where_and_what_to_do(tmp_path: Path) -> None:
    """Where, what, what to do."""
    result = run("review", tmp_path / "nowhere.json")
    assert result.exit_code == 2
    assert result.stderr.startswith(f"mixlint: {tmp_path / 'nowhere.json'}: there is no such file")
    assert "Check the path." in result.stderr


def test_one_broken_session_does_not_stop_the_others(clear: Path, held: Path, broken: Path) -> None:
    """The rest is reviewed, the broken one is on stderr, and the exit status says so."""
    result = run("review", broken, clear, held, "--as", "json")
    assert result.exit_code == 2
    assert [Path(s["source"]).name for s in json.loads(result.stdout)["sessions"]] == [clear.name, held.name]
    assert "broken.json" in result.stderr
    assert "Traceback" not in result.output


def test_a_folder_means_every_session_in_it(clear: Path, held: Path, tmp_path: Path) -> None:
    """Each session once, even when a path is given twice."""
    body = json.loads(run("review", tmp_path, clear, "--as", "json").stdout)
    assert sorted(Path(s["source"]).name for s in body["sessions"]) == sorted([clear.name, held.name])


def test_an_empty_folder_holds_no_session(tmp_path: Path) -> None:
    """Said as such."""
    (tmp_path / "empty").mkdir()
    result = run("review", tmp_path / "empty")
    assert result.exit_code == 2
    assert "session" in result.stderr


def test_the_house_standard_beside_the_session_is_found(held: Path) -> None:
    """It may leave out what the house does not want."""
    (held.parent / "mixlint-standard.toml").write_text(
        'name = "window-house"\ntakes = ["ambience"]\nleave_out = ["return-fully-wet"]\n'
    )
    result = run("review", held)
    assert result.exit_code == 0, result.output
    assert "window-house" in result.stdout


def test_a_faulty_standard_lists_every_fault(held: Path) -> None:
    """One message, one line per fault."""
    (held.parent / "house.toml").write_text(
        'name = "x"\ntakes = ["prep"]\nleave_out = ["no-such"]\n[grades]\nnothing-soled = "hold"\n'
    )
    result = run("review", held, "--standard", held.parent / "house.toml")
    assert result.exit_code == 2
    assert "no-such" in result.stderr
    assert "nothing-soloed" in result.stderr
    assert result.stdout == ""


# --out


@pytest.mark.slow
@pytest.mark.parametrize("form", FORMS)
def test_out_writes_what_stdout_would_show(form: str, held: Path, tmp_path: Path) -> None:
    """The same text, nothing on stdout, no temporary file left."""
    out = tmp_path / "reports" / f"out.{form}"
    out.parent.mkdir()
    shown = run("review", held, "--as", form).stdout
    result = run("review", held, "--as", form, "--out", out)
    assert (result.exit_code, result.stdout) == (1, "")
    assert out.read_text(encoding="utf-8") == shown + (f"\n{MARK}\n" if form == "text" else "")
    assert list(out.parent.iterdir()) == [out]


def test_out_never_overwrites_what_is_read(held: Path) -> None:
    """Neither by its own name nor through a link, forced or not; the session stays as it was."""
    before = held.read_bytes()
    link = held.parent / "link.txt"
    make_link(link, held)
    for out in (held, link, held.parent / "." / held.name):
        for more in ([], ["--force"]):
            result = run("review", held, "--out", out, *more)
            assert result.exit_code == 2
            assert "overwrite" in result.stderr
    assert held.read_bytes() == before


def test_out_never_overwrites_the_standard(held: Path) -> None:
    """A standard is read too."""
    standard = held.parent / "house.toml"
    standard.write_text('name = "lamp-house"\ntakes = ["ambience"]\n')
    assert run("review", held, "--standard", standard, "--out", standard).exit_code == 2
    assert standard.read_text() == 'name = "lamp-house"\ntakes = ["ambience"]\n'


@pytest.mark.slow
@pytest.mark.parametrize("name", ["house.toml", "voice.WAV", "lamp.signed.txt", "lamp.approved.json", "b.dawproject"])
@pytest.mark.parametrize("command", ["review", "sheet", "trace", "convert", "rules", "facts", "compare"])
def test_out_spares_what_is_read_without_being_named(command: str, name: str, clear: Path, tmp_path: Path) -> None:
    """Standards, recordings, sign-offs, approvals and other sessions, whichever command it is."""
    precious = tmp_path / "kept" / name
    precious.parent.mkdir()
    precious.write_text("not to be lost")
    more = {"trace": [clear, "Lead Vocal"], "rules": [], "facts": [], "compare": [clear, clear]}
    result = run(command, *more.get(command, [clear]), "--out", precious)
    assert result.exit_code == 2
    assert "overwrite" in result.stderr
    assert precious.read_text() == "not to be lost"


def test_an_out_with_the_longest_name_there_is(held: Path, tmp_path: Path) -> None:
    """255 bytes (Linux, limits.h NAME_MAX): what is written first beside it must not be longer."""
    out = tmp_path / f"{'r' * 251}.txt"
    assert run("review", held, "--out", out).exit_code == 1
    assert "held" in out.read_text(encoding="utf-8")


def test_a_session_with_the_longest_name_there_is(clear: Path, tmp_path: Path) -> None:
    """No sign-off file can lie beside it, and that is no fault of the session."""
    session = clear.rename(tmp_path / f"{'s' * 250}.json")
    result = run("review", session)
    assert result.exit_code == 0, result.stderr


def test_a_link_to_a_session_elsewhere_is_the_session(clear: Path, tmp_path: Path) -> None:
    """The reader named it; what lies beside the link is still all that is opened."""
    (tmp_path / "links").mkdir()
    link = tmp_path / "links" / "song.json"
    make_link(link, clear)
    result = run("review", link)
    assert result.exit_code == 0, result.stderr


def test_out_into_a_folder_that_is_not_there(held: Path, tmp_path: Path) -> None:
    """Exit status 2 and a message with the name."""
    result = run("review", held, "--out", tmp_path / "no" / "report.txt")
    assert result.exit_code == 2
    assert "report.txt" in result.stderr
    assert "Traceback" not in result.output


def test_out_that_is_a_folder(held: Path, tmp_path: Path) -> None:
    """Said as such."""
    result = run("review", held, "--out", tmp_path)
    assert result.exit_code == 2
    assert "folder" in result.stderr


def test_an_earlier_report_is_replaced(held: Path, tmp_path: Path) -> None:
    """A file that mixlint wrote may be written again; its permissions stay."""
    out = tmp_path / "report.txt"
    assert run("review", held, "--everything", "--out", out).exit_code == 1
    out.chmod(0o640)
    assert run("review", held, "--out", out).exit_code == 1
    assert "held" in out.read_text(encoding="utf-8")
    assert out.stat().st_mode & 0o777 == 0o640


def test_nothing_is_written_when_nothing_could_be_reviewed(broken: Path, tmp_path: Path) -> None:
    """No empty report that looks like a clear one."""
    out = tmp_path / "report.html"
    assert run("review", broken, "--out", out).exit_code == 2
    assert not out.exists()


def test_a_standard_is_read_once_for_many_sessions(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder of sessions under one standard does not read its rules anew for each."""
    import mixlint.rulebook

    for n in range(4):
        write_session(tmp_path / f"song-{n}.json")
    read = mixlint.rulebook.load_standard
    calls: list[object] = []

    def counted(*arguments: Any) -> Any:
        calls.append(arguments)
        return read(*arguments)

    monkeypatch.setattr("mixlint.rulebook.load_standard", counted)
    monkeypatch.setattr(each_apart, "_LOADED", {})
    monkeypatch.setattr(each_apart.EachApart, "review", lambda self, task, watch: self._task(task, watch))
    assert run("review", tmp_path, "--jobs", 1).exit_code == 0
    assert len(calls) == 1


def test_several_sessions_end_with_a_count(clear: Path, held: Path) -> None:
    """How many are clear and how many held."""
    assert "2 sessions: 1 held, 1 clear." in run("review", clear, held).stdout


def test_a_page_for_several_sessions(clear: Path, held: Path) -> None:
    """Each session has its sheet, its drawing and its place in the list at the top."""
    text = run("review", clear, held, "--as", "html").stdout
    assert text.count(">Channel sheet</h3>") == 2
    assert text.count('<svg class="routing"') == 2
    assert 'href="#session-2"' in text


def test_junit_lists_what_passes_too(clear: Path) -> None:
    """A file without cases would read as nothing done."""
    suites = ET.fromstring(run("review", clear, "--as", "junit").stdout.encode("utf-8"))  # noqa: S314 - our own
    assert int(suites.get("tests", "")) >= 5
    assert suites.get("failures") == "0"
