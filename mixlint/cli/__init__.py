"""One file per command: arguments in, exit status out; the only room that prints.

It knows no rule and computes nothing.
"""

from __future__ import annotations

from mixlint.cli import stopping

TYPE_CHECKING = False
"""As in ``typing``, which takes longer to import than all else here."""

if TYPE_CHECKING:
    from collections.abc import Callable

COLLECT_EVERY = 50_000
"""New objects between two searches for cycles. Start-up makes very many that all stay; Python's own 700 searches them
again and again."""


def main(first: Callable[[], None] | None = None) -> None:
    """The command line: ``mixlint`` and ``python -m mixlint``.

    Args:
        first: what is to be done before anything else is imported.
    """
    try:
        stopping.watch()
        if first is not None:
            first()
        _run()
    except stopping.Stopped:
        pass
    except BaseException:
        if stopping.status_met() is None:
            raise
    raise SystemExit(stopping.status_met() or 0)


def _run() -> None:
    import gc
    import os

    gc.set_threshold(COLLECT_EVERY)
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")  # else pydantic looks through all that is installed
    os.environ["PYTHONSAFEPATH"] = "1"  # workers do not take modules from the folder of a stranger's session
    os.environ.setdefault(
        "OPENBLAS_NUM_THREADS", "1"
    )  # for products this small threads take longer to wake than to work
    from mixlint.cli.app import run

    try:
        run()
    finally:
        stopping.leave_be()
