"""The table ``return``: effect returns, and the channels that work as one."""

from __future__ import annotations

from typing import Final

from mixlint.analysis import parameter_times
from mixlint.analysis.ambience import effect_of
from mixlint.analysis.channel_purpose import carries_content, is_return, is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.gaps import GAP_SETTINGS, unknown_by_gap
from mixlint.analysis.inserts import active_inserts
from mixlint.analysis.levels import SAME_LOUDNESS, return_against_its_sources, usual_return_level
from mixlint.analysis.media_use import plain_clips
from mixlint.analysis.pitches import nearest_length
from mixlint.analysis.return_prints import LEAK_SETTINGS, LOW_CUT_SETTINGS, return_dry_leak, return_low_cut
from mixlint.analysis.settings import Setting
from mixlint.analysis.spectrum import SPECTRUM_SETTINGS
from mixlint.facts.channel import table as channel_facts
from mixlint.facts.declare import FactValue, Row, Table
from mixlint.facts.return_ import low_end
from mixlint.facts.shared import HOUSE_LETS, INTENTS, UNREAD, channel_rows, fader_under, house_lets, intents
from mixlint.naming import FAMILIES, PERMISSIONS, families_named, name_without_side, side_of, words_without_print
from mixlint.session import FADER, PAN, Channel, Insert, Unknown, control_of, is_known, known
from mixlint.units import CENTRED, SILENCE_DB, few_text, number_text

RETURN: Table[Channel] = Table(
    "return",
    "Effect returns: declared as such, or fed by a send and holding a reverb or delay.",
    channel_rows("return", is_return),
    (low_end.FACTS,),
)

RETURN.fact("text", "The channel's name.")(channel_facts.name)
RETURN.fact("number", "Fader position; −200 is fully down.", unit="dB")(channel_facts.fader_db)
RETURN.fact("number", "Pan position, −100 left to +100 right.", unit="pan")(channel_facts.pan)
RETURN.fact("switch", "It is muted, and no automation releases the mute.")(channel_facts.muted)
RETURN.fact("list", INTENTS)(intents)
RETURN.fact("list", HOUSE_LETS, words=PERMISSIONS)(house_lets)


@RETURN.fact("number", "Its legs: 1 for mono, 2 for stereo.")
def legs(row: Row[Channel]) -> float | Unknown:
    return row.item.legs


@RETURN.fact("number", "How many other returns that something plays into have two legs.", how="derived")
def other_stereo_returns(row: Row[Channel]) -> int:
    context = row.context
    return sum(
        other.legs == 2 and carries_content(context, other.id)
        for other in context.session.channels
        if other.id != row.item.id and is_return(context, other)
    )


@RETURN.fact("number", "How far from the centre it is panned, whichever side.", unit="pan distance")
def off_centre(row: Row[Channel]) -> float:
    return abs(known(control_of(row.item, PAN).now))


@RETURN.fact("switch", "Something that plays feeds it, and it is not muted.", how="derived", settings=GAP_SETTINGS)
def fed(row: Row[Channel]) -> bool | Unknown:
    context, channel_id = row.context, row.subject.id
    gap = unknown_by_gap(context, "sends")
    if gap is not None:
        return gap
    wiring = context.routing.wiring
    feeds = [e for e in wiring.arriving.get(channel_id, ()) if e.source != channel_id and wiring.audible(e)]
    if any(carries_content(context, e.source) for e in feeds):
        return True
    # What sends to it may itself be fed by outputs that the export dropped, and a send to nobody knows where may be it.
    return (unknown_by_gap(context, "outputs", "groups") if feeds else None) or _send_astray(context) or False


def _send_astray(context: SessionContext) -> Unknown | None:
    """Why it is not known where some send leads; None where all are known, or those that are not are off."""
    sends = (send for channel in context.session.channels for send in channel.sends if send.on is not False)
    return next((send.to for send in sends if isinstance(send.to, Unknown)), None)


@RETURN.fact(
    "text",
    "The part or group that plays and bears a word of its name, numbers and sides aside; or none.",
    how="derived",
)
def named_for(row: Row[Channel]) -> str:
    context, words = row.context, row.context.house.vocabulary
    own = words_without_print(row.item.name, words)
    families = families_named(row.item.name, words)
    for other in context.session.channels:
        if is_return(context, other) or other.kind in ("master", "vca") or not carries_content(context, other.id):
            continue
        if own & words_without_print(other.name, words) or (families and context.family(other.id) in families):
            return context.name(other.id)
    return "none"


@RETURN.fact("list", "The families of the parts that feed it.", how="derived", words=(*FAMILIES, UNREAD))
def feeding_families(row: Row[Channel]) -> tuple[str, ...]:
    context, wiring = row.context, row.context.routing.wiring
    feeding = wiring.upstream([row.subject.id], wiring.audible)
    parts = [one for one in feeding if one != row.subject.id and is_source(context, context.channels[one])]
    return tuple(sorted({context.family(one) or UNREAD for one in parts}))


@RETURN.fact("switch", "It was printed, and plays its print itself.")
def plays_its_print(row: Row[Channel]) -> bool:
    return bool(plain_clips(row.item))


@RETURN.fact("switch", "A processor sits in it.")
def equipped(row: Row[Channel]) -> bool:
    return bool(row.item.inserts)


@RETURN.fact(
    "word",
    "What the return is for.",
    how="derived",
    words=("reverb", "delay", "modulation", "other"),
)
def effect(row: Row[Channel]) -> str | Unknown:
    return effect_of(row.context, row.item)


@RETURN.fact(
    "number",
    "Dry signal at its output relative to the wet part; a plain copy counts as 0 dB.",
    unit="dB",
    settings=LEAK_SETTINGS,
)
def dry_db(row: Row[Channel]) -> FactValue:
    leak = known(return_dry_leak(row.context, row.item))
    return FactValue(leak.db, leak.known, leak.where or row.subject.where, leak.how)


RETURN.echo("dry_how", "dry_db.note")


@RETURN.fact(
    "number",
    "What the filters on the ambience path take at 60 Hz relative to 1 kHz.",
    unit="dB",
    how="derived",
    settings=LOW_CUT_SETTINGS,
)
def low_cut_db(row: Row[Channel]) -> FactValue:
    cut = known(return_low_cut(row.context, row.item))
    return FactValue(cut.db, cut.known, row.subject.where, cut.text)


NO_REVERB: Final = Unknown(unknown="the export shows no reverb that acts here", settle="look at the return's inserts")


def _reverb(row: Row[Channel]) -> Insert | None:
    """The first reverb that acts on it."""
    active = active_inserts(row.context, row.item)
    return next((insert for insert, reading in active if reading.word == "reverb"), None)


@RETURN.fact("number", "The pre-delay of its reverb.", unit="ms")
def pre_delay_ms(row: Row[Channel]) -> FactValue | Unknown:
    insert = _reverb(row)
    if insert is None:
        return NO_REVERB
    return FactValue(
        known(parameter_times.pre_delay_ms(insert)), "declared", insert.where or row.subject.where, insert.name
    )


@RETURN.fact(
    "number",
    "How far its pre-delay is off the nearest note value of the song's tempo.",
    unit="%",
    how="derived",
    once="pre_delay_in_time",
)
def pre_delay_off_tempo(row: Row[Channel]) -> FactValue:
    time_ms = row.need("pre_delay_ms").number
    if time_ms <= 0.0:
        # Against a time of 0 every note value is the whole of itself off.
        return FactValue(100.0, "derived", row.subject.where, "it has none")
    near = known(nearest_length(row.context.session.timeline, time_ms))
    return FactValue(near.off_percent, "derived", row.subject.where, f"{near.name} lasts {near.ms:.0f} ms")


@RETURN.fact(
    "number",
    "How loud it arrives at the mix bus against the dry sound of the parts that feed it.",
    unit="dB",
    how="measured",
    settings=(*SPECTRUM_SETTINGS, *GAP_SETTINGS),
)
def over_its_sources_db(row: Row[Channel]) -> FactValue:
    found = known(return_against_its_sources(row.context, row.item))
    if found.measured:
        return FactValue(found.db, "measured", row.subject.where)
    return FactValue(found.db, "assumed", row.subject.where, SAME_LOUDNESS)


@RETURN.fact(
    "number",
    "How far that lies over the median of the other returns; 0 where there is no other.",
    unit="dB",
    how="measured",
    settings=(*SPECTRUM_SETTINGS, *GAP_SETTINGS),
)
def over_other_returns_db(row: Row[Channel]) -> FactValue:
    own = row.need("over_its_sources_db")
    usual = usual_return_level(row.context).get(row.subject.id)
    if usual is None:
        return FactValue(0.0, own.how, row.subject.where, "it is the only one")
    return FactValue(own.number - usual, own.how, row.subject.where, f"the others: {number_text(usual, 'dB')}")


@per_session
def _mirror(context: SessionContext, channel: Channel) -> Channel | None:
    """The one other return whose name differs in nothing but its sides: ``Room R>L`` beside ``Room L>R``."""
    words = context.house.vocabulary
    said = name_without_side(channel.name, words)
    if "*" not in said:
        return None
    others = [
        other
        for other in context.session.channels
        if other.id != channel.id and is_return(context, other) and name_without_side(other.name, words) == said
    ]
    return others[0] if len(others) == 1 and others[0].name != channel.name else None


@RETURN.fact(
    "number",
    "How far its fader stands under that of the return of its name for the other side; 0 where there is none, or one "
    "of them is ridden.",
    unit="dB",
    how="derived",
)
def under_its_mirror_db(row: Row[Channel]) -> FactValue:
    return fader_under(row, _mirror(row.context, row.item))


@RETURN.fact(
    "text", "The return of its name for the other side that is panned to its own side as well; or none.", how="derived"
)
def on_its_mirror(row: Row[Channel]) -> str:
    other = _mirror(row.context, row.item)
    if other is None:
        return "none"
    own, there = (known(control_of(one, PAN).now) for one in (row.item, other))
    together = own * there > 0.0 and min(abs(own), abs(there)) >= CENTRED
    return row.context.name(other.id) if together else "none"


LEAST_RETURNS: Final = Setting(
    "returns.least_others",
    2.0,
    "",
    "So many other returns that are fed show where the faders of returns stand.",
    lowest=1.0,
)


@RETURN.fact(
    "number",
    "How far its fader stands over the median of the other fed returns' faders; 0 where these are too few.",
    unit="dB",
    how="derived",
    settings=(LEAST_RETURNS,),
)
def fader_over_other_returns_db(row: Row[Channel]) -> FactValue:
    from mixlint.signal.median import median

    own = known(control_of(row.item, FADER).now)
    others = [
        fader
        for other in row.context.session.channels
        if other.id != row.item.id and is_return(row.context, other) and carries_content(row.context, other.id)
        if is_known(fader := control_of(other, FADER).now) and fader > SILENCE_DB
    ]
    if len(others) < row.context.setting(LEAST_RETURNS):
        return FactValue(0.0, "derived", row.subject.where, "one of few returns")
    over = own - median(others)
    where = f"{number_text(abs(over), 'dB')} {'over' if over >= 0.0 else 'under'} the middle of the others"
    return FactValue(over, "derived", row.subject.where, where)


@RETURN.fact(
    "text",
    "How loud it arrives against what feeds it, and against the other returns, for a reader.",
    how="derived",
    settings=(*SPECTRUM_SETTINGS, *GAP_SETTINGS),
)
def against_its_sources(row: Row[Channel]) -> str:
    own, others = row.need("over_its_sources_db").number, row.need("over_other_returns_db").number
    way = "over" if own >= 0.0 else "under"
    text = f"{number_text(abs(own), 'dB')} {way} the dry sound of what feeds it"
    more = f", {number_text(others, 'dB')} more than the other returns do" if others > 0.0 else ""
    return text + more


STRAIGHT: Final = 10.0
"""So near to the centre a return stands straight. No setting: it is no place of its own."""


@RETURN.fact(
    "text",
    "The other stereo returns that are fed, where all of them stand straight and several parts, not all of them at one "
    "side, feed this one; or none.",
    how="derived",
)
def straight_returns(row: Row[Channel]) -> str:
    context, wiring = row.context, row.context.routing.wiring
    others = [
        other
        for other in context.session.channels
        if other.id != row.item.id
        and other.legs == 2
        and is_return(context, other)
        and carries_content(context, other.id)
    ]
    pans = [control_of(other, PAN) for other in others]
    if any(pan.moves or not is_known(pan.now) or abs(pan.now) > STRAIGHT for pan in pans):
        return "none"
    feeding = [context.channels[e.source] for e in wiring.arriving.get(row.item.id, ()) if wiring.audible(e)]
    places = [pan.now for pan in (control_of(one, PAN) for one in feeding) if is_known(pan.now)]
    at_one_side = places and (min(places) > STRAIGHT or max(places) < -STRAIGHT)
    return "none" if at_one_side else few_text([context.name(other.id) for other in others]) or "none"


@RETURN.fact("word", "The side its name tells.", how="derived", words=("left", "right", "none"))
def named_side(row: Row[Channel]) -> str:
    return side_of(row.item.name, row.context.house.vocabulary) or "none"


@RETURN.fact("switch", "Automation moves its pan.")
def pan_moves(row: Row[Channel]) -> bool:
    return control_of(row.item, PAN).moves
