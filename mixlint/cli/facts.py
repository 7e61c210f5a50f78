"""``mixlint facts``: the vocabulary that rules are written in."""

from __future__ import annotations

from typing import Annotated

import typer

from mixlint.cli.options import FormOption, OutOption


def facts(
    table: Annotated[str | None, typer.Argument(metavar="[TABLE]", help="One table, such as return.")] = None,
    form: FormOption = "text",
    out: OutOption = None,
) -> None:
    """Show every table of facts, each fact's unit, meaning, and how it is known."""
    from mixlint.cli.names import suggestion
    from mixlint.cli.out import put_result
    from mixlint.errors import MixlintError
    from mixlint.facts import TABLES
    from mixlint.reports.fact_list import fact_list, fact_list_text

    if table is not None and table not in TABLES:
        near = suggestion(table, TABLES)
        do = f"perhaps {near} is meant" if near else f"choose one of {', '.join(TABLES)}"
        raise MixlintError(f"there is no table called {table!r}", do=do)
    said = fact_list(TABLES.values() if table is None else [TABLES[table]])
    put_result(said, lambda page: fact_list_text(said, page), form, out)
