"""Mistakes with pans, pairs and balance."""

from __future__ import annotations

from math import cos, log10, pi, sin
from random import Random

from mixlint.session import Channel, Clip, Session
from tests.mutation.clean import Clean
from tests.mutation.planting import (
    Planted,
    called,
    changed,
    effect_sends,
    float_of,
    mistake,
    pairs,
    parts,
    pick,
    song_end,
)

ALONE = ("stereo-balanced", "counterpart-stays", "pair-even", "centre-uncluttered")
"""What else a missing or displaced counterpart does; one of several like parts may pair up anew, and unevenly."""


@mistake("the counterpart panned to the centre", "pan-answered", *ALONE)
def centred(clean: Clean, rng: Random) -> Planted | None:
    pair = pick(rng, _only_pairs(clean))
    if pair is None:
        return None
    stays, moves = rng.sample(pair, 2)
    return Planted(changed(clean.session, moves, pan=0.0), frozenset({stays.id}))


def _only_pairs(clean: Clean) -> list[tuple[Channel, Channel]]:
    """Pairs by name, and of the others those without a second pair of like parts, which could answer in their place."""
    kin = {"gtr": "guitars", "vox": "voices", "choir": "voices"}
    found, named = pairs(clean), _named_pairs(clean)
    families = [next((f for word, f in kin.items() if word in one.name.casefold()), one.name) for one, _ in found]
    return [pair for pair, family in zip(found, families, strict=True) if pair in named or families.count(family) == 1]


def _named_pairs(clean: Clean) -> list[tuple[Channel, Channel]]:
    """Pairs whose names end in L and R and are one before that."""
    return [
        (one, other)
        for one, other in pairs(clean)
        if one.name[:-1] == other.name[:-1] and {one.name[-2:], other.name[-2:]} == {" L", " R"}
    ]


@mistake("the clips of one of a named pair muted or gone", "partner-plays", *ALONE, "return-is-fed")
def partner_silent(clean: Clean, rng: Random) -> Planted | None:
    pair = pick(rng, _named_pairs(clean))
    if pair is None:
        return None
    _, silent = rng.sample(pair, 2)
    muted = tuple(c.model_copy(update={"on": False}) for c in silent.clips)
    return Planted(changed(clean.session, silent, clips=rng.choice(((), muted))), frozenset({silent.id}))


@mistake("the counterpart muted", "pan-answered", *ALONE, "muted-on-purpose", "return-is-fed", "send-arrives")
def counterpart_muted(clean: Clean, rng: Random) -> Planted | None:
    pair = pick(rng, _only_pairs(clean))
    if pair is None:
        return None
    stays, moves = rng.sample(pair, 2)
    return Planted(changed(clean.session, moves, mute=True), frozenset({stays.id}))


@mistake(
    "the counterpart turned down",
    "pan-answered",
    "namesakes-in-line",
    "part-with-the-band",
    *ALONE,
    "pan-answered",
    "fader-in-its-range",
)
def counterpart_down(clean: Clean, rng: Random) -> Planted | None:
    """One row tells of both partners by name: that of the wider one, or of the first on the desk."""
    pair = pick(rng, _only_pairs(clean))
    if pair is None:
        return None
    stays, moves = rng.sample(pair, 2)
    level = float_of(moves.fader_db) - rng.choice((7.0, 9.0, 14.0))
    return Planted(changed(clean.session, moves, fader_db=level), frozenset({stays.id, moves.id}))


@mistake("the counterpart plays elsewhere", "pan-answered", *ALONE, "pan-answered", "parts-end-together")
def counterpart_elsewhere(clean: Clean, rng: Random) -> Planted | None:
    """One of a pair plays the first half of the song, the other the second, with a tenth of it together."""
    pair = pick(rng, _only_pairs(clean))
    if pair is None:
        return None
    first, second = rng.sample(pair, 2)
    end = song_end(clean.session)
    session = changed(clean.session, first, clips=within(first, 0.0, 0.55 * end))
    return Planted(changed(session, second, clips=within(second, 0.45 * end, end)), frozenset(c.id for c in pair))


def within(channel: Channel, start_s: float, end_s: float) -> tuple[Clip, ...]:
    """What of the channel's clips lies in a stretch."""
    found = []
    for clip in channel.clips:
        start, end = max(clip.start_s, start_s), min(clip.end_s, end_s)
        if end - start > 0.5:
            offset = float_of(clip.offset_s) + start - clip.start_s
            found.append(clip.model_copy(update={"start_s": start, "end_s": end, "offset_s": offset}))
    return tuple(found)


@mistake("the counterpart cut short", "counterpart-stays", "stereo-balanced", "pan-answered", "pair-edited-together",
         "parts-end-together", "entries-complete")  # fmt: skip
def counterpart_short(clean: Clean, rng: Random) -> Planted | None:
    pair = pick(rng, _only_pairs(clean))
    if pair is None:
        return None
    _, moves = rng.sample(pair, 2)
    end = song_end(clean.session)
    short = within(moves, 0.0, rng.uniform(0.3, 0.6) * end)
    return Planted(changed(clean.session, moves, clips=short), frozenset(c.id for c in pair))


@mistake("one of a pair silent for a stretch", "counterpart-stays", "stereo-balanced")
def rests_alone(clean: Clean, rng: Random) -> Planted | None:
    """A fifth of the song is taken out of the middle of one part, which keeps it a counterpart."""
    pair = pick(rng, _only_pairs(clean))
    if pair is None:
        return None
    _, moves = rng.sample(pair, 2)
    end = song_end(clean.session)
    out = (0.4 * end, 0.6 * end)
    clips = (*within(moves, 0.0, out[0]), *within(moves, out[1], end))
    plays = sum(max(0.0, min(c.end_s, out[1]) - max(c.start_s, out[0])) for c in moves.clips)
    if plays < 0.19 * end:
        return None
    return Planted(changed(clean.session, moves, clips=clips), frozenset(c.id for c in pair))


@mistake(
    "one side pulled up against the other",
    "stereo-balanced",
    "namesakes-in-line",
    "pair-even",
    "pan-answered",
    "counterpart-stays",
)
def tilted(clean: Clean, rng: Random) -> Planted | None:
    """Every part on one side goes up by 5 dB and every one on the other down by as much."""
    if clean.house.intents or not pairs(clean):
        return None
    up = rng.choice((-1.0, 1.0))
    session = clean.session
    for channel in parts(clean):
        pan = float_of(channel.pan)
        if pan:
            move = 5.0 if pan * up > 0.0 else -5.0
            session = changed(session, channel, fader_db=float_of(channel.fader_db) + move)
    return Planted(session) if abs(_lean_db(session)) >= 2.0 else None


def _lean_db(session: Session) -> float:
    """Left over right of all tracks by fader, pan (sine and cosine, W3C StereoPannerNode) and playing time, dB."""
    faders = {c.id: float_of(c.fader_db) for c in session.channels if c.kind == "group"}
    left = right = 0.0
    for channel in session.channels:
        if channel.kind != "track" or channel.mute is True:
            continue
        level = float_of(channel.fader_db) + faders.get(str(channel.output), 0.0)
        angle = (float_of(channel.pan) + 100.0) / 200.0 * pi / 2.0
        energy = sum(c.end_s - c.start_s for c in channel.clips) * 10.0 ** (level / 10.0)
        energy *= 2.0 if channel.legs == 2 else 1.0
        left, right = left + energy * cos(angle) ** 2, right + energy * sin(angle) ** 2
    return 10.0 * log10(left / right)


@mistake("an anchor off the centre", "anchors-centred", "pan-answered", "stereo-balanced", "ambience-opposite")
def anchor_aside(clean: Clean, rng: Random) -> Planted | None:
    if clean.house.intents & {"single-instrument", "hard-panned"}:
        return None
    target = pick(rng, [c for c in called(clean, "Kick", "Snare", "Bass", "Lead Vocal") if c.legs == 1])
    if target is None:
        return None
    pan = rng.choice((-1.0, 1.0)) * rng.choice((14.0, 25.0, 45.0, 80.0))
    return Planted(changed(clean.session, target, pan=pan), frozenset({target.id}))


@mistake("left and right of a pair swapped", "names-match-pans", "ambience-opposite")
def swapped(clean: Clean, rng: Random) -> Planted | None:
    pair = pick(rng, pairs(clean))
    if pair is None:
        return None
    left, right = pair
    session = changed(changed(clean.session, left, pan=right.pan), right, pan=left.pan)
    return Planted(session, frozenset({left.id, right.id}))


@mistake("both of a pair on one side", "names-match-pans", *ALONE, "pan-answered", "ambience-opposite")
def one_side(clean: Clean, rng: Random) -> Planted | None:
    pair = pick(rng, pairs(clean))
    if pair is None:
        return None
    stays, moves = rng.sample(pair, 2)
    return Planted(changed(clean.session, moves, pan=stays.pan), frozenset({moves.id}))


@mistake("a pair at uneven angles", "pair-even", "stereo-balanced")
def uneven_angle(clean: Clean, rng: Random) -> Planted | None:
    pair = pick(rng, _only_pairs(clean))
    if pair is None:
        return None
    _, moves = rng.sample(pair, 2)
    pan = float_of(moves.pan)
    nearer = pan - 13.0 * (1 if pan > 0 else -1)
    return Planted(changed(clean.session, moves, pan=nearer), frozenset(c.id for c in pair))


@mistake("a pair at uneven levels", "pair-even", "stereo-balanced")
def uneven_level(clean: Clean, rng: Random) -> Planted | None:
    pair = pick(rng, _only_pairs(clean))
    if pair is None:
        return None
    _, moves = rng.sample(pair, 2)
    level = float_of(moves.fader_db) - rng.choice((2.5, 4.0, 5.5))
    return Planted(changed(clean.session, moves, fader_db=level), frozenset(c.id for c in pair))


@mistake("a stereo part turned wholly to one side", "stereo-keeps-both-sides", "pan-answered", "stereo-balanced")
def hard_balance(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [c for c in parts(clean) if c.legs == 2])
    if target is None:
        return None
    return Planted(changed(clean.session, target, pan=rng.choice((-100.0, 95.0))), frozenset({target.id}))


@mistake("a double that is a copy of the first take", "doubles-are-second-takes", "files-fit-their-channels")
def copied(clean: Clean, rng: Random) -> Planted | None:
    pair = pick(rng, pairs(clean))
    if pair is None:
        return None
    one, other = rng.sample(pair, 2)
    clips = tuple(c.model_copy(update={"file": one.clips[0].file}) for c in other.clips)
    return Planted(changed(clean.session, other, clips=clips), frozenset(c.id for c in pair))


@mistake("pairs brought to the centre, where the voice stands", "centre-uncluttered", "stereo-balanced", *ALONE)
def cluttered(clean: Clean, rng: Random) -> Planted | None:
    """Two pairs of guitars in the middle are four rivals of the voice."""
    guitars = [c for pair in pairs(clean) for c in pair if "Gtr" in c.name]
    lead = called(clean, "Lead Vocal")
    if len(guitars) < 4 or not lead:
        return None
    session = clean.session
    for channel in guitars:
        level = float_of(lead[0].fader_db) - rng.uniform(0.0, 2.0)
        session = changed(session, channel, pan=0.0, fader_db=round(level, 1))
    return Planted(session, frozenset({lead[0].id}))


@mistake("a guitar and its ambience on one side", "ambience-opposite", "names-match-pans", "pan-answered", *ALONE)
def guitar_swapped(clean: Clean, rng: Random) -> Planted | None:
    """Only where each guitar has a return of its own that stands to a side."""
    placed = {c.id for c in clean.session.channels if c.kind == "return" and abs(float_of(c.pan)) >= 30.0}
    own = [c for pair in pairs(clean) for c in pair if any(c.sends[n].to in placed for n in effect_sends(clean, c))]
    target = pick(rng, own)
    if target is None:
        return None
    return Planted(changed(clean.session, target, pan=-float_of(target.pan)), frozenset({target.id}))
