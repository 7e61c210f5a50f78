"""Mistakes of time: a tempo not that of the clips, a delay that does not follow it, clips missing from a pattern."""

from __future__ import annotations

from random import Random

from mixlint.session import Channel, Clip, Parameter, Session, Tempo, Timeline
from tests.mutation.clean import Clean
from tests.mutation.planting import Planted, changed, effects, float_of, mistake, pick, place_of, song_end, with_insert


def _timeline(session: Session) -> Timeline:
    assert isinstance(session.timeline, Timeline)
    return session.timeline


def _starts(session: Session) -> set[float]:
    return {round(c.start_s, 3) for channel in session.channels if channel.mute is False for c in channel.clips}


@mistake("a tempo that is not that of the clips", "tempo-fits-clips", "delay-in-time", written=False)
def other_tempo(clean: Clean, rng: Random) -> Planted | None:
    """Times in files of the open form may be beats, which move with the tempo; in seconds they stay."""
    session = clean.session
    if len(_starts(session)) < 6 or len(_timeline(session).tempos) > 1:
        return None
    bpm = _timeline(session).tempos[0].bpm * rng.choice((0.8, 0.93, 1.07, 1.1, 1.2))
    return Planted(session.model_copy(update={"timeline": Timeline(tempos=(Tempo(bpm=bpm),))}))


@mistake("a delay that stays where it is when the tempo changes", "delay-follows-tempo", "tempo-fits-clips",
         "counterpart-stays", written=False)  # fmt: skip
def delay_stays(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [c for c in effects(clean, "delay") if not c.automation and song_end(clean.session) > 60.0])
    place = place_of(target, "delay") if target is not None else None
    if target is None or place is None:
        return None
    bpm = float_of(_timeline(clean.session).tempos[0].bpm)
    time = Parameter(id="time", name="Time", value=45.0 / bpm, unit="s")  # a dotted eighth is 3/4 of a beat
    session = with_insert(clean.session, target, place, parameters=(time,))
    half = round(0.5 * song_end(session) * bpm / 60.0)
    tempos = (Tempo(bpm=bpm), Tempo(beat=half, bpm=bpm * rng.choice((0.95, 1.05))))
    return Planted(session.model_copy(update={"timeline": Timeline(tempos=tempos)}), frozenset({target.id}))


def _cut(clean: Clean, target: Channel, clips: tuple[Clip, ...]) -> Planted:
    return Planted(changed(clean.session, target, clips=clips), frozenset({target.id}))


@mistake("a part that stops while its kit or its family goes on", "parts-end-together", "counterpart-stays",
         "pan-answered", "stereo-balanced", "channel-in-use")  # fmt: skip
def stops_early(clean: Clean, rng: Random) -> Planted | None:
    """The kits of the made songs play in two halves; one of their parts keeps the first."""
    kit = [c for c in clean.session.channels if c.id in ("kick", "snare", "hat", "oh") and len(c.clips) == 2]
    target = pick(rng, kit)
    if target is None or len(kit) < 4 or clean.house.intents:
        return None
    return _cut(clean, target, target.clips[:1])


@mistake("a voice that misses one of its entries", "entries-complete", "counterpart-stays", "pan-answered",
         "stereo-balanced", "halves-alike-in-every-clip")  # fmt: skip
def misses_an_entry(clean: Clean, rng: Random) -> Planted | None:
    """The backing voices of a made song, given the entries of its lead, of which one voice loses the second."""
    voices = [c for c in clean.session.channels if c.id in ("bv-l", "bv-r")]
    lead = next((c for c in clean.session.channels if c.id == "lead" and len(c.clips) == 3), None)
    if len(voices) != 2 or lead is None:
        return None
    session = clean.session
    for voice in voices:
        session = changed(session, voice, clips=tuple(c.model_copy(update={"file": _file(voice)}) for c in lead.clips))
    target = rng.choice(voices)
    kept = tuple(c.model_copy(update={"file": _file(target)}) for n, c in enumerate(lead.clips) if n != 1)
    return Planted(changed(session, target, clips=kept), frozenset({target.id}))


def _file(channel: Channel) -> str | None:
    return channel.clips[0].file
