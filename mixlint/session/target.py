"""What automation moves: one control of a strip, parsed once from its text and printed once."""

from __future__ import annotations

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
    "insert-parameter",
    "other",
]
"""The kinds of controls; ``other`` is a text that names none."""

_SENDS: Final[dict[str, TargetKind]] = {"level": "send-level", "pan": "send-pan", "on": "send-switch"}
_INSERTS: Final[dict[str, TargetKind]] = {"on": "insert-switch", "wet": "insert-wet"}
_WORDS: Final = {kind: word for words in (_SENDS, _INSERTS) for word, kind in words.items()}
_DIGITS: Final = 6
"""A send or an insert with a longer number is none: no strip holds a million."""


@dataclass(frozen=True, slots=True)
class Target:
    """One control of a channel.

    Args:
        kind: what it is.
        place: which send or insert of the channel, counted from 0; None for the strip's own controls.
        name: the id of a listed parameter, or the whole text of a target that names no control.
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
        """A control of an insert: ``on``, ``wet``, or the id of a listed parameter."""
        kind = _INSERTS.get(word)
        return cls("insert-parameter", place, word) if kind is None else cls(kind, place)

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
        """What is moved of a send or an insert: ``level``, ``pan``, ``on``, ``wet``, or a parameter's id."""
        return _WORDS.get(self.kind) or self.name

    @property
    def of_send(self) -> bool:
        """True for a control of a send."""
        return self.kind in ("send-level", "send-pan", "send-switch")

    @property
    def of_insert(self) -> bool:
        """True for a control of an insert."""
        return self.kind in ("insert-switch", "insert-wet", "insert-parameter")

    @property
    def is_level(self) -> bool:
        """True for a fader or a send level, whose values are decibels."""
        return self.kind in ("fader", "send-level")

    @property
    def is_switch(self) -> bool:
        """True for a mute, a send's switch or an insert's, whose values are 0 and 1."""
        return self.kind in ("mute", "send-switch", "insert-switch")


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
