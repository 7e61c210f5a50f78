"""Where a part is panned: its position, the side its name tells, and what shares the centre with it."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.audibility import is_audible
from mixlint.analysis.automation_range import highest_automated, lowest_automated, position_of
from mixlint.analysis.centre import RIVAL_SETTINGS, centre_rivals_of
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.partners import partners
from mixlint.analysis.settings import Setting
from mixlint.facts.channel import table as channel_facts
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.naming import side_of
from mixlint.naming.fold import as_read
from mixlint.session import PAN, Channel, control_of, is_known, known
from mixlint.units import CENTRED, number_text

FACTS: Facts[Channel] = Facts()


FACTS.fact("number", "Pan position, −100 left to +100 right.", unit="pan")(channel_facts.pan)


@FACTS.fact("number", "How far from the centre it is panned, whichever side.", unit="pan distance")
def off_centre(row: Row[Channel]) -> float:
    return abs(known(position_of(row.context, row.item)))


@FACTS.fact("word", "The side it stands on.", words=("left", "right", "centre"))
def side(row: Row[Channel]) -> str:
    position = known(position_of(row.context, row.item))
    return "centre" if abs(position) < CENTRED else "left" if position < 0 else "right"


@FACTS.fact("word", "The side its name tells.", how="derived", words=("left", "right", "none"))
def named_side(row: Row[Channel]) -> str:
    context = row.context
    return side_of(row.item.name, context.house.vocabulary) or _sides_by_letter(context).get(row.subject.id, "none")


@per_session
def _sides_by_letter(context: SessionContext) -> dict[str, str]:
    """Channel id → the side of its last letter, for two names that differ in the letters of both sides of a language.

    Alone such a letter, or a word such as ``sol``, may mean anything; two mono parts of one name on opposite sides tell
    that it is a side.
    """
    words = context.house.vocabulary
    letters = {letter for row in words.sides.letters.values() for letter in row}
    last: dict[str, list[tuple[str, Channel]]] = {}
    for channel in context.session.channels:
        *stem, letter = as_read(channel.name).split() or [""]
        if stem and letter in letters and is_source(context, channel) and context.routing.legs[channel.id] == 1:
            last.setdefault(" ".join(stem), []).append((letter, channel))
    found: dict[str, str] = {}
    for two in last.values():
        if len(two) != 2 or any(side_of(channel.name, words) for _, channel in two):
            continue
        by_letter, places = dict(two), [position_of(context, channel) for _, channel in two]
        for left, right in words.sides.letters.values():
            if (
                by_letter.keys() == {left, right}
                and all(map(is_known, places))
                and known(places[0]) * known(places[1]) < 0
            ):
                found |= {by_letter[left].id: "left", by_letter[right].id: "right"}
    return found


@FACTS.fact("switch", "It stands on the side its name tells, or its name tells none.", how="derived")
def on_named_side(row: Row[Channel]) -> bool:
    return row.need("named_side").value in ("none", row.need("side").value)


@FACTS.fact(
    "number",
    "How many mono parts in the range of the voice share the centre with it while it plays.",
    how="derived",
    settings=RIVAL_SETTINGS,
)
def centre_rivals(row: Row[Channel]) -> FactValue:
    found = [row.context.name(other.id) for other in centre_rivals_of(row.context, row.item)]
    return FactValue(len(found), "derived", row.subject.where, ", ".join(found) or "no part")


FACTS.echo("centre_shared_with", "centre_rivals.note")


@FACTS.fact("number", "How far it goes over to the other side than its name tells, automation included.",
            unit="pan distance", how="derived")  # fmt: skip
def crosses_by(row: Row[Channel]) -> FactValue:
    named = row.need("named_side").value
    if named == "none" or not control_of(row.item, PAN).moves:
        return FactValue(0.0, "derived", row.subject.where)
    furthest = (highest_automated if named == "left" else lowest_automated)(row.context, row.item, PAN)
    if furthest is None:
        return FactValue(0.0, "derived", row.subject.where)
    over = furthest.value if named == "left" else -furthest.value
    return FactValue(max(0.0, over), "derived", row.subject.where, furthest.text(row.context))


SPREAD: Final = Setting(
    "placement.pair_spread",
    30.0,
    "pan distance",
    "A part called left or right that stands so far from the centre, its partner across, is spread as a pair.",
    lowest=1.0,
)
MIDDLE: Final = 10.0
"""So near to the centre neither of two stands on a side. No setting: it is no place of its own."""


@per_session
def _sides(context: SessionContext) -> dict[str, tuple[float, float]]:
    """Id of a mono part called left or right → its pan and its partner's, where both stand still and are heard."""
    heard = {
        channel.id: control_of(channel, PAN).now
        for channel in context.session.channels
        if is_source(context, channel) and is_audible(context, channel) and context.routing.legs[channel.id] == 1
        if not control_of(channel, PAN).moves
    }
    found: dict[str, tuple[float, float]] = {}
    for one, other in partners(context).items():
        own, there = heard.get(one), heard.get(other.id)
        if own is not None and there is not None and is_known(own) and is_known(there):
            found[one] = own, there
    return found


@FACTS.fact(
    "text",
    "How it lost its side, where it is called left or right: it stands in the middle with its partner, while another "
    "pair is spread, or is a part that cannot be told and its partner stands at the side; or none.",
    how="derived",
    settings=(SPREAD,),
)
def side_lost(row: Row[Channel]) -> str:
    context, spread = row.context, row.context.setting(SPREAD)
    sides = _sides(context)
    own, there = sides.get(row.item.id, (None, None))
    if own is None or there is None or abs(own) > MIDDLE:
        return "none"
    partner = partners(context)[row.item.id]
    if context.role(row.item.id) is None and abs(there) >= spread:
        # What plays a known part is told by the other one, which is left unanswered at its side.
        return f"stands in the middle, and {context.name(partner.id)} is panned {number_text(there, 'pan')}"
    folded = [one for one, pans in sides.items() if max(map(abs, pans)) <= MIDDLE]
    others = [one for one, (a, b) in sides.items() if a * b < 0.0 and min(abs(a), abs(b)) >= spread]
    first = context.order[row.item.id] < context.order[partner.id]
    if abs(there) > MIDDLE or len(folded) > 2 or not others or not first:
        return "none"
    beside = min(others, key=lambda one: context.order[one])
    names = f"{context.name(beside)} and {context.name(partners(context)[beside].id)}"
    return f"stands in the middle with {context.name(partner.id)}, where {names} are spread"
