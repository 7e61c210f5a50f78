"""Whom a bus serves: the families of parts that a group, a return or a parallel bus is there for, by its name and feed.

A bus whose name speaks of a family, and to which hardly anything but that family comes, serves it. A bus whose name
speaks of none, or to which much else comes, is a mixed one, and nothing is out of place there. Common practice, no
source.
"""

from __future__ import annotations

from collections.abc import Set
from typing import Final, Literal, NamedTuple

from mixlint.analysis.audibility import is_heard
from mixlint.analysis.channel_purpose import carries_content, is_parallel, is_return, is_source, is_utility
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.groups import groups_on_the_path
from mixlint.analysis.settings import Setting
from mixlint.naming import families_named, is_drum_bass, is_stem
from mixlint.routing import Edge
from mixlint.session import Channel

MOST_STRANGERS: Final = Setting(
    "purpose.most_strangers",
    34.0,
    "%",
    "A group serves the family in its name while no more than this share of its parts is of another one.",
    lowest=0.0,
    highest=100.0,
)
MOST_STRANGE_SENDS: Final = Setting(
    "purpose.most_strange_sends",
    50.0,
    "%",
    "The same for a return or a parallel bus, by the share of the channels that are sent to it.",
    lowest=0.0,
    highest=100.0,
)
LEAST_OWN: Final = Setting(
    "purpose.least_own",
    34.0,
    "%",
    "A return that no family is named in belongs to a group where this share of the parts that feed it is of its own.",
    lowest=0.0,
    highest=100.0,
)
PURPOSE: Final = (MOST_STRANGERS, MOST_STRANGE_SENDS, LEAST_OWN)

LEAST_IN_STEMS: Final = Setting(
    "stems.least_parts",
    75.0,
    "%",
    "From this share of its parts on that go through a bus called a stem, a session is mixed through stems.",
    lowest=0.0,
    highest=100.0,
)

_KIN: Final = frozenset(
    frozenset(pair)
    for pair in (
        ("drums", "percussion"),
        ("percussion", "keys"),
        ("guitars", "plucked"),
        ("strings", "plucked"),
        ("strings", "bass"),
        ("strings", "synths"),
        ("keys", "synths"),
        ("bass", "synths"),
        ("vocals", "speech"),
    )
)
"""Families of which one is often mixed with the other: mallets with keys, harp or double bass with strings."""

_ANYWHERE: Final = frozenset({"sound-effects", "room-microphones", "backing-tracks"})
"""Families that belong wherever they are put."""

LEAST_STEMS: Final = Setting(
    "stems.least_stems", 2.0, "", "So many buses called stems make a mix through stems.", lowest=1.0
)

STEMS: Final = (LEAST_IN_STEMS, LEAST_STEMS)
"""What :func:`past_the_stems` reads."""

FeedKind = Literal["part", "group", "return", "parallel"]


class Purpose(NamedTuple):
    """What a bus is there for.

    Args:
        families: the families it serves; empty for a mixed bus, or one whose name tells of none.
        own: how many channels of them come to it; of a group's feed every part behind it counts.
        strangers: how many of other families do.
    """

    families: frozenset[str]
    own: int = 0
    strangers: int = 0


MIXED: Final = Purpose(frozenset())


def feed_kind(context: SessionContext, channel: Channel) -> FeedKind | None:
    """What a channel is among those that lead somewhere; None for the mix bus, a utility, and what plays nothing.

    Unlike :func:`~mixlint.analysis.channel_purpose.strip_kind` it tells parallel buses apart, and takes a return that
    plays clips of its own as a part.
    """
    if is_utility(context, channel) or channel.kind in ("master", "vca") or not carries_content(context, channel.id):
        return None
    if is_source(context, channel):
        return "part"
    if is_parallel(context, channel):
        return "parallel"
    return "return" if is_return(context, channel) else "group"


def carried(context: SessionContext, channel: Channel) -> frozenset[str] | None:
    """The families whose sound a channel carries: those of its name, else those of the parts that come to it.

    None where the name of a part that decides it does not tell.
    """
    named = families_named(channel.name, context.house.vocabulary)
    if is_source(context, channel):
        own = context.family(channel.id)
        return frozenset({own}) | named if own else None
    if named:
        return named
    families = [context.family(part.id) for part in _parts_behind(context, channel)]
    known = frozenset(family for family in families if family)
    return known if families and None not in families else None


@per_session
def _parts_behind(context: SessionContext, channel: Channel) -> tuple[Channel, ...]:
    """The parts of the song that come to a channel by audible edges; itself where it is one."""
    wiring = context.routing.wiring
    found = wiring.upstream([channel.id], lambda edge: wiring.audible(edge) and edge.source != wiring.mix_bus)
    return tuple(context.channels[one] for one in found if is_source(context, context.channels[one]))


def strange_to(context: SessionContext, channel: Channel, bus: Channel, families: Set[str]) -> bool | None:
    """True when nothing of what a channel carries belongs to a bus that serves ``families``; None where none can tell.

    A return or group of several families is a stranger where none of them is served.
    """
    brought = carried(context, channel)
    if brought is None:
        return None
    # A bus of several families names each of them: the harp in the stem of the winds brings no strings there.
    fitting = _akin if len(families) == 1 else _same
    if any(fitting(one, served) for one in brought for served in families):
        return _of_others(context, channel, bus, families)
    if "strings" in families and "guitars" in brought and _plucked_in(context, bus):
        return False  # the strings of a string band are banjo, mandolin and guitar
    if feed_kind(context, bus) == "return" and _comes_back_beside(context, channel, bus):
        return False
    if "bass" in brought and "drums" in families:
        # Electronic basses belong with the drums, and any bass may be squeezed together with them.
        return not (is_parallel(context, bus) or is_drum_bass(channel.name, context.house.vocabulary))
    # Bass is a voice, too, in a choir without a leading singer.
    choir = "bass" in brought and "vocals" in families
    return not choir or any(context.role(part.id) == "lead-vocal" for part in _parts_behind(context, bus))


def _plucked_in(context: SessionContext, bus: Channel) -> bool:
    """True where a part that is plucked comes to a bus."""
    return any(context.family(part.id) == "plucked" for part in _parts_behind(context, bus))


def _comes_back_beside(context: SessionContext, channel: Channel, bus: Channel) -> bool:
    """True where a return runs into the first group that what is sent to it goes through: a harp with the winds."""
    groups = groups_on_the_path(context, channel.id)
    return bool(groups) and groups[0] in groups_on_the_path(context, bus.id)[:1]


def _of_others(context: SessionContext, channel: Channel, bus: Channel, families: Set[str]) -> bool:
    """True for a return into a group whose parts are the lesser share of what feeds it: it is the others' as well."""
    if feed_kind(context, channel) != "return" or feed_kind(context, bus) != "group":
        return False
    if families_named(channel.name, context.house.vocabulary):
        return False
    found = [context.family(part.id) for part in _parts_behind(context, channel)]
    own = sum(1 for one in found if one is not None and any(_akin(one, served) for served in families))
    return 100.0 * own < context.setting(LEAST_OWN) * len(found)


def _same(one: str, other: str) -> bool:
    return one == other or one in _ANYWHERE or other in _ANYWHERE


def _akin(one: str, other: str) -> bool:
    return _same(one, other) or frozenset((one, other)) in _KIN


def feeding(context: SessionContext, bus: Channel) -> tuple[Edge, ...]:
    """The audible edges of what plays that arrive at a bus, utilities and the mix bus left out, in desk order."""
    wiring = context.routing.wiring
    return tuple(
        edge
        for edge in wiring.arriving.get(bus.id, ())
        if wiring.audible(edge)
        and edge.source not in (bus.id, wiring.mix_bus)
        and feed_kind(context, context.channels[edge.source]) is not None
    )


SHARED: Final = 2
"""A return that so many channels of other families are sent to is shared, whatever its name: a definition."""


@per_session
def purpose_of(context: SessionContext, bus: Channel) -> Purpose:
    """Whom a bus serves; :data:`MIXED` where it clearly serves nobody in particular."""
    kind = feed_kind(context, bus)
    families = families_named(bus.name, context.house.vocabulary) - _ANYWHERE
    if kind in (None, "part") or not families:
        return MIXED
    counts = {True: 0, False: 0}
    # What comes back from a return into a group is judged there, and says nothing of whom the group serves.
    sources = {edge.source for edge in feeding(context, bus)}
    for source in (context.channels[one] for one in sources):
        strip = feed_kind(context, source)
        strange = strange_to(context, source, bus, families)
        if strange is not None and (kind != "group" or strip in ("part", "group")):
            # A whole group of strangers is one wrong output, however many parts lie behind it.
            counts[strange] += len(_parts_behind(context, source)) if kind == "group" and not strange else 1
    own, strangers = counts[False], counts[True]
    setting = MOST_STRANGERS if kind == "group" else MOST_STRANGE_SENDS
    most = context.setting(setting) / 100.0 * (own + strangers)
    if kind == "return" and strangers >= SHARED:
        return MIXED
    return Purpose(families, own, strangers) if own and strangers <= most else MIXED


class Bypass(NamedTuple):
    """A group that a parallel bus goes past.

    Args:
        group: the nearest group that all that is sent to the bus goes through, and the bus does not.
        graver: that group is a stem, or another return or parallel bus of the same parts comes back into it.
    """

    group: Channel
    graver: bool


@per_session
def bypass_of(context: SessionContext, bus: Channel) -> Bypass | None:
    """The group that a parallel bus goes past; None where it goes where its sources go, and for every other channel.

    A return may well come back beside the group of what feeds it: it is held against the other returns, where these
    come back into the groups of what feeds them.
    """
    kind = feed_kind(context, bus)
    if kind not in ("parallel", "return") or not is_heard(context, bus):
        return None
    if kind == "return" and not _alone_past(context, bus):
        return None
    common = _groups_of_all(context, feeding(context, bus))
    own = set(groups_on_the_path(context, bus.id)) | {bus.id}
    passed = next((context.channels[group] for group in common if group not in own), None)
    if passed is None:
        return None
    graver = kind == "return" or is_stem(passed.name, context.house.vocabulary) or _others_return(context, bus, passed)
    return Bypass(passed, graver)


def _alone_past(context: SessionContext, bus: Channel) -> bool:
    """True where a return goes past the one group that all that is sent to it goes through, and no other return does.

    One other return of that group that comes back into it is enough, or others that come back into two groups or more.
    """
    past, inside = _returns_past(context)
    if past != [bus.id]:
        return False
    own = frozenset(_groups_of_all(context, feeding(context, bus)))
    return any(own & groups for groups in inside.values()) or len(frozenset().union(*inside.values())) > 1


@per_session
def _returns_past(context: SessionContext) -> tuple[list[str], dict[str, frozenset[str]]]:
    """Ids of the returns that go past the one group of what is sent to them; and of the others that come back into it,
    with the groups that they come back into."""
    inside: dict[str, frozenset[str]] = {}
    past: list[str] = []
    for other in context.session.channels:
        if feed_kind(context, other) != "return":
            continue
        common = _groups_of_all(context, feeding(context, other))
        if common:
            joined = frozenset(common) & frozenset(groups_on_the_path(context, other.id))
            if joined:
                inside[other.id] = joined
            else:
                past.append(other.id)
    return past, inside


def _groups_of_all(context: SessionContext, edges: tuple[Edge, ...]) -> list[str]:
    """Ids of the groups that the main outputs of all sources of some edges pass, nearest first."""
    paths = [groups_on_the_path(context, edge.source) for edge in edges]
    return [group for group in paths[0] if all(group in path for path in paths)] if paths else []


def _others_return(context: SessionContext, bus: Channel, group: Channel) -> bool:
    """True when another return or parallel bus that only members of the group are sent to goes through the group."""
    return any(
        other.id != bus.id
        and feed_kind(context, other) in ("return", "parallel")
        and group.id in groups_on_the_path(context, other.id)
        and group.id in _groups_of_all(context, feeding(context, other))
        for other in context.session.channels
    )


@per_session
def past_the_stems(context: SessionContext) -> frozenset[str]:
    """Ids of the strips that lead into the mix bus past the stems, in a session that is mixed through stems.

    Of a part and the groups it goes through only the last one counts; empty where the session has no stems.
    """
    wiring = context.routing.wiring
    words = context.house.vocabulary
    kinds = {c.id: feed_kind(context, c) for c in context.session.channels if is_heard(context, c)}
    stems = {one for one, kind in kinds.items() if kind == "group" and is_stem(context.channels[one].name, words)}
    parts = [one for one, kind in kinds.items() if kind == "part"]
    through = [one for one in parts if stems.intersection(groups_on_the_path(context, one))]
    if len(stems) < context.setting(LEAST_STEMS) or len(through) < context.setting(LEAST_IN_STEMS) / 100.0 * len(parts):
        return frozenset()
    after = wiring.downstream(stems)  # the stems, and what they come together in
    return frozenset(
        one
        for one, kind in kinds.items()
        if kind is not None
        and one not in after
        and any(edge.kind == "output" and edge.to in after - stems for edge in wiring.leaving.get(one, ()))
    )
