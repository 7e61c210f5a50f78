"""Inserts of one channel in two revisions: added, removed, bypassed, moved, set otherwise."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Sequence

from mixlint.comparison.change_log import SWITCHED, ChangeLog
from mixlint.comparison.fields import BAND, DYNAMICS, EQUALIZER, INSERT, compare_fields, settings_changed
from mixlint.comparison.model import Tolerances
from mixlint.comparison.quantities import SHARE
from mixlint.comparison.targets import Places
from mixlint.naming import fold_name
from mixlint.session import Equalizer, Insert, Parameter, Unknown
from mixlint.units import number_text

MOST_NAMED = 4
"""So many settings of one insert are named; the rest are counted."""


def paired_inserts(was: Sequence[Insert], now: Sequence[Insert]) -> Places:
    """Which insert is which, by name and, of several with one name, by order.

    Returns:
        Positions then and now; None where it was added or removed.
    """
    places = dict(_keys(was))
    pairs: Places = []
    for key, place in _keys(now):
        pairs.append((places.pop(key, None), place))
    return [*pairs, *((place, None) for place in places.values())]


def _keys(inserts: Iterable[Insert]) -> Iterator[tuple[tuple[str, int], int]]:
    met: dict[str, int] = {}
    for place, insert in enumerate(inserts):
        name = fold_name(insert.name)
        met[name] = met.get(name, 0) + 1
        yield (name, met[name]), place


def compare_inserts(
    log: ChangeLog, was: Sequence[Insert], now: Sequence[Insert], automated: Container[int] = ()
) -> None:
    """Write down what changed among the inserts of one channel.

    Args:
        log: where it goes.
        was, now: its inserts then and now, in the order the signal passes.
        automated: the places, now, of those whose settings automation moves in either.
    """
    kept: list[int] = []
    for before, after in paired_inserts(was, now):
        if before is None and after is not None:
            name = now[after].name
            log.add("insert", f"insert {name} added", SWITCHED, item=name, did="added", states=("", name))
        elif after is None and before is not None:
            name = was[before].name
            log.add("insert", f"insert {name} removed", SWITCHED, item=name, did="removed", states=(name, ""))
        elif before is not None and after is not None:
            kept.append(before)
            _compare(log, was[before], now[after], after in automated)
    if kept != sorted(kept):
        order, order_before = (", ".join(was[place].name for place in places) for places in (kept, sorted(kept)))
        log.add("insert", f"inserts in another order: {order}", SWITCHED, states=(order_before, order))


def _compare(log: ChangeLog, was: Insert, now: Insert, automated: bool) -> None:
    compare_fields(log, INSERT, was, now, name=now.name)
    settings = [*_settings(was, now, log.tolerances)]
    other = _other_plugin(was, now)
    unread = not other and _differ_unread(log, was, now, automated)
    if settings:
        more = f" and {len(settings) - MOST_NAMED} more" if len(settings) > MOST_NAMED else ""
        named = "; ".join(settings[:MOST_NAMED])
        rest = "; what else changed in its saved settings cannot be read" if unread else ""
        log.add("insert", f"insert {now.name} set otherwise: {named}{more}{rest}", SWITCHED, item=now.name)
    elif unread:
        log.add("insert", f"settings of {now.name} changed; what changed cannot be read", SWITCHED, item=now.name)
    if other:
        says = f"insert {now.name} is another plug-in of this name; its settings cannot be compared"
        log.add("insert", says, SWITCHED, item=now.name)


def _other_plugin(was: Insert, now: Insert) -> bool:
    """True where the saved settings are those of two different plug-ins."""
    before, after = (one.saved.plugin if one.saved is not None else "" for one in (was, now))
    return bool(before and after and before != after)


def _differ_unread(log: ChangeLog, was: Insert, now: Insert, automated: bool) -> bool:
    """True where the saved settings, which nobody reads, are not what they were.

    Where only one revision shows them, or neither though both name a file of them, that is written down as unseen; so
    is a difference that automation alone can have made, since what it moves is saved as it stood at the export.
    """
    if was.saved is None and now.saved is None:
        return False
    before, after = (_content(one) for one in (was, now))
    of = f"the settings of {now.name}"
    if isinstance(before, Unknown) and isinstance(after, Unknown):
        log.cannot_tell("insert", f"neither revision shows {of}: {after.unknown}", now.name)
        return False
    both = log.known("insert", before, after, of, now.name)
    if both is None or both[0] == both[1]:
        return False
    if automated:
        log.cannot_tell(
            "insert",
            f"the saved settings of {now.name} differ, and automation moves some of them, which are saved as they "
            "stood at the export",
            now.name,
        )
    return not automated


def _content(insert: Insert) -> str | Unknown:
    return insert.saved.content if insert.saved is not None else Unknown(unknown="it holds no saved settings of it")


def _settings(was: Insert, now: Insert, tolerances: Tolerances) -> Iterator[str]:
    yield from settings_changed(INSERT, was, now, tolerances)
    if was.equalizer is not None and now.equalizer is not None:
        yield from _equalizer(was.equalizer, now.equalizer, tolerances)
    if was.dynamics is not None and now.dynamics is not None:
        yield from settings_changed(DYNAMICS, was.dynamics, now.dynamics, tolerances)
    before = {p.id: p for p in was.parameters}
    for parameter in now.parameters:
        if parameter.id in before:
            yield from _parameter(before[parameter.id], parameter)


def _equalizer(was: Equalizer, now: Equalizer, tolerances: Tolerances) -> Iterator[str]:
    yield from settings_changed(EQUALIZER, was, now, tolerances)
    if len(was.bands) != len(now.bands):
        yield f"{len(now.bands)} bands, were {len(was.bands)}"
    for place, (before, after) in enumerate(zip(was.bands, now.bands, strict=False), 1):
        yield from settings_changed(BAND, before, after, tolerances, f"band {place}")


def _parameter(was: Parameter, now: Parameter) -> Iterator[str]:
    name = now.name or now.id
    before, after = was.value, now.value
    if isinstance(before, Unknown) or isinstance(after, Unknown):
        return
    if isinstance(before, bool | str) or isinstance(after, bool | str):
        if before != after:
            yield f"{name} {_value_text(after)}, was {_value_text(before)}"
        return
    span = abs(was.high - was.low) if isinstance(was.high, float) and isinstance(was.low, float) else 0.0
    least = SHARE * (span or max(abs(before), abs(after)))
    if abs(after - before) > least:
        yield f"{name} {number_text(after)}, was {number_text(before)}"


def _value_text(value: float | bool | str) -> str:
    if isinstance(value, bool):
        return "on" if value else "off"
    return value if isinstance(value, str) else number_text(value)
