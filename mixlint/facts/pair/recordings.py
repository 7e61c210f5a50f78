"""What the two parts of a pair play, side by side: one recording, one performance, or two takes."""

from __future__ import annotations

from typing import Final, Literal, NamedTuple, get_args

from mixlint.analysis.activity import span_text
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.held_together import COMPARED, Held, held_together
from mixlint.analysis.media_use import one_path, plain_clips
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, How, Row
from mixlint.facts.pair.pairs import PartPair
from mixlint.session import Channel, Clip, Unknown, is_known, known

MOST_OFFSET: Final = Setting(
    "recordings.most_offset",
    40.0,
    "ms",
    "Up to this offset two plays of one file are one recording; beyond it the later one is an echo or another place.",
)

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
        same: they do; Unknown where their sound leaves it open.
        evidence: how it shows: by the file they play, by a comparison of two files, or by nothing but their being two.
        text: the same for a reader.
    """

    same: bool | Unknown
    evidence: RecordingEvidence
    text: str


@per_session
def same_recording(context: SessionContext, pair: PartPair) -> Sameness | Unknown:
    """Whether two channels play one and the same recording, and how that shows.

    One file on both, a copy of it to the byte, or with audio two files that agree nearly everywhere, in a part of the
    song, or once one of them is brought to the other's speed.

    Returns:
        what was found; Unknown where one of them plays no named file from a known place. Where they are one performance
        by their sound, which two microphones may have heard, or which was processed, their sameness is open.
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
    if context.audio is None:
        return Sameness(False, "two-files", "they play different files")
    held = held_together(context, one, other)
    if isinstance(held, Unknown):
        return Sameness(held, "two-files", "they play different files")
    return by_sound(context, held)


def by_sound(context: SessionContext, held: Held) -> Sameness:
    """What a comparison of two files says of their being one recording."""
    found = held.found
    late = f"{abs(1000.0 * found.lag_s):.2f} ms apart"
    agreed = f"two files that agree by {found.agreement:.2f}"
    if held.sound == "copy":
        turned = ", one turned over" if found.polarity == -1 else ""
        return Sameness(True, "two-files-compared", f"{agreed}, {late}{turned}")
    if held.sound == "copy-in-part":
        spans = [seen.at_s for seen, in_step in zip(found.seen, found.together, strict=True) if in_step]
        where = span_text(context, min(spans), max(spans) + 1.0)
        share = f"{len(spans)} of {len(found.seen)} seconds compared"
        return Sameness(True, "two-files-compared", f"{agreed} in {share} ({where}), {late}")
    if held.sound == "copy-at-another-speed":
        return Sameness(True, "two-files-compared", f"two files that agree once one is tuned by {held.cents:.1f} cents")
    if held.sound == "one-performance":
        why = Unknown(
            unknown=f"they are one performance ({agreed} in {100.0 * found.share:.0f} % of the seconds compared, "
            f"{late}): two microphones or amplifiers, or one recording that was processed",
            settle="look how the two were recorded",
        )
        return Sameness(why, "two-files-compared", agreed)
    if held.sound == "same-strokes":
        why = Unknown(
            unknown=f"their strokes fall together to the millisecond ({held.alike:.2f}) and their waves do not agree: "
            "a sequence that was printed twice, or a copy that was processed",
            settle="listen to each of them alone",
        )
        return Sameness(why, "two-files-compared", agreed)
    return Sameness(
        False,
        "two-files-compared",
        f"no delay within reach fits both in more than {sum(found.together)} of {len(found.seen)} seconds compared",
    )


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


FACTS: Facts[PartPair] = Facts()
SAME_RECORDING: Final = (MOST_OFFSET, *COMPARED)


@FACTS.fact("switch", "Both play one and the same recording, at most 40 ms apart where it is one file.",
            how="derived", settings=SAME_RECORDING)  # fmt: skip
def one_recording(row: Row[PartPair]) -> FactValue:
    found = known(same_recording(row.context, row.item))
    how: How = "measured" if found.evidence == "two-files-compared" else "derived"
    return FactValue(known(found.same), how, row.subject.where, found.text)


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
def agreement(row: Row[PartPair]) -> float:
    return known(held_together(row.context, row.item.one, row.item.other)).found.agreement


def _in_step(row: Row[PartPair]) -> Held:
    """What the two have in common, where they are of one performance.

    Raises:
        NotKnown: they are not, or it cannot be told.
    """
    held = known(held_together(row.context, row.item.one, row.item.other))
    if held.sound not in ("copy", "copy-in-part", "one-performance"):
        known(Unknown(unknown="the two have no delay in common", settle="listen to both in mono"))
    return held


@FACTS.fact(
    "number",
    "How much later the recording of one lies than the other's.",
    unit="ms",
    how="measured",
    settings=COMPARED,
)
def delay_ms(row: Row[PartPair]) -> FactValue:
    lag = _in_step(row).found.lag_s
    later = row.item.other if lag > 0.0 else row.item.one
    return FactValue(1000.0 * abs(lag), "measured", row.subject.where, f"{row.context.name(later.id)} is later")


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
    polarity = _in_step(row).found.polarity
    if polarity is None:
        return Unknown(
            unknown="delays of either polarity fit nearly alike", settle="turn one of them over and listen in mono"
        )
    return polarity > 0
