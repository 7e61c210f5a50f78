"""The man page, made from the help: ``python -m tests.man_page --write`` writes ``mixlint/cli/mixlint.1`` anew.

It says what mixlint itself brings: what installed packages add is told by ``--help`` alone. The macros are those of
man(7): ``.TH``, ``.SH``, ``.SS``, ``.TP``, ``.PP``.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any, Final

import typer.main
from typer import Context

from mixlint import __version__
from mixlint.cli.app import app
from mixlint.cli.statuses import STATUSES
from mixlint.importers import IMPORTERS, STEMS

PAGE: Final = Path(__file__).resolve().parents[1] / "mixlint" / "cli" / "mixlint.1"


def plain(text: str) -> str:
    """Text as roff prints it: backslashes, hyphens that are typed, and no line that begins like a request."""
    safe = " ".join(text.split()).replace("\\", "\\e").replace("-", "\\-")
    return re.sub(r"^(?=[.'])", r"\\&", safe)


def man_page() -> str:
    """The whole page."""
    group: Any = typer.main.get_command(app)
    context = Context(group, info_name="mixlint", **group.context_settings)
    reads = [title for one in (*IMPORTERS, STEMS) for title in one.titles]
    commands = [(name, group.get_command(context, name)) for name in group.list_commands(context)]
    lines = [
        '.\\" Made by python -m tests.man_page --write; changes here are lost.',
        f'.TH MIXLINT 1 "" "mixlint {__version__}" "User Commands"',
        ".SH NAME",
        "mixlint \\- the checklist linter for music\\-mix sessions",
        ".SH SYNOPSIS",
        *(line for name, command in commands for line in _synopsis(name, command, context)),
        ".SH DESCRIPTION",
        plain(group.help),
        ".PP",
        plain(f"Reads {', '.join(reads[:-1])}, or {reads[-1]}."),
        ".SH OPTIONS",
        *_parameters(group, context),
        ".SH COMMANDS",
    ]
    for name, command in commands:
        here = Context(command, info_name=name, parent=context)
        lines += [f".SS mixlint {plain(name)}", plain(command.help), *_parameters(command, here)]
    lines.append(".SH EXIT STATUS")
    for name, _ in commands:
        lines += [f".SS mixlint {plain(name)}", *_terms((status, what) for status, what in STATUSES[name])]
    return "\n".join(lines) + "\n"


def _synopsis(name: str, command: Any, parent: Context) -> Iterator[str]:
    pieces = command.collect_usage_pieces(Context(command, info_name=name, parent=parent))
    yield f".B mixlint {plain(name)}"
    given = re.sub(r"[{}]", "", " ".join(pieces)).replace("[[FACT]...]...", "[FACT]...")
    yield plain(re.sub(r"\[(\[.*?\])\]", r"\1", given))
    yield ".br"


def _parameters(command: Any, context: Context) -> list[str]:
    records = (one.get_help_record(context) for one in command.get_params(context))
    said = (record for record in records if record)
    return list(_terms((term if term[0] == "-" else term.partition(" <")[0], what) for term, what in said))


def _terms(records: Iterable[tuple[str, str]]) -> Iterator[str]:
    for term, meaning in records:
        yield from (".TP", f".B {plain(term)}", plain(meaning))


if __name__ == "__main__":
    if sys.argv[1:] != ["--write"]:
        raise SystemExit("usage: python -m tests.man_page --write")
    PAGE.write_text(man_page(), encoding="utf-8")
