"""What a stem's file says of itself inside, against its name and its sound."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import NOT_OPENED
from mixlint.analysis.mix_prints import stem_files, stem_names
from mixlint.analysis.stated_loudness import measured_of
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.stated_loudness import declare_stated
from mixlint.media.labels import Labels
from mixlint.naming import families_named, side_of
from mixlint.session import MediaFile, Unknown, is_known, known
from mixlint.units import number_text

FACTS: Facts[MediaFile] = Facts()


def _labels(row: Row[MediaFile]) -> Labels:
    audio = row.context.audio
    return known(NOT_OPENED if audio is None else audio.labels(row.item.id))


@FACTS.fact("list", "The names that its file gives to its tracks inside (iXML).", how="measured")
def names_inside(row: Row[MediaFile]) -> tuple[str, ...]:
    return _labels(row).tracks


@FACTS.fact(
    "switch", "The names inside its file speak of another part, or of another side, than its own name.", how="measured"
)
def named_otherwise_inside(row: Row[MediaFile]) -> FactValue:
    words = row.context.house.vocabulary
    own = stem_names(row.context)[row.item.id].part
    inside = " ".join(_labels(row).tracks)
    mine, theirs = families_named(own, words), families_named(inside, words)
    apart = bool(mine and theirs and mine.isdisjoint(theirs))
    sides = {side_of(own, words), side_of(inside, words)} if len(_labels(row).tracks) == 1 else set()
    return FactValue(apart or sides == {"left", "right"}, "measured", row.subject.where, inside)


declare_stated(
    FACTS,
    "its file (EBU Tech 3285)",
    lambda row: _labels(row).stated,
    lambda row: measured_of(row.context, row.item.id),
)


@FACTS.fact(
    "number",
    "How much later than most of the set it begins by the time stamp in its file; earlier negative.",
    unit="ms",
    how="measured",
)
def stamped_late_ms(row: Row[MediaFile]) -> float | Unknown:
    stamps = known(_stamps(row.context))
    own = stamps.get(row.item.id)
    if own is None:
        return Unknown(unknown="its file carries no time stamp")
    times = sorted(stamps.values())
    usual = max(dict.fromkeys(times), key=times.count)
    if times.count(usual) * 2 <= len(times):
        return Unknown(unknown="the time stamps of the set have no beginning in common")
    return 1000.0 * (own - usual)


@FACTS.fact(
    "text",
    "What its file says otherwise of itself than it is: name, loudness, range, true peak, time stamp.",
    how="measured",
)
def otherwise_inside(row: Row[MediaFile]) -> str:
    said = []
    if row.holds("named_otherwise_inside"):
        said.append(f"the track names {' and '.join(names_inside(row))}")
    for fact, called, unit in (
        ("stated_loudness_off_lu", "a loudness", "LU"),
        ("stated_range_off_lu", "a range", "LU"),
        ("stated_true_peak_off_db", "a true peak", "dB"),
    ):
        found = row.value(fact)
        if isinstance(found, FactValue) and isinstance(found.value, float) and found.value > 0.0:
            said.append(f"{called} off by {number_text(found.value, unit)} ({found.note})")
    late = row.value("stamped_late_ms")
    if isinstance(late, FactValue) and isinstance(late.value, float) and late.value != 0.0:
        than = "later" if late.value > 0.0 else "earlier"
        said.append(f"by its time stamp {number_text(abs(late.value), 'ms')} {than} than most of the set")
    return "; ".join(said)


LEAST_STAMPED: Final = 3
"""So many files have to carry a stamp before one of them can be held against the others."""


@per_session
def _stamps(context: SessionContext) -> dict[str, float] | Unknown:
    """Media id to the seconds since midnight at which a stem begins by its stamp."""
    if context.audio is None:
        return NOT_OPENED
    found = {}
    for media in stem_files(context):
        labels, head = context.audio.labels(media.id), context.audio.header(media.id)
        if is_known(labels) and is_known(head) and labels.stamp is not None:
            found[media.id] = labels.stamp / head.sample_rate_hz
    if len(found) < LEAST_STAMPED:
        return Unknown(unknown="fewer than three stems carry a time stamp")
    return found


@FACTS.fact("number", "How many cue points its file has.", how="measured")
def cue_points(row: Row[MediaFile]) -> int:
    return len(_labels(row).cues)
