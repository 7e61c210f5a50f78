"""Who of a family of microphones is late beyond the way its sound takes, and whose lag changes in the song."""

from __future__ import annotations

from typing import Final, Literal, NamedTuple

from mixlint.analysis.automation_range import position_of
from mixlint.analysis.context import MID, SessionContext, per_session
from mixlint.analysis.gain_to_mix_bus import power_ratio_db
from mixlint.analysis.inserts import active_inserts
from mixlint.analysis.parameter_times import delay_ms
from mixlint.analysis.performances import HEAR_ALL, KIT, Related, are_microphones
from mixlint.analysis.settings import Setting
from mixlint.facts.microphones.families import FAMILY_SETTINGS, Family
from mixlint.naming import fold_name, is_direct, pair_kind
from mixlint.session import Channel, is_known
from mixlint.signal.lag_course import Course, course

Stand = Literal["direct", "close", "wide", "room"]

TOGETHER: Final = Setting(
    "microphones.together",
    1.0,
    "ms",
    "Two microphones on one instrument, or a direct signal and its microphone, may lie so far apart: 34 cm of air.",
    lowest=0.0,
)
EARLY: Final = Setting(
    "microphones.early",
    0.5,
    "ms",
    "A close microphone later than the overheads or the room by more than this was moved.",
    lowest=0.0,
)
WIDE: Final = Setting(
    "microphones.overheads_late",
    8.0,
    "ms",
    "Overheads and other distant microphones of one kit may come so late: 2.7 m of air.",
    lowest=1.0,
)
ROOM: Final = Setting(
    "microphones.rooms_late", 40.0, "ms", "Room microphones may come so late: 14 m of air.", lowest=1.0
)
SIDES: Final = Setting(
    "microphones.sides_apart",
    3.0,
    "ms",
    "The left and the right of a stereo pair of microphones may lie so far apart: a metre of air.",
    lowest=0.0,
)
SPACED: Final = Setting(
    "microphones.spaced", 60.0, "pan distance", "From this distance on two microphones are a spaced pair.", lowest=1.0
)
NEAR_LEVEL: Final = Setting(
    "microphones.comb_level", 12.0, "dB", "Most difference in level at which a delay between two is heard as a comb."
)
ECHO: Final = Setting(
    "microphones.echo",
    8.0,
    "ms",
    "A direct signal and its amplifier so far apart blur each attack, whatever their levels.",
    lowest=1.0,
)
SLIP: Final = Setting(
    "microphones.least_slip", 0.4, "ms", "A lag that changes by less than this in the song is the player's own move.",
    lowest=0.1,
)  # fmt: skip
LATE_SETTINGS: Final = (*FAMILY_SETTINGS, TOGETHER, EARLY, WIDE, ROOM, SIDES, SPACED, NEAR_LEVEL, ECHO)
SLIP_SETTINGS: Final = (*FAMILY_SETTINGS, SLIP)

FAR_WORDS: Final = frozenset({"room", "far", "amb", "ambience", "hall", "audience"})
FAR_ROLES: Final = frozenset({"drum-room", "room", "audience"})
WIDE_ROLES: Final = frozenset({"overheads", "main-pair"})


def stand_of(context: SessionContext, channel: Channel) -> Stand:
    """Where a microphone stands by its name: at the instrument, over it, in the room; or none, a direct signal."""
    role = context.role(channel.id)
    if role in FAR_ROLES or FAR_WORDS & set(fold_name(channel.name, separators=True).split()):
        return "room"
    if role in WIDE_ROLES:
        return "wide"
    return "direct" if is_direct(channel.name, context.house.vocabulary) else "close"


def heard_lag_s(context: SessionContext, edge: Related) -> float:
    """How much later the second of two channels is heard: by its recording, and by the delays set on both, seconds."""
    return edge.found.lag_s + _delay_s(context, edge.other) - _delay_s(context, edge.one)


def _delay_s(context: SessionContext, channel: Channel) -> float:
    """What the delays of a channel's utility processors add that bring it in time, seconds."""
    times = [
        delay_ms(insert) for insert, reading in active_inserts(context, channel) if reading.word in ("utility", None)
    ]
    return sum(time / 1000.0 for time in times if is_known(time))


def level_apart_db(context: SessionContext, edge: Related) -> float:
    """How much louder the second of two channels brings what they share to the mix bus, both sides in mono, dB."""
    one, other = (mono_gain(context, channel) for channel in (edge.one, edge.other))
    return edge.found.level_db + (power_ratio_db(other * other, one * one) if one > 0.0 or other > 0.0 else 0.0)


def mono_gain(context: SessionContext, channel: Channel) -> float:
    """The gain of a channel's direct paths to the mix bus at 1 kHz, both sides folded to mono."""
    return float(context.gains_now.sides(channel.id)[0, MID].sum()) / 2.0


class Late(NamedTuple):
    """A member that is late beyond the way its sound takes.

    Args:
        channel: the late one.
        against: whom it should come before, or lie with.
        late_s: by how much it is late against that one, seconds.
        beyond_s: how far beyond what is natural there.
    """

    channel: Channel
    against: Channel
    late_s: float
    beyond_s: float


@per_session
def late_members(context: SessionContext, family: Family) -> tuple[Late, ...]:
    """The members that are late beyond what is natural, the worst first; of several relations of one the worst."""
    worst: dict[str, Late] = {}
    for edge in family.edges:
        if edge.sound is None or (edge.found.polarity is None and edge.found.bandwidth_hz < NARROW_HZ):
            continue
        late = _late(context, edge)
        if late is not None and (late.channel.id not in worst or late.beyond_s > worst[late.channel.id].beyond_s):
            worst[late.channel.id] = late
    return tuple(sorted(worst.values(), key=lambda late: -late.beyond_s))


NARROW_HZ: Final = 300.0
"""Where two agree over less of the spectrum than this, and either polarity fits, the delay is that of a filter."""


def _late(context: SessionContext, edge: Related) -> Late | None:
    """Who of two is late beyond what is natural; None where nobody is."""
    lag = heard_lag_s(context, edge)
    one, other = stand_of(context, edge.one), stand_of(context, edge.other)
    rank: dict[Stand, int] = {"direct": 0, "close": 0, "wide": 1, "room": 2}
    first, second, by = (edge.one, edge.other, lag) if rank[one] <= rank[other] else (edge.other, edge.one, -lag)
    near, far = (one, other) if rank[one] <= rank[other] else (other, one)
    if rank[near] < rank[far]:
        if context.role(second.id) in HEAR_ALL and context.family(first.id) not in KIT:
            return None  # a player beside the kit, whom the kit's own microphones hear from where they hang
        main = context.role(second.id) == "main-pair"
        most = context.setting(ROOM if far == "room" or main else WIDE) / 1000.0
        early = context.setting(EARLY) / 1000.0
        if near == "wide":
            early *= 2.0
        if by < -early:
            return Late(first, second, -by, -by - early)
        return Late(second, first, by, by - most) if by > most else None
    if far == "room":
        return None
    later, earlier = (second, first) if by > 0.0 else (first, second)
    words = context.house.vocabulary
    kind = (
        "microphones"
        if are_microphones(context, edge.one, edge.other)
        else pair_kind(edge.one.name, edge.other.name, words)
    )
    if far == "wide" or kind == "sides":
        most = context.setting(SIDES) / 1000.0
    elif kind == "microphones" or _one_part(context, edge):
        # Far apart in level there is no comb; a direct signal and its amplifier that are an echo apart are told still.
        echo = "direct" in (near, far) and abs(by) >= context.setting(ECHO) / 1000.0
        if abs(level_apart_db(context, edge)) > context.setting(NEAR_LEVEL) and not echo:
            return None
        here, there = position_of(context, edge.one), position_of(context, edge.other)
        if is_known(here) and is_known(there) and abs(here - there) >= context.setting(SPACED):
            return None
        most = context.setting(TOGETHER) / 1000.0
        if not {"direct"} & {near, far} and context.role(edge.one.id) in ("kick", "snare"):
            most *= 2.0  # inside, outside and below a drum
    else:
        # Two players in one room: each one's microphone hears the other from where that one sits.
        kit = context.family(edge.one.id) in KIT and context.family(edge.other.id) in KIT
        most = context.setting(WIDE if kit else ROOM) / 1000.0
    return Late(later, earlier, abs(by), abs(by) - most) if abs(by) > most else None


def _one_part(context: SessionContext, edge: Related) -> bool:
    """True where both are of one part that is not a kit's: two microphones on one guitar, whatever they are called.

    Of a section, a choir or strings, two are of one player only where their names share a word and no number tells them
    apart.
    """
    one, other = edge.one, edge.other
    role = context.role(one.id)
    if role is None or role != context.role(other.id) or role in ("toms", "drums", "percussion"):
        return False
    if role not in SECTIONS:
        return True
    names = [set(fold_name(channel.name, separators=True).split()) for channel in (one, other)]
    return bool(names[0] & names[1]) and pair_kind(one.name, other.name, context.house.vocabulary) != "numbers"


SECTIONS: Final = frozenset({"strings", "winds", "brass", "choir", "backing-vocals", "vocal-double", "vocal"})
"""Roles of which several play or sing side by side, each with a microphone."""


class Slip(NamedTuple):
    """A member whose lag changes in the song.

    Args:
        channel: the one that slips.
        against: the one it is told against.
        course: how its lag against that one runs.
    """

    channel: Channel
    against: Channel
    course: Course

    @property
    def by_s(self) -> float:
        """By how much it becomes later, seconds."""
        return self.course.after_s - self.course.before_s


@per_session
def slips(context: SessionContext, family: Family) -> tuple[Slip, ...]:
    """The members whose lag changes, the worst first.

    In a kit a microphone that hears all of it changes its lag with what plays: a member of a family of three or more
    has to change by the same amount against two others.
    """
    found: dict[str, list[Slip]] = {}
    for edge in family.edges:
        run = course(edge.found.seen)
        if run is None or 1000.0 * abs(run.after_s - run.before_s) < context.setting(SLIP):
            continue
        back = run._replace(before_s=-run.before_s, after_s=-run.after_s)
        found.setdefault(edge.other.id, []).append(Slip(edge.other, edge.one, run))
        found.setdefault(edge.one.id, []).append(Slip(edge.one, edge.other, back))
    out: list[Slip] = []
    taken: set[str] = set()
    direct = context.house.vocabulary

    def likeliest(member: str) -> tuple[int, int, int]:
        channel = context.channels[member]
        kept = channel.id == family.reference.id or is_direct(channel.name, direct)
        return -len(found[member]), int(kept), -context.order[member]

    for member in sorted(found, key=likeliest):
        mine = [slip for slip in found[member] if slip.against.id not in taken]
        alike = [slip for slip in mine if sum(abs(slip.by_s - other.by_s) < ALIKE_S for other in mine) >= 2]
        if member not in taken and (alike or (len(family.members) == 2 and mine)):
            out.append((alike or mine)[0])
            taken.add(member)
    return tuple(sorted(out, key=lambda slip: -abs(slip.by_s)))


ALIKE_S: Final = 2e-4
"""Changes against two others that differ by no more than this are one move: rounding of delays."""
