"""What happens on several channels at one time: where they were cut together, or begin together."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TypeVar

T = TypeVar("T")


def at_one_time(found: list[T], time_s: Callable[[T], float], within_s: float) -> Iterator[list[T]]:
    """What was found, in bundles of one time: whatever lies no further behind the first of a bundle belongs to it.

    Args:
        found: in order of time.
        time_s: when one of them is, seconds.
        within_s: how far behind the first of its bundle one may lie, seconds.
    """
    bundle: list[T] = []
    for one in found:
        if bundle and time_s(one) - time_s(bundle[0]) > within_s:
            yield bundle
            bundle = []
        bundle.append(one)
    if bundle:
        yield bundle
