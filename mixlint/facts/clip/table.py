"""The table ``clip``: every clip of every channel; clips alike but for their place are one row."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mixlint.analysis.activity import stretch_text
from mixlint.analysis.audibility import is_aside
from mixlint.analysis.context import SessionContext
from mixlint.analysis.media_use import duration_s, in_play, media_of, rate_hz, session_rate_hz
from mixlint.facts.clip.clip_regions import APART_S, Piece, clip_name, is_snippet_alone, pieces, song_clusters
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.naming.words import FAMILIES
from mixlint.session import Clip, Unknown, is_known
from mixlint.units import clock_text, number_text

NEAR: Final = 0.001
"""How near a ratio of speeds comes to a ratio of rates to be taken for it: 0.1 %."""

FAMILY_RATIO: Final = 48_000.0 / 44_100.0


def _rows(context: SessionContext) -> Iterator[tuple[Subject, Piece]]:
    for piece in pieces(context):
        channel = piece.channel
        name = f"{context.name(channel.id)}: {clip_name(context, piece.clip)}"
        where = piece.clip.where or channel.where
        subject = Subject("clip", f"{channel.id}:{piece.number}", name, where, context.order[channel.id], (channel.id,))
        yield subject, piece


CLIP: Table[Piece] = Table("clip", "Every clip of every channel; clips alike but for their place are one row.", _rows)


@CLIP.fact("text", "The channel and the clip's name.")
def name(row: Row[Piece]) -> str:
    return row.subject.name


@CLIP.fact("text", "The channel it is on.")
def on_channel(row: Row[Piece]) -> str:
    return row.context.name(row.item.channel.id)


@CLIP.fact("word", "The family of parts its channel belongs to.", how="derived", words=FAMILIES)
def family(row: Row[Piece]) -> str | Unknown:
    from mixlint.naming import family_of

    role = row.context.role(row.item.channel.id)
    said = family_of(role) if role else None
    return said or Unknown(unknown=f"the part {row.context.name(row.item.channel.id)} plays cannot be told")


@CLIP.fact("word", "What it plays.", words=("audio", "notes", "video", "unknown"))
def plays(row: Row[Piece]) -> str:
    return row.item.clip.plays


@CLIP.fact("switch", "It is switched on, and its channel was loaded.")
def sounds(row: Row[Piece]) -> bool:
    piece = row.item
    return in_play(piece.channel, piece.clip)


@CLIP.fact("switch", "Its channel is not part of the song: a cue mix, click, guide, reference or utility channel.")
def aside(row: Row[Piece]) -> bool:
    return is_aside(row.context, row.item.channel)


@CLIP.fact("switch", "It plays a file that the session lists.")
def has_file(row: Row[Piece]) -> bool:
    return row.item.clip.file is not None and media_of(row.context, row.item.clip.file) is not None


@CLIP.fact("number", "Where it starts, the first of its repeats.", unit="s")
def start_s(row: Row[Piece]) -> float:
    return row.item.starts[0]


@CLIP.fact("number", "How long it is.", unit="s")
def length_s(row: Row[Piece]) -> float:
    clip: Clip = row.item.clip
    return clip.end_s - clip.start_s


@CLIP.fact("number", "How many times it stands on its channel.", how="derived")
def times(row: Row[Piece]) -> int:
    return len(row.item.starts)


@CLIP.fact("text", "Where it stands in the song.", how="derived")
def stands(row: Row[Piece]) -> str:
    piece = row.item
    first = stretch_text(row.context, piece.clip.start_s, piece.clip.end_s)
    more = len(piece.starts) - 1
    return f"{first}, and {more} more time{'s' if more > 1 else ''}" if more else first


@CLIP.fact("number", "Its clip gain.", unit="dB")
def gain_db(row: Row[Piece]) -> float | Unknown:
    return row.item.clip.gain_db


@CLIP.fact("number", "Seconds of its file played per second of the song, in per cent.", unit="%")
def speed(row: Row[Piece]) -> float | Unknown:
    clip: Clip = row.item.clip
    return clip.speed * 100.0 if is_known(clip.speed) else clip.speed


@CLIP.fact("number", "How far it runs past the end of its file.", unit="ms", how="derived")
def past_end_ms(row: Row[Piece]) -> FactValue | Unknown:
    clip: Clip = row.item.clip
    media = media_of(row.context, clip.file) if clip.file is not None else None
    if media is None:
        return Unknown(unknown="the session names no file for it")
    whole, offset, rate = duration_s(row.context, media), clip.offset_s, clip.speed
    if isinstance(whole, Unknown):
        return whole
    if isinstance(offset, Unknown):
        return offset
    if isinstance(rate, Unknown):
        return rate
    past = (offset + (clip.end_s - clip.start_s) * rate - whole) / max(rate, 1e-9)
    return FactValue(max(0.0, past * 1000.0), "derived", row.subject.where)


@CLIP.fact("switch", "It stands apart from the song, begins before the timeline, or is a snippet on its own.")
def stray(row: Row[Piece]) -> FactValue:
    piece = row.item
    clip = piece.clip
    if clip.start_s < -0.001:
        return FactValue(True, "derived", "", f"it begins {number_text(-clip.start_s, 's')} before the timeline does")
    song = song_clusters(row.context)
    apart = [s for s in piece.starts if not any(c.start_s - 1e-6 <= s <= c.end_s + 1e-6 for c in song)]
    if song and apart:
        before = max((c.end_s for c in song if c.end_s <= apart[0]), default=None)
        after = min((c.start_s for c in song if c.start_s >= apart[0]), default=None)
        if before is not None:
            how = f"it stands at {clock_text(apart[0])}, {number_text(apart[0] - before, 's')} after all else has ended"
        else:
            how = f"it stands at {clock_text(apart[0])}, more than {number_text(APART_S, 's')} before all else"
            assert after is not None
        return FactValue(True, "derived", "", how)
    if len(piece.starts) == 1 and is_snippet_alone(row.context, piece.channel, clip):
        long = number_text((clip.end_s - clip.start_s) * 1000.0, "ms")
        return FactValue(True, "derived", "", f"it is {long} long at {clock_text(clip.start_s)}, with nothing near it")
    return FactValue(False, "derived", "")


@CLIP.fact("text", "Why it is taken for a stray.", how="derived")
def stray_how(row: Row[Piece]) -> str:
    said = row.value("stray")
    return said.note or "it stands in the song" if isinstance(said, FactValue) else said.unknown


@CLIP.fact(
    "switch",
    "It plays its file as if at another sample rate: faster or slower by just the ratio of two rates.",
    how="derived",
)
def wrong_rate(row: Row[Piece]) -> FactValue | Unknown:
    clip: Clip = row.item.clip
    media = media_of(row.context, clip.file) if clip.file is not None else None
    if media is None:
        return Unknown(unknown="the session names no file for it")
    own, session = rate_hz(row.context, media), session_rate_hz(row.context)
    odd = _odd(row.context, clip)
    if odd is None:
        return FactValue(False, "derived", row.subject.where)
    factor, how = odd
    if isinstance(own, Unknown) or isinstance(session, Unknown):
        if min(abs(factor / FAMILY_RATIO - 1.0), abs(factor * FAMILY_RATIO - 1.0)) > NEAR:
            return FactValue(False, "derived", row.subject.where, how)
        why = own.unknown if isinstance(own, Unknown) else session.unknown  # type: ignore[union-attr]
        return Unknown(unknown=f"{how}, and {why}", settle="look at the file's sample rate and the session's")
    runs = float(session.value)  # type: ignore[arg-type]  # declared as a number
    if own == runs or abs(factor / (runs / own) - 1.0) > NEAR:
        return FactValue(False, "derived", row.subject.where, f"{how}, which no two rates here explain")
    said = f"{how}: a file at {number_text(own, 'Hz')} in a session at {number_text(runs, 'Hz')}"
    return FactValue(True, "derived", row.subject.where, said)


def _odd(context: SessionContext, clip: Clip) -> tuple[float, str] | None:
    """By what factor a clip plays fast (over 1) or slow, as its speed, its length or its file's length shows.

    A clip that a warp map stretches unevenly is stretched on purpose.
    """
    if isinstance(clip.speed, Unknown):
        return None
    if abs(clip.speed - 1.0) > NEAR:
        return clip.speed, f"it plays at {number_text(clip.speed * 100.0, '%')} of its speed"
    media = media_of(context, clip.file) if clip.file is not None else None
    if media is None or isinstance(clip.offset_s, Unknown):
        return None
    whole, declared = duration_s(context, media), media.duration_s
    if is_known(whole) and is_known(declared) and whole > 1.0 and abs(declared / whole - 1.0) > NEAR:
        return whole / declared, f"the session takes its file for {number_text(declared / whole * 100.0, '%')} as long"
    length = clip.end_s - clip.start_s
    if is_known(whole) and whole > 1.0 and abs(clip.offset_s) < 0.001 and length > whole * (1.0 + NEAR):
        return whole / length, f"it lasts {number_text(length / whole * 100.0, '%')} of its file"
    return None


@CLIP.fact("text", "How that shows.", how="derived")
def wrong_rate_how(row: Row[Piece]) -> str:
    said = row.value("wrong_rate")
    return said.note or "it plays as recorded" if isinstance(said, FactValue) else said.unknown
