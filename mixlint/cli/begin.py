"""``mixlint begin``: the start of a house's standard, beside its sessions."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer


def begin(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="The folder that holds the sessions.")],
) -> None:
    """Write a standard to start from, and say what to do next; nothing is overwritten."""
    from mixlint.cli.out import page, put
    from mixlint.reports.starter import begun_text
    from mixlint.runs.begin import begin as begun_in

    begun = begun_in(folder)
    put(begun_text(begun, page(None)), None)
