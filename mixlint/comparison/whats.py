"""What a change can touch; in a file of its own, since every review reads the words and few need the rest."""

from __future__ import annotations

from typing import Literal, get_args

What = Literal[
    "channel", "name", "level", "pan", "mute", "solo", "output", "send", "insert", "clip", "audio", "automation",
    "tempo",
]  # fmt: skip
"""What a change touches, in the order a reader is told."""

WHATS: tuple[str, ...] = get_args(What)
