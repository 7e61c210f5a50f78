"""Solos that the markers announce: whether whoever plays them is there and open."""

from __future__ import annotations

from typing import Final, NamedTuple

from mixlint.analysis.activity import merged, moment_text, sounding_clips, within_s
from mixlint.analysis.announced_solos import AnnouncedSolo, announced_solos, is_solo_of
from mixlint.analysis.audibility import is_audible
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.like_sections import Section, marked_sections
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.naming import Solo, is_chorus_kind, is_soloist_alone, section_kind, solo_of
from mixlint.session import FADER, MUTE, Channel, Session, control_of, is_known, known
from mixlint.session.control import ON, Control
from mixlint.signal.median import median
from mixlint.units import few_text, number_text

FACTS: Facts[Session] = Facts()

SHUT: Final = Setting("solos.shut", -40.0, "dB", "A fader under this is shut.")
WITHIN: Final = Setting("solos.within", 6.0, "s", "So soon behind its marker a solo has come in.", lowest=0.5)
LIFTED: Final = Setting(
    "solos.lifted", 2.0, "dB", "A fader so far above its level before the solos is lifted.", lowest=0.5
)
SUNK: Final = Setting("solos.sunk", 6.0, "dB", "A fader so far under where it has stood is sunk in a solo.", lowest=1.0)
BORDER: Final = Setting(
    "solos.border", 3.0, "s", "A move that ends or begins this near to where a solo does is made for it.", lowest=0.5
)
SOLO_SETTINGS: Final = (SHUT, WITHIN)


def _open(context: SessionContext, channel: Channel, start_s: float, end_s: float) -> bool:
    """True where clips of a channel sound in a stretch, and its fader is up and its mute off at some time of it."""
    import numpy as np

    spans = [(max(a, start_s), min(b, end_s)) for a, b in sounding_clips(channel) if a < end_s and b > start_s]
    if not spans or not is_audible(context, channel):
        return False
    times = np.concatenate([np.linspace(a, b, 9) for a, b in spans])
    fader, mute = control_of(channel, FADER), control_of(channel, MUTE)
    up = fader.at(times) > context.setting(SHUT) if fader.moves else np.ones(times.shape, dtype=bool)
    on = mute.at(times) < ON if mute.moves else np.ones(times.shape, dtype=bool)
    return bool((up & on).any())


@per_session
def missing_solos(context: SessionContext) -> tuple[tuple[str, str], ...]:
    """Markers that announce a solo, each with the channels that would play it and do not, for a reader.

    A channel would where its name shares a word with the marker, or tells the same part, and where it plays at other
    times of the song or holds a solo by its name.
    """
    words = context.house.vocabulary
    found = []
    for section, said in _solos(context):
        players = [
            c
            for c in context.session.channels
            if is_source(context, c) and (is_solo_of(context, c, said) or is_soloist_alone(c.name, words))
        ]
        until = min(section.end_s, section.start_s + context.setting(WITHIN))
        if players and not any(_open(context, c, section.start_s, until) for c in players):
            names = few_text([context.name(c.id) for c in players], joint=", ")
            found.append((f"{section.name} ({moment_text(context, section.start_s)})", names))
    return tuple(found)


def _solos(context: SessionContext) -> list[tuple[Section, Solo]]:
    """The sections whose markers announce a solo, each with whose it is."""
    words = context.house.vocabulary
    told = ((section, solo_of(section.name, words)) for section in marked_sections(context))
    return [(section, said) for section, said in told if said is not None]


@per_session
def rides_of_other_solos(context: SessionContext) -> tuple[str, ...]:
    """Channels whose fader is lifted in the solo of another and in none of their own, for a reader.

    A lift is a level above the one before the first solo that holds through most of a solo; whoever is lifted in one
    of their own is lifted in others as well for a reason, and who is lifted in all of them is no soloist.
    """
    solos = announced_solos(context)
    found = []
    for channel in context.session.channels:
        own = [one for one in solos if channel.id in one.players]
        theirs = [one for one in solos if one.players and channel.id not in one.players]
        fader = control_of(channel, FADER)
        if not own or not theirs or not fader.moves or not is_audible(context, channel):
            continue
        usual = _level(fader, solos[0].section.start_s * 0.1, solos[0].section.start_s * 0.9)
        least = context.setting(LIFTED)
        lifted = [one for one in theirs if _level_in(fader, one.section) - usual >= least]
        if len(lifted) != 1 or any(_level_in(fader, one.section) - usual > least / 2.0 for one in own):
            continue
        other = lifted[0].section
        names = few_text([one.section.name for one in own], joint=", ")
        found.append(
            f"{context.name(channel.id)} in {other.name} ({moment_text(context, other.start_s)}), not in {names}"
        )
    return tuple(found)


class _Placed(NamedTuple):
    """Where a soloist's fader stands in a section in which the soloist plays."""

    section: Section
    level: float


@per_session
def _placed(context: SessionContext, channel: Channel) -> list[_Placed]:
    """The levels of its fader in the sections in which its channel plays for half of the time or more."""
    spans, fader = merged(sounding_clips(channel)), control_of(channel, FADER)
    found = []
    for section in marked_sections(context):
        length = section.end_s - section.start_s
        sounds = within_s(spans, section.start_s, section.end_s)
        if length >= LEAST_SECTION_S and 2.0 * sounds >= length:
            found.append(_Placed(section, _level_in(fader, section)))
    return found


LEAST_SECTION_S: Final = 6.0
"""A shorter section is a moment: no setting."""


class _Soloist(NamedTuple):
    """Whoever plays an announced solo, with the levels of the fader in the solos and elsewhere."""

    channel: Channel
    own: list[_Placed]
    others: list[_Placed]


@per_session
def _soloists(context: SessionContext) -> tuple[_Soloist, ...]:
    """Soloists whose fader moves, none of whom is helped in a solo by a like channel that is lifted."""
    solos = announced_solos(context)
    found = []
    for channel in context.session.channels:
        mine = {one.section.start_s: one for one in solos if channel.id in one.players}
        fader = control_of(channel, FADER)
        if not mine or not fader.moves or not is_audible(context, channel):
            continue
        placed = _placed(context, channel)
        own = [one for one in placed if one.section.start_s in mine]
        others = [one for one in placed if one.section.start_s not in mine]
        if not own or len(others) < LEAST_OTHERS or max(one.level for one in placed) <= context.setting(SHUT):
            continue
        if not any(_is_helped(context, channel, mine[one.section.start_s]) for one in own):
            found.append(_Soloist(channel, own, others))
    return tuple(found)


LEAST_OTHERS: Final = 2
"""So many sections beside the solo tell where a fader stands: no setting."""


def _is_helped(context: SessionContext, channel: Channel, solo: AnnouncedSolo) -> bool:
    """True where another channel of the same solo is lifted in it: the solo is played there."""
    for other in context.session.channels:
        if other.id == channel.id or other.id not in solo.players:
            continue
        fader = control_of(other, FADER)
        placed = _placed(context, other) if fader.moves else []
        if placed and _level_in(fader, solo.section) - median([p.level for p in placed]) >= context.setting(LIFTED):
            return True
    return False


@per_session
def solos_lifted_elsewhere(context: SessionContext) -> tuple[str, ...]:
    """Soloists who are lifted in one section that is nobody's, and not in the solo that is theirs, for a reader."""
    found = []
    least, words = context.setting(LIFTED), context.house.vocabulary
    taken = {one.section.start_s for one in announced_solos(context)}
    for channel, own, others in _soloists(context):
        top, second = sorted(others, key=lambda one: -one.level)[:2]
        highest = max(one.level for one in own)
        if _is_sunk(context, own, others):
            continue
        kind, _ = section_kind(top.section.name, words)
        # A part that stands highest in choruses is arranged so, and one lifted in another's solo is told as that.
        if top.section.start_s in taken or is_chorus_kind(kind, words):
            continue
        plain = highest <= median([one.level for one in others]) + least / 4.0
        if plain and top.level - highest >= least and top.level - second.level >= least:
            found.append(_told(context, channel, top.section, own))
    return tuple(found)


def _told(context: SessionContext, channel: Channel, section: Section, own: list[_Placed]) -> str:
    names = few_text([one.section.name for one in own], joint=", ")
    return f"{context.name(channel.id)} in {section.name} ({moment_text(context, section.start_s)}), not in {names}"


@per_session
def lifts_for_soloists(context: SessionContext) -> tuple[str, ...]:
    """Channels that are lifted for one solo that is another's, whose own channels have no lift in it, for a reader.

    Just one channel goes up where the solo begins and comes back where it ends, and stands nowhere else as high.
    """
    found = []
    for solo in announced_solos(context):
        owners = [context.channels[i] for i in sorted(solo.named)]
        if not any(_open(context, c, solo.section.start_s, solo.section.end_s) for c in owners):
            continue
        if any(_is_raised(context, owner, solo.section) for owner in owners):
            continue
        families = {context.family(owner.id) for owner in owners}
        if "drums" in families or (solo.named < solo.players and not families <= SINGLE_PLAYERS):
            continue
        lifted = [
            c
            for c in context.session.channels
            if c.id not in solo.named and is_source(context, c) and _is_lifted_just_for(context, c, solo.section)
        ]
        if len(lifted) == 1 and not any(one.section != solo.section for one in _own(context, lifted[0])):
            where = moment_text(context, solo.section.start_s)
            names = few_text([context.name(owner.id) for owner in owners], joint=", ")
            found.append(f"{context.name(lifted[0].id)} in {solo.section.name} ({where}), and not {names}")
    return tuple(found)


SINGLE_PLAYERS: Final = frozenset({"strings", "winds"})
"""Families in which a name tells one player from the others: a solo of `Gtr` may be any guitar's. No setting."""


def _own(context: SessionContext, channel: Channel) -> list[AnnouncedSolo]:
    """The solos that are named after a channel."""
    return [one for one in announced_solos(context) if channel.id in one.named]


def _is_raised(context: SessionContext, channel: Channel, section: Section) -> bool:
    """True where a channel is brought up for a section: by its fader, or by the gain of a clip."""
    fader = control_of(channel, FADER)
    least = context.setting(LIFTED) / 4.0
    if fader.moves:
        levels = [one.level for one in _placed(context, channel)]
        if levels and _level_in(fader, section) > median(levels) + least:
            return True
    gains = [(clip, known(clip.gain_db)) for clip in channel.clips if is_known(clip.gain_db)]
    here = [db for clip, db in gains if abs(clip.start_s - section.start_s) <= context.setting(BORDER)]
    return bool(here) and max(here) > median([db for _, db in gains]) + least


def _is_lifted_just_for(context: SessionContext, channel: Channel, section: Section) -> bool:
    """True where a fader goes up as a section begins, comes back as it ends, and stands nowhere else as high."""
    fader = control_of(channel, FADER)
    if fader.lane is None or not fader.moves or not is_audible(context, channel):
        return False
    least, around_s = context.setting(LIFTED), 4.0 * context.setting(BORDER)
    others = [one.level for one in _placed(context, channel) if one.section != section]
    if len(others) < LEAST_OTHERS or not _moves_at(context, fader, section):
        return False
    level = _level_in(fader, section)
    before = _level(fader, section.start_s - around_s, section.start_s)
    after = _level(fader, section.end_s, section.end_s + around_s)
    return level - max(before, after) >= least and level - max(others) >= least / 2.0


@per_session
def solos_dipped(context: SessionContext) -> tuple[str, ...]:
    """Soloists whose fader goes down as their solo begins and up again as it ends, lower than elsewhere."""
    found = []
    for channel, own, others in _soloists(context):
        if len(own) != 1 or len(others) <= LEAST_OTHERS or _is_sunk(context, own, others):
            continue
        (solo,) = own
        least = context.setting(LIFTED)
        under = min(one.level for one in others) - solo.level
        usual = median([one.level for one in others]) - solo.level
        if under < least / 2.0 or usual < least or solo.level <= context.setting(SHUT):
            continue
        if _moves_at(context, control_of(channel, FADER), solo.section):
            where = moment_text(context, solo.section.start_s)
            db = number_text(usual, "dB")
            found.append(f"{context.name(channel.id)} in {solo.section.name} ({where}), {db} lower than elsewhere")
    return tuple(found)


def _moves_at(context: SessionContext, fader: Control, section: Section) -> bool:
    """True where a fader has points near both ends of a section."""
    near = context.setting(BORDER)
    points = fader.lane.t if fader.lane is not None else ()
    return all(any(abs(at - edge) <= near for at in points) for edge in (section.start_s, section.end_s))


@per_session
def solos_sunk(context: SessionContext) -> tuple[str, ...]:
    """Soloists whose fader is in their solo as low as anywhere, and far under where it has been, for a reader."""
    found = []
    for channel, own, others in _soloists(context):
        if _is_sunk(context, own, others):
            names = few_text([f"{p.section.name} ({moment_text(context, p.section.start_s)})" for p in own], joint=", ")
            db = number_text(max(p.level for p in others) - max(p.level for p in own), "dB")
            found.append(f"{context.name(channel.id)} in {names}, {db} lower than before")
    return tuple(found)


def _is_sunk(context: SessionContext, own: list[_Placed], others: list[_Placed]) -> bool:
    """True where a fader stands in its own solos as low as anywhere, and far under where it has been."""
    highest = max(one.level for one in own)
    lowest, top = min(one.level for one in others), max(one.level for one in others)
    return highest <= lowest + context.setting(LIFTED) / 4.0 and top - highest >= context.setting(SUNK)


def _level_in(fader: Control, section: Section) -> float:
    return _level(fader, section.start_s, section.end_s)


def _level(fader: Control, start_s: float, end_s: float) -> float:
    """The middle of a fader's levels in a stretch, its edges left out, dB."""
    import numpy as np

    edge = 0.15 * (end_s - start_s)
    return median(fader.at(np.linspace(start_s + edge, end_s - edge, 41)))


@FACTS.fact(
    "list",
    "Channels whose fader is lifted in a solo that a marker announces for another, or in one other section, and not in "
    "their own.",
    how="derived",
    settings=(LIFTED, SHUT, BORDER),
)
def lifted_in_other_solos(row: Row[Session]) -> FactValue:
    context = row.context
    found = (*rides_of_other_solos(context), *solos_lifted_elsewhere(context), *lifts_for_soloists(context))
    return FactValue(found, "derived", "")


@FACTS.fact(
    "list",
    "Channels whose fader stands as low as anywhere in the solo that a marker announces for them.",
    how="derived",
    settings=(LIFTED, SUNK, SHUT, BORDER),
)
def sunk_in_own_solo(row: Row[Session]) -> FactValue:
    return FactValue((*solos_sunk(row.context), *solos_dipped(row.context)), "derived", "")


@FACTS.fact(
    "list",
    "Solos that a marker announces and that nobody plays there, each with the channels that would.",
    how="derived",
    settings=SOLO_SETTINGS,
)
def solos_missing(row: Row[Session]) -> FactValue:
    found = missing_solos(row.context)
    return FactValue(tuple(f"{marker}: {names}" for marker, names in found), "derived", "")
