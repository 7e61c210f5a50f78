"""What automation moves: one control of a strip, parsed once from its text and printed once."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Annotated, Final, Literal, Self

from pydantic import BeforeValidator, PlainSerializer, WithJsonSchema

TargetKind = Literal[
    "fader",
    "pan",
    "mute",
    "send-level",
    "send-pan",
    "send-switch",
    "insert-switch",
    "insert-wet",
    "insert-band",
    "insert-parameter",
    "other",
]
"""The kinds of controls; ``other`` is a text that names none."""

_SENDS: Final[dict[str, TargetKind]] = {"level": "send-level", "pan": "send-pan", "on": "send-switch"}
_INSERTS: Final[dict[str, TargetKind]] = {"on": "insert-switch", "wet": "insert-wet"}
_WORDS: Final = {kind: word for words in (_SENDS, _INSERTS) for word, kind in words.items()}
_BAND: Final = re.compile(r"band:([1-9][0-9]{0,3}):(on|freq|gain|q|slope)", re.ASCII)
"""A setting of an equalizer's band, counted from 1."""

_BAND_WORDS: Final = {"freq": "frequency", "q": "Q"}
"""Settings of a band that a reader is told by another word."""

_DIGITS: Final = 6
"""A send or an insert with a longer number is none: no strip holds a million."""


@dataclass(frozen=True, slots=True)
class Target:
    """One control of a channel.

    Args:
        kind: what it is.
        place: which send or insert of the channel, counted from 0; None for the strip's own controls.
        name: the setting of a band, the setting or the id of a listed parameter of an insert, or the whole text of a
            target that names no control.
    """

    kind: TargetKind
    place: int | None = None
    name: str = ""

    @classmethod
    @lru_cache(maxsize=1024)
    def send(cls, place: int, word: Literal["level", "pan", "on"]) -> Self:
        """A control of a send."""
        return cls(_SENDS[word], place)

    @classmethod
    @lru_cache(maxsize=1024)
    def insert(cls, place: int, word: str) -> Self:
        """A control of an insert: ``on``, ``wet``, ``band:K:freq`` and the like, a setting, or a listed parameter."""
        kind = _INSERTS.get(word)
        if kind is not None:
            return cls(kind, place)
        return cls("insert-band" if _BAND.fullmatch(word) else "insert-parameter", place, word)

    @classmethod
    def parse(cls, text: str) -> Self:
        """Read ``fader``, ``pan``, ``mute``, ``send:N:level``, ``insert:N:on`` and the like; never fails."""
        if text in ("fader", "pan", "mute"):
            return cls(text)  # type: ignore[arg-type]  # one of the three words above
        what, _, rest = text.partition(":")
        number, _, word = rest.partition(":")
        if number.isascii() and number.isdigit() and len(number) <= _DIGITS and word:
            if what == "send" and word in _SENDS:
                return cls(_SENDS[word], int(number))
            if what == "insert":
                return cls.insert(int(number), word)
        return cls("other", None, text)

    def __str__(self) -> str:
        """The text of the neutral form."""
        if self.place is None:
            return self.name if self.kind == "other" else self.kind
        return f"{'send' if self.of_send else 'insert'}:{self.place}:{self.word}"

    @property
    def word(self) -> str:
        """What is moved of a send or an insert: ``level``, ``pan``, ``on``, ``wet``, or the name of a setting."""
        return _WORDS.get(self.kind) or self.name

    @property
    def spoken(self) -> str:
        """The same for a reader: ``band 2 frequency`` for ``band:2:freq``."""
        band = self.band
        return f"band {band[0]} {_BAND_WORDS.get(band[1], band[1])}" if band else self.word

    @property
    def band(self) -> tuple[int, str] | None:
        """Which band of an equalizer, counted from 1, and what of it; None for every other control."""
        found = _BAND.fullmatch(self.name) if self.kind == "insert-band" else None
        return (int(found[1]), found[2]) if found else None

    @property
    def of_send(self) -> bool:
        """True for a control of a send."""
        return self.kind in ("send-level", "send-pan", "send-switch")

    @property
    def of_insert(self) -> bool:
        """True for a control of an insert."""
        return self.kind in ("insert-switch", "insert-wet", "insert-band", "insert-parameter")

    @property
    def is_level(self) -> bool:
        """True for a fader or a send level, whose values are decibels."""
        return self.kind in ("fader", "send-level")


def _read(value: object) -> object:
    return Target.parse(value) if isinstance(value, str) else value


TargetText = Annotated[
    Target,
    BeforeValidator(_read),
    PlainSerializer(str, return_type=str),
    WithJsonSchema({"type": "string"}),
]
"""A target as a field of a model: text in JSON."""

FADER: Final = Target("fader")
PAN: Final = Target("pan")
MUTE: Final = Target("mute")
