"""Names a reader types that must be among known ones, with a suggestion when they are not."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mixlint.errors import MixlintError, suggestion

if TYPE_CHECKING:
    from mixlint.session import Channel, Session


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
