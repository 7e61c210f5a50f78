"""A value, or the reason why it is not known."""

from __future__ import annotations

from typing import TypeGuard, TypeVar

from pydantic import BaseModel, ConfigDict


class Frozen(BaseModel):
    """The base of every model: immutable, no extra keys, no NaN, no infinity."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False, defer_build=True)


class Unknown(Frozen):
    """What the export does not show.

    Written in JSON as ``{"unknown": "why", "settle": "what would settle it"}``.
    """

    unknown: str
    settle: str = ""


T = TypeVar("T")


def is_known(value: T | Unknown) -> TypeGuard[T]:
    """True when ``value`` is a value and not the reason why there is none."""
    return not isinstance(value, Unknown)
