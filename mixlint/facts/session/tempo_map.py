"""One entry of the tempo map that is wrong or missing: what lies behind it leaves the bars, and one change mends it.

A map of several tempos hides a wrong entry from whoever asks the whole song for its bars: what lies before it is on the
bars, what lies behind it is not. Digits that changed places, a return that was taken out and a bar of five that nobody
entered are found by trying each against the markers. A live take, whose markers lie anywhere, is mended by no entry.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import log2
from typing import Final, NamedTuple

from mixlint.analysis.activity import moment_text
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.settings import Setting, share_setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.session.clip_grid import GRID_SETTINGS, TOLERANCE, clip_starts_s, in_force, on_bar, on_bars
from mixlint.session import Session, Timeline, Unknown, known
from mixlint.session.timeline import CLOSEST_BEATS, Meter, Tempo
from mixlint.units import clock_text, number_text

LEAST_MENDED: Final = Setting(
    "tempo_map.least_mended",
    2.0,
    "",
    "An entry of the tempo map that brings fewer markers and clips on their bars proves nothing.",
    lowest=2.0,
)
LEAST_FITTED: Final = Setting(
    "tempo_map.least_fitted",
    4.0,
    "",
    "A tempo that nothing but these markers and clips tells has to bring so many on their bars.",
    lowest=3.0,
)
LEAST_ON_BARS: Final = share_setting(
    "tempo_map.least_on_bars", 85.0, "Least share of the markers and clips that the mended map has on its bars."
)
MAP_SETTINGS: Final = (*GRID_SETTINGS, LEAST_MENDED, LEAST_FITTED, LEAST_ON_BARS)

LEAST_BEFORE: Final = 2
"""So many have to lie on the bars before a wrong place, so that the bars are known to be those of the song: what such a
place is."""

MOST_STRAYS: Final = 1
BACK_ON_BARS: Final = 3
"""A pickup or a breath that has a marker of its own stands beside a bar, and so many things behind it on theirs: what a
map that goes wrong does not do. A definition of it."""

MULTIPLE: Final = 0.01
"""So near to twice or three times a tempo, one is its multiple: rounding."""

TYPED_S: Final = 1e-6
"""Times on whole seconds were typed by hand, and lie on the bars of many a tempo."""

EXACT_S: Final = 5e-3
"""A marker that snapped to a bar lies this near to it, with the rounding of tempos: two of them tell a whole tempo."""

ENTRIES: Final = 6
"""So many entries before the first thing off the bars are tried at the most: a bound of work."""

MOST_TIMES: Final = 400
"""More different times than these are not looked at: a bound of work."""

SLOWEST_BPM: Final = 30.0
FASTEST_BPM: Final = 300.0
"""Tempos that are tried as a fit to the markers: a bound of work."""

OTHER_METRES: Final = ((3, 4), (4, 4), (5, 4), (6, 4), (7, 4), (5, 8), (6, 8), (7, 8), (9, 8))
"""Metres that are tried in place of the one that stands there. One whose bars divide its bars is no other metre here,
since everything would lie on bars that are short enough."""

SHORT_BARS: Final = ((2, 4), (1, 4), (3, 8))
"""Bars that are tried as one alone as well, however they divide those around it: half a bar to breathe. The first is
the commonest and comes before all other metres."""

ROUNDED: Final = (0, 1, 2)
"""A fitted tempo is told with as few decimals as still fit: wording."""


class Mend(NamedTuple):
    """The one change of the map that brings most on its bars.

    Args:
        mended: how many markers and clips come on their bars by it.
        text: where the map goes wrong and what would mend it, for a reader.
        metre: it changes no tempo, so that nothing which follows the tempo is off.
    """

    mended: int
    text: str
    metre: bool = False


NOTHING: Final = Mend(0, "")


class _Trial(NamedTuple):
    """A map with one entry changed.

    Args:
        timeline: the map.
        at_s: where it differs first, seconds.
        told: the change was not fitted: its tempo stands in the map, or is a slip of the one that does.
        whole: its tempo was fitted and is a whole number, as most are that somebody typed.
        far: how far the tempo lies from the one that stands there, octaves.
        text: the change, for a reader.
    """

    timeline: Timeline
    at_s: float
    told: bool
    whole: bool
    far: float
    text: str


@per_session
def map_mend(context: SessionContext) -> Mend | Unknown:
    """What is wrong with one entry of the tempo map; Unknown without a tempo."""
    timeline = known(context.session.timeline)
    markers = {round(marker.time_s, 3) for marker in context.session.markers if marker.time_s > 0.0}
    found = _mend(context, timeline, sorted(markers))
    if found.mended:
        return found
    # Clips are cut where they have to be: they count where all of them lie on the bars of the mended map.
    clips = {round(start, 3) for start in clip_starts_s(context)}
    return _mend(context, timeline, sorted(markers | clips))


def _mend(context: SessionContext, timeline: Timeline, times: list[float]) -> Mend:
    import numpy as np

    near = context.setting(TOLERANCE) / 1000.0
    if not LEAST_BEFORE < len(times) <= MOST_TIMES:
        return NOTHING
    at_s = np.array(times)
    on = on_bars(timeline, at_s, near)
    off = _without_strays(times, on.tolist())
    if len(off) < context.setting(LEAST_MENDED) or all(abs(t - round(t)) < TYPED_S for t in off):
        return NOTHING
    off_s, lying_s = np.array(off), at_s[on]
    best: tuple[int, int, float] = (0, 0, 0.0)
    found = NOTHING
    for trial in _trials(timeline, times, off, near):
        before = on[at_s <= trial.at_s + near]
        if np.count_nonzero(~before) > MOST_STRAYS:
            continue  # it went wrong before that
        mended = off_s[on_bars(trial.timeline, off_s, near)]
        if len(mended) < max(context.setting(LEAST_MENDED), best[0]):
            continue  # it cannot win, whatever it leaves on the bars
        kept = int(np.count_nonzero(on_bars(trial.timeline, lying_s, near)))
        gained = len(mended) - (len(lying_s) - kept)
        told = trial.told or (trial.whole and bool(on_bars(trial.timeline, mended, EXACT_S).all()))
        # At the very beginning nothing before it tells that these are the bars of the song.
        least = context.setting(LEAST_MENDED if told and np.count_nonzero(before) >= LEAST_BEFORE else LEAST_FITTED)
        if 100.0 * (len(mended) + kept) < context.setting(LEAST_ON_BARS) * len(times) or gained < least:
            continue
        rank = (gained, trial.told + told, -trial.far)
        if rank > best:
            best = rank
            place = _place_text(context, timeline, trial.at_s, times, near)
            found = Mend(gained, f"{place}; {trial.text}", trial.timeline.tempos == timeline.tempos)
    return found


def _without_strays(times: list[float], on: list[bool]) -> list[float]:
    """The times off the bars from where they leave them; one alone, with the song on its bars behind it, is let go."""
    off = [number for number, lies in enumerate(on) if not lies]
    while len(off) > 1 and off[1] - off[0] > BACK_ON_BARS:
        off.pop(0)
    return [times[number] for number in off]


def _place_text(context: SessionContext, timeline: Timeline, at_s: float, times: list[float], near: float) -> str:
    behind = [t for t in times if t > at_s + near]
    share = f"{sum(not on_bar(timeline, t, near) for t in behind)} of {len(behind)}"
    where = moment_text(context, at_s) if at_s > near else "the beginning"
    return f"from {where} on {share} markers and clip starts lie off the bars"


def _trials(timeline: Timeline, times: list[float], off: list[float], near: float) -> Iterator[_Trial]:
    """Maps with one entry changed or put in."""
    # What lies on beats, if not on bars, is played to that tempo: only the metre can be wrong.
    if not all(_on_beat(timeline, t, near) for t in off):
        yield from _other_tempos(timeline, times, off)
        yield from _tempos_put_in(timeline, times, off, near)
    yield from _other_metres(timeline, off)
    yield from _metres_put_in(timeline, times, off, near)


def _on_beat(timeline: Timeline, at_s: float, near_s: float) -> bool:
    beats = timeline.beat(at_s)
    return abs(beats - round(beats)) * 60.0 / in_force(timeline.tempos, beats).bpm <= near_s


def _other_tempos(timeline: Timeline, times: list[float], off: list[float]) -> Iterator[_Trial]:
    """Another tempo in place of one of the map's; a map of one tempo is looked at as a whole by other facts."""
    tempos = timeline.tempos
    begun = [number for number, one in enumerate(tempos) if timeline.seconds(one.beat) < off[0]]
    for number in begun[-ENTRIES:] if len(tempos) > 1 else []:
        here = tempos[number]
        beats = tempos[number + 1].beat - here.beat if number + 1 < len(tempos) else 0.0
        at_s = timeline.seconds(here.beat)
        bar = in_force(timeline.meters, here.beat).bar_length
        told = {one.bpm for one in tempos} | _slips(here.bpm)
        # The next change mostly stands where a section begins, and so at a marker.
        fitted = {beats * 60.0 / (t - at_s) for t in times if t > at_s} if beats else set()
        fitted |= set(_fits(next((t - at_s for t in off if t > at_s), 0.0), bar))
        for bpm, known_one in (*((one, True) for one in told), *((one, False) for one in fitted)):
            for rounded in _roundings(bpm, known_one, here.bpm):
                changed = (*tempos[:number], Tempo(beat=here.beat, bpm=rounded, ramp=here.ramp), *tempos[number + 1 :])
                was, now = number_text(here.bpm), number_text(rounded, "bpm")
                text = f"with {now} in place of {was} there, they lie on them"
                yield _trial(timeline, changed, at_s, known_one, rounded, here.bpm, text)


def _tempos_put_in(timeline: Timeline, times: list[float], off: list[float], near: float) -> Iterator[_Trial]:
    """A tempo that is missing: it begins at one of the last things on a bar before the first one off it."""
    tempos = timeline.tempos
    for at_s in [t for t in times if t < off[0] and on_bar(timeline, t, near)][-2:]:
        beat = round(timeline.beat(at_s), 2)
        here = in_force(tempos, beat)
        if any(abs(one.beat - beat) < 1.0 for one in tempos):
            continue
        number = tempos.index(here) + 1
        bar = in_force(timeline.meters, beat).bar_length
        told = {one.bpm for one in tempos if one.bpm != here.bpm}
        fitted = {(tempos[number].beat - beat) * 60.0 / (t - at_s) for t in off} if number < len(tempos) else set()
        fitted |= set(_fits(off[0] - at_s, bar))
        for bpm, known_one in (*((one, True) for one in told), *((one, False) for one in fitted)):
            for rounded in _roundings(bpm, known_one, here.bpm):
                changed = (*tempos[:number], Tempo(beat=beat, bpm=rounded), *tempos[number:])
                now = number_text(rounded, "bpm")
                text = f"with {now} from there on in place of {number_text(here.bpm)}, they lie on them"
                yield _trial(timeline, changed, at_s, known_one, rounded, here.bpm, text)


def _trial(
    timeline: Timeline, tempos: tuple[Tempo, ...], at_s: float, told: bool, bpm: float, was: float, text: str
) -> _Trial:
    whole = not told and bpm == round(bpm)
    return _Trial(Timeline(tempos=tempos, meters=timeline.meters), at_s, told, whole, abs(log2(bpm / was)), text)


def _fits(span_s: float, bar: float) -> list[float]:
    """The tempos at which a span holds a whole number of bars of so many quarter notes."""
    if span_s <= 0.0:
        return []
    fewest, most = (int(span_s * bpm / 60.0 / bar) for bpm in (SLOWEST_BPM, FASTEST_BPM))
    return [60.0 * bars * bar / span_s for bars in range(max(1, fewest), most + 1)]


def _roundings(bpm: float, told: bool, was: float) -> list[float]:
    """A tempo as somebody would have typed it; one that was fitted is rounded to each of a few decimals.

    Twice, three times the tempo that stands there is left out: everything lies on bars that are short enough.
    """
    found = [bpm] if told else dict.fromkeys(round(bpm, places) for places in ROUNDED)
    inside = [one for one in found if SLOWEST_BPM <= one <= FASTEST_BPM]
    return [one for one in inside if told or round(one / was) < 2 or abs(one / was - round(one / was)) > MULTIPLE]


def _slips(bpm: float) -> set[float]:
    """What a slip of the fingers may have made a tempo from: two digits changed places, or it is double."""
    digits = number_text(bpm)
    found = {bpm / 2.0}
    for first in range(len(digits)):
        for second in range(first + 1, len(digits)):
            if digits[first].isdigit() and digits[second].isdigit():
                swapped = list(digits)
                swapped[first], swapped[second] = swapped[second], swapped[first]
                found.add(float("".join(swapped)))
    return {one for one in found if SLOWEST_BPM <= one <= FASTEST_BPM and one != bpm}


def _other_metres(timeline: Timeline, off: list[float]) -> Iterator[_Trial]:
    """Another metre in place of one of the map's; a song of one metre and tempo is looked at as a whole elsewhere."""
    meters = timeline.meters
    begun = [number for number, one in enumerate(meters) if timeline.seconds(one.beat) < off[0]]
    for number in begun[-ENTRIES:] if len(meters) > 1 or len(timeline.tempos) > 1 else []:
        here = meters[number]
        for other in _metres_beside(here):
            changed = (*meters[:number], other, *meters[number + 1 :])
            text = f"in {_metre_text(other)} in place of {_metre_text(here)} there, they lie on them"
            yield _metre_trial(timeline, changed, timeline.seconds(here.beat), 0.0, text)
        # One bar of another length, and the return to the metre before it is missing.
        back_at = here.beat + here.bar_length
        if number and all(one.beat > back_at for one in meters[number + 1 :]):
            back = meters[number - 1].model_copy(update={"beat": back_at})
            text = f"with one bar of {_metre_text(here)} there and {_metre_text(back)} behind it, they lie on them"
            changed = (*meters[: number + 1], back, *meters[number + 1 :])
            yield _metre_trial(timeline, changed, timeline.seconds(here.beat), 1.0, text)


def _metres_put_in(timeline: Timeline, times: list[float], off: list[float], near: float) -> Iterator[_Trial]:
    """A metre, or one bar of another length, that is missing behind the last thing on a bar."""
    meters = timeline.meters
    for at_s in [t for t in times if t < off[0] and on_bar(timeline, t, near)][-1:]:
        beat = round(timeline.beat(at_s), 2)
        here = in_force(meters, beat)
        number = meters.index(here) + 1
        ahead = meters[number:]
        if abs(here.beat - beat) < CLOSEST_BEATS:
            continue
        shorts = [Meter(beat=beat, beats=beats, unit=unit) for beats, unit in SHORT_BARS]
        shorts = [one for one in shorts if one.bar_length < here.bar_length]
        others = list(_metres_beside(here, beat))
        for other in (*shorts[:1], *others, *shorts[1:]):
            back = Meter(beat=beat + other.bar_length, beats=here.beats, unit=here.unit)
            one_bar = (*meters[:number], other, back)
            text = f"with one bar of {_metre_text(other)} from there to {clock_text(off[0])}, they lie on them"
            if all(one.beat > back.beat for one in ahead):
                yield _metre_trial(timeline, (*one_bar, *ahead), at_s, 1.0, text)
        for other in others:
            text = f"in {_metre_text(other)} from there on in place of {_metre_text(here)}, they lie on them"
            yield _metre_trial(timeline, (*meters[:number], other, *ahead), at_s, 0.0, text)


def _metre_trial(timeline: Timeline, meters: tuple[Meter, ...], at_s: float, far: float, text: str) -> _Trial:
    return _Trial(Timeline(tempos=timeline.tempos, meters=meters), at_s, False, False, far, text)


def _metres_beside(here: Meter, beat: float | None = None) -> Iterator[Meter]:
    """Other metres at the place of one, or at a beat, whose bars do not simply divide its bars or hold them."""
    for beats, unit in OTHER_METRES:
        other = Meter(beat=here.beat if beat is None else beat, beats=beats, unit=unit)
        longer, shorter = sorted((other.bar_length, here.bar_length), reverse=True)
        if longer % shorter > 1e-9:
            yield other


def _metre_text(meter: Meter) -> str:
    return f"{meter.beats}/{meter.unit}"


FACTS: Facts[Session] = Facts()


@FACTS.fact(
    "number",
    "How many markers, or markers and clip starts, come on the bars when one entry of the tempo map is set right; 0 "
    "where the map is right, or no one entry mends it.",
    how="derived",
    settings=MAP_SETTINGS,
)
def off_map(row: Row[Session]) -> FactValue:
    found = known(map_mend(row.context))
    return FactValue(found.mended, "derived", "", found.text)


@FACTS.fact("switch", "That entry is a metre: the tempos are right.", how="derived", settings=MAP_SETTINGS)
def off_by_metre(row: Row[Session]) -> bool:
    return known(map_mend(row.context)).metre
