"""Automation of one channel in two revisions: lanes added, removed, or drawn otherwise."""

from __future__ import annotations

from typing import Final

from mixlint.comparison.change_log import SWITCHED, ChangeLog, Did, Extent
from mixlint.comparison.curves import far_from_still, farthest
from mixlint.comparison.targets import Places, paired_lanes, static_value, target_text
from mixlint.session import Automation, Channel, Target
from mixlint.session.control import is_readable, moves
from mixlint.units import number_text

LEAST: Final = 1e-6
"""A lane whose points moved by no more than this, in its own unit, is as it was."""


def compare_automation(log: ChangeLog, was: Channel, now: Channel, sends: Places, inserts: Places) -> None:
    """Write down what changed in the automation of one channel.

    Args:
        log: where it goes.
        was, now: the channel in the older and in the newer revision.
        sends, inserts: which of its sends and inserts is which.
    """
    for target, before, after in paired_lanes(was, now, sends, inserts):
        if before is not None and after is not None:
            _changed(log, target_text(target, now), target, before, after)
        elif after is not None:
            _one_sided(log, target_text(target, now), target, after, static_value(was, target), "added")
        elif before is not None:
            _one_sided(log, target_text(target, now), target, before, static_value(now, target), "removed")


def _allowed(log: ChangeLog, lane: Automation) -> float:
    """By how much a lane may move, in its own unit."""
    by_scale = {"pan": log.tolerances.pan, "switch": 0.5, "plain": 0.0, "unknown": 0.0}
    return by_scale.get(lane.scale, log.tolerances.level_db)


def _one_sided(log: ChangeLog, name: str, target: Target, lane: Automation, static: float | None, did: Did) -> None:
    """A lane that only one revision has; ``static`` is what the control stands at in the other, where that is known.

    A lane that holds its control is told as what it makes of it, and one that never leaves where the control stands in
    the other revision moves nothing.
    """
    if static is not None and is_readable(lane) and not _leaves(log, lane, static):
        return
    log.add("automation", f"automation of {name} {did}", SWITCHED, item=str(target), did=did)


def _leaves(log: ChangeLog, lane: Automation, static: float) -> bool:
    """True when a lane moves, and farther from ``static`` than is allowed."""
    return moves(lane) and far_from_still(lane, static) > _allowed(log, lane)


def _unit(lane: Automation) -> str:
    """What a lane's values are counted in: decibels and amplitudes are one, since both can be told in dB."""
    return "dB" if lane.scale == "amplitude" else lane.scale


def _changed(log: ChangeLog, name: str, target: Target, was: Automation, now: Automation) -> None:
    if _unit(was) != _unit(now):
        log.add("automation", f"automation of {name} changed", SWITCHED, item=str(target))
        return
    far = farthest(was, now)
    reshaped = was.shape != now.shape and len(set(was.v)) > 1 and len(was.t) > 1
    if far <= max(_allowed(log, now), LEAST) and not reshaped:
        return
    is_level = now.scale in ("dB", "amplitude")
    by = f" by up to {number_text(far)} dB" if is_level else ""
    extent = Extent(
        db=far if is_level else 0.0,
        pan=far if now.scale == "pan" else 0.0,
        switched=reshaped or now.scale in ("switch", "plain", "unknown"),
    )
    log.add("automation", f"automation of {name} changed{by}", extent, item=str(target))
