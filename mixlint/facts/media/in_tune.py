"""How a file is tuned, and whether the other parts are tuned so too."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import MediaUse
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.media.file_marks import heard_files, played_files
from mixlint.facts.media.heard import played, players
from mixlint.session import Unknown, known
from mixlint.units import few_text, number_text

if TYPE_CHECKING:
    from mixlint.signal.tuning import Tuning

FACTS: Facts[MediaUse] = Facts()

STRUCK: Final = frozenset({"drums", "percussion", "sound-effects"})
"""Families that are tuned to themselves, not to the scale."""

SLIDING: Final = frozenset({"vocals", "speech", "returns"})
"""Families whose notes slide, and their ambience: half a song of them tells no tuning for certain."""

AGREEMENT: Final = Setting(
    "tuning.agreement",
    0.5,
    "",
    "A part tells how it is tuned where its notes agree by so much on the distance from the scale: 1 is all of them.",
    basis="tried: strings, keys and basses of 16 songs reach 0.5 to 0.99, and stay within 4 cents of their tuning; "
    "sung voices and drums mostly lie under it",
    lowest=0.2,
    highest=0.999,
)
NOTES: Final = Setting(
    "tuning.notes", 3.0, "", "It needs so many different notes: a drum of one pitch is tuned to no scale.", lowest=1.0
)
ALIKE: Final = Setting(
    "tuning.alike",
    12.0,
    "cents",
    "Parts are tuned alike within this.",
    basis="common practice",
    lowest=1.0,
    highest=30.0,
)
LASTS: Final = Setting(
    "tuning.lasts", 4.0, "s", "A file shorter than this is a stroke or an effect, and tells no tuning.", lowest=1.0
)
SETTINGS: Final = (AGREEMENT, NOTES, LASTS)
WITH_OTHERS: Final = (*SETTINGS, ALIKE)


@per_session
def _tuning_of(context: SessionContext, media_id: str) -> Tuning | Unknown:
    from mixlint.signal.tuning import tuning

    assert context.audio is not None
    measure = context.audio.measure(media_id)
    if isinstance(measure, Unknown):
        return measure
    if measure.frames < context.setting(LASTS) * measure.header.sample_rate_hz:
        return Unknown(unknown="it is too short to tell how it is tuned")
    found = tuning(measure.pitches.sum(axis=0))
    if found.notes < context.setting(NOTES):
        return Unknown(unknown="it holds too few notes to tell how it is tuned")
    if found.agreement < context.setting(AGREEMENT):
        return Unknown(unknown="its notes do not agree on one tuning, as those of voices and drums seldom do")
    return found


@FACTS.fact(
    "number",
    "How far its notes lie over those of equal temperament on 440 Hz (ISO 16); under them is negative. A whole "
    "semitone cannot be told.",
    unit="cents",
    how="measured",
    settings=SETTINGS,
)
def tuning_cents(row: Row[MediaUse]) -> float | Unknown:
    played(row)
    found = _tuning_of(row.context, row.item.media.id)
    return found if isinstance(found, Unknown) else found.cents


@per_session
def _tuned(context: SessionContext) -> dict[str, float]:
    """Media id → cents, of the heard files that hold notes of parts that are tuned to others."""
    found: dict[str, float] = {}
    if context.audio is None:
        return found
    struck = {one.use.media.id for one in played_files(context) if context.family(one.channel.id) in STRUCK}
    for media_id in sorted(heard_files(context) - struck):
        tuned = _tuning_of(context, media_id)
        if not isinstance(tuned, Unknown):
            found[media_id] = tuned.cents
    return found


@per_session
def _song_tuning(context: SessionContext) -> tuple[float, frozenset[str]] | None:
    """How the song is tuned, cents over 440 Hz, and the files that are tuned so; None where no two agree.

    The largest group of files that are tuned alike; of two files that are not, the one at 440 Hz.
    """
    from mixlint.signal.tuning import apart_cents

    tuned, alike = _tuned(context), context.setting(ALIKE)
    groups: list[tuple[int, float, float, frozenset[str]]] = []
    for centre in tuned.values():
        near = frozenset(one for one, cents in tuned.items() if abs(apart_cents(cents, centre)) <= alike)
        groups.append((len(near), -abs(centre), centre, near))
    if not groups:
        return None
    size, _, centre, group = max(groups, key=lambda one: one[:2])
    if size < 2 and not (len(tuned) == 2 and abs(centre) <= alike):
        return None
    offsets = [apart_cents(tuned[one], centre) for one in group]
    return centre + sum(offsets) / len(offsets), group


@FACTS.fact(
    "switch",
    "It is known how it is tuned, and how the parts are that it plays with.",
    how="measured",
    settings=WITH_OTHERS,
)
def tuned_with_others(row: Row[MediaUse]) -> bool:
    song = _song_tuning(row.context)
    return row.item.media.id in _tuned(row.context) and song is not None


@FACTS.fact(
    "number",
    "How far its tuning lies from that of most parts: to the nearest semitone, so that no more than 50 can be.",
    unit="cents",
    how="derived",
    settings=WITH_OTHERS,
)
def out_of_tune_cents(row: Row[MediaUse]) -> FactValue:
    from mixlint.signal.tuning import apart_cents

    own = known(tuning_cents(row))
    song = _song_tuning(row.context)
    if song is None:
        return FactValue(0.0, "derived", row.subject.where, "no others are tuned alike")
    away = apart_cents(own, song[0])
    side = "sharp" if away > 0.0 else "flat"
    note = f"{side} of {few_text(_names(row, song[1]))}, at A = {number_text(440.0 * 2.0 ** (song[0] / 1200.0), 'Hz')}"
    return FactValue(abs(away), "derived", row.subject.where, note)


@FACTS.fact(
    "number",
    "By how much its tuning changes for good somewhere in it; 0 where it does not, or tells none before and after.",
    unit="cents",
    how="measured",
    settings=SETTINGS,
)
def retuned_cents(row: Row[MediaUse]) -> FactValue:
    from mixlint.media.gathering import PITCHES_S
    from mixlint.signal.tuning import apart_cents, retuned

    context, one = row.context, played(row)
    none = FactValue(0.0, "measured", row.subject.where, "nowhere")
    if any(context.family(channel.id) in STRUCK | SLIDING for channel in players(row)):
        return none
    found = retuned(one.measure.pitches)
    if found is None:
        return none
    sides = (found.before, found.after)
    both = (found.before.agreement * found.after.agreement) ** 0.5
    if both < context.setting(AGREEMENT) or any(side.notes < context.setting(NOTES) for side in sides):
        return none
    if min(side.agreement for side in sides) < NEARLY * context.setting(AGREEMENT):
        return none
    by = apart_cents(found.after.cents, found.before.cents)
    place = one.place(context, found.stretch * PITCHES_S)
    note = f"{number_text(abs(by), 'cents')} {'sharper' if by > 0.0 else 'flatter'} from about {place} on"
    return FactValue(abs(by), "measured", row.subject.where, note)


NEARLY: Final = 0.9
"""Neither half may agree on its tuning by much less than a whole file has to."""


def _names(row: Row[MediaUse], files: frozenset[str]) -> list[str]:
    """The channels that play some files, in desk order, but for the row's own."""
    own = {one.id for one in players(row)}
    ids = {one.channel.id for one in played_files(row.context) if one.use.media.id in files} - own
    return [row.context.name(one) for one in sorted(ids, key=row.context.order.__getitem__)]
