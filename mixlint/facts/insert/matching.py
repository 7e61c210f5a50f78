"""How much louder or softer a part comes out of a processor than it goes in: what its bypass would have to be given."""

from __future__ import annotations

from mixlint.analysis.known_chain import chain_run
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.insert.processing import ChannelInsert
from mixlint.session import Unknown, known

FACTS: Facts[ChannelInsert] = Facts()


@FACTS.fact(
    "number",
    "How much louder its part comes out of it than it goes in, K-weighted and gated by what goes in (ITU-R BS.1770-5); "
    "under 0 where it comes out softer. Not known behind a processor that hides its settings.",
    unit="LU",
    how="measured",
)
def louder_lu(row: Row[ChannelInsert]) -> FactValue | Unknown:
    stage = known(known(chain_run(row.context, row.item.channel)).stage(row.item.place))
    louder = stage.louder_lu()
    if isinstance(louder, Unknown):
        return louder
    note = f"taken with {stage.assumed}" if stage.assumed else "as the export shows it"
    return FactValue(louder, "measured", row.subject.where, note)
