"""Settings: the numbers that facts rest on, as a chain of standards sets them.

A limit belongs to one rule. A setting is shared by every rule whose facts rest on it, so that it is named after its
subject (``counterparts.least_together``) and set once, under ``[settings]`` of a standard.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import isfinite
from typing import Any, Final, NamedTuple

from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Fact, Table
from mixlint.rulebook.faults import FileFaults, near
from mixlint.units import number_text

AS_SHIPPED: Final = "mixlint"
"""Where the value of a setting stems from when no standard sets it."""


class SettingInForce(NamedTuple):
    """A setting with the value in force.

    Args:
        setting: its declaration.
        value: the value in force, in the setting's unit.
        laid_down_by: the name of the standard that set it, or :data:`AS_SHIPPED`.
    """

    setting: Setting
    value: float
    laid_down_by: str = AS_SHIPPED

    @property
    def name(self) -> str:
        """What a standard calls it."""
        return self.setting.name


def settings_of(tables: Iterable[Table[Any]]) -> dict[str, Setting]:
    """Every setting that a table or one of its facts rests on, by name, in the order they are met.

    Args:
        tables: the vocabulary.

    Raises:
        ValueError: two settings bear one name.
    """
    found: dict[str, Setting] = {}
    for table in tables:
        for setting in (*table.settings, *(one for fact in table.facts.values() for one in fact.settings)):
            if found.setdefault(setting.name, setting) != setting:
                raise ValueError(f"two settings are called {setting.name}")
    return found


def rested_on(table: Table[Any], facts: Iterable[Fact]) -> tuple[Setting, ...]:
    """The settings that a rule rests on, each once.

    Args:
        table: the table it is over, whose rows may rest on some.
        facts: the facts that it names.
    """
    return tuple(dict.fromkeys((*table.settings, *(setting for fact in facts for setting in fact.settings))))


def checked_settings(
    written: Mapping[str, Any], known: Mapping[str, Setting], file_faults: FileFaults, prefix: str = ""
) -> dict[str, float]:
    """The values that one file sets.

    Args:
        written: the table ``[settings]`` as TOML gives it: ``"counterparts.least_together" = 60.0``, or a table of
            numbers for each subject.
        known: the settings there are, by name.
        file_faults: where faults go: a name that is none, a value that is no finite number or out of range.
        prefix: what the keys of the faults begin with.

    Returns:
        Name to value, of those without a fault.
    """
    found: dict[str, float] = {}
    for name, value in _flat(written):
        key = f"{prefix}settings.{name}"
        setting = known.get(name)
        if setting is None:
            hint = near(name, known) or "mixlint rules ID shows the settings a rule rests on"
            file_faults.add(key, f"there is no setting {name}", hint)
        elif isinstance(value, bool) or not isinstance(value, int | float) or not _is_finite(value):
            file_faults.add(key, "it takes a finite number", f"in {setting.unit}" if setting.unit else "")
        elif not setting.lowest <= value <= setting.highest:
            file_faults.add(key, f"it takes {_range(setting)}, not {number_text(value, setting.unit)}")
        elif name in found:
            file_faults.add(key, "it is set twice in this file")
        else:
            found[name] = float(value)
    return found


def _is_finite(value: float) -> bool:
    try:
        return isfinite(value)
    except OverflowError:  # TOML's integers have no end, and floats do
        return False


def _flat(written: Mapping[str, Any]) -> Iterable[tuple[str, object]]:
    for name, value in written.items():
        if isinstance(value, Mapping):
            yield from ((f"{name}.{inner}", one) for inner, one in value.items())
        else:
            yield name, value


def _range(setting: Setting) -> str:
    low, high = (number_text(end, setting.unit) for end in (setting.lowest, setting.highest))
    if isfinite(setting.lowest) and isfinite(setting.highest):
        return f"{low} to {high}"
    return f"{low} or more" if isfinite(setting.lowest) else f"{high} or less"


def in_force(
    chain: Iterable[tuple[str, Mapping[str, float]]], known: Mapping[str, Setting]
) -> dict[str, SettingInForce]:
    """Every setting with the value in force.

    Args:
        chain: the standards' names and the values each sets, the nearest first; the nearest wins.
        known: the settings there are, by name.
    """
    found: dict[str, SettingInForce] = {}
    for standard, values in chain:
        for name, value in values.items():
            found.setdefault(name, SettingInForce(known[name], value, standard))
    return {name: found.get(name) or SettingInForce(setting, setting.value) for name, setting in known.items()}
