"""What the print of an ambience shows: where it lies, the dry signal in it, its low cut, and what it comes from.

Measured against what feeds it (:mod:`mixlint.analysis.ambience_prints`). Nothing is measured unless a fact needs it,
and without audio there is nothing to measure.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.ambience import ENOUGH_SEEN, AmbienceLowCut, DryLeak, ambience_low_cut, dry_leak, effect_of
from mixlint.analysis.ambience_prints import (
    MOST_SOURCES,
    AmbienceFeed,
    AmbiencePrint,
    excerpts,
    gain_over,
    is_dry_part,
    print_of_return,
)
from mixlint.analysis.context import LOW_HZ, MID_HZ, SessionContext, per_session
from mixlint.analysis.inserts import active_inserts
from mixlint.analysis.parameter_times import delay_ms, pre_delay_ms
from mixlint.analysis.settings import Setting
from mixlint.naming import words_of_ambience
from mixlint.session import Channel, Unknown, is_known
from mixlint.units import number_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.media.print_comparison import PrintPair, PrintReading, PrintSource
    from mixlint.signal.dry_leak import LeakEstimate

    Floats = NDArray[np.float64]

LEAST_LOW: Final = Setting(
    "prints.least_low_end",
    -50.0,
    "dB",
    "Parts with less than this at 60 Hz, relative to 1 kHz, hold too little low end to show a low cut in a print.",
)

SHOWN_CLEAN: Final = Setting(
    "prints.shown_clean",
    -40.0,
    "dB",
    "A print in which no dry signal stands out is shown to be clean when what may hide in it lies under this.",
)

REACH: Final = Setting(
    "prints.reach",
    100.0,
    "ms",
    "How far a print may lie early or late; a house whose prints are known to lie in place sets it to 0.",
    lowest=0.0,
    highest=120.0,
)

LEAST_SHARE: Final = Setting(
    "prints.least_share",
    10.0,
    "%",
    "A print of which less comes from what feeds it holds something else. Over 6 s unrelated parts gave up to 5.6 %, "
    "prints of fixed reverbs and delays over 55 %; the detuned tail of a chorused reverb can lie between.",
    lowest=0.0,
    highest=100.0,
)

OF_ANOTHER: Final = Setting(
    "prints.of_another",
    30.0,
    "%",
    "A print of which so much comes from a part that does not feed it was made from that part.",
    lowest=0.0,
    highest=100.0,
)

READING_SETTINGS: Final = (REACH, LEAST_SHARE)
"""What the reading of a print rests on."""

LOW_CUT_SETTINGS: Final = (ENOUGH_SEEN, LEAST_LOW, *READING_SETTINGS)
"""What :func:`return_low_cut` reads."""

LEAK_SETTINGS: Final = (SHOWN_CLEAN, *READING_SETTINGS)
"""What :func:`return_dry_leak` reads."""

NOT_PRINTED: Final = Unknown(unknown="no print of this return is in the session", settle="print the return alone")

SHORTEST_S: Final = 5.0
"""In less than this unrelated parts can foretell each other by chance: nothing is said of where a print comes from."""

MOST_HEARD: Final = 6
"""Of all other parts so many are held against a print that does not come from what feeds it, the likeliest."""


@per_session
def print_pair(context: SessionContext, printed: AmbiencePrint) -> tuple[PrintPair, tuple[Channel, ...]] | Unknown:
    """The audio of a print and of the parts that feed it, and which parts these are.

    Unknown without audio, where nothing with audio feeds it, or it cannot be compared.
    """
    if context.audio is None:
        return NOT_PRINTED
    from mixlint.media import print_comparison

    feeds: dict[str, list[AmbienceFeed]] = {}
    for feed in feeds_of(context, printed):
        feeds.setdefault(feed.part.id, []).append(feed)
    if not feeds:
        missing = f": {', '.join(printed.missing)} has none" if printed.missing else ""
        return Unknown(
            unknown=f"nothing with audio of its own feeds it{missing}", settle="print it with one part sent to it"
        )
    strongest = sorted(feeds.values(), key=lambda ways: -_weight(context, ways))[:MOST_SOURCES]
    found = print_comparison.print_pair(
        context.audio, [_source(context, ways) for ways in strongest], excerpts(printed.track)
    )
    return found if isinstance(found, Unknown) else (found, tuple(ways[0].part for ways in strongest))


def _source(context: SessionContext, ways: list[AmbienceFeed]) -> PrintSource:
    from mixlint.media.print_comparison import PrintSource

    def gain(times: Floats) -> Floats:
        import numpy as np

        total = np.zeros(1)
        for way in ways:
            total = total + gain_over(context, way, times)
        return total

    return PrintSource(excerpts(ways[0].part), gain)


def _weight(context: SessionContext, ways: list[AmbienceFeed]) -> float:
    """How much of an ambience a part is likely to make up."""
    from mixlint.analysis.energy import measured_energy

    if len(ways[0].way) == 0:
        return 0.0
    energy = measured_energy(context, ways[0].part)
    return (energy.legs.sum() if energy is not None else 0.0) * sum(_gain_now(way) for way in ways) ** 2


def _gain_now(feed: AmbienceFeed) -> float:
    from mixlint.analysis.ambience_prints import gain_now

    return gain_now(feed)


@per_session
def print_reading(context: SessionContext, printed: AmbiencePrint) -> PrintReading | Unknown:
    """What a print shows against what feeds it.

    Unknown where it cannot be compared, or comes from something else.
    """
    found = _reading_of_anything(context, printed)
    if isinstance(found, Unknown):
        return found
    if 100.0 * found.share < context.setting(LEAST_SHARE):
        return Unknown(
            unknown=f"what lies on {context.name(printed.track.id)} does not come from what feeds it",
            settle="listen to it beside what is sent there",
        )
    return found


@per_session
def _reading_of_anything(context: SessionContext, printed: AmbiencePrint) -> PrintReading | Unknown:
    """The same wherever the print comes from: how much of it comes from what feeds it is a part of the reading."""
    pair = print_pair(context, printed)
    if isinstance(pair, Unknown):
        return pair
    from mixlint.media.print_comparison import read_print

    return read_print(
        pair[0],
        pre_delay_s=declared_pre_delay_s(context, printed.of),
        repeats=is_delay(context, printed),
        reach_s=context.setting(REACH) / 1000.0,
    )


def is_delay(context: SessionContext, printed: AmbiencePrint) -> bool:
    """True where the effect that was printed repeats the sound, or may."""
    if printed.of is not None:
        return effect_of(context, printed.of) not in ("reverb",)
    return "delay" in words_of_ambience(printed.track.name, context.house.vocabulary)[1]


def declared_pre_delay_s(context: SessionContext, of: Channel | None) -> float | None:
    """The pre-delay of a return's reverb, or the time of its delay, as the export shows it, seconds."""
    if of is None:
        return None
    for insert, reading in active_inserts(context, of):
        if reading.word == "reverb":
            found = pre_delay_ms(insert)
            return found / 1000.0 if is_known(found) else None
        if reading.word == "delay":
            found = delay_ms(insert, context.house.vocabulary)
            return found / 1000.0 if is_known(found) else None
    return None


@per_session
def print_dry_leak(context: SessionContext, printed: AmbiencePrint) -> DryLeak | Unknown:
    """The dry signal in a print relative to the rest of it.

    Returns:
        The level of the dry signal that stands out; where none does, the level up to which some may hide, if that is
        under the setting ``prints.shown_clean``. Unknown where it is not, or the audio cannot be compared.
    """
    reading = print_reading(context, printed)
    if isinstance(reading, Unknown):
        return reading
    leak = reading.leak
    if leak.dry_db is not None:
        late = "" if not leak.lag_s else f", which lies {lag_text(leak.lag_s)}"
        return DryLeak(leak.dry_db, f"measured in the return's print{late}", known="measured")
    if leak.at_most_db is not None and leak.at_most_db <= context.setting(SHOWN_CLEAN):
        return DryLeak(leak.at_most_db, "measured in the return's print, at most", known="measured")
    return _hidden(leak)


def lag_text(lag_s: float) -> str:
    """``3 ms late``."""
    return f"{number_text(abs(lag_s) * 1000.0)} ms {'late' if lag_s > 0.0 else 'early'}"


def _hidden(leak: LeakEstimate) -> Unknown:
    """Why a print does not show whether it is clean, and what would."""
    bound = "" if leak.at_most_db is None else f"up to {number_text(leak.at_most_db)} dB"
    if leak.copy_s is not None and leak.copy_db is not None:
        return Unknown(
            unknown=f"a copy of the dry sound {number_text(leak.copy_db)} dB under the rest of the print lies "
            f"{number_text(abs(leak.copy_s) * 1000.0)} ms {'after' if leak.copy_s > 0.0 else 'before'} it: "
            "dry signal in a print that does not lie in place, or a first reflection",
            settle="look at the effect's mix control, and lay the print against its source to the sample",
        )
    if leak.lag_s is None and leak.onset_s is not None and leak.onset_s > 0.0:
        return Unknown(
            unknown=f"no dry signal stands out; but the ambience begins {number_text(leak.onset_s * 1000.0)} ms after "
            f"the dry sound, and if that is how late the print lies, {bound} may hide in its beginning",
            settle="look at the effect's mix control, or at its pre-delay",
        )
    return Unknown(
        unknown=f"no dry signal stands out in the print{f'; it may be {bound}' if bound else ''}",
        settle="print the return again from a brighter part, or look at its mix control",
    )


@per_session
def return_dry_leak(context: SessionContext, channel: Channel) -> DryLeak | Unknown:
    """The dry signal at a return's output: as the export shows it, and as measured in its print, the worse of both.

    Unknown where neither shows it; the reason is the export's where there is no print.
    """
    shown = dry_leak(context, channel)
    printed = print_of_return(context, channel)
    if printed is None or context.audio is None:
        return shown
    measured = print_dry_leak(context, printed)
    if isinstance(measured, Unknown):
        return shown if not isinstance(shown, Unknown) else measured
    return (
        measured if isinstance(shown, Unknown) or measured.db > max(shown.db, context.setting(SHOWN_CLEAN)) else shown
    )


@per_session
def return_low_cut(context: SessionContext, channel: Channel) -> AmbienceLowCut | Unknown:
    """The low cut on a return's ambience path: of the filters shown, or as measured in its print, where that is more.

    A reverb can hold a low cut that the export does not show. Unknown where neither shows it; the reason is the
    export's where there is no print.
    """
    shown = ambience_low_cut(context, channel)
    enough = context.setting(ENOUGH_SEEN)
    printed = print_of_return(context, channel)
    if printed is None or context.audio is None or (not isinstance(shown, Unknown) and shown.db >= enough):
        return shown
    measured = print_low_cut_db(context, printed)
    if isinstance(measured, Unknown):
        return shown if not isinstance(shown, Unknown) else measured
    return AmbienceLowCut(measured, (), "measured")


@per_session
def print_low_cut_db(context: SessionContext, printed: AmbiencePrint) -> float | Unknown:
    """The attenuation of a print at 60 Hz relative to 1 kHz, against the parts that feed it, dB.

    Both are read in third-octave bands. Unknown where the parts hold less low end than the setting
    ``prints.least_low_end``, or the audio cannot be compared.
    """
    reading, pair = print_reading(context, printed), print_pair(context, printed)
    if isinstance(reading, Unknown):
        return reading
    if isinstance(pair, Unknown):
        return pair
    from mixlint.media.print_comparison import low_cut_db

    cut, holds = low_cut_db(pair[0], reading.gains, LOW_HZ, MID_HZ)
    if holds < context.setting(LEAST_LOW):
        return Unknown(
            unknown="the parts sent to it hold too little low end to show a low cut",
            settle="look at the return's filter",
        )
    return cut


class Origin(NamedTuple):
    """What a print comes from.

    Args:
        share: how much of it comes from what feeds it, per cent.
        other: the part that it comes from instead; None where it comes from what feeds it, or from nothing that plays.
        other_share: how much of it comes from that part, per cent.
        follows: it goes up and down with what feeds it.
    """

    share: float
    other: Channel | None
    other_share: float
    follows: float


@per_session
def print_origin(context: SessionContext, printed: AmbiencePrint) -> Origin | Unknown:
    """What a print comes from: what feeds it, another part, or nothing that plays.

    Unknown where it cannot be compared.
    """
    pair = print_pair(context, printed)
    if isinstance(pair, Unknown):
        return pair
    reading = _reading_of_anything(context, printed)
    if isinstance(reading, Unknown):
        return reading
    share = 100.0 * reading.share
    if share < context.setting(LEAST_SHARE) and pair[0].printed.shape[1] < SHORTEST_S * pair[0].rate_hz:
        return Unknown(unknown="too little of it lies beside what feeds it", settle="listen to the two together")
    follows = max((_envelope_fit(context, part, printed.track) for part in pair[1]), default=0.0)
    if share >= context.setting(LEAST_SHARE):
        return Origin(share, None, 0.0, follows)
    fed = {part.id for part in pair[1]}
    best: tuple[float, Channel | None] = (0.0, None)
    for part, other_share in _heard_in(context, printed, fed):
        if other_share > best[0]:
            best = (other_share, part)
    found = best[1] if best[0] >= context.setting(OF_ANOTHER) else None
    return Origin(share, found, best[0], follows)


def feeds_of(context: SessionContext, printed: AmbiencePrint) -> tuple[AmbienceFeed, ...]:
    """The parts that feed a print: as the session or its name tells, else what it sounds like."""
    return printed.feeds or _by_sound(context, printed)


@per_session
def _by_sound(context: SessionContext, printed: AmbiencePrint) -> tuple[AmbienceFeed, ...]:
    """The parts that a print which nothing feeds, and which has no part in its name, sounds like."""
    if printed.missing or context.audio is None:
        return ()
    least = context.setting(LEAST_SHARE)
    return tuple(AmbienceFeed(part, ()) for part, share in _heard_in(context, printed, set()) if share >= least)


def _heard_in(context: SessionContext, printed: AmbiencePrint, but: set[str]) -> list[tuple[Channel, float]]:
    """The likeliest parts beside ``but``, and how much of a print comes from each, per cent."""
    assert context.audio is not None
    from mixlint.media.print_comparison import share_of

    parts = [
        one
        for one in context.session.channels
        if one.id not in but and one.id != printed.track.id and is_dry_part(context, one)
    ]
    likely = sorted(parts, key=lambda part: -_envelope_fit(context, part, printed.track))[:MOST_HEARD]
    found = []
    for part in likely:
        share = share_of(context.audio, excerpts(part), excerpts(printed.track))
        if not isinstance(share, Unknown):
            found.append((part, 100.0 * share))
    return found


@per_session
def _envelope_fit(context: SessionContext, part: Channel, track: Channel) -> float:
    """How alike the levels of a part, rung out for half a second, and of a print go up and down: −1 … 1."""
    import numpy as np

    from mixlint.analysis.energy import measured_energy

    one, other = measured_energy(context, part), measured_energy(context, track)
    if one is None or other is None:
        return 0.0
    a, b = (np.sqrt(energy.legs.sum(axis=0)) for energy in (one, other))
    a = np.convolve(a, np.ones(2) / 2.0)[: a.size]
    a, b = a - a.mean(), b - b.mean()
    of_each = float(np.sqrt((a * a).sum() * (b * b).sum()))
    return float((a * b).sum()) / of_each if of_each > 0.0 else 0.0
