"""The ambience of a part: how much of it there is, from which side it comes, and what low end it keeps."""

from __future__ import annotations

from typing import Final, NamedTuple

from mixlint.analysis.automation_range import position_of
from mixlint.analysis.channel_purpose import is_return
from mixlint.analysis.context import LOW_HZ, MID, MID_HZ, SessionContext, per_session
from mixlint.analysis.gain_to_mix_bus import curve_extreme, gain_curves_of, power_ratio_db
from mixlint.analysis.gaps import GAP_SETTINGS, unknown_by_gap
from mixlint.analysis.paths import unknown_gain, unknown_wet_share
from mixlint.analysis.settings import Setting
from mixlint.analysis.spectrum import SPECTRUM_SETTINGS
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.naming import name_without_side
from mixlint.routing import Edge, insert_chain
from mixlint.session import PAN, Channel, NotKnown, Unknown, control_of, is_known, known

FACTS: Facts[Channel] = Facts()

NO_AMBIENCE: Final = Unknown(unknown="it has no ambience")


class Ambience(NamedTuple):
    """The ambience of a part at the mix bus, for a signal alike on both legs and with controls at their present values.

    Args:
        wet_db: ambience over direct signal at 1 kHz, both sides added in power, dB.
        imbalance_db: the ambience's left over its right, dB; positive comes from the left.
        low_cut_db: attenuation of the ambience at 60 Hz relative to 1 kHz, dB, without that of the part's own inserts.
    """

    wet_db: float
    imbalance_db: float
    low_cut_db: float


@per_session
def ambience_of(context: SessionContext, channel: Channel) -> Ambience | Unknown:
    """The ambience of a part; :data:`NO_AMBIENCE` for one that has none, or why it is not known."""
    import numpy as np

    _need_ambience(context, channel)
    gains = context.gains_now
    direct = float((gains.sides(channel.id)[0, MID] ** 2).sum())
    low, mid = gains.ambience_sides(channel.id)[0, : MID + 1] ** 2  # each (2,): left, right
    if mid.sum() <= 0.0:
        return NO_AMBIENCE
    chain = insert_chain(channel, context.kinds[channel.id], np.array([LOW_HZ, MID_HZ]), context.routing.rate_hz)
    own = np.abs(chain.dry) ** 2 + chain.wet  # an effect of its own is linear too: what it passes has the same filters
    own_ratio = float(own[0] / own[1]) if own[0] > 0.0 and own[1] > 0.0 else 1.0
    kept = max(float(low.sum() / mid.sum()) / own_ratio, 1e-20)
    return Ambience(
        power_ratio_db(float(mid.sum()), direct),
        power_ratio_db(float(mid[0]), float(mid[1])),
        -10.0 * float(np.log10(kept)),
    )


def _need_ambience(context: SessionContext, channel: Channel) -> None:
    """Go on only where the ambience of a part can be known.

    Raises:
        NotKnown: something on its paths, where one of its sends leads, or a wet share is not known.
    """
    routing = context.routing
    known(routing.wiring.mix_bus)
    lost = routing.lost_sends.get(channel.id, ())
    why = (
        unknown_gain(context, channel.id)
        or (Unknown(unknown=lost[0], settle="export it again") if lost else None)
        or unknown_wet_share(context, channel)
        or unknown_by_gap(context, "sends", "outputs", "groups")
    )
    if why is not None:
        raise NotKnown(why)


def _ambience(row: Row[Channel]) -> Ambience:
    """The ambience of the row's part.

    Raises:
        NotKnown: it has none, or it is not known.
    """
    return known(ambience_of(row.context, row.item))


@FACTS.fact("switch", "Some of its sound at the mix bus is ambience.", how="derived", settings=GAP_SETTINGS)
def has_ambience(row: Row[Channel]) -> bool:
    found = ambience_of(row.context, row.item)
    return found is not NO_AMBIENCE and bool(known(found))


@FACTS.fact(
    "number",
    "Its ambience relative to its direct sound at the mix bus, at 1 kHz.",
    unit="dB",
    how="derived",
    settings=GAP_SETTINGS,
)
def wet_db(row: Row[Channel]) -> float:
    return _ambience(row).wet_db


@FACTS.fact(
    "number",
    "The left of its ambience over the right; positive comes from the left.",
    unit="dB",
    how="derived",
    settings=GAP_SETTINGS,
    once="ambience_lean_db",
)
def ambience_imbalance_db(row: Row[Channel]) -> float:
    return _ambience(row).imbalance_db


@FACTS.fact(
    "number",
    "What its ambience loses at 60 Hz relative to 1 kHz on its path.",
    unit="dB",
    how="derived",
    settings=GAP_SETTINGS,
)
def ambience_low_cut_db(row: Row[Channel]) -> float:
    return _ambience(row).low_cut_db


@FACTS.fact(
    "number",
    "How far its ambience leans to one side, whichever.",
    unit="dB",
    how="derived",
    settings=GAP_SETTINGS,
)
def ambience_off_centre_db(row: Row[Channel]) -> float:
    return abs(row.need("ambience_imbalance_db").number)


@FACTS.fact(
    "word",
    "Where its ambience leans to, seen from its own side.",
    how="derived",
    words=("same", "opposite"),
    settings=GAP_SETTINGS,
)
def ambience_side(row: Row[Channel]) -> str:
    to_the_left = row.need("ambience_imbalance_db").number > 0.0
    return "same" if to_the_left == (known(position_of(row.context, row.item)) < 0.0) else "opposite"


PLACED: Final = Setting(
    "ambience.placed", 15.0, "pan distance", "A send or a return panned this far or further gives the ambience a place."
)


def _own_sends(row: Row[Channel]) -> list[Edge]:
    """The part's own sends to returns that sound."""
    context, wiring = row.context, row.context.routing.wiring
    edges = (e for e in wiring.leaving.get(row.subject.id, ()) if e.kind == "send" and wiring.audible(e))
    return [edge for edge in edges if is_return(context, context.channels[edge.to])]


@FACTS.fact(
    "switch",
    "Its ambience is placed, and comes from the other side.",
    how="derived",
    settings=(PLACED, *GAP_SETTINGS),
)
def answered_by_ambience(row: Row[Channel]) -> bool:
    side = row.value("ambience_side")  # where nothing tells of its ambience, it answers nothing
    return row.holds("ambience_placed") and isinstance(side, FactValue) and side.value == "opposite"


@FACTS.fact(
    "switch",
    "Another part of its family has its ambience on the other side.",
    how="derived",
    settings=(PLACED, *GAP_SETTINGS),
)
def like_part_crossed(row: Row[Channel]) -> bool:
    family = row.context.family(row.subject.id)
    return any(
        other.subject.id != row.subject.id
        and row.context.family(other.subject.id) == family
        and other.holds("answered_by_ambience")
        for other in row.table.rows(row.context)
    )


@FACTS.fact(
    "switch",
    "Its ambience has a place: a send or return of it is panned, or a return serves it alone.",
    how="derived",
    settings=(PLACED,),
)
def ambience_placed(row: Row[Channel]) -> bool:
    context, wiring = row.context, row.context.routing.wiring
    for edge in _own_sends(row):
        panned = (edge.pan, control_of(context.channels[edge.to], PAN).now)
        alone = all(other.source == row.subject.id for other in wiring.arriving[edge.to])
        if alone or any(abs(p) >= context.setting(PLACED) for p in panned if is_known(p)):
            return True
    return False


@FACTS.fact(
    "switch",
    "A return that it is sent to is called after both sides, from the one to the other, or has a fellow that is.",
    how="derived",
)
def crossing_named(row: Row[Channel]) -> bool:
    words = row.context.house.vocabulary
    names = (row.context.channels[edge.to].name for edge in _own_sends(row))
    return any(name_without_side(name, words).count("*") > 1 for name in names)


@FACTS.fact("text", "The returns its own sends lead to.", how="derived")
def ambience_from(row: Row[Channel]) -> str:
    return ", ".join(row.context.name(edge.to) for edge in _own_sends(row)) or "no return of its own"


@FACTS.fact(
    "number",
    "Its ambience over its direct sound where it is wettest in the song.",
    unit="dB",
    how="derived",
    settings=(*SPECTRUM_SETTINGS, *GAP_SETTINGS),
)
def wettest_db(row: Row[Channel]) -> FactValue | Unknown:
    return _wet_extreme(row, 1.0)


@FACTS.fact(
    "number",
    "Its ambience over its direct sound where it is driest in the song.",
    unit="dB",
    how="derived",
    settings=(*SPECTRUM_SETTINGS, *GAP_SETTINGS),
)
def driest_db(row: Row[Channel]) -> FactValue | Unknown:
    return _wet_extreme(row, -1.0)


def _wet_extreme(row: Row[Channel], sign: float) -> FactValue | Unknown:
    """The highest (``sign`` 1) or lowest (−1) ratio of ambience to direct sound while the part plays, dB."""
    _need_ambience(row.context, row.item)
    found = gain_curves_of(row.context, row.subject.id)
    extreme = curve_extreme(row.context, found.wet_db, found.sounding, sign)
    return NO_AMBIENCE if extreme is None else FactValue(extreme.value, "derived", extreme.text(row.context))
