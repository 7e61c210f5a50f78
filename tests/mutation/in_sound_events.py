"""Events inside recordings: a microphone that slips or dies, feedback, cables, radio links, telephones, gates, talk."""

from __future__ import annotations

from random import Random

from mixlint.session import MediaFile
from tests.mutation.in_sound_files import LEVELS, in_file, takes
from tests.mutation.in_sound_returns import HALLS, PRINTS
from tests.mutation.planting import Planted, changed, heard
from tests.mutation.sounding import LENGTH_S, Sounding

TAKES = ("takes",)
VOICE = "vocal.wav"
DAMAGE = (
    "cables-hold", "compression-gentle", "gate-opens", "gate-shuts-in-rests", "gate-spares-the-words",
    "limiter-leaves-the-peaks", "microphone-lives-to-the-end", "no-burst-of-noise", "no-feedback-in-recordings",
    "no-pops-no-rumble", "radio-link-holds", "recording-keeps-its-words", "recording-stays-as-it-was",
    "recording-without-clicks", "recording-without-holes", "rests-without-noise", "telephone-stays-away",
)  # fmt: skip
"""What an event in a file can show besides."""


@heard("a microphone that slips", "recording-stays-as-it-was", *DAMAGE, *LEVELS, sound=TAKES,
       weakness="one that slips while the voice rests is not always told")  # fmt: skip
def slips(clean: Sounding, rng: Random) -> Planted:
    onward = {"at_s": rng.uniform(5.0, 7.0), "gain_db": rng.uniform(-13.0, -8.0), "high_cut_hz": 1500.0}
    return in_file(clean, VOICE, clean.again(VOICE, {"hiss_dbfs": -66.0}, {"from_s": onward}))


@heard("a microphone that dies", "microphone-lives-to-the-end", *DAMAGE, *LEVELS, "both-sides-sound", sound=TAKES)
def dies(clean: Sounding, rng: Random) -> Planted:
    onward = {"at_s": rng.uniform(5.0, 8.0), "gain_db": -90.0}
    return in_file(clean, VOICE, clean.again(VOICE, {"hiss_dbfs": -66.0}, {"from_s": onward}, {"hiss_dbfs": -84.0}))


@heard("feedback", "no-feedback-in-recordings", *DAMAGE, *LEVELS, sound=TAKES)
def howls(clean: Sounding, rng: Random) -> Planted:
    begins = rng.uniform(2.0, 6.0)
    howl = {"from_s": begins, "to_s": begins + 2.5, "hz": rng.uniform(1400.0, 4200.0), "dbfs": rng.uniform(-14.0, -9.0)}
    return in_file(clean, VOICE, clean.again(VOICE, {"howl": howl}))


@heard("a cable that crackles", "cables-hold", *DAMAGE, *LEVELS, sound=TAKES)
def crackles(clean: Sounding, rng: Random) -> Planted:
    name = rng.choice(takes(clean))
    spans = [(at, at + rng.uniform(0.25, 0.5)) for at in (rng.uniform(2.0, 4.0), rng.uniform(5.0, 9.0))]
    return in_file(clean, name, clean.again(name, *({"crackle_s": span} for span in spans)))


@heard("a radio link that breaks into noise", "radio-link-holds", *DAMAGE, *LEVELS, sound=TAKES,
       weakness="at a rate of 32 kHz a bright sound is nearly as white as noise")  # fmt: skip
def breaks(clean: Sounding, rng: Random) -> Planted:
    name = rng.choice(("bass.wav", "guitar_l.wav"))
    spans = [(at, at + rng.uniform(0.07, 0.14)) for at in (rng.uniform(2.0, 4.0), rng.uniform(5.0, 9.0))]
    noises = [{"noise": {"span_s": span, "dbfs": rng.uniform(-19.0, -15.0)}} for span in spans]
    return in_file(clean, name, clean.again(name, *noises))


@heard("a telephone near a pickup", "telephone-stays-away", *DAMAGE, *LEVELS, sound=TAKES)
def telephone(clean: Sounding, rng: Random) -> Planted:
    name = rng.choice(("guitar_l.wav", "guitar_r.flac"))
    at = rng.uniform(2.0, 7.0)
    rings = [{"telephone_s": (begins, begins + 0.5)} for begins in (at, at + 1.1)]
    return in_file(clean, name, clean.again(name, *rings))


@heard("a voice that a gate chopped", "recording-keeps-its-words", *DAMAGE, *LEVELS, "edges-faded", sound=TAKES)
def chopped(clean: Sounding, rng: Random) -> Planted:
    return in_file(clean, VOICE, clean.again(VOICE, {"gate_dbfs": rng.uniform(-26.0, -22.0)}))


@heard(
    "talk behind the end", "nothing-behind-the-end", *DAMAGE, *LEVELS, "parts-end-together", "pair-even", sound=TAKES
)
def talk(clean: Sounding, rng: Random) -> Planted:
    end = rng.uniform(6.0, 7.0)
    sounds = {
        name: clean.again(name, {"seconds": end}, {"fade_out_s": 0.8}, {"seconds": LENGTH_S})
        for name in clean.files
        if name != VOICE
    }
    sounds[VOICE] = clean.again(VOICE, {"silence_s": (end - 0.5, end + 2.0)})
    return Planted(clean.session, frozenset({VOICE}), sounds=sounds)


@heard("a take of a comp at another level", "takes-of-one-level", *DAMAGE, *LEVELS, "parts-complete", sound=TAKES)
def lower(clean: Sounding, rng: Random) -> Planted:
    channel = next(one for one in clean.session.channels if one.name == "Lead Vocal")
    down = {"gain_db": rng.choice((-11.0, -9.0, 9.0))}
    hiss = {"hiss_dbfs": -66.0}
    files = {
        f"vocal {take}.wav": clean.played("voice", 40 + take, hiss, hz=196.0, peak_dbfs=-14.0) for take in (1, 2, 3)
    }
    off = f"vocal {rng.choice((1, 2, 3))}.wav"
    files[off] = files[off].model_copy(update={"then": (*files[off].then, type(files[off].then[0])(**down))})
    third = LENGTH_S / 3.0
    clips = tuple(
        channel.clips[0].model_copy(update={"start_s": n * third, "end_s": (n + 1) * third, "file": name})
        for n, name in enumerate(files)
    )
    media = (*clean.session.media, *(MediaFile(id=name, path=name) for name in files))
    session = changed(clean.session, channel, clips=clips).model_copy(update={"media": media})
    return Planted(session, frozenset({off}), sounds=dict(files))


@heard("a delay that runs away", "printed-effect-dies-away", *DAMAGE, *LEVELS, *PRINTS, "ambience-under-its-part",
       "bus-under-full-scale", "first-and-last-note-are-whole", sound=("returns",))  # fmt: skip
def runs_away(clean: Sounding, rng: Random) -> Planted:
    repeats = {"every_s": rng.uniform(0.3, 0.5), "gain": rng.uniform(1.06, 1.12)}
    name = "hall.wav"
    return Planted(
        clean.session,
        frozenset({name, HALLS}),
        sounds={name: clean.again(name, {"gain_db": -30.0}, {"repeats": repeats})},
    )


@heard("a guitar that is out of tune from the middle on", "part-keeps-its-tuning", *DAMAGE, *LEVELS, "parts-in-tune",
       "edges-faded", sound=TAKES)  # fmt: skip
def retuned(clean: Sounding, rng: Random) -> Planted:
    name = rng.choice(("guitar_l.wav", "guitar_r.flac"))
    off = clean.again(name, {"stretch": 2.0 ** (rng.choice((-1.0, 1.0)) * rng.uniform(28.0, 42.0) / 1200.0)})
    return Planted(clean.session, frozenset({name}), sounds=clean.partly(name, off, rng.uniform(5.2, 7.3)))
