"""The handbook builds without a warning, is complete, reads without a network, and says what the program does."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from importlib.util import find_spec
from math import log10
from pathlib import Path
from typing import NamedTuple

import pytest

import mixlint
from mixlint.cli.app import app
from mixlint.facts import TABLES
from mixlint.importers import read
from mixlint.importers.registry import IMPORTERS, STEMS
from mixlint.reports.forms import REVIEW_FORMS
from mixlint.resources import folder
from mixlint.rulebook import shipped_standards
from mixlint.rulebook.settings import settings_of
from mixlint.session import Session
from mixlint.signal.filters import band_response
from mixlint.signal.pan import MONO_LAWS, mono_gains
from mixlint.signal.true_peak import factor
from mixlint.units import SILENCE_DB
from tests.handbook.build import TOP, WRITTEN, contents, written_pages
from tests.handbook.markdown import docstring, escaped
from tests.handbook.reference_pages import python_page
from tests.handbook.rule_pages import every_rule
from tests.handbook.walk import walked

NEEDS_SPHINX = pytest.mark.skipif(find_spec("sphinx") is None, reason="the docs extra is not installed")


class Built(NamedTuple):
    """The sources of all pages, what was built of them, and what the command said and ended with."""

    pages: dict[str, str]
    out: Path
    status: int
    said: str


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Built:
    """The whole handbook; only its sources where Sphinx is not installed."""
    place = tmp_path_factory.mktemp("handbook")
    folder = [str(place / "out")] if find_spec("sphinx") else []
    done = python("-m", "tests.handbook", *folder, "--sources", str(place / "sources"))
    sources = place / "sources"
    pages = {path.relative_to(sources).as_posix(): path.read_text("utf-8") for path in sources.rglob("*.md")}
    return Built(pages, place / "out", done.returncode, done.stdout + done.stderr)


@pytest.fixture
def pages(built: Built) -> dict[str, str]:
    """The source of every page, by its path."""
    return built.pages


def python(*arguments: str) -> subprocess.CompletedProcess[str]:
    """Python in a process of its own, in the checkout."""
    return subprocess.run(
        [sys.executable, *arguments],
        cwd=TOP,
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=300,
        check=False,
    )


@pytest.mark.slow
@NEEDS_SPHINX
def test_it_builds_without_a_warning_and_reads_without_a_network(built: Built) -> None:
    """Every page is built; nothing but links that a reader follows leads out of it; the search is a script."""
    out = built.out
    assert built.status == 0, built.said
    for name in every_rule():
        assert (out / "rules" / f"{name}.html").is_file()
    loads = re.compile(r"<(?:script|link|img|iframe|source)\b[^>]*?(?:src|href)=\"((?:https?:)?//[^\"]+)\"")
    for path in out.rglob("*.html"):
        assert not loads.findall(path.read_text(encoding="utf-8")), path
    for path in (out / "_static").glob("*.css"):
        assert "url(http" not in path.read_text(encoding="utf-8").replace("'", "").replace('"', "")
    assert (out / "searchindex.js").read_text(encoding="utf-8").startswith("Search.setIndex(")
    assert '<script src="searchindex.js"' in (out / "search.html").read_text(encoding="utf-8")
    assert "SHOW_SEARCH_SUMMARY: false" in (out / "_static" / "documentation_options.js").read_text(encoding="utf-8")


@pytest.mark.slow
@NEEDS_SPHINX
def test_a_fault_of_a_page_is_told(tmp_path: Path) -> None:
    """A link that leads nowhere, or a word that Sphinx does not know, ends with its place and what is wrong."""
    code = (
        "import sys, pathlib; from tests.handbook.build import build\n"
        "print(build(pathlib.Path(sys.argv[1]), {'index.md': sys.argv[2]}, 'dummy'))"
    )
    page = "# A page\n\nSee [this](nowhere.md) and [that](#no-place).\n\n```{no-directive}\n```\n\n```{toctree}\n```\n"
    said = python("-c", code, str(tmp_path / "out"), page).stdout
    assert all(told in said for told in ("nowhere.md", "no-place", "no-directive", "index.md:3"))


@pytest.mark.slow
def test_every_thing_has_its_page(pages: dict[str, str]) -> None:
    """Rules, tables, schemas, commands, settings, standards, forms and public names."""
    assert {f"rules/{name}.md" for name in every_rule()} <= set(pages)
    files = {path.stem for path in folder("rules").glob("*/*.toml") if path.parent.name not in ("standards", "words")}
    assert files <= set(every_rule())
    assert {f"facts/{name}.md" for name in TABLES} <= set(pages)
    for table in TABLES.values():
        for fact in table.facts.values():
            assert f"\n## {escaped(fact.name)}\n" in pages[f"facts/{table.name}.md"]
    schemas = {path.name.removesuffix(".schema.json") for path in folder("schemas").glob("*.json")}
    assert {f"schemas/{name}.md" for name in schemas} <= set(pages)
    commands = {one.callback.__name__ for one in app.registered_commands if one.callback is not None}
    assert {f"commands/{name}.md" for name in commands} <= set(pages)
    assert all(f"`{name}`" in pages["settings.md"] for name in settings_of(TABLES.values()))
    assert all(f"\n## {name}\n" in pages["standards.md"] for name in shipped_standards())
    assert all(f"`{name}`" in pages["forms.md"] for name in REVIEW_FORMS)
    assert all(escaped(name) in pages["python.md"] for name in getattr(mixlint, "__all__", ["__version__"]))


@pytest.mark.slow
def test_forms_say_what_each_loses(pages: dict[str, str]) -> None:
    """Every sentence of every importer, from the table of forms."""
    for one in (*IMPORTERS, STEMS):
        assert f"`{one.name}`" in pages["forms.md"]
        assert all(escaped(said) in pages["forms.md"] for said in one.loses)


@pytest.mark.slow
def test_a_help_is_the_command_s(pages: dict[str, str]) -> None:
    """Word for word, without the escapes of a terminal."""
    assert "Usage: mixlint review [OPTIONS]" in pages["commands/review.md"]
    assert "--hold-on" in pages["commands/review.md"]
    assert "\x1b" not in "".join(pages.values())


@pytest.mark.slow
def test_a_rule_page_says_what_the_program_prints(pages: dict[str, str]) -> None:
    """Title, grade and case, condition, limit, example and who asks it."""
    page = pages["rules/return-low-cut.md"]
    assert page.startswith("# The ambience is high-passed\n")
    for said in (
        "Grade **look**: look before you bounce.",
        "Low cut is at least 6 dB.",
        "- 6 dB, the rule's own (limits.low\\_cut\\_db).",
        "[low\\_cut.enough\\_seen](../settings.md#low-cut): 9 dB",
        "- A reverb with no filter.",
        "pre-bounce (look)",
        "../facts/return.md",
    ):
        assert said in page
    assert "\x01" not in page
    assert "\x02" not in page


@pytest.mark.slow
def test_the_contents_name_all_that_is_written(pages: dict[str, str]) -> None:
    """No written page is left out, and each has a title."""
    listed = contents(pages)
    assert {f"{name}.md" for name, _ in listed} >= set(written_pages()) - {"index.md"}
    assert all(title for _, title in listed)


@pytest.mark.slow
def test_getting_started_prints_what_it_says(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every file is saved, every command run, in their order; ``python -m tests.handbook --walk`` writes it anew."""
    shutil.copytree(TOP / "example_sessions", tmp_path / "example_sessions", ignore=shutil.ignore_patterns("*.py"))
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("MIXLINT_CACHE", "")
    page = (WRITTEN / "getting-started.md").read_text(encoding="utf-8")
    assert page.count("```console\n$ mixlint ") >= 10
    said = walked(page, tmp_path)
    said = said.replace("songs\\", "songs/") if os.name == "nt" else said
    assert said.splitlines() == page.splitlines()


def test_the_pan_laws_are_those_of_the_code() -> None:
    """The level in the centre of each law, as the page has it (10 log10 of the gain squared at x = ½)."""
    page = (WRITTEN / "numbers.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| `([\w-]+)` \|.*\| −(\d\.\d\d) dB \|", page, re.MULTILINE)
    assert [law for law, _ in rows] == list(MONO_LAWS)
    for law, centre in rows:
        assert 20.0 * log10(float(mono_gains(0.0, law)[0])) == pytest.approx(-float(centre), abs=0.005)


def test_the_low_cuts_are_those_of_the_code() -> None:
    """10 log10(1 + (f/60)^4), Butterworth of second order, and the equalizer's own response at 60 Hz against 1 kHz."""
    page = (WRITTEN / "numbers.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| (\d+) Hz \| ([\d.]+) dB \|$", page, re.MULTILINE)
    assert len(rows) == 3
    for corner, takes in rows:
        assert 10.0 * log10(1.0 + (float(corner) / 60.0) ** 4) == pytest.approx(float(takes), abs=0.05)
        at_60, at_1k = abs(band_response("high-pass", float(corner), 0.0, 0.5**0.5, 12.0, [60.0, 1000.0]))
        assert 20.0 * log10(at_1k / at_60) == pytest.approx(float(takes), abs=0.1)


def test_the_modules_that_the_page_names_are_there() -> None:
    """And the true peak is oversampled as the page says."""
    page = (WRITTEN / "numbers.md").read_text(encoding="utf-8")
    named = re.findall(r"`(\w+/\w+\.py)`", page)
    assert len(named) > 20
    assert all((TOP / "mixlint" / name).is_file() for name in named)
    assert (factor(48000.0), factor(88200.0)) == (4, 2)
    known = settings_of(TABLES.values())
    assert {"balance.stretch", "balance.quiet"} <= set(known)
    assert any(name.startswith("counterparts.") for name in known)


def test_markdown_shows_text_as_it_is() -> None:
    """Signs that mean something in Markdown, code, and the parts of a docstring."""
    assert escaped("a_b *c* {d} [e] <f> `x_y` | g") == "a\\_b \\*c\\* \\{d\\} \\[e\\] \\<f\\> `x_y` \\| g"
    said = docstring(
        """Adds.

        With :func:`mixlint.signal.pan.mono_gains` and ``x_y``.

        Args:
            one: the first,
                which goes on.
            other: the second.

        Returns:
            their sum, dB.

        Raises:
            ValueError: neither.
        """
    )
    assert "`mono_gains` and `x_y`" in said
    assert "- `one`: the first, which goes on.\n- `other`: the second." in said
    assert "Gives: their sum, dB." in said
    assert "- `ValueError`: neither." in said


def test_the_page_of_public_names_shows_whatever_there_is(monkeypatch: pytest.MonkeyPatch) -> None:
    """Functions and classes with what they take, methods with theirs, constants with their values."""
    monkeypatch.setattr(mixlint, "__all__", ["read", "Session", "SILENCE_DB"], raising=False)
    for name, thing in (("read", read), ("Session", Session), ("SILENCE_DB", SILENCE_DB)):
        monkeypatch.setattr(mixlint, name, thing, raising=False)
    page = python_page()["python.md"]
    assert "## read\n\n```text\nread(path: str | PathLike[str]" in page
    assert "Ends in an error:" in page
    assert "## Session\n" in page
    assert "### json\\_text\n" in page
    assert "SILENCE_DB = -200.0" in page
