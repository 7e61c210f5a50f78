"""A line on the terminal for work that takes more than a second; silent in a pipe."""

from __future__ import annotations

import shutil
import sys
import threading
import time
from types import TracebackType
from typing import TYPE_CHECKING, Final, Self

from mixlint.runs.listening import Watch

if TYPE_CHECKING:
    from pathlib import Path

    from mixlint.review.findings import SessionReview
    from mixlint.session import Session

PATIENCE_S = 1.0
BEAT_S = 0.5


MOST_AHEAD: Final = 3
"""How many rows are told before the audio is measured."""


class Progress(Watch):
    """Shows what is being worked on, on stderr, from one second on; the line is wiped at the end.

    Args:
        total: how many steps there are.
    """

    def __init__(self, total: int) -> None:
        self.total = total
        self.at = 0
        self.what = ""
        self.path: Path | None = None
        self._doing = ""
        self._shown = False
        self._done = threading.Event()
        self._thread: threading.Thread | None = None

    def __enter__(self) -> Self:
        """Begin to watch the clock, where stderr is a terminal."""
        if sys.stderr.isatty():
            self.watched = True
            self._thread = threading.Thread(target=self._watch, daemon=True)
            self._thread.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Stop and wipe the line."""
        self.clear()
        self._done.set()
        if self._thread is not None:
            self._thread.join()
            self.clear()

    def step(self, what: str) -> None:
        """Say what is being worked on now."""
        self.at += 1
        self.what, self._doing = what, ""

    def step_to(self, path: Path) -> None:
        """Say which of several sessions is waited for now."""
        self.path = path
        self.step(path.name)

    def clear_for(self, anything: object) -> None:
        """Wipe the line where something is to be said."""
        if anything:
            self.clear()

    def was_read(self, session: Session, path: Path) -> None:
        """Say what stands in the session and could not be read."""
        if any(note.unread for note in session.notes):
            from mixlint.cli.inputs import tell_unread

            self.clear()
            tell_unread(session, path)

    def doing(self, what: str) -> None:
        """Say what of it is being done just now; nothing says so no longer."""
        self._doing = what

    def ahead(self, made: SessionReview) -> None:
        """Say the outcome without the sound, and the first rows that hold."""
        from mixlint.cli.guard import say
        from mixlint.reports.words import OUTCOMES, counts_of

        self.clear()
        holds = [one for one in made.findings if one.verdict == "flagged" and one.grade == "hold"]
        lines = [one.message for one in holds[:MOST_AHEAD]]
        if len(holds) > MOST_AHEAD:
            lines.append(f"and {counts_of(len(holds) - MOST_AHEAD, 'more row')} at hold")
        say("\n".join([f"before the audio is measured: {OUTCOMES[made.outcome]}", *lines]))

    def clear(self) -> None:
        """Wipe the line, so that a message can stand in its place."""
        if self._shown:
            sys.stderr.write("\r\x1b[K")
            sys.stderr.flush()
            self._shown = False

    def _watch(self) -> None:
        from mixlint.reports.plain import encodable, neutral, shortened

        begun = time.monotonic()
        wait = PATIENCE_S
        while not self._done.wait(wait):
            wait = BEAT_S
            place = f" ({self.at} of {self.total})" if self.total > 1 else ""
            doing = f": {neutral(self._doing)}" if self._doing else ""
            text = f"reading {neutral(self.what)}{place}{doing}, {time.monotonic() - begun:.0f} s"
            text = encodable(shortened(text, shutil.get_terminal_size().columns - 1), sys.stderr.encoding)
            sys.stderr.write(f"\r\x1b[K{text}")
            sys.stderr.flush()
            self._shown = True
