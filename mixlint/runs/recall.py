"""What was kept of sessions that nothing happened to: by which name, and made into what a run tells of them."""

from __future__ import annotations

import json
import os
from collections.abc import Sequence
from contextlib import suppress
from datetime import date
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from mixlint.errors import Fault
from mixlint.media.sealed import Misfit
from mixlint.runs.kept import FOLDER, Entry, Looked, Span, fetch, keep, plain_told, still, tidied, told_of
from mixlint.runs.part_review import PartMade, Wanted

if TYPE_CHECKING:
    from mixlint.review.findings import Passed, SessionReview
    from mixlint.runs.witness import Leaf

_SAID: Final = ("unfitted", "unread", "passing")
_DECIDES: Final = ("audio", "areas", "only", "leave_out", "hold_on", "printed", "everything")


class Keeping(NamedTuple):
    """Where reviews are kept in a run, and by what they are known.

    Args:
        folder: the folder.
        state: the program and all that is installed beside it.
        baseline: the hash of the file that reviews are held against; empty where there is none.
    """

    folder: Path
    state: str
    baseline: str = ""

    def review(self, wanted: Wanted, session: Path, *, passed: bool) -> Path:
        """The entry of a session's review, with or without the names of its clear rows."""
        return self.folder / f"{self._key(wanted, session, passed)}.review"

    def part(self, wanted: Wanted, session: Path) -> Path:
        """The entry of a session's part of the document that is asked for."""
        folder = None if wanted.folder is None else os.path.abspath(wanted.folder)
        page = (wanted.page.width, wanted.page.weights, wanted.page.colours)
        laid = (page, wanted.why, wanted.assumptions, wanted.quiet) if wanted.form == "text" else ()
        form = (wanted.form, folder, laid, wanted.everything)
        return self.folder / f"{self._key(wanted, session, form)}.part"

    def _key(self, wanted: Wanted, session: Path, *more: object) -> str:
        named = [wanted.standard, wanted.check.get("printed"), wanted.baseline]
        near = [os.getcwd() for one in named if one is not None and not os.path.isabs(one)][:1]
        asked = [wanted.check.get(one) for one in _DECIDES]
        what = [self.state, self.baseline, os.path.abspath(session), str(session), named, near, asked, more]
        return sha256(json.dumps(what, default=str).encode("ascii")).hexdigest()


def keeping_for(baseline: Path | None) -> Keeping | None:
    """Where reviews are kept; None where they are not.

    Args:
        baseline: the file that reviews are held against.
    """
    from mixlint.media.cache_folder import cache_folder
    from mixlint.runs.state import state
    from mixlint.runs.witness import content_of

    folder = cache_folder()
    made_by = None if folder is None or os.name == "nt" else state()
    if folder is None or made_by is None:
        return None
    content = "" if baseline is None else content_of(str(baseline))
    return None if baseline is not None and not content else Keeping(folder / FOLDER, made_by, content)


class Recalled:
    """The sessions of a run of which nothing changed since they were reviewed.

    Args:
        keeping: where reviews are kept; None where they are not.
        wanted: what is asked about each.
        sessions: the sessions.
    """

    def __init__(self, keeping: Keeping | None, wanted: Wanted, sessions: Sequence[Path]) -> None:
        self._keeping = keeping
        self._wanted, self._sessions = wanted, sessions
        looked = Looked(date.today())
        known = () if keeping is None else enumerate(sessions)
        self.known = frozenset(
            at for at, one in known if keeping is not None and still(keeping.part(wanted, one), looked)
        )

    def part(self, at: int) -> PartMade | None:
        """What was kept of one of them; None where it cannot be believed after all."""
        assert self._keeping is not None
        entry = fetch(self._keeping.part(self._wanted, self._sessions[at]), leaves=False)
        if entry is None:
            return None
        try:
            return PartMade(told=told_of(entry), text=entry.text, **_said(entry.plain))
        except Misfit:
            return None

    def end(self) -> None:
        """Tidy the folder where something was added."""
        if self._keeping is not None and len(self.known) < len(self._sessions):
            with suppress(OSError):
                tidied(self._keeping.folder)


# --- where a session is reviewed


class Before(NamedTuple):
    """A review as it was kept."""

    entry: Entry
    result: SessionReview
    passed: tuple[Passed, ...] | None
    said: dict[str, Any]


def review_before(keeping: Keeping, wanted: Wanted, session: Path) -> Before | None:
    """The review of a session that nothing happened to since, made for another form; None where there is none."""
    from pydantic import ValidationError

    from mixlint.review.findings import Passed, SessionReview
    from mixlint.runs.paths import shown

    if wanted.check.get("pictures"):  # drawings are not kept apart from their page
        return None
    named = bool(wanted.check.get("clear_named"))
    for passed in (True,) if named else (False, True):
        place = keeping.review(wanted, session, passed=passed)
        if not still(place, Looked(date.today())) or (entry := fetch(place)) is None:
            continue
        review, _, rows = entry.text.partition("\n")
        try:
            result = SessionReview.model_validate_json(review)
            said = _said(entry.plain)
            clear = tuple(Passed(*one) for one in json.loads(rows)) if named else None
        except (ValidationError, ValueError, TypeError, Misfit, RecursionError):
            continue
        if result.source == shown(session):
            return Before(entry, result, clear, said)
    return None


def keep_review(
    keeping: Keeping, wanted: Wanted, session: Path, made: PartMade, result: SessionReview,
    passed: tuple[Passed, ...] | None, leaves: tuple[Leaf, ...], span: Span,
) -> None:  # fmt: skip
    """Keep a review, for other forms."""
    text = f"{result.model_dump_json()}\n{json.dumps(passed or [])}"
    place = keeping.review(wanted, session, passed=passed is not None)
    with suppress(OSError):
        keep(place, Entry(leaves, span, _plain(made), text))


def keep_part(
    keeping: Keeping, wanted: Wanted, session: Path, made: PartMade, leaves: tuple[Leaf, ...], span: Span
) -> None:
    """Keep the part of a session."""
    told, text = made.part
    with suppress(OSError):
        keep(keeping.part(wanted, session), Entry(leaves, span, {**_plain(made), "told": plain_told(told)}, text))


def _plain(made: PartMade) -> dict[str, Any]:
    lists = {one: list(getattr(made, one)) for one in _SAID}
    return {**lists, "standard": made.standard, "notices": [list(one) for one in made.notices]}


def _said(plain: dict[str, Any]) -> dict[str, Any]:
    """What a run says of a session besides, held to what it can be."""
    said: dict[str, Any] = {}
    for one in _SAID:
        texts = plain.get(one)
        if not isinstance(texts, list) or not all(isinstance(text, str) for text in texts):
            raise Misfit("it says nothing of the kind")
        said[one] = tuple(texts)
    notices = plain.get("notices")
    if not isinstance(notices, list) or not isinstance(plain.get("standard"), str):
        raise Misfit("it names no standard")
    if not all(isinstance(one, list) and len(one) == 4 and all(isinstance(p, str) for p in one) for one in notices):
        raise Misfit("its notices are none")
    return {**said, "standard": plain["standard"], "notices": tuple(Fault(*one) for one in notices)}
