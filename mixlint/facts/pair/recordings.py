"""What the two parts of a pair play, side by side: one recording, or two microphones on one performance."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, Literal, NamedTuple, get_args

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.inserts import active_inserts
from mixlint.analysis.media_use import NOT_OPENED, one_path, plain_clips
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.pair.pairs import PartPair
from mixlint.session import Channel, Clip, Unknown, is_known, known

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.signal.alignment import Alignment, AlignmentFault

MOST_OFFSET: Final = Setting(
    "recordings.most_offset",
    40.0,
    "ms",
    "Up to this offset two plays of one file are one recording; beyond it the later one is an echo or another place.",
)
LEAST_AGREEMENT: Final = Setting(
    "recordings.least_agreement",
    0.9,
    "",
    "Least correlation, with the delay taken out, at which two files are taken for one recording.",
)
SHORTEST_STRETCH: Final = Setting(
    "recordings.shortest_stretch", 1.0, "s", "Two recordings that share less than this are not compared."
)
MOST_DELAY: Final = Setting(
    "recordings.most_delay", 20.0, "ms", "The longest delay between two recordings that is looked for."
)
COMPARED: Final = (SHORTEST_STRETCH, MOST_DELAY)

EXCERPT_S: Final = 20.0
"""How much of the stretch that two recordings share is read: a bound of work."""

RecordingEvidence = Literal["one-file", "two-files-compared", "two-files"]


class SharedStretch(NamedTuple):
    """A stretch of the song in which two channels both play a file.

    Args:
        start_s: where it starts, seconds of the song.
        end_s: where it ends, seconds of the song.
        one: the clip that the first channel plays there.
        other: the clip that the second one plays.
    """

    start_s: float
    end_s: float
    one: Clip
    other: Clip

    def offset_s(self, clip: Clip) -> float:
        """The place in the clip's file at which the stretch begins, seconds."""
        assert is_known(clip.offset_s)
        return clip.offset_s + (self.start_s - clip.start_s)


def shared_stretches(one: Channel, other: Channel) -> list[SharedStretch]:
    """The stretches in which both play a file at its own speed."""
    found = []
    for a in plain_clips(one):
        for b in plain_clips(other):
            start, end = max(a.start_s, b.start_s), min(a.end_s, b.end_s)
            if end > start:
                found.append(SharedStretch(start, end, a, b))
    return found


class Sameness(NamedTuple):
    """Whether two channels play one recording.

    Args:
        same: they do.
        evidence: how it shows: by the file they play, by a comparison of two files, or by nothing but their being two.
        text: the same for a reader.
    """

    same: bool
    evidence: RecordingEvidence
    text: str


@per_session
def same_recording(context: SessionContext, pair: PartPair) -> Sameness | Unknown:
    """Whether two channels play one and the same recording, and how that shows.

    One file on both, a copy of it to the byte, or with audio two files that agree nearly everywhere.

    Returns:
        what was found; Unknown where one of them plays no named file from a known place.
    """
    one, other = pair.one, pair.other
    if not plain_clips(one) or not plain_clips(other):
        return Unknown(unknown="the clips name no audio file", settle="listen to each of them alone")
    most_s = context.setting(MOST_OFFSET) / 1000.0
    for stretch in shared_stretches(one, other):
        a, b = stretch.one, stretch.other
        lag = stretch.offset_s(a) - stretch.offset_s(b)
        if abs(lag) <= most_s and _one_file(context, a, b):
            late = "" if lag == 0.0 else f", {abs(1000.0 * lag):.1f} ms apart"
            return Sameness(True, "one-file", f"both play one file{late}")
    found = alignment(context, pair)
    if isinstance(found, Unknown) or found.correlation is None:
        return Sameness(False, "two-files", "they play different files")
    agreed = f"two files that agree by {abs(found.correlation):.2f}"
    if abs(found.correlation) >= context.setting(LEAST_AGREEMENT) and found.delay_s is not None:
        return Sameness(True, "two-files-compared", f"{agreed}, {abs(1000.0 * found.delay_s):.1f} ms apart")
    return Sameness(False, "two-files-compared", agreed)


def _one_file(context: SessionContext, a: Clip, b: Clip) -> bool:
    """True when both clips play one file, or two of the same length and bytes."""
    if a.file == b.file:
        return True
    if a.file is None or b.file is None:
        return False
    if one_path(context, a.file) == one_path(context, b.file):
        return True
    if context.audio is None:
        return False
    first, second = context.audio.header(a.file), context.audio.header(b.file)
    if isinstance(first, Unknown) or isinstance(second, Unknown) or first.duration_s != second.duration_s:
        return False
    one, other = context.audio.digest(a.file), context.audio.digest(b.file)
    return not isinstance(one, Unknown) and one == other


def why_unaligned(found: Alignment) -> str:
    """Why the delay and the polarity of two recordings cannot be told."""
    reasons: dict[AlignmentFault, str] = {
        "too-short": "the signals share too short a stretch",
        "silent": "one of the two is silent",
        "unlike": "the two have too little in common",
        "no-clear-delay": "the two have no clear delay in common",
        "ambiguous": "several delays fit nearly alike",
    }
    return reasons[found.fault] if found.fault else "the polarity cannot be told"


@per_session
def alignment(context: SessionContext, pair: PartPair) -> Alignment | Unknown:
    """The delay and polarity of the second part's files against the first's, over the longest stretch they share.

    Returns:
        what :func:`mixlint.signal.alignment.align` finds; Unknown without audio, without a stretch to compare, or
        where a file cannot be read.
    """
    from mixlint.signal.alignment import align

    if context.audio is None:
        return Unknown(unknown=NOT_OPENED.unknown, settle="review it with its audio, or listen in mono")
    stretches = shared_stretches(pair.one, pair.other)
    longest = max(stretches, key=lambda s: s.end_s - s.start_s, default=None)
    if longest is None or longest.end_s - longest.start_s < context.setting(SHORTEST_STRETCH):
        return Unknown(unknown="they share no stretch of plain audio", settle="listen to both in mono")
    one, rate = _samples(context, longest, longest.one)
    other, other_rate = _samples(context, longest, longest.other)
    if rate != other_rate:
        return Unknown(unknown="their files have different sample rates", settle="bring them to one rate")
    return align(one, other, rate, context.setting(MOST_DELAY) / 1000.0)


def _samples(context: SessionContext, stretch: SharedStretch, clip: Clip) -> tuple[NDArray[np.float64], float]:
    """The stretch of one clip's file, its legs folded to one: samples (n,), and their rate in hertz.

    Raises:
        NotKnown: the file cannot be read.
    """
    import numpy as np

    assert context.audio is not None
    assert clip.file is not None
    header = known(context.audio.header(clip.file))
    length = min(EXCERPT_S, stretch.end_s - stretch.start_s)
    samples = known(context.audio.excerpt(clip.file, stretch.offset_s(clip), length))
    return np.asarray(samples, dtype=np.float64).mean(axis=0), float(header.sample_rate_hz)


FACTS: Facts[PartPair] = Facts()
SAME_RECORDING: Final = (MOST_OFFSET, LEAST_AGREEMENT, *COMPARED)


@FACTS.fact("switch", "Both play one and the same recording, at most 40 ms apart.", how="derived",
            settings=SAME_RECORDING)  # fmt: skip
def one_recording(row: Row[PartPair]) -> FactValue:
    found = known(same_recording(row.context, row.item))
    return FactValue(found.same, "derived", row.subject.where, found.text)


@FACTS.fact(
    "word",
    "How it shows whether they are one recording: by one file on both, by two files that were compared, or not at all.",
    how="derived",
    words=get_args(RecordingEvidence),
    settings=SAME_RECORDING,
)
def recording_evidence(row: Row[PartPair]) -> str:
    return known(same_recording(row.context, row.item)).evidence


FACTS.echo("recording_how", "one_recording.note")


@FACTS.fact(
    "number", "How well their recordings agree with the delay taken out, 0 to 1.", how="measured", settings=COMPARED
)
def agreement(row: Row[PartPair]) -> float | Unknown:
    found = known(alignment(row.context, row.item))
    if found.correlation is None:
        return Unknown(unknown=why_unaligned(found), settle="listen to both in mono")
    return abs(found.correlation)


@FACTS.fact(
    "number",
    "How much later the recording of one lies than the other's.",
    unit="ms",
    how="measured",
    settings=COMPARED,
)
def delay_ms(row: Row[PartPair]) -> FactValue | Unknown:
    found = known(alignment(row.context, row.item))
    if found.delay_s is None:
        return Unknown(unknown=why_unaligned(found), settle="listen to both in mono")
    later = row.item.other if found.delay_s > 0.0 else row.item.one
    return FactValue(
        1000.0 * abs(found.delay_s), "measured", row.subject.where, f"{row.context.name(later.id)} is later"
    )


@FACTS.fact(
    "number",
    "The first notch of their sum, at half a period of the delay.",
    unit="Hz",
    how="measured",
    settings=COMPARED,
)
def notch_hz(row: Row[PartPair]) -> float | Unknown:
    late = row.need("delay_ms").number
    return Unknown(unknown="they are not apart") if late <= 0.0 else 500.0 / late


@FACTS.fact("switch", "Their recordings have the same polarity.", how="measured", settings=COMPARED)
def same_polarity(row: Row[PartPair]) -> bool | Unknown:
    pair = row.item
    found = known(alignment(row.context, pair))
    if found.polarity is None:
        return Unknown(unknown=why_unaligned(found), settle="flip one of them and listen in mono")
    if found.polarity > 0:
        return True
    hidden = [i.name for c in (pair.one, pair.other) for i, _ in active_inserts(row.context, c) if i.opaque]
    if hidden:
        return Unknown(
            unknown=f"the recordings are of opposite polarity, and {', '.join(hidden)} may turn one over",
            settle="flip one of them and listen in mono",
        )
    return False
