"""What a described programme sends to each loudspeaker, as far as that takes no renderer, and how loud it then is.

A bed says for which loudspeaker each leg is; an object has a position that a renderer (ITU-R BS.2127) spreads over the
loudspeakers that there are, so that its loudness is that of a rendering. Weights: ITU-R BS.1770-5, Annex 3.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.deliveries import (
    Delivery,
    Played,
    channel_of,
    objects_of_programme,
    played,
    uses_of,
)
from mixlint.media.adm.model import SILENT_UID, Adm, ChannelFormat, Position
from mixlint.session import Unknown, known

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.signal.programme import Programme

SIDE_FROM: Final = 60.0
SIDE_TO: Final = 120.0
RAISED_FROM: Final = 30.0
SIDE_WEIGHT: Final = 1.41
"""ITU-R BS.1770-5, Annex 3: a loudspeaker under 30° of height between 60° and 120° counts +1.5 dB, all others 0 dB."""

RENDERED: Final = "have it rendered (ITU-R BS.2127), and measure the rendering"


class Feed(NamedTuple):
    """A leg that goes to a loudspeaker, both by number from 0, with a factor, between two times of the file."""

    speaker: int
    leg: int
    gain: float
    start_s: float
    end_s: float


class Feeds(NamedTuple):
    """All that goes to loudspeakers, and the weight of each in loudness."""

    weights: tuple[float, ...]
    feeds: tuple[Feed, ...]


def weight_of(channel: ChannelFormat) -> float:
    """What a loudspeaker counts in loudness; 0 for one of low frequencies.

    Raises:
        NotKnown: its place is not given in degrees.
    """
    if channel.low_end:
        return 0.0
    place = channel.position
    if place is None:
        known(Unknown(unknown=f"{channel.name or channel.id} does not tell its place in degrees", settle=RENDERED))
    assert place is not None
    aside = SIDE_FROM <= abs(place.azimuth) <= SIDE_TO and abs(place.elevation) < RAISED_FROM
    return SIDE_WEIGHT if aside else 1.0


def feeds_of(adm: Adm, objects: tuple[str, ...], legs: int) -> Feeds:
    """What objects send to loudspeakers.

    Args:
        adm: what the file describes.
        objects: the numbers of those that are referred to.
        legs: how many legs the file has.

    Raises:
        NotKnown: it takes a renderer, or the file does not tell.
    """
    speakers: dict[tuple[Position | None, bool], int] = {}
    weights: list[float] = []
    feeds: list[Feed] = []
    for one in played(adm, objects):
        if one.one.instead:
            what = f"{one.one.name or one.one.id} has others that play in its place"
            known(Unknown(unknown=what, settle=RENDERED))
        if one.mute or not one.one.uids:
            continue
        uses = uses_of(adm, one.one)
        if len({use.uid for use in uses}) < len(set(one.one.uids) - {SILENT_UID}):
            known(Unknown(unknown=f"a leg of {one.one.name or one.one.id} is not named in chna"))
        for use in uses:
            channel = channel_of(adm, use)
            _plain(one, use.leg, channel, legs)
            assert channel is not None
            assert channel.gain is not None
            place = (channel.position, channel.low_end)
            if place not in speakers:
                speakers[place] = len(weights)
                weights.append(weight_of(channel))
            gain = one.gain * channel.gain
            feeds.append(Feed(speakers[place], use.leg - 1, gain, one.start_s, one.end_s))
    if not feeds:
        known(Unknown(unknown="nothing plays in it"))
    return Feeds(tuple(weights), tuple(feeds))


def _plain(one: Played, leg: int, channel: ChannelFormat | None, legs: int) -> None:
    """Refuse what takes a renderer, and what the file does not tell.

    Raises:
        NotKnown: it is so.
    """
    name = one.one.name or one.one.id
    if not 1 <= leg <= legs:
        known(Unknown(unknown=f"{name} plays leg {leg} of a file that has {legs}"))
    if channel is None:
        known(Unknown(unknown=f"the file does not tell what leg {leg} is"))
    assert channel is not None
    if channel.kind != "speakers":
        known(
            Unknown(
                unknown=f"{name} is no bed, and what it sends to a loudspeaker only a renderer tells", settle=RENDERED
            )
        )
    if channel.blocks > 1 or channel.gain is None:
        known(Unknown(unknown=f"leg {leg} changes its place over time", settle=RENDERED))


@per_session
def loudness_of(context: SessionContext, delivery: Delivery, number: str) -> Programme | Unknown:
    """The loudness and true peak of what a programme or a content sends to loudspeakers, by one pass over the file.

    Args:
        context: the session with its audio.
        delivery: the file.
        number: of the programme or the content.
    """
    from mixlint.analysis.mix_prints import metered
    from mixlint.signal.programme import ProgrammeMeter

    content = delivery.adm.contents.get(number)
    objects = content.objects if content else objects_of_programme(delivery.adm, number)
    plan = feeds_of(delivery.adm, objects, delivery.legs)
    if context.audio is None:
        return Unknown(unknown="the audio was not opened", settle="review it with its audio")
    header = known(context.audio.header(delivery.media.id))
    rate = float(header.sample_rate_hz)
    meter = ProgrammeMeter(len(plan.weights), rate, plan.weights)
    at = 0

    def to_speakers(block: NDArray[np.float32]) -> NDArray[np.floating]:
        import numpy as np

        nonlocal at
        count = block.shape[1]
        out = np.zeros((len(plan.weights), count))
        for feed in plan.feeds:
            first = min(count, max(0, round(feed.start_s * rate) - at))
            last = count if feed.end_s == float("inf") else min(count, max(0, round(feed.end_s * rate) - at))
            if last > first:
                out[feed.speaker, first:last] += feed.gain * block[feed.leg, first:last]
        at += count
        return out

    return metered(context, delivery.media.id, meter, to_speakers)
