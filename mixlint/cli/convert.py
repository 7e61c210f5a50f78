"""``mixlint convert``: any readable session becomes the neutral JSON form."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from mixlint.cli.options import ForceOption, PathArgument


def convert(
    path: PathArgument,
    out: Annotated[Path, typer.Option("--out", metavar="FILE", help="The file to write.")],
    force: ForceOption = False,
) -> None:
    """Write any readable session as neutral JSON, and say what was assumed and what the form loses."""
    from mixlint.cli.out import page, put
    from mixlint.importers import read
    from mixlint.importers.choosing import one_session_at
    from mixlint.reports.notes import conversion_text
    from mixlint.runs.files import refuse_inputs, write

    source = one_session_at(path)
    refuse_inputs(out, [path, source], force=True)  # the same session may be written again
    session = read(source)
    write(session, out, inputs=[path, source], force=force)
    put(conversion_text(session, str(out), page(None)), None)
