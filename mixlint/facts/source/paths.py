"""By which paths a part reaches the mix bus, its gains there over the song, and through which groups it goes."""

from __future__ import annotations

from collections import Counter, defaultdict
from typing import Final, NamedTuple

from mixlint.analysis.channel_purpose import is_parallel, is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.gain_to_mix_bus import curve_extreme, gain_curves_of
from mixlint.analysis.groups import (
    HOME,
    LEAST_NAMESAKES,
    groups_on_the_path,
    home_group_of,
    output_of_namesakes,
    parts_by_family,
    serves_one_family,
)
from mixlint.analysis.paths import need_gain, paths_of, unknown_wet_share
from mixlint.analysis.settings import Setting
from mixlint.analysis.spectrum import SPECTRUM_SETTINGS
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.routing.parallel import DirectPaths
from mixlint.session import Channel, NotKnown, Unknown
from mixlint.units import SILENCE_DB, few_text

FACTS: Facts[Channel] = Facts()


def _paths(row: Row[Channel]) -> DirectPaths:
    """The direct paths of the row's part; an empty set where it has none."""
    return paths_of(row.context).get(row.subject.id, DirectPaths())


def _first_channels(row: Row[Channel]) -> list[str]:
    """Ids of the channels that its two strongest paths enter first."""
    found = _paths(row)
    return [one for one in (found.first_by, found.second_by) if one]


@FACTS.fact("number", "By how many paths it reaches the mix bus without a reverb or delay.", how="derived", once="ways")
def paths(row: Row[Channel]) -> int:
    return _paths(row).count


@FACTS.fact(
    "number",
    "Its second path relative to its strongest; -200 when there is none.",
    unit="dB",
    how="derived",
    once="second_way_db",
)
def second_path_db(row: Row[Channel]) -> float:
    from math import log10

    need_gain(row.context, row.subject.id)
    found = _paths(row)
    if found.second <= 0.0 or found.strongest <= 0.0:
        return SILENCE_DB
    return max(SILENCE_DB, 20.0 * log10(found.second / found.strongest))


@FACTS.fact("text", "The channels its two strongest paths enter first.", how="derived", once="ways_by")
def paths_by(row: Row[Channel]) -> str:
    return " and ".join(dict.fromkeys(map(row.context.name, _first_channels(row)))) or "no path"


@FACTS.fact(
    "switch",
    "One of its two strongest paths runs through a parallel bus, by name or by the house.",
    how="derived",
    once="parallel_meant",
)
def parallel_intended(row: Row[Channel]) -> bool:
    return any(is_parallel(row.context, row.context.channels[one]) for one in _first_channels(row))


@FACTS.fact(
    "switch",
    "Its family has a group of its own, and this part goes neither through it nor through another of the family's.",
    how="derived",
    settings=HOME,
)
def past_its_group(row: Row[Channel]) -> bool | Unknown:
    home = home_group_of(row.context, row.item)
    passed = groups_on_the_path(row.context, row.subject.id)
    if home is None or home in passed:
        return False
    if any(serves_one_family(row.context, group, row.item) for group in passed):
        return False
    if not _of_its_part(row.context, row.item, home) or _rooms_apart(row.context, row.item, home):
        return False
    end = row.context.channels[passed[-1]] if passed else row.item
    if isinstance(end.output, Unknown):
        return Unknown(
            unknown=f"the output of {row.context.name(end.id)}: {end.output.unknown}", settle="look at its output"
        )
    return True


def _of_its_part(context: SessionContext, channel: Channel, home: str) -> bool:
    """True where a group holds a part of the channel's role: acoustic guitars are no home to an electric one.

    Nor are the backing voices one to the lead.
    """
    role = context.role(channel.id)
    if context.family(channel.id) not in ("guitars", "winds") and role != "lead-vocal":
        return True
    return any(
        context.role(other.id) == role or context.role(other.id) in GENERAL
        for other in context.session.channels
        if other.id != channel.id and is_source(context, other) and home in groups_on_the_path(context, other.id)
    )


def _rooms_apart(context: SessionContext, channel: Channel, home: str) -> bool:
    """True for one of the rooms of which none goes through a group: they hear more than the kit, and are kept apart."""
    if context.role(channel.id) != "drum-room":
        return False
    rooms = [one for one in parts_by_family(context).get("drums", ()) if context.role(one.id) == "drum-room"]
    return len(rooms) > 1 and not any(home in groups_on_the_path(context, one.id) for one in rooms)


GENERAL: Final = frozenset({"guitar", "vocal", "drums"})
"""Roles that do not tell which kind of their family they are."""


@FACTS.fact(
    "switch",
    "All parts of its name, numbers and sides aside, go out to one group, and it goes elsewhere.",
    how="derived",
    settings=(LEAST_NAMESAKES,),
)
def past_its_namesakes(row: Row[Channel]) -> FactValue:
    found = output_of_namesakes(row.context, row.item)
    if found is None:
        return FactValue(False, "derived", row.subject.where)
    note = f"{few_text(found.names)} to {row.context.name(found.to)}"
    return FactValue(True, "derived", row.subject.where, note)


LEAST_IN_FOLDER: Final = Setting(
    "paths.least_in_folder",
    3.0,
    "",
    "So many other parts of a folder, all of which go out to one group, show where the folder goes.",
    lowest=2.0,
)
LEAST_OF_ANOTHER: Final = Setting(
    "paths.least_of_another",
    2.0,
    "",
    "So many parts of one other folder, and none else, show whose group it is that a part has strayed to.",
    lowest=1.0,
)


@FACTS.fact(
    "text",
    "The group that all others of its folder go out to, where it goes to one that nothing but another folder, of other "
    "families, goes to; the note names that folder; or none.",
    how="derived",
    settings=(LEAST_IN_FOLDER, LEAST_OF_ANOTHER),
)
def group_of_its_folder(row: Row[Channel]) -> FactValue:
    context, channel = row.context, row.item
    nothing = FactValue("none", "derived", row.subject.where)
    if not channel.folder:
        return nothing
    counts = _counts_of_folders(context)
    itself = 1 if is_source(context, channel) else 0
    own = counts.outputs[channel.folder] - Counter({channel.output: itself})
    others = counts.folders[channel.output] - Counter({channel.folder: itself})
    if own.total() < context.setting(LEAST_IN_FOLDER) or others.total() < context.setting(LEAST_OF_ANOTHER):
        return nothing
    if len(own) != 1 or len(others) != 1:
        return nothing
    home, out = (context.channels[to] if isinstance(to, str) else None for to in (*own, channel.output))
    if home is None or out is None or home.id == out.id or not home.kind == out.kind == "group":
        return nothing
    # What is of one family with those there may have been put with them on purpose: a solo beside its like.
    family = context.family(channel.id)
    if family is not None and counts.families[channel.output][family] > itself:
        return nothing
    (folder,) = others
    if not folder or counts.outputs[folder].keys() != {out.id}:
        return nothing
    wiring = context.routing.wiring
    if home.id in wiring.downstream([out.id]) or out.id in wiring.downstream([home.id]):
        return nothing
    return FactValue(context.name(home.id), "derived", row.subject.where, folder[-1])


class _Folders(NamedTuple):
    """How many parts of a folder go where, and of which folders and families those are that go to one channel."""

    outputs: dict[tuple[str, ...], Counter[str | Unknown | None]]
    folders: dict[str | Unknown | None, Counter[tuple[str, ...]]]
    families: dict[str | Unknown | None, Counter[str | None]]


@per_session
def _counts_of_folders(context: SessionContext) -> _Folders:
    found = _Folders(defaultdict(Counter), defaultdict(Counter), defaultdict(Counter))
    for part in context.session.channels:
        if is_source(context, part):
            found.outputs[part.folder][part.output] += 1
            found.folders[part.output][part.folder] += 1
            found.families[part.output][context.family(part.id)] += 1
    return found


@FACTS.fact("text", "Where its own output leads.")
def goes_to(row: Row[Channel]) -> str | Unknown:
    output = row.item.output
    if isinstance(output, Unknown):
        return output
    return row.context.name(output) if output else "nowhere"


@FACTS.fact("text", "The group that is home to its family.", how="derived", settings=HOME)
def home_group(row: Row[Channel]) -> str:
    home = home_group_of(row.context, row.item)
    return row.context.name(home) if home else "none"


@FACTS.fact(
    "number",
    "The highest gain of its direct sound to the mix bus while it plays, automation on its whole path included.",
    unit="dB",
    how="derived",
    settings=SPECTRUM_SETTINGS,
)
def gain_highest_db(row: Row[Channel]) -> FactValue | Unknown:
    return _gain_extreme(row, 1.0)


@FACTS.fact(
    "number",
    "The lowest gain of its direct sound to the mix bus while it plays, automation on its whole path included.",
    unit="dB",
    how="derived",
    settings=SPECTRUM_SETTINGS,
)
def gain_lowest_db(row: Row[Channel]) -> FactValue | Unknown:
    return _gain_extreme(row, -1.0)


def _gain_extreme(row: Row[Channel], sign: float) -> FactValue | Unknown:
    """The highest (``sign`` 1) or lowest (−1) direct gain to the mix bus while the part plays, dB."""
    need_gain(row.context, row.subject.id)
    share = unknown_wet_share(row.context, row.item)
    if share is not None:
        raise NotKnown(share)
    found = gain_curves_of(row.context, row.subject.id)
    extreme = curve_extreme(row.context, found.gain_db, found.sounding, sign)
    if extreme is None:
        return Unknown(unknown="it never plays")
    return FactValue(extreme.value, "derived", extreme.text(row.context))
