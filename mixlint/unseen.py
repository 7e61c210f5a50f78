"""Characters that a reader of a text does not see, or that show it in another order than it has."""

from __future__ import annotations

import re
from typing import Final

JOINERS: Final = "\u200c\u200d"
"""Parts of ordinary writing in Persian, in the scripts of India and in signs that are made of several."""
VARIANTS: Final = r"\u180b-\u180d\u180f\ufe00-\ufe0f\U000e0100-\U000e01ef"
"""Which form of the character before is meant. As all that follows, it stands inside of a class of characters."""
CONTROLS: Final = r"\x00-\x1f"
"""The C0 controls, of which a text of several lines has line feeds."""
HIDDEN: Final = (
    r"\x7f-\x9f\xad\u034f\u0600-\u0605\u061c\u06dd\u070f\u0890\u0891\u08e2\u115f\u1160\u17b4\u17b5\u180e"
    r"\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f\u3164\ud800-\udfff\ufdd0-\ufdef\ufeff\uffa0\ufff0-\ufffb\ufffe\uffff"
    r"\U000110bd\U000110cd\U00013430-\U0001343f\U0001bca0-\U0001bca3\U0001d173-\U0001d17a\U000e0000-\U000e00ff"
    r"\U000e01f0-\U000e0fff" + "".join(rf"\U{plane:04x}fffe\U{plane:04x}ffff" for plane in range(1, 17))
)
"""The categories Cc, Cf, Cs, Zl and Zp of the Unicode Character Database, what else it lets a display leave out
(Default_Ignorable_Code_Point), and noncharacters, but for the above; ``tests/naming`` holds the tables against the
module unicodedata."""
BLANK: Final = r"\u2800\ue000-\uf8ff\U000f0000-\U000ffffd\U00100000-\U0010fffd"
"""What looks like nothing, or like whatever a font makes of it: the blank of Braille, and characters of private use."""

UNSEEN: Final = re.compile(f"[{CONTROLS}{HIDDEN}{JOINERS}{VARIANTS}]")
"""Every unseen character; none of them is written as it is into a file that a reader has to be able to trust."""

MISLEADING: Final = re.compile(f"[{CONTROLS}{HIDDEN}]")
"""Unseen characters that no spelling needs: none of them is believed where such a file is read."""


def with_unseen_escaped(text: str) -> str:
    r"""A text in which unseen characters stand as JSON and TOML have them: ``\u202e``, two of them past U+FFFF.

    Args:
        text: what stands between quotes, or a whole text in which unseen characters can stand nowhere else.
    """
    return text if text.isascii() and text.isprintable() else UNSEEN.sub(lambda found: _escape(found[0]), text)


def named_unseen(char: str) -> str:
    """What a character is called where it is told of: ``U+202E``."""
    return f"U+{ord(char):04X}"


def _escape(char: str) -> str:
    units = char.encode("utf-16-be", "surrogatepass")
    return "".join(f"\\u{units[at] << 8 | units[at + 1]:04x}" for at in range(0, len(units), 2))
