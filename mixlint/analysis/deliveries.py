"""Files that describe their own legs (ADM, ITU-R BS.2076): which there are, what plays in them, and on which legs."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, Literal, NamedTuple

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import NOT_OPENED
from mixlint.media.adm.common import common_speaker
from mixlint.media.adm.model import Adm, AdmObject, ChannelFormat, Kind, LegUse
from mixlint.session import MediaFile, is_known, known

DELIVERY: Final = "delivery"
"""What the reader of a folder of stems declares of a file that is none: it describes legs that are not to be folded."""

MOST_DEEP: Final = 16
"""Objects inside objects are followed so far."""

WIDEST: Final = 2
"""Legs that a file may have to be taken for a plain one: left and right are what they are, described or not."""


class Delivery(NamedTuple):
    """One such file.

    Args:
        media: the file.
        adm: what it describes.
        legs: how many legs it has.
        length_s: its length.
        among: among stems, in a session, or named or found beside one.
    """

    media: MediaFile
    adm: Adm
    legs: int
    length_s: float
    among: Literal["stems", "session", "prints"]


@per_session
def deliveries(context: SessionContext) -> tuple[Delivery, ...]:
    """Every file that describes its legs, in the order of the session, then those that were named.

    Where the audio was not opened they are those that the reader of a folder of stems kept apart, unread.
    """
    if context.audio is None:
        return tuple(_kept_apart(context))
    found = []
    among: Literal["stems", "session"] = "stems" if context.session.source.importer == "stems" else "session"
    listed = {media.id for media in context.session.media}
    named = [media for media, _ in context.prints if media.id not in listed]
    for media in (*context.session.media, *named):
        header, adm = context.audio.header(media.id), context.audio.described(media.id)
        if is_known(header) and is_known(adm) and adm.describes:
            where = among if media.id in listed else "prints"
            found.append(Delivery(media, adm, header.legs, header.duration_s, where))
    return tuple(found)


def _kept_apart(context: SessionContext) -> Iterator[Delivery]:
    for media in context.session.media:
        if _declared(context, media.id):
            length = media.duration_s if is_known(media.duration_s) else 0.0
            yield Delivery(media, Adm(unread=NOT_OPENED), known(media.legs), length, "stems")


def _declared(context: SessionContext, media_id: str) -> bool:
    """True for a file that the reader of a folder of stems has found to be a delivery."""
    channel = context.channels.get(media_id)
    return channel is not None and channel.declared_role == DELIVERY and context.session.source.importer == "stems"


@per_session
def stands_apart(context: SessionContext, media_id: str) -> bool:
    """True for a file whose legs are described and more than two, so that nothing may be folded or compared."""
    if _declared(context, media_id):
        return True
    return any(one.media.id == media_id and one.legs > WIDEST for one in deliveries(context))


class Played(NamedTuple):
    """An object where it plays: with the gains, times and mutes of the objects it lies in taken together.

    Args:
        one: the object.
        gain: factor.
        start_s: from here in its file.
        end_s: to here; infinite where no end is given.
        mute: it, or one that it lies in, is muted.
    """

    one: AdmObject
    gain: float
    start_s: float
    end_s: float
    mute: bool


def played(adm: Adm, objects: tuple[str, ...]) -> list[Played]:
    """The objects that play with these, those inside others among them; none twice along one way."""
    found: list[Played] = []

    def into(number: str, gain: float, start_s: float, end_s: float, mute: bool, way: tuple[str, ...]) -> None:
        one = adm.objects.get(number)
        if one is None or number in way or len(way) > MOST_DEEP or len(found) > len(adm.objects) * MOST_DEEP:
            return
        begin = start_s + one.start_s
        end = end_s if one.duration_s is None else min(end_s, begin + one.duration_s)
        here = Played(one, gain * one.gain, begin, end, mute or one.mute)
        found.append(here)
        for inner in one.objects:
            into(inner, here.gain, here.start_s, here.end_s, here.mute, (*way, number))

    for number in objects:
        into(number, 1.0, 0.0, float("inf"), False, ())
    return found


def objects_of_programme(adm: Adm, number: str) -> tuple[str, ...]:
    """The numbers of the objects that a programme's contents refer to, each once."""
    programme = adm.programmes.get(number)
    contents = [adm.contents[one] for one in (programme.contents if programme else ()) if one in adm.contents]
    return tuple(dict.fromkeys(one for content in contents for one in content.objects))


def uses_of(adm: Adm, one: AdmObject) -> list[LegUse]:
    """The legs that an object plays, as ``chna`` has them."""
    wanted = set(one.uids)
    return [use for use in adm.legs if use.uid in wanted]


def channel_of(adm: Adm, use: LegUse) -> ChannelFormat | None:
    """What the samples of a leg are; None where the file does not tell."""
    track = adm.tracks.get(use.uid)
    number = use.track or (track.channel or track.track if track else "")
    if number.startswith("AT_"):
        stream = adm.track_streams.get(number, "")
        number = adm.streams.get(stream) or f"AC_{number[3:11]}"
    return adm.channels.get(number) or common_speaker(number)


def kind_of(adm: Adm, one: AdmObject) -> Kind:
    """Whether an object is a bed for loudspeakers, a single object, or another kind; by its packs, else its legs."""
    kinds = {adm.packs[pack].kind for pack in one.packs if pack in adm.packs}
    kinds |= {"speakers" for pack in one.packs if pack not in adm.packs and pack.startswith("AP_0001")}
    if not kinds:
        kinds = {channel.kind for use in uses_of(adm, one) if (channel := channel_of(adm, use)) is not None}
    return kinds.pop() if len(kinds) == 1 else "unknown"
