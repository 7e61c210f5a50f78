"""How the command line is stopped: from the keyboard (130) or by a signal to end (143), with one line and no traceback.

This is the first module that the command imports, and it imports nothing that takes time: what comes before it is
Python's own start. The line is written where the signal is met. What is raised then unwinds everything that has to be
put away: files half written, workers, open archives. It is no ``KeyboardInterrupt``, which libraries make something
else of, and a library that swallows it does not keep the program: it is ended a moment later all the same.
"""

from __future__ import annotations

import os
import sys

TYPE_CHECKING = False
"""As in ``typing``, which takes longer to import than all else here."""

if TYPE_CHECKING:
    import signal
else:
    import _signal as signal  # what ``signal`` wraps; that imports ``enum`` first, in 10 ms that nothing would meet

STOPPED = 130
"""128 + SIGINT (2), as shells count it."""
ENDED = 143
"""128 + SIGTERM (15)."""
PATIENCE_S = 1.5
"""How long putting away may take, seconds."""

_met: list[int] = []
"""The exit status of a signal that was met."""


class Stopped(BaseException):
    """The program is to end now.

    Args:
        status: the exit status.
    """

    def __init__(self, status: int) -> None:
        super().__init__(status)
        self.status = status


def watch() -> None:
    """Meet both signals from now on, unless whoever started the program has them ignored (``nohup``, ``&``)."""
    for number, usual in ((signal.SIGINT, signal.default_int_handler), (signal.SIGTERM, signal.SIG_DFL)):
        if signal.getsignal(number) == usual:
            signal.signal(number, _stop)


def leave_be() -> None:
    """Meet them no longer: all is written, and the exit status is what the work came to."""
    for number in (signal.SIGINT, signal.SIGTERM):
        if signal.getsignal(number) is _stop:
            signal.signal(number, signal.SIG_IGN)


def status_met() -> int | None:
    """The exit status of a signal that was met, also where what it raised got lost; None where none was."""
    return _met[0] if _met else None


def _stop(number: int, _: object) -> None:
    leave_be()  # a second Ctrl-C does not break off the putting away
    status = STOPPED if number == signal.SIGINT else ENDED
    _met.append(status)
    try:
        # As bytes and past Python's own buffer: this may be in the midst of writing to it.
        os.write(2, b"\r\x1b[Kmixlint: stopped.\n" if os.isatty(2) else b"mixlint: stopped.\n")
        sys.stderr = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115 - what falls over while all is put away is no message
    except OSError:  # nobody reads it any more: the exit status tells
        pass
    _end_before_long(status)
    raise Stopped(status)


def _end_before_long(status: int) -> None:
    """End even where what is raised gets lost on its way: in a callback from C, or in a library that swallows it."""
    import threading
    import time

    def end() -> None:
        time.sleep(PATIENCE_S)
        workers = sys.modules.get("multiprocessing.process")
        for worker in list(getattr(workers, "_children", ())):
            worker.kill()
        os._exit(status)

    try:
        threading.Thread(target=end, daemon=True).start()
    except RuntimeError:  # Python is on its way out and starts no thread any more
        os._exit(status)
