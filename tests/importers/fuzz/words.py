"""Words and numbers that stand where others are expected, and damage to plain bytes."""

from __future__ import annotations

import struct
from random import Random
from typing import Final

WORDS: Final = (
    "", " ", "nan", "inf", "-inf", "null", "1e308", "-1e308", "1e-320", "0", "-0.0", "-1", "0.5", "2", "1e12", "1e999",
    "true", "false", "beats", "seconds", "linear", "decibel", "normalized", "percent", "semitones", "hertz", "audio",
    "m", "t0", "t:t0", "r0", "g", "master", "effect", "submix", "vca", "regular", "hold", "pre", "post", "gain",
    "../../x.wav", "C:\\x.wav", "a\\b.wav", "/etc/x", "a/" * 40, "x" * 3000, "highPass", "tracks",
    "99999999999999999999", "-9223372036854775808", "4294967295", "0x7f", "1_000", "1,5", "--3", "١٢", "½", "∞", "-∞",
    "\u200b", "\u202e", "é\u0301", "\U0001f3b8", "\ufeff", "\ufffd", "L100", "100:0", "Out 1-2", "-inf dB", "=1+1",
    "#REF!", "12:34:56.789", "00:00:01.00000S48000", "99:99", "\t", "\n", "'", '"', "<", "&", "]]>", "%s", "{}",
)  # fmt: skip

NUMBERS: Final = (
    0, 1, -1, 2, 3, 0.5, -0.5, -0.0, 100, -100, 101, 200, -200, -201, 1e-9, 1e-320, 1e6, 1e12, 1e17, 1e300, 1.7e308,
    -1.7e308, 5e-324, 127, 128, 255, 256, 32767, 32768, 65535, 65536, 2**31 - 1, 2**31, 2**32 - 1, 2**53 + 1, 2**63,
    -(2**63), 10**40, float("inf"), float("-inf"), float("nan"),
)  # fmt: skip

_WHOLE: Final = (0, 1, 2, 3, 4, 7, 8, 0x7F, 0x80, 0xFF, 0x7FFF, 0x8000, 0xFFFF, 0x7FFFFFFF, 0x80000000, 0xFFFFFFFE,
                 0xFFFFFFFF, 1 << 40, (1 << 63) - 1, 1 << 63, (1 << 64) - 1)  # fmt: skip

ENCODINGS: Final = ("utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32", "cp1252", "latin-1", "cp1250",
                    "shift_jis", "koi8-r", "utf-7", "cp037")  # fmt: skip


def word(chance: Random) -> str:
    """A word that is likely to be wrong."""
    kind = chance.random()
    if kind < 0.8:
        return chance.choice(WORDS)
    if kind < 0.9:
        return repr(chance.choice(NUMBERS))
    return "".join(chr(chance.choice((chance.randrange(32, 127), chance.randrange(0xA0, 0xD7FF)))) for _ in range(6))


def whole(chance: Random, width: int, order: str = "<") -> bytes:
    """A whole number of 1, 2, 4 or 8 bytes at an edge of what it can hold, or near nothing."""
    top = (1 << 8 * width) - 1
    value = chance.choice(_WHOLE) if chance.random() < 0.8 else chance.randrange(top + 1)
    return struct.pack(order + {1: "B", 2: "H", 4: "I", 8: "Q"}[width], value & top)


def tear(data: bytes, chance: Random, most: int = 8) -> bytes:
    """Bits turned, bytes lost, put in, doubled or moved, numbers of the machine put over others, the end cut off."""
    text = bytearray(data)
    for _ in range(chance.choice([one for one in (1, 1, 2, 4, 8, 50) if one <= most])):
        if not text:
            break
        at = chance.randrange(len(text))
        kind = chance.randrange(9)
        length = chance.choice((1, 2, 4, 16, 200))
        if kind <= 1:
            text[at] ^= 1 << chance.randrange(8)
        elif kind == 2:
            del text[at : at + length]
        elif kind == 3:
            text[at:at] = chance.randbytes(min(length, 16))
        elif kind <= 5:
            width = chance.choice((1, 2, 4, 8))
            text[at : at + width] = whole(chance, width, chance.choice("<>"))
        elif kind == 6:
            text[at:at] = text[at : at + length]
        elif kind == 7:
            other = chance.randrange(len(text))
            text[at : at + length], text[other : other + length] = (
                text[other : other + length], text[at : at + length],
            )  # fmt: skip
        elif chance.random() < 0.3:
            del text[at:]
    return bytes(text)


def encode(text: str, chance: Random, odd: float = 0.3) -> bytes:
    """A text in UTF-8, or in an encoding of another kind, not always as it says."""
    code = chance.choice(ENCODINGS) if chance.random() < odd else "utf-8"
    return text.encode(code, chance.choice(("replace", "ignore")))
