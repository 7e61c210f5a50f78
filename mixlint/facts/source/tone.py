"""The tone of a part: the low cuts and equalizers on its path to the mix bus, and what lies under its lowest note."""

from __future__ import annotations

from collections import Counter
from typing import Final

from mixlint.analysis.activity import overlap_share
from mixlint.analysis.audibility import is_audible
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.counterparts import MATCHING, counterparts
from mixlint.analysis.inserts import active_bands, active_inserts
from mixlint.analysis.partners import partners
from mixlint.analysis.pitches import BODY, LOWEST_NOTES, WEIGHT, lowest_text, part_lowest_hz
from mixlint.analysis.settings import Setting
from mixlint.analysis.tone import (
    TELEPHONE,
    eq_conflict,
    high_passes,
    is_telephone_effect,
    low_cut_attenuation_db,
    low_cut_place,
    low_cuts,
    strips_on_the_path,
)
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.source.rumble import NO_NOTE, UNDER, rumble_db
from mixlint.naming import is_breath, is_upper_layer, reaches_low, stays_high
from mixlint.session import Channel, Unknown, is_known
from mixlint.session.control import moves
from mixlint.units import number_text

CLEAN: Final = Setting(
    "rumble.clean", -30.0, "dB", "A recording with no more than this under its lowest note needs no low cut."
)


FACTS: Facts[Channel] = Facts()


@FACTS.fact("switch", "The export shows a processor somewhere in the session, so that a missing one is missing.")
def processors_exported(row: Row[Channel]) -> bool:
    return any(channel.inserts for channel in row.context.session.channels)


@FACTS.fact("number", "The highest low cut on its path, its groups included; 0 where there is none.", unit="Hz")
def low_cut_hz(row: Row[Channel]) -> FactValue | Unknown:
    found = low_cuts(row.context, row.item)
    if not found.bands and found.hidden:
        return Unknown(
            unknown=f"the settings of {', '.join(found.hidden)} are hidden in the export",
            settle="look at its low cut",
        )
    by = ", ".join(dict.fromkeys(name for _, name in found.bands))
    return FactValue(found.highest_hz, "declared", row.subject.where, f"by {by}" if by else "no low cut on its path")


@FACTS.fact(
    "number",
    "What its recording holds under its lowest note where that is most, relative to all of it.",
    unit="dB",
    how="measured",
    settings=(UNDER, NO_NOTE, *BODY),
)
def under_lowest_db(row: Row[Channel]) -> FactValue | Unknown:
    return rumble_db(row.context, row.item)


@FACTS.fact(
    "switch",
    "No low cut is to be seen on its path, and its recording is measured and clean under its lowest note.",
    how="measured",
    settings=(CLEAN, UNDER, NO_NOTE, *BODY),
)
def clean_by_itself(row: Row[Channel]) -> FactValue:
    if low_cuts(row.context, row.item).bands:
        return FactValue(False, "declared", row.subject.where, "a low cut is there, so its recording was not measured")
    found = rumble_db(row.context, row.item)
    if isinstance(found, Unknown):
        return FactValue(False, "declared", row.subject.where, f"nothing shows that it is clean: {found.unknown}")
    return FactValue(
        found.number <= row.context.setting(CLEAN),
        "measured",
        row.subject.where,
        f"{number_text(found.number, 'dB')} under its lowest note, {found.note}",
    )


@FACTS.fact("number", "The highest low cut on its path that the export shows; 0 where it shows none.", unit="Hz")
def shown_low_cut_hz(row: Row[Channel]) -> FactValue:
    found = low_cuts(row.context, row.item)
    return FactValue(found.highest_hz, "declared", row.subject.where, ", ".join(n for _, n in found.bands))


@FACTS.fact("number", "The lowest high cut of its own strip that the export shows and no automation moves.", unit="Hz")
def shown_high_cut_hz(row: Row[Channel]) -> FactValue | Unknown:
    if any(lane.target.of_insert and moves(lane) for lane in row.item.automation):
        return Unknown(unknown="automation moves its inserts", settle="listen through the song")
    found = [
        (band.freq_hz, insert.name)
        for insert, _ in active_inserts(row.context, row.item)
        for band in active_bands(insert)
        if band.kind == "low-pass" and is_known(band.freq_hz)
    ]
    if not found:
        return Unknown(unknown="the export shows no high cut on its strip")
    hz, by = min(found)
    return FactValue(hz, "declared", row.subject.where, by)


@FACTS.fact(
    "number", "Where its body begins: the lowest note to be expected of it.", unit="Hz", how="assumed", settings=BODY
)
def lowest_note_hz(row: Row[Channel]) -> float | Unknown:
    found = part_lowest_hz(row.context, row.subject.id)
    return Unknown(unknown="no lowest note is to be expected of it") if found is None else found


@FACTS.fact("text", "The same as a note.", how="assumed", settings=BODY)
def lowest_note(row: Row[Channel]) -> str:
    return lowest_text(row.context, row.subject.id)


@FACTS.fact("switch", "Its name tells that it is played or strung higher than its like.")
def named_high(row: Row[Channel]) -> bool:
    return stays_high(row.item.name, row.context.house.vocabulary)


@FACTS.fact("switch", "Its name tells that it is a layer of breath: whispered, or the breaths alone.")
def named_breath(row: Row[Channel]) -> bool:
    return is_breath(row.item.name, row.context.house.vocabulary)


@FACTS.fact("switch", "Its name tells that it is the upper layer of a kick or a bass: grit, click, an amplifier.")
def upper_layer(row: Row[Channel]) -> bool:
    return is_upper_layer(row.item.name, row.context.house.vocabulary)


@FACTS.fact("switch", "Its name tells that it reaches lower than its like: tuned down, or a big drum.")
def named_low(row: Row[Channel]) -> bool:
    return reaches_low(row.item.name, row.context.house.vocabulary)


def _core_hz(row: Row[Channel]) -> float | None:
    """Where the core of a part's sound lies, hertz: an octave above its lowest note, of kick and bass their weight."""
    role = row.context.role(row.subject.id) or ""
    lowest = part_lowest_hz(row.context, row.subject.id)
    return lowest if lowest is None or LOWEST_NOTES.get(role) is WEIGHT else 2.0 * lowest


@FACTS.fact(
    "number",
    "What the low cuts to be seen on its path take an octave above its lowest note; of kick and bass at their weight.",
    unit="dB",
    how="derived",
    settings=BODY,
)
def core_loss_db(row: Row[Channel]) -> FactValue | Unknown:
    hz = _core_hz(row)
    if hz is None:
        return Unknown(unknown="no lowest note is to be expected of it")
    loss = low_cut_attenuation_db(row.context, row.item, hz)
    return FactValue(loss, "derived", row.subject.where, f"at {number_text(hz, 'Hz')}")


@FACTS.fact(
    "switch",
    "Its own low cuts are those of its other half by name or place, and no group on its path cuts higher.",
    how="derived",
    settings=MATCHING,
)
def cut_as_its_half(row: Row[Channel]) -> bool | FactValue:
    context, channel = row.context, row.item
    own = _own_low_cuts(context, channel)
    if not own or max(hz for hz, _ in own) < low_cuts(context, channel).highest_hz:
        return False
    half = partners(context).get(channel.id)
    near = counterparts(context).get(channel.id) if half is None else None
    if near is not None:
        half = context.channels[near.other if near.one == channel.id else near.one]
    if half is None or not is_audible(context, half) or _own_low_cuts(context, half) != own:
        return False
    return FactValue(True, "derived", row.subject.where, f"as on {context.name(half.id)}")


@per_session
def _own_low_cuts(context: SessionContext, channel: Channel) -> tuple[tuple[float, float | None], ...]:
    """The low cuts of a channel's own strip that the export shows, by frequency, hertz, and slope, dB per octave."""
    bands = [band for insert, _ in active_inserts(context, channel) for band in high_passes(insert)]
    slopes = ((band.freq_hz, band.slope_db_per_oct) for band in bands if is_known(band.freq_hz))
    return tuple((hz, slope if is_known(slope) else None) for hz, slope in slopes)


@FACTS.fact(
    "switch",
    "Another part of its role plays with it and keeps more low end: a sub under a mid bass, the inside of a kick.",
    how="derived",
    settings=BODY,
)
def low_end_elsewhere(row: Row[Channel]) -> bool | FactValue:
    context, role = row.context, row.context.role(row.subject.id)
    hz = part_lowest_hz(context, row.subject.id)
    if hz is None:
        return False
    own = low_cut_attenuation_db(context, row.item, hz)
    for other in _heard_by_role(context).get(role, ()):
        if other.id == row.subject.id:
            continue
        keeps_more = _attenuation_db(context, other, hz) < own
        if keeps_more and overlap_share(context, row.subject.id, other.id) > 0.0:
            return FactValue(True, "derived", row.subject.where, f"by {context.name(other.id)}")
    return False


@per_session
def _heard_by_role(context: SessionContext) -> dict[str | None, list[Channel]]:
    """Role → the parts that have it and sound, in desk order."""
    found: dict[str | None, list[Channel]] = {}
    for part in context.session.channels:
        if is_source(context, part) and is_audible(context, part):
            found.setdefault(context.role(part.id), []).append(part)
    return found


@per_session
def _attenuation_db(context: SessionContext, part: Channel, hz: float) -> float:
    """:func:`low_cut_attenuation_db`, which several parts of one role ask of each other at one frequency."""
    return low_cut_attenuation_db(context, part, hz)


@FACTS.fact("switch", "A lowest note is to be expected of it.", how="assumed", settings=(*BODY,))
def has_lowest_note(row: Row[Channel]) -> bool:
    return part_lowest_hz(row.context, row.subject.id) is not None


@FACTS.fact(
    "number",
    "What the low cuts that can be seen on its path take at its lowest note.",
    unit="dB",
    how="derived",
    settings=BODY,
)
def body_loss_db(row: Row[Channel]) -> float | Unknown:
    hz = part_lowest_hz(row.context, row.subject.id)
    if hz is None:
        return Unknown(unknown="no lowest note is to be expected of it")
    return low_cut_attenuation_db(row.context, row.item, hz)


@FACTS.fact(
    "switch", "It is narrowed to a telephone's range on purpose, by a low cut and a high cut.", settings=TELEPHONE
)
def telephone(row: Row[Channel]) -> bool:
    return is_telephone_effect(row.context, row.item)


@FACTS.fact(
    "word",
    "Where its low cut stands among its inserts.",
    words=("before", "after", "none", "no compressor"),
)
def low_cut_order(row: Row[Channel]) -> str | Unknown:
    return low_cut_place(row.context, row.item)


@FACTS.fact("number", "On how many other parts the low cut comes after the compressor.", how="derived")
def low_cut_after_elsewhere(row: Row[Channel]) -> int:
    return _low_cuts(row.context)["after"] - (low_cut_place(row.context, row.item) == "after")


@FACTS.fact("number", "On how many parts the low cut comes before the compressor.", how="derived")
def low_cut_before_elsewhere(row: Row[Channel]) -> int:
    return _low_cuts(row.context)["before"]


@per_session
def _low_cuts(context: SessionContext) -> Counter[str]:
    """How many parts of the song have their low cut where, see :func:`low_cut_place`."""
    places = (low_cut_place(context, one) for one in context.session.channels if is_source(context, one))
    return Counter(place for place in places if isinstance(place, str))


@FACTS.fact("switch", "Both it and a group it passes have an equalizer whose bands the export shows.")
def equalized_twice(row: Row[Channel]) -> bool:
    strips = strips_on_the_path(row.context, row.item)
    shaped = [any(active_bands(insert) for insert, _ in active_inserts(row.context, strip)) for strip in strips]
    return shaped[0] and any(shaped[1:])


@FACTS.fact(
    "number",
    "How far its equalizer and its group's work against each other: the lesser of two opposite moves.",
    unit="dB",
    how="derived",
    once="fought_db",
)
def eq_conflict_db(row: Row[Channel]) -> FactValue:
    found = eq_conflict(row.context, row.item)
    return FactValue(found.db, "derived", row.subject.where, found.text)


FACTS.echo("fought_at", "eq_conflict_db.note")
