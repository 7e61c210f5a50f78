"""A session whose every text is hostile, and what no output may hold, whatever its form."""

from __future__ import annotations

import re
import unicodedata
from pathlib import Path
from typing import Any

SCRIPT = Path(__file__).parents[2] / "mixlint" / "reports" / "page" / "templates" / "page.js"
"""The one script of the page."""

ORDERS = ("::set-output name=x::y", "##[error]x", "##vso[task.setvariable variable=a]b", "##service[message 'x']")
"""What runners of pipelines obey at the beginning of a line, or wherever it stands."""

NASTY = (
    "\x1b[2J\x1b[31m\x07\x9b1m",  # terminal sequences (ECMA-48)
    "\x1b]8;;https://evil.example\x07here\x1b]8;;\x07",  # a link of a terminal
    "\nheld\tforged line\r\n::set-output name=x::y",
    "\u2028::warning::y\u2029##[error]y\x0b\x0c\x85::debug::z",
    "\u202egnp.exe\u2066\u2069\u061c\u200e",
    "a\u00ad\u180e\u200b\u200c\u200d\u2060\u2064\ufeff\ufe0f\U000e0041\U000e007f\U000e0101\u3164\u2800\U000f0000b",
    "<script>alert(1)</script><img src=x onerror=alert(1)>\"' onload='x",
    "<a href='javascript:alert(1)'>x</a> [here](https://evil.example) {{ 7*7 }}",
    "]]>&amp;<!--",
    "=cmd|'/c calc'!A1;=1+1,@SUM(1)\t+1",
)
FIRST = ("", "=", "+", "-", "@", "\t=", "\r", " ::", "\u3000::", "\ufeff::")

SEEN_JOINED = ("می‌خواهم", "क्‍ष", "👩‍🎤 Lead", "❤️ Pad", "1️⃣ Kick", "👨🏽‍🎤")
"""Names whose joiners and selectors are spelling, and stay as they are."""


def name(number: int) -> str:
    """A hostile name; another for each number."""
    order = ORDERS[number % len(ORDERS)]
    return FIRST[number % len(FIRST)] + order + f" {number} " + NASTY[number % len(NASTY)] + order


def session_body() -> dict[str, Any]:
    """A session in the neutral form; every text in it that a user can type is hostile."""
    count = iter(range(1000))

    def said() -> str:
        return name(next(count))

    def part(number: int) -> dict[str, Any]:
        return {
            "id": f"::p{number}\u202e##[x]",
            "name": said(),
            "kind": "track",
            "legs": 1,
            "plays": ["audio"],
            "output": "mix",
            "comment": said(),
            "declared_role": said(),
            "folder": [said()],
            "solo": number == 0,
            "where": said(),
            "clips": [
                {"start_s": 1.0, "end_s": 9.0, "plays": "audio", "name": said(), "file": f"f{number}", "where": said()}
            ],
            "sends": [{"to": "hall", "level_db": -12.0, "id": said(), "where": said()}],
            "inserts": [
                {
                    "id": said(),
                    "name": said(),
                    "device": said(),
                    "where": said(),
                    "on": number % 2 == 0,
                    "parameters": [{"id": said(), "name": said(), "value": said(), "unit": said()}],
                },
            ],
        }

    parts = [part(number) for number in range(len(NASTY))]
    return {
        "format": "mixlint-session/1",
        "title": said(),
        "metadata": {said(): said()},
        "source": {"application": said(), "version": said(), "form": said()},
        "timeline": {"tempos": [{"bpm": 96.0}]},
        "markers": [{"time_s": 1.0, "name": said()}],
        "notes": [{"text": said(), "about": said()}, {"text": said(), "unread": True}, {"text": said(), "loses": True}],
        "media": [{"id": f"f{number}", "path": said()} for number in range(len(NASTY))],
        "channels": [
            *parts,
            {
                "id": "hall",
                "name": said(),
                "kind": "return",
                "legs": 2,
                "output": "mix",
                "inserts": [{"name": f"Reverb {said()}", "kind": "reverb", "wet": 50.0}],
            },
            {"id": "mix", "name": said(), "kind": "master", "legs": 2, "output": None},
        ],
    }


def faults(text: str, *, markup: bool = False, spreadsheet: bool = False) -> list[str]:
    """What of an output a terminal, a runner or a spreadsheet would obey, or nobody would see; nothing is right.

    What is asked here is asked of the categories of Unicode and of lines as ``str.splitlines`` finds them, and not of
    the expressions that the reports are made safe with. The page's own script is known by every character of it.
    """
    found = []
    text = text.replace(f"<script>{SCRIPT.read_text(encoding='utf-8')}</script>", "", 1)
    for char in set(text) - {"\n"}:
        code = ord(char)
        unseen = unicodedata.category(char) in ("Cc", "Cf", "Zl", "Zp", "Cs", "Co") or code & 0xFFFE == 0xFFFE
        if unseen and not (char == "\t" and spreadsheet):
            found.append(f"U+{code:04X}")
    found += [f"order: {line[:60]!r}" for line in text.splitlines() if line.lstrip().startswith(("::", "##["))]
    found += [f"order: {one!r}" for one in re.findall(r"##\w*\[", text)]
    if markup:
        bare = re.sub('="[^"<>]*"', "", text)  # what an attribute says is a text too
        found += re.findall(r"<script|javascript:[^ ]*['\"]>", text) + re.findall(r"<[^>]* on\w+=", bare)
    return found
