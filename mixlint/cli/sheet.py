"""``mixlint sheet``: the channel sheet."""

from __future__ import annotations

from typing import Annotated

import typer

from mixlint.cli.options import FormOption, OutOption, PathArgument, StandardOption, typed

WhyOption = Annotated[
    str | None,
    typer.Option(
        "--why",
        metavar="CHANNEL",
        help="Instead: why this channel, by name or id, has its role, what comes next, and how to overrule it.",
        callback=typed,
    ),
]


def sheet(
    path: PathArgument,
    standard: StandardOption = None,
    why: WhyOption = None,
    form: FormOption = "text",
    out: OutOption = None,
) -> None:
    """Show every channel with role, routing, levels, pans, inserts and its gain to the mix bus."""
    from mixlint.cli.inputs import context_for, one_session_at, standard_for
    from mixlint.cli.out import put_result, refuse_inputs
    from mixlint.facts.channel_sheet import sheet as fill
    from mixlint.facts.channel_why import why as ask
    from mixlint.importers import read
    from mixlint.reports.sheet import sheet_text
    from mixlint.reports.why import why_text

    source = one_session_at(path)
    refuse_inputs(out, [path, source])
    session = read(source)
    with context_for(session, source, standard_for(source, standard).house, audio=False) as context:
        if why is not None:
            told = ask(context, why)
            put_result(told, lambda page: why_text(told, page), form, out)
            return
        found = fill(context)
    put_result(found, lambda page: sheet_text(found, session.title, page), form, out)
