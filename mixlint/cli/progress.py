"""A line on the terminal for work that takes more than a second; silent in a pipe."""

from __future__ import annotations

import shutil
import sys
import threading
import time
from types import TracebackType
from typing import Self

PATIENCE_S = 1.0
BEAT_S = 0.5


class Progress:
    """Shows what is being worked on, on stderr, from one second on; the line is wiped at the end.

    Args:
        total: how many steps there are.
    """

    def __init__(self, total: int) -> None:
        self.total = total
        self.at = 0
        self.what = ""
        self._doing = ""
        self._shown = False
        self._done = threading.Event()
        self._thread: threading.Thread | None = None

    def __enter__(self) -> Self:
        """Begin to watch the clock, where stderr is a terminal."""
        if sys.stderr.isatty():
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

    @property
    def watched(self) -> bool:
        """Somebody looks on."""
        return self._thread is not None

    def step(self, what: str) -> None:
        """Say what is being worked on now."""
        self.at += 1
        self.what, self._doing = what, ""

    def doing(self, what: str) -> None:
        """Say what of it is being done just now; nothing says so no longer."""
        self._doing = what

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
