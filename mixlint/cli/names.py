"""Names a reader types that must be among known ones, with a suggestion when they are not."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from mixlint.errors import MixlintError

if TYPE_CHECKING:
    from mixlint.session import Channel, Session


def suggestion(typed: str, known: Iterable[str]) -> str:
    """The known name nearest to ``typed``, or nothing."""
    import difflib

    folded = {name.casefold(): name for name in known}
    near = difflib.get_close_matches(typed.casefold(), folded, n=1)
    return folded[near[0]] if near else ""


def known_or_complain(typed: str, known: Iterable[str], where: str, what: str, standard: str) -> None:
    """Check that ``typed`` is one of ``known``.

    Raises:
        MixlintError: it is not.
    """
    names = sorted(known)
    if typed in names:
        return
    near = suggestion(typed, names)
    do = f"perhaps {near} is meant" if near else f"choose one of {', '.join(names)}" if len(names) < 20 else ""
    raise MixlintError(
        f"the standard {standard} has no {what} called {typed!r}",
        where=where,
        do=do or "see the list that mixlint rules gives",
    )


def channel_called(session: Session, typed: str, where: str) -> Channel:
    """The channel with this id, else the one with this name, capitals and spaces aside.

    Raises:
        MixlintError: there is none, or several share the name.
    """
    from mixlint.naming import fold_name

    by_id = session.channel(typed)
    if by_id is not None:
        return by_id
    found = [c for c in session.channels if c.name == typed] or [
        c for c in session.channels if fold_name(c.name) == fold_name(typed)
    ]
    if len(found) == 1:
        return found[0]
    if found:
        ids = ", ".join(c.id for c in found)
        raise MixlintError(f"{len(found)} channels are called {typed!r}", where=where, do=f"name one by its id: {ids}")
    near = suggestion(typed, [c.name for c in session.channels])
    raise MixlintError(
        f"no channel is called {typed!r}",
        where=where,
        do=f"perhaps {near} is meant" if near else "see the names that mixlint sheet gives",
    )
