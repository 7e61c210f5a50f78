"""Clean sessions with sound: takes, printed returns, microphones, stems, a print, an ensemble. All names are invented.

Each is written once into a folder of its own. A mutant links the files that it leaves alone, so that their measures,
which are kept by content, are not made again.
"""

from __future__ import annotations

import os
from collections.abc import Collection, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING, Any

from mixlint import importers
from mixlint.analysis.house import House
from mixlint.media import Library
from mixlint.media.made_sounds import made_sound, write_sound
from mixlint.media.recipe import Recipe, Step
from mixlint.rulebook.example import example_session
from mixlint.rulebook.rule_file import Example
from mixlint.session import Session
from tests.mutation.clean import Clean

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

LENGTH_S = 12.0
RATES = {
    "takes": 32_000, "microphones": 24_000, "returns": 12_000, "stems": 12_000, "print": 24_000, "ensemble": 16_000,
    "delivery": 12_000,
}  # fmt: skip
"""Sample rates by the name of the session, hertz: no higher than its mistakes ask for, which saves time."""


@dataclass(frozen=True)
class Sounding(Clean):
    """A clean session with its sound.

    Args:
        folder: where its files lie.
        recipes: how each was made, by its path; a name without an ending is a sound that others are made of.
        made: the samples (legs, n).
    """

    folder: Path = Path()
    recipes: Mapping[str, Recipe] = field(default_factory=dict)
    made: Mapping[str, Floats] = field(default_factory=dict)

    @property
    def files(self) -> list[str]:
        """The paths of its files."""
        return [name for name in self.recipes if is_file(name)]

    def again(self, name: str, *steps: dict[str, Any], **more: Any) -> Recipe:
        """A recipe that makes a sound of the session once more, as it was stored, and does something to it."""
        was = self.recipes[name]
        as_it_was = {"rate_hz": was.rate_hz, "stored": was.stored, "label": was.label, "described": was.described}
        return Recipe.model_validate({**as_it_was, "sum": [{"sound": name}], "then": steps, **more})

    def played(self, what: str, take: int, *steps: dict[str, Any], **more: Any) -> Recipe:
        """A new performance, as long as the others and at their rate."""
        rate = RATES[self.name]
        asked = {"rate_hz": rate, "plays": what, "take": take, "seconds": LENGTH_S, "then": steps, **more}
        return Recipe.model_validate(asked)

    def partly(self, name: str, other: Recipe, start_s: float, end_s: float = LENGTH_S) -> dict[str, Recipe]:
        """Recipes of a file that plays another sound for a stretch."""
        rests = (Step(silence_s=(0.0, start_s)), Step(silence_s=(end_s, LENGTH_S)))
        inside = other.model_copy(update={"then": (*other.then, *rests)})
        around = self.again(name, {"silence_s": (start_s, end_s)})
        return {
            "inside": inside,
            "around": around,
            name: self.again(name, sum=[{"sound": "inside"}, {"sound": "around"}]),
        }

    def loud_s(self, name: str, rng: Random, lasts_s: float = 0.1) -> float:
        """A moment, some way from both ends, in the middle of a while in which the file sounds throughout."""
        import numpy as np

        samples, rate = self.made[name], self.recipes[name].rate_hz
        cell = round(0.02 * rate)
        count = samples.shape[1] // cell
        level = np.abs(samples).max(axis=0)[: count * cell].reshape(count, cell).max(axis=1)
        width = max(1, round(lasts_s / 0.02)) + 2
        least = np.lib.stride_tricks.sliding_window_view(level, width).min(axis=1)
        from_end = round(1.5 / 0.02)
        inner = least[from_end : count - width - from_end]
        found = np.flatnonzero(inner >= np.quantile(inner, 0.7))
        start = from_end + int(found[rng.randrange(found.size)])
        return round(0.02 * (start + width / 2.0) + rng.uniform(-0.005, 0.005), 4)

    def far_from_zero_s(self, name: str, rng: Random, *, other_way: bool = False) -> float:
        """The same, at the highest sample of 50 ms, or at the lowest: a cut there is a step."""
        import numpy as np

        rate, way = self.recipes[name].rate_hz, -1.0 if other_way else 1.0
        first = round(self.loud_s(name, rng) * rate)
        samples = way * self.made[name][0, first : first + round(0.05 * rate)]
        return (first + int(np.argmax(samples))) / rate

    @property
    def is_stems(self) -> bool:
        """It is a folder of stems, and no session."""
        return self.session.source.importer == "stems"


def is_file(name: str) -> bool:
    """Whether a sound is written, or only made for others."""
    return "." in name


def sounding_sessions(seed: int, folder: Path, names: Collection[str]) -> list[Sounding]:
    """Clean sessions with sound, written below ``folder``; another ``seed`` makes other performances."""
    found = []
    for name in names:
        make = SESSIONS[name]
        place = folder / name / "Fen Lamps"
        for take in count(100 * seed, 10):
            sounds, session = make(take, RATES[name])
            recipes = {one: Recipe.model_validate({"rate_hz": RATES[name], **recipe}) for one, recipe in sounds.items()}
            made = write(recipes, {}, place)
            if _even(made):
                break
        read = importers.read(place) if not session else example_session(_example(session, recipes))
        found.append(Sounding(name, _house(name, place), read, place, recipes, made))
    return found


def _even(made: Mapping[str, Floats]) -> bool:
    """Two guitars came out about as loud as each other: the strokes of each are as hard as they fall."""
    from math import log10

    power = [float((made[name] ** 2).mean()) for name in made if name.startswith("guitar")]
    return not power or abs(10.0 * log10(power[0] / power[-1])) < 1.2


def write(recipes: Mapping[str, Recipe], there: Mapping[str, Floats], folder: Path) -> dict[str, Floats]:
    """Make sounds of recipes and of those that are ``there``, and write the files among them."""
    made: dict[str, Floats] = dict(there)
    for name, recipe in recipes.items():
        made[name] = made_sound(recipe, made)
        if is_file(name):
            write_sound(recipe, made[name], folder / name)
    return made


@contextmanager
def sound_of(clean: Sounding, session: Session, changed: Mapping[str, Recipe | None], place: Path) -> Iterator[
    tuple[Session, Library]
]:  # fmt: skip
    """A clean session with some files changed, added or taken away (None), written to ``place``, and its audio."""
    folder = place / clean.folder.name
    folder.mkdir(parents=True)
    for name in clean.files:
        if name not in changed:
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            os.link(clean.folder / name, folder / name)
    write({name: recipe for name, recipe in changed.items() if recipe is not None}, clean.made, folder)
    read = importers.read(folder) if clean.is_stems else session
    with Library(read, folder, cache_dir=clean.folder.parents[1] / "measures") as audio:
        yield read, audio


def _example(session: dict[str, Any], recipes: Mapping[str, Recipe]) -> Example:
    files = [{"path": name} for name in recipes if is_file(name)]
    return Example(name="clean", verdict="clear", session={**session, "media": files, "title": "Fen Lamps"})


def _house(name: str, folder: Path) -> House:
    """The house; that of the session with a print states its pan laws, and delivers at the loudness of this one."""
    if name != "print":
        return House()
    import soundfile

    from mixlint.signal.programme import ProgrammeMeter

    samples, rate = soundfile.read(folder / "mix.wav", dtype="float32")
    meter = ProgrammeMeter(2, rate)
    meter.feed(samples.T)
    delivers = {"print.loudness": round(meter.result().integrated_lufs, 1), "print.true_peak": -1.0}
    return House(settings=delivers, pan_stated=True)


# --- what they hold


Sounds = dict[str, dict[str, Any]]
Written = tuple[Sounds, dict[str, Any]]
"""Recipes as data, and a session as examples of rules have it; none for a folder of stems."""

QUIET = {"hiss_dbfs": -84.0}
MIX: dict[str, Any] = {"name": "Mix Bus", "kind": "master", "legs": 2, "output": False}


def _track(name: str, file: str, **more: Any) -> dict[str, Any]:
    """A mono track that plays a whole file, with short fades."""
    clip = {"start_s": 0.0, "end_s": LENGTH_S, "file": file, "fade_in_s": 0.005, "fade_out_s": 0.02}
    return {"name": name, "kind": "track", "legs": 1, "output": "Mix Bus", "clips": [clip], **more}


def _played(what: str, take: int, **more: Any) -> dict[str, Any]:
    """A performance in a quiet room."""
    then = [*more.pop("then", ()), QUIET]
    return {"plays": what, "take": take, "seconds": LENGTH_S, "then": then, **more}


def _takes(take: int, rate: int) -> Written:
    """A voice behind a gate, two guitars, a bass behind a limiter, a piano in stereo; three choruses."""
    sounds = {
        "vocal.wav": _played("voice", take + 1, hz=196.0, peak_dbfs=-9.0),
        "guitar_l.wav": _played("pluck", take + 2, hz=147.0),
        "guitar_r.flac": _played("pluck", take + 3, hz=147.0, stored="flac"),
        "bass.wav": _played("pluck", take + 4, hz=55.0, peak_dbfs=-10.0),
        "piano.wav": _played("pluck", take + 5, hz=330.0, peak_dbfs=-16.0, then=[{"wide": True}]),
    }
    gate = {"name": "Desk Gate", "kind": "gate", "opaque": False,
            "dynamics": {"threshold_db": -50.0, "range_db": -40.0, "release_ms": 200.0}}  # fmt: skip
    limiter = {"name": "Desk Limiter", "kind": "limiter", "opaque": False, "dynamics": {"threshold_db": -12.0}}
    session = {
        "markers": [{"time_s": 4.0 * n, "name": f"Chorus {n + 1}"} for n in range(3)],
        "channels": [
            _track("Lead Vocal", "vocal.wav", inserts=[gate]),
            _track("Nylon Gtr L", "guitar_l.wav", pan=-45.0, fader_db=-6.0),
            _track("Nylon Gtr R", "guitar_r.flac", pan=45.0, fader_db=-6.0),
            _track("Bass", "bass.wav", fader_db=-3.0, inserts=[limiter]),
            _track("Piano", "piano.wav", legs=2, fader_db=-6.0),
            MIX,
        ],
    }
    return sounds, session


def _microphones(take: int, rate: int) -> Written:
    """A kit under six microphones and a bass under two."""

    def hears(sound: str, *steps: dict[str, Any]) -> dict[str, Any]:
        return {"sum": [{"sound": sound}], "then": [*steps, {"hiss_dbfs": -78.0}]}

    sounds = {
        "kit": {"plays": "kit", "take": take + 1, "seconds": LENGTH_S, "peak_dbfs": -9.0},
        "kick.wav": hears("kit", {"high_cut_hz": 400.0}),
        "snare_top.wav": hears("kit", {"low_cut_hz": 120.0}),
        "snare_under.wav": hears("kit", {"low_cut_hz": 200.0}, {"delay_ms": 0.2}, {"shelf_db": 4.0}, {"gain_db": -4.0}),
        "overheads.wav": hears("kit", {"delay_ms": 3.0}, {"wide": True}, {"gain_db": -4.0}),
        "room.wav": hears("kit", {"delay_ms": 14.0}, {"gain_db": -6.0}, {"room": {"decay_s": 0.4, "dry_db": 2.0}}),
        "bass_di.wav": _played("pluck", take + 2, hz=55.0, peak_dbfs=-10.0),
        "bass_amp.wav": hears("bass_di.wav", {"drive_db": 12.0}, {"delay_ms": 0.4}),
    }
    session = {
        "channels": [
            _track("Kick", "kick.wav"),
            _track("Snare Top", "snare_top.wav", fader_db=-3.0),
            _track("Snare Bottom", "snare_under.wav", fader_db=-9.0),
            _track("Overheads", "overheads.wav", legs=2, fader_db=-6.0),
            _track("Drum Room", "room.wav", legs=2, fader_db=-10.0),
            _track("Bass DI", "bass_di.wav", fader_db=-3.0),
            _track("Bass Amp", "bass_amp.wav", fader_db=-6.0),
            MIX,
        ]
    }
    return sounds, session


RINGS_S = 1.5
"""Before the end of a print what feeds it is over, so that it can ring out."""

HALL = {"decay_s": 0.8, "predelay_ms": 20.0}
PLATE = {"decay_s": 0.6, "predelay_ms": 30.0}


def printed(room: Mapping[str, Any], *parts: str, then: tuple[dict[str, Any], ...] = (), low_cut: bool = True) -> dict[
    str, Any
]:  # fmt: skip
    """The print of some parts' ambience, as a recipe."""
    cut = [{"low_cut_hz": 180.0}] if low_cut else []
    return {
        "sum": [{"sound": part, "gain_db": -6.0} for part in parts],
        "then": [{"seconds": LENGTH_S}, *cut, {"room": dict(room)}, *then],
    }


def _returns(take: int, rate: int) -> Written:
    """Two guitars with a plate each on the other side, printed beside it, and a voice whose hall is a print."""
    dry = ({"seconds": LENGTH_S - RINGS_S}, {"fade_out_s": 0.5}, {"seconds": LENGTH_S})
    sounds = {
        "vocal.wav": _played("voice", take + 1, hz=196.0, then=dry),
        "guitar_l.wav": _played("pluck", take + 2, hz=147.0, then=dry),
        "guitar_r.wav": _played("pluck", take + 3, hz=147.0, then=dry),
        "bass.wav": _played("pluck", take + 4, hz=55.0, then=dry),
        "plate_l.wav": {**printed(PLATE, "guitar_r.wav", then=(LEFT,)), "take": take + 5},
        "plate_r.wav": {**printed(PLATE, "guitar_l.wav", then=RIGHT), "take": take + 6},
        "hall.wav": {**printed(HALL, "vocal.wav"), "take": take + 7},
    }
    cut = {"kind": "high-pass", "freq_hz": 180.0, "slope_db_per_oct": 12.0}
    eq = {"name": "Desk EQ", "kind": "equalizer", "opaque": False, "wet": 100.0, "equalizer": {"bands": [cut]}}
    decay = {"id": "d", "name": "Decay", "value": PLATE["decay_s"], "unit": "s"}
    reverb = {"name": "Granary Reverb", "kind": "reverb", "wet": 100.0, "pre_delay_ms": PLATE["predelay_ms"],
              "parameters": [decay]}  # fmt: skip
    plate = {"kind": "return", "legs": 2, "output": "Mix Bus", "fader_db": -6.0, "inserts": [eq, reverb]}
    guitar = {"fader_db": -6.0, "output": "Mix Bus"}
    session = {
        "channels": [
            _track("Lead Vocal", "vocal.wav"),
            _track("Nylon Gtr L", "guitar_l.wav", pan=-45.0, sends=[{"to": "Plate R", "level_db": -10.0}], **guitar),
            _track("Nylon Gtr R", "guitar_r.wav", pan=45.0, sends=[{"to": "Plate L", "level_db": -10.0}], **guitar),
            _track("Bass", "bass.wav", fader_db=-3.0),
            {"name": "Plate L", "pan": -45.0, **plate},
            {"name": "Plate R", "pan": 45.0, **plate},
            _track("Plate L Print", "plate_l.wav", legs=2, mute=True),
            _track("Plate R Print", "plate_r.wav", legs=2, mute=True),
            _track("Lead Vocal Hall", "hall.wav", legs=2, fader_db=-8.0),
            MIX,
        ]
    }
    return sounds, session


LEFT: dict[str, Any] = {"right_db": -9.0}
RIGHT: tuple[dict[str, Any], ...] = ({"right_db": 9.0}, {"gain_db": -9.0})
"""Steps that make a sound of two legs lean."""


def _stems(take: int, rate: int) -> Written:
    """A folder of stems with the print of the mix."""
    dry = {
        "Drums": _played("kit", take + 1, peak_dbfs=-10.0, then=[{"wide": True}]),
        "Bass": _played("pluck", take + 2, hz=55.0, peak_dbfs=-13.0, legs=2),
        "Acoustic Gtr": _played("pluck", take + 3, hz=147.0, peak_dbfs=-14.0),
        "Electric Gtr": _played("pluck", take + 4, hz=196.0, peak_dbfs=-18.0),
        "Lead Vocal": _played("voice", take + 5, hz=196.0, peak_dbfs=-11.0, legs=2),
    }
    sounds: Sounds = dict(dry)
    for name in dry:
        part = {"sound": name} if name not in SIDES else {"sound": name, "pan": SIDES[name]}
        sounds[f"{name}.wav"] = {"sum": [part], "then": list(ENDS)}
    sounds["Drum Reverb.wav"] = {**printed(HALL, "Drums.wav"), "take": take + 6}
    sounds["Drum Reverb.wav"]["then"].append({"fade_out_s": 0.3})
    stems = [name for name in sounds if is_file(name)]
    for name in stems:
        sounds[name]["label"] = {"track": name.removesuffix(".wav"), "stamp_s": STAMP_S}
    sounds["Mix.wav"] = {"sum": [{"sound": name} for name in stems], "label": {"stamp_s": STAMP_S}}
    return sounds, {}


SIDES = {"Acoustic Gtr": -50.0, "Electric Gtr": 50.0}
ENDS: tuple[dict[str, Any], ...] = (
    {"fade_in_s": 0.01}, {"seconds": LENGTH_S - 0.8}, {"fade_out_s": 0.6}, {"seconds": LENGTH_S}
)  # fmt: skip
STAMP_S = 3600.0


def _print(take: int, rate: int) -> Written:
    """A voice, two guitars and a bass, and the print of their mix on a track."""
    end = {"fade_out_s": 0.8}
    sounds: Sounds = {
        "vocal.wav": _played("voice", take + 1, hz=196.0, peak_dbfs=-9.0, then=[end]),
        "guitar_l.wav": _played("pluck", take + 2, hz=147.0, then=[end]),
        "guitar_r.wav": _played("pluck", take + 3, hz=147.0, then=[end]),
        "bass.wav": _played("pluck", take + 4, hz=55.0, peak_dbfs=-10.0, then=[end]),
        "mix.wav": {
            "sum": [
                {"sound": "vocal.wav", "pan": 0.0, "gain_db": -3.0},
                {"sound": "guitar_l.wav", "pan": -45.0},
                {"sound": "guitar_r.wav", "pan": 45.0},
                {"sound": "bass.wav", "pan": 0.0, "gain_db": -3.0},
            ]
        },
    }
    session = {
        "sample_rate_hz": float(rate),
        "channels": [
            _track("Lead Vocal", "vocal.wav", fader_db=-3.0),
            _track("Nylon Gtr L", "guitar_l.wav", pan=-45.0),
            _track("Nylon Gtr R", "guitar_r.wav", pan=45.0),
            _track("Bass", "bass.wav", fader_db=-3.0),
            _track("Mix Print", "mix.wav", legs=2, output=False),
            MIX,
        ],
    }
    return sounds, session


def _ensemble(take: int, rate: int) -> Written:
    """A kit in the picture of its overheads, a shaker and a bass at its tempo, and two voices that sing together."""
    hears = {"seconds": LENGTH_S, "plays": "kit"}
    sounds: Sounds = {
        "hat.wav": {**hears, "take": take + 1, "peak_dbfs": -10.0, "then": [{"low_cut_hz": 1500.0}, QUIET]},
        "snare.wav": {**hears, "take": take + 2, "peak_dbfs": -9.0, "then": [{"low_cut_hz": 120.0}, QUIET]},
        "tom.wav": _played("pluck", take + 3, hz=98.0),
        "overheads.wav": {
            "sum": [
                {"sound": "hat.wav", "pan": -50.0, "delay_ms": 3.0, "gain_db": -4.0},
                {"sound": "snare.wav", "pan": 0.0, "delay_ms": 3.5, "gain_db": -6.0},
                {"sound": "tom.wav", "pan": 50.0, "delay_ms": 4.0, "gain_db": -4.0},
            ],
            "then": [{"hiss_dbfs": -80.0}],
        },
        "shaker.wav": {**hears, "take": take + 4, "peak_dbfs": -10.0, "then": [{"low_cut_hz": 400.0}, QUIET]},
        "bass.wav": {**hears, "take": take + 5, "peak_dbfs": -8.0, "then": [{"high_cut_hz": 4000.0}, QUIET]},
        **_sung("lead", take + 6, hz=196.0, peak_dbfs=-9.0),
        **_sung("high", take + 7, hz=247.0, peak_dbfs=-15.0),
    }
    session = {
        "channels": [
            _track("Hi-Hat", "hat.wav", pan=-50.0, fader_db=-6.0),
            _track("Snare", "snare.wav", fader_db=-3.0),
            _track("Floor Tom", "tom.wav", pan=50.0, fader_db=-6.0),
            _track("Overheads", "overheads.wav", legs=2, fader_db=-6.0),
            _track("Shaker", "shaker.wav", fader_db=-10.0),
            _track("Bass", "bass.wav", fader_db=-3.0),
            _track("Lead Vocal", "lead.wav", fader_db=-9.0),
            _track("BV High", "high.wav", fader_db=-12.0),
            MIX,
        ]
    }
    return sounds, session


WORDS_S = (0.3, 1.9, 3.1, 4.9, 6.2, 8.1, 9.4, 10.6)
"""When voices that sing together begin their words: at no distance twice in a row, so that a late one is told."""


def _sung(name: str, take: int, *, hz: float, peak_dbfs: float) -> Sounds:
    """A voice whose words begin at given times, as a singer does, within some hundredths of a second."""
    rng = Random(take)
    words: Sounds = {
        f"{name} {at_s}": {
            "plays": "voice", "hz": hz, "peak_dbfs": peak_dbfs, "take": (31 * take + number) % 9000,
            "seconds": rng.uniform(0.8, 1.05), "then": [{"lead_s": at_s + rng.uniform(-0.015, 0.015)}],
        }
        for number, at_s in enumerate(WORDS_S)
    }  # fmt: skip
    whole = {"sum": [{"sound": one} for one in words], "then": [{"seconds": LENGTH_S}, QUIET]}
    return {**words, f"{name}.wav": whole}


def _delivery(take: int, rate: int) -> Written:
    """One file that describes its legs: a bed of music, a narrator, and an effect with a position."""
    music = {"name": "Music", "legs": [1, 2], "content": "Music"}
    narrator = {"name": "Narrator", "legs": [3], "content": "Speech", "dialogue": "dialogue"}
    bell = {"name": "Bell", "legs": [4], "bed": False, "content": "Effects"}
    sounds = {
        "music": _played("pluck", take + 1, hz=147.0, then=[{"wide": True}]),
        "narrator": _played("voice", take + 2, hz=110.0, peak_dbfs=-9.0),
        "bell": _played("pluck", take + 3, hz=660.0, peak_dbfs=-18.0),
        "film.wav": {"legs_of": ["music", "narrator", "bell"], "described": {"objects": [music, narrator, bell]}},
    }
    return sounds, {}


SESSIONS = {
    "takes": _takes, "microphones": _microphones, "returns": _returns, "stems": _stems, "print": _print,
    "ensemble": _ensemble, "delivery": _delivery,
}  # fmt: skip
