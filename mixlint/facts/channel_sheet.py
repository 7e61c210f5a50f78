"""The channel sheet: every channel with role, routing, levels, pans, inserts and its gain to the mix bus.

The models are the JSON form ``mixlint-sheet/1``. What the export does not show stays an ``Unknown`` with its reason.
"""

from __future__ import annotations

from math import sqrt
from typing import Literal

from mixlint.analysis.context import MID, SessionContext
from mixlint.analysis.paths import unknown_gain, unknown_wet_share
from mixlint.analysis.place_at_mix import place_at_mix
from mixlint.importers import shown_by
from mixlint.session import GAPS, Channel, Gap, Unknown, as_shown, channel_now, seen_inserts
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


class MixPlace(Frozen):
    """Where a channel stands at the mix bus, −100 left … +100 right, at 1 kHz.

    ``left`` and ``right`` are the places of the two legs of a stereo channel; of a mono channel all three are one.
    ``level_db`` is what arrives on both sides together, dB re its own signal. ``wet``: it arrives by time effects
    alone, taken at unity gain.
    """

    at: float
    left: float
    right: float
    level_db: float
    wet: bool = False


class SheetRow(Frozen):
    """One channel. ``output`` None means: declared to go nowhere; ``to_mix`` None means: its own signal never arrives;
    ``place`` None means: nor does any ambience of it.

    ``inserts_not_shown`` says why the export does not show which processors there are, where it does not.
    """

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
    place: MixPlace | Unknown | None = None
    inserts_not_shown: str = ""


class Sheet(Frozen):
    """All channels in desk order: ``mixlint-sheet/1``.

    ``shows`` are the kinds of things that what was read shows, ``gaps`` those that it does not.
    """

    format: Literal["mixlint-sheet/1"] = "mixlint-sheet/1"
    shows: tuple[Gap, ...] = ()
    gaps: tuple[Gap, ...] = ()
    channels: tuple[SheetRow, ...] = ()
    assumptions: tuple[str, ...] = ()


def sheet(context: SessionContext) -> Sheet:
    """Fill the sheet of one desk: what the faders and pans show now, automation aside."""
    shows = shown_by(context.session)
    return Sheet(
        shows=shows,
        gaps=tuple(gap for gap in GAPS if gap not in shows),
        channels=tuple(_row(context, channel) for channel in context.session.channels),
        assumptions=context.assumptions(),
    )


def _row(context: SessionContext, channel: Channel) -> SheetRow:
    role = context.roles[channel.id]
    now = channel_now(channel)
    to_mix = _to_mix(context, channel)
    return SheetRow(
        id=channel.id,
        name=context.name(channel.id),
        kind=channel.kind,
        role=role.word if role.word is not None else Unknown(unknown="; ".join(role.grounds)),
        output=channel.output,
        fader_db=now.fader_db,
        pan=now.pan,
        muted=now.mute,
        soloed=channel.solo,
        sends=tuple(
            SheetSend(to=send.to, level_db=send.level_db, pan=send.pan, tap=send.tap, on=send.on) for send in now.sends
        ),
        inserts=tuple(
            SheetInsert(
                name=insert.name,
                kind=reading.word if reading.word is not None else Unknown(unknown="; ".join(reading.grounds)),
                on=insert.on if insert.loaded is not False else False,
            )
            for insert, reading in zip(seen_inserts(now), context.processors.get(channel.id, ()), strict=True)
        ),
        to_mix=to_mix,
        place=_place(context, channel, to_mix),
        inserts_not_shown=channel.missing["inserts"].unknown if "inserts" in channel.missing else "",
    )


def _to_mix(context: SessionContext, channel: Channel) -> ToMix | Unknown | None:
    from mixlint.signal.decibel import to_db

    routing = context.routing
    if isinstance(routing.wiring.mix_bus, Unknown):
        return routing.wiring.mix_bus
    left, right = (float(side) for side in context.gains_now.sides(channel.id)[0, MID])
    if left <= 0.0 and right <= 0.0:
        if channel.id not in routing.wiring.reaching - routing.wiring.muted:
            return None
        # What may be an ambience on the way may not be seen.
        return as_shown(lambda: unknown_wet_share(context, channel))
    why = unknown_gain(context, channel.id)
    if why is not None:
        return why
    return ToMix(left_db=round(float(to_db(left)), 4), right_db=round(float(to_db(right)), 4))


def _place(context: SessionContext, channel: Channel, to_mix: ToMix | Unknown | None) -> MixPlace | Unknown | None:
    from mixlint.signal.decibel import to_db

    if isinstance(to_mix, Unknown):
        return to_mix
    found = place_at_mix(context, channel.id)
    if found is None:
        return None
    why = unknown_gain(context, channel.id)
    if why is not None:
        return why
    at, left, right = (round(one, 2) + 0.0 for one in found[:3])
    return MixPlace(at=at, left=left, right=right, level_db=round(float(to_db(sqrt(found.power))), 4), wet=found.wet)
