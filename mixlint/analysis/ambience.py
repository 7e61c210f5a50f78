"""What an effect return puts out: its effect, the dry signal it lets through, and the low end it keeps."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from mixlint.analysis.audibility import is_return
from mixlint.analysis.context import LOW_HZ, MID_HZ, SessionContext, per_session
from mixlint.analysis.extremes import lowest_automated
from mixlint.analysis.settings import Setting
from mixlint.analysis.value import How
from mixlint.routing import TIME_EFFECTS, passes
from mixlint.routing.strips import ASSUMED_RATE_HZ, filter_response
from mixlint.session import Channel, Control, Insert, Target, Unknown, control_of, is_known, known
from mixlint.session.control import ON
from mixlint.units import SILENCE_DB, number_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

ENOUGH_SEEN: Final = Setting(
    "low_cut.enough_seen",
    9.0,
    "dB",
    "Where the filters that can be seen take as much at 60 Hz, one whose settings are hidden changes little "
    "(a low cut of 12 dB per octave at 100 Hz takes 9.4).",
)

FILTER_KINDS: Final = frozenset({"equalizer", "filter", "multi-effect"})
"""Processors that may hold a low cut."""

EFFECT_ROLES: Final = {
    "reverb-return": "reverb",
    "delay-return": "delay",
    "modulation-return": "modulation",
}


@dataclass(frozen=True, slots=True)
class DryLeak:
    """Dry signal at a return's output in dB relative to its wet part, and how it comes about, for a reader."""

    db: float
    how: str
    where: str = ""
    known: How = "declared"


def effect_of(context: SessionContext, channel: Channel) -> str | Unknown:
    """What the return is for: ``reverb``, ``delay``, ``modulation``, ``other`` or ``none``; or why it is not told."""
    readings = context.processors[channel.id]
    words = [reading.word for reading in readings]
    for kind in ("reverb", "delay"):
        if kind in words:
            return kind
    named = EFFECT_ROLES.get(context.role(channel.id) or "")
    if named:
        return named
    if "modulation" in words:
        return "modulation"
    unread = [i.name for i, word in zip(channel.inserts, words, strict=True) if word in (None, "multi-effect")]
    if unread:
        return Unknown(
            unknown=f"what {', '.join(unread)} does cannot be told from its name",
            settle="name the processor's kind in the house's table of processors",
        )
    if not channel.inserts:
        return Unknown(unknown="the export shows no effect on this return", settle="look at the return's inserts")
    return "other"


def dry_leak(context: SessionContext, channel: Channel) -> DryLeak | Unknown:
    """The dry signal at the return's output.

    In a row of effects one that is wholly wet stops the dry signal, whatever the others do. A return whose effect
    does not act is a plain copy of what it is fed: its dry signal stands at full level, 0 dB. Where automation moves
    a wet share or switches an effect off, the driest moment counts, as long as something feeds the return.
    """
    words = [reading.word for reading in context.processors[channel.id]]
    effects = [_WetShare.of(context, channel, place) for place, word in enumerate(words) if word in TIME_EFFECTS]
    acting = [share for share in effects if share.acts]
    if not acting:
        if effects:
            first = effects[0].insert
            why = "is not loaded" if first.loaded is False else "is switched off"
            return DryLeak(0.0, f"{first.name} {why}, so the return is a plain copy", first.where)
        if any(word is None for word in words):
            return Unknown(unknown="what sits in its inserts cannot be told", settle="print the return alone")
        return Unknown(
            unknown="the export shows no reverb or delay on this return",
            settle="look at the return's inserts",
        )
    for one in acting:
        if is_known(one.least) and one.least >= 100.0:
            return DryLeak(SILENCE_DB, f"{one.insert.name} is 100 % wet", one.where)
    for one in acting:
        if isinstance(one.least, Unknown):
            return one.least
    shares = [one.least for one in acting if is_known(one.least)]
    dry = 1.0
    for share in shares:
        dry *= 1.0 - share / 100.0
    wet = _wet_amplitude(shares)
    driest = acting[shares.index(min(shares))]
    if wet <= 0.0:
        return DryLeak(0.0, f"{driest.how}, so the return is a plain copy", driest.where)
    from math import log10

    return DryLeak(20.0 * log10(dry / wet), driest.how, driest.where)


@dataclass(frozen=True, slots=True)
class _WetShare:
    """How wet one effect stays through the song.

    Args:
        insert: the effect.
        acts: it is loaded, and switched on at some time.
        least: its least wet share in per cent, 0 while automation switches it off; or why that is not told.
        how, where: the same for a reader.
    """

    insert: Insert
    acts: bool
    least: float | Unknown
    how: str
    where: str

    @classmethod
    def of(cls, context: SessionContext, channel: Channel, place: int) -> _WetShare:
        insert = channel.inserts[place]
        switch, mix = (control_of(channel, Target.insert(place, word)) for word in ("on", "wet"))
        acts = insert.loaded is not False and switch.can_be_on is not False
        off, least = (_lowest(context, channel, control) for control in (switch, mix))
        if off is not None and off[0] < ON:
            return cls(insert, acts, 0.0, f"automation switches {insert.name} off", off[1] or insert.where)
        if switch.unknown is not None:
            why = Unknown(unknown=f"whether {insert.name} is switched on: {switch.unknown.unknown}")
            return cls(insert, acts, why, "", insert.where)
        if least is not None:
            share = min(max(least[0], 0.0), 100.0)
            how = f"automation brings {insert.name} to {number_text(share)} % wet"
            return cls(insert, acts, share, how, least[1] or insert.where)
        if isinstance(insert.wet, Unknown):
            why = Unknown(
                unknown=f"{insert.name}: {insert.wet.unknown}", settle=insert.wet.settle or "print the return alone"
            )
            return cls(insert, acts, why, "", insert.where)
        return cls(insert, acts, insert.wet, f"{insert.name} is {insert.wet:g} % wet", insert.where)


def _lowest(context: SessionContext, channel: Channel, control: Control) -> tuple[float, str] | None:
    """The lowest that automation brings a control to while the channel is fed, and where; None where it holds none."""
    if control.lane is None:
        return None
    found = lowest_automated(context, channel, control.target)
    return (known(control.lowest), control.where) if found is None else (found.value, found.text(context))


def _wet_amplitude(shares: list[float]) -> float:
    """The amplitude of everything that passed at least one effect, added in power; ``shares`` in per cent."""
    from math import sqrt

    dry, wet = 1.0, 0.0
    for share in shares:
        x = share / 100.0
        wet += (x * dry) ** 2
        dry *= 1.0 - x
    return sqrt(wet)


@dataclass(frozen=True, slots=True)
class AmbienceLowCut:
    """What the filters on an ambience path take at 60 Hz relative to 1 kHz: dB, and the processors that do it."""

    db: float
    by: tuple[str, ...]
    known: How = "derived"

    @property
    def text(self) -> str:
        """What takes it, for a reader."""
        if self.known == "measured":
            return "measured in the return's print"
        return f"by {', '.join(self.by)}" if self.by else "no low cut on the path"


@per_session
def ambience_low_cut(context: SessionContext, channel: Channel) -> AmbienceLowCut | Unknown:
    """The low cut on the ambience path of a return.

    Filters count before or after the effect, on the return itself, on a bus before it that feeds nothing but
    ambience, and on a bus after it that only ambience feeds: reverbs and delays are linear, so the place along the
    path makes no difference. An equalizer whose settings are hidden makes the answer unknown, unless the filters
    that can be seen are enough by themselves to be told apart from none at all.
    """
    import numpy as np

    at = np.array([LOW_HZ, MID_HZ])
    rate = context.routing.rate_hz or ASSUMED_RATE_HZ
    response = np.ones(2, dtype=np.complex128)
    by: list[str] = []
    hidden: list[str] = []
    for strip in ambience_path(context, channel):
        for insert, reading in zip(strip.inserts, context.processors[strip.id], strict=True):
            if not passes(insert):
                continue
            if insert.equalizer is not None:
                here = filter_response(insert, at, rate)
                response = response * here
                if abs(here[1]) > 0.0 and 20.0 * np.log10(abs(here[0] / here[1]) + 1e-30) < -0.5:
                    by.append(insert.name if strip.id == channel.id else f"{insert.name} on {context.name(strip.id)}")
                hidden += [insert.name for b in insert.equalizer.bands if b.on is not False and not is_known(b.freq_hz)]
            elif reading.word in FILTER_KINDS or (reading.word is None and insert.opaque):
                hidden.append(_called(insert))
    taken = _attenuation_db(response)
    if hidden and taken < context.setting(ENOUGH_SEEN):
        return Unknown(
            unknown=f"the settings of {', '.join(dict.fromkeys(hidden))} are hidden in the export",
            settle="print the return alone, or look at its filter",
        )
    return AmbienceLowCut(taken, tuple(dict.fromkeys(by)))


def _attenuation_db(response: NDArray[np.complex128]) -> float:
    from math import log10

    low, mid = float(abs(response[0])), float(abs(response[1]))
    if mid <= 0.0:
        return 0.0
    return 20.0 * log10(mid / max(low, mid * 1e-10))


def _called(insert: Insert) -> str:
    return insert.name or "an unnamed processor"


def ambience_path(context: SessionContext, channel: Channel) -> tuple[Channel, ...]:
    """The return, the buses before it that feed nothing but ambience, and those after it that only ambience feeds."""
    wiring = context.routing.wiring
    path = [channel]
    here = channel
    seen = {channel.id}
    while True:  # downstream along the main output
        out = next((e for e in wiring.leaving.get(here.id, ()) if e.kind == "output"), None)
        if out is None or out.to in seen or out.to == wiring.mix_bus:
            break
        there = context.channels[out.to]
        if not all(is_return(context, context.channels[e.source]) for e in wiring.arriving[there.id]):
            break
        seen.add(there.id)
        path.append(there)
        here = there
    fed = wiring.arriving.get(channel.id, [])
    feeders = {e.source for e in fed}
    if len(feeders) == 1:  # one bus in front of the return that leads nowhere else
        before = context.channels[next(iter(feeders))]
        only = all(e.to == channel.id for e in wiring.leaving[before.id])
        if before.kind in ("group", "return") and only and before.id not in seen and wiring.arriving.get(before.id):
            path.insert(0, before)
    return tuple(path)
