"""The table ``media``: the audio files the session refers to."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mixlint.analysis.activity import clips_not_shown
from mixlint.analysis.channel_purpose import is_utility
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import (
    NOT_OPENED,
    MediaUse,
    duration_s,
    file_name,
    header,
    is_active_clip,
    media_uses,
    rate_hz,
    session_rate_hz,
)
from mixlint.analysis.mix_prints import is_set_of_stems
from mixlint.errors import InputError, RefusedFile
from mixlint.facts.clip.clip_regions import ClipRegion
from mixlint.facts.clip.speed import SPEED
from mixlint.facts.clip.table import CLIP
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.facts.media import (
    changes,
    clock,
    comped,
    crackling,
    cues,
    cut_ends,
    file_legs,
    file_marks,
    file_parts,
    gated,
    heard,
    in_tune,
    left_over,
    low_bursts,
    metronome,
    plain,
    residue,
    ringing,
    stamped,
    stated,
)
from mixlint.facts.media.file_marks import heard_files
from mixlint.session import Unknown, is_known, known
from mixlint.units import number_text

LOSSY_ENDINGS: Final = frozenset({"mp3", "mp2", "ogg", "oga", "opus", "aac", "m4a"})
"""Endings under which only coded audio goes; ``m4a`` may hold lossless coding, but hardly ever does."""


def _rows(context: SessionContext) -> Iterator[tuple[Subject, MediaUse]]:
    for use in media_uses(context):
        order = context.order[use.users[0]] if use.users else len(context.order)
        subject = Subject("media", use.media.id, file_name(use.media.path), use.media.path, order, use.users)
        yield subject, use


MEDIA: Table[MediaUse] = Table(
    "media",
    "The audio files the session refers to.",
    _rows,
    (
        file_marks.FACTS,
        file_parts.FACTS,
        clock.FACTS,
        comped.FACTS,
        changes.FACTS,
        gated.FACTS,
        heard.FACTS,
        file_legs.FACTS,
        residue.FACTS,
        ringing.FACTS,
        crackling.FACTS,
        cut_ends.FACTS,
        low_bursts.FACTS,
        in_tune.FACTS,
        left_over.FACTS,
        metronome.FACTS,
        plain.FACTS,
        cues.FACTS,
        stamped.FACTS,
        stated.FACTS,
    ),
)


@MEDIA.fact("text", "The file's name.")
def name(row: Row[MediaUse]) -> str:
    return row.subject.name


@MEDIA.fact("text", "The path as the session writes it.")
def path(row: Row[MediaUse]) -> str:
    return row.item.media.path


@MEDIA.fact("switch", "A clip that is switched on, on a channel that is loaded, plays it.", how="derived")
def used(row: Row[MediaUse]) -> bool:
    if not row.item.users:
        known(clips_not_shown(row.context))
    return bool(row.item.users)


@MEDIA.fact(
    "switch",
    "Only utility channels play it, which are kept out of the mix: clicks, guides, cues and references.",
    how="derived",
    once="aside",
)
def utility(row: Row[MediaUse]) -> bool:
    users = row.item.users
    return bool(users) and all(is_utility(row.context, row.context.channels[one]) for one in users)


@MEDIA.fact("text", "The channels that play it.", how="derived")
def played_by(row: Row[MediaUse]) -> str:
    users = row.item.users
    if not users and is_set_of_stems(row.context):  # a stem that cannot be read has a channel and no clip
        users = (row.item.media.id,)
    return ", ".join(row.context.name(one) for one in users) or "nobody"


@MEDIA.fact(
    "word",
    "Where it lies: inside the session's container, beside the session, or outside its folder.",
    words=("inside", "beside", "outside"),
)
def place(row: Row[MediaUse]) -> str:
    return row.item.media.place


STATES: Final = ("there", "absent", "unreadable", "empty", "cut-short", "damaged")


@MEDIA.fact(
    "word",
    "Whether it is there and whole: there, absent, unreadable, empty, cut short of the length it declares, or damaged, "
    "so that it cannot be read to its end or is not what its own checksums say.",
    how="measured",
    words=STATES,
)
def state(row: Row[MediaUse]) -> FactValue | Unknown:
    audio, media = row.context.audio, row.item.media
    if audio is None:
        if known(media.present):
            return FactValue("there", "declared", media.path)
        return FactValue("absent", "declared", media.path, "it was not found when the session was read")
    present = known(audio.present(media.id))
    found = audio.header(media.id)
    if isinstance(found, Unknown):
        word = "unreadable" if present else "absent"
        return FactValue(word, "measured", media.path, found.unknown)
    if found.frames == 0:
        return FactValue("empty", "measured", media.path, "it holds no samples")
    if found.truncated:
        lost = found.missing_frames / found.sample_rate_hz
        how = f"{number_text(lost, 's')} of what it declares is not there" if lost else "its end is missing"
        return FactValue("cut-short", "measured", media.path, how)
    whole = audio.whole(media.id, measured=media.id in heard_files(row.context))
    if isinstance(whole, Unknown):
        return whole
    fault = audio.fault(media.id)
    if fault is not None:
        word = "unreadable" if isinstance(fault, RefusedFile) else "damaged"
        return FactValue(word, "measured", media.path, _how(fault))
    return FactValue("there", "measured", media.path)


def _how(fault: InputError) -> str:
    """What an error says, without the words that the state says already."""
    return fault.what.removeprefix("the file is damaged: ").removeprefix("the audio cannot be read: ")


MEDIA.echo("state_how", "state.note")


@MEDIA.fact("number", "How many legs it has.", how="measured")
def legs(row: Row[MediaUse]) -> float | Unknown:
    media = row.item.media
    found = header(row.context, media.id)
    return found.legs if is_known(found) else media.legs


@MEDIA.fact("number", "Its sample rate.", unit="Hz", how="measured")
def sample_rate_hz(row: Row[MediaUse]) -> float | Unknown:
    return rate_hz(row.context, row.item.media)


@MEDIA.fact("number", "The rate the session runs at: declared, else that of most of its audio.", unit="Hz")
def session_rate(row: Row[MediaUse]) -> FactValue | Unknown:
    return session_rate_hz(row.context)


@MEDIA.fact("switch", "It is at the rate the session runs at.", how="derived")
def at_session_rate(row: Row[MediaUse]) -> FactValue:
    own, session = known(rate_hz(row.context, row.item.media)), known(session_rate_hz(row.context))
    return FactValue(own == session.value, "derived", row.item.media.path, session.note)


@MEDIA.fact(
    "number",
    "Of the other files in use, the share at the rate the session runs at; 0 without any.",
    unit="%",
    how="derived",
)
def others_at_session_rate_percent(row: Row[MediaUse]) -> float:
    session = known(session_rate_hz(row.context)).value
    others = [one.media for one in media_uses(row.context) if one.users and one.media.id != row.item.media.id]
    rates = [rate for rate in (rate_hz(row.context, one) for one in others) if not isinstance(rate, Unknown)]
    return 100.0 * sum(rate == session for rate in rates) / len(rates) if rates else 0.0


@MEDIA.fact("number", "Its length.", unit="s", how="measured")
def length_s(row: Row[MediaUse]) -> float | Unknown:
    return duration_s(row.context, row.item.media)


@MEDIA.fact("switch", "Its coding throws signal away.", how="measured")
def lossy(row: Row[MediaUse]) -> bool | FactValue:
    media = row.item.media
    found = header(row.context, media.id)
    ending = row.subject.name.rpartition(".")[2].casefold()
    if isinstance(found, Unknown) and ending in LOSSY_ENDINGS:
        return FactValue(True, "assumed", media.path, f"by its ending .{ending}")
    return known(found).lossy


@MEDIA.fact("switch", "Of the files that heard parts play, it alone throws signal away by its coding.", how="measured")
def lossy_alone(row: Row[MediaUse]) -> bool:
    lossy = _lossy_files(row.context)
    return row.item.media.id in lossy and len(lossy) == 1


@per_session
def _lossy_files(context: SessionContext) -> frozenset[str]:
    """Ids of the files of heard parts that are coded with loss, where others of them are not; a reference is none."""
    heard = heard_files(context)
    rows = [row for row in MEDIA.rows(context) if row.item.media.id in heard]
    found = frozenset(
        row.item.media.id for row in rows if not isinstance(coded := row.value("lossy"), Unknown) and coded.value
    )
    return found if len(rows) > len(found) else frozenset()


@MEDIA.fact("number", "Its word length in bits; 32 or more for floating point.", how="measured")
def bits(row: Row[MediaUse]) -> float | Unknown:
    return known(header(row.context, row.item.media.id)).bit_depth


@MEDIA.fact("switch", "Its word is shorter than that of most of the session's audio.", how="measured")
def shorter_word(row: Row[MediaUse]) -> FactValue:
    own, usual = row.need("bits").number, _usual_bits(row.context)
    return FactValue(own < usual, "measured", row.subject.where, f"most of the audio has {usual} bit")


@per_session
def _usual_bits(context: SessionContext) -> int:
    """The word length of the files that play for the longest; 0 where none is known."""
    played: dict[int, float] = {}
    for use in media_uses(context):
        found = header(context, use.media.id)
        if use.users and not isinstance(found, Unknown) and not isinstance(found.bit_depth, Unknown):
            played[found.bit_depth] = played.get(found.bit_depth, 0.0) + use.played_s
    return max(played, key=lambda bits: (played[bits], bits), default=0)


@MEDIA.fact("text", "How its samples are encoded.", how="measured", once="stored")
def encoding(row: Row[MediaUse]) -> str:
    if row.need("lossy").value:
        return "coded with loss"
    depth = row.value("bits")
    return f"{number_text(depth.number)} bit" if isinstance(depth, FactValue) else "coded without loss"


@MEDIA.fact("switch", "A clip plays it as if at another sample rate.", how="derived", settings=SPEED)
def wrong_rate(row: Row[MediaUse]) -> FactValue | Unknown:
    missing: Unknown | None = None
    for one in _regions_by_file(row.context).get(row.item.media.id, ()):
        found = one.value("wrong_rate")
        if isinstance(found, Unknown):
            missing = missing or found
        elif found.value:
            return FactValue(True, found.how, found.where, f"{found.note} ({one.need('position').value})")
    return missing or FactValue(False, "derived", row.subject.where)


@per_session
def _regions_by_file(context: SessionContext) -> dict[str, list[Row[ClipRegion]]]:
    """The rows of the table ``clip`` that sound, by the audio file they play."""
    found: dict[str, list[Row[ClipRegion]]] = {}
    for one in CLIP.rows(context):
        clip = one.item.clip
        if clip.file is not None and clip.plays == "audio" and is_active_clip(one.item.channel, clip):
            found.setdefault(clip.file, []).append(one)
    return found


MEDIA.echo("wrong_rate_how", "wrong_rate.note")


@MEDIA.fact("switch", "The session's audio was opened for this review.", how="measured")
def opened(row: Row[MediaUse]) -> bool:
    return header(row.context, row.item.media.id) is not NOT_OPENED
