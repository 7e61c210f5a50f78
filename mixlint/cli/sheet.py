"""``mixlint sheet``: the channel sheet."""

from __future__ import annotations

from typing import Annotated

import typer

from mixlint.cli.options import FormOption, OutOption, PathArgument, StandardOption

WhyOption = Annotated[
    str | None,
    typer.Option(
        "--why",
        metavar="CHANNEL",
        help="Instead: why this channel, by name or id, has its role, what comes next, and how to overrule it.",
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
    from mixlint.analysis.opening import context_for
    from mixlint.cli.inputs import standard_for
    from mixlint.cli.out import put_result
    from mixlint.facts.channel_sheet import sheet as fill
    from mixlint.facts.channel_why import why as ask
    from mixlint.importers import read
    from mixlint.importers.choosing import one_session_at
    from mixlint.reports.sheet import sheet_text
    from mixlint.reports.why import why_text
    from mixlint.runs.files import refuse_inputs

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
