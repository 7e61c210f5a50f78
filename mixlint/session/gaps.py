"""What a form, or one export, leaves out altogether: its kinds in an engineer's words, and why a value is not known."""

from __future__ import annotations

from typing import Final, Literal, get_args

from mixlint.session.maybe import Unknown

Gap = Literal["outputs", "sends", "groups", "automation", "inserts", "clips", "levels", "pans", "mutes", "solos"]
"""A kind of thing that a session holds and an export does not, for all the importer can see."""

GAPS: Final[tuple[Gap, ...]] = get_args(Gap)

GAP_WORDS: Final[dict[Gap, str]] = {
    "outputs": "outputs",
    "sends": "sends",
    "groups": "groups",
    "automation": "automation",
    "inserts": "processors",
    "clips": "clips or playing times",
    "levels": "faders",
    "pans": "pans",
    "mutes": "mutes",
    "solos": "solos",
}
"""What each kind is called for a reader, in the order a strip is read."""

Held = Literal["inserts", "clips"]
"""The lists of a channel of which "none" and "not shown" have to be told apart: an empty one decides verdicts."""

FIELDS: Final[dict[Gap, str]] = {"levels": "fader_db", "pans": "pan", "mutes": "mute", "solos": "solo"}
"""The controls of a strip that are not known where a kind is left out; their defaults would pass for settings."""


def not_shown(kind: Gap, form: str) -> Unknown:
    """Why what a form leaves out is not known.

    Args:
        kind: what is left out.
        form: what was read, for a reader: ``a list of channels``; ``the export`` where it is empty.
    """
    words = GAP_WORDS[kind]
    return Unknown(unknown=f"{form or 'the export'} shows no {words}", settle=f"look at the {words} in the session")
