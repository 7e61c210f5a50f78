"""A part against the others that play when it plays: does it stop before them, or miss an entry that they have?

Parts that play and rest together through the song are *companions*: the microphones of a kit, the voices of a choir,
guitars that were doubled. What they have in common is a pattern, and a part that leaves it once, at its end or in the
middle, is where a clip went missing, or where somebody arranged it so.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import (
    coverage,
    moment_text,
    playing,
    song_end_s,
    sounding_clips,
    sounding_spans,
    span_text,
    time_grid,
)
from mixlint.analysis.audibility import is_audible
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.like_sections import marked_sections
from mixlint.analysis.media_use import audio_clips
from mixlint.analysis.settings import Setting, share_setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.naming import is_chorus, stem_of
from mixlint.session import Channel, is_known
from mixlint.units import few_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Flags = NDArray[np.bool_]
    Floats = NDArray[np.float64]
    Counts = NDArray[np.float32]

TOGETHER: Final = share_setting(
    "companions.together",
    90.0,
    "Parts of which both play for at least this share of the time in which either does are companions.",
)
LEAST_PLAYED: Final = Setting(
    "companions.least_played", 16.0, "s", "Parts that play for less than this together show no pattern.", lowest=1.0
)
GO_ON: Final = share_setting(
    "companions.go_on", 60.0, "A part stops alone where at least this share of its companions goes on."
)
LEAST_FAMILY: Final = Setting(
    "companions.least_family", 2.0, "", "So many companions of its family that go on are a pattern.", lowest=1.0
)
LEAST_ANY: Final = Setting(
    "companions.least_any", 3.0, "", "So many companions of whatever family that go on are a pattern.", lowest=1.0
)
REST: Final = Setting(
    "companions.rest", 1.5, "s", "A rest of at least this parts one entry of a part from the next.", lowest=0.0
)
LEAST_ENTRIES: Final = Setting(
    "companions.least_entries", 3.0, "", "So many entries, or choruses, make a pattern.", lowest=3.0
)
PLAYED: Final = share_setting("companions.played", 80.0, "An entry of which a part plays this share is played.")
MISSED: Final = share_setting("companions.missed", 10.0, "An entry of which a part plays no more than this is missed.")
STOP_SETTINGS: Final = (TOGETHER, LEAST_PLAYED, GO_ON, LEAST_FAMILY, LEAST_ANY, REST)
ENTRY_SETTINGS: Final = (TOGETHER, LEAST_PLAYED, LEAST_FAMILY, REST, LEAST_ENTRIES, PLAYED, MISSED)

COMES_AND_GOES: Final = frozenset({"synth", "sound-effects", "percussion", "keys", "backing-track"})
"""Roles that come and go in a song: that one of them stops where others of whatever family go on shows nothing."""

KIT_MICROPHONES: Final = frozenset({"overheads", "drum-room"})
"""Roles that only a microphone in front of a kit has: with one of them its companions are one performance."""

NAMED: Final = 3
"""So many companions are written out: wording."""

MOST_OF_A_STEP: Final = 0.5
"""A step of the grid counts as played when more than this share of it is: a matter of rounding to the grid."""


class Masks(NamedTuple):
    """Which audible parts of the song play when.

    Args:
        parts: the channels in desk order.
        at: channel id → its place among them.
        play: (N, T) over the time grid.
    """

    parts: tuple[Channel, ...]
    at: dict[str, int]
    play: Flags


@per_session
def _masks(context: SessionContext) -> Masks:
    import numpy as np

    parts = tuple(c for c in context.session.channels if is_source(context, c) and is_audible(context, c))
    rows = [playing(context, c.id) > MOST_OF_A_STEP for c in parts]
    at = {part.id: place for place, part in enumerate(parts)}
    return Masks(parts, at, np.array(rows, dtype=bool).reshape(len(parts), time_grid(context).size - 1))


@per_session
def _ones(context: SessionContext) -> Counts:
    """When each of the parts of the masks plays (N, T), as ones and zeros that can be multiplied."""
    import numpy as np

    return _masks(context).play.astype(np.float32)


def _companions(context: SessionContext, channel: Channel, within: Flags) -> list[tuple[Channel, Flags]]:
    """The other parts that play and rest with a part in some steps (T,) of the grid, with when each plays (T,)."""
    masks = _masks(context)
    step = float(time_grid(context)[1] - time_grid(context)[0])
    if channel.id not in masks.at:
        return []
    mine = masks.play[masks.at[channel.id]] & within
    if mine.sum() * step < context.setting(LEAST_PLAYED):
        return []
    # Steps are counted by products, many times as fast as by masks; whole numbers of this size are exact.
    counts = _ones(context)
    both = counts @ mine.astype(counts.dtype)
    either = counts @ within.astype(counts.dtype) + mine.sum() - both
    alike = both * 100.0 >= context.setting(TOGETHER) * either
    return [(part, masks.play[at]) for at, part in enumerate(masks.parts) if alike[at] and part.id != channel.id]


class EarlyStop(NamedTuple):
    """Where a part stops while its companions go on.

    Args:
        seconds: for how long they play on, the least of them; 0 where it does not stop alone.
        text: where it stops and who goes on, for a reader.
        one_performance: it and they are microphones of one kit.
    """

    seconds: float
    text: str
    one_performance: bool


@per_session
def early_stop(context: SessionContext, channel: Channel) -> EarlyStop:
    """Where a part stops while most of those that had played and rested with it go on."""
    nowhere = EarlyStop(0.0, "with the others", False)
    edges = time_grid(context)
    end = max((last for _, last in sounding_clips(channel)), default=0.0)
    if end <= 0.0:
        return nowhere
    companions = _companions(context, channel, edges[1:] <= end)
    step = float(edges[1] - edges[0])
    after = edges[:-1] >= end
    on = [(part, float((play & after).sum()) * step) for part, play in companions]
    on = [(part, seconds) for part, seconds in on if seconds > 2.0 * step]
    kin = [(part, seconds) for part, seconds in on if context.family(part.id) == context.family(channel.id)]
    if 100.0 * len(on) < context.setting(GO_ON) * len(companions):
        return nowhere
    if len(kin) >= context.setting(LEAST_FAMILY) and context.family(channel.id) is not None:
        on = kin
    elif len(on) < context.setting(LEAST_ANY) or context.role(channel.id) in COMES_AND_GOES:
        return nowhere
    elif context.family(channel.id) in ("vocals", "speech"):
        return nowhere  # the last line has been sung, and the instruments play the song out
    if _stops_with_kin(context, channel, end) or _rests_in_the_ending(context, channel, end):
        return nowhere
    where = moment_text(context, end)
    roles = {context.role(part.id) for part in (channel, *(part for part, _ in on))}
    kit = context.family(channel.id) == "drums" and bool(roles & KIT_MICROPHONES)
    names = _names(context, [part for part, _ in on])
    return EarlyStop(min(seconds for _, seconds in on), f"at {where}, where {names} go on", kit)


def _rests_in_the_ending(context: SessionContext, channel: Channel, end_s: float) -> bool:
    """True for a double, or for a part of loops, that stops where a section begins: it is arranged so.

    A double strengthens choruses, and of loops each section has as many as its producer laid there.
    """
    border = any(abs(marker.time_s - end_s) <= AT_A_BORDER_S for marker in context.session.markers)
    if not border:
        return False
    files = Counter((clip.file, clip.offset_s) for clip in audio_clips(channel) if is_known(clip.offset_s))
    looped = len(files) > 0 and max(files.values()) >= LEAST_LOOPS
    return looped or context.role(channel.id) == "vocal-double"


AT_A_BORDER_S: Final = 1.0
"""A last note rings so far past the border of its section: a definition."""
LEAST_LOOPS: Final = 4
"""A file that is laid so many times from one place is a loop: a definition."""


def _stops_with_kin(context: SessionContext, channel: Channel, end_s: float) -> bool:
    """True when another part of its family, by another name, stops at the same time: then it is arranged so."""
    words = context.house.vocabulary
    family, stem = context.family(channel.id), stem_of(channel.name, words)
    return family is not None and any(
        part.id != channel.id
        and context.family(part.id) == family
        and stem_of(part.name, words) != stem
        and abs(max((last for _, last in sounding_clips(part)), default=0.0) - end_s) <= context.setting(REST)
        for part in _masks(context).parts
    )


def _names(context: SessionContext, parts: Sequence[Channel]) -> str:
    """Some parts as a sentence names them: ``Kick and Snare``, of many the first few."""
    names = [context.name(part.id) for part in parts]
    if not 2 <= len(names) <= NAMED:
        return few_text(names, NAMED)
    return f"{', '.join(names[:-1])} and {names[-1]}"


LEAST_EARLY: Final = Setting(
    "companions.least_early", 0.8, "s", "A microphone of a kit that begins so much before all others begins alone.",
    lowest=0.0,
)  # fmt: skip
EARLY_SETTINGS: Final = (LEAST_EARLY, LEAST_ANY)


@per_session
def early_start(context: SessionContext, channel: Channel) -> tuple[float, str]:
    """By how much a microphone of a kit begins before all others of it, seconds, and where; 0 where it does not.

    What it hears before the kit begins is a count-in, or somebody's chair.
    """
    starts = _starts_in_the_kit(context)
    if channel.id not in starts or context.role(channel.id) not in KIT_MICROPHONES:
        return 0.0, ""
    own = starts[channel.id]
    others = [start for one, start in starts.items() if start is not None and one != channel.id]
    if own is None or len(others) < context.setting(LEAST_ANY):
        return 0.0, ""
    first = min(others)
    if first - own < context.setting(LEAST_EARLY):
        return 0.0, ""
    return first - own, span_text(context, own, first)


@per_session
def _starts_in_the_kit(context: SessionContext) -> dict[str, float | None]:
    """Id of each microphone of the kit → when its first clip begins, seconds; None where it has none."""
    kit = [part for part in _masks(context).parts if context.family(part.id) == "drums"]
    return {part.id: min((start for start, _ in sounding_clips(part)), default=None) for part in kit}


class MissedEntry(NamedTuple):
    """An entry that a part misses: how long it lasts, seconds (0 where it misses none), which, and when."""

    seconds: float
    text: str
    start_s: float = 0.0
    end_s: float = 0.0


@per_session
def missed_entry(context: SessionContext, channel: Channel) -> MissedEntry:
    """The longest entry that a part misses though it plays those before and after it.

    An entry is one of its companions', or a chorus by the session's markers that most of the parts play which play in
    the other choruses. The first one may be missing: arrangements grow.
    """
    found = [*_missed_of_companions(context, channel), *_missed_choruses(context, channel)]
    return max(found, key=lambda one: one.seconds, default=MissedEntry(0.0, "none"))


def _missed_of_companions(context: SessionContext, channel: Channel) -> list[MissedEntry]:
    """The entry that companions of its family have and it has not."""
    edges = time_grid(context)
    starts, ends = edges[:-1], edges[1:]
    found = []
    family, stem = context.family(channel.id), stem_of(channel.name, context.house.vocabulary)
    tried: set[tuple[float, float]] = set()
    for other in _nearly_played(context, channel, family) if family is not None else ():
        missed = _one_missed(context, channel, _entries(context, other))
        if missed is None or missed in tried:
            continue
        tried.add(missed)
        inside = (ends > missed[0]) & (starts < missed[1])
        with_it = [part for part, play in _companions(context, channel, ~inside) if play[inside].mean() > 0.5]
        kin = [part for part in with_it if context.family(part.id) == family]
        twins = [part for part in kin if stem and stem_of(part.name, context.house.vocabulary) == stem]
        if stem and any(_rests_too(context, part, channel, stem, missed) for part in _masks(context).parts):
            continue  # a section that rests together is arranged so
        if len(kin) >= context.setting(LEAST_FAMILY) or twins:
            where = f"{span_text(context, *missed)}, where it would play with {_names(context, kin)}"
            found.append(MissedEntry(missed[1] - missed[0], where, *missed))
    return found


class _FamilyEntries(NamedTuple):
    """The entries of all parts of a family that have enough of them, one part's behind another's.

    Args:
        parts: the parts, in desk order.
        begin: (N,) where the entries of each begin among all.
        first, last: (E,) the edges of the grid before each entry begins and behind its end.
        least: (E,) for how long a part has to play in it to have played it, seconds.
    """

    parts: tuple[Channel, ...]
    begin: NDArray[np.intp]
    first: NDArray[np.intp]
    last: NDArray[np.intp]
    least: Floats


@per_session
def _entries_of_family(context: SessionContext, family: str) -> _FamilyEntries:
    import numpy as np

    edges = time_grid(context)
    kin = [part for part in _masks(context).parts if context.family(part.id) == family]
    entries = {part.id: _entries(context, part) for part in kin}
    ids = [one for one, own in entries.items() if len(own) >= context.setting(LEAST_ENTRIES)]
    spans = np.array([span for one in ids for span in entries[one]], dtype=np.float64).reshape(-1, 2)
    return _FamilyEntries(
        tuple(context.channels[one] for one in ids),
        np.cumsum([0, *(len(entries[one]) for one in ids)])[:-1],
        np.searchsorted(edges, spans[:, 0], side="right") - 1,
        np.clip(np.searchsorted(edges, spans[:, 1]), 0, edges.size - 1),
        context.setting(PLAYED) / 100.0 * (spans[:, 1] - spans[:, 0]) - NEAR_S,
    )


def _nearly_played(context: SessionContext, channel: Channel, family: str) -> list[Channel]:
    """The other parts of a family all of whose entries but one a part can have played at all, as the grid tells.

    By the steps that an entry touches it may have played longer than it has, so that none is passed over that counts.
    """
    import numpy as np

    edges, found = time_grid(context), _entries_of_family(context, family)
    if not found.parts:
        return []
    played = np.diff(edges) * coverage(sounding_spans(context, channel.id), edges)
    until = np.concatenate([[0.0], np.cumsum(played)])
    short = until[found.last] - until[found.first] < found.least
    near = np.flatnonzero(np.add.reduceat(short.astype(np.intp), found.begin) <= 1)
    return [found.parts[at] for at in near if found.parts[at].id != channel.id]


NEAR_S: Final = 1e-3
"""So much is left to rounding where parts are passed over: a bound of work."""


def _rests_too(context: SessionContext, part: Channel, channel: Channel, stem: str, entry: tuple[float, float]) -> bool:
    """True for another part of the same name, numbers and sides aside, that misses the same entry."""
    if part.id == channel.id or stem_of(part.name, context.house.vocabulary) != stem:
        return False
    return 100.0 * _shares(context, part, [entry])[0] <= context.setting(MISSED)


@per_session
def _entries(context: SessionContext, channel: Channel) -> list[tuple[float, float]]:
    """The entries of a part, (start, end) in seconds: its playing between rests."""
    rest = context.setting(REST)
    found: list[tuple[float, float]] = []
    for start, end in sounding_spans(context, channel.id):
        if found and start - found[-1][1] < rest:
            found[-1] = (found[-1][0], end)
        else:
            found.append((start, end))
    return found


def _one_missed(
    context: SessionContext, channel: Channel, entries: list[tuple[float, float]]
) -> tuple[float, float] | None:
    """The one of several entries that a part misses while it plays all others; None for the first and the last."""
    if len(entries) < context.setting(LEAST_ENTRIES):
        return None
    shares = [100.0 * share for share in _shares(context, channel, entries)]
    out = [at for at, share in enumerate(shares) if share <= context.setting(MISSED)]
    if len(out) != 1 or out[0] in (0, len(entries) - 1):
        return None
    rest = [share for at, share in enumerate(shares) if at != out[0]]
    return entries[out[0]] if min(rest) >= context.setting(PLAYED) else None


@per_session
def _played_until(context: SessionContext, channel: Channel) -> tuple[Floats, Floats]:
    """For how long a part has played by when: times (N,) in seconds, rising, and seconds played (N,)."""
    import numpy as np

    spans = sounding_spans(context, channel.id)
    times, played = [0.0], [0.0]
    for start, end in spans:
        times += [start, end]
        played += [played[-1], played[-1] + end - start]
    return np.asarray(times), np.asarray(played)


def _shares(context: SessionContext, channel: Channel, stretches: Sequence[tuple[float, float]]) -> list[float]:
    """The share (0 … 1) of each of some stretches of the song for which a part plays; 0 for one without length."""
    import numpy as np

    times, played = _played_until(context, channel)
    edges = np.asarray(stretches, dtype=np.float64).reshape(-1, 2)
    until = np.interp(edges, times, played)
    lengths = edges[:, 1] - edges[:, 0]
    shares = (until[:, 1] - until[:, 0]) / np.where(lengths > 0.0, lengths, np.inf)
    return [float(share) for share in shares]


@per_session
def _choruses(context: SessionContext) -> list[tuple[float, float, str]]:
    """The choruses by the session's markers: (start, end) in seconds, and the marker's name."""
    words = context.house.vocabulary
    return [(one.start_s, one.end_s, one.name) for one in marked_sections(context) if is_chorus(one.name, words)]


def _missed_choruses(context: SessionContext, channel: Channel) -> list[MissedEntry]:
    """The chorus that a part misses though it plays in all others, and most of the parts that do so play in it."""
    choruses = _choruses(context)
    missed = _one_missed(context, channel, [(start, end) for start, end, _ in choruses])
    if missed is None or _picks_and_chooses(context, channel, choruses):
        return []
    others = [(start, end) for start, end, _ in choruses if start != missed[0]]
    played = context.setting(PLAYED) / 100.0
    regular = [part for part in _masks(context).parts if min(_shares(context, part, others)) >= played]
    there = [part for part in regular if _shares(context, part, [missed])[0] >= played]
    if len(there) < context.setting(LEAST_FAMILY) or 2 * len(there) <= len(regular):
        return []
    name = next(name for start, _, name in choruses if start == missed[0])
    return [MissedEntry(missed[1] - missed[0], f"{name} ({span_text(context, *missed)})", *missed)]


def _picks_and_chooses(context: SessionContext, channel: Channel, choruses: list[tuple[float, float, str]]) -> bool:
    """True for a part that plays in some of the other sections and rests in others: no pattern says that it slipped.

    A part that plays throughout misses the chorus, and so does one that plays in choruses alone.
    """
    if context.role(channel.id) not in COMES_AND_GOES:
        return False
    edges = [0.0, *(edge for start, end, _ in choruses for edge in (start, end)), song_end_s(context)]
    between = [(start, end) for start, end in zip(edges[::2], edges[1::2], strict=True) if end > start]
    lengths = [end - start for start, end in between]
    played = sum(share * long for share, long in zip(_shares(context, channel, between), lengths, strict=True))
    share = 100.0 * played / max(sum(lengths), 1e-9)
    return context.setting(MISSED) < share < context.setting(PLAYED)


FACTS: Facts[Channel] = Facts()


@FACTS.fact(
    "number",
    "For how long the parts that had played and rested with it go on after it has stopped for good; 0 where they stop "
    "with it.",
    unit="s",
    how="derived",
    settings=STOP_SETTINGS,
)
def stops_early_s(row: Row[Channel]) -> FactValue:
    found = early_stop(row.context, row.item)
    return FactValue(found.seconds, "derived", row.subject.where, found.text)


@FACTS.fact("switch", "It and the parts that go on are microphones of one kit.", how="derived", settings=STOP_SETTINGS)
def stops_in_its_kit(row: Row[Channel]) -> bool:
    return early_stop(row.context, row.item).one_performance


@FACTS.fact(
    "number",
    "How long the longest entry lasts that it misses though it plays those before and after: one of the parts that "
    "play and rest with it, or a chorus; 0 where it misses none.",
    unit="s",
    how="derived",
    settings=ENTRY_SETTINGS,
)
def missed_entry_s(row: Row[Channel]) -> FactValue:
    found = missed_entry(row.context, row.item)
    return FactValue(found.seconds, "derived", row.subject.where, found.text)


@FACTS.fact(
    "number",
    "How long before all other microphones of the kit one that hears the whole kit begins; 0 where it does not.",
    unit="s",
    how="derived",
    settings=EARLY_SETTINGS,
)
def starts_early_s(row: Row[Channel]) -> FactValue:
    early, text = early_start(row.context, row.item)
    return FactValue(early, "derived", text, text)


@FACTS.fact("switch", "A clip of it lies muted in the entry that it misses.", how="derived", settings=ENTRY_SETTINGS)
def muted_in_missed_entry(row: Row[Channel]) -> bool:
    found = missed_entry(row.context, row.item)
    return found.seconds > 0.0 and any(
        clip.on is False and clip.start_s < found.end_s and clip.end_s > found.start_s for clip in row.item.clips
    )
