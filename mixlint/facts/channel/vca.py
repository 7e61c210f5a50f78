"""VCAs: how far one takes down what it moves, and what that is, as far as the export shows it.

A VCA carries no sound; it moves the faders of others. Which ones is no part of the open form: only channels that lie
inside it are known to be its members.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from mixlint.analysis.activity import has_arrangement, moment_text, song_end_s
from mixlint.analysis.channel_purpose import carries_content, is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.groups import groups_on_the_path, vca_members
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.naming import fold_name
from mixlint.session import FADER, MUTE, Channel, Control, Unknown, control_of
from mixlint.session.control import ON
from mixlint.units import SILENCE_DB, few_text, number_text

LEAST_LEFT: Final = Setting(
    "vca.least_left",
    4.0,
    "s",
    "Where automation leaves a VCA for the rest of the song, so much of it has to be left.",
    lowest=0.0,
)

WORD_LETTERS: Final = 3
"""Shorter words of a VCA's name tell no channel by it: wording, since what it tells is said as a guess."""

FACTS: Facts[Channel] = Facts()


def _named_like(context: SessionContext, channel: Channel) -> list[str]:
    """The names of the channels that share a word with a VCA's name."""
    words = _words(channel.name)
    return [
        context.name(other.id)
        for other in context.session.channels
        if other.kind not in ("vca", "master") and words & _words(other.name)
    ]


def _words(name: str) -> frozenset[str]:
    return frozenset(word for word in fold_name(name, separators=True).split() if len(word) >= WORD_LETTERS)


def _stands(context: SessionContext, control: Control) -> tuple[float | None, str]:
    """What a control stands at for the rest of the song, and from where on, for a reader; None where nothing tells.

    Automation that moves it counts by where it ends, where enough of the song is left, else by where it stood before.
    """
    lane = control.lane
    if lane is None or not control.moves or not has_arrangement(context):
        now = control.now
        return (None if isinstance(now, Unknown) else now), ""
    last = max(at for at in range(len(lane.t)) if at == 0 or lane.v[at] != lane.v[at - 1])
    if song_end_s(context) - lane.t[last] < context.setting(LEAST_LEFT):
        return None, ""
    import numpy as np

    where = moment_text(context, lane.t[last])
    return float(control.at(np.array([lane.t[-1]]))[0]), f" from {where} on"


@FACTS.fact(
    "number",
    "How far a VCA takes down what it moves: by its mute or fader, now and where automation leaves it for the rest "
    "of the song; what the export does not show counts as open.",
    unit="dB",
    how="derived",
    settings=(LEAST_LEFT,),
)
def vca_cut_db(row: Row[Channel]) -> FactValue | Unknown:
    context, channel = row.context, row.item
    if channel.kind != "vca":
        return Unknown(unknown="it is no VCA")
    mute, since = _stands(context, control_of(channel, MUTE))
    if mute is not None and mute >= ON:
        return FactValue(-SILENCE_DB, "derived", row.subject.where, f"is muted{since}")
    fader, since = _stands(context, control_of(channel, FADER))
    if fader is None or fader >= 0.0:
        return FactValue(0.0, "derived", row.subject.where, "stands open")
    return FactValue(-fader, "derived", row.subject.where, f"stands at {number_text(fader, 'dB')}{since}")


@FACTS.fact("switch", "Its fader or its mute is moved by automation.")
def vca_ridden(row: Row[Channel]) -> bool:
    return any(control_of(row.item, target).moves for target in (FADER, MUTE))


@FACTS.fact(
    "switch",
    "The channels that lie inside a VCA play nothing; not known where none does, since the export does not tell then "
    "which ones it moves.",
    how="derived",
)
def vca_moves_nothing(row: Row[Channel]) -> FactValue | Unknown:
    context = row.context
    members = vca_members(context, row.item)
    if not members:
        like = _named_like(context, row.item)
        perhaps = f"; by its name perhaps {few_text(like)}" if like else ""
        return Unknown(
            unknown=f"which channels {row.subject.name} moves is not in the export{perhaps}",
            settle=f"look at what {row.subject.name} moves",
        )
    sounding = [context.name(member.id) for member in members if carries_content(context, member.id)]
    return FactValue(not sounding, "derived", row.subject.where, few_text(sounding))


LEAST_SECTION: Final = Setting(
    "vca.least_section",
    3.0,
    "",
    "So many channels on a VCA, all of one family, show whose VCA it is.",
    lowest=2.0,
)


@per_session
def _moved(context: SessionContext, vca: Channel) -> tuple[Channel, ...]:
    """The channels that a VCA, or one on it, moves itself; what only lies inside a group on it moves with the group."""
    parents = {vca.id, *(one.id for one in vca_members(context, vca) if one.kind == "vca")}
    return tuple(one for one in vca_members(context, vca) if one.kind != "vca" and one.parent in parents)


@FACTS.fact(
    "text",
    "The group that a VCA moves beside channels that go through it, so that these move twice; the note names them; or "
    "none.",
    how="derived",
)
def vca_moves_twice(row: Row[Channel]) -> FactValue:
    context = row.context
    members = _moved(context, row.item) if row.item.kind == "vca" else ()
    for group in members:
        through = [one for one in members if group.id in groups_on_the_path(context, one.id)]
        if through:
            names = few_text([context.name(one.id) for one in through])
            return FactValue(context.name(group.id), "derived", group.where, names)
    return FactValue("none", "derived", row.subject.where)


@FACTS.fact(
    "text",
    "The one channel on a VCA that is of another family than all others on it, which are of one, and goes out to a "
    "channel to which none of them goes; the note names these; or none.",
    how="derived",
    settings=(LEAST_SECTION,),
)
def vca_stranger(row: Row[Channel]) -> FactValue:
    context = row.context
    members = [one for one in _moved(context, row.item) if is_source(context, one)]
    told = [one for one in members if context.family(one.id) and isinstance(one.output, str)]
    nobody = FactValue("none", "derived", row.subject.where)
    if row.item.kind != "vca" or len(told) != len(members) or len(members) <= context.setting(LEAST_SECTION):
        return nobody
    for one in members:
        others = [other for other in members if other.id != one.id]
        families, outputs = ({key(other) for other in others} for key in (_family(context), _output))
        if len(families) == 1 and _family(context)(one) not in families and one.output not in outputs:
            names = few_text([context.name(other.id) for other in others])
            return FactValue(context.name(one.id), "derived", one.where, names)
    return nobody


def _family(context: SessionContext) -> Callable[[Channel], str | None]:
    return lambda channel: context.family(channel.id)


def _output(channel: Channel) -> str:
    return str(channel.output)
