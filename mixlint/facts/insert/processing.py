"""Processors one by one: what its strip is to the song, how far an equalizer moves, whether it changes anything."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import inf
from typing import Final, NamedTuple

from mixlint.analysis.activity import has_arrangement, merged, sounding_clips, sounding_spans, steps_through
from mixlint.analysis.audibility import is_audible
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.inserts import active_bands, active_inserts
from mixlint.analysis.parameter_times import delay_ms
from mixlint.analysis.pitches import NoteLength, nearest_length
from mixlint.analysis.settings import Setting
from mixlint.session import Channel, Control, EqualizerBand, Insert, Target, Unknown, control_of, is_known, known
from mixlint.session.control import is_readable, moves
from mixlint.signal.runs import runs
from mixlint.units import number_text

HIDDEN: Final = Unknown(unknown="its settings are hidden in the export", settle="look at its settings")

NARROW_Q: Final = Setting("equalizer.narrow_q", 8.0, "", "A cut with a Q above this is narrow: it takes out a ring.")
NARROW_CUT: Final = Setting("equalizer.narrow_cut", 12.0, "dB", "A narrow cut may be this deep before it counts.")
FLAT: Final = Setting("equalizer.flat", 0.2, "dB", "A gain of this or less, either way, changes nothing.")


class ChannelInsert(NamedTuple):
    """One insert, with its settings as their controls stand, its channel and its place there, counted from 0."""

    channel: Channel
    place: int
    insert: Insert


class BandMove(NamedTuple):
    """The greatest move of an equalizer in one direction: decibels of 0 or more, and the band, for a reader."""

    db: float = 0.0
    text: str = "none"


def deepest_cut(context: SessionContext, insert: Insert) -> BandMove:
    """The deepest cut of bells and low shelves; a narrow one counts only beyond what takes out a ring."""
    narrow_q, narrow_cut = context.setting(NARROW_Q), context.setting(NARROW_CUT)

    def rings(band: EqualizerBand, gain_db: float) -> bool:
        """True for a narrow cut no deeper than it takes to remove a ring."""
        return band.kind == "bell" and is_known(band.q) and band.q > narrow_q and gain_db >= -narrow_cut

    bands = _gains_of(insert, "bell", "low-shelf")
    return _greatest((-gain, band) for band, gain in bands if not rings(band, gain))


def highest_boost(insert: Insert) -> BandMove:
    """The highest boost of bells and low shelves."""
    return _greatest((gain, band) for band, gain in _gains_of(insert, "bell", "low-shelf"))


def highest_shelf(insert: Insert) -> BandMove:
    """The highest boost of high shelves."""
    return _greatest((gain, band) for band, gain in _gains_of(insert, "high-shelf"))


def _gains_of(insert: Insert, *kinds: str) -> Iterator[tuple[EqualizerBand, float]]:
    """The bands of some kinds that act at a known frequency, with their known gains, dB."""
    for band in active_bands(insert):
        if band.kind in kinds and is_known(band.gain_db) and is_known(band.freq_hz):
            yield band, band.gain_db


def _greatest(found: Iterable[tuple[float, EqualizerBand]]) -> BandMove:
    """The greatest of some moves, 0 where none is more; of equals the one whose text comes last."""
    return max((BandMove(db, band_text(band)) for db, band in found if db > 0.0), key=_rank, default=BandMove())


def _rank(move: BandMove) -> tuple[float, str]:
    """By what moves are compared."""
    return move.db, move.text


def band_text(band: EqualizerBand) -> str:
    """A band for a reader: ``+4 dB at 2 500 Hz``."""
    gain = band.gain_db if is_known(band.gain_db) else 0.0
    at = number_text(band.freq_hz, "Hz") if is_known(band.freq_hz) else "an unknown frequency"
    return f"{'+' if gain > 0 else ''}{number_text(gain, 'dB')} at {at}"


def why_neutral(context: SessionContext, at: ChannelInsert) -> str:
    """Why a processor changes nothing, as far as the export shows, for a reader; empty where it may change the sound.

    One whose switch or wet share is automated, or whose settings are hidden, may.
    """
    insert, channel = at.insert, at.channel
    switch, mix = (control_of(channel, Target.insert(at.place, word)) for word in ("on", "wet"))
    if switch.moves or mix.moves:
        return ""
    if switch.can_be_on is False:
        return "is switched off"
    if mix.now == 0.0:
        return "has a wet share of 0 %"
    if insert.opaque or has_automated_parameter(at):
        return ""
    if insert.equalizer is not None and _is_flat(insert, context.setting(FLAT)):
        return "is flat"
    if insert.dynamics is not None and insert.dynamics.ratio == 1.0 and _has_unity_gain(insert, context.setting(FLAT)):
        return "has a ratio of 1:1"
    return ""


def has_automated_parameter(at: ChannelInsert) -> bool:
    """True when automation moves any control of the insert; a lane that holds one makes no difference."""
    lanes = (lane for lane in at.channel.automation if lane.target.of_insert and lane.target.place == at.place)
    return any(moves(lane) or not is_readable(lane) for lane in lanes)


def _is_flat(insert: Insert, flat_db: float) -> bool:
    """True for an equalizer of bells and shelves alone, no gain of which, known throughout, is over ``flat_db``."""
    settings = insert.equalizer
    assert settings is not None
    gains = (settings.input_gain_db, settings.output_gain_db)
    if any(not is_known(gain) or abs(gain) > flat_db for gain in gains):
        return False
    return all(
        b.kind in ("bell", "low-shelf", "high-shelf") and is_known(b.gain_db) and abs(b.gain_db) <= flat_db
        for b in active_bands(insert)
    )


def _has_unity_gain(insert: Insert, flat_db: float) -> bool:
    """True for a processor of dynamics whose input and output gains are known and not over ``flat_db``."""
    settings = insert.dynamics
    assert settings is not None
    return all(is_known(gain) and abs(gain) <= flat_db for gain in (settings.input_gain_db, settings.output_gain_db))


@per_session
def inserted_effects(context: SessionContext) -> dict[str, list[str]]:
    """``reverb`` and ``delay`` → ids of the audible parts of the song on which one is active, once for each."""
    found: dict[str, list[str]] = {"reverb": [], "delay": []}
    for channel in context.session.channels:
        if not is_source(context, channel) or not is_audible(context, channel):
            continue
        for _, reading in active_inserts(context, channel):
            if reading.word in found:
                found[reading.word].append(channel.id)
    return found


def nearest_note_length(context: SessionContext, at: ChannelInsert) -> NoteLength | Unknown:
    """The note value nearest to an insert's delay time; Unknown where the time or the tempo is."""
    time_ms = delay_ms(at.insert)
    return time_ms if isinstance(time_ms, Unknown) else nearest_length(context.session.timeline, time_ms)


LEAST_AT_TEMPO: Final = Setting(
    "delay.least_at_tempo", 4.0, "s", "A tempo counts where a delay sounds at it for this long.", lowest=0.0
)


class AtTempo(NamedTuple):
    """A delay against one of the tempos at which it sounds.

    Args:
        bpm: the tempo.
        from_s: from when on it is heard, seconds.
        near: the note value nearest to the delay's time.
    """

    bpm: float
    from_s: float
    near: NoteLength


@per_session
def at_tempos(context: SessionContext, at: ChannelInsert) -> tuple[AtTempo, ...] | Unknown:
    """A delay whose time stays against each tempo at which it sounds, in order of time.

    Unknown where its time is not listed or automated, the session gives no tempo, or the tempo glides.
    """
    time_ms = known(delay_ms(at.insert))
    timeline = known(context.session.timeline)
    if has_automated_parameter(at):
        return Unknown(unknown="its settings are automated", settle="look whether its time follows the tempo")
    if any(tempo.ramp for tempo in timeline.tempos):
        return Unknown(unknown="the tempo glides", settle="compare it with the tempo where it is heard")
    spans = _fed_spans(context, at.channel)
    starts = [timeline.seconds(tempo.beat) for tempo in timeline.tempos]
    found: dict[float, AtTempo] = {}
    for tempo, start, end in zip(timeline.tempos, starts, (*starts[1:], inf), strict=True):
        heard = [(max(a, start), min(b, end)) for a, b in spans if a < end and b > start]
        short = sum(b - a for a, b in heard) < context.setting(LEAST_AT_TEMPO)
        if tempo.bpm in found or (short and len(starts) > 1):
            continue  # at the one tempo of a song a delay is in time or not, however seldom it is thrown
        single = timeline.model_copy(update={"tempos": (tempo.model_copy(update={"beat": 0.0}),)})
        found[tempo.bpm] = AtTempo(tempo.bpm, heard[0][0] if heard else start, known(nearest_length(single, time_ms)))
    return tuple(found.values())


CLOSED_DB: Final = -50.0
"""A send that automation brings down to this is shut. No setting: throws go from there to where they are heard."""

STEP_S: Final = 0.25
"""How often a send that moves is looked at, seconds. No setting: it is the resolution of a computation."""


@per_session
def _fed_spans(context: SessionContext, channel: Channel) -> list[tuple[float, float]]:
    """When sound passes a channel, as :func:`sounding_spans`; of a send that automation opens, while it is open."""
    fed = [edge for edge in context.routing.wiring.arriving.get(channel.id, ()) if edge.source != channel.id]
    if not has_arrangement(context) or not any(edge.send is not None for edge in fed) or sounding_clips(channel):
        return sounding_spans(context, channel.id)
    found: list[tuple[float, float]] = []
    for edge in fed:
        spans, source = sounding_spans(context, edge.source), context.channels[edge.source]
        for word in ("level", "on") if edge.send is not None else ():
            control = control_of(source, Target.send(edge.send or 0, word))
            if control.lane is not None and control.moves:
                open_at = _open(control, max((end for _, end in spans), default=0.0))
                spans = [(max(a, c), min(b, d)) for a, b in spans for c, d in open_at if max(a, c) < min(b, d)]
        found += spans
    return merged(found)


def _open(control: Control, end_s: float) -> list[tuple[float, float]]:
    """From when to when a control of a send that moves lets sound pass, seconds."""
    times = steps_through(max(end_s, STEP_S), STEP_S)
    values = control.at(times)
    least = 0.5 if control.is_switch else CLOSED_DB
    return [(float(times[a]), float(times[min(b + 1, times.size - 1)])) for a, b in runs(values > least)]
