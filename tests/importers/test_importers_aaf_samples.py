"""AAFs that nobody here wrote, in the folder that MIXLINT_AAF names; skipped where there is none.

They are held against a plain walk through their sequences, written apart from the importer: it knows sequences,
transitions and what wraps one clip, and takes lengths for what they are.
"""

from __future__ import annotations

import os
from fractions import Fraction
from pathlib import Path
from typing import Any

import aaf2
import pytest

from mixlint import importers
from mixlint.errors import NotASession
from mixlint.importers.native import parse

FOLDER = os.environ.get("MIXLINT_AAF", "")
SOUND = {"01030202-0200-0000-060e-2b3404010101", "78e1ebe1-6cef-11d2-807d-006008143e6f"}

pytestmark = pytest.mark.skipif(not FOLDER, reason="MIXLINT_AAF names no folder")


def files() -> list[Path]:
    return sorted(Path(FOLDER).glob("*.aaf")) if FOLDER else []


def spans(node: Any, at: int) -> list[tuple[int, int]]:
    """From where to where clips lie in a segment, in edit units."""
    kind = type(node).__name__
    if kind == "Sequence":
        found = []
        for one in node.components:
            if type(one).__name__ == "Transition":
                at -= one.length
                continue
            found += spans(one, at)
            at += one.length
        return found
    if kind == "OperationGroup":
        inner = list(node.segments)
        return spans(inner[0], at) if inner else []
    if kind == "SourceClip" and node.length:
        return [(at, at + node.length)]
    if kind == "Selector":
        selected = node["Selected"].value
        if type(selected).__name__ != "Filler":
            return spans(selected, at)
        return next((found for one in node["Alternates"].value if (found := spans(one, at))), [])
    return []


def walked(path: Path) -> dict[int, list[tuple[float, float]]]:
    """Slot id → from where to where clips lie, seconds, of the top composition with the most tracks of sound."""
    best: dict[int, list[tuple[float, float]]] = {}
    with aaf2.open(str(path)) as file:
        for mob in file.content.toplevel():
            found = {}
            for slot in mob.slots:
                if type(slot).__name__ == "TimelineMobSlot" and str(slot.segment.datadef.auid) in SOUND:
                    rate = Fraction(slot.edit_rate.numerator, slot.edit_rate.denominator)
                    found[slot.slot_id] = [(float(a / rate), float(b / rate)) for a, b in spans(slot.segment, 0)]
            best = max(best, found, key=len)
    return best


@pytest.mark.parametrize("path", files(), ids=lambda path: path.stem)
def test_clips_lie_where_a_plain_walk_finds_them(path: Path) -> None:
    try:
        session = importers.read(path)
    except NotASession:
        assert not walked(path)
        return
    expected = walked(path)
    for channel in session.channels[:-1]:
        clips = [(one.start_s, one.end_s) for one in channel.clips]
        due = expected[int(channel.where.split()[-1])]
        assert clips == [pytest.approx(one, abs=1e-6) for one in sorted(due)], channel.name
    assert parse(session.json_text(), "again") == session
