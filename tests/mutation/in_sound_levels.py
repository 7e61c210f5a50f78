"""Mistakes of level, balance and dynamics that only the sound shows, and recordings that are there twice."""

from __future__ import annotations

from random import Random

from mixlint.session import Channel, Insert
from tests.mutation.in_sound_files import LEVELS, SIDES, in_file, takes
from tests.mutation.planting import Planted, changed, float_of, heard, with_channels, with_insert
from tests.mutation.sounding import Sounding

BALANCE = (*LEVELS, "choruses-alike")


def _channel(clean: Sounding, name: str) -> Channel:
    return next(c for c in clean.session.channels if c.name == name)


@heard("a file that is silent or far too low", "recording-is-heard", *BALANCE, "gate-spares-the-words",
       "mix-has-its-low-end", "gate-opens", sound=("takes",))  # fmt: skip
def too_low(clean: Sounding, rng: Random) -> Planted:
    name = rng.choice(takes(clean))
    return in_file(clean, name, clean.again(name, {"gain_db": rng.choice((-36.0, -45.0, -200.0))}))


@heard("a file in floating point over full scale", "float-file-under-full-scale", *BALANCE, sound=("takes", "print"))
def over(clean: Sounding, rng: Random) -> Planted:
    name = rng.choice([n for n in takes(clean) if n.endswith(".wav")])
    up = rng.uniform(1.5, 6.0) - clean.recipes[name].peak_dbfs
    return in_file(clean, name, clean.again(name, {"gain_db": up}, stored="float"))


@heard("parts that fill their files, with their faders up", "bus-under-full-scale", *BALANCE, sound=("takes",))
def bus_over(clean: Sounding, rng: Random) -> Planted:
    up = rng.uniform(0.5, 1.5)
    loud = {n: clean.again(n, {"gain_db": -clean.recipes[n].peak_dbfs - up}) for n in takes(clean)}
    session = clean.session
    for channel in clean.session.channels[:-1]:
        session = changed(session, channel, fader_db=4.0)
    return Planted(session, frozenset({"Mix Bus"}), sounds=loud)


@heard("a voice that drowns in one chorus", "lead-holds-in-every-section", *BALANCE, sound=("takes",),
       weakness="what lies 30 dB under the loudest of a part counts as resting")  # fmt: skip
def drowned(clean: Sounding, rng: Random) -> Planted:
    return _one_chorus(clean, rng, "Lead Vocal", "vocal.wav", rng.choice((-18.0, -22.0, -26.0)))


@heard("one chorus recorded far lower", "recorded-level-holds", *BALANCE, sound=("takes",))
def one_chorus(clean: Sounding, rng: Random) -> Planted:
    part, name = rng.choice((("Nylon Gtr L", "guitar_l.wav"), ("Nylon Gtr R", "guitar_r.flac"), ("Bass", "bass.wav")))
    return _one_chorus(clean, rng, part, name, rng.choice((-14.0, -18.0)))


def _one_chorus(clean: Sounding, rng: Random, part: str, name: str, gain_db: float) -> Planted:
    """The second chorus, or the third, of one part at another level."""
    start = rng.choice((4.0, 8.0))
    recipes = clean.partly(name, clean.again(name, {"gain_db": gain_db}), start, start + 4.0)
    return Planted(clean.session, frozenset({part}), sounds=recipes)


@heard("a gate that never shuts", "gate-shuts-in-rests", "rests-without-noise", "dynamics-at-work", sound=("takes",))
def never_shuts(clean: Sounding, rng: Random) -> Planted:
    voice = _channel(clean, "Lead Vocal")
    dynamics = voice.inserts[0].dynamics
    assert dynamics is not None
    at = frozenset({"Lead Vocal"})
    if rng.random() < 0.5:
        return Planted(clean.session, at, sounds={"vocal.wav": clean.again("vocal.wav", {"hiss_dbfs": -57.0})})
    low = dynamics.model_copy(update={"threshold_db": rng.choice((-80.0, -90.0))})
    return Planted(with_insert(clean.session, voice, 0, dynamics=low), at)


@heard(
    "a gate that shuts on the words",
    "gate-spares-the-words",
    *BALANCE,
    "gates-close-gently",
    "recording-is-heard",
    "gate-opens",
    sound=("takes",),
)
def eats_words(clean: Sounding, rng: Random) -> Planted:
    voice = _channel(clean, "Lead Vocal")
    dynamics = voice.inserts[0].dynamics
    assert dynamics is not None
    at = frozenset({"Lead Vocal"})
    if rng.random() < 0.5:
        low = clean.again("vocal.wav", {"gain_db": rng.uniform(-43.0, -40.0)})
        return Planted(clean.session, at, sounds={"vocal.wav": low})
    high = dynamics.model_copy(update={"threshold_db": rng.uniform(-12.0, -10.0)})
    return Planted(with_insert(clean.session, voice, 0, dynamics=high), at)


@heard("a limiter far under the peaks", "limiter-leaves-the-peaks", *BALANCE, sound=("takes",))
def crushed(clean: Sounding, rng: Random) -> Planted:
    bass = _channel(clean, "Bass")
    dynamics = bass.inserts[0].dynamics
    assert dynamics is not None
    low = dynamics.model_copy(update={"threshold_db": rng.uniform(-40.0, -31.0)})
    return Planted(with_insert(clean.session, bass, 0, dynamics=low), frozenset({"Bass"}))


@heard("low end that comes from a stand", "mix-has-its-low-end", "no-pops-no-rumble", "rests-without-hum",
       "rests-without-noise", "low-cut-in-place", *BALANCE, sound=("takes",))  # fmt: skip
def kicked_stand(clean: Sounding, rng: Random) -> Planted:
    rumble = clean.played("tone", 0, hz=rng.choice((32.0, 45.0)), peak_dbfs=-4.0)
    both = clean.again("vocal.wav", sum=[{"sound": "vocal.wav"}, {"sound": "rumble"}])
    return Planted(clean.session, sounds={"rumble": rumble, "vocal.wav": both}, said="Vocal")


@heard("a bass without its lowest octave", "mix-has-its-low-end", *BALANCE, sound=("microphones",))
def thin_bass(clean: Sounding, rng: Random) -> Planted:
    cut = {"low_cut_hz": rng.choice((150.0, 200.0))}
    return Planted(clean.session, sounds={n: clean.again(n, cut) for n in ("bass_di.wav", "bass_amp.wav")})


@heard("what carries the song is turned over on one side", "mix-holds-in-mono", *SIDES, *BALANCE, sound=("takes",))
def mix_in_mono(clean: Sounding, rng: Random) -> Planted:
    loud = clean.again("piano.wav", {"gain_db": 12.0}, {"invert": rng.choice(("left", "right"))})
    session = changed(clean.session, "Piano", fader_db=3.0)
    return Planted(session, sounds={"piano.wav": loud})


@heard("a bass whose sides are apart", "low-end-holds-in-mono", *SIDES, sound=("takes",))
def wide_bass(clean: Sounding, rng: Random) -> Planted:
    late = clean.again("bass.wav", {"delay_right_ms": rng.uniform(6.0, 9.0)})
    return Planted(changed(clean.session, "Bass", legs=2), frozenset({"Bass"}), sounds={"bass.wav": late})


@heard("a recording that is heard twice", "recording-heard-once", *BALANCE, "files-of-one-set",
       "two-mics-in-time", sound=("takes",))  # fmt: skip
def twice(clean: Sounding, rng: Random) -> Planted:
    whose, name = rng.choice((("Lead Vocal", "vocal.wav"), ("Nylon Gtr L", "guitar_l.wav")))
    copy = clean.again(name, {"shelf_db": rng.choice((-4.0, 4.0))}, {"gain_db": -3.0}, stored="24 bit")
    was = _channel(clean, whose)
    clip = was.clips[0].model_copy(update={"file": "final.wav"})
    media = clean.session.media[0].model_copy(update={"id": "final.wav", "path": "final.wav"})
    more = was.model_copy(update={"id": "final", "name": "Keys Final", "clips": (clip,)})
    session = with_channels(clean.session, more)
    session = session.model_copy(update={"media": (*session.media, media)})
    return Planted(session, frozenset({"final"}), sounds={"final.wav": copy})


@heard("a double that is a copy", "doubles-are-second-takes", "recording-heard-once", "two-mics-in-time",
       "microphones-stay-in-step", "pair-even", sound=("takes",))  # fmt: skip
def copied_double(clean: Sounding, rng: Random) -> Planted:
    copy = clean.again("guitar_l.wav", {"stretch": rng.choice((0.997, 1.003, 1.005))},
                       {"shelf_db": rng.choice((-3.0, 3.0))}, {"delay_ms": rng.uniform(8.0, 18.0)},
                       stored="flac")  # fmt: skip
    return Planted(clean.session, frozenset({"Nylon Gtr L", "Nylon Gtr R"}), sounds={"guitar_r.flac": copy})


@heard("a compressor that never lets go", "compression-gentle", "ratios-gentle", "compressor-leaves-the-part", *BALANCE,
       sound=("takes",))  # fmt: skip
def squeezed(clean: Sounding, rng: Random) -> Planted:
    part = _channel(clean, rng.choice(("Nylon Gtr L", "Nylon Gtr R", "Piano")))
    hard = Insert.model_validate({
        "name": "Desk Compressor", "kind": "compressor", "opaque": False, "wet": 100.0,
        "dynamics": {"threshold_db": rng.uniform(-60.0, -50.0), "ratio": 4.0, "attack_ms": 5.0, "release_ms": 100.0},
    })  # fmt: skip
    return Planted(changed(clean.session, part, inserts=(*part.inserts, hard)), frozenset({part.id}))


@heard("a make-up gain or an equalizer that makes a part louder", "processing-level-matched", *BALANCE,
       "compression-gentle", "eq-moves-small", "processor-gain-in-line", "dynamics-times-in-range", "eq-width-in-range",
       "eq-move-in-bounds", "namesakes-in-line", sound=("takes",))  # fmt: skip
def made_louder(clean: Sounding, rng: Random) -> Planted:
    part = _channel(clean, rng.choice(("Nylon Gtr L", "Nylon Gtr R", "Piano")))
    up = rng.uniform(8.0, 11.0)
    gentle = {"threshold_db": -20.0, "ratio": 2.0, "attack_ms": 15.0, "release_ms": 150.0, "output_gain_db": up}
    bell = {"kind": "bell", "freq_hz": 500.0, "gain_db": up, "q": 0.4}
    loud = Insert.model_validate(rng.choice((
        {"name": "Desk Compressor", "kind": "compressor", "opaque": False, "wet": 100.0, "dynamics": gentle},
        {"name": "Desk EQ", "kind": "equalizer", "opaque": False, "wet": 100.0, "equalizer": {"bands": [bell]}},
    )))  # fmt: skip
    down = changed(clean.session, part, inserts=(*part.inserts, loud), fader_db=float_of(part.fader_db) - 6.0)
    return Planted(down, frozenset({part.id}))
