"""A session watched: when it is looked at again, what is said while there is nothing to review, what stands at last."""

from __future__ import annotations

import time
from collections.abc import Callable
from contextlib import AbstractContextManager
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, NamedTuple, NoReturn, Protocol

from mixlint.comparison.paths import APPROVED
from mixlint.errors import BrokenFile, InputError, MixlintError, NotASession
from mixlint.importers import digest
from mixlint.importers.choosing import one_session_at
from mixlint.runs.each_apart import EachApart
from mixlint.runs.listening import Unwanted, Watch
from mixlint.signoffs.paths import ENDING
from mixlint.watching.looks import Known, Look, Looker
from mixlint.watching.reviewing import Wanted, Watched, watch_here
from mixlint.watching.waking import AGAIN_S, Waking

if TYPE_CHECKING:
    from mixlint.reports.plain import Page
    from mixlint.review.findings import SessionReview
    from mixlint.session import Session
    from mixlint.watching.since import SinceLast

SETTLE_S: Final = 0.15
"""How long nothing may change before a session is read, seconds: editors write twice, exporters in pieces."""
MOST_SETTLE_S: Final = 10.0
"""When one that goes on changing is read all the same, seconds."""
TOLD_S: Final = 1.0
"""When it is told that one waits for a session to be whole, seconds."""
QUICK_S: Final = 0.5
"""When a review has taken so long, seconds, the session is shown without its sound; and the next exports at once."""
FIRST_S: Final = 3.0
"""The same for the first review, which waits for a process to start."""
MOST_REVIEWS: Final = 200
"""After so many reviews a process is replaced by a fresh one: a bound of what may have gathered in it."""

HEARING: Final = "The sound has not been heard yet: this shows what the settings tell, and is renewed when it has been."

WHY: Final = {
    "session": "exported anew",
    "audio": "audio changed",
    "standard": "the standard changed",
    "signed": "sign-offs changed",
    "day": "a new day",
}
"""Why a review was made, by what was another."""

_RECORDS: Final = (ENDING, APPROVED)
"""What files end in that lie beside a session and are no export."""


class Renewal(NamedTuple):
    """A review that stands now.

    Args:
        session: the session that the path stands for.
        head: when it stood, and why it was made.
        made: the review, as a text and a page.
        since: what became of the findings since the last export; None where there was none.
        unheard: its sound has not been heard yet.
        took_s: how long it took from when the session was read, seconds.
    """

    session: Path
    head: str
    made: Watched
    since: SinceLast | None
    unheard: bool
    took_s: float

    @property
    def result(self) -> SessionReview:
        """The review itself."""
        assert self.made.result is not None
        return self.made.result


class Onlooker(Protocol):
    """Whoever is told what becomes of a watched session."""

    def stands(self, renewal: Renewal) -> None:
        """A review stands."""

    def same(self, head: str, stands: Renewal) -> None:
        """The session was exported anew, and the review that stands is as it was."""

    def waits(self, said: str) -> None:
        """Nothing can be reviewed just now, and why; the last review stays."""

    def working(self, session: Path) -> AbstractContextManager[Watch]:
        """A review is being made; what is heard of it goes to the one that is given."""

    def page(self) -> Page:
        """How wide the text is."""


class _Working(Watch):
    """Passes on what is heard of a review, does something else in the meantime, and breaks it off for a newer one."""

    def __init__(self, to: Watch, meanwhile: Callable[[], None], stale: Callable[[], bool]) -> None:
        self._to, self._meanwhile, self._stale = to, meanwhile, stale
        self.watched = to.watched

    def was_read(self, session: Session, path: Path) -> None:
        self._to.was_read(session, path)

    def doing(self, what: str) -> None:
        self._to.doing(what)

    def unwanted(self) -> bool:
        self._meanwhile()
        return self._stale()


class Watcher:
    """Watches one session.

    Args:
        path: a session file, or a folder with one session or one set of stems in it.
        standard: the standard as it was named.
        check: the arguments of :func:`mixlint.runs.check.check`, but for the standard and the watch.
        html: the page is wanted too.
        assumptions: the text tells what the figures assume, one by one.
        minutes: when a review is stopped.
        onlooker: is told what becomes of it.

    Raises:
        MixlintError: the path stands for no session, or for several; or what tells of changes is not installed.
    """

    def __init__(
        self,
        path: Path,
        standard: str | None,
        check: dict[str, Any],
        *,
        html: bool,
        assumptions: bool,
        minutes: float,
        onlooker: Onlooker,
    ) -> None:
        self.session = one_session_at(path)
        self._path, self._standard, self._check, self._html, self._minutes = path, standard, check, html, minutes
        self._assumptions, self._to = assumptions, onlooker
        self._looker = Looker(path, standard, check.get("printed"))
        self._known = Known()
        self._waking = Waking()
        self._last: Renewal | None = None  # what stands
        self._heard: Renewal | None = None  # what stood last with its sound
        self._look: Look | None = None  # what the last review, or the last attempt at one, was made of
        self._before: SessionReview | None = None  # the export before, as it was last reviewed
        self._unheard: SessionReview | None = None  # the last export without its sound
        self._slow = False
        self._restless = False  # what the session hangs on went on changing
        self._standards = 0  # so often the standard was another
        self._said = ""
        self._count = 0

    def run(self) -> NoReturn:
        """Review the session at each export, until this program is stopped.

        Raises:
            MixlintError: the first review cannot be made, and no later export can mend that.
        """
        with (
            EachApart(self._minutes, task=watch_here) as quick,
            EachApart(self._minutes, task=watch_here) as full,
            self._waking,
        ):
            while True:
                look = self._settled()
                self._attempt(look, quick, full)
                while (now := self._now()) == self._look:
                    self._waking.over(now.folders())
                    self._waking.wait(AGAIN_S)

    # --- looking

    def _now(self) -> Look:
        return self._looker.look(self.session, self._known)

    def _settled(self) -> Look:
        """A look at the session when nothing changes any more, or where it goes on changing for too long."""
        begun = time.monotonic()
        seen = self._now()
        self._restless = False
        if self._look is None:
            return seen
        while (gone := time.monotonic() - begun) < MOST_SETTLE_S:
            time.sleep(SETTLE_S)
            now = self._now()
            if now == seen and (now.there or gone > TOLD_S):
                return seen
            seen = now
            if gone > TOLD_S:
                self._wait("waiting for the export to be whole: it is being written")
        self._restless = True
        return seen

    def _stale(self, look: Look) -> Callable[[], bool]:
        """Tells whether there is something newer than what was looked at."""
        looked = time.monotonic()

        def stale() -> bool:
            nonlocal looked
            if self._restless:  # something is written all the time, and no review would ever come to its end
                return False
            if not self._waking.woken and time.monotonic() - looked < AGAIN_S:
                return False
            self._waking.wait(0.0)
            looked = time.monotonic()
            return self._now() != look

        return stale

    # --- reviewing

    def _attempt(self, look: Look, quick: EachApart, full: EachApart) -> None:
        """Review what was looked at, and tell what came of it."""
        before, self._look = self._look, look
        changed = () if before is None else look.other(before)
        self._standards += "standard" in changed
        begun = time.monotonic()
        try:
            if not look.there:
                self._wait("the session is gone: waiting for it to come back")
            elif look.empty:
                self._wait("waiting for the export to be whole: the file is empty")
            else:
                self.session = one_session_at(self._path)
                self._review(look, changed, begun, quick, full)
        except Unwanted:
            return
        except BrokenPipeError:  # the reader of what is told went away: there is nobody to watch for
            raise
        except (MixlintError, OSError) as fault:
            if before is None and not isinstance(fault, BrokenFile):
                raise
            self._wait(self._told(fault))

    def _review(self, look: Look, changed: tuple[str, ...], begun: float, quick: EachApart, full: EachApart) -> None:
        if changed == ("session",) and self._is_as_it_was():
            self._same(changed)
            return
        held = self._held(changed)
        ahead = self._ahead(look, changed, begun, quick)
        with self._to.working(self.session) as heard:
            made = self._make(full, held, _Working(heard, ahead, self._stale(look)))
        self._slow = time.monotonic() - begun > QUICK_S
        if self._heard is not None and self._last is self._heard and self._heard.made.result == made.result:
            self._same(changed)
        else:
            self._before = held
            self._stand(made, changed, begun, unheard=False)
            self._heard = self._last
        self._know(made, look)

    def _ahead(self, look: Look, changed: tuple[str, ...], begun: float, quick: EachApart) -> Callable[[], None]:
        """Shows the session without its sound as soon as hearing it takes long; at once where it took long before.

        Both are under way together: whoever has two cores waits no longer for either.
        """
        done = not self._check.get("audio") or changed == ("audio",)
        after = 0.0 if self._slow else FIRST_S if self._heard is None else QUICK_S

        def show() -> None:
            nonlocal done
            if done or time.monotonic() - begun < after:
                return
            done = True
            try:
                made = self._make(quick, self._unheard, Watch(), unheard=True)
            except (MixlintError, OSError):  # the review that hears it meets the same, and tells it
                return
            if made.heard and (self._restless or self._now().same_as_far_as_told(look)):
                self._stand(made, changed, begun, unheard=True)
                if changed != ("signed",):
                    self._unheard = made.result

        return show

    def _held(self, changed: tuple[str, ...]) -> SessionReview | None:
        """What a review is held against: the last one, or that of the export before where only somebody signed."""
        if self._heard is None or changed == ("signed",):
            return self._before
        return self._heard.result

    def _is_as_it_was(self) -> bool:
        """The session was written anew, and is the same to the byte."""
        if self._last is None or self._last.unheard or self._said or self.session.is_dir():
            return False
        return digest(self.session) == self._last.result.digest

    def _make(self, apart: EachApart, before: SessionReview | None, watch: Watch, *, unheard: bool = False) -> Watched:
        self._count += 1
        if self._count % MOST_REVIEWS == 0:
            apart.stop()
        check = {**self._check, "audio": False} if unheard else self._check
        note = HEARING if unheard else ""
        wanted = Wanted(check, before, self._to.page(), self._html, note, self._standards, self._assumptions)
        made = apart.review(wanted.task(self.session, self._standard), watch)
        assert isinstance(made, Watched)
        return made

    def _stand(self, made: Watched, changed: tuple[str, ...], begun: float, *, unheard: bool) -> None:
        self._said = ""
        took_s = time.monotonic() - begun
        self._last = Renewal(self.session, _head(changed), made, made.since, unheard, took_s)
        self._to.stands(self._last)

    def _same(self, changed: tuple[str, ...]) -> None:
        self._said = ""
        assert self._heard is not None
        self._to.same(_head(changed), self._heard)

    def _know(self, made: Watched, look: Look) -> None:
        """Keep what the review found that the session hangs on, and look at that from now on."""
        known = Known(made.audio, made.standard)
        if known != self._known:
            self._known = known
            now = self._now()
            if now.same_as_far_as_told(look):  # else there is something newer to be reviewed
                self._look = now

    # --- telling

    def _wait(self, said: str) -> None:
        if said != self._said:
            self._said = said
            self._to.waits(said)

    def _told(self, fault: MixlintError | OSError) -> str:
        """What is wrong, and that it is waited for."""
        if isinstance(fault, OSError):
            return f"{self.session}: {fault.strerror or fault}. The last review stays until that is mended."
        if isinstance(fault, InputError) and not self.session.exists():
            return "the session is gone: waiting for it to come back"
        if isinstance(fault, BrokenFile | NotASession) and not fault.where.partition(", line")[0].endswith(_RECORDS):
            return f"waiting for the export to be whole: {fault.what}"
        return f"{fault}\nThe last review stays until that is mended."


def _head(changed: tuple[str, ...]) -> str:
    """When a review stands, and why it was made."""
    return ", ".join([f"{datetime.now():%H:%M:%S}", *(WHY[one] for one in changed)])
