"""What an AAF cannot carry, apart from what reads it: the table of forms asks for it without the extra."""

from __future__ import annotations

from typing import Final

LOSES: Final = (
    "An AAF shows no sends, returns, groups or outputs.",
    "It shows no inserts, equalizers or dynamics.",
    "It shows no tempo.",
)
