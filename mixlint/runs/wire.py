"""Messages between a process and one that it started, over its standard input and output.

For processes that may not start another through ``multiprocessing``: those of a cluster's workers are of the kind that
may have no children there.
"""

from __future__ import annotations

import pickle
from queue import Empty, SimpleQueue
from threading import Lock, Thread
from typing import Any, BinaryIO

_HEAD = 8
"""Bytes that tell how long a message is."""


class Wire:
    """Both directions; what comes is read by a thread of its own, so that an end is seen at once.

    Args:
        takes: where messages come from.
        gives: where they go to.
    """

    def __init__(self, takes: BinaryIO, gives: BinaryIO) -> None:
        self._takes, self._gives = takes, gives
        self._lock = Lock()
        self._came: SimpleQueue[tuple[Any, ...] | None] = SimpleQueue()
        self.ended = False
        """Nobody is at the other end any more."""
        Thread(target=self._read, daemon=True, name="mixlint-wire").start()

    def send(self, *message: Any) -> None:
        """Send a message.

        Raises:
            OSError: nobody is there any more.
        """
        told = pickle.dumps(message)
        with self._lock:
            self._gives.write(len(told).to_bytes(_HEAD, "little") + told)
            self._gives.flush()

    def get(self, seconds: float) -> tuple[Any, ...] | None:
        """The next message; an empty one where none came in time; None where the other end is gone.

        Args:
            seconds: how long to wait.
        """
        try:
            found = self._came.get(timeout=seconds)
        except Empty:
            return ()
        if found is None:
            self._came.put(None)
        return found

    def _read(self) -> None:
        try:
            while len(head := self._takes.read(_HEAD)) == _HEAD:
                size = int.from_bytes(head, "little")
                if len(told := self._takes.read(size)) < size:
                    break
                self._came.put(pickle.loads(told))
        except (OSError, ValueError, EOFError):  # closed while it was read
            pass
        finally:
            self.ended = True
            self._came.put(None)
