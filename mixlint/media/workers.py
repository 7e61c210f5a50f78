"""Measuring in other processes: the decoding library is C code and reads what strangers wrote.

What that costs, measured with eight files of a minute each (24-bit stereo WAV, two cores that others used too): 0.24 s
to start a worker and import numpy and the decoder there, then as long as here (2.0 s here, 2.1 to 2.4 s in one
worker). That is worth it for files from strangers and wasted on a session of three short ones, so the default is to
stay in this process and whoever builds the library asks for workers. A run over an archive of sessions already has a
process per session.

The pool is spawned, not forked, as everywhere else: a script that asks for workers must guard its main module.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from mixlint.errors import BrokenFile, InputError
from mixlint.media.places import Place

if TYPE_CHECKING:
    from concurrent.futures import Future, ProcessPoolExecutor

    from mixlint.media.container import Container
    from mixlint.media.measure import Measure


def cores() -> int:
    """How many processes may measure at a time: the cores that this one may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def measure_file(place: Place, container: Container | None = None) -> Measure:
    """Open and measure one file; any executor can run it.

    Args:
        place: where it lies.
        container: the open container, to spare opening it again.

    Raises:
        InputError: it is missing, damaged or refused.
    """
    from mixlint.media.meter import measure_source
    from mixlint.media.whole import check_bytes

    with place.opened(container) as file:
        check_bytes(file, place.shown)
        return measure_source(file, name=place.shown)


def measure_in_workers(places: Iterable[Place], workers: int) -> Iterator[tuple[Place, Measure | InputError]]:
    """Measure files in ``workers`` processes, as they become ready.

    When a worker dies, the files under way are measured again one at a time, each in a process of its own, so that
    the one that kills it is known and the others lose nothing.
    """
    from concurrent.futures import as_completed
    from concurrent.futures.process import BrokenProcessPool

    waiting = list(places)
    suspects: list[Place] = []
    if waiting:
        with _stopped_at_once(_pool(min(workers, len(waiting)))) as pool:
            under_way: dict[Future[Measure], Place] = {}
            for place in waiting:
                try:
                    with deaf():
                        submitted = pool.submit(measure_file, place)
                    under_way[submitted] = place
                except BrokenProcessPool:
                    suspects.append(place)
            for done in as_completed(under_way):
                result = _result(done)
                if result is None:
                    suspects.append(under_way[done])
                else:
                    yield under_way[done], result
    for place in suspects:
        yield place, _alone(place)


@contextmanager
def _stopped_at_once(pool: ProcessPoolExecutor) -> Iterator[ProcessPoolExecutor]:
    """A pool whose workers are ended when whoever waits for them is stopped, and not first when their file is read."""
    from multiprocessing import active_children

    before = set(active_children())
    with pool:
        try:
            yield pool
        except BaseException:
            pool.shutdown(wait=False, cancel_futures=True)
            for worker in set(active_children()) - before:
                worker.terminate()
            raise


def _alone(place: Place) -> Measure | InputError:
    with _stopped_at_once(_pool(1)) as pool:
        with deaf():
            submitted = pool.submit(measure_file, place)
        result = _result(submitted)
    if result is not None:
        return result
    return BrokenFile(
        "the decoder died while reading it",
        where=place.shown,
        do="export the file again",
    )


def _result(done: Future[Measure]) -> Measure | InputError | None:
    """What came of it; None when the worker died."""
    from concurrent.futures.process import BrokenProcessPool

    try:
        return done.result()
    except InputError as fault:
        return fault
    except BrokenProcessPool:
        return None


def _pool(workers: int) -> ProcessPoolExecutor:
    from concurrent.futures import ProcessPoolExecutor
    from multiprocessing import get_context

    return ProcessPoolExecutor(max_workers=max(1, workers), mp_context=get_context("spawn"), initializer=begin_beside)


@contextmanager
def deaf() -> Iterator[None]:
    """Processes that are started here never hear an interrupt from the keyboard, not even before they can ignore it.

    They inherit that the signal is held back; this process meets one that came in the meantime as soon as it is out.
    """
    import signal

    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def begin_beside() -> None:
    """What a process beside this one does first: it leaves stops to the one that waits, and ends when that is gone."""
    _ignore_stop()
    _end_with_parent()


def _end_with_parent() -> None:
    """End when the process that waits is gone, however it went: one that was killed ends no workers."""
    from multiprocessing import connection, parent_process
    from threading import Thread

    parent = parent_process()
    if parent is None:
        return

    def watch() -> None:
        connection.wait([parent.sentinel])
        os._exit(1)

    Thread(target=watch, daemon=True).start()


def _ignore_stop() -> None:
    """Leave an interrupt from the keyboard to the process that waits: it ends the workers, and says so in one line."""
    import signal

    signal.signal(signal.SIGINT, signal.SIG_IGN)
