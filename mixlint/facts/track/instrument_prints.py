"""Which tracks that play by an instrument have an audio print beside them."""

from __future__ import annotations

import re
from typing import Final

from mixlint.analysis.activity import coverage, grid
from mixlint.analysis.context import SessionContext
from mixlint.analysis.media_use import in_play
from mixlint.session import Channel, Unknown

COVERED: Final = 0.9
"""How much of the notes' time the audio must cover to be their print."""

_PRINT: Final = re.compile(r"\b(?:print(?:ed)?|prt|bounced?|rendered|render|audio|freeze|frozen|stem)\b", re.I)


def _plain(name: str) -> str:
    """A name without the words that say it is a print, folded."""
    words = re.split(r"[\s_\-.()\[\]]+", _PRINT.sub(" ", name.replace("_", " ").casefold()))
    return " ".join(word for word in words if word)


def instrument_print(context: SessionContext, channel: Channel) -> str | Unknown | None:
    """The name of the channel whose audio is the print of this one's notes: itself or one of like name; or None.

    Muted prints count. Unknown where the export holds no note clips, so that nothing says where the notes play.
    """
    notes = [(c.start_s, c.end_s) for c in channel.clips if c.plays == "notes" and in_play(channel, c)]
    if not notes:
        return Unknown(
            unknown="the export does not show where its instrument plays", settle="look whether its audio is printed"
        )
    name = _plain(channel.name)
    edges = grid(context)
    meant = coverage(notes, edges)
    for other in context.session.channels:
        if other.id != channel.id and _plain(other.name) != name:
            continue
        # A print is often muted while its instrument still plays, so that muted clips count here.
        audio = [(c.start_s, c.end_s) for c in other.clips if c.plays == "audio"]
        if audio and float(coverage(audio, edges)[meant > 0.0].sum()) >= COVERED * float(meant.sum()):
            return context.name(other.id)
    return None
