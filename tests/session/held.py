"""Sessions in which every control is held by automation, whatever is stored."""

from __future__ import annotations

from collections.abc import Iterator

from mixlint.session import Automation, Channel, Control, Session, Target, control_of
from mixlint.session.control import with_controls

WORDS_OF_BANDS = ("on", "freq", "gain", "q", "slope")
WORDS_OF_DYNAMICS = (
    "threshold", "ratio", "attack", "release", "knee", "range", "inputgain", "outputgain", "automakeup",
)  # fmt: skip


def controls(channel: Channel) -> Iterator[Control]:
    """Every control of a channel that the session stores as a number or a switch."""
    targets = [Target.parse(text) for text in ("fader", "pan", "mute")]
    targets += [Target.send(n, word) for n in range(len(channel.sends)) for word in ("level", "pan", "on")]
    for n, insert in enumerate(channel.inserts):
        words = ["on", "wet", "inputgain", "outputgain", *(parameter.id for parameter in insert.parameters)]
        if insert.equalizer is not None:
            places = range(1, len(insert.equalizer.bands) + 1)
            words += [f"band:{place}:{word}" for place in places for word in WORDS_OF_BANDS]
        if insert.dynamics is not None:
            words += WORDS_OF_DYNAMICS
        targets += [Target.insert(n, word) for word in dict.fromkeys(words)]
    found = (control_of(channel, target) for target in targets)
    return (control for control in found if isinstance(control.static, float))


def scale(control: Control) -> str:
    """The scale on which a lane moves a control."""
    if control.is_switch:
        return "switch"
    if control.target.kind in ("pan", "send-pan"):
        return "pan"
    return "dB" if control.target.is_level else "plain"


def elsewhere(control: Control) -> float:
    """A value that the control does not stand at."""
    if control.is_switch:
        return 1.0 - control.static
    return 42.0 if control.static != 42.0 else 43.0


def held(session: Session) -> Session:
    """The same mix, in which a lane of one point holds every control that none moves, and another value is stored."""
    return session.model_copy(update={"channels": tuple(map(_held, session.channels))})


def _held(channel: Channel) -> Channel:
    moving = {lane.target for lane in channel.automation}
    free = [control for control in controls(channel) if control.target not in moving]
    lanes = (Automation(target=c.target, scale=scale(c), t=(0.0,), v=(c.static,)) for c in free)
    stored = with_controls(channel, {control.target: elsewhere(control) for control in free})
    return stored.model_copy(update={"automation": (*channel.automation, *lanes)})
