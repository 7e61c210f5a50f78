"""Which names in a house's standard fit nothing in a session: often a slip of the pen, and in force unseen."""

from __future__ import annotations

from mixlint.analysis.house import House
from mixlint.importers.registry import shown_by
from mixlint.naming import fits_pattern
from mixlint.session import Session


def unfitted_patterns(session: Session, house: House) -> tuple[str, ...]:
    """The name patterns of a house that fit no name in a session, with their headings: ``[roles] "Marigold*"``.

    Where the session does not show all its inserts, nothing is told of the names of processors.
    """
    channels = [channel.name for channel in session.channels]
    told = [("roles", one, channels) for one in house.roles]
    told += [("intent", one, channels) for one in (*house.parallel, *house.cue)]
    hidden = "inserts" not in shown_by(session) or any("inserts" in one.missing for one in session.channels)
    if not hidden:
        inserts = [insert.name for channel in session.channels for insert in channel.inserts]
        told += [("processors", one, inserts) for one in house.processors]
    unfitted = [
        f'[{heading}] "{pattern}"'
        for heading, pattern, names in told
        if not any(fits_pattern(name, pattern) for name in names)
    ]
    return tuple(dict.fromkeys(unfitted))


def nowhere(each: list[tuple[str, ...]]) -> tuple[str, ...]:
    """Those that fit nothing in any of several sessions.

    Args:
        each: what :func:`unfitted_patterns` gave for each session.
    """
    return tuple(one for one in next(iter(each), ()) if all(one in others for others in each))
