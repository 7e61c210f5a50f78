"""What each microphone of a family makes with the one it is told against: the comb of the two, as it is heard."""

from __future__ import annotations

from math import inf, log10
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.context import MID, SessionContext, per_session
from mixlint.analysis.media_use import media_of, plain_clips, rate_hz
from mixlint.analysis.performances import Related
from mixlint.facts.microphones.families import Family, sign_of, signs
from mixlint.facts.microphones.timing import heard_lag_s, late_members, slips
from mixlint.naming import pair_kind
from mixlint.session import Channel, is_known
from mixlint.signal.comb import depth_db, first_notch_hz

if TYPE_CHECKING:
    from collections.abc import Iterator

SOUND_M_S: Final = 343.0
"""The speed of sound in air at 20 °C, metres a second."""


class Comb(NamedTuple):
    """Two channels that hear one performance, as they are heard: delays and polarity switches of the desk counted in.

    Args:
        earlier, later: the channels.
        lag_s: how much later the later one is, seconds, 0 or more.
        course_s: the same at first and at last, where it changes; below 0 where the later one is the earlier one then.
        samples: the lag in samples of the later one's file; None where its rate is not known.
        polarity: 1 the same, −1 turned over, 0 where it cannot be told.
        agreement: magnitude-squared coherence of the two, 0 to 1.
        clear: enough seconds agree to say what the two are to each other.
        late: the later one is late beyond the way its sound takes.
        turned: which of the two is turned over against most of its family, where one of them is.
        apart_db: how much louder the later one is in the mix folded to mono, dB.
        side_apart_db: the same on the side of the mix on which the two are nearest in level; infinite where no side has
            both.
    """

    earlier: Channel
    later: Channel
    lag_s: float
    course_s: tuple[float, float] | None
    samples: float | None
    polarity: int
    agreement: float
    clear: bool
    late: bool
    turned: Channel | None
    apart_db: float
    side_apart_db: float

    @property
    def distance_m(self) -> float:
        """How far sound goes in that time, metres."""
        return self.lag_s * SOUND_M_S

    @property
    def notch_hz(self) -> float | None:
        """The lowest notch of their sum; None where the polarity leaves it open."""
        return first_notch_hz(self.lag_s, self.polarity) if self.polarity else None

    @property
    def mono_db(self) -> float:
        """How deep the notch is in mono, dB under the sum of the two powers, 0 or less."""
        return depth_db(self.apart_db, self.agreement)

    @property
    def stereo_db(self) -> float:
        """How deep it is on the side of the mix where it is deepest, before both sides are summed."""
        return depth_db(self.side_apart_db, self.agreement)


@per_session
def combs(context: SessionContext, family: Family) -> tuple[Comb, ...]:
    """One comb for each member but the reference, in desk order: with the one it is late against, else the reference.

    A member that was not held against the reference is told against the one it is most clearly related to. Two
    microphones on one source, and the left and the right of a pair, are told against each other besides.
    """
    late = {one.channel.id: one.against.id for one in late_members(context, family)}
    chosen: dict[frozenset[str], Related] = {}
    for member in family.members:
        own = [edge for edge in family.edges if member.id in (edge.one.id, edge.other.id)]
        if not own or (member is family.reference and member.id not in late):
            continue
        wanted = late.get(member.id, family.reference.id)
        best = max(own, key=lambda edge: (wanted in (edge.one.id, edge.other.id), edge.weight))
        chosen.setdefault(frozenset((best.one.id, best.other.id)), best)
    words = context.house.vocabulary
    for edge in family.edges:
        if pair_kind(edge.one.name, edge.other.name, words) in ("microphones", "sides"):
            chosen.setdefault(frozenset((edge.one.id, edge.other.id)), edge)
    turned = {channel.id for channel in signs(context, family).turned}
    return tuple(_comb(context, family, edge, late, turned) for edge in chosen.values())


def _comb(context: SessionContext, family: Family, edge: Related, late: dict[str, str], turned: set[str]) -> Comb:
    lag = heard_lag_s(context, edge)
    earlier, later, sign = (edge.one, edge.other, 1.0) if lag >= 0.0 else (edge.other, edge.one, -1.0)
    sides = [context.gains_now.sides(channel.id)[0, MID] for channel in (edge.one, edge.other)]
    louder = [edge.found.level_db + _ratio_db(float(b), float(a)) for a, b in zip(*sides, strict=True)]
    mono = edge.found.level_db + _ratio_db(float(sides[1].sum()), float(sides[0].sum()))
    delays_s = lag - edge.found.lag_s
    course: tuple[float, float] | None = None
    for slip in slips(context, family):
        if {slip.channel.id, slip.against.id} == {edge.one.id, edge.other.id}:
            way = 1.0 if slip.channel is later else -1.0
            course = (way * slip.course.before_s + sign * delays_s, way * slip.course.after_s + sign * delays_s)
    rate = next(_rates(context, later), None)
    over = [channel for channel in (earlier, later) if channel.id in turned]
    return Comb(
        earlier=earlier,
        later=later,
        lag_s=abs(lag),
        course_s=course,
        samples=abs(lag) * rate if rate else None,
        polarity=sign_of(context, edge),
        agreement=edge.found.agreement,
        clear=edge.sound is not None,
        late=late.get(later.id) == earlier.id,
        turned=over[0] if len(over) == 1 else None,
        apart_db=sign * mono,
        side_apart_db=sign * min(louder, key=abs),
    )


def _rates(context: SessionContext, channel: Channel) -> Iterator[float]:
    for clip in plain_clips(channel):
        media = media_of(context, clip.file) if clip.file is not None else None
        rate = rate_hz(context, media) if media is not None else None
        if rate is not None and is_known(rate):
            yield rate


def _ratio_db(one: float, other: float) -> float:
    """The ratio of two amplitudes, dB; infinite where one of them is nothing."""
    if one <= 0.0 or other <= 0.0:
        return inf if other <= 0.0 else -inf
    return 20.0 * log10(one / other)
