"""What was met on the way and has to be said, each thing once, with how often and where."""

from __future__ import annotations

from mixlint.session import Note


class ImportNotes:
    """Gathers notes in the order in which they are first met."""

    def __init__(self) -> None:
        self._counts: dict[tuple[str, str, bool], int] = {}

    def add(self, text: str, *, about: str = "", loses: bool = False) -> None:
        """Note something.

        Args:
            text: a sentence, in which ``{n}`` stands for how often it was noted.
            about: a channel id.
            loses: whether it is something that was not carried over.
        """
        key = (text, about, loses)
        self._counts[key] = self._counts.get(key, 0) + 1

    def notes(self) -> list[Note]:
        """All of them."""
        return [
            Note(text=text.replace("{n}", str(count)), about=about, loses=loses)
            for (text, about, loses), count in self._counts.items()
        ]
