"""Berths: where on the quay a part was recorded, as the house writes it into comments (``berth B4``)."""

from __future__ import annotations

import re
from typing import Final

from mixlint.facts import Facts, Row
from mixlint.session import Channel

MIXLINT_INTERFACE: Final = 1

BERTHS: Final[Facts[Channel]] = Facts("channel")


@BERTHS.fact("number", "How many berths its comment names.")
def berths_named(row: Row[Channel]) -> int:
    return len(re.findall(r"\bberth [A-Z]\d+\b", row.item.comment))
