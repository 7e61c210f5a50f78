"""Sends into stereo returns that are panned otherwise than all others: neither straight nor where their part stands."""

from __future__ import annotations

from typing import Final, NamedTuple

from mixlint.analysis.channel_purpose import carries_content, is_cue, is_return
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.settings import Setting
from mixlint.session import PAN, Channel, control_of, controls_of_send, is_known
from mixlint.units import few_text, number_text

ASIDE: Final = Setting(
    "send_pans.aside",
    30.0,
    "pan distance",
    "A send that stands so far from where it is expected was panned.",
    lowest=1.0,
)
LEAST_SENDS: Final = Setting(
    "send_pans.least_others", 2.0, "", "So many other sends into a return show how sends are panned there.", lowest=1.0
)
LEAST_FOLLOWING: Final = 3
"""Of so many parts at either side whose sends all follow them, no other is sent straight by intent: a definition."""

NEAR: Final = 10.0
"""So near to the centre, or to its part, a send is straight, or follows it. No setting: it is no place of its own."""


class _Panned(NamedTuple):
    """An open send into a stereo return, with where it and the channel it leaves are panned."""

    channel: Channel
    number: int
    pan: float
    of_part: float

    @property
    def straight(self) -> bool:
        return abs(self.pan) <= NEAR

    @property
    def follows(self) -> bool:
        return abs(self.pan - self.of_part) <= NEAR


@per_session
def _into(context: SessionContext) -> dict[str, list[_Panned]]:
    """Return id → the sends into it whose pans stand; of a mono return none, where they do nothing."""
    found: dict[str, list[_Panned]] = {}
    for channel in context.session.channels:
        place = control_of(channel, PAN)
        if not channel.sends or place.moves or not is_known(place.now) or not carries_content(context, channel.id):
            continue
        for number, send in enumerate(channel.sends):
            to = context.channels.get(send.to) if isinstance(send.to, str) else None
            controls = controls_of_send(channel, number)
            if to is None or to.legs != 2 or is_cue(context, to) or not is_return(context, to):
                continue
            if controls.can_be_open is True and not controls.pan.moves and is_known(controls.pan.now):
                found.setdefault(to.id, []).append(_Panned(channel, number, controls.pan.now, place.now))
    return found


@per_session
def send_pans_apart(context: SessionContext) -> dict[tuple[str, int], str]:
    """Channel id and number of a send that alone is panned otherwise than all others into its return → how.

    What is sent across on purpose, a guitar's room to the other side, is answered by another one, and says nothing.
    """
    found: dict[tuple[str, int], str] = {}
    aside = context.setting(ASIDE)
    for several in _into(context).values():
        odd = [one for one in several if not one.straight and not one.follows]
        spread = [one for one in several if abs(one.of_part) >= aside]
        following = [one for one in spread if one.follows]
        left = [one for one in spread if not one.follows]
        if len(odd) == 1 and len(several) > context.setting(LEAST_SENDS):
            (one,) = odd
            across = abs(one.of_part) > NEAR
            off = min(abs(one.pan), abs(one.pan - one.of_part))
            if off >= aside and (not across or len(following) >= LEAST_FOLLOWING):
                others = few_text([context.name(other.channel.id) for other in several if other is not one])
                how = "follow their pans" if across else "go straight" if not following else "go straight or follow"
                found[one.channel.id, one.number] = (
                    f"is panned {number_text(one.pan, 'pan')}, the part {number_text(one.of_part, 'pan')}; "
                    f"those of {others} {how}"
                )
        elif not odd and len(left) == 1 and len(following) >= LEAST_FOLLOWING:
            (one,) = left
            others = few_text([context.name(other.channel.id) for other in following])
            found[one.channel.id, one.number] = (
                f"goes straight, the part is panned {number_text(one.of_part, 'pan')}; "
                f"those of {others} follow their pans"
            )
    return found
