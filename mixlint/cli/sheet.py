"""``mixlint sheet``: the channel sheet."""

from __future__ import annotations

from mixlint.cli.options import FormOption, OutOption, PathArgument, StandardOption


def sheet(
    path: PathArgument, standard: StandardOption = None, form: FormOption = "text", out: OutOption = None
) -> None:
    """Show every channel with role, routing, levels, pans, inserts and its gain to the mix bus."""
    from mixlint.cli.inputs import context_for, one_session_at, standard_for
    from mixlint.cli.out import put_result, refuse_inputs
    from mixlint.facts.channel_sheet import sheet as fill
    from mixlint.importers import read
    from mixlint.reports.sheet import sheet_text

    source = one_session_at(path)
    refuse_inputs(out, [path, source])
    session = read(source)
    with context_for(session, source, standard_for(source, standard).house, audio=False) as context:
        found = fill(context)
    put_result(found, lambda page: sheet_text(found, session.title, page), form, out)
