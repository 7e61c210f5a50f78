"""What an effect return puts out: its effect, the dry signal it lets through, and the low end it keeps.

All of it is read from the export: processors, wet shares, filter bands and automation. What a print of the return
shows where the export hides one of these is in :mod:`mixlint.analysis.return_prints`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.automation_range import lowest_automated
from mixlint.analysis.channel_purpose import is_return
from mixlint.analysis.context import LOW_HZ, MID_HZ, UNTOLD, SessionContext, per_session
from mixlint.analysis.groups import groups_on_the_path
from mixlint.analysis.inserts import active_inserts, may_hide_filter, processor_name, processor_on
from mixlint.analysis.settings import Setting
from mixlint.analysis.value import How
from mixlint.routing import TIME_EFFECTS
from mixlint.routing.strips import ASSUMED_RATE_HZ, filter_response
from mixlint.session import Channel, Control, Insert, Target, Unknown, control_of, inserts_now, is_known, known
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

EFFECT_ROLES: Final = {
    "reverb-return": "reverb",
    "delay-return": "delay",
    "modulation-return": "modulation",
}
"""Role of a return → the effect that its name promises."""

NAMED_FROM_DB: Final = 0.5
"""A processor is named as a low cut's cause from this attenuation at 60 Hz on, dB: wording, no verdict asks it."""


class DryLeak(NamedTuple):
    """The dry signal at a return's output.

    Args:
        db: its level relative to the wet part, dB; −200 (silence) where there is none, 0 where nothing is wet.
        how: what lets it through, for a reader.
        where: the place in the export or the song, for a reader; empty where it is the return itself.
        known: how the level is known.
    """

    db: float
    how: str
    where: str = ""
    known: How = "declared"


def effect_of(context: SessionContext, channel: Channel) -> str | Unknown:
    """What effect a return puts out.

    A reverb or delay among its inserts decides, then what its name promises, then a modulation effect.

    Returns:
        ``reverb``, ``delay``, ``modulation``, or ``other`` where every insert is known and is none of these. Unknown
        where an insert cannot be read from its name, or the export shows no insert at all.
    """
    words = [reading.word for reading in context.processors.get(channel.id, ())]  # a name may promise what is not shown
    for kind in ("reverb", "delay"):
        if kind in words:
            return kind
    named = EFFECT_ROLES.get(context.role(channel.id) or "")
    if named:
        return named
    if "modulation" in words:
        return "modulation"
    unread = [i.name for i, word in zip(channel.inserts, words, strict=True) if word in UNTOLD]
    if unread:
        return Unknown(
            unknown=f"what {', '.join(unread)} does cannot be told from its name",
            settle="name the processor's kind in the house's table of processors",
        )
    if not channel.inserts:
        return Unknown(unknown="the export shows no effect on this return", settle="look at the return's inserts")
    return "other"


def dry_leak(context: SessionContext, channel: Channel) -> DryLeak | Unknown:
    """The dry signal at a return's output, as the export shows it.

    Effects in series with wet shares xₖ pass the dry amplitude D = Π (1 − xₖ). What has passed at least one of them
    adds in power, since effect signals do not correlate with the dry one. The level is 20 log10(D / wet) dB: for a
    single effect that is (1 − x) / x, the linear crossfade of a mix control (common practice, no source).

    One effect that is wholly wet stops the dry signal, whatever the others do. A return whose effects do not act is a
    plain copy of what it is fed, at 0 dB. Where automation moves a wet share or switches an effect off, the driest
    moment counts, as long as something feeds the return.

    Returns:
        The level with its cause. Unknown where a wet share or a switch is not in the export, or no effect can be seen.
    """
    words = [reading.word for reading in context.processors[channel.id]]
    effects = [_WetShare.of(context, channel, place) for place, word in enumerate(words) if word in TIME_EFFECTS]
    acting = [share for share in effects if share.acts]
    if not acting:
        if effects:
            first = effects[0].insert
            why = "is not loaded" if first.loaded is False else "is switched off"
            return DryLeak(0.0, f"{first.name} {why}, so the return is a plain copy", first.where)
        unread = [i.name for i, word in zip(channel.inserts, words, strict=True) if word in UNTOLD]
        if unread:
            return Unknown(
                unknown=f"what {', '.join(unread)} does cannot be told from its name",
                settle="name the processor's kind in the house's table of processors, or print the return alone",
            )
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


class _WetShare(NamedTuple):
    """How wet one effect stays through the song.

    Args:
        insert: the effect.
        acts: it is loaded, and switched on at some time.
        least: its least wet share in per cent, 0 while automation switches it off; or why that is not known.
        how, where: the same for a reader.
    """

    insert: Insert
    acts: bool
    least: float | Unknown
    how: str
    where: str

    @classmethod
    def of(cls, context: SessionContext, channel: Channel, place: int) -> _WetShare:
        """The same for the insert at ``place`` of a return, counted from 0."""
        insert = inserts_now(channel)[place]
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
    """The lowest value that automation gives a control while the channel is fed, and where; None without a lane."""
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


class AmbienceLowCut(NamedTuple):
    """The low cut on an ambience path.

    Args:
        db: attenuation at 60 Hz relative to 1 kHz, dB; positive is a cut.
        by: names of the processors that cut; empty where none does, or the cut was measured in a print.
        known: how it is known.
    """

    db: float
    by: tuple[str, ...]
    known: How = "derived"

    @property
    def text(self) -> str:
        """What cuts, for a reader."""
        if self.known == "measured":
            return "measured in the return's print"
        return f"by {', '.join(self.by)}" if self.by else "no low cut on the path"


class PathResponse(NamedTuple):
    """What the filters on an ambience path make of it.

    Args:
        db: (F,) relative to 1 kHz, or to the most that passes where nothing does there; −100 where nothing passes.
        strips: the names of the strips that it passes, in signal order.
        by: the names of the processors that filter.
        hidden: the names of those whose filters the export does not show; where there are any, ``db`` lacks them.
    """

    db: NDArray[np.float64]
    strips: tuple[str, ...]
    by: tuple[str, ...]
    hidden: tuple[str, ...]


FLAT_DB: Final = 0.1
"""A processor that takes or adds less than this at any frequency is not named as one that filters: wording."""


@per_session
def path_response(context: SessionContext, channel: Channel, at_hz: tuple[float, ...]) -> PathResponse:
    """The response of a return's :func:`ambience_path` at some frequencies, hertz, of the filters that are shown."""
    import numpy as np

    path = _FilteredPath.of(context, channel, np.array([MID_HZ, *at_hz]))
    level = np.abs(path.response)
    base = float(level[0]) or float(level.max()) or 1.0
    db = 20.0 * np.log10(np.maximum(level[1:] / base, 1e-5))
    return PathResponse(db, tuple(context.name(one.id) for one in path.strips), path.named(FLAT_DB), path.hidden)


class _FilteredPath(NamedTuple):
    """An ambience path: its strips, the response (F,) of all its filters and that of each, and what is hidden."""

    strips: tuple[Channel, ...]
    response: NDArray[np.complex128]
    each: tuple[tuple[str, NDArray[np.complex128]], ...]
    hidden: tuple[str, ...]

    @classmethod
    def of(cls, context: SessionContext, channel: Channel, at: NDArray[np.float64]) -> _FilteredPath:
        import numpy as np

        rate = context.routing.rate_hz or ASSUMED_RATE_HZ
        response = np.ones(at.shape, dtype=np.complex128)
        each: list[tuple[str, NDArray[np.complex128]]] = []
        hidden: list[str] = []
        strips = ambience_path(context, channel)
        for strip in strips:
            for insert, reading in active_inserts(context, strip):
                if insert.equalizer is not None:
                    here = filter_response(insert, at, rate)
                    response = response * here
                    each.append((processor_on(context, insert, strip, channel), here))
                if may_hide_filter(insert, reading):
                    hidden.append(processor_name(insert))
        return cls(strips, response, tuple(each), tuple(dict.fromkeys(hidden)))

    def named(self, from_db: float) -> tuple[str, ...]:
        """The processors whose response differs from that at the first frequency by so many dB or more anywhere."""
        import numpy as np

        levels = ((name, 20.0 * np.log10(np.maximum(np.abs(here), 1e-10))) for name, here in self.each)
        return tuple(dict.fromkeys(name for name, db in levels if float(np.ptp(db)) > from_db))


@per_session
def ambience_low_cut(context: SessionContext, channel: Channel) -> AmbienceLowCut | Unknown:
    """The low cut on the ambience path of a return, from the filters that the export shows.

    Filters count wherever they sit on :func:`ambience_path`, before or after the effect: reverbs and delays are
    linear and time-invariant, so that their order with a filter makes no difference.

    Returns:
        The attenuation at 60 Hz relative to 1 kHz and what cuts. Unknown where a filter on the path is hidden and the
        others attenuate by less than the setting ``low_cut.enough_seen``.
    """
    import numpy as np

    path = _FilteredPath.of(context, channel, np.array([LOW_HZ, MID_HZ]))
    by = tuple(dict.fromkeys(name for name, here in path.each if _attenuation_db(here) > NAMED_FROM_DB))
    attenuation = _attenuation_db(path.response)
    if path.hidden and attenuation < context.setting(ENOUGH_SEEN):
        return Unknown(
            unknown=f"the settings of {', '.join(path.hidden)} are hidden in the export",
            settle="print the return alone, or look at its filter",
        )
    return AmbienceLowCut(attenuation, by)


def _attenuation_db(response: NDArray[np.complex128]) -> float:
    """Attenuation at 60 Hz relative to 1 kHz, dB, of a response (2,) at these; 0 where nothing passes at 1 kHz."""
    from math import log10

    low, mid = float(abs(response[0])), float(abs(response[1]))
    if mid <= 0.0:
        return 0.0
    return 20.0 * log10(mid / max(low, mid * 1e-10))


def ambience_path(context: SessionContext, channel: Channel) -> tuple[Channel, ...]:
    """The strips whose filters act on a return's ambience and on nothing else, in signal order.

    They are the return itself, a bus before it that feeds this return alone and is its only source, and the buses
    after it, as far as nothing but effect returns feeds them; the mix bus is none of them.
    """
    wiring = context.routing.wiring
    path = [channel]
    for after in groups_on_the_path(context, channel.id):
        by_returns = all(is_return(context, context.channels[e.source]) for e in wiring.arriving[after])
        if after == channel.id or not by_returns:
            break
        path.append(context.channels[after])
    fed = wiring.arriving.get(channel.id, [])
    feeders = {e.source for e in fed}
    if len(feeders) == 1:  # one bus in front of the return that leads nowhere else
        before = context.channels[next(iter(feeders))]
        only = all(e.to == channel.id for e in wiring.leaving[before.id])
        if before.kind in ("group", "return") and only and before not in path and wiring.arriving.get(before.id):
            path.insert(0, before)
    return tuple(path)
