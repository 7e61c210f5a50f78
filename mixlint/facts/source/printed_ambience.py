"""How far the ambience of a part lies under its dry sound at the mix bus, by the sound of its prints."""

from __future__ import annotations

from mixlint.analysis.gaps import GAP_SETTINGS
from mixlint.analysis.printed_ambience import PRINT_IT, printed_ambience, sounding_prints
from mixlint.analysis.return_prints import READING_SETTINGS
from mixlint.analysis.spectrum import SPECTRUM_SETTINGS
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.source.ambience import NO_AMBIENCE, ambience_of
from mixlint.session import Channel, Unknown, known
from mixlint.units import few_text, number_text

FACTS: Facts[Channel] = Facts()


@FACTS.fact(
    "number",
    "How far its printed ambience lies under its dry sound at the mix bus while that sounds, K-weighted; under 0 where "
    "the ambience is louder. Not known where a return that plays live adds to it.",
    unit="LU",
    how="measured",
    settings=(*SPECTRUM_SETTINGS, *GAP_SETTINGS, *READING_SETTINGS),
)
def ambience_under_dry_lu(row: Row[Channel]) -> FactValue | Unknown:
    context, part = row.context, row.item
    live = ambience_of(context, part)
    if live is not NO_AMBIENCE:
        known(live)
        returns = row.need("ambience_from").value
        return Unknown(
            unknown=f"its ambience plays live ({returns}): how loud it comes out is not in the export", settle=PRINT_IT
        )
    if not sounding_prints(context, part):
        return NO_AMBIENCE
    found = known(printed_ambience(context, part))
    away = number_text(abs(found.over_dry_lu), "LU")
    note = f"{away} {'over' if found.over_dry_lu > 0.0 else 'under'} its dry sound, by "
    note += few_text([context.name(one.id) for one in found.prints])
    if found.shared:
        note += ", of which it has a share"
    if found.taken:
        note += f"; {few_text(list(found.taken))} taken to leave the level"
    return FactValue(-found.over_dry_lu, "measured", row.subject.where, note)


@FACTS.fact(
    "switch",
    "Other parts feed its printed ambience, too, so that its share of it is an estimate: of made parts good to 2 LU.",
    how="derived",
    settings=(*SPECTRUM_SETTINGS, *GAP_SETTINGS, *READING_SETTINGS),
)
def ambience_shared(row: Row[Channel]) -> bool:
    return known(printed_ambience(row.context, row.item)).shared
