"""Times and shares that a processor lists among its parameters, for the tables of inserts and returns.

A time is read by the unit that the export gives beside it or at the end of its name, never by the size of the number.
"""

from __future__ import annotations

from typing import Final

from mixlint.naming import SHIPPED, Vocabulary
from mixlint.naming.setting_reading import is_setting, note_values, number_of
from mixlint.session import Insert, Parameter, Unknown

_MS: Final[dict[str, float]] = {"s": 1000.0, "ms": 1.0}
"""Unit of a parameter → how many milliseconds it is."""


def delay_ms(insert: Insert, vocabulary: Vocabulary = SHIPPED) -> float | Unknown:
    """The delay time among an insert's parameters, ms, above 0; of several the first.

    Unknown where no parameter is named a time or delay, has a unit of time and is above 0.
    """
    for parameter in insert.parameters:
        if is_setting(parameter, "delay-time", vocabulary) and not is_setting(parameter, "other-time", vocabulary):
            found = _ms(parameter)
            if found is not None and found > 0.0:
                return found
    return Unknown(unknown="the export lists no delay time", settle="look at its time")


def listed_notes(insert: Insert, vocabulary: Vocabulary = SHIPPED) -> tuple[float, ...]:
    """The note values that a delay lists in place of a time, in quarter notes; none where it lists none."""
    found = [
        quarters
        for parameter in insert.parameters
        if isinstance(parameter.value, str)
        for quarters in note_values(parameter.value, vocabulary)
    ]
    return tuple(dict.fromkeys(found))


def decay_s(insert: Insert, vocabulary: Vocabulary = SHIPPED) -> float | Unknown:
    """How long a reverb rings, seconds: the decay among its parameters, else a plain time.

    Unknown where it lists none with a unit of time.
    """
    for concept in ("decay-time", "delay-time"):
        for parameter in insert.parameters:
            named = is_setting(parameter, concept, vocabulary) or (
                concept == "decay-time" and parameter.id.casefold() == "decay"
            )
            if not named or _is_pre_delay(parameter):
                continue
            found = _ms(parameter)
            if found is not None and found > 0.0:
                return found / 1000.0
    return Unknown(unknown="the export lists no decay time", settle="look at its decay")


def feedback_percent(insert: Insert, vocabulary: Vocabulary = SHIPPED) -> float | Unknown:
    """How much of a repeat a delay feeds back, per cent. Unknown where it lists none in per cent."""
    for parameter in insert.parameters:
        number = number_of(parameter)
        if is_setting(parameter, "feedback", vocabulary) and number is not None and number[1] == "%":
            return number[0]
    return Unknown(unknown="the export lists no feedback", settle="look at its feedback")


def pre_delay_ms(insert: Insert) -> float | Unknown:
    """The pre-delay of a reverb, ms: as the export gives it, or as the reverb lists it among its parameters.

    Unknown where neither does; the reason names the reverb.
    """
    given = insert.pre_delay_ms
    if not isinstance(given, Unknown):
        return given
    for parameter in insert.parameters:
        if _is_pre_delay(parameter):
            found = _ms(parameter)
            if found is not None:
                return found
    return Unknown(
        unknown=f"{insert.name or 'the reverb'}: {given.unknown}",
        settle=given.settle or "look at its pre-delay, or print the return",
    )


def _is_pre_delay(parameter: Parameter) -> bool:
    return is_setting(parameter, "pre-delay")


def _ms(parameter: Parameter) -> float | None:
    """The value in ms; None where its unit is none of time, or its value no number."""
    number = number_of(parameter)
    factor = _MS.get(number[1]) if number is not None else None
    return None if number is None or factor is None else factor * number[0]
