"""``mixlint schema``: the JSON Schemas of what mixlint reads and writes."""

from __future__ import annotations

from typing import Annotated

import typer

from mixlint.cli.options import ForceOption, OutOption


def schema(
    name: Annotated[str | None, typer.Argument(metavar="[NAME]", help="One schema, such as session.")] = None,
    out: OutOption = None,
    force: ForceOption = False,
) -> None:
    """List the JSON Schemas of all files and reports, or print one, for editors and programs."""
    from mixlint.cli.out import page, put
    from mixlint.reports.schema_list import schema_list_text
    from mixlint.runs.schemas import schema_text, schema_titles

    if name is None:
        put(schema_list_text(schema_titles(), page(out)), out, force=force, form="text")
    else:
        put(schema_text(name), out, exact=True, force=force)
