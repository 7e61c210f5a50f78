"""``mixlint trace``: one channel's way to the mix bus."""

from __future__ import annotations

from typing import Annotated

import typer

from mixlint.cli.options import ForceOption, FormOption, OutOption, PathArgument, StandardOption, typed

LOWEST_HZ, HIGHEST_HZ = 1.0, 192_000.0


def trace(
    path: PathArgument,
    channel: Annotated[str, typer.Argument(metavar="CHANNEL", help="The channel's name or id.", callback=typed)],
    at_hz: Annotated[
        float,
        typer.Option("--at", metavar="HZ", help="The frequency the gains hold for.", min=LOWEST_HZ, max=HIGHEST_HZ),
    ] = 1000.0,
    standard: StandardOption = None,
    form: FormOption = "text",
    out: OutOption = None,
    force: ForceOption = False,
) -> None:
    """Follow one channel to the mix bus, stage by stage, with level left and right."""
    from mixlint.analysis.opening import context_for
    from mixlint.cli.inputs import standard_for
    from mixlint.cli.names import channel_called
    from mixlint.cli.out import put_result
    from mixlint.importers import read
    from mixlint.importers.choosing import one_session_at
    from mixlint.reports.trace import trace_text
    from mixlint.routing.trace import trace as follow
    from mixlint.runs.files import refuse_inputs
    from mixlint.session import Unknown

    source = one_session_at(path)
    refuse_inputs(out, [path, source], force=force)
    house = standard_for(source, standard).house
    session = read(source, house.vocabulary)
    strip = channel_called(session, channel, str(path))
    with context_for(session, source, house, audio=False) as context:
        found = follow(context.routing, strip.id, at_hz)
        bus = context.routing.wiring.mix_bus
        unseen = [bus.unknown] if isinstance(bus, Unknown) else []
        unseen += context.routing.unknown_on_the_path.get(strip.id, ())
    put_result(found, lambda page: trace_text(found, page, unseen), form, out, force=force)
