"""Inserts of one channel in two revisions: added, removed, bypassed, moved, set otherwise."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from mixlint.revisions.matching import folded
from mixlint.revisions.model import Tolerances
from mixlint.revisions.notes import Notebook
from mixlint.session import Dynamics, Equalizer, Insert, Parameter, Unknown
from mixlint.units import number_text

SHARE = 0.01
"""The least change of a frequency, a Q, a ratio or a time that counts, as a share (common practice, no source)."""

WET = 1.0
"""The least change of a wet share that counts, per cent."""


def paired_inserts(was: Sequence[Insert], now: Sequence[Insert]) -> list[tuple[int | None, int | None]]:
    """Which insert is which, by name and, of several with one name, by order: positions then and now."""
    places = dict(_keys(was))
    pairs: list[tuple[int | None, int | None]] = []
    for key, place in _keys(now):
        pairs.append((places.pop(key, None), place))
    return [*pairs, *((place, None) for place in places.values())]


def _keys(inserts: Iterable[Insert]) -> Iterator[tuple[tuple[str, int], int]]:
    met: dict[str, int] = {}
    for place, insert in enumerate(inserts):
        name = folded(insert.name)
        met[name] = met.get(name, 0) + 1
        yield (name, met[name]), place


def compare_inserts(book: Notebook, was: Sequence[Insert], now: Sequence[Insert]) -> None:
    """Write down what changed among the inserts of one channel."""
    kept: list[int] = []
    for before, after in paired_inserts(was, now):
        if before is None and after is not None:
            name = now[after].name
            book.put("insert", f"insert {name} added", item=name, did="added", now=name, switched=True)
        elif after is None and before is not None:
            name = was[before].name
            book.put("insert", f"insert {name} removed", item=name, did="removed", was=name, switched=True)
        elif before is not None and after is not None:
            kept.append(before)
            _compare(book, was[before], now[after])
    if kept != sorted(kept):
        order = [was[place].name for place in kept]
        names = ", ".join(order)
        before_names = ", ".join(was[place].name for place in sorted(kept))
        book.put("insert", f"inserts in another order: {names}", was=before_names, now=names, switched=True)


def _compare(book: Notebook, was: Insert, now: Insert) -> None:
    name = now.name
    book.switch("insert", was.on, now.on, of=f"whether {name} is on", item=name,
                on=f"insert {name} switched on", off=f"insert {name} bypassed")  # fmt: skip
    book.switch("insert", was.loaded, now.loaded, of=f"whether {name} is loaded", item=name,
                on=f"insert {name} loaded again", off=f"insert {name} not loaded")  # fmt: skip
    settings = [*_settings(was, now, book.tolerances)]
    if settings:
        said = "; ".join(settings[:4]) + (f" and {len(settings) - 4} more" if len(settings) > 4 else "")
        book.put("insert", f"insert {name} set otherwise: {said}", item=name, switched=True)


def _settings(was: Insert, now: Insert, tolerances: Tolerances) -> Iterator[str]:
    yield from _number("wet", was.wet, now.wet, WET, "%")
    yield from _share("pre-delay", was.pre_delay_ms, now.pre_delay_ms, "ms")
    if was.equalizer is not None and now.equalizer is not None:
        yield from _equalizer(was.equalizer, now.equalizer, tolerances.level_db)
    if was.dynamics is not None and now.dynamics is not None:
        yield from _dynamics(was.dynamics, now.dynamics, tolerances.level_db)
    before = {p.id: p for p in was.parameters}
    for parameter in now.parameters:
        if parameter.id in before:
            yield from _parameter(before[parameter.id], parameter)


def _equalizer(was: Equalizer, now: Equalizer, level_db: float) -> Iterator[str]:
    yield from _number("input", was.input_gain_db, now.input_gain_db, level_db, "dB")
    yield from _number("output", was.output_gain_db, now.output_gain_db, level_db, "dB")
    if len(was.bands) != len(now.bands):
        yield f"{len(now.bands)} bands, were {len(was.bands)}"
    for place, (before, after) in enumerate(zip(was.bands, now.bands, strict=False), 1):
        band = f"band {place}"
        if before.kind != after.kind:
            yield f"{band} {after.kind}, was {before.kind}"
        yield from _share(band, before.freq_hz, after.freq_hz, "Hz")
        yield from _number(band, before.gain_db, after.gain_db, level_db, "dB")
        yield from _share(f"{band} Q", before.q, after.q, "")
        yield from _share(band, before.slope_db_per_oct, after.slope_db_per_oct, "dB/oct")
        if isinstance(before.on, bool) and isinstance(after.on, bool) and before.on != after.on:
            yield f"{band} {'on' if after.on else 'off'}"


def _dynamics(was: Dynamics, now: Dynamics, level_db: float) -> Iterator[str]:
    yield from _number("threshold", was.threshold_db, now.threshold_db, level_db, "dB")
    yield from _share("ratio", was.ratio, now.ratio, ":1")
    yield from _share("attack", was.attack_ms, now.attack_ms, "ms")
    yield from _share("release", was.release_ms, now.release_ms, "ms")
    yield from _number("knee", was.knee_db, now.knee_db, level_db, "dB")
    yield from _number("range", was.range_db, now.range_db, level_db, "dB")
    yield from _number("input", was.input_gain_db, now.input_gain_db, level_db, "dB")
    yield from _number("output", was.output_gain_db, now.output_gain_db, level_db, "dB")
    if isinstance(was.auto_makeup, bool) and isinstance(now.auto_makeup, bool) and was.auto_makeup != now.auto_makeup:
        yield f"auto make-up {'on' if now.auto_makeup else 'off'}"


def _parameter(was: Parameter, now: Parameter) -> Iterator[str]:
    name = now.name or now.id
    before, after = was.value, now.value
    if isinstance(before, Unknown) or isinstance(after, Unknown):
        return
    if isinstance(before, bool | str) or isinstance(after, bool | str):
        if before != after:
            yield f"{name} {_said(after)}, was {_said(before)}"
        return
    span = abs(was.high - was.low) if isinstance(was.high, float) and isinstance(was.low, float) else 0.0
    least = SHARE * (span or max(abs(before), abs(after)))
    if abs(after - before) > least:
        yield f"{name} {number_text(after)}, was {number_text(before)}"


def _said(value: float | bool | str) -> str:
    if isinstance(value, bool):
        return "on" if value else "off"
    return value if isinstance(value, str) else number_text(value)


def _number(name: str, was: float | Unknown, now: float | Unknown, least: float, unit: str) -> Iterator[str]:
    if not isinstance(was, Unknown) and not isinstance(now, Unknown) and abs(now - was) > least:
        yield f"{name} {number_text(now, unit)}, was {number_text(was, unit)}"


def _share(name: str, was: float | Unknown, now: float | Unknown, unit: str) -> Iterator[str]:
    if isinstance(was, Unknown) or isinstance(now, Unknown):
        return
    if abs(now - was) > SHARE * max(abs(was), abs(now)):
        yield f"{name} {number_text(now, unit)}, was {number_text(was, unit)}"
