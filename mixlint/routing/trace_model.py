"""One channel's path to the mix bus, as the JSON form ``mixlint-trace/1`` has it."""

from __future__ import annotations

from typing import Literal

from mixlint.session import Unknown
from mixlint.session.maybe import Frozen


class Stage(Frozen):
    """The gain so far, dB re the channel's own signal, after one stage: ``stage`` at the channel called ``at``."""

    at: str
    stage: str
    left_db: float | Unknown
    right_db: float | Unknown


class Arrival(Frozen):
    """One path to the mix bus: the channels it passes by name, and the gain it arrives with.

    ``ambience`` marks a path through a time effect (reverb, delay); the others are ``direct``.
    """

    path: tuple[str, ...]
    kind: Literal["direct", "ambience"]
    left_db: float | Unknown
    right_db: float | Unknown
    stages: tuple[Stage, ...] = ()


class Trace(Frozen):
    """Every arrival of one channel at the mix bus: ``mixlint-trace/1``."""

    format: Literal["mixlint-trace/1"] = "mixlint-trace/1"
    channel: str
    at_hz: float
    arrivals: tuple[Arrival, ...] = ()
