"""The desk: everything a fact may consult about one session, computed when first asked for."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, TypeVar

from mixlint.facts.house import House
from mixlint.session import Session

if TYPE_CHECKING:
    from mixlint.media import Library

T = TypeVar("T")


class Desk:
    """One session under one house, with or without its audio.

    Args:
        session: the session in the neutral form.
        house: the settings of the standard in force.
        audio: the session's audio, or None when it is not to be opened.
    """

    def __init__(self, session: Session, house: House | None = None, audio: Library | None = None) -> None:
        self.session = session
        self.house = house or House()
        self.audio = audio
        self._memory: dict[str, Any] = {}

    def remembered(self, key: str, make: Callable[[], T]) -> T:
        """What ``make`` returns, computed once per desk under ``key``."""
        if key not in self._memory:
            self._memory[key] = make()
        found: T = self._memory[key]
        return found
