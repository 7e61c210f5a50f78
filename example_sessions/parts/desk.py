"""Short ways to write a desk down: channels, sends, processors and clips of the neutral form."""

from __future__ import annotations

from typing import Literal

from mixlint.session import (
    Automation,
    Channel,
    ChannelKind,
    Clip,
    Dynamics,
    Equalizer,
    EqualizerBand,
    Insert,
    Parameter,
    Send,
)

BPM = 96.0
BAR_S = 4 * 60.0 / BPM  # 2.5 s


def bar(number: float) -> float:
    """The time at which a bar starts, in seconds; bars count from 1."""
    return (number - 1) * BAR_S


def amplitude(db: float) -> float:
    """Decibels as a linear amplitude, to six places as it is written in a file."""
    return round(10 ** (db / 20), 6)


def send(to: str, level_db: float, tap: Literal["pre", "post"] = "post") -> Send:
    """A send that is on and centred."""
    return Send(to=to, level_db=level_db, tap=tap)


def low_cut(hertz: float, *more: EqualizerBand, name: str = "Desk EQ") -> Insert:
    """An equalizer whose first band is a 12 dB/oct low cut at ``hertz``."""
    cut = EqualizerBand(kind="high-pass", freq_hz=hertz, q=0.7071, slope_db_per_oct=12.0)
    return Insert(
        name=name,
        kind="equalizer",
        ground="declared",
        opaque=False,
        wet=100.0,
        equalizer=Equalizer(bands=(cut, *more)),
    )


def bell(hertz: float, gain_db: float, q: float = 1.0) -> EqualizerBand:
    """A bell."""
    return EqualizerBand(kind="bell", freq_hz=hertz, gain_db=gain_db, q=q)


def air(hertz: float, gain_db: float) -> EqualizerBand:
    """A high shelf."""
    return EqualizerBand(kind="high-shelf", freq_hz=hertz, gain_db=gain_db, q=0.7071)


def compressor(threshold_db: float, ratio: float, attack_ms: float, release_ms: float) -> Insert:
    """A desk compressor."""
    return Insert(
        name="Desk Compressor",
        kind="compressor",
        ground="declared",
        opaque=False,
        wet=100.0,
        dynamics=Dynamics(
            threshold_db=threshold_db,
            ratio=ratio,
            attack_ms=attack_ms,
            release_ms=release_ms,
            auto_makeup=False,
        ),
    )


def reverb(name: str, wet: float, pre_delay_ms: float = 30.0) -> Insert:
    """A reverb plug-in that lists its mix in per cent and its pre-delay in seconds; all else is hidden."""
    return Insert(
        name=name,
        kind="reverb",
        ground="declared",
        wet=wet,
        pre_delay_ms=pre_delay_ms,
        parameters=(
            Parameter(id="7", name="Mix", value=wet, unit="percent", low=0.0, high=100.0),
            Parameter(id="9", name="Pre-delay", value=pre_delay_ms / 1000, unit="seconds", low=0.0, high=0.25),
        ),
        device=f"studio.lower-slate.{name.lower().replace(' ', '-')}",
    )


def delay(name: str, wet: float) -> Insert:
    """A delay plug-in that lists its mix from 0 to 1."""
    return Insert(
        name=name,
        kind="delay",
        ground="declared",
        wet=wet,
        parameters=(Parameter(id="3", name="Dry/Wet", value=wet / 100, unit="normalized", low=0.0, high=1.0),),
        device="6c73732d-7469-6465-2d65-63686f2d3031",
    )


def clips(
    *stretches: tuple[float, float], name: str, rest_s: float = 0.3125, last_fade_s: float = 0.05
) -> tuple[Clip, ...]:
    """One clip per stretch from bar to bar, ending ``rest_s`` before the last bar line, with short fades."""
    return tuple(
        Clip(
            start_s=bar(first),
            end_s=bar(end) - rest_s,
            name=name,
            fade_in_s=0.01,
            fade_out_s=last_fade_s if number == len(stretches) - 1 else 0.05,
        )
        for number, (first, end) in enumerate(stretches)
    )


def part(
    channel_id: str,
    name: str,
    *,
    output: str,
    fader_db: float,
    pan: float = 0.0,
    legs: int = 1,
    parent: str | None = None,
    sends: tuple[Send, ...] = (),
    inserts: tuple[Insert, ...] = (),
    plays: tuple[Clip, ...] = (),
    automation: tuple[Automation, ...] = (),
    comment: str = "",
) -> Channel:
    """A recorded part on a track."""
    return Channel(
        id=channel_id,
        name=name,
        kind="track",
        parent=parent,
        plays=("audio",),
        legs=legs,
        fader_db=fader_db,
        pan=pan,
        output=output,
        sends=sends,
        inserts=inserts,
        clips=plays,
        automation=automation,
        declared_role="regular",
        comment=comment,
    )


_ROLES: dict[ChannelKind, str] = {"group": "submix", "return": "effect", "master": "master"}


def bus(
    channel_id: str,
    name: str,
    kind: Literal["group", "return", "master"],
    *,
    output: str | None,
    fader_db: float = 0.0,
    pan: float = 0.0,
    legs: int = 2,
    parent: str | None = None,
    sends: tuple[Send, ...] = (),
    inserts: tuple[Insert, ...] = (),
    declared_role: str = "",
) -> Channel:
    """A group, a return or the mix bus; ``declared_role`` where it is not the usual one."""
    return Channel(
        id=channel_id,
        name=name,
        kind=kind,
        parent=parent,
        legs=legs,
        fader_db=fader_db,
        pan=pan,
        output=output,
        sends=sends,
        inserts=inserts,
        declared_role=declared_role or _ROLES[kind],
    )
