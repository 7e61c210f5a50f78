"""One review of a watched session, made in a process beside this one that stays warm from one export to the next.

Apart and not here, for four reasons. A stranger's file that hangs, takes all memory or brings a library down costs this
review and not the watch. A review that nobody waits for any more, since there is a newer export, is broken off, which a
thread cannot be. The page is served while a review is made. And the pictures and texts of it come back as text, so that
little has to cross: 65 kB of findings for the example song, in 5 ms. What that costs is a start of Python at the
beginning, and after a review was broken off.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from mixlint.analysis.sound_memory import SoundMemory
from mixlint.runs.each_apart import Made, Task
from mixlint.runs.listening import Watch

if TYPE_CHECKING:
    from mixlint.reports.plain import Page
    from mixlint.review.findings import SessionReview
    from mixlint.rulebook import Standard
    from mixlint.session import Session
    from mixlint.watching.since import SinceLast


class Wanted(NamedTuple):
    """What is made of a review besides itself.

    Args:
        check: the arguments of :func:`mixlint.runs.check.check`, but for the standard and the watch.
        before: the review that it is held against, if there is one.
        page: how wide the text is.
        html: the page is wanted too.
        note: a word that the review is to carry, or nothing.
        standard: what tells that the standard is another than before.
        assumptions: the text tells what the figures assume, one by one.
    """

    check: dict[str, Any]
    before: SessionReview | None
    page: Page
    html: bool
    note: str
    standard: object
    assumptions: bool = False

    def task(self, session: Path, named: str | None) -> Task:
        """The same for the process beside this one."""
        return Task(session, {"wanted": self}, named)


@dataclass(frozen=True, slots=True)
class Watched(Made):
    """What came of it.

    Args:
        since: what became of the findings since the review that it was held against; None where there was none.
        text: the review as text.
        html: the review as a page, or nothing.
        audio: the files that the session plays, whether or not they are there.
        heard: there is any sound to hear, inside the session's own file or outside.
        standard: the files of the standard in force.
        notices: what those should say otherwise.
    """

    since: SinceLast | None = None
    text: str = ""
    html: str = ""
    audio: tuple[str, ...] = ()
    heard: bool = False
    standard: tuple[str, ...] = ()
    notices: tuple[str, ...] = ()


class _Ear(Watch):
    """Passes on what is told, and keeps which files the session plays."""

    def __init__(self, to: Watch, printed: Path | None) -> None:
        self._to, self._printed = to, printed
        self.watched = to.watched
        self.audio: tuple[str, ...] = ()
        self.heard = False

    def was_read(self, session: Session, path: Path) -> None:
        from mixlint.importers.prints import prints_for

        self.audio = _files(session, path)
        self.heard = bool(session.media or prints_for(session, path, self._printed))
        self._to.was_read(session, path)

    def doing(self, what: str) -> None:
        self._to.doing(what)

    def ahead(self, made: SessionReview) -> None:
        self._to.ahead(made)


_MEMORY: Final = SoundMemory()
"""What the reviews of this process heard: an export mostly plays what the one before it played."""


def watch_here(asked: Task, watch: Watch) -> Made:
    """Review a session, hold it against an earlier review, and write it."""
    from mixlint.runs.check import check
    from mixlint.runs.report import report
    from mixlint.runs.signing import sign_lines
    from mixlint.watching.since import since

    wanted: Wanted = asked.arguments["wanted"]
    standard = _standard(asked.standard, asked.path, wanted.standard)
    ear = _Ear(watch, wanted.check.get("printed"))
    made = check(asked.path, standard=standard, watch=ear, pictures=wanted.html, memory=_MEMORY, **wanted.check)
    signing = sign_lines([asked.path], asked.standard, audio=bool(wanted.check.get("audio", True)))
    if wanted.note:
        result = made.result.model_copy(update={"notes": (*made.result.notes, wanted.note)})
        made = type(made)(result, made.rules, made.hold_on, made.everything, made.pictures, made.unfitted)
    return Watched(
        result=made.result,
        unfitted=made.unfitted,
        since=None if wanted.before is None else since(wanted.before, made.result, made.rules),
        text=report(made, page=wanted.page, assumptions=wanted.assumptions),
        html=report(made, "html", sign=signing) if wanted.html else "",
        audio=ear.audio,
        heard=ear.heard,
        standard=standard.files(),
        notices=tuple(map(str, standard.notices)),
    )


_LAST: Final[list[tuple[object, Standard]]] = []
"""The standard in force, which stays until one of its files is another."""


def _standard(named: str | None, path: Path, told_by: object) -> Standard:
    from mixlint.rulebook import load_standard

    if not _LAST or _LAST[0][0] != (named, path, told_by):
        _LAST[:] = [((named, path, told_by), load_standard(named, path))]
    return _LAST[0][1]


def _files(session: Session, path: Path) -> tuple[str, ...]:
    """Where the audio lies that a session plays and that lies outside its own file; where it would, if it is gone."""
    from mixlint.errors import InputError
    from mixlint.media.container import open_container
    from mixlint.media.disk_names import on_disk
    from mixlint.media.places import Place, locate
    from mixlint.media.zip_directory import clean_name

    top = path if path.is_dir() else path.parent
    found = []
    try:
        with open_container(top) as folder:
            for media in session.media:
                if media.place != "beside" or not media.path:
                    continue
                place = locate(media, folder)
                name = place.member if isinstance(place, Place) else clean_name(media.path)
                if name is not None:
                    found.append(str(on_disk(top, name).absolute()))
    except (InputError, OSError, ValueError):
        return ()
    return tuple(found)


# --- signing


class WantedLine(NamedTuple):
    """What is to be signed; the fields but ``audio`` are those of :class:`mixlint.signoffs.create.Wish`."""

    rule: str
    on: str | None
    because: str
    by: str
    scope: str
    until: str
    answer: str | None
    audio: bool

    def task(self, session: Path, named: str | None) -> Task:
        """The same for the process beside this one."""
        return Task(session, {"line": self}, named)


@dataclass(frozen=True, slots=True)
class Signed(Made):
    """What was signed, for the one who did."""

    lines: tuple[str, ...] = ()


def sign_here(asked: Task, watch: Watch) -> Made:  # noqa: ARG001 - nothing is told of it
    """Sign as ``mixlint sign`` does."""
    from datetime import date

    from mixlint.media.workers import cores
    from mixlint.review.run import ChecklistRun
    from mixlint.rulebook import load_standard
    from mixlint.runs.signing import sign
    from mixlint.signoffs.create import Wish

    line: WantedLine = asked.arguments["line"]
    run = ChecklistRun(load_standard(asked.standard, asked.path), date.today())
    wish = Wish(line.rule, line.because.strip(), line.by, run.day, line.on, line.until, line.scope, line.answer)  # type: ignore[arg-type]  # checked where it came in
    return Signed(lines=tuple(sign(asked.path, run, wish, audio=line.audio, workers=cores()).lines()))
