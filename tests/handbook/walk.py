"""Walks a page as its reader does: saves the files that it shows, types its commands, and notes what they print.

A block ``console`` holds one command after ``$`` and what it prints; a line ``…`` in it stands for lines left out. A
block ``toml`` with a caption is a file of that name.
"""

from __future__ import annotations

import re
import shlex
from pathlib import Path

from typer.testing import CliRunner

from mixlint.cli.app import app

LEFT_OUT = "…"
WIDTH = "100"
"""As wide as mixlint writes into a pipe or a file; whoever runs this may stand before any terminal."""

_BLOCK = re.compile(r"^```console\n\$ (?P<command>.*)\n(?P<shown>(?:(?!```).*\n)*)```$", re.MULTILINE)
_FILE = re.compile(r"^```\{code-block\} toml\n:caption: (?P<name>\S+)\n\n(?P<text>(?:(?!```).*\n)*)```$", re.MULTILINE)


def walked(page: str, folder: Path) -> str:
    """The page as it would be if its commands printed what they print now.

    Args:
        page: the page.
        folder: the folder in which the reader stands, which is the current one.
    """
    steps = sorted([*_BLOCK.finditer(page), *_FILE.finditer(page)], key=lambda found: found.start())
    done, at = [], 0
    for step in steps:
        if "command" not in step.groupdict():
            file = folder / step["name"]
            file.parent.mkdir(exist_ok=True)
            file.write_text(step["text"], encoding="utf-8")
            continue
        printed = _printed(step["command"])
        done += [page[at : step.start("shown")], _shown_as(printed, step["shown"].splitlines())]
        at = step.end("shown")
    return "".join([*done, page[at:]])


def _printed(command: str) -> list[str]:
    name, *arguments = shlex.split(command)
    if name != "mixlint":
        raise ValueError(f"only mixlint is run: {command}")
    result = CliRunner(env={"COLUMNS": WIDTH, "TERM": "dumb"}).invoke(app, arguments, prog_name="mixlint")
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result.output.rstrip("\n").splitlines()


def _shown_as(printed: list[str], shown: list[str]) -> str:
    """As many lines before and after the gap as the page shows; all of them where it leaves nothing out."""
    if LEFT_OUT in shown:
        gap = shown.index(LEFT_OUT)
        after = len(shown) - gap - 1
        if len(printed) > len(shown):
            printed = [*printed[:gap], LEFT_OUT, *printed[len(printed) - after :]]
    return "".join(f"{line}\n" for line in printed)
