"""One damaged input: read within bounds of time and memory, and at times reviewed in every output form."""

from __future__ import annotations

import logging
import os
import signal
import sys
import time
import traceback
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.errors import BrokenFile, MixlintError
from mixlint.importers.native import parse
from mixlint.session import Session
from tests.importers.fuzz.forms import Given, made
from tests.importers.guarded import peak_mb

if TYPE_CHECKING:
    from mixlint.rulebook import Standard

SLOW_S: Final = 5.0
"""Processor time within which an input is read; that of a machine shared with others, and no wall clock."""

MOST_MB: Final = 300.0
"""How much more memory reading an input may hold; an AAF is read in a process that is bounded by the system, elsewhere
than here (``tests/importers/test_importers_aaf_bad.py``)."""

REVIEWED: Final = 50
"""One of so many readable sessions is reviewed, and one of ten times as many in every output form."""

SLOW_REVIEW_S: Final = 30.0


class Hang(BaseException):
    """Not one that anything but us catches."""


class Outcome(NamedTuple):
    """What came of an input.

    Args:
        said: ``read``, or the name of the error.
        fault: what is wrong with that; empty where nothing is.
        where: where the fault was raised, by which faults of one kind are told; empty where nothing was.
        seconds: processor time of the making, the reading and all checks.
        reviewed: it was reviewed too.
    """

    said: str
    fault: str = ""
    where: str = ""
    seconds: float = 0.0
    reviewed: bool = False


def prepare(folder: Path) -> None:
    """Set this process up: nothing is logged or warned of, and measures are kept in the folder."""
    os.environ["MIXLINT_CACHE"] = str(folder / "cache")
    logging.disable(logging.CRITICAL)
    warnings.simplefilter("ignore")
    sys.unraisablehook = lambda _: None  # the library of AAF leaves files open where it gives up


@contextmanager
def _within(seconds: float) -> Iterator[None]:
    def late(*_: object) -> None:
        raise Hang

    before = signal.signal(signal.SIGPROF, late)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0.0)
        signal.signal(signal.SIGPROF, before)


def attempt(form: str, seed: int, folder: Path) -> Outcome:
    """Make the input of a seed, read it, and tell what came of it."""
    start = time.process_time()
    try:
        given = made(form, seed, folder)
    except Exception as fault:  # noqa: BLE001 - what makes the inputs has faults of its own, which are told as such
        return Outcome("not made", _text(fault), _place(fault))
    Path("/proc/self/clear_refs").write_text("5", encoding="ascii")
    before = peak_mb()
    outcome, session = _read(form, given)
    grown = peak_mb() - before
    if not outcome.fault and grown > MOST_MB and form != "aaf":
        outcome = outcome._replace(fault=f"memory grew by {grown:.0f} MB", where="memory")
    if session is not None and not outcome.fault:
        draw = Random(f"review {form} {seed}").random() * REVIEWED
        if draw < 1.0:
            outcome = _reviewed(given, session, every=draw < 0.1)
    return outcome._replace(seconds=time.process_time() - start)


def _read(form: str, given: Given) -> tuple[Outcome, Session | None]:
    session = None
    start = time.process_time()
    try:
        with _within(SLOW_S):
            session = given.read()
            if session is not None and parse(session.json_text(), "again") != session:
                return Outcome("read", "the session does not keep its native form", "native form"), None
        outcome = Outcome("read")
    except MixlintError as refusal:
        outcome = Outcome(type(refusal).__name__, *_unclear(refusal, form))
    except Hang as fault:
        return Outcome("hang", f"not read after {SLOW_S} s\n{_text(fault)}", _place(fault)), None
    except Exception as fault:  # noqa: BLE001 - that is what is looked for
        if form == "aaf" and not _ours(fault):
            return Outcome(BrokenFile.__name__), None
        return Outcome("fault", _text(fault), _place(fault)), None
    if (took := time.process_time() - start) > SLOW_S:
        return Outcome("hang", f"read after {took:.1f} s", "slow"), None
    return outcome, session


def _ours(fault: BaseException) -> bool:
    """Whether a fault over an AAF is one of this project: its worker takes for damage what the library raises and what
    comes of its values, but a name that is nowhere, or a session that is none, is no damage."""
    last = traceback.extract_tb(fault.__traceback__)[-1].filename
    return "site-packages" not in last and (isinstance(fault, NameError) or "native.py" in last)


def _unclear(refusal: MixlintError, form: str) -> tuple[str, str]:
    """What an error leaves open; figures that no check met would be a hole in the reader."""
    holes = [name for name in ("what", "where", "do") if not getattr(refusal, name)]
    if form == "aaf" and holes == ["where"]:
        holes = []  # the process that starts the worker names the file
    if "figures do not fit" in refusal.what:
        holes.append("a check")
    if not holes:
        return "", ""
    return f"without {' and '.join(holes)}: {type(refusal).__name__}: {refusal}\n{_text(refusal)}", _place(refusal)


@cache
def _standard() -> Standard:
    from mixlint.rulebook import load_standard

    return load_standard(None, None)


def _reviewed(given: Given, session: Session, *, every: bool) -> Outcome:
    """Review what was read; an error of ours is an answer there too."""
    from mixlint.reports.forms import REVIEW_FORMS
    from mixlint.runs.check import check
    from mixlint.runs.report import report

    try:
        with _within(SLOW_REVIEW_S):
            what = given.path if given.reviewed else session
            review = check(what, standard=_standard(), everything=every, pictures=every)
            for form in REVIEW_FORMS if every else ():
                report(review, form, why=True, assumptions=True)
    except MixlintError as refusal:
        return Outcome("read", *_unclear(refusal, ""), reviewed=True)
    except (Exception, Hang) as fault:  # noqa: BLE001 - that is what is looked for
        return Outcome("fault", f"in its review: {_text(fault)}", _place(fault), reviewed=True)
    return Outcome("read", reviewed=True)


def _text(fault: BaseException) -> str:
    return "".join(traceback.format_exception(fault)).strip()[-6000:]


def _place(fault: BaseException) -> str:
    """The last line of this project that a fault went through."""
    frames = traceback.extract_tb(fault.__traceback__)
    own = [one for one in frames if "/mixlint/" in one.filename and "site-packages" not in one.filename] or frames
    return f"{type(fault).__name__} at {Path(own[-1].filename).name}:{own[-1].lineno}" if own else type(fault).__name__
