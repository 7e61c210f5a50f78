"""What comes from the page to be signed: read within bounds, and signed as ``mixlint sign`` does, one after another."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from threading import Lock
from types import TracebackType
from typing import Any, Final, Self

from mixlint.errors import MixlintError
from mixlint.runs.each_apart import EachApart
from mixlint.runs.listening import Watch
from mixlint.signoffs.line import ANSWERS, SCOPES
from mixlint.watching.reviewing import Signed, WantedLine, sign_here

MOST_BYTES: Final = 16 << 10
"""So long a request to sign may be, bytes: a reason of a page of text, and names."""
_KEYS: Final = frozenset({"rule", "channel", "because", "by", "scope", "until", "answer"})
_MINUTES: Final = 10.0
"""How long signing may take, which reviews the session anew."""
_WAITS_S: Final = 60.0
"""How long one waits for others who sign, seconds."""


def line_of(body: bytes, *, audio: bool) -> WantedLine:
    """What is to be signed.

    Args:
        body: one flat object in JSON: ``rule``, ``because`` and ``by``, and where they are needed ``channel`` (the row
            or channel meant, as ``--on``), ``scope``, ``until`` and ``answer``, each a text.
        audio: the audio is opened.

    Raises:
        MixlintError: it is something else.
    """
    do = "send one object with rule, channel, because, by and scope"
    try:
        said = json.loads(body.decode("utf-8"), object_pairs_hook=_once, parse_constant=_refuse)
    except (ValueError, RecursionError):
        raise MixlintError("this is no JSON that can be read", do=do) from None
    if not isinstance(said, Mapping) or not all(isinstance(one, str) for one in said.values()):
        raise MixlintError("this is no object whose values are texts", do=do)
    if unknown := sorted(set(said) - _KEYS):
        raise MixlintError(f"there is no {unknown[0][:60]!r} to be signed", do=do)
    scope, answer = said.get("scope") or "finding", said.get("answer") or None
    if scope not in SCOPES:
        raise MixlintError("there is no such scope", do=f"choose one of {', '.join(SCOPES)}")
    if answer is not None and answer not in ANSWERS:
        raise MixlintError("there is no such answer", do=f"choose one of {', '.join(ANSWERS)}")
    return WantedLine(
        rule=said.get("rule", ""),
        on=said.get("channel") or None,
        because=said.get("because", ""),
        by=said.get("by", ""),
        scope=scope,
        until=said.get("until") or "never",
        answer=answer,
        audio=audio,
    )


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) < len(pairs):
        raise ValueError
    return found


def _refuse(_: str) -> None:
    raise ValueError


class SigningDesk:
    """Signs what comes from the page, in a process beside this one.

    Args:
        standard: the standard as it was named.
        audio: the audio is opened.
    """

    def __init__(self, standard: str | None, *, audio: bool) -> None:
        self.standard, self.audio = standard, audio
        self._lock = Lock()
        self._apart = EachApart(_MINUTES, task=sign_here)

    def __enter__(self) -> Self:
        """Nothing is started before somebody signs."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Sign no more."""
        self._apart.stop()

    def sign(self, session: Path, body: bytes) -> tuple[str, ...]:
        """Put one line into the file of sign-offs.

        Args:
            session: the session.
            body: what is to be signed (:func:`line_of`).

        Returns:
            What was signed, in lines for the one who did.

        Raises:
            MixlintError: it cannot be read, or cannot be signed.
        """
        line = line_of(body, audio=self.audio)
        if not self._lock.acquire(timeout=_WAITS_S):
            raise MixlintError("others are signing just now", do="try again")
        try:
            made = self._apart.review(line.task(session, self.standard), Watch())
        finally:
            self._lock.release()
        assert isinstance(made, Signed)
        return made.lines
