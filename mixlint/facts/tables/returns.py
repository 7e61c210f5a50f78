"""The table ``return``: effect returns, and the channels that work as one."""

from __future__ import annotations

from collections.abc import Iterator

from mixlint.facts.declare import Answer, Row, Table
from mixlint.facts.tables import channel as channel_facts
from mixlint.facts.tables.common import channel_row
from mixlint.session import Channel, Unknown
from mixlint.study.ambience import DryLeak, LowCut, dry_leak, effect_of, low_cut
from mixlint.study.desk import Desk
from mixlint.study.gaps import open_by_gap
from mixlint.study.parts import feeds_content, is_return
from mixlint.study.printed import NOT_PRINTED, measured_dry_db, measured_low_cut_db


def _rows(desk: Desk) -> Iterator[Row]:
    return (channel_row(desk, c, "return") for c in desk.session.channels if is_return(desk, c))


RETURN: Table[Row] = Table(
    "return", "Effect returns: declared as such, or fed by a send and holding a reverb or delay.", _rows
)

RETURN.fact("text", "The channel's name.")(channel_facts.name)
RETURN.fact("number", "Fader position; −200 is fully down.", unit="dB")(channel_facts.fader_db)
RETURN.fact("number", "Pan position, −100 left to +100 right.", unit="pan")(channel_facts.pan)


@RETURN.fact("switch", "Something that plays feeds it, and it is not muted.", how="derived")
def fed(row: Row) -> bool | Unknown:
    gap = open_by_gap(row.desk, "sends")
    if gap is not None:
        return gap
    wiring = row.desk.routing.wiring
    feeds = [e for e in wiring.arriving.get(row.subject.id, ()) if e.source != row.subject.id and wiring.audible(e)]
    if any(feeds_content(row.desk, e.source) for e in feeds):
        return True
    # What sends to it may itself be fed by outputs that the export dropped.
    return (open_by_gap(row.desk, "outputs", "groups") if feeds else None) or False


@RETURN.fact(
    "word",
    "What the return is for.",
    how="derived",
    words=("reverb", "delay", "modulation", "other"),
)
def effect(row: Row) -> str | Unknown:
    return effect_of(row.desk, row.item)


def _leak(row: Row) -> DryLeak | Unknown:
    return row.desk.remembered(f"dry leak {row.subject.id}", lambda: _declared_or_measured(row))


def _declared_or_measured(row: Row) -> DryLeak | Unknown:
    """What the export declares; where it hides it, what the return's print shows."""
    declared = dry_leak(row.desk, row.item)
    if isinstance(declared, DryLeak):
        return declared
    heard = measured_dry_db(row.desk, row.item)
    if isinstance(heard, Unknown):
        return declared if heard is NOT_PRINTED else heard
    return DryLeak(heard, "measured in the return's print", known="measured")


@RETURN.fact("number", "Dry signal at its output relative to the wet part; a plain copy counts as 0 dB.", unit="dB")
def dry_db(row: Row) -> Answer | Unknown:
    leak = _leak(row)
    if isinstance(leak, Unknown):
        return leak
    return Answer(leak.db, leak.known, leak.where or row.subject.where, leak.how)


@RETURN.fact("text", "How the dry signal comes about.")
def dry_how(row: Row) -> Answer | Unknown:
    leak = _leak(row)
    if isinstance(leak, Unknown):
        return leak
    return Answer(leak.how, leak.known, leak.where or row.subject.where)


def _cut(row: Row) -> LowCut | Unknown:
    return row.desk.remembered(f"low cut {row.subject.id}", lambda: _seen_or_measured_cut(row))


def _seen_or_measured_cut(row: Row) -> LowCut | Unknown:
    """What the filters that can be seen take; where one is hidden, what the return's print has lost."""
    seen = low_cut(row.desk, row.item)
    if isinstance(seen, LowCut):
        return seen
    heard = measured_low_cut_db(row.desk, row.item)
    if isinstance(heard, Unknown):
        return seen if heard is NOT_PRINTED else heard
    return LowCut(heard, ("measured in the return's print",), "measured")


@RETURN.fact(
    "number",
    "What the filters on the ambience path take at 60 Hz relative to 1 kHz.",
    unit="dB",
    how="derived",
)
def low_cut_db(row: Row) -> Answer | Unknown:
    cut = _cut(row)
    if isinstance(cut, Unknown):
        return cut
    return Answer(
        cut.db,
        cut.known,
        row.subject.where,
        f"by {', '.join(cut.by)}" if cut.by else "no low cut on the path",
    )


@RETURN.fact("switch", "A processor sits in it.")
def equipped(row: Row) -> bool:
    channel: Channel = row.item
    return bool(channel.inserts)


@RETURN.fact("switch", "It is muted, and no automation releases the mute.")
def muted(row: Row) -> Answer | Unknown:
    return channel_facts.CHANNEL.answer(row, "muted")
