"""Damage to JSON by its values: lost, doubled, swapped, of another kind, from elsewhere; keys twice; nesting."""

from __future__ import annotations

import json
from random import Random
from typing import Any, Final

from tests.importers.fuzz.words import NUMBERS, encode, tear, word

_KEYS: Final = (
    "unknown",
    "id",
    "name",
    "to",
    "output",
    "parent",
    "kind",
    "t",
    "v",
    "target",
    "format",
    "x",
    "",
    "gaps",
)


def _places(value: Any) -> list[tuple[Any, Any]]:
    """Every value, by what holds it and under which key or number; damage may have nested them thousands deep."""
    found: list[tuple[Any, Any]] = []
    todo = [value]
    while todo:
        here = todo.pop()
        keys = list(here) if isinstance(here, dict) else list(range(len(here))) if isinstance(here, list) else []
        found += [(here, key) for key in keys]
        todo += [here[key] for key in reversed(keys)]
    return found


def alike(was: Any, chance: Random, places: list[tuple[Any, Any]]) -> Any:
    """A value of the same kind, so that the form is kept and what it says is not."""
    if isinstance(was, bool):
        return not was
    if isinstance(was, float):
        return float(chance.choice(NUMBERS[:26])) if chance.random() < 0.5 else was * chance.uniform(-2.0, 3.0)
    if isinstance(was, int):
        return was + chance.choice((-1, 1, 7, 10**6))
    if isinstance(was, str):
        return (
            word(chance)
            if chance.random() < 0.5
            else chance.choice([v for h, k in places if isinstance(v := h[k], str)])
        )
    if isinstance(was, list):
        return chance.sample(was, chance.randrange(len(was) + 1)) + was[: chance.randrange(2)]
    return {key: value for key, value in was.items() if chance.random() < 0.8} if isinstance(was, dict) else was


def another(chance: Random, places: list[tuple[Any, Any]]) -> Any:
    """A value of any kind, at times one that stands elsewhere."""
    kind = chance.randrange(8)
    if kind <= 2:
        return chance.choice(NUMBERS)
    if kind <= 4:
        return word(chance)
    if kind == 5:
        return chance.choice((None, True, False, [], {}, [[]], {"unknown": ""}, {"unknown": "why"}, {"unknown": 3}))
    if kind == 6:
        held, key = chance.choice(places)
        return json.loads(json.dumps(held[key]))
    inner: Any = chance.choice(([], {}, 1, "x"))
    for _ in range(chance.choice((2, 30, 400))):
        inner = [inner] if chance.random() < 0.5 else {chance.choice(_KEYS): inner}
    return inner


def damage_values(body: Any, chance: Random) -> Any:
    """Parsed JSON with some of its values damaged, in place."""
    harsh = chance.random() < 0.3
    for _ in range(chance.choice((1, 1, 2, 4, 8))):
        places = _places(body)
        if not places:
            break
        try:
            _damage_one(places, chance, harsh=harsh)
        except RecursionError:  # values came to lie in one another deeper than the library copies them
            break
    return body


def _damage_one(places: list[tuple[Any, Any]], chance: Random, *, harsh: bool) -> None:
    held, key = chance.choice(places)
    kind = chance.randrange(10)
    if kind <= 4 and harsh:
        held[key] = another(chance, places)
    elif not harsh:
        held[key] = alike(held[key], chance, places)
    elif kind == 5:
        del held[key]
    elif kind == 6 and isinstance(held, list):
        held[key:key] = [json.loads(json.dumps(held[key])) for _ in range(chance.choice((1, 1, 5)))]
    elif kind == 7:
        other, there = chance.choice(places)
        one, two = (json.loads(json.dumps(each)) for each in (held[key], other[there]))
        other[there] = one
        if key in held if isinstance(held, dict) else key < len(held):
            held[key] = two
    elif kind == 8 and isinstance(held, list):
        chance.shuffle(held)
    elif isinstance(held, dict):
        held[chance.choice((*_KEYS, key))] = another(chance, places)


def damage_json(text: str, chance: Random) -> bytes:
    """A document in JSON, damaged."""
    if chance.random() < 0.15:
        return tear(text.encode(), chance)
    body = damage_values(json.loads(text), chance)
    try:
        made = json.dumps(body, ensure_ascii=chance.random() < 0.5)
    except RecursionError:  # values came to lie in one another deeper than the library writes them
        return tear(text.encode(), chance)
    kind = chance.random()
    if kind < 0.1:  # a key twice, a number of many digits, a comma too many
        at = made.find('"', chance.randrange(len(made)))
        put = chance.choice(('"id": 1, "id": 2, ', "9" * 5000, ",", "/* */", '"\\ud800": 0, ', "NaN, ", "[" * 3000))
        made = made[:at] + put + made[at:]
    if kind > 0.9:
        return encode(made, chance, 0.7)
    return made.encode("utf-8", "surrogatepass")
