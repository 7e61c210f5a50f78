"""A page of several sessions around their parts, written of what is told of each; nothing heavy is imported for it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Any, Final

from markupsafe import Markup, escape

from mixlint.reports.few_words import CAUTION, SHORT
from mixlint.reports.page.environment import rendered
from mixlint.reports.pictures.picture import Picture, Words
from mixlint.reports.plain import markup_without_orders, neutral
from mixlint.reports.several import Told, sessions_said

_HOLE: Final = "\x00here\x00"
"""Where the parts of a page go; no text of a session holds these characters."""

CAUTIONED: Final = f'<p class="caution">{escape(CAUTION)}</p>'


def around(told: Sequence[Told], opens: Sequence[str], version: str) -> tuple[str, str]:
    """What stands before and behind the parts of a page of several sessions.

    Args:
        told: what is known of each.
        opens: what opens the anchors of each.
        version: mixlint's own.
    """
    sessions = [
        {"told": one, "number": number, "opens": at}
        for number, (one, at) in enumerate(zip(told, opens, strict=True), 1)
    ]
    drawn = sorted({name for one in told for name in one.drawn})
    page = rendered(
        "page.html.j2",
        (Picture(name, "", "", None, Words((), ())) for name in drawn),
        scripted=True,
        back="",
        hole=Markup(_HOLE),
        many=sessions_said(len(told)),
        **of_all(sessions, version),
        SHORT=SHORT,
    )
    head, _, tail = page.partition(f"{_HOLE}\n")
    return head, tail


def label(text: str) -> str:
    """What a session is called in the labels of its parts."""
    return markup_without_orders(str(escape(neutral(text))))


def of_all(sessions: list[dict[str, Any]], version: str) -> dict[str, Any]:
    """What a page of several says before the first of them."""
    met = Counter(one["told"].outcome for one in sessions)
    return {
        "version": version,
        "caution": "",
        "sessions": sessions,
        "by_outcome": [s for outcome in SHORT for s in sessions if s["told"].outcome == outcome],
        "tally": [f"{number} {SHORT[outcome]}" for outcome in SHORT if (number := met[outcome])],
    }
