"""The house standard in the handbook is the one that is shipped, word for word, and keeps its word."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from typer.testing import CliRunner

from example_sessions.parts.house import ferry_bell
from mixlint.cli.app import app
from mixlint.rulebook import load_standard

TOP = Path(__file__).resolve().parents[2]
HOUSE = TOP / "example_sessions" / "house"
SHOWN = (
    "mixlint-standard.toml",
    "words/yard-words.toml",
    "words/yard-roles.toml",
    "rules/sends-leave-room.toml",
    "rules/groups-at-or-under-unity.toml",
    "rules/returns-named-by-effect.toml",
    "tried/ferry-bell-pushed.expected.toml",
)


def section() -> str:
    return (TOP / ".handbook" / "pages" / "house-standard.md").read_text(encoding="utf-8")


def blocks(kind: str) -> list[str]:
    found = re.findall(r"^```(\w*)\n(.*?)^```$", section(), re.MULTILINE | re.DOTALL)
    return [text for word, text in found if word == kind]


def run(*arguments: object):
    return CliRunner().invoke(app, [str(a) for a in arguments])


def test_the_blocks_are_the_files_to_the_letter():
    assert blocks("toml") == [(HOUSE / name).read_text(encoding="utf-8") for name in SHOWN]


def test_a_standard_typed_from_the_page_alone_keeps_its_word(tmp_path: Path):
    """What a reader types from the page, and saves as the page says, proves clean."""
    for name, text in zip(SHOWN, blocks("toml"), strict=True):
        file = tmp_path / name
        file.parent.mkdir(exist_ok=True)
        file.write_text(text, encoding="utf-8")
    (tmp_path / "tried" / "ferry-bell-pushed.session.json").write_text(ferry_bell(pushed=True).json_text())
    result = run("rules", "--standard", tmp_path / "mixlint-standard.toml", "--prove")
    assert result.exit_code == 0, result.output
    assert "the standard passes" in result.output


def test_the_shipped_house_proves_clean_by_the_command_of_the_page():
    (command,) = (one.strip() for one in blocks("") if "--prove" in one)
    words = command.split()
    assert words[0] == "mixlint"
    result = run(*(TOP / w if w.endswith(".toml") else w for w in words[1:]))
    assert result.exit_code == 0, result.output
    assert "3 of its own" in result.output


def test_the_sessions_it_is_tried_on_are_built():
    assert (HOUSE / "tried" / "ferry-bell.session.json").read_text(encoding="utf-8") == ferry_bell().json_text()


def test_the_readme_shows_a_part_of_it_that_is_a_standard_itself(tmp_path: Path):
    text = (TOP / "README.md").read_text(encoding="utf-8").partition("\n## A house standard\n")[2]
    shown = text.partition("```toml\n")[2].partition("```")[0]
    assert set(shown.splitlines()) <= set((HOUSE / SHOWN[0]).read_text(encoding="utf-8").splitlines())
    file = tmp_path / "mixlint-standard.toml"
    file.write_text(shown, encoding="utf-8")
    assert load_standard(file).rules["named-by-part"].grade == "look"


def test_what_the_page_says_of_the_standard_is_so():
    standard = load_standard(HOUSE / "mixlint-standard.toml")
    assert "delay-in-time" not in standard.rules
    assert standard.rules["return-low-cut"].limits["low_cut_db"].value == 12.0
    assert standard.rules["named-by-part"].grade == "look"
    assert standard.rules["return-fully-wet"].may_sign == "two"
    assert (standard.house.mono_pan, standard.house.stereo_pan, standard.house.pan_stated) == (
        "compromise",
        "balance",
        True,
    )
    assert standard.house.roles["Marigold*"] == "lead-vocal"
    assert standard.house.cue == ("Ears *",)
    assert standard.house.vocabulary.channels.phrases["milk churn"] == ("percussion",)


@pytest.mark.parametrize(
    "word", ["at_most", "matches", "any", "idle", "open", "builds_on", "may_sign", "processors", "words"]
)
def test_the_page_explains_what_the_files_use(word: str):
    prose = re.sub(r"^```.*?^```$", "", section(), flags=re.MULTILINE | re.DOTALL)
    assert f"`{word}" in prose or f"[{word}]" in prose


def test_the_house_lies_beside_its_sessions_and_is_found_there(tmp_path: Path):
    shutil.copytree(HOUSE, tmp_path / "house")
    result = run("review", tmp_path / "house" / "tried" / "ferry-bell.session.json", "--no-audio")
    assert "larkspur-house" in result.output
    assert result.exit_code == 0
