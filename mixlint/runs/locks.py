"""One writer at a time for a record that several people and machines write: a lock file beside it.

A lock is a file that only one can make, since a file system makes a name once: by a link to a file that is complete
already, or where there are no links by an exclusive creation. That works on folders of a network and without any
service; locks of the operating system reach no farther than one machine on many of them. A lock says whose it is. One
whose owner is gone is taken away at once, where the owner is of this machine; of another machine nothing is known, so
there a lock counts as left behind when it has stood unchanged for longer than any writing takes, by the clock of the
one that waits. Taking away has a lock of its own, so that nobody takes away what has been made in the meantime.
"""

from __future__ import annotations

import json
import os
import random
import socket
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from datetime import UTC, datetime
from hashlib import sha256
from pathlib import Path
from secrets import token_hex
from typing import Final

from mixlint.errors import InputError
from mixlint.naming import one_form
from mixlint.runs.owners import is_gone, new_beside, started, sweep, this_machine

WATCHED_S: Final = 15.0
"""A lock whose owner cannot be asked is given up when it has stood unchanged for so long.

One is held for milliseconds.
"""

PATIENCE_S: Final = 90.0
"""So long a writer waits for its turn: 200 that come at once take some seconds."""

LONGEST_NAP_S: Final = 0.1
_LONGEST: Final = 4096


class Lock:
    """The lock of one record.

    Args:
        record: the file that is to be written; its folder is there.
    """

    def __init__(self, record: Path) -> None:
        self.record = record
        # Two spellings of one name may be one file, and a name may be as long as names can be.
        short = sha256(one_form(record.name).encode("utf-8", "surrogatepass")).hexdigest()[:16]
        self.path = record.parent / f".mixlint-{short}.lock"
        self._taking = record.parent / f".mixlint-{short}.taking"
        self._mine = b""
        self._held_open: int | None = None
        self._seen: dict[Path, tuple[bytes | None, float]] = {}

    def acquire(self) -> None:
        """Wait until it is this one's turn.

        Raises:
            InputError: another did not finish in time.
            OSError: nothing can be written in the folder.
        """
        until = time.monotonic() + PATIENCE_S
        nap = 0.002
        self._mine = _whose(self.record)
        while not _made(self.path, self._mine):
            held = _content(self.path)
            if held is not None and self._left_behind(self.path, held):
                self._take_away(held)
                continue
            if time.monotonic() > until:
                raise InputError(
                    f"it is being written by another: {_told(held or b'')}",
                    where=str(self.record),
                    do=f"try again, and delete {self.path} if nobody writes it any more",
                )
            time.sleep(nap * random.uniform(0.5, 1.5))
            nap = min(nap * 1.5, LONGEST_NAP_S)
        if os.name == "nt":  # while it is open nobody can take it away; the system closes it with its owner
            with suppress(OSError):
                self._held_open = os.open(self.path, os.O_RDONLY)

    def is_held(self) -> bool:
        """True while the lock is still this one's: it may have been taken for one left behind, after a long sleep."""
        return _content(self.path) == self._mine

    def release(self) -> None:
        """Let the next one in."""
        if self._held_open is not None:
            os.close(self._held_open)
            self._held_open = None
        if self.is_held():
            with suppress(OSError):
                self.path.unlink()

    def _left_behind(self, path: Path, held: bytes) -> bool:
        """True when the owner of a lock is gone, or has not stirred for as long as it was watched here."""
        whose = _read(held)
        if whose is not None and is_gone(*whose):
            return True
        if whose is not None and whose[0] == this_machine() and os.name != "nt":
            return False  # it lives
        before, since = self._seen.get(path, (None, 0.0))
        if before != held:
            self._seen[path] = (held, time.monotonic())
            return False
        return time.monotonic() - since > WATCHED_S

    def _take_away(self, held: bytes) -> None:
        """Take away a lock that was left behind, unless another has done so already."""
        if not _made(self._taking, self._mine):
            other = _content(self._taking)
            if other is not None and self._left_behind(self._taking, other):  # its owner died just there
                with suppress(OSError):
                    self._taking.unlink()
            time.sleep(0.002)
            return
        try:
            if _content(self.path) == held:
                with suppress(OSError):
                    self.path.unlink()
        finally:
            with suppress(OSError):
                self._taking.unlink()


@contextmanager
def locked(record: Path) -> Iterator[Lock]:
    """Be the only one who writes a record, and take away what writers that are gone have left beside it.

    Args:
        record: the file; its folder is there.

    Raises:
        InputError: another did not finish in time.
        OSError: nothing can be written in the folder.
    """
    lock = Lock(record)
    lock.acquire()
    try:
        with suppress(OSError):
            sweep(record.parent, lock.path.stat().st_mtime)
        _sweep_locks(record.parent, lock)
        yield lock
    finally:
        lock.release()


def _sweep_locks(folder: Path, own: Lock) -> None:
    """Take away the locks of other records whose owners are gone for sure."""
    try:
        found = [one.name for one in os.scandir(folder) if one.name.endswith((".lock", ".taking"))]
    except OSError:
        return
    for name in found:
        path = folder / name
        if not name.startswith(".mixlint-") or path in (own.path, own._taking):
            continue
        content = _content(path)
        whose = _read(content) if content is not None else None
        if content is None or whose is None or not is_gone(*whose):
            continue
        other = Lock(folder / "other")
        other.path, other._taking = path.with_suffix(".lock"), path.with_suffix(".taking")
        other._mine = _whose(folder / "other")
        with suppress(OSError):
            if path == other.path:
                other._take_away(content)
            elif not other.path.exists():
                path.unlink()


def _whose(record: Path) -> bytes:
    process = os.getpid()
    said = {
        "machine": this_machine(),
        "host": socket.gethostname(),
        "process": process,
        "started": started(process) or "",
        "since": datetime.now(UTC).isoformat(timespec="seconds"),
        "writes": record.name,
        "token": token_hex(8),
    }
    return (json.dumps(said) + "\n").encode("ascii")


def _read(content: bytes) -> tuple[str, int, str] | None:
    """Machine, process and its start, or None where a lock does not say."""
    try:
        said = json.loads(content)
        return str(said["machine"]), int(said["process"]), str(said["started"])
    except (ValueError, KeyError, TypeError, RecursionError):
        return None


def _told(content: bytes) -> str:
    try:
        said = json.loads(content)
        text = f"process {said['process']} on {said['host']} since {said['since']}"
        return "".join(char if char.isprintable() else "?" for char in text)
    except (ValueError, KeyError, TypeError, RecursionError):
        return "nothing tells whose the lock is"


def _content(path: Path) -> bytes | None:
    """What a lock says; None where there is none."""
    flags = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
    try:
        handle = os.open(path, flags)
    except FileNotFoundError:
        return None
    except OSError:
        return b""  # it is there, and does not say whose it is
    try:
        return os.read(handle, _LONGEST)
    except OSError:
        return b""
    finally:
        os.close(handle)


def _made(path: Path, content: bytes) -> bool:
    """Make a lock, whole at once where links are possible; False where there is one."""
    if os.path.lexists(path):
        return False
    complete = new_beside(path.parent)
    _create(complete, content)
    try:
        os.link(complete, path)
    except FileExistsError:
        return complete.stat().st_nlink > 1  # over a network an answer is lost at times, and the question put again
    except (OSError, NotImplementedError):  # a file system without links
        try:
            _create(path, content)
        except FileExistsError:
            return False
        except PermissionError:
            if os.name != "nt":  # there, one that is just going away
                raise
            return False
    finally:
        with suppress(OSError):
            complete.unlink()
    return True


def _create(path: Path, content: bytes) -> None:
    handle = os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY | getattr(os, "O_BINARY", 0), 0o666)
    try:
        os.write(handle, content)
    except BaseException:
        os.close(handle)
        with suppress(OSError):
            path.unlink()
        raise
    os.close(handle)
