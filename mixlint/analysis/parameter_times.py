"""Times that a processor lists among its parameters, for the tables of inserts and returns.

A time is read by the unit that the export gives beside it, never by the size of the number.
"""

from __future__ import annotations

from typing import Final

from mixlint.session import Insert, Parameter, Unknown

_MS: Final[dict[str, float]] = {"seconds": 1000.0, "s": 1000.0, "sec": 1000.0, "milliseconds": 1.0, "ms": 1.0}
"""Unit of a parameter → how many milliseconds it is."""

_DELAY_WORDS: Final = frozenset(
    {"time", "delay", "laufzeit", "verzogerung", "verzögerung", "verzoegerung", "retard", "retardo", "ritardo"}
)
"""Words by which a parameter is a delay, in the languages of the word files."""

_NO_DELAY_TIME: Final = frozenset(
    {"pre", "predelay", "decay", "attack", "release", "fade", "ramp", "mod", "modulation", "reverb", "tail"}
)
"""Words by which a parameter is another time than that between repeats."""


def delay_ms(insert: Insert) -> float | Unknown:
    """The delay time among an insert's parameters, ms, above 0; of several the first.

    Unknown where no parameter is named a time or delay, has a unit of time and is above 0.
    """
    for parameter in insert.parameters:
        words = _words(parameter)
        if _DELAY_WORDS & words and not _NO_DELAY_TIME & words:
            found = _ms(parameter)
            if found is not None and found > 0.0:
                return found
    return Unknown(unknown="the export lists no delay time", settle="look at its time")


def pre_delay_ms(insert: Insert) -> float | Unknown:
    """The pre-delay of a reverb, ms: as the export gives it, or as the reverb lists it among its parameters.

    Unknown where neither does; the reason names the reverb.
    """
    given = insert.pre_delay_ms
    if not isinstance(given, Unknown):
        return given
    for parameter in insert.parameters:
        words = _words(parameter)
        if "predelay" in words or {"pre", "delay"} <= words:
            found = _ms(parameter)
            if found is not None:
                return found
    return Unknown(
        unknown=f"{insert.name or 'the reverb'}: {given.unknown}",
        settle=given.settle or "look at its pre-delay, or print the return",
    )


def _words(parameter: Parameter) -> frozenset[str]:
    """The words of a parameter's name, in small letters."""
    return frozenset(parameter.name.casefold().replace("-", " ").replace("_", " ").split())


def _ms(parameter: Parameter) -> float | None:
    """The value in ms; None where its unit is none of time, or its value no number."""
    factor = _MS.get(parameter.unit.casefold())
    number = parameter.value
    if factor is None or isinstance(number, bool) or not isinstance(number, int | float):
        return None
    return factor * float(number)
