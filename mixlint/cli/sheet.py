"""``mixlint sheet``: the channel sheet."""

from __future__ import annotations

from typing import Annotated

import typer

from mixlint.cli.options import ForceOption, OutOption, PathArgument, SheetFormOption, StandardOption, typed

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
    form: SheetFormOption = "text",
    out: OutOption = None,
    force: ForceOption = False,
) -> None:
    """Show every channel with role, routing, levels, pans, inserts and its gain to the mix bus."""
    from mixlint.analysis.opening import context_for
    from mixlint.cli.inputs import standard_for, tell_unread
    from mixlint.cli.out import put, put_result
    from mixlint.facts.channel_sheet import sheet as fill
    from mixlint.facts.channel_why import why as ask
    from mixlint.importers import read
    from mixlint.importers.choosing import one_session_at
    from mixlint.reports.forms import LIST_FORMS
    from mixlint.reports.sheet import sheet_text
    from mixlint.reports.why import why_text
    from mixlint.runs.files import refuse_inputs

    source = one_session_at(path)
    refuse_inputs(out, [path, source], force=force or form in LIST_FORMS)  # the same list may be written again
    house = standard_for(source, standard).house
    session = read(source, house.vocabulary)
    tell_unread(session, source)
    if form in LIST_FORMS and why is None:
        from mixlint.reports.channel_list import list_text

        # A mark at its beginning tells a spreadsheet that a file is UTF-8.
        put(("\ufeff" if out is not None else "") + list_text(session, form), out, exact=True, force=force)
        return
    with context_for(session, source, house, audio=False) as context:
        if why is not None:
            told = ask(context, why)
            put_result(told, lambda page: why_text(told, page), form, out, force=force)
            return
        found = fill(context)
    put_result(found, lambda page: sheet_text(found, session.title, page), form, out, force=force)
