"""Recordings that change for good at one instant: a microphone that slipped or died, a preamplifier touched."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import moment_text
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.held_together import COMPARED
from mixlint.analysis.media_use import MediaUse, plain_clips
from mixlint.analysis.octave_course import SILENT_DB, STEP_S, octave_course
from mixlint.analysis.performances import related
from mixlint.analysis.settings import Setting
from mixlint.analysis.shared_looks import first_s
from mixlint.analysis.sound_memory import remembered
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.media.heard import played, played_of, players
from mixlint.naming import is_direct
from mixlint.session import Channel, Unknown
from mixlint.units import number_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.signal.level_steps import Step

    Floats = NDArray[np.float64]

FACTS: Facts[MediaUse] = Facts()

LEAST: Final = Setting(
    "changes.least",
    4.0,
    "dB",
    "So far the noise of a recording, or its distance from its fellows, has to step to be a change.",
    basis="tried: 181 files of 16 good songs reach 2 dB",
    lowest=2.0,
    highest=20.0,
)
AROUND: Final = Setting(
    "changes.around", 3.0, "s", "So long it has to sound before a change, and behind it.", lowest=1.0, highest=30.0
)
CLEAR: Final = Setting(
    "changes.clear",
    1.0,
    "dB",
    "So far the distances from a fellow before and behind a change have to lie apart, nine in ten of them.",
    basis="tried: no two microphones of 16 good songs reach 0 dB in most bands",
    lowest=0.0,
    highest=12.0,
)
TONE: Final = Setting(
    "changes.tone", 6.0, "dB", "It is duller, or brighter, where its top steps so much more than the rest.", lowest=2.0
)  # fmt: skip
SETTINGS: Final = (LEAST, AROUND, CLEAR, *COMPARED)
WITH_TONE: Final = (*SETTINGS, TONE)

ONE_PERFORMANCE: Final = frozenset({"copy", "one-performance"})
SWITCHED: Final = frozenset(
    {"guitars", "bass", "keys", "synths", "sound-effects", "backing-tracks", "buses", "utility", "returns"}
)
"""Families whose sound is switched while they play, noise and all: an amplifier's channel, a patch. A definition."""

MIDDLE: Final = slice(2, 7)
TOP: Final = slice(7, 10)


class Change(NamedTuple):
    """A change for good.

    Args:
        place: where, as text.
        by_db: (10,) by how much in each octave, NaN where it cannot be told.
        beside: the name of the microphone that goes on as before; empty where its own noise tells.
        of_a_line: what goes on as before is a direct line.
        dead: nothing but noise is left.
    """

    place: str
    by_db: Floats
    beside: str
    of_a_line: bool
    dead: bool


@per_session
def _beside(context: SessionContext) -> dict[str, Change]:
    """Media id → where it changes against another microphone on its performance, by the clearest of them."""
    found: dict[str, tuple[float, Change]] = {}
    if context.audio is None:
        return {}
    for pair in related(context):
        if pair.sound not in ONE_PERFORMANCE:
            continue
        for one, other in ((pair.one, pair.other), (pair.other, pair.one)):
            if is_direct(one.name, context.house.vocabulary):
                continue  # what is played softer hardly lowers an amplifier that is driven; a line does not slip
            step, at_s = _step_beside(context, one, other)
            if step is None or step.clear_db < context.setting(CLEAR):
                continue
            file = next((clip.file for clip in plain_clips(one) if clip.start_s - 0.2 <= at_s < clip.end_s), None)
            if file is not None and (file not in found or found[file][0] < step.clear_db):
                line = is_direct(other.name, context.house.vocabulary)
                change = Change(moment_text(context, at_s), step.by_db, other.name, line, step.dead)
                found[file] = step.clear_db, change
    return {file: change for file, (_, change) in found.items()}


def _step_beside(context: SessionContext, one: Channel, other: Channel) -> tuple[Step | None, float]:
    """Where a microphone changes against another one, and when that is in the song, seconds."""
    least, least_db, begin_s = round(context.setting(AROUND) / STEP_S), context.setting(LEAST), first_s(context)

    def found() -> tuple[Step | None, float]:
        import numpy as np

        from mixlint.signal.level_steps import step_beside

        mine, theirs = octave_course(context, one), octave_course(context, other)
        size = min(mine.shape[1], theirs.shape[1])
        there = np.flatnonzero((mine[:, :size].max(axis=0) > SILENT_DB) & (theirs[:, :size].max(axis=0) > SILENT_DB))
        step = step_beside(mine[:, there], theirs[:, there], least, least_db)
        return step, begin_s if step is None else begin_s + float(there[step.at]) * STEP_S

    return remembered(context, "a step beside another", [one, other], (begin_s, least, least_db), found)


@per_session
def _change(context: SessionContext, media_id: str) -> Change | None:
    """Where a file that is heard changes for good; None for nowhere."""
    import numpy as np

    from mixlint.signal.level_steps import floor_step

    beside = _beside(context).get(media_id)
    if beside is not None:
        return beside
    one = played_of(context, media_id)
    if isinstance(one, Unknown):
        return None
    course = one.measure.course.astype(np.float64)
    there = np.flatnonzero(one.blocks()[: course.shape[1]] & (course.max(axis=0) > SILENT_DB))
    step: Step | None = floor_step(course[:, there], round(context.setting(AROUND) / STEP_S), context.setting(LEAST))
    if step is None:
        return None
    at_s = float(there[min(step.at, there.size - 1)]) * one.measure.block_s
    return Change(one.place(context, at_s), step.by_db, "", False, step.dead)


@FACTS.fact(
    "number",
    "By how much its recording changes for good at one instant, its noise with it, or against another microphone on "
    "the performance that goes on as before; 0 where it does not.",
    unit="dB",
    how="measured",
    settings=WITH_TONE,
)
def changes_db(row: Row[MediaUse]) -> FactValue:
    import numpy as np

    played(row)
    change = _change(row.context, row.item.media.id)
    if change is None or change.dead:
        return FactValue(0.0, "measured", row.subject.where, "nowhere")
    middle, top = (_median(change.by_db[part]) for part in (MIDDLE, TOP))
    largest = max((abs(one) for one in (middle, top) if not np.isnan(one)), default=0.0)
    text = []
    if not np.isnan(middle) and abs(middle) >= 1.0:
        text.append(f"{number_text(abs(middle), 'dB')} {'higher' if middle > 0.0 else 'lower'}")
    if row.need("change_of_tone").value != "none":
        text.append(f"{row.need('change_of_tone').value}")
    how = f"{change.beside} goes on as before" if change.beside else "its noise changes with it"
    note = f"from {change.place} on it is {' and '.join(text) or 'another'}, while {how}"
    if not change.beside:
        note = f"from {change.place} on it is {' and '.join(text) or 'another'}, and {how}"
    return FactValue(largest, "measured", row.subject.where, note)


def _median(values: Floats) -> float:
    import numpy as np

    told = values[~np.isnan(values)]
    return float(np.median(told)) if told.size else float("nan")


@FACTS.fact(
    "word",
    "Whether its top changes more than its middle there: duller, brighter, or none.",
    how="measured",
    words=("duller", "brighter", "none"),
    settings=WITH_TONE,
)
def change_of_tone(row: Row[MediaUse]) -> str:
    change = _change(row.context, row.item.media.id)
    if change is None:
        return "none"
    apart = _median(change.by_db[TOP]) - _median(change.by_db[MIDDLE])
    limit = row.context.setting(TONE)
    return "duller" if apart <= -limit else "brighter" if apart >= limit else "none"


@FACTS.fact(
    "switch",
    "What tells its change may be a sound that was switched, of an amplifier or an instrument: only its noise tells, "
    "or its direct line beside it.",
    how="derived",
    settings=WITH_TONE,
)
def may_be_switched(row: Row[MediaUse]) -> bool:
    change = _change(row.context, row.item.media.id)
    if change is None or (change.beside and not change.of_a_line):
        return False
    if row.need("change_of_tone").value == "duller" and _median(change.by_db[MIDDLE]) < 0.0:
        return False  # lower and duller, and its noise as well: no sound is switched to that
    return any(_switches(row.context, one) for one in players(row))


def _switches(context: SessionContext, channel: Channel) -> bool:
    family = context.family(channel.id)
    return family is None or (family in SWITCHED and context.role(channel.id) != "acoustic-guitar")


@FACTS.fact(
    "switch",
    "From some instant to its end it holds nothing but even noise, less than before, while another microphone on the "
    "performance goes on, or its own noise changed there.",
    how="measured",
    settings=SETTINGS,
)
def goes_dead(row: Row[MediaUse]) -> FactValue:
    played(row)
    change = _change(row.context, row.item.media.id)
    if change is None or not change.dead:
        return FactValue(False, "measured", row.subject.where, "nowhere")
    note = f"from {change.place} on"
    return FactValue(True, "measured", row.subject.where, note)
