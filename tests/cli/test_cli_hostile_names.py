"""Names by strangers through every form of every command: no output holds what somebody's program would obey."""

from __future__ import annotations

import csv
import io
import json
import sys
from pathlib import Path

import pytest
from lxml import etree, html
from typer.testing import CliRunner

from mixlint.cli.app import app, run
from mixlint.reports.channel_list import DELIMITERS
from mixlint.reports.forms import LIST_FORMS, REVIEW_FORMS, result_forms

sys.path.insert(0, str(Path(__file__).parents[1] / "reports"))
from hostile import SCRIPT, faults, name, session_body

HOUSE = """\
name = "strange-house"
title = "::set-output name=t::x \\u202e ##[x]"
takes = ["return-fully-wet", "nothing-soloed", "reaches-mix-bus", "named-by-part"]
rules = ["no-vca-here.toml"]
"""
"""Its texts come from a file that is found by itself, so that they are a stranger's too."""
OWN = """\
id = "no-vca-here"
title = "::warning::t \\u001b[31m ##[x]"
area = "prep"
grade = "hold"
over = "channel"
must = { soloed = true }
says = "::error::{channel} \\u202e ##vso[x] [here](https://evil.example)."
remedy = "::notice::mend it \\u2066 ##vso[x]."
needs_ears = "Is ::debug:: ##[x]\\u200b so?"
fine_answer = "yes"
why = "::warning::because\\n##[x]\\u202e"

[basis]
kind = "common practice"

[[example]]
name = "::x ##[y] flagged"
verdict = "flagged"
subject = "A"
[example.session]
channels = [
  { name = "A", kind = "track", output = "B" },
  { name = "B", kind = "master", output = false },
]

[[example]]
name = "clear"
verdict = "clear"
subject = "A"
[example.session]
channels = [
  { name = "A", kind = "track", solo = true, output = "B" },
  { name = "B", kind = "master", output = false },
]
"""


@pytest.fixture(scope="module")
def strange(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A session whose every text is hostile, also its file's name, with a house beside it that takes few rules."""
    folder = tmp_path_factory.mktemp("names")
    (folder / "mixlint-standard.toml").write_text(HOUSE)
    (folder / "no-vca-here.toml").write_text(OWN)
    path = folder / "::set-output name=f::x ##[y] \u202e\n##vso[z].json"
    path.write_text(json.dumps(session_body()), encoding="utf-8")
    return path


COMMANDS = {
    **{
        f"review {form}": ["review", "SESSION", "--no-audio", "--everything", "--why", "--as", form]
        for form in REVIEW_FORMS
    },
    **{f"sheet {form}": ["sheet", "SESSION", "--as", form] for form in (*result_forms("sheet"), *LIST_FORMS)},
    **{
        f"{' '.join(command[:2])} {form}": [*command, "--as", form]
        for command in (
            ["sheet", "SESSION", "--why", "hall"],
            ["trace", "SESSION", "hall"],
            ["compare", "SESSION", "SESSION", "--no-audio"],
            ["compare", "OTHER", "SESSION", "--no-audio"],
            ["facts", "channel", "name", "comment", "--of", "SESSION", "--no-audio"],
            ["facts", "insert", "name", "processor", "--of", "SESSION", "--no-audio"],
            ["rules", "--standard", "STANDARD"],
            ["rules", "no-vca-here", "--standard", "STANDARD"],
            ["rules", "--prove", "--standard", "STANDARD"],
        )
        for form in result_forms(command[0])
    },
    "review quiet": ["review", "SESSION", "--no-audio", "--quiet", "--assumptions"],
    "no channel": ["trace", "SESSION", name(2)],
    "no row": ["sign", "SESSION", "nothing-soloed", "--on", name(3), "--because", name(4), "--by", "RM", "--no-audio"],
    "sign": ["sign", "SESSION", "return-fully-wet", "--because", name(4), "--by", "RM", "--no-audio"],
    "withdraw": ["sign", "SESSION", "return-fully-wet", "--withdraw", "--by", "RM"],
    "convert": ["convert", "SESSION", "--out", "OUT"],
    "no session": ["review", name(5).replace("/", "")],
    "no standard": ["review", "SESSION", "--standard", name(1).replace("/", "")],
}  # fmt: skip


@pytest.mark.slow
@pytest.mark.parametrize("command", COMMANDS)
def test_no_form_holds_what_a_program_obeys(command: str, strange: Path, tmp_path: Path) -> None:
    places = {
        "SESSION": str(strange),
        "OTHER": str(_changed(strange)),
        "STANDARD": str(strange.with_name("mixlint-standard.toml")),
        "OUT": str(tmp_path / "::x.json"),
    }
    result = CliRunner().invoke(app, [places.get(one, one) for one in COMMANDS[command]])
    assert not isinstance(result.exception, Exception), result.exception
    form = command.rpartition(" ")[2]
    assert result.stdout if result.exit_code < 2 else result.stderr
    assert (result.exit_code == 2) == command.startswith("no "), result.stderr
    assert not faults(result.stdout, markup=form == "html", spreadsheet=form in ("line", *LIST_FORMS)), result.stdout
    assert not faults(result.stderr), result.stderr
    if command == "convert":
        assert not faults((tmp_path / "::x.json").read_text("utf-8"))
    _read_again(form, result.stdout)


def _changed(strange: Path) -> Path:
    """The same session in an older state: every level and place another, every other channel not there, no send."""
    body = json.loads(strange.read_text("utf-8"))
    body["channels"] = [
        {**channel, "fader_db": -9.0, "pan": -33.0, "sends": [], "inserts": []}
        for n, channel in enumerate(body["channels"])
        if n % 3 != 1 or channel["kind"] == "master"
    ]
    other = strange.with_name("::debug::older ##[x] \u202e.json")
    other.write_text(json.dumps(body), "utf-8")
    return other


def _read_again(form: str, text: str) -> None:
    """Each form is still what it is to be: its own reader takes it, and finds nothing forged in it."""
    if form in ("json", "sarif"):
        body = json.loads(text)
        if form == "sarif":
            said = [one["message"]["text"] for one in body["runs"][0]["results"]]
            assert said
            assert not any("](" in one for one in said)
    elif form == "junit":
        assert etree.fromstring(text.encode()).tag == "testsuites"
    elif form == "html":
        page = html.document_fromstring(text)
        assert not page.xpath("//img | //iframe | //@*[starts-with(name(), 'on')]")
        assert {one.strip() for one in page.xpath("//script/text()")} <= {SCRIPT.read_text("utf-8").strip()}
        assert all(one.startswith("#") for one in page.xpath("//@href | //@src"))
    elif form == "line":
        assert {line.count("\t") for line in text.removesuffix("\n").split("\n")} == {4}
    elif form in LIST_FORMS:
        for sign in (DELIMITERS[form], ";"):
            cells = [cell for row in csv.reader(io.StringIO(text), delimiter=sign) for cell in row]
            numbers = {"-inf", "-12", "-3"}
            assert not [c for c in cells if c.startswith(("=", "+", "-", "@", "\t", "\r", "＝")) and c not in numbers]


def test_a_list_of_strange_names_is_read_again(tmp_path: Path) -> None:
    """The apostrophe goes again, and the name is the one that was: of two colons no order is left, and no harm done."""
    from mixlint.importers import read

    body = session_body()
    for channel, called in zip(body["channels"], ("::Voice", "=Kick", "＝Bass", "-Snare", "a;=b, c"), strict=False):
        channel["name"] = called
    source, out = tmp_path / "a.json", tmp_path / "a.csv"
    source.write_text(json.dumps(body), "utf-8")
    assert CliRunner().invoke(app, ["sheet", str(source), "--as", "csv", "--out", str(out)]).exit_code == 0
    assert [one.name for one in read(out).channels][:5] == ["::Voice", "=Kick", "＝Bass", "-Snare", "a;'=b, c"]


@pytest.mark.parametrize("arguments", [["review", "a.json", "--::\n::set-output"], ["review", "--as\x1b[2J\n##[x]"]])
def test_a_usage_error_repeats_nothing_that_is_obeyed(
    arguments: list[str], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """With ``*`` a shell puts the names of strangers' files on the command line."""
    monkeypatch.setattr(sys, "argv", ["mixlint", *arguments])
    with pytest.raises(SystemExit) as end:
        run()
    assert end.value.code == 2
    assert not faults(capsys.readouterr().err)


def test_a_fault_of_ours_repeats_nothing_that_is_obeyed(
    strange: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def faulty(path: Path, words: object) -> None:
        raise ZeroDivisionError("\n::set-output name=x::y\n\x1b[2J##[x]")

    monkeypatch.setattr("mixlint.importers.read", faulty)
    monkeypatch.setattr(sys, "argv", ["mixlint", "review", str(strange)])
    with pytest.raises(SystemExit):
        run()
    said = capsys.readouterr().err
    assert "please report" in said
    assert not faults(said)
