"""The command line as a whole: its commands, ``--version``, and what happens to a fault of mixlint's own.

Exit status: 0 clear to bounce, or done; 1 held; 2 the input, the standard or the command cannot be used;
130 stopped from the keyboard, 143 ended by a signal. A fault in mixlint itself shows its traceback and also ends with
2, so that 1 always means *held*.
"""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Annotated, Any, Final

import typer
from typer.core import TyperGroup

from mixlint import __version__
from mixlint.cli.begin import begin
from mixlint.cli.compare import compare
from mixlint.cli.convert import convert
from mixlint.cli.facts import facts
from mixlint.cli.guard import UNUSABLE, guarded, say
from mixlint.cli.review import review
from mixlint.cli.rules import rules
from mixlint.cli.schema import schema
from mixlint.cli.sheet import sheet
from mixlint.cli.sign import sign
from mixlint.cli.statuses import Command
from mixlint.cli.survey import survey
from mixlint.cli.trace import trace
from mixlint.cli.watch import watch

_PLAINLY: Final = (
    (re.compile(r"Value error, "), ""),
    (re.compile(r"Input should be a valid number\b.*"), "a number belongs here"),
    (re.compile(r"Input should be a valid integer\b.*"), "a whole number belongs here"),
    (re.compile(r"Input should be greater than or equal to (.*)"), r"\1 is the least"),
    (re.compile(r"Input should be less than or equal to (.*)"), r"\1 is the most"),
)
"""What the library says of a wrong value, and how a user would put it."""


@contextmanager
def _tamed() -> Iterator[None]:
    """What a usage error repeats of the command line made safe: with ``*`` it holds names of strangers' files."""
    try:
        yield
    except typer.TyperException as fault:
        if isinstance(said := getattr(fault, "message", None), str):
            from mixlint.reports.plain import neutral, without_orders

            for pattern, plainly in _PLAINLY:
                said = pattern.sub(plainly, said)
            fault.message = without_orders("\n".join(map(neutral, said.split("\n"))))
        raise


class _Whole(TyperGroup):
    """The group of all commands, whose help ends with what is read."""

    def make_context(self, *args: Any, **more: Any) -> Any:
        """What was asked, read; what is wrong with it is said without what a terminal or a runner obeys."""
        with _tamed():
            return super().make_context(*args, **more)

    def invoke(self, ctx: Any) -> Any:
        """The command that was asked for, likewise."""
        with _tamed():
            return super().invoke(ctx)

    def get_help(self, ctx: Any) -> str:
        """The help; the list of input forms is put together only when somebody asks for it."""
        from mixlint.importers import all_titles

        self.epilog = f"Reads {all_titles()}."
        return super().get_help(ctx)


class _Review(Command):
    """The command ``review``, whose help ends with the forms that installed packages bring."""

    def get_help(self, ctx: Any) -> str:
        """The help; packages are looked for only when somebody asks for it."""
        from mixlint.reports.forms import forms_said
        from mixlint.reports.installed import installed_forms

        added = installed_forms()
        self.epilog = f"Installed packages bring these forms too. {forms_said(added)}" if added else None
        return super().get_help(ctx)


app = typer.Typer(
    name="mixlint",
    cls=_Whole,
    help="The checklist linter for music-mix sessions.",
    no_args_is_help=True,
    context_settings={"help_option_names": ["-h", "--help"]},
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)


def _version(asked: bool) -> None:
    if asked:
        typer.echo(f"mixlint {__version__}")
        raise typer.Exit


@app.callback()
def _whole(
    _show: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Show the version and leave.")
    ] = False,
) -> None:
    """The checklist linter for music-mix sessions."""


app.command(cls=_Review)(guarded(review))
app.command(cls=Command)(guarded(watch))
for _command in (sheet, trace, rules, begin, facts, schema, convert, sign, compare, survey):
    app.command(cls=Command)(guarded(_command))


def run() -> None:
    """Run the command line and leave with its exit status."""
    _open_closed_streams()
    try:
        app(prog_name="mixlint")
    except SystemExit as end:
        # The library below leaves with 1 when the reader of a help text is gone; here 1 means held.
        if isinstance(end.__context__, BrokenPipeError):
            sys.exit(UNUSABLE)
        raise
    except OSError as fault:
        say(f"{fault.strerror or fault}.")
        sys.exit(UNUSABLE)
    except Exception:  # noqa: BLE001 - not swallowed: shown in full, with an exit status that cannot mean "held"
        import traceback

        from mixlint.reports.plain import encodable, neutral, without_orders

        lines = (neutral(line) for line in traceback.format_exc().rstrip("\n").split("\n"))
        told = without_orders("".join(f"{line}\n" for line in lines))
        sys.stderr.write(encodable(told, sys.stderr.encoding or "ascii"))
        sys.stderr.write("mixlint: a fault in mixlint itself, not in your session: please report the lines above.\n")
        sys.exit(UNUSABLE)


def _open_closed_streams() -> None:
    """Put the null device where the caller closed a stream (``2>&-``): the exit status is then all that is told.

    Left closed, its number would go to the next file that is opened, and messages would end up in there.
    """
    for number in (0, 1, 2):
        try:
            os.fstat(number)
        except OSError:
            os.open(os.devnull, os.O_RDWR)  # takes the lowest number that is free, which is this one
    if sys.stdout is None:
        sys.stdout = os.fdopen(1, "w", encoding="utf-8", closefd=False)
    if sys.stderr is None:
        sys.stderr = os.fdopen(2, "w", encoding="utf-8", closefd=False)
