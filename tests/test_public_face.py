"""``import mixlint``: its names, what they cost, that the commands call them; README and the guide run as written."""

from __future__ import annotations

import ast
import doctest
import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

import mixlint
from mixlint.cli.app import app
from mixlint.session import Channel, Clip, MediaFile, Session
from tests.installs import SEEN

TOP = Path(__file__).resolve().parents[1]
SONG = TOP / "example_sessions" / "voice-and-one-guitar.session.json"
FACE = ast.parse((TOP / "mixlint" / "__init__.py").read_text(encoding="utf-8"))


def python(code: str, **env: str) -> Any:
    """What a program in a process of its own prints, as JSON."""
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=TOP, env={**os.environ, **env}, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def test_the_names_are_said_alike_everywhere() -> None:
    """To a type checker, in ``__all__``, and where they are imported from on demand."""
    typed = {
        name.asname or name.name: statement.module
        for node in ast.walk(FACE)
        if isinstance(node, ast.If)
        for statement in node.body
        if isinstance(statement, ast.ImportFrom)
        for name in statement.names
        if statement.module != "importlib"
    }
    assert typed == mixlint._HOMES
    assert sorted(mixlint.__all__) == sorted([*typed, "__version__"])
    assert set(mixlint.__all__) <= set(dir(mixlint))
    for name in mixlint.__all__:
        assert getattr(mixlint, name) is not None
    with pytest.raises(AttributeError, match="chek"):
        mixlint.chek  # type: ignore[attr-defined]  # noqa: B018


def test_every_function_of_it_is_called_by_a_command() -> None:
    """The commands import the very functions from the very places."""
    called = {
        (node.module, name.name)
        for path in (TOP / "mixlint" / "cli").glob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.ImportFrom)
        for name in node.names
    }
    functions = {(home, name) for name, home in mixlint._HOMES.items() if name.islower()}
    assert len(functions) == 6
    assert functions <= called


def test_everything_public_says_what_it_is() -> None:
    """Also each argument, each error, and what comes back."""
    for name, home in mixlint._HOMES.items():
        said = getattr(mixlint, name).__doc__ or ""
        assert said.strip(), name
        if name.islower():
            code = getattr(mixlint, name).__code__
            for argument in code.co_varnames[: code.co_argcount + code.co_kwonlyargcount]:
                assert f"        {argument}: " in said, (home, name, argument)
            assert "Raises:" in said, name


def test_it_imports_nothing_before_it_is_asked() -> None:
    code = (
        "import json, sys; before = set(sys.modules); import mixlint; print(json.dumps([*set(sys.modules) - before]))"
    )
    assert python(code) == ["mixlint"]


def test_a_check_needs_nothing_of_the_command_line_and_says_the_same() -> None:
    """The review of an example, from Python and from the command."""
    code = f"""
import json, sys, mixlint
review = mixlint.check({str(SONG)!r}, audio=False)
assert not [one for one in sys.modules if one.startswith(("mixlint.cli", "typer", "soundfile"))], sys.modules.keys()
print(mixlint.report(review, "json"))
"""
    found = python(code)
    said = CliRunner().invoke(app, ["review", str(SONG), "--no-audio", "--as", "json"])
    assert found == json.loads(said.stdout)


@pytest.mark.slow
@pytest.mark.parametrize("path", ["README.md", "DEVELOPERS.md"])
def test_the_lines_of_the_handbook_run(path: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each ``>>>`` of a page, from the top, gives what stands below it."""
    monkeypatch.chdir(TOP)
    monkeypatch.setenv("MIXLINT_CACHE", "")
    text = (TOP / path).read_text(encoding="utf-8")
    page = doctest.DocTestParser().get_doctest(text, {}, path, path, 0)
    assert len(page.examples) > 5
    out: list[str] = []
    tally = doctest.DocTestRunner(optionflags=doctest.FAIL_FAST).run(page, out=out.append)
    assert tally.failed == 0, "".join(out)


def song(folder: Path) -> Session:
    """One part with a file of silence, soloed, that lies in a folder."""
    import numpy as np
    import soundfile

    soundfile.write(folder / "a.wav", np.zeros(4800), 48_000)
    part = Channel(
        id="a", name="Oboe", kind="track", output="mix", solo=True, clips=(Clip(start_s=0.0, end_s=0.1, file="a"),)
    )
    mix = Channel(id="mix", name="Mix Bus", kind="master", output=None)
    return Session(title="Oboe Song", channels=(part, mix), media=(MediaFile(id="a", path="a.wav"),))


def test_a_built_session_is_heard_where_its_files_are_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """And is under the standard there; without that, nothing is opened and no standard looked for."""
    monkeypatch.setenv("MIXLINT_CACHE", "")
    monkeypatch.chdir(tmp_path)
    (tmp_path / "mixlint-standard.toml").write_text('name = "reed"\ntakes = ["nothing-soloed"]\n', encoding="utf-8")
    built = song(tmp_path)
    (deaf,) = mixlint.ask(built, "media", "peak_dbfs")
    (heard,) = mixlint.ask(built, "media", "peak_dbfs", files=tmp_path)
    assert isinstance(deaf["peak_dbfs"], mixlint.Unknown)
    assert heard.value("peak_dbfs") is not None
    assert mixlint.check(built, audio=False).result.standard == "pre-bounce"
    with pytest.raises(mixlint.InputError, match="no such file or folder"):
        mixlint.check(built, files=tmp_path / "elsewhere")
    review = mixlint.check(built, files=tmp_path)
    assert (review.result.standard, review.outcome, [one.rule for one in review.findings]) == (
        "reed",
        "held",
        ["nothing-soloed"],
    )


def test_a_session_is_written_whole_and_over_nothing_that_matters(tmp_path: Path) -> None:
    built = song(tmp_path)
    path = tmp_path / "song.json"
    mixlint.write(built, path)
    mixlint.write(built, path)  # the very same is there already
    changed = built.model_copy(update={"title": "Reed Song, again"})
    with pytest.raises(mixlint.InputError, match="would overwrite a session"):
        mixlint.write(changed, path)
    assert mixlint.read(path) == built
    mixlint.write(changed, path, force=True)
    mixlint.write(built, path, force=True)
    assert mixlint.read(path) == built
    with pytest.raises(mixlint.InputError, match="would overwrite a recording"):
        mixlint.write(built, tmp_path / "a.wav")
    assert sorted(one.name for one in tmp_path.iterdir()) == ["a.wav", "song.json"]


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"only": ["nothing-solod"]}, "Perhaps nothing-soloed is meant."),
        ({"areas": ["ambiance"]}, "Perhaps ambience is meant."),
        ({"standard": "pre-bouncing"}, "there is no standard pre-bouncing"),
        ({"files": "."}, "leave them out"),
        ({"hold_on": "grave"}, "choose one of hold, look, note"),
        ({"printed": "none.wav"}, "there is no such file"),
        ({"baseline": str(SONG)}, "this is no baseline"),
    ],
)
def test_what_cannot_be_used_is_told_with_its_cure(given: dict[str, Any], said: str) -> None:
    with pytest.raises(mixlint.MixlintError) as fault:
        mixlint.check(SONG, audio=False, **given)
    assert said.casefold() in str(fault.value).casefold()


def test_a_form_that_lacks_something_says_how_to_have_it(tmp_path: Path) -> None:
    """Drawings, clear rows; several reviews stand in one document."""
    review = mixlint.check(SONG, audio=False)
    with pytest.raises(mixlint.MixlintError, match="pictures=True"):
        mixlint.report(review, "html")
    with pytest.raises(mixlint.MixlintError, match="everything=True"):
        mixlint.report(review, "junit")
    with pytest.raises(mixlint.MixlintError, match="Choose one of text, json"):
        mixlint.report(review, "jason")
    whole = mixlint.check(SONG, audio=False, everything=True, pictures=True)
    assert mixlint.report(whole, "html").startswith("<!DOCTYPE html>")
    assert mixlint.report(whole, "junit").startswith("<?xml")
    assert len(json.loads(mixlint.report([review, whole], "json"))["sessions"]) == 2
    assert len(whole.findings) == sum(getattr(whole.counts, one) for one in ("flagged", "open", "clear", "idle"))


@pytest.mark.slow
def test_a_type_checker_sees_the_face(tmp_path: Path) -> None:
    """Under strict mypy: the types of results are told, and a name that is none is a fault."""
    program = tmp_path / "program.py"
    program.write_text(
        "import mixlint\n"
        "review = mixlint.check(mixlint.read('a.json'), standard='pre-bounce')\n"
        "reveal_type(review)\n"
        "reveal_type([one.evidence for one in review.findings])\n"
        "reveal_type(mixlint.ask('a.json', 'return')[0]['dry_db'])\n"
        "mixlint.chek('a.json')\n"
        "from mixlint.importers import read\n"
        "reveal_type(read)\n"
        "reveal_type(mixlint.__version__)\n",
        encoding="utf-8",
    )
    done = subprocess.run(
        [sys.executable, "-m", "mypy", "--strict", "--config-file", str(TOP / "pyproject.toml"), str(program)],
        cwd=TOP, capture_output=True, text=True, check=False, timeout=300,
    )  # fmt: skip
    assert 'Revealed type is "mixlint.runs.check.Review"' in done.stdout
    assert "tuple[mixlint.review.findings.Evidence, ...]" in done.stdout
    assert "mixlint.analysis.value.FactValue | mixlint.session.maybe.Unknown" in done.stdout
    assert 'Module has no attribute "chek"' in done.stdout
    for what in SEEN:  # what python -m tests.installs asks of an installed package
        assert f'Revealed type is "{what}"' in done.stdout
    assert "Found 1 error" in done.stdout
