"""Who writes: names of files in the making that tell whose they are, and what is left of writers that are gone."""

from __future__ import annotations

import os
import re
import socket
import stat
import sys
from contextlib import suppress
from functools import cache
from hashlib import sha256
from pathlib import Path
from secrets import token_hex
from typing import Final

ABANDONED_S: Final = 86_400.0
"""A file in the making of another machine, which cannot be asked, counts as left behind after a day."""

_MADE: Final = re.compile(r"\.mixlint-([0-9a-f]{12})-(\d{1,10})-(\d*)-[0-9a-f]{16}\.tmp")
_MADE_BY_0_1: Final = re.compile(r"\.mixlint-[a-z0-9_]{8}")


@cache
def this_machine() -> str:
    """What this machine is told from others by, as far as the numbers of its processes go.

    The name of the host does not do: containers may share one, each with its own numbers, and after a start of the
    machine a number means another process.
    """
    parts = [socket.gethostname()]
    with suppress(OSError):
        parts.append(Path("/proc/sys/kernel/random/boot_id").read_text(encoding="ascii").strip())
        parts.append(str(os.stat("/proc/self/ns/pid").st_ino))
    return sha256("\0".join(parts).encode("utf-8", "surrogateescape")).hexdigest()[:12]


def started(process: int) -> str | None:
    """When a process was started, in ticks since the machine was; empty where the system does not tell.

    Returns:
        None where it is gone, or dead and not yet buried.
    """
    try:
        said = Path(f"/proc/{process}/stat").read_bytes()
    except FileNotFoundError:
        return None if sys.platform == "linux" and os.path.exists("/proc/self/stat") else ""
    except OSError:
        return ""
    fields = said.rpartition(b")")[2].split()  # the name before it may hold anything
    return None if len(fields) < 20 or fields[0] in (b"Z", b"X") else fields[19].decode("ascii")


def is_gone(machine: str, process: int, since: str) -> bool:
    """True when it is sure that a writer lives no more; of one on another machine nothing is known.

    Args:
        machine: its machine.
        process: its number there.
        since: when it was started, as :func:`started` says; empty where that was not known.
    """
    if machine != this_machine() or os.name == "nt":  # asking on Windows may end the one that is asked
        return False
    now = started(process)
    if now is None or (now and since and now != since):
        return True
    if now:
        return False
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return True
    except (OSError, OverflowError):
        pass
    return False


def new_beside(folder: Path) -> Path:
    """A path for a file in the making: its name tells whose it is, and nobody else takes it."""
    process = os.getpid()
    return folder / f".mixlint-{this_machine()}-{process}-{started(process) or ''}-{token_hex(8)}.tmp"


def sweep(folder: Path, now_s: float) -> None:
    """Take away what writers that are gone have left in the making.

    Args:
        folder: the folder.
        now_s: the time that its file system gives to a new file, s since 1970; other clocks may differ from it.
    """
    try:
        found = [one.name for one in os.scandir(folder) if one.name.startswith(".mixlint-")]
    except OSError:
        return
    for name in found:
        file = folder / name
        with suppress(OSError):
            about = file.lstat()
            if stat.S_ISREG(about.st_mode) and _left_behind(name, now_s - about.st_mtime):
                file.unlink()


def _left_behind(name: str, age_s: float) -> bool:
    if made := _MADE.fullmatch(name):
        machine, process, since = made.groups()
        return is_gone(machine, int(process), since) or (machine != this_machine() and age_s > ABANDONED_S)
    return _MADE_BY_0_1.fullmatch(name) is not None and age_s > ABANDONED_S
