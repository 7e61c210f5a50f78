"""What a review rests on, as the one who asks sees it, to be held against what a worker elsewhere sees.

A folder that a machine does not share is no missing session, and an older standard on it is no other verdict: both are
told.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.errors import InputError, MixlintError
from mixlint.runs.witness import content_of, names_in, seen_at, settled, stamp_of

if TYPE_CHECKING:
    from mixlint.runs.witness import Leaf

NOTHING: Final = "nothing"
SHARE: Final = "put it into a folder that all workers see under the same path, and name it by that path"


class Mark(NamedTuple):
    """One thing that a worker has to see as the one who asks does.

    Args:
        kind: ``seen``, ``file``, ``folder``, as of :class:`mixlint.runs.witness.Leaf`; ``standard`` for the
            file that is found to be in force.
        path: the place; of a standard the name that was given, or nothing.
        what: what stands there.
    """

    kind: str
    path: str
    what: str


class Marks:
    """Tells what has to be alike for a session; a standard is looked at once for all that share it."""

    def __init__(self) -> None:
        self._standards: dict[Path, tuple[Mark, ...]] = {}

    def of(
        self, session: Path, standard: str | None, baseline: Path | None = None, printed: Path | None = None
    ) -> tuple[Mark, ...]:
        """The marks of a session.

        Args:
            session: the session.
            standard: the standard as it was named.
            baseline: the file that it is held against.
            printed: the print that was named.
        """
        looked = [os.path.abspath(one) for one in (session, printed) if one is not None]
        found = [Mark("seen", path, seen_at(path)) for path in looked]
        if baseline is not None:
            found.append(Mark("file", os.path.abspath(baseline), content_of(str(baseline))))
        with suppress(MixlintError):  # what is wrong with it is told where the session is reviewed
            found += self._of_standard(session, standard)
        with suppress(MixlintError):
            found += _beside(session)
        return tuple(found)

    def _of_standard(self, session: Path, named: str | None) -> Iterator[Mark]:
        from mixlint.rulebook import find_standard
        from mixlint.runs.each_apart import standard_of
        from mixlint.runs.witness import Witness

        place = find_standard(named, session)
        told = _told(place)
        yield Mark("standard", named or "", told)
        if told != str(place):
            return
        if place not in self._standards:
            with Witness() as own:
                standard_of(named, session)
            files = (Mark("file", one, content_of(one)) for one in own.opened)
            self._standards[place] = (*files, *(Mark("folder", one, names_in(one)) for one in own.listed))
        yield from self._standards[place]


def _told(standard: Path) -> str:
    """A standard's file; of one that comes with mixlint or with an installed package its name: it is there as well."""
    from mixlint import resources
    from mixlint.extensions import whereabouts

    along = [str(resources.folder("rules")), *(place for _, _, place in whereabouts() if place)]
    return standard.stem if any(standard.is_relative_to(one) for one in along) else str(standard)


def _beside(session: Path) -> Iterator[Mark]:
    from mixlint.comparison.paths import approval_path
    from mixlint.signoffs.paths import signoff_files

    for one in (*signoff_files(session), approval_path(session)):
        path = os.path.abspath(one)
        if os.path.exists(path):
            yield Mark("file", path, content_of(path))


def check_alike(marks: tuple[Mark, ...], session: Path, machine: str) -> None:
    """Hold what is seen here against the marks.

    Args:
        marks: what the one who asks sees.
        session: the session.
        machine: how this machine is told of.

    Raises:
        InputError: something is not there, or differs.
    """
    from mixlint.rulebook import find_standard

    look = {"seen": seen_at, "file": content_of, "folder": names_in}
    for mark in marks:
        if mark.kind == "standard":
            here = _told(find_standard(mark.path or None, session))
            if here != mark.what:
                raise InputError(
                    f"{machine} finds another standard for it: {here} and not {mark.what}",
                    where=str(session),
                    do=f"name one with --standard, or {SHARE}",
                )
            continue
        found = look[mark.kind](mark.path)
        if found == mark.what:
            continue
        if not os.path.lexists(mark.path):
            raise InputError(f"{machine} does not see {mark.path}", where=str(session), do=SHARE)
        raise InputError(
            f"{machine} sees another {mark.path} than this machine",
            where=str(session),
            do=f"{SHARE}; where it was changed just now, run it again",
        )


def seen_otherwise(leaves: tuple[Leaf, ...], session: Path) -> str:
    """The first place of a session that a worker saw otherwise than this machine does; empty where there is none."""
    top = os.path.abspath(session)
    is_folder = os.path.isdir(top)
    tree = (top if is_folder else os.path.dirname(top)) + os.sep
    for leaf in leaves:
        if not f"{leaf.path}{os.sep}".startswith(tree):
            continue
        if leaf.kind == "seen":
            same = seen_at(leaf.path) == leaf.what
        elif leaf.kind == "folder":  # what lies beside a file is looked at by name, and may come and go meanwhile
            same = not is_folder or names_in(leaf.path) == leaf.what
        else:
            now = stamp_of(leaf.path)
            same = bool(now) and (not leaf.stamp or now[2] == leaf.stamp[2])
        if not same:
            return leaf.path
    return ""


def ours(leaves: tuple[Leaf, ...]) -> tuple[Leaf, ...]:
    """The leaves of a worker with the stamps of this machine, where nothing but the number of the device differs."""
    return tuple(leaf if leaf.kind == "seen" else leaf._replace(stamp=_our_stamp(leaf)) for leaf in leaves)


def _our_stamp(leaf: Leaf) -> tuple[int, ...]:
    now = stamp_of(leaf.path)
    return settled(now) if now and now[1:] == leaf.stamp[1:] else ()
