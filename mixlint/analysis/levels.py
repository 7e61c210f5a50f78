"""Levels of parts and returns against each other, and against what is usual in the session.

Where the audio is open they are measured; without it every part is taken to play at one loudness, so that they are
what the gains make of it: good enough for an outlier, not for a balance.
"""

from __future__ import annotations

from functools import partial
from itertools import pairwise
from math import inf
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import clips_on, playing, steps_of, time_grid
from mixlint.analysis.audibility import is_audible
from mixlint.analysis.channel_purpose import is_return, is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.counterparts import name_stem, path_power_gain
from mixlint.analysis.dry_paths import is_dry
from mixlint.analysis.energy import energy_at_mix, source_energies
from mixlint.analysis.gain_to_mix_bus import direct_power_gain, energy_forms
from mixlint.analysis.partners import partners
from mixlint.analysis.settings import Setting
from mixlint.routing import acting_inserts
from mixlint.session import Channel, Dynamics, Unknown, is_known
from mixlint.units import SILENCE_DB

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


PROGRAM_PEAK: Final = Setting(
    "processors.program_peak", -6.0, "dBFS", "A part that is not measured is taken to peak here.", highest=0.0
)


SAME_LOUDNESS: Final = "without audio every part is taken to play at one loudness"
"""What a level rests on that is not measured, for a reader."""

FEWEST_OTHERS: Final = 2
"""With one other part nothing tells which of the two is out of line: a definition."""


class LevelAgainst(NamedTuple):
    """How loud something arrives at the mix bus against something else.

    Args:
        db: the difference, dB.
        measured: False where the loudness of a part in it is assumed.
    """

    db: float
    measured: bool


@per_session
def part_against_the_rest(context: SessionContext, channel: Channel) -> LevelAgainst | Unknown:
    """How loud a part arrives while it plays: against all the others together, or without audio against their median.

    Other parts of its own role do not count among the others. Unknown where a level is not known, where fewer than two
    others play, and where only its ambience arrives.
    """
    import numpy as np

    from mixlint.signal.median import median

    parts = _arriving(context)
    if isinstance(parts, Unknown):
        return parts
    place = parts.place_of.get(channel.id)
    others = parts.roles != context.role(channel.id)
    if place is None or others.sum() < FEWEST_OTHERS:
        return Unknown(unknown="too few other parts play")
    if not direct_power_gain(context, channel.id).any():
        return Unknown(unknown="its dry sound does not reach the mix bus")
    mine = parts.energy[place]
    sings = parts.sounds[place]
    if not sings.any():
        return Unknown(unknown="it never sounds")
    measured = bool(parts.measured[place] and parts.measured[others].all())
    with_it = (parts.energy @ sings)[others]
    if not (with_it > 0.0).any():
        return Unknown(unknown="no other part plays with it")
    if measured:
        against = float(with_it.sum() / sings.sum())
    else:
        # While it plays: a part that rests half of that time is not half as loud.
        steps = (parts.sounds @ sings)[others]
        against = median(with_it[steps > 0.0] / steps[steps > 0.0])
    return LevelAgainst(float(10.0 * np.log10(float(mine[sings > 0.0].mean()) / against)), measured)


class _Arriving(NamedTuple):
    """All audible parts as they arrive at the mix bus, so that one is held against all others by a product.

    Args:
        place_of: channel id → its row.
        roles: (N,) the role of each, None where it is not told.
        energy: (N, T) over the time grid.
        sounds: (N, T) 1 where it has energy, else 0.
        measured: (N,)
    """

    place_of: dict[str, int]
    roles: NDArray[np.object_]
    energy: Floats
    sounds: Floats
    measured: NDArray[np.bool_]


@per_session
def _arriving(context: SessionContext) -> _Arriving | Unknown:
    import numpy as np

    parts = energy_at_mix(context)
    if isinstance(parts, Unknown):
        return parts
    energy = np.array([part.left + part.right for part in parts]).reshape(len(parts), -1)
    return _Arriving(
        {part.channel: place for place, part in enumerate(parts)},
        np.array([context.role(part.channel) for part in parts], dtype=object),
        energy,
        (energy > 0.0).astype(np.float64),
        np.array([part.measured for part in parts], dtype=bool),
    )


@per_session
def return_against_its_sources(context: SessionContext, channel: Channel) -> LevelAgainst | Unknown:
    """How loud a return arrives at the mix bus against the dry sound of the parts that feed it, all the song together.

    Unknown where a gain is not known, where a send before the fader feeds the most of it, whose dry sound may be meant
    to be gone, and where nothing feeds it.
    """
    from math import log10

    routing = context.routing
    why = routing.unknown_on_the_path.get(channel.id, ())
    if why:
        return Unknown(unknown=why[0], settle="export it again")
    parts = energy_at_mix(context)
    if isinstance(parts, Unknown):
        return parts
    feeding = routing.wiring.upstream([channel.id], routing.wiring.audible) - {channel.id}
    dry = {part.channel: part for part in parts if part.channel in feeding}
    fed, before_fader = _power_in(context)[channel.id]
    if not dry or fed <= 0.0:
        return Unknown(unknown="nothing that plays feeds it")
    if before_fader > fed / 2.0:
        return Unknown(unknown="a send before the fader feeds it, whose dry sound may be meant to be gone")
    direct, ambience = energy_forms(context, channel.id)
    out = float((direct + ambience).sum(axis=(-1, -2, -3)).mean())
    against = 0.0
    for one in dry:
        form, _ = energy_forms(context, one)
        own = form.sum(axis=(-1, -2, -3))
        against += _source_power(context)[one] / routing.legs[one] * float(own.mean())
    if against <= 0.0 or out <= 0.0:
        return Unknown(unknown="the parts that feed it have no dry sound in the mix")
    # What arrives stands half on each leg.
    return LevelAgainst(10.0 * log10(fed / 2.0 * out / against), all(part.measured for part in dry.values()))


def power_fed(context: SessionContext, channel: Channel) -> float:
    """The mean power that arrives at the input of a channel while its sources sound, legs added; filters aside."""
    return _power_in(context).get(channel.id, (0.0, 0.0))[0]


@per_session
def usual_return_level(context: SessionContext) -> dict[str, float]:
    """Return id → the median of what :func:`return_against_its_sources` gives for the other returns, dB."""
    from mixlint.signal.median import median

    levels = {}
    for channel in context.session.channels:
        if is_return(context, channel):
            found = return_against_its_sources(context, channel)
            if is_known(found):
                levels[channel.id] = found.db
    return {one: median([db for other, db in levels.items() if other != one]) for one in levels if len(levels) > 1}


def taken_db(own: Dynamics | None, level_dbfs: float) -> float:
    """What a compressor or limiter takes from a level, dB; 0 for an equalizer, and for a gate, which lets it pass."""
    from mixlint.signal.dynamics import gain_change_db

    if own is None or not is_known(own.threshold_db) or is_known(own.range_db):
        return 0.0
    ratio = own.ratio if is_known(own.ratio) else inf  # a limiter has none in the open form
    knee = own.knee_db if is_known(own.knee_db) else 0.0
    return -float(gain_change_db(level_dbfs, own.threshold_db, max(1.0, ratio), knee))


class BusPeak(NamedTuple):
    """The highest peak to be expected on a bus.

    Args:
        dbfs: its level, dBFS.
        at_s: the step of the song where it is, seconds.
        measured: False where the peak of a part is assumed.
    """

    dbfs: float
    at_s: float
    measured: bool


@per_session
def bus_peak(context: SessionContext, channel: Channel) -> BusPeak | Unknown:
    """The highest peak to be expected at a bus, behind its fader, from the peaks of the parts that go through it.

    Peaks of parts rarely meet, so that they are added in power, step by step of the grid: what comes out is good to
    some decibels. A part that is not measured is taken to peak at the setting ``processors.program_peak``. Ambience is
    left out, and what shown compressors and limiters on a part's own strip take from its loudest peak is taken off.
    Unknown where a part reaches the bus by several paths, and where another processor on one may change peaks.
    """
    import numpy as np

    from mixlint.routing.strips import amplitude, fader_db, level_gain

    routing, edges = context.routing, time_grid(context)
    mix_bus = routing.wiring.mix_bus
    through = routing.wiring.upstream([channel.id], partial(is_dry, context))
    parts = [c for c in context.session.channels if c.id in through and is_source(context, c)]
    if isinstance(mix_bus, Unknown):
        return mix_bus
    lost = [why for part in parts for why in routing.unknown_on_the_path.get(part.id, ())]
    if lost or not parts:
        return Unknown(unknown=lost[0] if lost else "nothing plays through it", settle="export it again")
    own = level_gain(channel) * amplitude(fader_db(channel))
    onward = float(energy_forms(context, channel.id)[0].sum(axis=(-1, -2)).max())
    scale = 1.0 if channel.id == mix_bus else own**2 / max(onward, 1e-20)
    total, measured = np.zeros(edges.size - 1), True
    for part in parts:
        why = _changes_peaks(context, part, channel)
        if why is not None:
            return why
        peaks = _part_peaks(context, part)
        if peaks is None:
            measured = False
            peaks = _usual_peaks(context, part)
        direct = energy_forms(context, part.id)[0]
        # Of two sides the louder one: both legs alike for a mono part, each leg by itself for a stereo one.
        sides = direct.sum(axis=(-1, -2)) if routing.legs[part.id] == 1 else np.trace(direct, axis1=-2, axis2=-1)
        left = 10.0 ** (-_taken_from(part, peaks) / 10.0)
        total = total + peaks**2 * sides.max(axis=-1) * scale * left
    at = int(total.argmax())
    if total[at] <= 0.0:
        return Unknown(unknown="nothing sounds there")
    return BusPeak(float(10.0 * np.log10(total[at])), float(edges[at]), measured)


def _changes_peaks(context: SessionContext, part: Channel, bus: Channel) -> Unknown | None:
    """Why the peaks of a part behind its path to a bus are not known; None where only faders and equalizers act."""
    wiring, dry = context.routing.wiring, partial(is_dry, context)
    between = wiring.downstream([part.id], dry) & wiring.upstream([bus.id], dry)
    for here in between:
        for insert in acting_inserts(context.channels[here]).values():
            if insert.equalizer is None and (insert.dynamics is None or insert.opaque or here != part.id):
                who = f"{insert.name or 'a processor'} on {context.name(here)}"
                return Unknown(unknown=f"{who} may change the peaks", settle="watch the meter of the bus")
    if len([edge for edge in wiring.leaving.get(part.id, ()) if edge.to in between and dry(edge)]) != 1:
        return Unknown(unknown=f"{context.name(part.id)} reaches it by several paths", settle="watch its meter")
    return None


def _taken_from(part: Channel, peaks: Floats) -> float:
    """What the shown compressors and limiters of a part take from its loudest peak, dB; ``peaks`` are amplitudes."""
    from math import log10

    highest = float(peaks.max(initial=0.0))
    level, total = 20.0 * log10(highest) if highest > 0.0 else SILENCE_DB, 0.0
    for insert in acting_inserts(part).values():
        own = insert.dynamics
        if own is not None:
            level += own.input_gain_db if is_known(own.input_gain_db) else 0.0
            taken = taken_db(own, level)
            level += (own.output_gain_db if is_known(own.output_gain_db) else 0.0) - taken
            total += taken
    return total


def _usual_peaks(context: SessionContext, part: Channel) -> Floats:
    """The peaks (T,) that are taken for a part which is not measured, with the gains of its clips."""
    import numpy as np

    peak = 10.0 ** (context.setting(PROGRAM_PEAK) / 20.0)
    found = peak * (playing(context, part.id) > 0.0)
    edges = time_grid(context)
    for clip in part.clips:
        if clip.on is not False and is_known(clip.gain_db):
            first, last = np.searchsorted(edges, [clip.start_s, clip.end_s])
            found[max(0, int(first) - 1) : int(last)] = peak * 10.0 ** (clip.gain_db / 20.0)
    return np.asarray(found)


@per_session
def _part_peaks(context: SessionContext, part: Channel) -> Floats | None:
    """The peaks (T,) of a part's clips with their gains, step by step; None where a clip cannot be followed."""
    import numpy as np

    if context.audio is None:
        return None
    edges = time_grid(context)
    found = np.zeros(edges.size - 1)
    for clip in clips_on(part):
        if clip.file is None or not is_known(clip.offset_s) or not is_known(clip.gain_db) or clip.speed != 1.0:
            return None
        measure = context.audio.measure(clip.file)
        if isinstance(measure, Unknown):
            return None
        first, last = steps_of(edges, clip.start_s, clip.end_s)
        gain = 10.0 ** (clip.gain_db / 20.0)
        cells = measure.peak.max(axis=0)
        times = clip.offset_s + np.clip(edges[first : last + 1], clip.start_s, clip.end_s) - clip.start_s
        cuts = np.clip((times / measure.cell_s).astype(int), 0, cells.size)
        for step, (a, b) in enumerate(pairwise(cuts.tolist()), first):
            if b > a:
                found[step] = max(found[step], gain * float(cells[a:b].max()))
    return found


@per_session
def _source_power(context: SessionContext) -> dict[str, float]:
    """Part id → its mean power at the input of its strip while it sounds, its legs added."""
    parts = [c for c in context.session.channels if is_source(context, c) and is_audible(context, c)]
    found = {}
    for one, energy in source_energies(context, parts).items():
        power = energy.legs.sum(axis=0)
        sounding = power[power > 0.0]
        found[one] = float(sounding.mean()) if sounding.size else 0.0
    return found


@per_session
def _power_in(context: SessionContext) -> dict[str, tuple[float, float]]:
    """Channel id → the power that arrives at its input, legs and sources added, and how much of it before a fader.

    Controls count as they stand now; filters and pans do not. Loops are cut at their weakest.
    """
    from mixlint.routing.strips import amplitude, fader_db, level_gain, unmuted

    routing = context.routing
    own = _source_power(context)
    found: dict[str, tuple[float, float]] = {}
    arriving: dict[str, list[tuple[float, bool]]] = {}
    for channel_id in reversed(routing.upstream_order):
        fed = arriving.get(channel_id, [])
        power = own.get(channel_id, 0.0) + sum(one for one, _ in fed)
        found[channel_id] = (power, sum(one for one, before in fed if before))
        channel = context.channels[channel_id]
        gain = level_gain(channel) if unmuted(channel) else 0.0
        after = gain * amplitude(fader_db(channel))
        for edge in routing.leaving.get(channel_id, ()):
            taken = (gain if edge.tap == "pre" else after) * amplitude(edge.level_db)
            arriving.setdefault(edge.to, []).append((power * taken**2, edge.tap == "pre"))
    return found


class Namesakes(NamedTuple):
    """Where a part lies beside the parts of its name.

    A left and a right count as one part, at the mean of their gains in dB.

    Args:
        others: how many others bear its name, its own other half left out.
        outside_db: how far it lies over all of these, or (negative) under all of them; 0 where it lies between them.
        off_half_db: how far it lies over its other half, or under (negative), or over or under the middle of all parts
            of its name where that is less, so that of two that differ the odd one is known; 0 where it has none.
    """

    others: int
    outside_db: float
    off_half_db: float


@per_session
def namesakes_gain_db(context: SessionContext) -> dict[str, Namesakes]:
    """Part id → where its gain to the mix bus with its clip gains lies beside its namesakes.

    Namesakes are audible parts of one name but for number and side. Parts whose gain is not known are left out.
    """
    from math import log10

    from mixlint.signal.median import median

    stems: dict[str, dict[str, float]] = {}
    for channel in context.session.channels:
        if not is_source(context, channel) or not is_audible(context, channel):
            continue
        power, stem = path_power_gain(context, channel.id), name_stem(context, channel)
        gains = _clip_gains(channel)
        if power and stem:
            usual = median(gains) if gains else 0.0
            stems.setdefault(stem, {})[channel.id] = 10.0 * log10(power) + usual
    halves = {one: half.id for one, half in partners(context).items()}
    found = {}
    for parts in stems.values():
        units: dict[frozenset[str], float] = {}
        for one, gain in parts.items():
            half = halves.get(one, one)
            units[frozenset((one, half))] = (gain + parts.get(half, gain)) / 2.0
        for one, gain in parts.items():
            half = halves.get(one, one)
            own = units[frozenset((one, half))]
            apart = [own - other for members, other in units.items() if one not in members]
            if len(parts) > 1:
                middle = median([other for name, other in parts.items() if name != one])
                off = min(gain - parts.get(half, gain), gain - middle, key=abs)
                found[one] = Namesakes(len(apart), _outside(apart), off if half != one and half in parts else 0.0)
    return found


def _outside(apart_db: list[float]) -> float:
    """The least of several differences where all go one way, else 0, dB."""
    if not apart_db or min(apart_db) * max(apart_db) <= 0.0:
        return 0.0
    return min(apart_db, key=abs)


FEWEST_CLIPS: Final = 2
"""One clip with a gain is one clip; from two on all of a part were moved: a definition."""


@per_session
def clips_moved_db(context: SessionContext, channel: Channel) -> float:
    """By how much at least all clips of a part are up or down by their gains, where no clip of a namesake has one, dB.

    0 for a part of one clip, one whose clips are not all moved one way, and where a namesake's clips are moved as well.
    """
    own = _clip_gains(channel)
    if len(own) < FEWEST_CLIPS or min(own) * max(own) <= 0.0:
        return 0.0
    stem = name_stem(context, channel)
    others = [
        other
        for other in context.session.channels
        if other.id != channel.id and other.id in namesakes_gain_db(context) and name_stem(context, other) == stem
    ]
    if not stem or not others or channel.id not in namesakes_gain_db(context):
        return 0.0
    theirs = [_clip_gains(other) for other in others]
    if any(not gains or any(gains) for gains in theirs):
        return 0.0
    return min(map(abs, own))


def _clip_gains(channel: Channel) -> list[float]:
    """The gains of a channel's clips that play, dB, as far as they are known."""
    return [clip.gain_db for clip in channel.clips if clip.on is not False and is_known(clip.gain_db)]
