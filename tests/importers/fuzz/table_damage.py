"""Damage to lists of channels by their cells, rows and columns; signs between cells, encodings, workbooks."""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Callable
from functools import cache
from random import Random
from typing import Final
from xml.sax.saxutils import escape

from tests.importers.fuzz.seeds import lists
from tests.importers.fuzz.words import encode, tear, word
from tests.importers.fuzz.xml_damage import damage_xml
from tests.importers.fuzz.zip_damage import damage_zip
from tests.importers.workbooks import spreadsheet, workbook

MOST_ROWS: Final = 14
"""Rows of a list before it is damaged: each costs time."""


@cache
def _rows(number: int) -> tuple[tuple[str, ...], ...]:
    text = lists()[number]
    sign = max(";\t,|", key=text.count)
    return tuple(tuple(row) for row in csv.reader(io.StringIO(text), delimiter=sign))


def damaged_rows(chance: Random) -> list[list[str]]:
    """The cells of a list, some of them damaged."""
    rows = [list(row) for row in _rows(chance.randrange(len(lists())))]
    while len(rows) > MOST_ROWS:  # what comes later is lost first, but not always
        del rows[chance.randrange(len(rows) // 3, len(rows))]
    for _ in range(chance.choice((1, 2, 4, 8, 16))):
        if not rows:
            break
        at = chance.randrange(len(rows))
        row = rows[at]
        kind = chance.randrange(12)
        if kind <= 5 and row:
            place = chance.randrange(len(row))
            row[place] = _cell(row[place], chance, rows)
        elif kind == 6:
            del rows[at]
        elif kind == 7:
            rows[at:at] = [list(row) for _ in range(chance.choice((1, 1, 1, 1, 30)))]
        elif kind == 8:
            other = chance.randrange(len(rows))
            rows[at], rows[other] = rows[other], rows[at]
        elif kind == 9:  # a column lost, or put elsewhere
            place, there = chance.randrange(12), chance.randrange(12)
            for one in rows:
                if place < len(one):
                    cell = one.pop(place)
                    if there != place:
                        one.insert(there, cell)
        elif kind == 10:
            rows.insert(at, [word(chance) for _ in range(chance.choice((0, 1, 5, 1100)))])
        else:  # a row of another list
            rows.insert(at, list(chance.choice(_rows(chance.randrange(len(lists()))))))
    return rows


def _cell(was: str, chance: Random, rows: list[list[str]]) -> str:
    kind = chance.randrange(5)
    if kind <= 1:
        return word(chance)
    if kind == 2:
        return chance.choice([cell for row in rows for cell in row] or [""])
    if kind == 3:
        return was + chance.choice(
            ("%", " dB", "!", " ?", "; " + was, " + " + was, " (" + was, "\n" + was, word(chance))
        )
    at = chance.randrange(len(was) + 1)
    return was[:at] + was[at + 1 :]


def damaged_text(chance: Random) -> tuple[bytes, str]:
    """A list as text, and a suffix for it."""
    out = io.StringIO()
    suffix = chance.choice((".csv", ".tsv", ".tab", ".txt"))
    sign = "\t" if suffix in (".tsv", ".tab") and chance.random() < 0.8 else chance.choice(";,\t|")
    quoting = chance.choice((csv.QUOTE_MINIMAL, csv.QUOTE_ALL))
    csv.writer(out, delimiter=sign, quoting=quoting, lineterminator=chance.choice(("\n", "\r\n", "\r"))).writerows(
        damaged_rows(chance)
    )
    text = out.getvalue()
    if chance.random() < 0.1:
        at = chance.randrange(len(text) + 1)
        text = text[:at] + chance.choice(('"', "\0", "\x1a", "\n\n\n", "\v", "\u2028", sign * 1200)) + text[at:]
    if chance.random() < 0.05:
        text = f"sep={sign}\n{text}"
    data = encode(text, chance)
    return (tear(data, chance) if chance.random() < 0.1 else data), suffix


def damaged_workbook(chance: Random) -> tuple[bytes, str]:
    """A list as a workbook of either form: its cells, the documents in it, or the archive damaged."""
    suffix, make = chance.choice(_WORKBOOKS)
    rows = [[escape("".join(c for c in cell if c >= " ")[:400]) for cell in row[:25]] for row in damaged_rows(chance)]
    data = make(rows)
    kind = chance.random()
    if kind < 0.5:
        return data, suffix
    if kind < 0.8:
        return _inside(data, chance), suffix
    return damage_zip(data, chance), suffix


_WORKBOOKS: tuple[tuple[str, Callable[[list[list[str]]], bytes]], ...] = ((".xlsx", workbook), (".ods", spreadsheet))


def _inside(data: bytes, chance: Random) -> bytes:
    """One of the documents in a workbook damaged."""
    made = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(made, "w") as new:
        names = [name for name in old.namelist() if name.endswith((".xml", ".rels"))]
        chosen = chance.choice(names)
        for name in old.namelist():
            body = old.read(name)
            if name != chosen:
                new.writestr(name, body)
            elif chance.random() < 0.95:
                new.writestr(name, damage_xml(body, chance))
    return made.getvalue()
