"""The channel sheet: every channel with role, routing, levels, pans, inserts and its gain to the mix bus.

The models are the JSON form ``mixlint-sheet/1``. What the export does not show stays an ``Unknown`` with its reason.
"""

from __future__ import annotations

from typing import Literal

from mixlint.session import Unknown
from mixlint.session.maybe import Frozen


class SheetSend(Frozen):
    """One send: ``to`` is the id of the channel it leads to; ``pan`` −100…+100."""

    to: str | Unknown
    level_db: float | Unknown
    pan: float | Unknown
    tap: Literal["pre", "post"] | Unknown
    on: bool | Unknown


class SheetInsert(Frozen):
    """One insert: what sits in it, of what kind, and whether it is on."""

    name: str
    kind: str | Unknown
    on: bool | Unknown


class ToMix(Frozen):
    """The gain of a channel's own signal to the mix bus at 1 kHz, dB, by every path without a time effect."""

    left_db: float
    right_db: float


class SheetRow(Frozen):
    """One channel. ``output`` None means: declared to go nowhere; ``to_mix`` None means: it never arrives."""

    id: str
    name: str
    kind: str | Unknown
    role: str | Unknown
    output: str | Unknown | None
    fader_db: float | Unknown
    pan: float | Unknown
    muted: bool | Unknown
    soloed: bool | Unknown
    sends: tuple[SheetSend, ...] = ()
    inserts: tuple[SheetInsert, ...] = ()
    to_mix: ToMix | Unknown | None = None


class Sheet(Frozen):
    """All channels in desk order: ``mixlint-sheet/1``."""

    format: Literal["mixlint-sheet/1"] = "mixlint-sheet/1"
    channels: tuple[SheetRow, ...] = ()
