"""Sound that one file alone holds behind the end of the song: talk, a chair, the switch of an amplifier."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import moment_text
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import MediaUse, plain_clips
from mixlint.analysis.octave_course import STEP_S, octave_course
from mixlint.analysis.performances import heard_parts
from mixlint.analysis.settings import Setting
from mixlint.analysis.shared_looks import first_s
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.media.heard import played
from mixlint.session import Channel, Target
from mixlint.session.control import control_of
from mixlint.units import number_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

FACTS: Facts[MediaUse] = Facts()

LOUD: Final = Setting(
    "left_over.loud", -45.0, "dBFS", "So loud, RMS, sound behind the end is heard.", lowest=-80.0, highest=0.0
)
QUIET: Final = Setting(
    "left_over.quiet", -55.0, "dBFS", "Under this, RMS, a part is silent.", lowest=-90.0, highest=0.0
)
GAP: Final = Setting("left_over.gap", 1.0, "s", "So long its part is silent before it.", lowest=0.3, highest=10.0)
BEHIND: Final = Setting(
    "left_over.behind", 0.2, "s", "So long all other parts are silent before it.", lowest=0.1, highest=10.0
)
LASTS: Final = Setting("left_over.lasts", 0.3, "s", "So long it lasts, with its pauses.", lowest=0.1, highest=10.0)
MOST: Final = Setting(
    "left_over.most", 15.0, "s", "What goes on for longer is a part of the programme.", lowest=1.0, highest=120.0
)
SETTINGS: Final = (LOUD, QUIET, GAP, BEHIND, LASTS, MOST)

MEANT: Final = frozenset({"sound-effects", "speech", "room-microphones", "backing-tracks", "utility"})
"""Families that may sound alone behind a song: applause, words, a scene. A definition."""

LEAST_PARTS: Final = 3
DOWN_DB: Final = -60.0


class LeftOver(NamedTuple):
    """Sound behind the end: where in the song, how long, and how loud, dBFS."""

    start_s: float
    length_s: float
    level_db: float


@per_session
def _left_over(context: SessionContext) -> dict[str, LeftOver]:
    """Media id → what it alone holds behind the end of the song."""
    import numpy as np

    if context.audio is None:
        return {}
    parts = heard_parts(context)
    levels: dict[str, Floats] = {}
    for part in parts:
        course = octave_course(context, part)
        levels[part.id] = 10.0 * np.log10(np.sum(10.0 ** (course / 10.0), axis=0) + 1e-20)
    sounding = {one: np.flatnonzero(level > context.setting(QUIET)) for one, level in levels.items()}
    sounding = {one: at for one, at in sounding.items() if at.size}
    if len(sounding) < LEAST_PARTS:
        return {}
    last, next_to_last = sorted(sounding, key=lambda one: int(sounding[one][-1]), reverse=True)[:2]
    channel = context.channels[last]
    if context.family(last) in MEANT or context.family(last) is None:
        return {}
    end = int(sounding[next_to_last][-1]) + 1
    at = sounding[last]
    # It has to fall silent itself, and begin behind the others: a last note that rings on alone is none.
    begins = np.flatnonzero(np.diff(at) * STEP_S > context.setting(GAP)) + 1
    begins = begins[at[begins] >= end + context.setting(BEHIND) / STEP_S]
    if not begins.size:
        return {}
    start, alone = int(at[begins[0]]), at[begins[0] :]
    length = (int(alone[-1]) + 1 - start) * STEP_S
    level = float(levels[last][start : int(alone[-1]) + 1].max())
    start_s = first_s(context) + start * STEP_S
    if not context.setting(LASTS) <= length <= context.setting(MOST) or level < context.setting(LOUD):
        return {}
    if _is_down(channel, start_s):
        return {}
    file = next((one.file for one in plain_clips(channel) if one.start_s <= start_s < one.end_s), None)
    return {} if file is None else {file: LeftOver(start_s, length, level)}


def _is_down(channel: Channel, at_s: float) -> bool:
    """True where a mute or the fader takes a channel away at a time, or may."""
    import numpy as np

    fader, mute = (control_of(channel, Target(kind)) for kind in ("fader", "mute"))
    now = np.array([at_s])
    return not (float(fader.at(now)[0]) > DOWN_DB and float(mute.at(now)[0]) < 0.5)  # what is not told is not heard


@FACTS.fact(
    "number",
    "How loud the sound is that it alone holds behind the end of the song, after a silence; −200 for none.",
    unit="dBFS",
    how="measured",
    settings=SETTINGS,
)
def left_over_dbfs(row: Row[MediaUse]) -> FactValue:
    played(row)
    found = _left_over(row.context).get(row.item.media.id)
    if found is None:
        return FactValue(-200.0, "measured", row.subject.where, "none")
    note = f"from {moment_text(row.context, found.start_s)} on, for {number_text(found.length_s, 's')}"
    return FactValue(found.level_db, "measured", row.subject.where, note)
