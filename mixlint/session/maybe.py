"""A value, or the reason why it is not known; and how that reason travels up to whoever asked."""

from __future__ import annotations

from typing import Annotated, Final, TypeGuard, TypeVar

from pydantic import BaseModel, ConfigDict, Field

from mixlint.units import LOUDEST_DB

FARTHEST: Final = 1e15
"""Times and settings beyond this are no use to anyone, and their squares would leave the range of a double."""

Level = Annotated[float, Field(ge=-1000.0, le=LOUDEST_DB)]
"""A level or gain in decibels; −200 and less is silence."""

Pan = Annotated[float, Field(ge=-100.0, le=100.0)]
"""−100 (left) … +100 (right)."""

Figure = Annotated[float, Field(ge=-FARTHEST, le=FARTHEST)]
"""Seconds, hertz, a ratio, a setting."""

Rate = Annotated[float, Field(gt=0.0, le=1e12)]
"""Samples per second."""


class Frozen(BaseModel):
    """The base of every model: immutable, no extra keys, no NaN, no infinity."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False, defer_build=True)


TO_COPY: Final = "\n[roles]\n"
"""What stands in ``settle`` between how a role is settled and the lines of a standard that settle it, to be copied."""


class Unknown(Frozen):
    """What the export does not show.

    Written in JSON as ``{"unknown": "why", "settle": "what would settle it"}``.
    """

    unknown: str = Field(min_length=1)
    settle: str = ""


T = TypeVar("T")


def is_known(value: T | Unknown) -> TypeGuard[T]:
    """True when ``value`` is a value and not the reason why there is none."""
    return not isinstance(value, Unknown)


class NotKnown(Exception):
    """Carries an :class:`Unknown` from where it is met to the fact that needs the value. Never shown to a user."""

    def __init__(self, unknown: Unknown) -> None:
        super().__init__(unknown.unknown)
        self.unknown = unknown


def known(value: T | Unknown) -> T:
    """``value``, where it is known.

    Raises:
        NotKnown: it is not; what keeps facts and analyses (:class:`mixlint.facts.Table`,
            :func:`mixlint.analysis.context.per_session`) turns this into the Unknown it carries.
    """
    if isinstance(value, Unknown):
        raise NotKnown(value)
    return value
