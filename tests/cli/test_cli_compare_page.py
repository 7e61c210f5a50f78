"""``compare --as html``: two revisions as a page, from sessions and from an approval, with the exit status as ever."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from cli_sessions import session_body
from lxml import etree
from typer.testing import CliRunner, Result

from mixlint.cli.app import app


def run(*arguments: object) -> Result:
    result = CliRunner().invoke(app, [str(one) for one in arguments])
    assert not isinstance(result.exception, Exception), result.exception
    return result


def revisions(folder: Path) -> tuple[Path, Path]:
    """Two states of one song: the voice 4 dB up and to the right, its send gone."""
    old, new = folder / "mix 1.session.json", folder / "mix 2.session.json"
    body: dict[str, Any] = session_body()
    old.write_text(json.dumps(body), encoding="utf-8")
    body["channels"][0] |= {"fader_db": 4.0, "pan": 30.0, "sends": []}
    new.write_text(json.dumps(body), encoding="utf-8")
    return old, new


def read(page: str) -> tuple[etree._Element, str]:
    root = etree.fromstring(page.split("\n", 1)[1].encode())
    return root, " ".join("".join(root.itertext()).split())


@pytest.mark.slow
def test_two_revisions_as_a_page(tmp_path: Path) -> None:
    old, new = revisions(tmp_path)
    out = tmp_path / "compared.html"
    made = run("compare", old, new, "--no-audio", "--as", "html", "--out", out)
    assert (made.exit_code, made.stdout) == (0, "")
    root, said = read(out.read_text("utf-8"))
    assert "Lead Vocal, 4 dB up, from centre to 30 right" in said
    assert "1 send removed." in said
    assert [figure.get("id") for figure in root.iter("figure")] == ["session-1-moved_places", "session-1-moved_levels"]
    assert "send to Hall removed" in said
    assert "loud sound harms hearing" in said
    assert not {element.tag for element in root.iter()} & {"script", "link", "img", "iframe"}
    assert run("compare", old, new, "--no-audio", "--as", "html", "--out", out).exit_code == 0  # its own page again
    text = run("compare", old, new, "--no-audio").stdout
    assert all(line.strip() in said for line in text.splitlines() if line.startswith("    "))


@pytest.mark.slow
def test_a_revision_against_itself_says_that_nothing_changed(tmp_path: Path) -> None:
    old, _ = revisions(tmp_path)
    made = run("compare", old, old, "--no-audio", "--as", "html")
    assert made.exit_code == 0
    root, said = read(made.stdout)
    assert "Nothing changed." in said
    assert not [*root.iter("svg")]


@pytest.mark.slow
def test_an_approval_against_what_became_of_it(tmp_path: Path) -> None:
    old, new = revisions(tmp_path)
    assert run("sign", old, "--approve", "--mix", 1, "--by", "RM", "--no-audio").exit_code == 0
    (approval,) = tmp_path.glob("*.approved.json")
    made = run("compare", approval, new, "--as", "html")
    assert made.exit_code == 0
    assert "Lead Vocal, 4 dB up, from centre to 30 right" in read(made.stdout)[1]


def test_what_cannot_be_read_ends_with_2(tmp_path: Path) -> None:
    old, _ = revisions(tmp_path)
    made = run("compare", old, tmp_path / "nothing.json", "--as", "html")
    assert made.exit_code == 2
    assert not made.stdout
