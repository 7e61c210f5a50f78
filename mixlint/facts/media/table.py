"""The table ``media``: the audio files the session refers to."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mixlint.analysis.audibility import is_aside
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import (
    NOT_OPENED,
    Use,
    duration_s,
    file_name,
    header,
    in_play,
    rate_hz,
    session_rate_hz,
    uses,
)
from mixlint.facts.clip.clip_regions import Piece
from mixlint.facts.clip.table import CLIP
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.session import Unknown, is_known
from mixlint.units import number_text

LOSSY_ENDINGS: Final = frozenset({"mp3", "mp2", "ogg", "oga", "opus", "aac", "m4a"})
"""Endings under which only coded audio goes; ``m4a`` may hold lossless coding, but hardly ever does."""


def _rows(context: SessionContext) -> Iterator[tuple[Subject, Use]]:
    for use in uses(context):
        order = context.order[use.users[0]] if use.users else len(context.order)
        subject = Subject("media", use.media.id, file_name(use.media.path), use.media.path, order, use.users)
        yield subject, use


MEDIA: Table[Use] = Table("media", "The audio files the session refers to.", _rows)


@MEDIA.fact("text", "The file's name.")
def name(row: Row[Use]) -> str:
    return row.subject.name


@MEDIA.fact("text", "The path as the session writes it.")
def path(row: Row[Use]) -> str:
    use = row.item
    return use.media.path


@MEDIA.fact("switch", "A clip that is switched on, on a channel that is loaded, plays it.", how="derived")
def used(row: Row[Use]) -> bool:
    use = row.item
    return bool(use.users)


@MEDIA.fact("switch", "Only clicks, guides, cues and references play it, which are kept out of the mix.", how="derived")
def aside(row: Row[Use]) -> bool:
    use = row.item
    return bool(use.users) and all(is_aside(row.context, row.context.channels[one]) for one in use.users)


@MEDIA.fact("text", "The channels that play it.", how="derived")
def played_by(row: Row[Use]) -> str:
    use = row.item
    return ", ".join(row.context.name(one) for one in use.users) or "nobody"


@MEDIA.fact(
    "word",
    "Where it lies: inside the session's container, beside the session, or outside its folder.",
    words=("inside", "beside", "outside"),
)
def place(row: Row[Use]) -> str:
    use = row.item
    return use.media.place


STATES = ("there", "absent", "unreadable", "empty", "cut-short")


@MEDIA.fact(
    "word",
    "Whether it is there and whole: there, absent, unreadable, empty, or cut short of the length it declares.",
    how="measured",
    words=STATES,
)
def state(row: Row[Use]) -> FactValue | Unknown:
    use = row.item
    audio, media = row.context.audio, use.media
    if audio is None:
        if media.present is False:
            return FactValue("absent", "declared", media.path, "it was not found when the session was read")
        return FactValue("there", "declared", media.path) if media.present is True else media.present
    present = audio.present(media.id)
    if isinstance(present, Unknown):
        return present
    said = audio.header(media.id)
    if isinstance(said, Unknown):
        word = "unreadable" if present else "absent"
        return FactValue(word, "measured", media.path, said.unknown)
    if said.frames == 0:
        return FactValue("empty", "measured", media.path, "it holds no samples")
    if said.truncated:
        lost = said.missing_frames / said.sample_rate_hz
        how = f"{number_text(lost, 's')} of what it declares is not there" if lost else "its end is missing"
        return FactValue("cut-short", "measured", media.path, how)
    return FactValue("there", "measured", media.path)


@MEDIA.fact("text", "What is the matter with it.", how="measured")
def state_how(row: Row[Use]) -> FactValue | Unknown:
    said = row.value("state")
    return said if isinstance(said, Unknown) else FactValue(said.note or "it is there", said.how, said.where)


@MEDIA.fact("number", "How many legs it has.", how="measured")
def legs(row: Row[Use]) -> float | Unknown:
    use = row.item
    said = header(row.context, use.media.id)
    return said.legs if is_known(said) else use.media.legs


@MEDIA.fact("number", "Its sample rate.", unit="Hz", how="measured")
def sample_rate_hz(row: Row[Use]) -> float | Unknown:
    return rate_hz(row.context, row.item.media)


@MEDIA.fact("number", "The rate the session runs at: declared, else that of most of its audio.", unit="Hz")
def session_rate(row: Row[Use]) -> FactValue | Unknown:
    return session_rate_hz(row.context)


@MEDIA.fact("switch", "It is at the rate the session runs at.", how="derived")
def at_session_rate(row: Row[Use]) -> FactValue | Unknown:
    own, whole = rate_hz(row.context, row.item.media), session_rate_hz(row.context)
    if isinstance(own, Unknown):
        return own
    if isinstance(whole, Unknown):
        return whole
    return FactValue(own == whole.value, "derived", row.item.media.path, whole.note)


@MEDIA.fact("number", "Its length.", unit="s", how="measured")
def length_s(row: Row[Use]) -> float | Unknown:
    return duration_s(row.context, row.item.media)


@MEDIA.fact("switch", "Its coding throws signal away.", how="measured")
def lossy(row: Row[Use]) -> bool | FactValue | Unknown:
    use = row.item
    said = header(row.context, use.media.id)
    if not isinstance(said, Unknown):
        return said.lossy
    ending = row.subject.name.rpartition(".")[2].casefold()
    if ending in LOSSY_ENDINGS:
        return FactValue(True, "assumed", use.media.path, f"by its ending .{ending}")
    return said


@MEDIA.fact("number", "Its word length in bits; 32 or more for floating point.", how="measured")
def bits(row: Row[Use]) -> float | Unknown:
    use = row.item
    said = header(row.context, use.media.id)
    return said if isinstance(said, Unknown) else said.bit_depth


@MEDIA.fact("switch", "Its word is shorter than that of most of the session's audio.", how="measured")
def shorter_word(row: Row[Use]) -> bool | FactValue | Unknown:
    own = row.value("bits")
    if isinstance(own, Unknown):
        return own
    usual = _usual_bits(row.context)
    return FactValue(own.value < usual, "measured", row.subject.where, f"most of the audio has {usual} bit")  # type: ignore[operator]


@per_session
def _usual_bits(context: SessionContext) -> int:
    """The word length of the files that play for the longest; 0 where none is known."""
    played: dict[int, float] = {}
    for use in uses(context):
        said = header(context, use.media.id)
        if use.users and not isinstance(said, Unknown) and not isinstance(said.bit_depth, Unknown):
            played[said.bit_depth] = played.get(said.bit_depth, 0.0) + use.played_s
    return max(played, key=lambda bits: (played[bits], bits), default=0)


@MEDIA.fact("text", "How its samples are stored.", how="measured")
def stored(row: Row[Use]) -> str | Unknown:
    said = row.value("lossy")
    if isinstance(said, Unknown):
        return said
    depth = row.value("bits")
    if said.value:
        return "coded with loss"
    return f"{number_text(float(depth.value))} bit" if isinstance(depth, FactValue) else "coded without loss"  # type: ignore[arg-type]


@MEDIA.fact("switch", "A clip plays it as if at another sample rate.", how="derived")
def wrong_rate(row: Row[Use]) -> FactValue | Unknown:
    found = FactValue(False, "derived", row.subject.where)
    open_: Unknown | None = None
    for one in _clips_by_file(row.context).get(row.item.media.id, ()):
        said = one.value("wrong_rate")
        if isinstance(said, Unknown):
            open_ = open_ or said
        elif said.value:
            at = one.value("stands")
            return FactValue(
                True, said.how, said.where, f"{said.note} ({at.value if isinstance(at, FactValue) else ''})"
            )
    return open_ or found


@per_session
def _clips_by_file(context: SessionContext) -> dict[str, list[Row[Piece]]]:
    """The rows of the table ``clip`` that sound, by the audio file they play."""

    found: dict[str, list[Row[Piece]]] = {}
    for one in CLIP.rows(context):
        clip = one.item.clip
        if clip.file is not None and clip.plays == "audio" and in_play(one.item.channel, clip):
            found.setdefault(clip.file, []).append(one)
    return found


@MEDIA.fact("text", "How that shows, and where.", how="derived")
def wrong_rate_how(row: Row[Use]) -> str:
    said = row.value("wrong_rate")
    return said.note or "it plays as recorded" if isinstance(said, FactValue) else said.unknown


@MEDIA.fact("switch", "The session's audio was opened for this review.", how="measured")
def opened(row: Row[Use]) -> bool:
    return header(row.context, row.item.media.id) is not NOT_OPENED
