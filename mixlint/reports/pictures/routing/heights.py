"""How high each place stands in its layer: near what it is joined to, in its order, apart from the next."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

ROUNDS: Final = 8
"""How often the layers are gone over; the drawing hardly moves after that."""


class Piece(NamedTuple):
    """A piece of a line between two neighbouring layers.

    Args:
        a, b: the places at its ends, in the earlier and the later layer.
        a_off, b_off: how far from the middle of its place each end lies.
        weight: how much it is worth that it runs level.
    """

    a: int
    b: int
    a_off: float
    b_off: float
    weight: float


def heights_of(
    layers: Sequence[Sequence[int]], size: Sequence[float], gap: float, pieces: Sequence[Piece]
) -> list[float]:
    """The middle of each place, from 0 down, so that the drawing is no higher than its highest layer has to be.

    The layers are gone over to and fro. In each, the heights are the nearest, in weighted least squares, to where the
    neighbours would have them, under the order and the distances: an isotonic regression (pool adjacent violators;
    Barlow and others, "Statistical inference under order restrictions", 1972), cut to the height of the drawing.

    Args:
        layers: the places of each layer, in their order.
        size: how high each place is.
        gap: the distance between two places of one layer.
        pieces: the lines between them.
    """
    beside: list[list[tuple[int, float, float]]] = [[] for _ in size]  # neighbour, offset to it, weight
    for a, b, a_off, b_off, weight in pieces:
        beside[a].append((b, b_off - a_off, weight))
        beside[b].append((a, a_off - b_off, weight))
    middles: list[list[float]] = []  # the middles of each layer when it is packed
    tall: list[float] = []
    for layer in layers:
        top, here = 0.0, []
        for one in layer:
            here.append(top + size[one] / 2.0)
            top += size[one] + gap
        middles.append(here)
        tall.append(max(0.0, top - gap))
    highest = max(tall, default=0.0)
    at = [0.0] * len(size)
    for layer, packed, own in zip(layers, middles, tall, strict=True):
        for one, middle in zip(layer, packed, strict=True):
            at[one] = middle + (highest - own) / 2.0
    order = [*range(len(layers)), *range(len(layers) - 2, -1, -1)]
    for _ in range(ROUNDS):
        for k in order:
            wishes, weights = [], []
            for one, packed_at in zip(layers[k], middles[k], strict=True):
                near = beside[one]
                weight = sum(w for _, _, w in near)
                wish = sum((at[n] + off) * w for n, off, w in near) / weight if near else at[one]
                wishes.append(wish - packed_at)
                weights.append(weight or ALONE)
            room = highest - tall[k]
            for one, packed_at, wish in zip(layers[k], middles[k], rising(wishes, weights), strict=True):
                at[one] = packed_at + min(max(wish, 0.0), room)
    return at


ALONE: Final = 0.01
"""The weight of a place that nothing is joined to: it keeps out of the way."""


def rising(wishes: Sequence[float], weights: Sequence[float]) -> list[float]:
    """The values that do not fall and lie nearest to ``wishes`` in weighted least squares."""
    blocks: list[tuple[float, float, int]] = []  # their mean, weight and number
    for wish, given in zip(wishes, weights, strict=True):
        mean, weight, count = wish, given, 1
        while blocks and blocks[-1][0] > mean:
            before, more, many = blocks.pop()
            mean = (before * more + mean * weight) / (more + weight)
            weight, count = weight + more, count + many
        blocks.append((mean, weight, count))
    return [mean for mean, _, count in blocks for _ in range(count)]
