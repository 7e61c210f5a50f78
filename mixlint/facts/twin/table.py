"""The table ``twin``: channels that play one recording at the same time, wherever they are panned."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import log10

from mixlint.analysis.activity import span_text
from mixlint.analysis.context import SessionContext
from mixlint.analysis.gain_to_mix_bus import RATIO_LIMIT_DB
from mixlint.analysis.paths import need_gain, paths_of
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.facts.shared import UNREAD, channel_subject
from mixlint.facts.twin.twins import EVIDENCE, TWIN_SETTINGS, Twins, twins
from mixlint.naming import FAMILIES, ROLES, copied_from
from mixlint.units import few_text


def _rows(context: SessionContext) -> Iterator[tuple[Subject, Twins]]:
    for found in twins(context):
        first = channel_subject(context, found.channels[0], "twin")
        ids = tuple(channel.id for channel in found.channels)
        yield replace(first, name=few_text([context.name(one) for one in ids]), channels=ids), found


TWIN: Table[Twins] = Table(
    "twin",
    "Channels that play one recording at the same time in the mix, one row for each recording; counterparts on either "
    "side, prints beside their source, and copies that are processed unlike are left out.",
    _rows,
    settings=TWIN_SETTINGS,
)


@TWIN.fact("text", "The channels.")
def name(row: Row[Twins]) -> str:
    return row.subject.name


@TWIN.fact("number", "How many channels play it.", how="derived")
def count(row: Row[Twins]) -> int:
    return len(row.item.channels)


@TWIN.fact("word", "The part the first of them plays, or unread.", how="derived", words=(*ROLES, UNREAD))
def part(row: Row[Twins]) -> str:
    return row.context.role_word(row.item.channels[0].id) or UNREAD


@TWIN.fact("word", "The family of the first of them, or unread.", how="derived", words=(*FAMILIES, UNREAD))
def part_family(row: Row[Twins]) -> str:
    return row.context.family(row.item.channels[0].id) or UNREAD


@TWIN.fact(
    "word", "How it shows: by one file on all of them, by a name that says it is a copy, or by two files that agree.",
    how="derived", words=EVIDENCE, settings=TWIN_SETTINGS,
)  # fmt: skip
def evidence(row: Row[Twins]) -> FactValue:
    shown = row.item.shown
    twin = next((one for one in shown if one.evidence == "one-file"), shown[0])
    where = span_text(row.context, twin.start_s, twin.end_s)
    if twin.evidence == "two-files-compared":
        turned = ", one turned over" if twin.turned else ""
        how = f"two files that agree by {twin.agreement:.2f}, {1000.0 * twin.lag_s:.1f} ms apart{turned}"
        return FactValue(twin.evidence, "measured", where, how)
    how = "one file" if twin.evidence == "one-file" else "the same clips"
    return FactValue(twin.evidence, "derived", where, how)


@TWIN.fact("switch", "The name of one of them says that it is a copy.", how="derived")
def copied(row: Row[Twins]) -> bool:
    words = row.context.house.vocabulary
    return any(copied_from(channel.name, words) is not None for channel in row.item.channels)


@TWIN.fact("number", "How far apart they are at most.", unit="ms", how="derived")
def apart_ms(row: Row[Twins]) -> float:
    return 1000.0 * max(twin.lag_s for twin in row.item.shown)


@TWIN.fact(
    "number",
    "How much louder they are together than the loudest of them alone, as coherent copies add, pans aside.",
    unit="dB",
    how="derived",
)
def added_db(row: Row[Twins]) -> float:
    for channel in row.item.channels:
        need_gain(row.context, channel.id)
    gains = [paths_of(row.context)[channel.id].strongest for channel in row.item.channels]
    loudest = max(gains)
    if loudest <= 0.0:
        return 0.0
    turned = {twin.other.id for twin in row.item.shown if twin.turned}
    ids = [channel.id for channel in row.item.channels]
    total = abs(sum(-gain if one in turned else gain for one, gain in zip(ids, gains, strict=True)))
    return max(-RATIO_LIMIT_DB, 20.0 * log10(max(total, 1e-12) / loudest))
