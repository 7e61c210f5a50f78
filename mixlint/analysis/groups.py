"""Families and their groups: which bus is a family's own, and which groups a part's main output passes.

That the parts of a family share a group is common practice, no source.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from typing import Final, NamedTuple

from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.named_pairs import paired_by_name
from mixlint.analysis.settings import Setting
from mixlint.naming import families_named, is_tuned_percussion, pair_kind, stem_of
from mixlint.naming.fold import as_read
from mixlint.session import Channel

LEAST_MEMBERS: Final = Setting(
    "groups.least_members", 3.0, "", "So many parts of one family that go through a group can make it the family's own."
)

LEAST_SHARE: Final = Setting(
    "groups.least_share", 50.0, "%", "More than this share of a family goes through the group that is its own."
)

LEAST_NAMED: Final = Setting(
    "groups.least_named",
    2.0,
    "",
    "So many parts of a family that go through the group of its name, all of them but one, make it the family's own.",
    lowest=1.0,
)

HOME: Final = (LEAST_MEMBERS, LEAST_SHARE, LEAST_NAMED)
"""What :func:`home_group_of` reads."""

GROUPED_FAMILIES: Final = frozenset({"drums", "vocals", "guitars", "strings", "winds", "percussion", "sound-effects"})
"""Families whose parts are commonly mixed through a group of their own."""


def groups_on_the_path(context: SessionContext, channel_id: str) -> tuple[str, ...]:
    """Ids of the channels that a channel's main output passes, nearest first; the mix bus is left out.

    Sends do not count. A loop of outputs ends where it comes round.
    """
    wiring = context.routing.wiring
    found: list[str] = []
    here = channel_id
    while True:
        out = next((e for e in wiring.leaving.get(here, ()) if e.kind == "output"), None)
        if out is None or out.to in found or out.to == wiring.mix_bus:
            return tuple(found)
        found.append(out.to)
        here = out.to


LEAST_NAMESAKES: Final = Setting(
    "groups.least_namesakes",
    2.0,
    "",
    "So many parts of one name, numbers and sides aside, that share an output show where they all belong.",
    lowest=1.0,
)


SIDE_BY_SIDE: Final = ("sides", "microphones", "doubles")
"""Kinds of pairs of which one is enough to show where the other goes."""


class SharedOutput(NamedTuple):
    """Where the namesakes of a part go, and this part does not.

    Args:
        to: id of the channel that all of them go out to.
        names: their names.
    """

    to: str
    names: tuple[str, ...]


@per_session
def output_of_namesakes(context: SessionContext, channel: Channel) -> SharedOutput | None:
    """The output that all parts of one name share, numbers and sides aside, where this part goes elsewhere.

    None where it goes there too, where they do not agree, and where there are too few of them: one is enough for the
    other side of a pair, and for the other microphone on one instrument.
    """
    words = context.house.vocabulary
    stem = stem_of(channel.name, words)
    if not stem or not isinstance(channel.output, str):
        return None
    if _disagree(context, stem, channel):
        return None
    paired = {other.id: kind for other, kind in paired_by_name(context, channel)}
    others = [other for other in _parts_by_stem(context).get(stem, ()) if other.id != channel.id]
    if not others:
        # A double may have a group of its own; one that goes to the mix bus bare was forgotten.
        bare = channel.output == context.routing.wiring.mix_bus
        kinds = ("microphones", "doubles") if bare else ("microphones",)
        others = [
            other
            for other, kind in paired_by_name(context, channel)
            if kind in kinds
            and is_source(context, other)
            # A part that its name does not tell is read by the group it goes to, so that the family shows nothing.
            and families_named(channel.name, words) == families_named(other.name, words)
        ]
    sided = any(paired.get(other.id) in SIDE_BY_SIDE for other in others)
    outputs = {other.output for other in others if isinstance(other.output, str)}
    if (
        len(outputs) != 1
        or channel.output in outputs
        or len(others) < (1 if sided else context.setting(LEAST_NAMESAKES))
    ):
        return None
    to = outputs.pop()
    group = context.channels.get(to)
    if group is None or group.kind != "group" or to in context.routing.wiring.downstream([channel.output]):
        return None  # where the others go is what its own group runs into: they are the ones that go past
    return SharedOutput(to, tuple(context.name(other.id) for other in others))


@per_session
def _parts_by_stem(context: SessionContext) -> dict[str, list[Channel]]:
    """Name without numbers and sides → the parts that bear it, in desk order."""
    found: dict[str, list[Channel]] = {}
    for part in context.session.channels:
        if is_source(context, part):
            found.setdefault(stem_of(part.name, context.house.vocabulary), []).append(part)
    return found


def _disagree(context: SessionContext, stem: str, channel: Channel) -> bool:
    """True where the other parts of a name go to several places, or one goes where the channel does: told by counts."""
    counted = _outputs_by_stem(context).get(stem, Counter())
    there = counted[channel.output] - is_source(context, channel)
    return there > 0 or len(counted.keys() - {channel.output}) > 1


@per_session
def _outputs_by_stem(context: SessionContext) -> dict[str, Counter[object]]:
    """Name without numbers and sides → how many of its parts go where."""
    return {
        stem: Counter(part.output for part in parts if isinstance(part.output, str))
        for stem, parts in _parts_by_stem(context).items()
    }


def home_group_of(context: SessionContext, channel: Channel) -> str | None:
    """Id of the group that is the own one of the channel's family: enough of its parts, and most, go through there.

    A group that is named for the family, and that all the others of it go through and nobody else, is its own as well,
    voices aside: those of a lead and of a choir are often kept apart. So is the one that all others of its part go to,
    and nobody else, where the channel goes out to a group of other families. None where the family has none, or the
    channel's role tells no family, where the group is one part's by its number (``Guitar 1``) and the channel bears
    another one, and for percussion that plays notes.
    """
    family = context.family(channel.id) or ""
    home = (
        _home_groups(context).get(family)
        or _named_home(context, family, channel)
        or _home_of_all_others(context, family, channel)
    )
    if home is None or (family == "percussion" and is_tuned_percussion(channel.name, context.house.vocabulary)):
        return None
    numbers = _numbers(context.channels[home].name)
    return None if numbers and numbers.isdisjoint(_numbers(channel.name) or numbers) else home


def _numbers(name: str) -> frozenset[str]:
    """The numbers in a name."""
    return frozenset(re.findall(r"[0-9]+", name))


def _named_home(context: SessionContext, family: str, channel: Channel) -> str | None:
    """Id of the group of a family's name that all of the family but one channel go through, and nobody else.

    A few others are enough, or one that is the second microphone or direct signal of that very channel.
    """
    if family in ("", "vocals"):
        return None
    words = context.house.vocabulary
    others = [part for part in parts_by_family(context).get(family, ()) if part.id != channel.id]
    twins = len(others) == 1 and pair_kind(channel.name, others[0].name, words) == "microphones"
    if not (twins or len(others) >= context.setting(LEAST_NAMED)):
        return None
    for group in groups_on_the_path(context, others[0].id):
        if family in _MANY_INSTRUMENTS and _of_one_instrument(context, group, channel, others):
            continue
        named = families_named(context.channels[group].name, words) == {family}
        if named and _families_through(context).get(group) == {family}:
            through = all(group in groups_on_the_path(context, part.id) for part in others)
            return group if through else None
    return None


_MANY_INSTRUMENTS: Final = frozenset({"plucked"})
"""Families of so different instruments that no word names all of them."""


def _of_one_instrument(context: SessionContext, group: str, channel: Channel, others: list[Channel]) -> bool:
    """True for the group of one instrument: a word of its name is in those of all its parts, and not in this one's."""
    parts = [frozenset(as_read(other.name).split()) for other in others]
    shared = frozenset(as_read(context.channels[group].name).split()).intersection(*parts)
    return bool(shared) and shared.isdisjoint(as_read(channel.name).split())


_KEPT_APART: Final = frozenset({"vocals", "guitars", "winds"})
"""Families whose parts are often kept in several groups."""


def _home_of_all_others(context: SessionContext, family: str, channel: Channel) -> str | None:
    """Id of the group that all others of a part go out to, and nobody else, where this one goes to strangers."""
    if family not in GROUPED_FAMILIES - _KEPT_APART or not isinstance(channel.output, str):
        return None
    counts = _counts_of_outputs(context)
    kin = counts.of_role[family, context.role(channel.id)] - Counter(
        [channel.output] if is_source(context, channel) else []
    )
    least = context.setting(LEAST_NAMED)
    if kin.total() < least or len(kin) != 1 or counts.strangers(family, channel.output) < least:
        return None
    group, own = (context.channels.get(str(one)) for one in (*kin, channel.output))
    if group is None or own is None or group.id == own.id or not group.kind == own.kind == "group":
        return None
    if counts.strangers(family, group.id):
        return None
    wiring = context.routing.wiring
    in_a_row = group.id in wiring.downstream([own.id]) or own.id in wiring.downstream([group.id])
    return None if in_a_row else group.id


class _Outputs(NamedTuple):
    """How many parts go where.

    Args:
        of_role: family and role → where its parts go.
        by_family: where parts go → of which families they are.
    """

    of_role: dict[tuple[str | None, str | None], Counter[object]]
    by_family: dict[object, Counter[str | None]]

    def strangers(self, family: str, to: str) -> int:
        """How many parts of other families go to a channel."""
        there = self.by_family[to]
        return there.total() - there[family]


@per_session
def _counts_of_outputs(context: SessionContext) -> _Outputs:
    found = _Outputs(defaultdict(Counter), defaultdict(Counter))
    for family, parts in parts_by_family(context).items():
        for part in parts:
            found.of_role[family, context.role(part.id)][part.output] += 1
            found.by_family[part.output][family] += 1
    return found


@per_session
def parts_by_family(context: SessionContext) -> dict[str | None, list[Channel]]:
    """Family → its parts, in desk order; under None those whose names do not tell."""
    found: dict[str | None, list[Channel]] = {}
    for part in context.session.channels:
        if is_source(context, part):
            found.setdefault(context.family(part.id), []).append(part)
    return found


@per_session
def _home_groups(context: SessionContext) -> dict[str, str]:
    """Family → id of the group that is its own, for the families that have one."""
    members, share = context.setting(LEAST_MEMBERS), context.setting(LEAST_SHARE) / 100.0
    groups = {}
    for family, parts in parts_by_family(context).items():
        if family not in GROUPED_FAMILIES:
            continue
        counted = Counter(group for part in parts for group in groups_on_the_path(context, part.id))
        # Of groups in a row the one that the fewest other parts share is the family's own; of equals the nearest.
        least = share * len(parts)
        best = [(count, group) for group, count in counted.items() if count >= members and count > least]
        if best:
            own = max(best, key=lambda pair: (pair[0], -_fed_by(context, pair[1])))
            groups[family] = own[1]
    return groups


def serves_one_family(context: SessionContext, group: str, channel: Channel) -> bool:
    """True when all the parts that go through ``group`` are of the channel's family, as through one for the lead.

    Parts whose names do not tell count for neither, and a room belongs with the rooms as well as with its drums.
    """
    family = context.family(channel.id)
    through = _families_through(context).get(group, set()) - {None}
    kin = {family, "room-microphones"} if context.role(channel.id) == "drum-room" else {family}
    return family in through and through <= kin


@per_session
def _families_through(context: SessionContext) -> dict[str, set[str | None]]:
    """Id of a group → the families whose parts go through it."""
    through: dict[str, set[str | None]] = {}
    for part in context.session.channels:
        if is_source(context, part):
            for one in groups_on_the_path(context, part.id):
                through.setdefault(one, set()).add(context.family(part.id))
    return through


def _fed_by(context: SessionContext, group: str) -> int:
    """How many outputs and sends arrive at a group."""
    return len(context.routing.wiring.arriving.get(group, ()))


@per_session
def vca_members(context: SessionContext, channel: Channel) -> tuple[Channel, ...]:
    """The channels that lie inside a VCA, or inside one of these, in desk order."""
    inside = {channel.id}
    found: list[Channel] = []
    grown = True
    while grown:
        more = [c for c in context.session.channels if c.parent in inside and c.id not in inside]
        inside |= {c.id for c in more}
        found += more
        grown = bool(more)
    return tuple(sorted(found, key=lambda c: context.order[c.id]))
