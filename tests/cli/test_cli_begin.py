"""``begin``, ``schema`` and ``rules --standards``, as a user types them."""

from __future__ import annotations

import json
import os
import shutil
import tomllib
from pathlib import Path

import pytest
from cli_sessions import Run, session_body, write_session
from jsonschema import Draft202012Validator
from typer.testing import CliRunner, Result

from mixlint import resources
from mixlint.cli.app import app
from mixlint.rulebook import load_standard

TOP = Path(__file__).resolve().parents[2]
STANDARD, SCHEMA = "mixlint-standard.toml", "mixlint-standard.schema.json"


def run(*arguments: object) -> Result:
    """The command line in this process."""
    return CliRunner().invoke(app, [str(a) for a in arguments])


def said(text: str) -> str:
    """A text whose lines are put together again."""
    return " ".join(text.split())


@pytest.fixture
def yard(tmp_path: Path) -> Path:
    """An empty folder below which, and above which, no standard holds."""
    (tmp_path / STANDARD).unlink()
    folder = tmp_path / "Larkspur Yard"
    folder.mkdir()
    return folder


def named(folder: Path, file: str, *names: str) -> Path:
    """A session whose parts have these names."""
    body = session_body()
    voice, *rest = body["channels"]
    parts = [{**voice, "id": f"part-{n}", "name": name, "sends": []} for n, name in enumerate(names)]
    return write_session(folder / file, channels=[*parts, *rest])


def switched_on(text: str) -> str:
    """A starter with every setting switched on, but the schema line, which is a comment to TOML."""
    lines = text.splitlines()
    return "\n".join(line[1:] if line.startswith("#") and line[1:2] not in (" ", ":", "") else line for line in lines)


def test_begin_in_an_empty_folder_writes_a_standard_that_passes(yard: Path) -> None:
    result = run("begin", yard)
    assert result.exit_code == 0, result.output
    assert sorted(one.name for one in yard.iterdir()) == [SCHEMA, STANDARD]
    assert "the standard larkspur-yard, which builds on pre-bounce" in said(result.stdout)
    assert f"mixlint rules --prove --standard '{yard / STANDARD}'" in said(result.stdout)
    proven = run("rules", "--prove", "--standard", yard / STANDARD)
    assert proven.exit_code == 0, proven.output
    assert "the standard passes" in proven.stdout
    assert "nothing to try yet" in proven.stdout
    own, shipped = load_standard(yard / STANDARD), load_standard("pre-bounce")
    assert (own.house.roles, own.rules.keys()) == ({}, shipped.rules.keys())


def test_the_schema_line_leads_to_the_schema_and_the_standard_keeps_to_it(yard: Path) -> None:
    run("begin", yard)
    text = (yard / STANDARD).read_text(encoding="utf-8")
    first = text.splitlines()[0]
    assert first == f"#:schema ./{SCHEMA}"
    schema = json.loads((yard / SCHEMA).read_text(encoding="utf-8"))
    assert schema["$id"] == "urn:mixlint:standard:1"
    validator = Draft202012Validator(schema)
    assert [*validator.iter_errors(tomllib.loads(text))] == []
    assert [*validator.iter_errors(tomllib.loads(switched_on(text)))] == []


def test_every_setting_of_a_starter_can_be_switched_on(yard: Path) -> None:
    """With the folders of the example house beside it, which it speaks of."""
    shutil.copytree(TOP / "example_sessions" / "house", yard, dirs_exist_ok=True)
    (yard / STANDARD).unlink()
    for session in (yard / "tried").iterdir():
        session.unlink()  # what its names are called is for somebody to say
    run("begin", yard)
    text = switched_on((yard / STANDARD).read_text(encoding="utf-8"))
    (yard / STANDARD).write_text(text, encoding="utf-8")
    standard = load_standard(yard / STANDARD)
    assert (standard.title, standard.examples) == ("How we mix here", yard / "tried")
    assert "delay-in-time" not in standard.rules
    assert standard.rules["named-by-part"].grade == "look"
    assert standard.rules["return-low-cut"].limits["low_cut_db"].value == 12.0
    assert standard.house.roles == {"Marigold*": "lead-vocal"}
    assert standard.house.intents == {"mono", "single-instrument", "hard-panned"}


def test_names_that_are_not_read_are_listed_and_settle_what_they_name(yard: Path) -> None:
    """Once each, with their sessions; those that are read are not listed. Written out, the line holds."""
    odd = 'Zorblax "3" *'
    song = named(yard, "a.json", odd, "Lead Vocal")
    named(yard, "b.json", odd.upper(), "Qwib\n[x]")
    result = run("begin", yard)
    assert "2 sessions; 2 names are not read" in said(result.stdout)
    text = (yard / STANDARD).read_text(encoding="utf-8")
    assert '# in a.json, b.json\n#"Zorblax \\"3\\" [*]" = "?"\n# in b.json\n#"Qwib\\u000a[[]x]" = "?"\n' in text
    assert "Lead Vocal" not in text
    assert run("rules", "--prove", "--standard", yard / STANDARD).exit_code == 0
    on = text.replace("#[roles]", "[roles]").replace('#"Zorblax', '"Zorblax').replace('[*]" = "?"', '[*]" = "plucked"')
    (yard / STANDARD).write_text(on, encoding="utf-8")
    sheet = json.loads(run("sheet", song, "--as", "json").stdout)
    assert {c["name"]: c["role"] for c in sheet["channels"]}[odd] == "plucked"


def test_a_session_that_cannot_be_read_is_named_and_hinders_nothing(yard: Path) -> None:
    named(yard, "a.json", "Lead Vocal")
    (yard / "torn.json").write_text('{"format": "mixlint-session/1", ', encoding="utf-8")
    result = run("begin", yard)
    assert result.exit_code == 0, result.output
    assert "read 1 session; every name of a part is read" in said(result.stdout)
    assert "torn.json:1: it is not well-formed JSON" in said(result.stdout)
    assert (yard / STANDARD).is_file()


def test_a_standard_in_a_folder_above_is_built_on(tmp_path: Path) -> None:
    """Its rules and roles hold on; the nearer file alone would have put the shipped checklist in their place."""
    above = tmp_path / STANDARD
    above.write_text(above.read_text() + '[roles]\n"Zorblax*" = "plucked"\n')
    folder = tmp_path / "one" / "pre-bounce"
    folder.mkdir(parents=True)
    named(folder, "a.json", "Zorblax")
    before = load_standard(beside=folder)
    result = run("begin", folder)
    assert "the standard our-house, which builds on ../../mixlint-standard.toml" in said(result.stdout)
    assert "every name of a part is read" in said(result.stdout)
    after = load_standard(beside=folder)
    assert (after.name, after.rules.keys(), after.house.roles) == ("our-house", before.rules.keys(), before.house.roles)
    above.write_text('name = "Lamp House"\n')
    (folder / STANDARD).unlink()
    result = run("begin", folder)
    assert result.exit_code == 2
    assert not (folder / STANDARD).exists()


@pytest.mark.parametrize("folder", ["Гнездо", "ÉTÉ", "---", "strict-ci"])
def test_a_folder_whose_name_can_be_no_standard_s(folder: str, yard: Path) -> None:
    (yard / folder).mkdir()
    run("begin", yard / folder)
    assert load_standard(yard / folder / STANDARD).name == "our-house"


def test_nothing_is_overwritten(yard: Path) -> None:
    """Neither a standard, nor a link that leads nowhere, nor the schema."""
    (yard / STANDARD).write_text('name = "mine"\n')
    result = run("begin", yard)
    assert result.exit_code == 2
    assert f"{STANDARD}: a standard is there already, and is left as it is. Edit it" in said(result.stderr)
    assert [one.name for one in yard.iterdir()] == [STANDARD]
    assert (yard / STANDARD).read_text() == 'name = "mine"\n'
    (yard / STANDARD).unlink()
    (yard / STANDARD).symlink_to(yard / "elsewhere.toml")
    assert run("begin", yard).exit_code == 2
    assert not (yard / "elsewhere.toml").exists()
    (yard / STANDARD).unlink()
    (yard / SCHEMA).write_text("{}")
    result = run("begin", yard)
    assert result.exit_code == 0
    assert SCHEMA not in said(result.stdout)
    assert (yard / SCHEMA).read_text() == "{}"


@pytest.mark.parametrize(
    ("name", "told"), [("none", "there is no such folder. Make it first"), ("a.json", "this is no folder. Name the")]
)
def test_what_is_no_folder(name: str, told: str, yard: Path) -> None:
    named(yard, "a.json", "Lead Vocal")
    result = run("begin", yard / name)
    assert (result.exit_code, told in said(result.stderr)) == (2, True)
    assert [one.name for one in yard.iterdir()] == ["a.json"]


def test_a_folder_that_cannot_be_written(yard: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Told before a session is read; and where the system says so only when it is tried."""
    monkeypatch.setattr(os, "access", lambda _, mode: mode == os.R_OK)
    result = run("begin", yard)
    assert (result.exit_code, "nothing can be written in this folder" in said(result.stderr)) == (2, True)
    monkeypatch.undo()
    if not hasattr(os, "geteuid") or os.geteuid() == 0:
        pytest.skip("every folder can be written by this user")
    yard.chmod(0o555)
    assert run("begin", yard).exit_code == 2


def test_a_disk_that_refuses_leaves_no_half_file(yard: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object, **__: object) -> int:
        raise OSError(28, "No space left on device")

    from mixlint.errors import InputError
    from mixlint.runs import files

    path = yard / "new.toml"
    path.touch()
    with pytest.raises(InputError, match="it is there already"):
        files.write_new("x", path)
    path.unlink()
    with pytest.raises(UnicodeEncodeError):
        files.write_new("\udcff", path)
    assert not path.exists()
    monkeypatch.setattr(files.os, "fsync", full)
    with pytest.raises(InputError, match="No space left on device"):
        files.write_new("x", path)


def test_schemas_are_listed_and_printed_as_they_ship() -> None:
    listed = run("schema")
    assert listed.exit_code == 0, listed.output
    names = [path.name.removesuffix(".schema.json") for path in sorted((TOP / "schemas").glob("*.json"))]
    lines = listed.stdout.splitlines()
    assert [line.split()[0] for line in lines[: len(names)]] == names
    assert all(len(line.split()) > 2 for line in lines[: len(names)])
    for name in names:
        text = (TOP / "schemas" / f"{name}.schema.json").read_text(encoding="utf-8")
        assert run("schema", name).stdout == text
    assert run("schema", "session.schema.json").stdout == run("schema", "session").stdout


@pytest.mark.parametrize(
    ("typed", "told"),
    [("sesion", "Perhaps session is meant."), ("STANDARD", "Perhaps standard is meant."), ("xyzzy", "Choose one of")],
)
def test_a_schema_that_there_is_not(typed: str, told: str) -> None:
    result = run("schema", typed)
    assert (result.exit_code, result.stdout) == (2, "")
    assert f"there is no schema called '{typed}'. {told}" in said(result.stderr)


def test_a_wheel_has_the_schemas_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It holds them in the package itself (``force-include`` in ``pyproject.toml``), and there they are found."""
    laid = tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))
    inside = laid["tool"]["hatch"]["build"]["targets"]["wheel"]["force-include"]["schemas"]
    shutil.copytree(TOP / "schemas", tmp_path / inside)
    monkeypatch.setattr(resources, "__file__", str(tmp_path / "mixlint" / "resources.py"))
    resources.folder.cache_clear()
    try:
        assert resources.schemas()["session"].is_relative_to(tmp_path)
        assert run("schema", "why").exit_code == 0
    finally:
        monkeypatch.undo()
        resources.folder.cache_clear()


def test_a_session_says_its_schema_and_is_read_as_without(yard: Path) -> None:
    """The schema beside it is no session, whatever it is called; what is written again knows nothing of it."""
    song = write_session(yard / "song.json")
    plain = run("sheet", song, "--as", "json").stdout
    body = json.loads(song.read_text(encoding="utf-8"))
    song.write_text(json.dumps({"$schema": "./session.schema.json", **body}), encoding="utf-8")
    assert run("schema", "session", "--out", yard / "session.schema.json").exit_code == 0
    assert run("sheet", yard, "--as", "json").stdout == plain
    schema = json.loads((yard / "session.schema.json").read_text(encoding="utf-8"))
    assert [*Draft202012Validator(schema).iter_errors(json.loads(song.read_text(encoding="utf-8")))] == []
    assert run("convert", song, "--out", yard / "again.json").exit_code == 0
    assert "$schema" not in (yard / "again.json").read_text(encoding="utf-8")
    assert run("schema", "session", "--out", song).exit_code == 2  # a session is not written over


def test_a_schema_of_a_session_that_is_no_text(yard: Path) -> None:
    song = write_session(yard / "song.json", **{"$schema": 1})
    result = run("sheet", song)
    assert (result.exit_code, "$schema: a text is needed here" in said(result.stderr)) == (2, True)
    body = session_body()
    body["channels"][0]["$schema"] = "x"
    song.write_text(json.dumps({"$schema": "x", **body}), encoding="utf-8")
    assert "channels[0].$schema: there is no such key" in said(run("sheet", song).stderr)


def test_the_shipped_standards_are_listed_with_what_they_are_for() -> None:
    text = said(run("rules", "--standards").stdout)
    listed = json.loads(run("rules", "--standards", "--as", "json").stdout)["standards"]
    assert [one["name"] for one in listed] == ["pre-bounce", "acoustic-song", "hand-over", "strict-ci"]
    readme = (TOP / "README.md").read_text(encoding="utf-8")
    for one in listed:
        file = tomllib.loads((TOP / "rules" / "standards" / f"{one['name']}.toml").read_text(encoding="utf-8"))
        assert (one["title"], said(one["about"])) == (file["title"], said(file["about"]))
        assert one["builds_on"] == file.get("builds_on", "")
        assert f"{one['name']}: {one['title']}" in text
        assert said(one["about"]) in text
        assert f"`{one['name']}`" in readme


@pytest.mark.parametrize("more", [["nothing-soloed"], ["--area", "prep"], ["--prove"], ["--standard", "pre-bounce"]])
def test_the_standards_are_listed_alone(more: list[str]) -> None:
    result = run("rules", "--standards", *more)
    assert (result.exit_code, "give it alone" in said(result.stderr).casefold()) == (2, True)


def test_begin_in_a_process_of_its_own(yard: Path, mixlint: Run) -> None:
    """In the folder itself, as a user does; nothing stands on stderr."""
    named(yard, "a.json", "Zorblax")
    done = mixlint("begin", ".", cwd=yard, env={"PYTHONPATH": str(TOP)})
    assert (done.returncode, done.stderr) == (0, b"")
    assert b"mixlint-standard.toml: the standard larkspur-yard" in done.stdout
    done = mixlint("rules", "--prove", "--standard", STANDARD, cwd=yard, env={"PYTHONPATH": str(TOP)})
    assert done.returncode == 0, done.stderr
