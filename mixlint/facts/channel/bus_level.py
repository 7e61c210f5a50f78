"""Where the faders of groups stand against each other, and what goes through a group."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.activity import moment_text
from mixlint.analysis.audibility import is_audible
from mixlint.analysis.automation_range import highest_automated, position_of
from mixlint.analysis.channel_purpose import carries_content, is_parallel, is_source, is_utility
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.levels import PROGRAM_PEAK, bus_peak
from mixlint.analysis.settings import Setting
from mixlint.analysis.spectrum import SPECTRUM_SETTINGS
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.shared import UNREAD
from mixlint.naming import FAMILIES, ROLES
from mixlint.routing.strips import level_gain
from mixlint.session import FADER, Channel, Unknown, control_of, is_known, known
from mixlint.units import SILENCE_DB, number_text

FACTS: Facts[Channel] = Facts()

ENOUGH_GROUPS: Final = 3
"""Of two groups nothing tells which one is out of line, so that it takes three for a median: a definition."""

DOWN_DB: Final = -60.0
"""A group at or under this is off, and says nothing of where groups stand: a bound, no verdict of its own asks it."""


@FACTS.fact("number", "The highest its fader goes, with the gains of its processors that are known.", unit="dB")
def bus_gain_db(row: Row[Channel]) -> FactValue | Unknown:
    found = _bus_gain(row.context, row.item)
    return found if isinstance(found, Unknown) else FactValue(found, "derived", row.subject.where)


@FACTS.fact(
    "number",
    "How far that lies under the median of the session's groups, or under 0 dB where there are fewer than three.",
    unit="dB",
    how="derived",
)
def under_other_groups_db(row: Row[Channel]) -> FactValue | Unknown:
    from mixlint.signal.median import median

    own = _bus_gain(row.context, row.item)
    if isinstance(own, Unknown):
        return own
    groups = _groups(row.context)
    enough = len(groups) >= ENOUGH_GROUPS
    usual = median(list(groups.values())) if enough else 0.0
    note = f"the groups here stand about {number_text(usual, 'dB')}" if enough else "groups commonly stand about 0 dB"
    return FactValue(usual - own, "derived", row.subject.where, note)


@FACTS.fact(
    "number",
    "The highest peak to be expected behind its fader, from those of the parts that go through it.",
    unit="dBFS",
    how="measured",
    settings=(PROGRAM_PEAK, *SPECTRUM_SETTINGS),
)
def expected_peak_dbfs(row: Row[Channel]) -> FactValue:
    found = known(bus_peak(row.context, row.item))
    where = moment_text(row.context, found.at_s)
    return FactValue(found.dbfs, "measured" if found.measured else "assumed", where, where)


@FACTS.fact(
    "switch",
    "The peaks of all those parts are measured.",
    how="derived",
    settings=(PROGRAM_PEAK, *SPECTRUM_SETTINGS),
)
def peaks_measured(row: Row[Channel]) -> bool:
    return known(bus_peak(row.context, row.item)).measured


@FACTS.fact(
    "text",
    "How high it peaks, for a reader.",
    how="measured",
    settings=(PROGRAM_PEAK, *SPECTRUM_SETTINGS),
)
def bus_peak_text(row: Row[Channel]) -> str:
    summed = row.value("summed_peak_dbfs")
    if isinstance(summed, FactValue):
        return f"peaks at {number_text(summed.number, 'dBFS')} in {summed.note}"
    found = row.need("expected_peak_dbfs")
    return f"is to be expected to peak at {number_text(found.number, 'dBFS')}, in {found.note}"


@FACTS.fact("switch", "It is a parallel bus, by its name or by the house.", how="derived")
def mixed_in_parallel(row: Row[Channel]) -> bool:
    return is_parallel(row.context, row.item)


@FACTS.fact(
    "number",
    "How loud a parallel bus comes back against what is sent to it: its highest send, its fader and the gains of its "
    "processors together.",
    unit="dB",
    how="derived",
)
def parallel_gain_db(row: Row[Channel]) -> float | Unknown:
    context, channel = row.context, row.item
    if not is_parallel(context, channel):
        return Unknown(unknown="it is no parallel bus")
    edges = context.routing.wiring.arriving.get(channel.id, ())
    levels = [edge.level_db if edge.kind == "send" else 0.0 for edge in edges if context.routing.wiring.audible(edge)]
    known_levels = [level for level in levels if is_known(level)]
    if not known_levels:
        return Unknown(unknown="nothing of a known level is sent to it")
    return max(known_levels) + known(_bus_gain(context, channel))


SPREAD: Final = Setting(
    "groups.spread", 20.0, "pan distance", "A group whose parts stand this far apart or further spreads them itself."
)


@FACTS.fact("switch", "The parts that go out to it are spread by their own pans.", how="derived", settings=(SPREAD,))
def spread_inside(row: Row[Channel]) -> bool:
    context = row.context
    arriving = context.routing.wiring.arriving.get(row.subject.id, ())
    found = [position_of(context, context.channels[edge.source]) for edge in arriving if edge.kind == "output"]
    places = [place for place in found if is_known(place)]
    return len(places) > 1 and max(places) - min(places) >= context.setting(SPREAD)


@FACTS.fact("list", "The families of the parts that go through it.", how="derived", words=(*FAMILIES, UNREAD))
def carried_families(row: Row[Channel]) -> tuple[str, ...]:
    return tuple(sorted({row.context.family(part.id) or UNREAD for part in _carried_parts(row)}))


@FACTS.fact("list", "The roles of the parts that go through it.", how="derived", words=(*ROLES, UNREAD))
def carried_roles(row: Row[Channel]) -> tuple[str, ...]:
    return tuple(sorted({row.context.role_word(part.id) or UNREAD for part in _carried_parts(row)}))


def _carried_parts(row: Row[Channel]) -> list[Channel]:
    """The parts that go through a channel by their outputs."""
    context = row.context
    by_outputs = context.routing.wiring.upstream([row.subject.id], lambda edge: edge.kind == "output")
    return [c for c in context.session.channels if c.id in by_outputs - {row.subject.id} and is_source(context, c)]


@per_session
def _bus_gain(context: SessionContext, channel: Channel) -> float | Unknown:
    """The highest position of a fader while something plays, with the known gains of its processors, dB."""
    from math import log10

    extreme = highest_automated(context, channel, FADER)
    level = control_of(channel, FADER).now if extreme is None else extreme.value
    gain = level_gain(channel)
    if isinstance(level, Unknown):
        return level
    return level + 20.0 * log10(gain) if level > SILENCE_DB and gain > 0.0 else SILENCE_DB


@per_session
def _groups(context: SessionContext) -> dict[str, float]:
    """Group id → its gain, for the groups of the song that are up."""
    found = {}
    for channel in context.session.channels:
        if channel.kind == "group" and carries_content(context, channel.id) and not is_utility(context, channel):
            gain = _bus_gain(context, channel)
            if not isinstance(gain, Unknown) and gain > DOWN_DB and is_audible(context, channel):
                found[channel.id] = gain
    return found
