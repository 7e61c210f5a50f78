"""One file per command: arguments in, exit status out; the only room that prints.

It knows no rule and computes nothing.
"""

from __future__ import annotations

import gc
import os
from typing import Final

COLLECT_EVERY: Final = 50_000
"""New objects between two searches for cycles. Start-up makes very many that all stay; Python's own 700 searches them
again and again."""


def main() -> None:
    """The command line: ``mixlint`` and ``python -m mixlint``."""
    gc.set_threshold(COLLECT_EVERY)
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")  # else pydantic looks through all that is installed
    os.environ["PYTHONSAFEPATH"] = "1"  # workers do not take modules from the folder of a stranger's session
    from mixlint.cli.app import run

    run()
