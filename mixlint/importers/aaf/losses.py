"""What an AAF cannot carry, apart from what reads it: the table of forms asks for it without the extra."""

from __future__ import annotations

from typing import Final

from mixlint.session import Gap

FORM: Final = "this AAF"
"""What reasons call it: most of what one lacks another may have."""

CARRIES: Final[tuple[Gap, ...]] = ("automation", "clips", "levels", "pans", "mutes", "solos")
"""Mutes and solos where the exporter writes them beside the specification; a file says which of these it leaves out."""

LOSES: Final = (
    "An AAF has no outputs and no groups: what a group does to its members is not in it.",
    "It has no sends and returns, no inserts, equalizers or dynamics: no ambience is in it but what is recorded.",
    "It has no tempo.",
)
