"""``mixlint facts``: the vocabulary that rules are written in, and what a session answers."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from mixlint.cli.options import ForceOption, FormOption, OutOption, StandardOption


def facts(
    table: Annotated[str | None, typer.Argument(metavar="[TABLE]", help="One table, such as return.")] = None,
    names: Annotated[
        list[str] | None, typer.Argument(metavar="[FACT]...", help="With --of: only these facts of the table.")
    ] = None,
    of: Annotated[
        Path | None,
        typer.Option("--of", metavar="PATH", help="What the table says of this session, row by row, in its place."),
    ] = None,
    standard: StandardOption = None,
    no_audio: Annotated[bool, typer.Option("--no-audio", help="Open no audio; estimate from the settings.")] = False,
    form: FormOption = "text",
    out: OutOption = None,
    force: ForceOption = False,
) -> None:
    """Show every table of facts, each fact's unit, meaning, and how it is known; or what they say of a session."""
    from mixlint.cli.out import put_result
    from mixlint.errors import MixlintError
    from mixlint.facts.installed import vocabulary
    from mixlint.reports.fact_list import fact_list, fact_list_text
    from mixlint.runs.ask import table_called

    if of is not None:
        if table is None:
            raise MixlintError("a session is asked one table at a time", where="--of", do="name the table, as return")
        _asked(of, table, names or [], standard, form, out, audio=not no_audio, force=force)
        return
    if names:
        raise MixlintError("facts are asked of a session", do="name it with --of PATH")
    said = fact_list(vocabulary().values() if table is None else [table_called(table)])
    put_result(said, lambda page: fact_list_text(said, page), form, out, force=force)


def _asked(
    of: Path,
    table: str,
    names: list[str],
    standard: str | None,
    form: str,
    out: Path | None,
    *,
    audio: bool,
    force: bool,
) -> None:
    """Ask one session and write what it answers."""
    from mixlint.cli.inputs import standard_for
    from mixlint.cli.out import put_result
    from mixlint.importers.choosing import one_session_at
    from mixlint.media.workers import cores
    from mixlint.reports.fact_rows import asked_rows, asked_rows_text
    from mixlint.runs.ask import ask, table_called
    from mixlint.runs.files import refuse_inputs

    source = one_session_at(of)
    refuse_inputs(out, [of, source], force=force)
    rows = ask(source, table, *names, standard=standard_for(source, standard), audio=audio, workers=cores())
    said = asked_rows(table_called(table), ((row.subject, row.answers) for row in rows))
    put_result(said, lambda page: asked_rows_text(said, page), form, out, force=force)
