"""The roles a part can have, and the families that count as like parts."""

from __future__ import annotations

from typing import Final

ROLE_FAMILIES: Final[dict[str, str]] = {
    "kick": "drums",
    "snare": "drums",
    "hi-hat": "drums",
    "toms": "drums",
    "overheads": "drums",
    "drum-room": "drums",
    "drums": "drums",
    "percussion": "percussion",
    "bass": "bass",
    "acoustic-guitar": "guitars",
    "electric-guitar": "guitars",
    "guitar": "guitars",
    "plucked": "plucked",
    "keys": "keys",
    "synth": "synths",
    "strings": "strings",
    "winds": "winds",
    "lead-vocal": "vocals",
    "vocal-double": "vocals",
    "backing-vocals": "vocals",
    "vocal": "vocals",
    "sound-effects": "sound-effects",
    "reverb-return": "returns",
    "delay-return": "returns",
    "modulation-return": "returns",
    "effect-return": "returns",
    "parallel-bus": "buses",
    "group": "buses",
    "mix-bus": "buses",
    "cue": "utility",
    "click": "utility",
    "guide": "utility",
    "reference": "utility",
    "utility": "utility",
}
"""Role to family. A ``guitar`` or ``vocal`` is one whose closer kind the name does not tell."""

ROLES: Final = tuple(ROLE_FAMILIES)
FAMILIES: Final = tuple(dict.fromkeys(ROLE_FAMILIES.values()))
