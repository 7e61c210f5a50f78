"""Damage to XML by its elements: lost, doubled, swapped, moved from other documents, nested; values; encodings."""

from __future__ import annotations

import re
from copy import deepcopy
from functools import lru_cache
from random import Random
from typing import Final

from lxml import etree

from tests.importers.fuzz.words import encode, tear, word

_PIECES: Final = tuple(
    etree.fromstring(text)
    for text in (
        "<Clips/>", "<Clip/>", '<Clip time="0" duration="4" reference="clips:t0"/>', "<Lanes/>", "<Track/>", "<Send/>",
        '<Points><Target parameter="t0:fader"/><RealPoint time="0" value="1"/></Points>', '<Channel role="master"/>',
        '<Warps><Audio/><Warp/><Warp time="1" contentTime="0"/></Warps>', "<x><y/></x>", "<Devices/>", "<Project/>",
        '<Compressor><Ratio unit="percent" value="75"/><Attack unit="seconds" value="inf"/></Compressor>',
        '<Vst3Plugin><Parameters><RealParameter name="Mix" unit="percent" value="40"/></Parameters></Vst3Plugin>',
        '<TempoAutomation><RealPoint time="2" value="0"/><RealPoint time="-2" value="90"/></TempoAutomation>',
        '<Clip time="0" duration="9" loopStart="0" loopEnd="1e-9"><Notes/></Clip>', "<audioObject/>",
        "<gain>-9e99</gain>",
        '<audioBlockFormat rtime="9" duration="-1"><position coordinate="X">nan</position></audioBlockFormat>',
    )
)  # fmt: skip
_DECLARED: Final = re.compile(rb"""encoding=["'][^"']*["']""")
_DEPTHS: Final = (1, 3, 20, 70, 300)


@lru_cache(64)
def _parsed(data: bytes) -> etree._Element:
    return etree.fromstring(data)


def _elements(root: etree._Element) -> list[etree._Element]:
    return [one for one in root.iter() if isinstance(one.tag, str)]


def damage_xml(data: bytes, chance: Random, others: tuple[bytes, ...] = ()) -> bytes:
    """A document with its elements or bytes damaged.

    Args:
        data: a document; one that is no more well-formed is damaged by its bytes.
        chance: what decides.
        others: documents that elements are taken over from.
    """
    if chance.random() < 0.15:
        return tear(data, chance)
    try:
        root = deepcopy(_parsed(data))
    except etree.XMLSyntaxError:  # damaged before
        return tear(data, chance)
    for _ in range(chance.choice((1, 1, 2, 4, 8, 16))):
        _once(root, chance, others)
    text = etree.tostring(root, encoding="unicode")
    kind = chance.random()
    if kind < 0.75:
        return b'<?xml version="1.0" encoding="UTF-8"?>\n' + text.encode()
    if kind < 0.85:
        return _odd(text, chance)
    return tear(b'<?xml version="1.0" encoding="UTF-8"?>\n' + text.encode(), chance, 2)


def _once(root: etree._Element, chance: Random, others: tuple[bytes, ...]) -> None:
    elements = _elements(root)
    one = chance.choice(elements)
    parent = one.getparent()
    kind = chance.randrange(14)
    if kind <= 5:
        _value(one, chance, elements)
    elif kind == 6 and parent is not None:
        parent.remove(one)
    elif kind == 7 and parent is not None:
        for _ in range(chance.choice((1, 1, 1, 9))):
            parent.insert(parent.index(one), deepcopy(one))
    elif kind == 8 and parent is not None:  # two children of one parent change places
        other = chance.choice(list(parent))
        place, there = parent.index(one), parent.index(other)
        if place != there:
            parent[place], parent[there] = deepcopy(other), deepcopy(one)
    elif kind == 9:
        one.insert(chance.randrange(len(one) + 1), deepcopy(chance.choice(_PIECES)))
    elif kind == 10:  # an element from elsewhere, of this document or of another
        source = elements if not others else _elements(_parsed(chance.choice(others)))
        taken = deepcopy(chance.choice(source))
        if len(_elements(taken)) < 200:
            one.insert(chance.randrange(len(one) + 1), taken)
    elif kind == 11:
        one.tag = chance.choice(elements).tag
    elif kind == 12:
        one.text = _safe(word(chance))
    elif parent is not None and len(_elements(one)) < 40:  # nested in itself
        inner = deepcopy(one)
        for _ in range(chance.choice(_DEPTHS)):
            around = etree.Element(one.tag, dict(one.attrib))
            around.append(inner)
            inner = around
        parent.replace(one, inner)


def _value(one: etree._Element, chance: Random, elements: list[etree._Element]) -> None:
    if not one.attrib:
        if one.text and one.text.strip():
            one.text = _safe(word(chance))
        return
    name = chance.choice(list(one.attrib))
    kind = chance.randrange(6)
    if kind == 0:
        del one.attrib[name]
    elif kind == 1:  # a value that stands elsewhere: of an id, of a unit
        other = chance.choice(elements)
        if other.attrib:
            one.set(name, chance.choice(list(other.attrib.values())))
    elif kind == 2:
        one.set(
            chance.choice(("id", "unit", "min", "max", "time", "value", "role", "reference", "path")), one.get(name)
        )
    else:
        one.set(name, _safe(word(chance)))


def _safe(text: str) -> str:
    """What a document may hold at all: the parser is not what is tried here."""
    return "".join(char for char in text if char >= " " or char in "\t\n\r")


def _odd(text: str, chance: Random) -> bytes:
    """In another encoding, named or not, or with something before or behind it."""
    said = chance.choice(("UTF-8", "utf-16", "iso-8859-1", "windows-1252", "utf-47", "", "UTF-32", "shift_jis"))
    head = f'<?xml version="{chance.choice(("1.0", "1.1", "2.0"))}" encoding="{said}"?>' if said else ""
    body = encode(head + text, chance, 0.7)
    turn = chance.randrange(5)
    if turn == 0:
        return body + chance.choice((b"\0\0", b"<x/>", b"<!-- -->", b"text", bytes(1000)))
    if turn == 1:
        return chance.choice((b"\n", b"\xef\xbb\xbf", b"\xff\xfe", b" ", b"<!-- -->", b"<!DOCTYPE Project>")) + body
    return _DECLARED.sub(b"", body) if turn == 2 else body
