"""How much louder or softer a part comes out of a processor than it goes in: what its bypass would have to be given."""

from __future__ import annotations

from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.computed_mix import bus_stage
from mixlint.analysis.context import SessionContext
from mixlint.analysis.known_chain import Stage, chain_run
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.insert.processing import ChannelInsert
from mixlint.session import Unknown, known

FACTS: Facts[ChannelInsert] = Facts()


def _stage_of(context: SessionContext, at: ChannelInsert) -> Stage | Unknown:
    """A processor as it was heard: on the sound of its part, or on the sum that comes to its bus."""
    if not is_source(context, at.channel):
        return bus_stage(context, at.channel, at.place)
    run = chain_run(context, at.channel)
    return run if isinstance(run, Unknown) else run.stage(at.place)


@FACTS.fact(
    "number",
    "How much louder its part, or the sum on its bus, comes out of it than it goes in, K-weighted and gated by what "
    "goes in (ITU-R BS.1770-5); under 0 where softer. Not known behind a processor that hides its settings.",
    unit="LU",
    how="measured",
)
def louder_lu(row: Row[ChannelInsert]) -> FactValue | Unknown:
    stage = known(_stage_of(row.context, row.item))
    louder = stage.louder_lu()
    if isinstance(louder, Unknown):
        return louder
    note = f"taken with {stage.assumed}" if stage.assumed else "as the export shows it"
    return FactValue(louder, "measured", row.subject.where, note)
