"""Where a parallel bus and what belongs in a stem should go, and what they go past."""

from __future__ import annotations

from mixlint.analysis.bus_purpose import STEMS, bypass_of, past_the_stems
from mixlint.analysis.gaps import GAP_SETTINGS, unknown_by_gap
from mixlint.facts.declare import Facts, Row
from mixlint.session import Channel, Unknown

FACTS: Facts[Channel] = Facts()


@FACTS.fact("text", "The group that all its sources go through and it does not, for a parallel bus; or none.",
            how="derived", settings=GAP_SETTINGS)  # fmt: skip
def goes_past(row: Row[Channel]) -> str | Unknown:
    found = bypass_of(row.context, row.item)
    if found is None:
        return "none"
    return _unknown_output(row) or row.context.name(found.group.id)


def _unknown_output(row: Row[Channel]) -> Unknown | None:
    """Why it is not known where the channel puts out to: the export hides it, or gives none, and one was assumed."""
    if isinstance(row.item.output, Unknown):
        return Unknown(unknown=f"the output: {row.item.output.unknown}", settle="look at its output")
    if any(note.assumes == "output" and note.about == row.subject.id for note in row.context.session.notes):
        return Unknown(unknown="the export gives no output, and one was assumed", settle="look at its output")
    return unknown_by_gap(row.context, "outputs", "groups")


@FACTS.fact(
    "switch",
    "That group is a stem, or another return or parallel bus of the same parts goes through it.",
    how="derived",
)
def goes_past_alone(row: Row[Channel]) -> bool:
    found = bypass_of(row.context, row.item)
    return found is not None and found.graver


@FACTS.fact(
    "switch",
    "The session is mixed through stems, and this strip leads into the mix bus past them.",
    how="derived",
    settings=(*STEMS, *GAP_SETTINGS),
)
def past_stems(row: Row[Channel]) -> bool | Unknown:
    past = row.subject.id in past_the_stems(row.context)
    return (_unknown_output(row) if past else None) or past
