"""Mistakes in a file that describes its legs: legs left out or shared, objects silent or nameless, wrong figures."""

from __future__ import annotations

from random import Random
from typing import Any

from tests.mutation.planting import Planted, heard
from tests.mutation.sounding import Sounding

DELIVERY = ("delivery",)
FILM = "film.wav"
LEGS = {"Music": (1, 2), "Narrator": (3,), "Bell": (4,)}


def _film(clean: Sounding, about: str, **changes: Any) -> Planted:
    """The file with another description, or other legs; ``about`` is what the finding has to be about."""
    was = clean.recipes[FILM].described
    assert was is not None
    objects = changes.pop("objects", None)
    described = was.model_dump() | ({} if objects is None else {"objects": objects}) | changes.pop("described", {})
    recipe = clean.again(FILM, sum=(), legs_of=("music", "narrator", "bell"), described=described, **changes)
    return Planted(clean.session, frozenset({about}), sounds={FILM: recipe})


def _objects(clean: Sounding, which: str, /, **changes: Any) -> list[dict[str, Any]]:
    """The objects of the file, one of them changed."""
    was = clean.recipes[FILM].described
    assert was is not None
    return [one.model_dump() | (changes if one.name == which else {}) for one in was.objects]


def _row(name: str) -> str:
    return f"{FILM}:AO_{0x1001 + list(LEGS).index(name):04X}"


@heard("half of a description lost", "delivery-file-is-whole", "every-leg-named-once", sound=DELIVERY)
def cut(clean: Sounding, _: Random) -> Planted:
    return _film(clean, FILM, described={"cut": True})


@heard("a leg without a name, with two, or for two objects", "every-leg-named-once", "delivery-file-is-whole",
       "delivered-objects-sound", sound=DELIVERY)  # fmt: skip
def legs(clean: Sounding, rng: Random) -> Planted:
    if rng.random() < 0.5:
        how = rng.choice(({"unnamed": (rng.choice((1, 2, 3, 4)),)}, {"named_twice": True}))
        return _film(clean, FILM, described=how)
    return _film(clean, FILM, objects=_objects(clean, "Bell", legs=LEGS["Narrator"]))


@heard("an object without a name", "delivered-objects-named", sound=DELIVERY)
def nameless(clean: Sounding, rng: Random) -> Planted:
    name = rng.choice(list(LEGS))
    return _film(clean, _row(name), objects=_objects(clean, name, name=""))


@heard("an object that is silent, muted, left out or too long", "delivered-objects-sound", sound=DELIVERY)
def silent(clean: Sounding, rng: Random) -> Planted:
    name = rng.choice(list(LEGS))
    changes: dict[str, Any] = rng.choice(({"mute": True}, {"played": False}, {"start_s": 4.0, "seconds": 12.0}, {}))
    if changes:
        return _film(clean, _row(name), objects=_objects(clean, name, **changes))
    spans = {"Music": "music", "Narrator": "narrator", "Bell": "bell"}
    hushed = clean.again(spans[name], {"gain_db": -200.0})
    planted = _film(clean, _row(name))
    film = planted.sounds[FILM]
    assert film is not None
    parts = tuple("hushed" if one == spans[name] else one for one in film.legs_of)
    sounds = {"hushed": hushed, FILM: film.model_copy(update={"legs_of": parts})}
    return Planted(clean.session, planted.about, sounds=sounds)


@heard("a delivery among stems", "delivery-file-stands-alone", sound=DELIVERY)
def among_stems(clean: Sounding, rng: Random) -> Planted:
    stem = clean.played("pluck", rng.randrange(5000, 9000), {"fade_out_s": 0.3}, hz=82.0, peak_dbfs=-12.0)
    return Planted(clean.session, frozenset({FILM}), sounds={"Bass.wav": stem})


@heard("a loudness or a true peak that is not the programme's", "programme-as-loud-as-it-says", sound=DELIVERY)
def loudness(clean: Sounding, rng: Random) -> Planted:
    stated = rng.choice(({"lufs": -8.0}, {"lufs": -40.0}, {"true_peak_dbtp": 0.5}))
    objects = _objects(clean, "Bell", bed=True)
    return _film(clean, f"{FILM}:APR_1001", objects=objects, described=stated)
