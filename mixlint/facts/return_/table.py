"""The table ``return``: effect returns, and the channels that work as one."""

from __future__ import annotations

from collections.abc import Iterator

from mixlint.analysis.ambience import DryLeak, LowCut, dry_leak, effect_of, low_cut
from mixlint.analysis.audibility import feeds_content, is_return
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.gaps import open_by_gap
from mixlint.facts.channel import table as channel_facts
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.facts.return_ import effect as effect_facts
from mixlint.facts.return_.printed import NOT_PRINTED, measured_dry_db, measured_low_cut_db
from mixlint.facts.shared import channel_subject
from mixlint.session import Channel, Unknown


def _rows(context: SessionContext) -> Iterator[tuple[Subject, Channel]]:
    return ((channel_subject(context, c, "return"), c) for c in context.session.channels if is_return(context, c))


RETURN: Table[Channel] = Table(
    "return",
    "Effect returns: declared as such, or fed by a send and holding a reverb or delay.",
    _rows,
    (effect_facts.FACTS,),
)

RETURN.fact("text", "The channel's name.")(channel_facts.name)
RETURN.fact("number", "Fader position; −200 is fully down.", unit="dB")(channel_facts.fader_db)
RETURN.fact("number", "Pan position, −100 left to +100 right.", unit="pan")(channel_facts.pan)


@RETURN.fact("switch", "Something that plays feeds it, and it is not muted.", how="derived")
def fed(row: Row[Channel]) -> bool | Unknown:
    gap = open_by_gap(row.context, "sends")
    if gap is not None:
        return gap
    wiring = row.context.routing.wiring
    feeds = [e for e in wiring.arriving.get(row.subject.id, ()) if e.source != row.subject.id and wiring.audible(e)]
    if any(feeds_content(row.context, e.source) for e in feeds):
        return True
    # What sends to it may itself be fed by outputs that the export dropped.
    return (open_by_gap(row.context, "outputs", "groups") if feeds else None) or False


@RETURN.fact(
    "word",
    "What the return is for.",
    how="derived",
    words=("reverb", "delay", "modulation", "other"),
)
def effect(row: Row[Channel]) -> str | Unknown:
    return effect_of(row.context, row.item)


def _leak(row: Row[Channel]) -> DryLeak | Unknown:
    return _declared_or_measured(row.context, row.item)


@per_session
def _declared_or_measured(context: SessionContext, channel: Channel) -> DryLeak | Unknown:
    """What the export declares; where it hides it, what the return's print shows."""
    declared = dry_leak(context, channel)
    if isinstance(declared, DryLeak):
        return declared
    heard = measured_dry_db(context, channel)
    if isinstance(heard, Unknown):
        return declared if heard is NOT_PRINTED else heard
    return DryLeak(heard, "measured in the return's print", known="measured")


@RETURN.fact("number", "Dry signal at its output relative to the wet part; a plain copy counts as 0 dB.", unit="dB")
def dry_db(row: Row[Channel]) -> FactValue | Unknown:
    leak = _leak(row)
    if isinstance(leak, Unknown):
        return leak
    return FactValue(leak.db, leak.known, leak.where or row.subject.where, leak.how)


@RETURN.fact("text", "How the dry signal comes about.")
def dry_how(row: Row[Channel]) -> FactValue | Unknown:
    leak = _leak(row)
    if isinstance(leak, Unknown):
        return leak
    return FactValue(leak.how, leak.known, leak.where or row.subject.where)


def _cut(row: Row[Channel]) -> LowCut | Unknown:
    return _seen_or_measured_cut(row.context, row.item)


@per_session
def _seen_or_measured_cut(context: SessionContext, channel: Channel) -> LowCut | Unknown:
    """What the filters that can be seen take; where one is hidden, what the return's print has lost."""
    seen = low_cut(context, channel)
    if isinstance(seen, LowCut):
        return seen
    heard = measured_low_cut_db(context, channel)
    if isinstance(heard, Unknown):
        return seen if heard is NOT_PRINTED else heard
    return LowCut(heard, ("measured in the return's print",), "measured")


@RETURN.fact(
    "number",
    "What the filters on the ambience path take at 60 Hz relative to 1 kHz.",
    unit="dB",
    how="derived",
)
def low_cut_db(row: Row[Channel]) -> FactValue | Unknown:
    cut = _cut(row)
    if isinstance(cut, Unknown):
        return cut
    return FactValue(
        cut.db,
        cut.known,
        row.subject.where,
        f"by {', '.join(cut.by)}" if cut.by else "no low cut on the path",
    )


@RETURN.fact("switch", "A processor sits in it.")
def equipped(row: Row[Channel]) -> bool:
    channel = row.item
    return bool(channel.inserts)


@RETURN.fact("switch", "It is muted, and no automation releases the mute.")
def muted(row: Row[Channel]) -> bool | FactValue | Unknown:
    return channel_facts.muted(row)
