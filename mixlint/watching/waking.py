"""Woken when something changes in the folders of a session; and looked again from time to time all the same.

What the system tells of changes is a hint and no more: on a network it may tell nothing, and a folder that is moved
away and comes back is another. What has changed, if anything, is told by a look (:mod:`mixlint.watching.looks`).
"""

from __future__ import annotations

import threading
from pathlib import Path
from types import TracebackType
from typing import Any, Final, Self

from mixlint.errors import MixlintError

AGAIN_S: Final = 1.0
"""How long at most nobody looks, seconds, where nothing is told."""
_GATHER_MS: Final = 20
"""How long what is told is gathered, milliseconds."""


def watchfiles_there() -> Any:
    """The library that is told of changes by the system.

    Raises:
        MixlintError: it is not installed.
    """
    try:
        import watchfiles
    except ImportError:
        raise MixlintError(
            "what tells of new exports is not installed", do="install it: pip install 'mixlint[watch]'"
        ) from None
    return watchfiles


class Waking:
    """Hears of changes in a thread of its own, so that a stop from the keyboard is met in the one that waits."""

    def __init__(self) -> None:
        self._watchfiles = watchfiles_there()
        self._woken = threading.Event()
        self._stop = threading.Event()
        self._folders: frozenset[tuple[Path, int, int]] = frozenset()

    def __enter__(self) -> Self:
        """Nothing is heard before :meth:`over` says where."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Hear no more."""
        self._stop.set()

    def over(self, folders: frozenset[Path]) -> None:
        """Hear of changes in these folders, and not of those below them."""
        found = frozenset(told for one in folders if (told := _told(one)))
        if found == self._folders:
            return
        self._folders = found
        self._stop.set()
        self._stop = threading.Event()
        places = sorted(str(path) for path, _, _ in found)
        if places:
            threading.Thread(target=self._hear, args=(places, self._stop), daemon=True).start()

    def wait(self, seconds: float = AGAIN_S) -> None:
        """Wait until something may have changed."""
        self._woken.wait(seconds)
        self._woken.clear()

    @property
    def woken(self) -> bool:
        """Something may have changed since the last wait."""
        return self._woken.is_set()

    def _hear(self, places: list[str], stop: threading.Event) -> None:
        try:
            for _ in self._watchfiles.watch(
                *places,
                watch_filter=None,
                debounce=_GATHER_MS,
                step=_GATHER_MS // 2,
                rust_timeout=1000,
                stop_event=stop,
                recursive=False,
                raise_interrupt=False,
            ):
                self._woken.set()
        except Exception:  # noqa: BLE001 - a folder that went away, or a system that tells no more: then one looks again
            self._folders = frozenset()


def _told(folder: Path) -> tuple[Path, int, int] | None:
    """A folder, as the one it is now."""
    try:
        found = folder.stat()
    except OSError:
        return None
    return folder, found.st_dev, found.st_ino
