"""What every command shares: bad input ends with a message and exit status 2, never with a traceback."""

from __future__ import annotations

import functools
import os
import sys
from collections.abc import Callable
from typing import ParamSpec

import typer

from mixlint.cli.stopping import STOPPED
from mixlint.errors import MixlintError, RulebookError
from mixlint.extensions import faults
from mixlint.notices import notices

UNUSABLE = 2
NOT_STORED = 3
"""All was reviewed and told, and the store could not be written."""

P = ParamSpec("P")


def guarded(command: Callable[P, None]) -> Callable[P, None]:
    """``command`` with its foreseen faults turned into a message on stderr and an exit status.

    A fault that is none of these is a fault of mixlint itself and is left to show its traceback.
    """

    @functools.wraps(command)
    def run(*args: P.args, **kwargs: P.kwargs) -> None:
        try:
            command(*args, **kwargs)
            sys.stdout.flush()
            _tell_in_passing()
        except typer.Exit:
            _tell_in_passing()
            raise
        except MixlintError as fault:
            complain(fault)
            _tell_in_passing()
            raise typer.Exit(UNUSABLE) from None
        except BrokenPipeError:
            say("the reader of the output went away before the end.")
            raise typer.Exit(UNUSABLE) from None
        except OSError as fault:
            say(f"{_place(fault)}{fault.strerror or fault}.")
            raise typer.Exit(UNUSABLE) from None
        except KeyboardInterrupt:
            say("stopped.")
            raise typer.Exit(STOPPED) from None

    return run


def _tell_in_passing() -> None:
    """Put on stderr which installed packages could not be used, and other notices; no result hangs on any of it."""
    for one in faults():
        say(f"{one}. All else works without it.")
    for text in notices():
        say(f"{text}.")


def complain(fault: MixlintError) -> None:
    """Put a foreseen fault on stderr: where, what, and what to do."""
    if isinstance(fault, RulebookError):
        say("\n".join([str(fault).splitlines()[0], *(f"  {str(one).removeprefix(': ')}" for one in fault.faults)]))
    else:
        say(str(fault))


def say(text: str) -> None:
    """Put one message on stderr, made safe for a terminal; a line feed in it indents what follows."""
    from mixlint.reports.plain import encodable, neutral, without_orders
    from mixlint.runs.paths import as_named

    body = without_orders("\n".join(neutral(line) for line in as_named(text).split("\n")))
    sys.stderr.write(encodable(f"mixlint: {body}\n", sys.stderr.encoding or "ascii"))
    sys.stderr.flush()


def _place(fault: OSError) -> str:
    if fault.filename is None:
        return ""
    return f"{os.fsdecode(fault.filename)}: "
