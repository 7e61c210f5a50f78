"""What low end comes to a return: the parts that feed it, without those that hold none or lose it on the way."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.ambience import effect_of
from mixlint.analysis.channel_purpose import carries_content, is_return, is_source
from mixlint.analysis.context import LOW_HZ, SessionContext, per_session
from mixlint.analysis.return_prints import LOW_CUT_SETTINGS, return_low_cut
from mixlint.analysis.settings import Setting
from mixlint.analysis.tone import low_cut_attenuation_db
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Channel, Unknown
from mixlint.units import few_text

FACTS: Facts[Channel] = Facts()

CLEARED: Final = Setting(
    "low_end.cleared",
    6.0,
    "dB",
    "A part that low cuts take so much from at 60 Hz brings no low end to the returns that it is sent to.",
)
KIT: Final = frozenset({"kick", "snare", "hi-hat", "toms", "overheads", "drum-room", "drums", "percussion"})
"""Parts whose room is left whole; a kick that is sent to a reverb has a rule of its own. Common practice, no source."""

WITHOUT: Final = KIT | {"electric-guitar", "guitar", "winds", "brass"}
"""These, and parts that hold nothing to speak of at 60 Hz: the low string of a guitar is E2, 82 Hz, and of an acoustic
one the box is heard below it; a tenor saxophone and a trombone go down to about 100 Hz."""

REPEATS: Final = frozenset({"bass", "acoustic-guitar", "keys", "synth", "strings"})
"""Parts whose repeats gather low end; a delay on others does not ring on as a room does. Common practice, no source."""

ALIKE: Final = Setting(
    "low_end.alike", 9.0, "dB", "A return that loses so much at 60 Hz is high-passed, and its like are expected to be."
)


@per_session
def low_end_from(context: SessionContext, channel: Channel) -> tuple[Channel, ...]:
    """The audible parts that bring low end to a return, in desk order."""
    wiring = context.routing.wiring
    feeding = wiring.upstream([channel.id], wiring.audible)
    cleared = context.setting(CLEARED)
    repeats = effect_of(context, channel) == "delay"
    return tuple(
        part
        for part in context.session.channels
        if part.id in feeding
        and part.id != channel.id
        and is_source(context, part)
        and (context.role(part.id) in REPEATS if repeats else context.role(part.id) not in WITHOUT)
        and low_cut_attenuation_db(context, part, LOW_HZ) < cleared
    )


@per_session
def _families_into(context: SessionContext, channel: Channel) -> frozenset[str | None]:
    wiring = context.routing.wiring
    feeding = (context.channels[one] for one in wiring.upstream([channel.id], wiring.audible))
    return frozenset(context.family(part.id) for part in feeding if is_source(context, part)) - {None}


@FACTS.fact(
    "number",
    "How many parts bring low end to it: those that reach down there and are sent to it without a low cut of "
    "their own.",
    how="derived",
    settings=(CLEARED,),
)
def low_end_parts(row: Row[Channel]) -> FactValue:
    names = [row.context.name(part.id) for part in low_end_from(row.context, row.item)]
    return FactValue(len(names), "derived", row.subject.where, few_text(names, joint=", "))


@FACTS.fact(
    "text",
    "Another return of the same effect for the same families that is high-passed, or none.",
    how="derived",
    settings=(ALIKE, *LOW_CUT_SETTINGS),
)
def high_passed_alike(row: Row[Channel]) -> str:
    context, own = row.context, row.item
    effect, families = effect_of(context, own), _families_into(context, own)
    if effect == "delay":
        return "none"
    for other in context.session.channels:
        if other.id == own.id or not is_return(context, other) or not carries_content(context, other.id):
            continue
        if effect_of(context, other) != effect or families != _families_into(context, other):
            continue
        cut = return_low_cut(context, other)
        if not isinstance(cut, Unknown) and cut.db >= context.setting(ALIKE):
            return context.name(other.id)
    return "none"
