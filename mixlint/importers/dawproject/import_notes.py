"""What the reader assumed or could not carry over, gathered while reading."""

from __future__ import annotations

from typing import Literal

from mixlint.session import Gap, Note


class ImportNotes:
    """Notes in the order they arise, each once."""

    def __init__(self) -> None:
        self._notes: dict[tuple[str, str], Note] = {}
        self._gaps: list[Gap] = []

    def assume(self, text: str, about: str = "", *, assumes: Literal["", "output"] = "") -> None:
        """Something was assumed, about one channel or the whole session; ``assumes`` says of which of its settings."""
        self._notes.setdefault((text, about), Note(text=text, about=about, assumes=assumes))

    def lose(self, text: str, about: str = "") -> None:
        """Something in the file, or in the form itself, could not be carried over."""
        self._notes.setdefault((text, about), Note(text=text, about=about, loses=True))

    def gap(self, kind: Gap) -> None:
        """The exporter seems to have dropped a whole kind of thing."""
        if kind not in self._gaps:
            self._gaps.append(kind)

    @property
    def gaps(self) -> tuple[Gap, ...]:
        """What the exporter seems to have dropped."""
        return tuple(self._gaps)

    def all(self) -> tuple[Note, ...]:
        """All of them."""
        return tuple(self._notes.values())
