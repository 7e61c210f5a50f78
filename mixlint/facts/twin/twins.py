"""Which channels play one and the same recording at the same time, wherever they are panned."""

from __future__ import annotations

from collections.abc import Hashable
from itertools import combinations, product
from typing import Final, Literal, NamedTuple, get_args

from mixlint.analysis.activity import playing_s
from mixlint.analysis.audibility import is_heard
from mixlint.analysis.channel_purpose import is_parallel, is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.inserts import SHAPERS, active_inserts
from mixlint.analysis.media_use import audio_clips, is_active_clip, one_path
from mixlint.analysis.mix_prints import is_set_of_stems
from mixlint.analysis.paths import paths_of
from mixlint.analysis.performances import KIT, are_microphones, related
from mixlint.analysis.prints import source_of_print
from mixlint.analysis.settings import Setting
from mixlint.analysis.shared_looks import LOOK_S
from mixlint.facts.pair.pairs import PartPair, pairs
from mixlint.facts.pair.recordings import MOST_OFFSET, SAME_RECORDING, same_recording
from mixlint.naming import copied_from, fold_name, is_mid_side, pair_kind
from mixlint.routing import TIME_EFFECTS
from mixlint.session import Channel, Clip, Unknown, is_known

LEAST_TOGETHER: Final = Setting(
    "twins.least_together", 1.0, "s", "Two channels that play one recording together for less than this are no twins.",
    lowest=0.0,
)  # fmt: skip
LEAST_SHARE: Final = Setting(
    "twins.least_share",
    10.0,
    "%",
    "The same as a share of what the shorter of them plays: less is the crossfade between two tracks.",
    lowest=0.0,
    highest=100.0,
)
TWIN_SETTINGS: Final = (LEAST_TOGETHER, LEAST_SHARE, *SAME_RECORDING)

ALIKE_S: Final = 1e-3
"""Clips without a file whose ends lie this close are laid out alike, seconds: rounding of the export."""

GLIMPSE_AT_S: Final = 2.0
GLIMPSE_S: Final = 0.1
"""What is compared of two files of one length before all of their bytes are, seconds: a bound of work."""

MADE_ANOTHER: Final = SHAPERS | TIME_EFFECTS
"""Kinds of processor that make another sound of a copy."""

TwinEvidence = Literal["one-file", "copied-name", "two-files-compared"]


class Twin(NamedTuple):
    """Two channels that play one recording.

    Args:
        one, other: the channels, in desk order.
        evidence: by one file or its copy on both, by a name that says it is a copy and the same clips, or by two files
            whose sound agrees.
        start_s, end_s: where they first and last do, seconds of the song.
        lag_s: how far apart they are, seconds.
        agreement: how well two files agree that were compared, 0 to 1.
        turned: one is of the other polarity.
    """

    one: Channel
    other: Channel
    evidence: TwinEvidence
    start_s: float
    end_s: float
    lag_s: float
    agreement: float = 1.0
    turned: bool = False


class Twins(NamedTuple):
    """All the channels that play one recording, in desk order, with the pairs that show it."""

    channels: tuple[Channel, ...]
    shown: tuple[Twin, ...]


@per_session
def twins(context: SessionContext) -> tuple[Twins, ...]:
    """Every recording that more than one channel plays at the same time in the mix."""
    found: list[Twin] = []
    for one, other in _candidates(context):
        twin = _twin(context, one, other)
        if twin is not None and not _meant(context, twin):
            found.append(twin)
    seen = {frozenset((twin.one.id, twin.other.id)) for twin in found}
    found += [
        twin
        for twin in _by_sound(context)
        if frozenset((twin.one.id, twin.other.id)) not in seen and not _meant(context, twin)
    ]
    return _joined(context, found)


def _by_sound(context: SessionContext) -> list[Twin]:
    """Pairs of which the sound says that one is a copy of the other, whatever was done to it and they are called.

    The microphones of a kit, and what is named as two microphones, are looked at as that; stems by what they sum to,
    but for a double among them that is none.
    """
    heard = {channel.id for channel in _heard_parts(context)}
    stems = is_set_of_stems(context)
    out = []
    for edge in related(context):
        one, other, found = edge.one, edge.other, edge.found
        if stems and "vocal-double" not in (context.role(one.id), context.role(other.id)):
            continue
        if edge.sound not in ("copy", "copy-in-part") or not {one.id, other.id} <= heard:
            continue
        kit = context.family(one.id) in KIT and context.family(other.id) in KIT
        if kit or are_microphones(context, one, other):
            continue
        times = [seen.at_s for seen, in_step in zip(found.seen, found.together, strict=True) if in_step]
        twin = Twin(
            one, other, "two-files-compared", min(times), max(times) + LOOK_S, abs(found.lag_s), found.agreement,
            found.polarity == -1,
        )  # fmt: skip
        out.append(twin)
    return out


def _joined(context: SessionContext, found: list[Twin]) -> tuple[Twins, ...]:
    """The pairs that share a channel brought together."""
    home: dict[str, set[str]] = {}
    for twin in found:
        both = home.get(twin.one.id, {twin.one.id}) | home.get(twin.other.id, {twin.other.id})
        home.update(dict.fromkeys(both, both))
    sets = {id(ids): ids for ids in home.values()}.values()
    groups = [
        Twins(
            tuple(context.channels[i] for i in sorted(ids, key=context.order.__getitem__)),
            tuple(twin for twin in found if twin.one.id in ids),
        )
        for ids in sets
    ]
    return tuple(sorted(groups, key=lambda group: context.order[group.channels[0].id]))


def _heard_parts(context: SessionContext) -> list[Channel]:
    """The parts whose own sound, and not their ambience alone, is heard in the mix."""
    paths = paths_of(context)
    return [
        c
        for c in context.session.channels
        if "clips" not in c.missing
        and is_source(context, c)
        and is_heard(context, c)
        and c.id in paths
        and paths[c.id].count
    ]


def _candidates(context: SessionContext) -> list[tuple[Channel, Channel]]:
    """Pairs that play one file, or of which one says by its name that it is a copy of the other, in desk order."""
    parts = _heard_parts(context)
    players: dict[str, dict[str, Channel]] = {}
    for channel in parts:
        for clip in audio_clips(channel):
            if clip.file is not None:
                players.setdefault(_content(context, clip.file), {})[channel.id] = channel
    named: dict[str, dict[str, Channel]] = {}
    words = context.house.vocabulary
    for channel in parts:
        base = copied_from(channel.name, words)
        named.setdefault(base or fold_name(channel.name, separators=True), {})[channel.id] = channel
    found: dict[tuple[str, str], tuple[Channel, Channel]] = {}
    for together in (*players.values(), *named.values()):
        for one, other in combinations(together.values(), 2):
            found[one.id, other.id] = (one, other)
    return sorted(found.values(), key=lambda pair: (context.order[pair[0].id], context.order[pair[1].id]))


def _content(context: SessionContext, file: str) -> str:
    """The file, or one name for all files of the same bytes; a file that is alone in its length is not read through."""
    return _contents(context).get(file) or one_path(context, file)


@per_session
def _contents(context: SessionContext) -> dict[str, str]:
    """File to the digest of its bytes, for the files of which another one is as long and begins alike."""
    if context.audio is None:
        return {}
    lengths: dict[Hashable, list[str]] = {}
    for file in dict.fromkeys(clip.file for channel in _heard_parts(context) for clip in channel.clips):
        header = None if file is None else context.audio.header(file)
        if file is not None and header is not None and is_known(header):
            lengths.setdefault((header.duration_s, header.legs, header.sample_rate_hz), []).append(file)
    alike: dict[Hashable, list[str]] = {}
    for length, files in lengths.items():
        for file in files if len(files) > 1 else ():
            glimpse = context.audio.excerpt(file, GLIMPSE_AT_S, GLIMPSE_S)
            if not isinstance(glimpse, Unknown):
                alike.setdefault((length, glimpse.tobytes()), []).append(file)
    digests = {file: context.audio.digest(file) for files in alike.values() if len(files) > 1 for file in files}
    return {file: f"bytes {digest}" for file, digest in digests.items() if isinstance(digest, str)}


def _twin(context: SessionContext, one: Channel, other: Channel) -> Twin | None:
    """What shows that two channels play one recording for long enough; None where nothing does."""
    shared = _shared(context, one, other)
    if shared:
        start, end = shared[0][0], max(stretch[1] for stretch in shared)
        lag = max(abs(stretch[2]) for stretch in shared)
        if _enough(context, one, other, sum(last - first for first, last, _ in shared)):
            return Twin(one, other, "one-file", start, end, lag)
        return None
    if copied_from(one.name, context.house.vocabulary) == copied_from(other.name, context.house.vocabulary):
        return None  # two plain names, or two copies of one part: nothing says which recording they hold
    return _copy(context, one, other)


def _shared(context: SessionContext, one: Channel, other: Channel) -> list[tuple[float, float, float]]:
    """Stretches (start, end, lag), seconds, in which both play the same place of one file, nearly."""
    most_s = context.setting(MOST_OFFSET) / 1000.0
    mine, theirs = _placed(context, one), _placed(context, other)
    both = mine.keys() & theirs.keys()
    found: list[tuple[float, float, float]] = []
    for content in both:
        for a, b in product(mine[content], theirs[content]):
            start, end = max(a.start_s, b.start_s), min(a.end_s, b.end_s)
            if end <= start or a.speed != b.speed:
                continue
            assert is_known(a.offset_s)
            assert is_known(b.offset_s)
            speed = a.speed if is_known(a.speed) else 1.0
            lag = (a.offset_s - b.offset_s) / speed - (a.start_s - b.start_s) if speed else 0.0
            # A clip along a warp map is compared by its own place alone.
            if abs(lag) <= most_s and (is_known(a.speed) or (lag == 0.0 and a.start_s == b.start_s)):
                found.append((start, end, lag))
    return sorted(found)


def _placed(context: SessionContext, channel: Channel) -> dict[str, list[Clip]]:
    """The channel's audio clips that sound and of which the place in the file is known, by what is in that file."""
    found: dict[str, list[Clip]] = {}
    for clip in audio_clips(channel):
        if clip.file is not None and is_known(clip.offset_s):
            found.setdefault(_content(context, clip.file), []).append(clip)
    return found


def _enough(context: SessionContext, one: Channel, other: Channel, together_s: float) -> bool:
    shorter = min(playing_s(context, one.id), playing_s(context, other.id))
    least_share = context.setting(LEAST_SHARE) / 100.0
    return together_s >= context.setting(LEAST_TOGETHER) and together_s >= least_share * shorter


def _copy(context: SessionContext, one: Channel, other: Channel) -> Twin | None:
    """A channel and one that is called its copy, with the same clips, or with audio that agrees."""
    mine, theirs = _laid_out(one), _laid_out(other)
    if not mine or not theirs:
        return None
    if all(file is not None for _, _, file, _ in (*mine, *theirs)):
        found = same_recording(context, PartPair("counterparts", one, other))
        if isinstance(found, Unknown) or found.same is not True:
            return None
        return Twin(one, other, "copied-name", *_span(mine, theirs), 0.0)
    if len(mine) != len(theirs) or _instruments(context, one) != _instruments(context, other):
        return None
    alike = all(
        abs(a[0] - b[0]) <= ALIKE_S and abs(a[1] - b[1]) <= ALIKE_S and a[2:] == b[2:]
        for a, b in zip(mine, theirs, strict=True)
    )
    if not alike or not _enough(context, one, other, sum(end - start for start, end, _, _ in mine)):
        return None
    return Twin(one, other, "copied-name", *_span(mine, theirs), 0.0)


_Laid = tuple[float, float, str | None, str]
"""A clip: start and end in seconds, file, and what it plays."""


def _span(mine: list[_Laid], theirs: list[_Laid]) -> tuple[float, float]:
    """From where to where both have clips, seconds."""
    return max(mine[0][0], theirs[0][0]), min(max(c[1] for c in mine), max(c[1] for c in theirs))


def _laid_out(channel: Channel) -> list[_Laid]:
    """The clips that sound, in order; those that name no file alone where there are any."""
    active: list[_Laid] = [
        (c.start_s, c.end_s, c.file, c.plays)
        for c in sorted(channel.clips, key=lambda c: (c.start_s, c.end_s))
        if is_active_clip(channel, c) and c.plays != "video"
    ]
    return [clip for clip in active if clip[2] is None] or active


def _instruments(context: SessionContext, channel: Channel) -> list[str]:
    """The names of the instruments in its inserts."""
    return [insert.name for insert, reading in active_inserts(context, channel) if reading.word == "instrument"]


def _meant(context: SessionContext, twin: Twin) -> bool:
    """True where the second channel is no mere copy: the other rules look after it, or it is made another sound of."""
    one, other = twin.one, twin.other
    if "inserts" in one.missing or "inserts" in other.missing:
        return True  # nothing shows whether they are processed alike
    words = context.house.vocabulary
    if is_parallel(context, one) or is_parallel(context, other):
        return True
    if frozenset((one.id, other.id)) in _counterparts(context) or pair_kind(one.name, other.name, words) == "sides":
        return True
    if is_mid_side(one.name, words) and is_mid_side(other.name, words):
        return True  # the side signal of a pair stands on two channels, one of them turned over
    for a, b in ((one, other), (other, one)):
        source = source_of_print(context, a)
        if source is not None and source.id == b.id:
            return True
    first, second = _shapers(context, one), _shapers(context, other)
    copies = {c.id for c in (one, other) if copied_from(c.name, words) is not None}
    if len(copies) == 1:
        return bool(second - first) if other.id in copies else bool(first - second)
    return first != second


def _shapers(context: SessionContext, channel: Channel) -> frozenset[str]:
    """The kinds of its processors that make another sound of it; one that is not told counts by its name."""
    return frozenset(
        reading.word or f"unread {insert.name}"
        for insert, reading in active_inserts(context, channel)
        if reading.word is None or reading.word in MADE_ANOTHER
    )


@per_session
def _counterparts(context: SessionContext) -> frozenset[frozenset[str]]:
    """The ids of each two parts that answer each other from either side."""
    return frozenset(frozenset((p.one.id, p.other.id)) for p in pairs(context) if p.kind == "counterparts")


EVIDENCE: Final = get_args(TwinEvidence)
