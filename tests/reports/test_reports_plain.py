"""What no output holds, and what it goes on showing: held against Unicode's own tables."""

from __future__ import annotations

import json
import sys
import unicodedata

import pytest
from hostile import NASTY, ORDERS, SEEN_JOINED, faults
from hypothesis import given, settings
from hypothesis import strategies as st

from mixlint.reports.json import plain_json
from mixlint.reports.plain import MOST, json_without_orders, markup_without_orders, neutral, without_orders


@pytest.mark.slow
def test_nothing_unseen_passes() -> None:
    """Every character of Cc, Cf, Zl, Zp, Cs and Co, every noncharacter (Unicode 15, table 2-3), and the selectors."""
    more = {*range(0xFE00, 0xFE10), *range(0xE0000, 0xE1000), 0x34F, 0x115F, 0x1160, 0x3164, 0xFFA0, 0x2800}
    for code in range(sys.maxunicode + 1):
        char = chr(code)
        if (
            unicodedata.category(char) in ("Cc", "Cf", "Zl", "Zp", "Cs", "Co")
            or code & 0xFFFE == 0xFFFE
            or 0xFDD0 <= code <= 0xFDEF
            or code in more
        ):
            said = neutral(f"a{char}b")
            assert len(said) == 3, f"U+{code:04X}"
            assert char not in said, f"U+{code:04X}"


@pytest.mark.parametrize("name", [*SEEN_JOINED, "Bänjo 渡邉", "שלום", "गिटार", "🇩🇪 Choir", "葛\U000e0100城"])
def test_spelling_stays(name: str) -> None:
    """Joiners of Persian and Hindi, pictures joined or shown in colour, a CJK name with its registered variant."""
    assert neutral(name) == name


@pytest.mark.parametrize(
    "name",
    ["a\u200db", "🎤\u200db", "م\u200c\u200cم", "a\ufe0f", "🎤\ufe0f\ufe0f", "葛\U000e0100\U000e0101", "م\u200c b"],
)
def test_what_hides_is_shown(name: str) -> None:
    """A joiner that joins nothing, two where one would do, and selectors that select nothing."""
    assert "\ufffd" in neutral(name)


def test_a_text_that_nobody_reads_is_cut() -> None:
    assert neutral("x" * 100_000) == "x" * MOST + "… (100,000 characters)"


PARTS = (*ORDERS, *NASTY, "\n", "\t", " ", "a", "::", "#", "[", "\u3000", "\x1b[1m", "\ufeff")


@pytest.mark.slow
@settings(max_examples=50)
@given(st.lists(st.sampled_from(PARTS)))
def test_no_order_is_left(parts: list[str]) -> None:
    """Of one name, and of a text of several lines that something was put into as it stood."""
    raw = "".join(parts)
    assert not faults(without_orders(neutral(raw)))
    assert not faults(without_orders(raw).replace("\x1b[1m", ""), spreadsheet=True)
    said = "\n".join(map(neutral, raw.split("\n")))
    assert without_orders(without_orders(said)) == without_orders(said)
    assert not faults(markup_without_orders(said))
    assert json.loads(plain_json([raw])) == [raw]
    assert not faults(plain_json([raw]))
    assert json_without_orders('"Kick # 1"') == '"Kick # 1"'


def test_what_is_no_order_stays() -> None:
    """Two colons within a name, and number signs without a bracket."""
    for text in ("Vocals::Lead", "Take #3 [best]", "## 2", "a: b"):
        assert without_orders(neutral(text)) == text
