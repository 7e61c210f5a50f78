"""The speed a clip plays its file at, and whether it is that of another sample rate."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.context import SessionContext
from mixlint.analysis.media_use import duration_s, media_of, rate_hz, session_rate_hz
from mixlint.analysis.settings import Setting
from mixlint.facts.clip.clip_regions import ClipRegion, file_of
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Clip, Unknown, is_known, known
from mixlint.units import number_text

RATE_TOLERANCE: Final = Setting(
    "speed.rate_tolerance",
    0.1,
    "%",
    "How near a ratio of speeds or lengths comes to a ratio of two sample rates to be taken for it.",
)
SHORTEST_FILE: Final = Setting(
    "speed.shortest_file", 1.0, "s", "The length of a file up to this says nothing about the speed it plays at."
)
SPEED: Final = (RATE_TOLERANCE, SHORTEST_FILE)

FAMILY_RATIO: Final = 48_000.0 / 44_100.0
"""The ratio of the two families of sample rates, those of 48 kHz and of 44.1 kHz (AES5, from memory)."""

AT_ITS_START_S: Final = 1e-3
"""A clip that begins less than this into its file begins with it: exporters round."""

FACTS: Facts[ClipRegion] = Facts()


@FACTS.fact("number", "Seconds of its file played per second of the song, in per cent.", unit="%")
def speed(row: Row[ClipRegion]) -> float:
    return known(row.item.clip.speed) * 100.0


@FACTS.fact(
    "switch",
    "It plays its file as if at another sample rate: faster or slower by just the ratio of two rates.",
    how="derived",
    settings=SPEED,
)
def wrong_rate(row: Row[ClipRegion]) -> FactValue | Unknown:
    context, where = row.context, row.subject.where
    media = file_of(context, row.item.clip)
    odd = odd_speed(context, row.item.clip)
    if odd is None:
        return FactValue(False, "derived", where)
    factor, how = odd
    own, session = rate_hz(context, media), session_rate_hz(context)
    if isinstance(own, Unknown) or isinstance(session, Unknown):
        if not _is_near(context, factor, FAMILY_RATIO) and not _is_near(context, factor, 1.0 / FAMILY_RATIO):
            return FactValue(False, "derived", where, how)
        why = next(one.unknown for one in (own, session) if isinstance(one, Unknown))
        return Unknown(unknown=f"{how}, and {why}", settle="look at the file's sample rate and the session's")
    runs = session.number
    if own == runs or not _is_near(context, factor, runs / own):
        return FactValue(False, "derived", where, f"{how}, which no two rates here explain")
    shown = f"{how}: a file at {number_text(own, 'Hz')} in a session at {number_text(runs, 'Hz')}"
    return FactValue(True, "derived", where, shown)


def _is_near(context: SessionContext, factor: float, ratio: float) -> bool:
    return abs(factor / ratio - 1.0) <= context.setting(RATE_TOLERANCE) / 100.0


def odd_speed(context: SessionContext, clip: Clip) -> tuple[float, str] | None:
    """By what factor a clip plays fast (over 1) or slow, as its speed, its length or its file's length shows.

    A clip that a warp map stretches unevenly is stretched on purpose.

    Returns:
        the factor and how it shows, for a reader; None where the clip plays at its own speed, as far as is known.
    """
    if isinstance(clip.speed, Unknown):
        return None
    near = context.setting(RATE_TOLERANCE) / 100.0
    if abs(clip.speed - 1.0) > near:
        return clip.speed, f"it plays at {number_text(clip.speed * 100.0, '%')} of its speed"
    media = media_of(context, clip.file) if clip.file is not None else None
    if media is None or isinstance(clip.offset_s, Unknown):
        return None
    whole, declared = duration_s(context, media), media.duration_s
    if not is_known(whole) or whole <= context.setting(SHORTEST_FILE):
        return None
    if is_known(declared) and abs(declared / whole - 1.0) > near:
        return whole / declared, f"the session takes its file for {number_text(declared / whole * 100.0, '%')} as long"
    length = clip.end_s - clip.start_s
    if abs(clip.offset_s) < AT_ITS_START_S and length > whole * (1.0 + near):
        return whole / length, f"it lasts {number_text(length / whole * 100.0, '%')} of its file"
    return None


FACTS.echo("wrong_rate_how", "wrong_rate.note")
