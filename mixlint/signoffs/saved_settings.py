"""What a sign-off rests on that nobody reads: the saved settings of the processors its row is about."""

from __future__ import annotations

from collections.abc import Iterator
from hashlib import sha256
from typing import Final

from mixlint.naming import fold_name
from mixlint.review.findings import Finding
from mixlint.session import Session, seen_inserts

LENGTH: Final = 24
"""Hexadecimal digits kept: 96 bits, as of the hash of a mix."""


def settings_hash(session: Session, finding: Finding, scope: str) -> str:
    """The hash of the saved settings that a row rests on; empty where there are none.

    A row about a processor rests on its settings, one about a return or the mix bus on those of all its processors, and
    so does a sign-off for a whole part that is about a processor. No other row rests on any: a pan does not, whatever
    sits on its channel.

    Args:
        session: the session under review.
        finding: the row.
        scope: what the sign-off covers.
    """
    if scope not in ("finding", "part"):
        return ""
    from mixlint.comparison.saved import saved_hash  # most sessions have no sign-offs

    found: list[str] = []
    for channel_id, place in _rests_on(session, finding, scope):
        channel = session.channel(channel_id)
        if channel is None:
            continue
        for number, insert in enumerate(seen_inserts(channel)):
            if place in (None, number) and (content := saved_hash(channel, number)):
                found.append(f"{fold_name(insert.name)} {content}")
    return sha256("\n".join(sorted(found)).encode("utf-8", "surrogatepass")).hexdigest()[:LENGTH] if found else ""


def _rests_on(session: Session, finding: Finding, scope: str) -> Iterator[tuple[str, int | None]]:
    """Channels, each with the place of the insert that is meant, or None where all of them are."""
    table = finding.subject.table
    if table == "insert":
        channel, _, place = finding.subject.id.rpartition(":")
        yield channel, int(place) if scope == "finding" else None
    elif table == "return":
        yield finding.subject.id, None
    elif table == "mix-bus":
        yield from ((channel.id, None) for channel in session.channels if channel.kind == "master")
