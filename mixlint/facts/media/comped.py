"""Takes of one comp that do not sound alike: one was recorded, or exported, at another level than the rest."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import MediaUse, file_name, plain_clips
from mixlint.analysis.octave_course import SILENT_DB
from mixlint.analysis.performances import heard_parts
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.media.heard import played, played_of
from mixlint.session import Channel, Unknown
from mixlint.units import few_text, number_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

FACTS: Facts[MediaUse] = Facts()

NOISE: Final = Setting(
    "comp.noise", 4.0, "dB", "By so much the noise of a take lies off that of the others.", lowest=2.0, highest=30.0,
    basis="tried: takes of one comp in 16 good songs lie within 1 dB",
)  # fmt: skip
MUSIC: Final = Setting(
    "comp.music", 4.0, "dB", "And its music, the same way.", lowest=2.0, highest=30.0
)  # fmt: skip
AGREE: Final = Setting("comp.agree", 2.5, "dB", "The noise of the others agrees within this.", lowest=0.01, highest=6.0)
SETTINGS: Final = (NOISE, MUSIC, AGREE)

LEAST_BLOCKS: Final = 20
TOP: Final = slice(7, 10)
MIDDLE: Final = slice(3, 7)
EVEN_DB: Final = 2.0
EVEN_SHARE: Final = 0.05


class Take(NamedTuple):
    """A take as it is played: the noise in its top octaves, and its loud places in all, dB with clip gain."""

    noise: Floats
    loud: Floats


@per_session
def _take(context: SessionContext, channel: Channel, media_id: str) -> Take | None:
    """What a file holds where it is played; None where it has no even noise, or clips of several gains play it."""
    import numpy as np

    gains = {clip.gain_db for clip in plain_clips(channel) if clip.file == media_id}
    one = played_of(context, media_id)
    if isinstance(one, Unknown) or len(gains) != 1 or isinstance(gain := gains.pop(), Unknown):
        return None
    course = one.measure.course.astype(np.float64)
    there = course[:, one.blocks()[: course.shape[1]] & (course.max(axis=0) > SILENT_DB)]
    # Rests may lie outside of what is played: the noise is that of the whole file.
    whole = course[:, course.max(axis=0) > SILENT_DB]
    if there.shape[1] < LEAST_BLOCKS:
        return None
    noise = np.quantile(whole[TOP], 0.03, axis=1)
    even = (np.abs(whole[TOP] - noise[:, None]) <= EVEN_DB).mean(axis=1) >= EVEN_SHARE
    return Take(np.where(even, noise, np.nan) + gain, np.quantile(there, 0.9, axis=1) + gain)


@per_session
def _unlike(context: SessionContext) -> dict[str, tuple[float, str]]:
    """Media id → by how much its noise and its music lie off those of its part's other takes, and which they are."""
    found: dict[str, tuple[float, str]] = {}
    names = {one.id: file_name(one.path) for one in context.session.media}
    for channel in heard_parts(context) if context.audio is not None else ():
        files = list(dict.fromkeys(clip.file for clip in plain_clips(channel) if clip.file is not None))
        takes = {one: take for one in files if (take := _take(context, channel, one)) is not None}
        if len(takes) < 2:
            continue
        for one, take in takes.items():
            others = [other for name, other in takes.items() if name != one]
            by = _off(context, take, others)
            # Of two takes none is the odd one: the softer is told.
            if by is not None and (len(others) > 1 or by < 0.0):
                found[one] = by, few_text([names[name] for name in takes if name != one], 3)
    return found


def _off(context: SessionContext, take: Take, others: list[Take]) -> float | None:
    """By how much the music of a take lies off, where its noise does too and the others agree; None where not."""
    import numpy as np

    noises = np.stack([other.noise for other in others])
    usual = np.median(noises, axis=0)
    told = ~np.isnan(usual) & ~np.isnan(take.noise)
    if int(told.sum()) < 2 or float(np.abs(noises - usual)[:, told].max()) > context.setting(AGREE):
        return None
    noise = (take.noise - usual)[told]
    music = float(np.median((take.loud - np.median([other.loud for other in others], axis=0))[MIDDLE]))
    sign = float(np.sign(np.median(noise)))
    if (sign * noise).min() < context.setting(NOISE) or sign * music < context.setting(MUSIC):
        return None
    return music


@FACTS.fact(
    "number",
    "By how much its music lies off that of the other takes of its part, where its noise does so too; 0 where it fits.",
    unit="dB",
    how="measured",
    settings=SETTINGS,
)
def off_its_takes_db(row: Row[MediaUse]) -> FactValue:
    played(row)
    found = _unlike(row.context).get(row.item.media.id)
    if found is None:
        return FactValue(0.0, "measured", row.subject.where, "as the others")
    by, others = found
    side = "over" if by > 0.0 else "under"
    return FactValue(by, "measured", row.subject.where, f"{number_text(abs(by), 'dB')} {side} {others}")
