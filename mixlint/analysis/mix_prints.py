"""The prints of the mix: on a track of the session, beside it, in a folder of stems, or named by whoever reviews."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Final, Literal, NamedTuple

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.deliveries import stands_apart
from mixlint.analysis.media_use import audio_clips, file_name, media_of
from mixlint.naming.stem_names import StemKind, StemName, read_stem_names
from mixlint.session import MediaFile, Unknown, is_known

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.analysis.stem_sum import StemSum
    from mixlint.signal.programme import Programme, ProgrammeMeter

How = Literal["named", "track", "beside", "folder", "sound"]
"""How a file is known to be a print: given by name, on a track, lying beside the session, by its name among stems, or
because it holds the sum of the others."""


class MixPrint(NamedTuple):
    """A file that holds the whole mix.

    Args:
        media: the file.
        how: how it is known to be one.
        channel: id of the track it lies on; empty for none.
    """

    media: MediaFile
    how: How
    channel: str


def is_set_of_stems(context: SessionContext) -> bool:
    """True for a folder of stems, in place of a session."""
    return context.session.source.importer == "stems"


@per_session
def stem_names(context: SessionContext) -> dict[str, StemName]:
    """Media id of each file of a folder of stems to what its name says."""
    names = [file_name(media.path) for media in context.session.media]
    said = read_stem_names(names, context.session.title, context.house.vocabulary)
    kinds: list[StemKind] = [said[name].kind for name in names]
    for place, media in enumerate(context.session.media):
        if stands_apart(context, media.id):
            kinds[place] = "delivery"
    if "part" not in kinds:
        spared: StemKind = "version" if "version" in kinds else "mix"
        kinds = ["part" if kind == spared else kind for kind in kinds]
    return {
        media.id: said[name]._replace(kind=kind)
        for media, name, kind in zip(context.session.media, names, kinds, strict=True)
    }


@per_session
def mix_prints(context: SessionContext) -> tuple[MixPrint, ...]:
    """Every print of the mix that is known, the one to go by first; none whose legs are not to be folded."""
    found = [MixPrint(media, how, "") for media, how in context.prints if not stands_apart(context, media.id)]
    if is_set_of_stems(context):
        said = stem_names(context)
        named = [media for media in context.session.media if said[media.id].kind == "mix"]
        named.sort(key=lambda media: -said[media.id].version)
        found += [MixPrint(media, "folder", "") for media in named]
        if not found:
            by_sound = _rough_mix(context) or _by_sound(context)
            found += [MixPrint(by_sound, "sound", "")] if by_sound is not None else []
        return tuple(found)
    for channel in context.session.channels:
        if context.role(channel.id) != "mix-print":
            continue
        longest = max(audio_clips(channel), key=lambda clip: clip.end_s - clip.start_s, default=None)
        media = media_of(context, longest.file) if longest is not None and longest.file is not None else None
        if media is not None and not stands_apart(context, media.id):
            found.append(MixPrint(media, "track", channel.id))
    return tuple(found)


@per_session
def mix_found_by_sound(context: SessionContext) -> tuple[MixPrint, ...]:
    """The print of a folder of stems that no name tells."""
    if not is_set_of_stems(context):
        return ()
    return tuple(one for one in mix_prints(context) if one.how == "sound")


@per_session
def stem_files(context: SessionContext) -> tuple[MediaFile, ...]:
    """The files of a folder of stems that hold a part or a return, in the order of their names."""
    said = stem_names(context)
    apart = {one.media.id for one in mix_prints(context)}
    return tuple(m for m in context.session.media if said[m.id].kind == "part" and m.id not in apart)


@per_session
def _summed(context: SessionContext, printed: str, stems: tuple[str, ...]) -> StemSum | Unknown:
    """How some files add up to another, by media id: asked to find the print, and again to judge the stems."""
    from mixlint.analysis.stem_sum import stem_sum

    assert context.audio is not None
    return stem_sum(context.audio, printed, stems)


@per_session
def sum_of_stems(context: SessionContext) -> StemSum | Unknown:
    """How the stems of a folder add up to the first print of their mix; stems that cannot be read are left out."""
    if context.audio is None:
        return Unknown(unknown="the audio was not opened", settle="review it with its audio")
    prints = mix_prints(context)
    if not prints:
        return Unknown(
            unknown="there is no print of the mix to hold the stems against",
            settle="put one into the folder, or name one with --print",
        )
    readable = tuple(m.id for m in stem_files(context) if is_known(context.audio.measure(m.id)))
    return _summed(context, prints[0].media.id, readable)


_ALIKE_DB: Final = 1.0
_MOST_OF_THEM: Final = 0.5
"""A rough mix is the sum of the stems where so large a share of them lie in it in their places at one gain."""


@per_session
def _rough_mix(context: SessionContext) -> MediaFile | None:
    """The mix for comparison in a folder of stems, where it holds these very stems and no other mix lies there."""
    from math import log10

    said = stem_names(context)
    rough = [m for m in context.session.media if said[m.id].kind == "reference"]
    if context.audio is None or len(rough) != 1:
        return None
    audio = context.audio
    parts = tuple(m.id for m in context.session.media if said[m.id].kind == "part" and is_known(audio.measure(m.id)))
    found = _summed(context, rough[0].id, parts) if is_known(audio.measure(rough[0].id)) else None
    if found is None or isinstance(found, Unknown):
        return None
    sounding = [one for one in found.stems.values() if one.sounds and one.copy_of is None]
    alike = [one for one in sounding if one.gain and abs(20.0 * log10(abs(one.gain))) <= _ALIKE_DB]
    return rough[0] if len(alike) >= max(2.0, _MOST_OF_THEM * len(sounding)) else None


_LIKE: Final = 0.9
"""The loudness of a print follows that of the sum of its parts by this correlation: a definition."""

_FITS_DB: Final = -15.0
"""So little is left over of a file that is the sum of the others: a definition, as a mix bus leaves it."""


@per_session
def _by_sound(context: SessionContext) -> MediaFile | None:
    """The file of a folder of stems that holds the sum of the others, whatever it is called; None for none."""
    import numpy as np

    said = stem_names(context)
    files = [m for m in context.session.media if said[m.id].kind == "part"]
    if context.audio is None or len(files) < 3:
        return None
    measures = {m.id: context.audio.measure(m.id) for m in files}
    heard = {one: measure.power.sum(axis=0) for one, measure in measures.items() if is_known(measure)}
    if len(heard) < 3:
        return None
    longest = max(power.size for power in heard.values())
    table = {one: np.pad(power, (0, longest - power.size)) for one, power in heard.items()}
    total = np.sum(list(table.values()), axis=0)
    best = max(table, key=lambda one: float(table[one].sum()))
    if not _follows(table[best], total - table[best]):
        return None
    found = _summed(context, best, tuple(one for one in table if one != best))
    if isinstance(found, Unknown) or found.left_db > _FITS_DB:
        return None
    sounding = [one for one in found.stems.values() if one.sounds and one.copy_of is None]
    inside = [one for one in sounding if abs(one.gain) > 0.3]
    return media_of(context, best) if len(inside) >= max(2.0, 0.75 * len(sounding)) else None


def _follows(one: NDArray[np.float64], others: NDArray[np.float64]) -> bool:
    """True where one file is about as loud as all others together, from moment to moment."""
    import numpy as np

    if not 0.25 < float(one.sum()) / max(float(others.sum()), 1e-30) < 8.0:
        return False
    levels = [10.0 * np.log10(np.maximum(power, 1e-7)) for power in (one, others)]
    spread = [float(level.std()) for level in levels]
    if min(spread) < 1e-3:
        return True
    centred = [level - level.mean() for level in levels]
    return float((centred[0] * centred[1]).mean()) / (spread[0] * spread[1]) >= _LIKE


@per_session
def programme_of(context: SessionContext, media_id: str) -> Programme | Unknown:
    """The loudness and the true peak of a print, by one more pass over its file."""
    from mixlint.signal.programme import ProgrammeMeter

    if context.audio is None:
        return Unknown(unknown="the audio was not opened", settle="review it with its audio")
    header = context.audio.header(media_id)
    if isinstance(header, Unknown):
        return header
    return metered(context, media_id, ProgrammeMeter(header.legs, float(header.sample_rate_hz)))


def metered(
    context: SessionContext,
    media_id: str,
    meter: ProgrammeMeter,
    before: Callable[[NDArray[np.float32]], NDArray[np.floating]] | None = None,
) -> Programme | Unknown:
    """What a meter finds in a file, by one pass over it.

    Args:
        context: the session with its audio.
        media_id: which file.
        meter: a fresh one.
        before: makes of each block (legs, n) of the file what is measured; nothing when left out.
    """
    from mixlint.errors import InputError
    from mixlint.media.meter import mend

    if context.audio is None:
        return Unknown(unknown="the audio was not opened", settle="review it with its audio")
    try:
        with context.audio.side_by_side([media_id]) as (file,):
            for block in file.blocks():
                if file.header.is_float:
                    mend(block)
                meter.feed(block if before is None else before(block))
            return meter.result()
    except InputError as fault:
        return Unknown(unknown=fault.what, settle=fault.do)
