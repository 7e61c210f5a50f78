"""The table ``media``: the audio files the session refers to."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mixlint.facts.declare import Answer, Row, Subject, Table
from mixlint.facts.tables.clip import CLIP
from mixlint.session import Unknown, is_known
from mixlint.study.desk import Desk
from mixlint.study.media_use import (
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
from mixlint.study.parts import is_aside
from mixlint.units import number_text

LOSSY_ENDINGS: Final = frozenset({"mp3", "mp2", "ogg", "oga", "opus", "aac", "m4a"})
"""Endings under which only coded audio goes; ``m4a`` may hold lossless coding, but hardly ever does."""


def _rows(desk: Desk) -> Iterator[Row]:
    for use in uses(desk):
        order = desk.order[use.users[0]] if use.users else len(desk.order)
        subject = Subject("media", use.media.id, file_name(use.media.path), use.media.path, order, use.users)
        yield Row(desk, subject, use)


MEDIA: Table[Row] = Table("media", "The audio files the session refers to.", _rows)


@MEDIA.fact("text", "The file's name.")
def name(row: Row) -> str:
    return row.subject.name


@MEDIA.fact("text", "The path as the session writes it.")
def path(row: Row) -> str:
    use: Use = row.item
    return use.media.path


@MEDIA.fact("switch", "A clip that is switched on, on a channel that is loaded, plays it.", how="derived")
def used(row: Row) -> bool:
    use: Use = row.item
    return bool(use.users)


@MEDIA.fact("switch", "Only clicks, guides, cues and references play it, which are kept out of the mix.", how="derived")
def aside(row: Row) -> bool:
    use: Use = row.item
    return bool(use.users) and all(is_aside(row.desk, row.desk.channels[one]) for one in use.users)


@MEDIA.fact("text", "The channels that play it.", how="derived")
def played_by(row: Row) -> str:
    use: Use = row.item
    return ", ".join(row.desk.name(one) for one in use.users) or "nobody"


@MEDIA.fact(
    "word",
    "Where it lies: inside the session's container, beside the session, or outside its folder.",
    words=("inside", "beside", "outside"),
)
def place(row: Row) -> str:
    use: Use = row.item
    return use.media.place


STATES = ("there", "absent", "unreadable", "empty", "cut-short")


@MEDIA.fact(
    "word",
    "Whether it is there and whole: there, absent, unreadable, empty, or cut short of the length it declares.",
    how="measured",
    words=STATES,
)
def state(row: Row) -> Answer | Unknown:
    return row.desk.remembered(f"state of {row.item.media.id}", lambda: _state(row))


def _state(row: Row) -> Answer | Unknown:
    use: Use = row.item
    audio, media = row.desk.audio, use.media
    if audio is None:
        if media.present is False:
            return Answer("absent", "declared", media.path, "it was not found when the session was read")
        return Answer("there", "declared", media.path) if media.present is True else media.present
    present = audio.present(media.id)
    if isinstance(present, Unknown):
        return present
    said = audio.header(media.id)
    if isinstance(said, Unknown):
        word = "unreadable" if present else "absent"
        return Answer(word, "measured", media.path, said.unknown)
    if said.frames == 0:
        return Answer("empty", "measured", media.path, "it holds no samples")
    if said.truncated:
        lost = said.missing_frames / said.sample_rate_hz
        how = f"{number_text(lost, 's')} of what it declares is not there" if lost else "its end is missing"
        return Answer("cut-short", "measured", media.path, how)
    return Answer("there", "measured", media.path)


@MEDIA.fact("text", "What is the matter with it.", how="measured")
def state_how(row: Row) -> Answer | Unknown:
    said = MEDIA.answer(row, "state")
    return said if isinstance(said, Unknown) else Answer(said.note or "it is there", said.how, said.where)


@MEDIA.fact("number", "How many legs it has.", how="measured")
def legs(row: Row) -> float | Unknown:
    use: Use = row.item
    said = header(row.desk, use.media.id)
    return said.legs if is_known(said) else use.media.legs


@MEDIA.fact("number", "Its sample rate.", unit="Hz", how="measured")
def sample_rate_hz(row: Row) -> float | Unknown:
    return rate_hz(row.desk, row.item.media)


@MEDIA.fact("number", "The rate the session runs at: declared, else that of most of its audio.", unit="Hz")
def session_rate(row: Row) -> Answer | Unknown:
    return session_rate_hz(row.desk)


@MEDIA.fact("switch", "It is at the rate the session runs at.", how="derived")
def at_session_rate(row: Row) -> Answer | Unknown:
    own, whole = rate_hz(row.desk, row.item.media), session_rate_hz(row.desk)
    if isinstance(own, Unknown):
        return own
    if isinstance(whole, Unknown):
        return whole
    return Answer(own == whole.value, "derived", row.item.media.path, whole.note)


@MEDIA.fact("number", "Its length.", unit="s", how="measured")
def length_s(row: Row) -> float | Unknown:
    return duration_s(row.desk, row.item.media)


@MEDIA.fact("switch", "Its coding throws signal away.", how="measured")
def lossy(row: Row) -> bool | Answer | Unknown:
    use: Use = row.item
    said = header(row.desk, use.media.id)
    if not isinstance(said, Unknown):
        return said.lossy
    ending = row.subject.name.rpartition(".")[2].casefold()
    if ending in LOSSY_ENDINGS:
        return Answer(True, "assumed", use.media.path, f"by its ending .{ending}")
    return said


@MEDIA.fact("number", "Its word length in bits; 32 or more for floating point.", how="measured")
def bits(row: Row) -> float | Unknown:
    use: Use = row.item
    said = header(row.desk, use.media.id)
    return said if isinstance(said, Unknown) else said.bit_depth


@MEDIA.fact("switch", "Its word is shorter than that of most of the session's audio.", how="measured")
def shorter_word(row: Row) -> bool | Answer | Unknown:
    own = MEDIA.answer(row, "bits")
    if isinstance(own, Unknown):
        return own
    usual = row.desk.remembered("usual word length", lambda: _usual_bits(row.desk))
    return Answer(own.value < usual, "measured", row.subject.where, f"most of the audio has {usual} bit")  # type: ignore[operator]


def _usual_bits(desk: Desk) -> int:
    """The word length of the files that play for the longest; 0 where none is known."""
    played: dict[int, float] = {}
    for use in uses(desk):
        said = header(desk, use.media.id)
        if use.users and not isinstance(said, Unknown) and not isinstance(said.bit_depth, Unknown):
            played[said.bit_depth] = played.get(said.bit_depth, 0.0) + use.played_s
    return max(played, key=lambda bits: (played[bits], bits), default=0)


@MEDIA.fact("text", "How its samples are stored.", how="measured")
def stored(row: Row) -> str | Unknown:
    said = MEDIA.answer(row, "lossy")
    if isinstance(said, Unknown):
        return said
    depth = MEDIA.answer(row, "bits")
    if said.value:
        return "coded with loss"
    return f"{number_text(float(depth.value))} bit" if isinstance(depth, Answer) else "coded without loss"  # type: ignore[arg-type]


@MEDIA.fact("switch", "A clip plays it as if at another sample rate.", how="derived")
def wrong_rate(row: Row) -> Answer | Unknown:
    found = Answer(False, "derived", row.subject.where)
    open_: Unknown | None = None
    for one in _clips_by_file(row.desk).get(row.item.media.id, ()):
        said = CLIP.answer(one, "wrong_rate")
        if isinstance(said, Unknown):
            open_ = open_ or said
        elif said.value:
            at = CLIP.answer(one, "stands")
            return Answer(True, said.how, said.where, f"{said.note} ({at.value if isinstance(at, Answer) else ''})")
    return open_ or found


def _clips_by_file(desk: Desk) -> dict[str, list[Row]]:
    """The rows of the table ``clip`` that sound, by the audio file they play."""

    def make() -> dict[str, list[Row]]:
        found: dict[str, list[Row]] = {}
        for one in CLIP.rows(desk):
            clip = one.item.clip
            if clip.file is not None and clip.plays == "audio" and in_play(one.item.channel, clip):
                found.setdefault(clip.file, []).append(one)
        return found

    return desk.remembered("clip rows by file", make)


@MEDIA.fact("text", "How that shows, and where.", how="derived")
def wrong_rate_how(row: Row) -> str:
    said = MEDIA.answer(row, "wrong_rate")
    return said.note or "it plays as recorded" if isinstance(said, Answer) else said.unknown


@MEDIA.fact("switch", "The session's audio was opened for this review.", how="measured")
def opened(row: Row) -> bool:
    return header(row.desk, row.item.media.id) is not NOT_OPENED
