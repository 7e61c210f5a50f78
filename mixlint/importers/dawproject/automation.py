"""Automation lanes: points in the file's units to parallel lists in the model's."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import compress
from math import isfinite
from typing import Literal

from mixlint.importers.dawproject.automated_parameters import AutomatedParameter, AutomatedParameters
from mixlint.importers.dawproject.clock import Clock
from mixlint.importers.dawproject.dialect import Dialect
from mixlint.importers.dawproject.import_notes import ImportNotes
from mixlint.importers.dawproject.lanes import Lane
from mixlint.importers.dawproject.values import USABLE, level_scale, pan_scale
from mixlint.importers.dawproject.xml_tree import PointsNode
from mixlint.session import Automation, NotKnown, Target, known
from mixlint.session.model import Scale
from mixlint.units import LOUDEST_DB, SILENCE_DB

Shape = Literal["hold", "linear"]


def read_automation(
    lanes: list[Lane],
    automatable: AutomatedParameters,
    clock: Clock,
    dialect: Dialect,
    names: dict[str, str],
    tempo_id: str,
    notes: ImportNotes,
    member: str,
) -> dict[str, list[Automation]]:
    """All automation lanes by the id of the channel they are on.

    Args:
        lanes: the arrangement's lanes.
        automatable: the parameters of the file by id.
        clock: turns positions into seconds.
        dialect: how this file spells pans.
        names: channel id to name, for notes.
        tempo_id: the tempo's id, whose lane belongs to the clock; empty where it has none.
        notes: where assumptions and losses go.
        member: the document's name, for places.

    Returns:
        Lanes with times in seconds and values in the model's units; lanes without a usable point are left out.
    """
    found: dict[str, dict[Target, Automation]] = {}
    for lane in lanes:
        node = lane.node
        if lane.tempo or not isinstance(node, PointsNode):
            continue
        aim = node.child("Target")
        reference = aim.get("parameter") if aim is not None else ""
        if reference and reference == tempo_id:
            continue
        parameter = automatable.find(reference) if reference else None
        if parameter is None:
            if node.times:
                _note_lost(reference, aim.get("expression") if aim is not None else "", notes)
            continue
        one = _lane(lane, node, parameter, clock, dialect, member)
        if one is None:
            continue
        mine = found.setdefault(parameter.channel, {})
        before = mine.get(parameter.target)
        if before is not None:
            notes.assume(
                f"{names.get(parameter.channel, parameter.channel)} has two automation lanes for {parameter.target}; "
                "they were joined where they follow each other, else the first was kept.",
                parameter.channel,
            )
            one = _joined(before, one)
        mine[parameter.target] = one
    return {channel: list(lanes_of.values()) for channel, lanes_of in found.items()}


def _note_lost(reference: str, expression: str, notes: ImportNotes) -> None:
    if reference:
        notes.gap("automation")
        notes.lose(f"Automation of a parameter ({reference}) that is not in the file was left out.")
    elif expression:
        notes.lose(f"Automation of the expression {expression} on a track was left out.")
    else:
        notes.lose("Automation that names no parameter was left out.")


def _lane(
    lane: Lane, node: PointsNode, parameter: AutomatedParameter, clock: Clock, dialect: Dialect, member: str
) -> Automation | None:
    raw_times: list[float] = node.times.tolist()
    raw: list[float] = node.values.tolist()
    holds = bytes(node.holds)
    scale, convert = _reading(parameter, node.get("unit").lower(), dialect)
    if not raw_times:
        return None
    if not _all_usable(raw_times) or not _all_usable(raw):
        lowest = float("-inf") if scale == "dB" else -USABLE
        usable = [abs(t) <= USABLE and lowest <= v <= USABLE for t, v in zip(raw_times, raw, strict=True)]
        raw_times, raw = list(compress(raw_times, usable)), list(compress(raw, usable))
        holds = bytes(compress(holds, usable))
    try:
        values = convert(raw)
    except NotKnown:  # a figure whose unit is not read, so that none of the lane's is
        scale, values = "unknown", raw
    if not raw_times:
        return None
    if sorted(raw_times) != raw_times:
        order = sorted(range(len(raw_times)), key=raw_times.__getitem__)
        raw_times = [raw_times[n] for n in order]
        values = [values[n] for n in order]
        holds = bytes(holds[n] for n in order)
    inner = holds[:-1]
    shape: Shape = "hold" if scale == "switch" or 0 not in inner else "linear"
    if shape == "linear" and 1 in inner:
        raw_times, values, holds = _mixed(raw_times, values, holds)
    if shape == "linear" and lane.unit == "beats" and not clock.steady:
        raw_times, values = _bent(raw_times, values, clock)
    times = clock.all_seconds(raw_times, lane.unit)
    return Automation(
        target=parameter.target,
        scale=scale,
        shape=shape,
        t=tuple(times),
        v=tuple(values),
        where=f"{member}:{node.line}",
    )


def _all_usable(values: list[float]) -> bool:
    # The sum is NaN when any value is; comparisons alone would miss that.
    return isfinite(sum(values)) and min(values) >= -USABLE and max(values) <= USABLE


def _reading(
    parameter: AutomatedParameter, unit: str, dialect: Dialect
) -> tuple[Scale, Callable[[list[float]], list[float]]]:
    """The model's scale for a lane, and how its figures get there. Points without a unit share the target's."""
    written, read = parameter.parameter, parameter.read
    own = not unit or unit == written.unit
    if parameter.kind == "switch":
        return "switch", lambda values: [1.0 if value >= 0.5 else 0.0 for value in values]
    if parameter.kind == "doubted":
        return "unknown", lambda values: values
    if not own:
        written = replace(written, unit=unit, low=None, high=None, value=None)
    if parameter.kind == "gain" and written.unit == "":
        written = replace(written, unit="decibel")
    if parameter.kind in ("level", "gain"):
        level = level_scale(written, "level")
        if level.kind == "dB":
            return "dB", lambda values: [min(LOUDEST_DB, max(SILENCE_DB, value)) for value in values]
        if level.kind == "amplitude":
            factor = level.factor * parameter.raise_by
            if factor == 1.0:
                return "amplitude", lambda values: values if min(values, default=0.0) >= 0.0 else _floored(values)
            return "amplitude", lambda values: [max(0.0, value * factor) for value in values]
        return "unknown", lambda values: values
    if parameter.kind == "pan":
        pan = pan_scale(written, dialect.bipolar_pan)
        if not pan.why:
            slope, offset = pan.slope, pan.offset
            return "pan", lambda values: [min(100.0, max(-100.0, slope * value + offset)) + 0.0 for value in values]
        return "unknown", lambda values: values
    if read is not None:
        return "plain", lambda values: [known(read(replace(written, value=value))) for value in values]
    if parameter.raise_by != 1.0:
        factor = parameter.raise_by
        return "plain", lambda values: [value * factor for value in values]
    return "plain", lambda values: values


def _floored(values: list[float]) -> list[float]:
    return [max(0.0, value) for value in values]


def _mixed(times: list[float], values: list[float], holds: bytes) -> tuple[list[float], list[float], bytes]:
    """Held and straight stretches in one lane, exactly: a held stretch gets its value again where it ends."""
    new_times, new_values = [], []
    for at, (time, value) in enumerate(zip(times, values, strict=True)):
        new_times.append(time)
        new_values.append(value)
        if holds[at] and at + 1 < len(times) and values[at + 1] != value:
            new_times.append(times[at + 1])
            new_values.append(value)
    return new_times, new_values, bytes(len(new_times))


def _bent(times: list[float], values: list[float], clock: Clock) -> tuple[list[float], list[float]]:
    """A line that is straight in beats bends in seconds where the tempo changes: add a point at each change."""
    new_times, new_values = [times[0]], [values[0]]
    changes = iter(clock.beats[1:])
    change = next(changes, None)
    for (t0, v0), (t1, v1) in zip(
        zip(times, values, strict=True), zip(times[1:], values[1:], strict=True), strict=False
    ):
        while change is not None and change <= t0:
            change = next(changes, None)
        while change is not None and change < t1:
            new_times.append(change)
            new_values.append(v0 + (v1 - v0) * (change - t0) / (t1 - t0))
            change = next(changes, None)
        new_times.append(t1)
        new_values.append(v1)
    return new_times, new_values


def _joined(first: Automation, second: Automation) -> Automation:
    """Two lanes of one parameter as one, if one follows the other; else the first."""
    if second.t[-1] < first.t[0]:
        first, second = second, first
    if first.t[-1] > second.t[0] or first.shape != second.shape or first.scale != second.scale:
        return first
    return first.model_copy(update={"t": first.t + second.t, "v": first.v + second.v})
