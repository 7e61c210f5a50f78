"""With which exit status each command ends, and what that means: said once, for the help and the man page."""

from __future__ import annotations

from typing import Any, Final

from typer.core import TyperCommand

_DONE: Final = ("0", "done")
_UNUSABLE: Final = ("2", "a file, a standard or the command itself cannot be used, or mixlint failed")
_STOPPED: Final = ("130", "stopped from the keyboard; 143 where a signal ended it")

STATUSES: Final[dict[str, tuple[tuple[str, str], ...]]] = {
    "review": (
        ("0", "every session is clear, or asks to look first"),
        ("1", "one session or more is held (--hold-on says from which grade on)"),
        ("2", "a session, a standard or the command itself cannot be used, or mixlint failed; other sessions are told"),
        ("3", "all was reviewed and told, and with --store the store could not be written"),
        _STOPPED,
    ),
    "rules": (
        ("0", "done; with --prove: nothing that was tried came out otherwise than promised"),
        ("1", "with --prove alone: something came out otherwise than promised"),
        _UNUSABLE,
        _STOPPED,
    ),
    "watch": (_UNUSABLE, _STOPPED),
    "compare": (("0", "done, whether or not anything changed"), _UNUSABLE, _STOPPED),
    **dict.fromkeys(
        ("sheet", "trace", "begin", "facts", "schema", "convert", "sign", "survey"), (_DONE, _UNUSABLE, _STOPPED)
    ),
}
"""Command to its exit statuses, each with its meaning."""


class Command(TyperCommand):
    """A command whose help ends with the table of its exit statuses."""

    def format_epilog(self, ctx: Any, formatter: Any) -> None:
        """The table, then what else ends the help."""
        with formatter.section("Exit status"):
            formatter.write_dl(STATUSES[self.name or ""])
        super().format_epilog(ctx, formatter)
