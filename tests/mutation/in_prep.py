"""Mistakes of session preparation: solos, mutes, names, guides, leftovers, faders, files, clips."""

from __future__ import annotations

from random import Random

from example_sessions.parts.desk import part
from mixlint.session import Channel, Clip, Insert, MediaFile, SavedSettings, Session
from tests.mutation.clean import Clean
from tests.mutation.in_routing import GONE
from tests.mutation.planting import (
    KIT,
    Planted,
    called,
    changed,
    effects,
    float_of,
    groups,
    mistake,
    mix_bus,
    parts,
    pick,
    song_end,
    with_channels,
    with_media,
)


def _file_of(clean: Clean, channel: Channel) -> MediaFile:
    return next(m for m in clean.session.media if m.id == channel.clips[0].file)


@mistake("a solo left on", "nothing-soloed")
def soloed(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [c for c in clean.session.channels if c.kind in ("track", "group", "return")])
    return None if target is None else Planted(changed(clean.session, target, solo=True), frozenset({target.id}))


@mistake("a part left muted", "muted-on-purpose", *GONE)
def muted(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, parts(clean))
    return None if target is None else Planted(changed(clean.session, target, mute=True), frozenset({target.id}))


@mistake("a group left muted", "muted-on-purpose", *GONE)
def group_muted(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, groups(clean))
    return None if target is None else Planted(changed(clean.session, target, mute=True), frozenset({target.id}))


@mistake("a click that is not muted", "guide-stays-out")
def click(clean: Clean, rng: Random) -> Planted | None:
    return _aside(clean, rng, ("Click", "Metronome", "Klick"))


@mistake("a guide that is not muted", "guide-stays-out")
def guide(clean: Clean, rng: Random) -> Planted | None:
    return _aside(clean, rng, ("Guide Vocal", "Scratch Gtr", "Pilotspur"))


@mistake("a talkback, time code or key input that is heard", "service-signals-stay-out")
def service_signal(clean: Clean, rng: Random) -> Planted | None:
    return _added(
        clean, rng.choice(("Talkback", "LTC", "Ghost Kick", "Kick Key", "Snare Trig")), mix_bus(clean.session).id
    )


@mistake("a print of an earlier mix that is heard", "mixes-stay-out")
def mix_heard(clean: Clean, rng: Random) -> Planted | None:
    return _added(clean, rng.choice(("Mix Print 2", "Rough Mix", "Old Mix", "Board Mix")), mix_bus(clean.session).id)


@mistake(
    "a print heard beside its source", "print-or-source-plays", "low-cut-in-place", "pan-answered", "stereo-balanced",
    "centre-uncluttered", "low-cut-leaves-the-body", "anchors-centred", "family-in-its-group",
)  # fmt: skip
def print_heard(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, parts(clean, lone=True))
    if target is None:
        return None
    return _added(clean, f"{target.name} {rng.choice(('print', 'frozen', '(bounce)'))}", str(target.output))


@mistake(
    "an alternate heard beside what was chosen", "alternate-or-chosen-plays", "low-cut-in-place", "pan-answered",
    "stereo-balanced", "centre-uncluttered", "low-cut-leaves-the-body", "anchors-centred", "family-in-its-group",
    "takes-comped",
)  # fmt: skip
def alternate_heard(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, parts(clean, lone=True))
    if target is None:
        return None
    return _added(clean, f"{target.name} {rng.choice(('alt', 'OLD', 'unused', 'alt T2'))}", str(target.output))


def _aside(clean: Clean, rng: Random, names: tuple[str, ...]) -> Planted | None:
    there = [c for c in clean.session.channels if c.name in names]
    if there:
        return Planted(changed(clean.session, there[0], mute=False), frozenset({there[0].id}))
    return _added(clean, rng.choice(names), mix_bus(clean.session).id)


def _added(clean: Clean, name: str, output: str, **more: object) -> Planted:
    """One more track that plays a file of its own through the whole song."""
    end = song_end(clean.session)
    file = MediaFile(
        id="audio/added.wav", path="audio/added.wav", place="inside", present=True, legs=1,
        sample_rate_hz=float_of(clean.session.sample_rate_hz), duration_s=end + 20.0,
    )  # fmt: skip
    take = Clip(start_s=0.0, end_s=end, name="take", file=file.id, fade_in_s=0.01, fade_out_s=0.05)
    track = part("added", name, output=output, fader_db=-8.0, plays=(take,)).model_copy(update=more)
    session = with_channels(clean.session, track)
    return Planted(session.model_copy(update={"media": (*session.media, file)}), frozenset({"added"}))


@mistake("a name that a program gave", "named-by-part")
def placeholder(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, parts(clean, lone=True))
    if target is None:
        return None
    name = rng.choice(("Audio 7", "Track 12", "Spur 3", "Piste 4", "Untitled"))
    return Planted(changed(clean.session, target, name=name), frozenset({target.id}))


@mistake(
    "two channels of one name", "names-tell-apart", "low-cut-leaves-the-body", "low-cut-in-place", "takes-comped",
    "anchors-centred", "low-parts-stay-dry", "centre-uncluttered", "family-in-its-group", "bus-keeps-its-family",
)  # fmt: skip
def namesake(clean: Clean, rng: Random) -> Planted | None:
    lone = parts(clean, lone=True)
    if len(lone) < 2:
        return None
    target, model = rng.sample(lone, 2)
    return Planted(changed(clean.session, target, name=model.name), frozenset({target.id, model.id}))


@mistake("a track left over", "channel-in-use")
def leftover(clean: Clean, rng: Random) -> Planted | None:
    empty = part("left", rng.choice(("Tambourine", "Old Bass", "Harmony 2")), output=mix_bus(clean.session).id,
                 fader_db=0.0)  # fmt: skip
    return Planted(with_channels(clean.session, empty), frozenset({"left"}))


@mistake("a track with every clip muted", "channel-in-use", *GONE)
def all_muted(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, parts(clean, lone=True))
    if target is None or len(parts(clean)) < 4:
        return None
    clips = tuple(c.model_copy(update={"on": False}) for c in target.clips)
    return Planted(changed(clean.session, target, clips=clips), frozenset({target.id}))


@mistake("a muted clip with nothing in its place", "clips-muted-on-purpose", "edited-as-its-like",
         "stereo-balanced", "pan-answered",
         "parts-end-together", "entries-complete")  # fmt: skip
def clip_muted(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [c for c in parts(clean, lone=True) if len(c.clips) > 1])
    if target is None:
        return None
    gone = rng.randrange(len(target.clips))
    clips = tuple(c.model_copy(update={"on": n != gone}) for n, c in enumerate(target.clips))
    return Planted(changed(clean.session, target, clips=clips), frozenset({target.id}))


@mistake(
    "a fader at the top of its way",
    "fader-has-room",
    "fader-with-the-others",
    "part-with-the-band",
    "stereo-balanced",
    "centre-uncluttered",
)
def fader_high(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [c for c in parts(clean, lone=True) if not c.automation])
    if target is None:
        return None
    return Planted(changed(clean.session, target, fader_db=rng.choice((9.5, 11.0, 12.0))), frozenset({target.id}))


@mistake("a fader parked at the bottom of its way", "fader-in-its-range", "part-with-the-band", "stereo-balanced",
         "centre-uncluttered",
         "lead-with-the-band")  # fmt: skip
def fader_low(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [c for c in parts(clean, lone=True) if not c.automation])
    if target is None:
        return None
    return Planted(changed(clean.session, target, fader_db=rng.choice((-33.0, -45.0, -57.0))), frozenset({target.id}))


@mistake("a fader fully down", "part-not-faded-out", *GONE)
def fader_down(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [c for c in parts(clean, lone=True) if not c.automation])
    return None if target is None else Planted(changed(clean.session, target, fader_db=-200.0), frozenset({target.id}))


# --- files


@mistake("a file that is missing", "media-present")
def missing(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, parts(clean))
    if target is None:
        return None
    media = _file_of(clean, target)
    return Planted(with_media(clean.session, media, present=False), frozenset({media.id}))


@mistake("settings of a plug-in that stayed behind", "saved-settings-present", "copies-keep-one-chain")
def without_settings(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, parts(clean, lone=True))
    if target is None:
        return None
    saved = SavedSettings(path=f"plugins/{target.id}.vstpreset", present=False)
    bare = Insert(name=rng.choice(("Tape Saturator", "Amp Cabinet")), saved=saved)
    return Planted(changed(clean.session, target, inserts=(*target.inserts, bare)), frozenset({target.id}))


@mistake("a file outside the session's folder", "media-travels-with-session")
def outside(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, parts(clean))
    if target is None:
        return None
    path = f"/studio/pool/{target.id}.wav"
    session = with_media(clean.session, _file_of(clean, target), id=path, path=path, place="outside")
    return Planted(session, frozenset({path}))


@mistake("a file at another sample rate", "one-sample-rate")
def other_rate(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, parts(clean)) if len(parts(clean)) > 2 else None
    if target is None:
        return None
    media = _file_of(clean, target)
    rate = rng.choice([r for r in (44_100.0, 48_000.0, 88_200.0) if r != media.sample_rate_hz])
    return Planted(with_media(clean.session, media, sample_rate_hz=rate), frozenset({media.id}))


@mistake("a file that plays at the speed of another rate", "speed-as-recorded", "one-sample-rate",
         "clip-inside-its-file", written=False)  # fmt: skip
def wrong_speed(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, parts(clean))
    if target is None:
        return None
    media = _file_of(clean, target)
    runs = float_of(clean.session.sample_rate_hz)
    own = rng.choice([r for r in (44_100.0, 48_000.0, 96_000.0) if r != runs])
    session = with_media(clean.session, media, sample_rate_hz=own)
    clips = tuple(c.model_copy(update={"speed": runs / own}) for c in target.clips)
    return Planted(changed(session, target, clips=clips), frozenset({target.id}))


@mistake("a file coded with loss", "sources-uncompressed")
def lossy(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, parts(clean))
    if target is None:
        return None
    path = f"audio/{target.id}.{rng.choice(('mp3', 'ogg', 'aac'))}"
    return Planted(with_media(clean.session, _file_of(clean, target), id=path, path=path), frozenset({path}))


@mistake("a file name that not every system can hold", "file-names-portable")
def unportable(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, parts(clean))
    if target is None:
        return None
    path = f"audio/{rng.choice(('what?', 'Größe', 'a:b', 'x' * 70))}.wav"
    return Planted(with_media(clean.session, _file_of(clean, target), id=path, path=path))


@mistake("two file names that differ in case only", "file-names-tell-apart", "files-fit-their-channels")
def alike(clean: Clean, rng: Random) -> Planted | None:
    if len(parts(clean)) < 2:
        return None
    target, model = rng.sample(parts(clean), 2)
    path = f"audio/{model.id.upper()}.wav"
    return Planted(with_media(clean.session, _file_of(clean, target), id=path, path=path))


# --- clips


@mistake("a clip that runs past its file", "clip-inside-its-file", "speed-as-recorded")
def past_its_file(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, parts(clean))
    if target is None:
        return None
    media = _file_of(clean, target)
    end = max(float_of(c.offset_s) + c.end_s - c.start_s for c in target.clips)
    cut = rng.choice((0.02, 0.7, 5.0))
    return Planted(with_media(clean.session, media, duration_s=round(end - cut, 3)), frozenset({target.id}))


@mistake("a clip forgotten outside the song", "clips-where-the-song-is", "channel-in-use", "room-for-the-tail",
         "counterpart-stays", "stereo-balanced")  # fmt: skip
def forgotten(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, parts(clean))
    if target is None:
        return None
    end = song_end(clean.session)
    start = end + rng.choice((12.0, 30.0, 75.0))
    last = target.clips[-1]
    stray = last.model_copy(update={"start_s": start, "end_s": start + 2.0, "offset_s": 1.0, "name": "old bit"})
    return Planted(changed(clean.session, target, clips=(*target.clips, stray)), frozenset({target.id}))


@mistake("two takes over each other", "takes-comped")
def layered(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [c for c in parts(clean) if c.name not in KIT])
    if target is None:
        return None
    first = max(target.clips, key=lambda c: c.end_s - c.start_s)
    over = first.model_copy(update={"name": "take 2", "offset_s": float_of(first.offset_s) + 7.0})
    return Planted(changed(clean.session, target, clips=(*target.clips, over)), frozenset({target.id}))


@mistake(
    "a second take on a channel of its own",
    "takes-comped",
    "alternate-or-chosen-plays",
    "fades-as-its-like",
    "family-in-its-group",
    "low-cut-in-place",
)
def second_take(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, called(clean, "Bass", "Lead Vocal", "Acoustic Gtr"))
    if target is None:
        return None
    name = f"{target.name} {rng.choice(('take 2', 'Take 3', 'alt'))}"
    added = _added(clean, name, str(target.output), pan=target.pan, inserts=target.inserts)
    return added if target.pan == 0.0 else None


# --- hand-over


@mistake("a session without a title", "title-and-tempo-told")
def untitled(clean: Clean, rng: Random) -> Planted | None:
    return Planted(
        clean.session.model_copy(update={"title": rng.choice(("Untitled 3", "New Project", "Song 2", "Mix"))})
    )


@mistake("an instrument without a print", "instruments-printed")
def unprinted(clean: Clean, rng: Random) -> Planted | None:
    end = song_end(clean.session)
    notes = tuple(Clip(start_s=a, end_s=b, name="notes", plays="notes") for a, b in ((0.0, end / 2), (end / 2, end)))
    keys = Channel(
        id="keys-inst", name=rng.choice(("Electric Piano", "Synth Pad", "Harpsichord")), kind="track",
        plays=("notes",), legs=2, fader_db=-14.0, output=mix_bus(clean.session).id, clips=notes,
        inserts=(Insert(name="Lower Slate Keys", kind="instrument", ground="declared"),),
    )  # fmt: skip
    return Planted(with_channels(clean.session, keys), frozenset({"keys-inst"}))


@mistake("a mix changed since its approval", "as-approved", "pair-even", "stereo-balanced", "fader-has-room",
         written=False)  # fmt: skip
def changed_since(clean: Clean, rng: Random) -> Planted | None:
    strips = [c for c in clean.session.channels if c.kind in ("track", "group", "return") and c.legs]
    # Where a fader is ridden, the place it stands at says nothing.
    target = pick(rng, [c for c in strips if not any(str(lane.target) == "fader" for lane in c.automation)])
    if target is None or target.mute is True:
        return None
    session: Session = changed(clean.session, target, fader_db=round(float_of(target.fader_db) + 1.2, 1))
    return Planted(session, frozenset({target.id}), approved=clean.session)


@mistake("an end marker without room for the tail", "room-for-the-tail")
def no_room(clean: Clean, rng: Random) -> Planted | None:
    if not effects(clean):
        return None
    from mixlint.session import Marker

    at = song_end(clean.session) + rng.choice((-9.0, -12.0, -30.0))
    marks = (*clean.session.markers, Marker(time_s=at, name=rng.choice(("End", "Ende", "Fin"))))
    return Planted(clean.session.model_copy(update={"markers": marks}))
