"""How the writer of a file spells things, by marks in the whole file: the pan scale, and sends stored low.

Nothing here goes by the writer's name; only what stands in the file counts.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from mixlint.importers.dawproject.import_notes import ImportNotes
from mixlint.importers.dawproject.values import real
from mixlint.importers.dawproject.xml_tree import Node, PointsNode

SEND_RAISE: Final = 10.0 ** (12.0 / 20.0)

FEW_PANS: Final = 3
"""Fewer pans than this may well stand at one end all together."""


@dataclass(frozen=True, slots=True)
class Dialect:
    """How a file is to be read.

    Args:
        bipolar_pan: pans without a range run −1…+1.
        send_raise: factor on linear send levels.
        send_doubt: why linear send levels may be 12 dB more than they are written; empty where nothing speaks for it.
    """

    bipolar_pan: bool = False
    send_raise: float = 1.0
    send_doubt: str = ""


def read_dialect(root: Node, notes: ImportNotes) -> Dialect:
    """Look for the marks over the whole file and note those that are found.

    Args:
        root: the document.
        notes: where what was found goes, since levels and pans are read by it.
    """
    structure = [node for top in root.all("Structure") for node in top.walk()]
    loose: set[str] = set()
    negative = False
    values: list[float | None] = []
    odd_send_pan = destinations = False
    channels = 0
    for node in structure:
        if node.tag == "Channel":
            channels += 1
            destinations = destinations or node.has("destination")
        for pan in node.all("Pan"):
            parameter = real(pan)
            if not parameter.ranged and parameter.unit == "normalized":
                loose.add(pan.get("id"))
                values.append(parameter.value)
                negative = negative or (parameter.value is not None and parameter.value < 0.0)
            if node.tag == "Send" and parameter.unit == "normalized" and (parameter.low, parameter.high) == (-1.0, 1.0):
                odd_send_pan = True
    loose.discard("")
    if loose and not negative:
        negative = _automated_negative(root, loose)
    if negative:
        notes.assume(
            "Some pans in this file are negative although none states its range; "
            "all of them were read as −1 (left) to +1 (right)."
        )
    centred = not negative and len(values) >= FEW_PANS and set(values) == {0.0}
    if centred:
        notes.assume(
            "Every pan in this file is 0 and none states its range; they were read as the centre of −1 to +1, "
            "since a mix that stands wholly left in every channel is none."
        )
    low_sends = odd_send_pan and not destinations and channels > 1
    if low_sends:
        notes.assume(
            "The file bears the marks of a converter that writes send levels 12 dB low "
            "(no channel names an output, and send pans run from −1 to 1); 12 dB were added to every send."
        )
    doubt = ""
    if not low_sends and not destinations and channels > 1:
        doubt = _doubt_of_sends(structure)
    if doubt and any(node.tag == "Send" for node in structure):
        notes.assume(f"Send levels were left open: {doubt}.")
    return Dialect(negative or centred, SEND_RAISE if low_sends else 1.0, doubt)


def _doubt_of_sends(structure: list[Node]) -> str:
    """Why send levels may be stored low, in a file of which no channel names an output; or nothing.

    Send pans that run from −1 to 1 would settle it. Without any, levels that all end at 1 are a mark that other writers
    may well share, so that nothing is added and nothing taken for sure. Source: one large file of such a converter,
    which has sends without pans, and its published description.
    """
    levels = [real(node) for holder in structure if holder.tag in ("Channel", "Send") for node in holder.all("Volume")]
    if not levels or any(level.unit != "linear" or level.high != 1.0 for level in levels):
        return ""
    marks = ["no channel names an output", "every level is given a range that ends at 1"]
    if any(level.value is not None and level.value > 1.0 for level in levels):
        marks.append("some levels lie beyond it")
    if any(_is_headed_folder(node) for node in structure):
        marks.append("folders hold their bus as their first track")
    return f"the file bears marks of a converter that writes send levels 12 dB low ({', '.join(marks)})"


def _is_headed_folder(node: Node) -> bool:
    """True for a track without a channel whose first track has one that is declared as master."""
    if node.tag != "Track" or node.child("Channel") is not None:
        return False
    first = node.child("Track")
    channel = first.child("Channel") if first is not None else None
    return channel is not None and channel.get("role").lower() == "master"


def _automated_negative(root: Node, pans: set[str]) -> bool:
    for top in root.all("Arrangement"):
        for node in top.walk():
            if isinstance(node, PointsNode):
                target = node.child("Target")
                if target is not None and target.get("parameter") in pans and any(v < 0.0 for v in node.values):
                    return True
    return False
