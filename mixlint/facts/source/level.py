"""How loud a part arrives, and what its filters leave of it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from mixlint.analysis.activity import playing
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.energy import energy_at_mix
from mixlint.analysis.gaps import GAP_SETTINGS
from mixlint.analysis.inserts import active_bands, active_inserts
from mixlint.analysis.levels import SAME_LOUDNESS, Namesakes, clips_moved_db, namesakes_gain_db, part_against_the_rest
from mixlint.analysis.partners import partners
from mixlint.analysis.settings import Setting, share_setting
from mixlint.analysis.spectrum import SPECTRUM_SETTINGS, SPECTRUM_TEXT, spectrum_of
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.shared import UNREAD_ROLE
from mixlint.naming import name_words
from mixlint.session import FADER, Channel, Unknown, control_of, is_known, known
from mixlint.session.control import moves
from mixlint.signal.median import median
from mixlint.units import number_text

FACTS: Facts[Channel] = Facts()

LEVEL_SETTINGS: Final = (*SPECTRUM_SETTINGS, *GAP_SETTINGS)


@FACTS.fact(
    "number",
    "How loud it arrives at the mix bus while it plays: over all others together where all are measured, "
    "else over the median of the others.",
    unit="dB",
    how="measured",
    settings=LEVEL_SETTINGS,
)
def over_the_rest_db(row: Row[Channel]) -> FactValue:
    found = known(part_against_the_rest(row.context, row.item))
    if found.measured:
        return FactValue(found.db, "measured", row.subject.where)
    return FactValue(found.db, "assumed", row.subject.where, SAME_LOUDNESS)


@FACTS.fact("text", "The same for a reader.", how="derived", settings=LEVEL_SETTINGS)
def against_the_rest(row: Row[Channel]) -> str:
    found = known(part_against_the_rest(row.context, row.item))
    way = "over" if found.db >= 0.0 else "under"
    rest = "all the rest together" if found.measured else "the rest, by the gains alone"
    return f"{number_text(abs(found.db), 'dB')} {way} {rest}"


@FACTS.fact("switch", "It and every other part is measured.", how="derived", settings=LEVEL_SETTINGS)
def all_measured(row: Row[Channel]) -> bool:
    return known(part_against_the_rest(row.context, row.item)).measured


@FACTS.fact(
    "number",
    "How many other parts bear its name but for number and side; a left and a right are one, and its own other half "
    "none.",
    how="derived",
    settings=SPECTRUM_SETTINGS,
)
def namesakes(row: Row[Channel]) -> int:
    found = namesakes_gain_db(row.context).get(row.subject.id)
    return 0 if found is None else found.others


@FACTS.fact("switch", "Of the one other part of its name it is called the left or the right.", how="derived")
def named_as_a_side(row: Row[Channel]) -> bool:
    return row.subject.id in partners(row.context)


@FACTS.fact(
    "number",
    "How far its gain to the mix bus, clip gains included, lies outside those of all of these, either way; a left and "
    "a right count with their mean.",
    unit="dB",
    how="derived",
    settings=SPECTRUM_SETTINGS,
)
def off_its_namesakes_db(row: Row[Channel]) -> FactValue | Unknown:
    return _off(row, lambda found: found.outside_db)


@FACTS.fact(
    "number",
    "How far the same lies off that of its other half by name, or off the middle of its name where that is less; 0 "
    "where it has no other half.",
    unit="dB",
    how="derived",
    settings=SPECTRUM_SETTINGS,
)
def off_its_half_db(row: Row[Channel]) -> FactValue | Unknown:
    return _off(row, lambda found: found.off_half_db)


@FACTS.fact(
    "text", "The larger of the two, for a reader.", how="derived", settings=SPECTRUM_SETTINGS,
)  # fmt: skip
def off_its_name(row: Row[Channel]) -> str | Unknown:
    off, half = _off(row, lambda found: found.outside_db), _off(row, lambda found: found.off_half_db)
    if isinstance(off, Unknown) or isinstance(half, Unknown):
        return Unknown(unknown="no other part bears its name")
    larger = max(off, half, key=lambda one: float(one.value))  # type: ignore[arg-type]  # both are numbers
    return f"{number_text(float(larger.value), 'dB')} {larger.note}"  # type: ignore[arg-type]


def _off(row: Row[Channel], which: Callable[[Namesakes], float]) -> FactValue | Unknown:
    found = namesakes_gain_db(row.context).get(row.subject.id)
    if found is None:
        return Unknown(unknown="no other part bears its name")
    off = round(which(found), 6)  # what is less than this is nothing, whichever way the sum leans
    return FactValue(abs(off), "derived", row.subject.where, "over" if off > 0.0 else "under")


@FACTS.fact(
    "number",
    "By how much at least all its clips are up or down by their gains, where those of no namesake are moved; else 0.",
    unit="dB",
    how="derived",
    settings=SPECTRUM_SETTINGS,
)
def all_clips_moved_db(row: Row[Channel]) -> float:
    return clips_moved_db(row.context, row.item)


@FACTS.fact(
    "number",
    "How much of its loudness the filters on its own strip take.",
    unit="dB",
    how="derived",
    settings=SPECTRUM_SETTINGS,
)
def filtered_away_db(row: Row[Channel]) -> FactValue:
    loss = known(_filtered_away(row.context, row.item))
    measured = row.context.audio is not None
    note = "" if measured else f"it is taken to sound {SPECTRUM_TEXT}"
    return FactValue(loss, "measured" if measured else "assumed", row.subject.where, note)


@per_session
def _filtered_away(context: SessionContext, channel: Channel) -> float | Unknown:
    """The K-weighted loss behind the shown equalizer bands of the strip, dB; their gains aside.

    Unknown where a band is automated, and without audio where the part it plays cannot be told.
    """
    import numpy as np

    from mixlint.routing.strips import band_response
    from mixlint.signal.octave_bands import CENTRES_HZ

    if context.audio is None and context.role(channel.id) is None:
        return Unknown(unknown="the part it plays cannot be told", settle=UNREAD_ROLE)
    if any(lane.target.of_insert and moves(lane) for lane in channel.automation):
        return Unknown(unknown="automation moves its inserts", settle="listen through the song")
    response = np.ones(CENTRES_HZ.size)
    for insert, _ in active_inserts(context, channel):
        for band in active_bands(insert):
            if is_known(band.freq_hz) and band.kind in ("high-pass", "low-pass", "band-pass"):
                response = response * np.abs(band_response(band, CENTRES_HZ, context.routing.rate_hz)) ** 2
    kept = float(spectrum_of(context, channel.id) @ response)
    return -10.0 * float(np.log10(max(kept, 1e-12)))


LEAST_FADERS: Final = Setting(
    "faders.least_others", 5.0, "", "So many other parts show where the faders of a session stand.", lowest=2.0
)


@per_session
def _faders(context: SessionContext) -> dict[str, float]:
    """Channel id → where its fader stands, for the parts of which no automation moves it and that are up, dB."""
    found = {}
    for channel in context.session.channels:
        fader = control_of(channel, FADER)
        if is_source(context, channel) and not fader.moves and is_known(fader.now) and fader.now > DOWN_DB:
            found[channel.id] = fader.now
    return found


DOWN_DB: Final = -60.0
"""A fader under this is down, and shows nothing of where the others stand."""


@FACTS.fact(
    "number",
    "How far its fader, where no automation moves it, stands over the middle of the other parts' faders; 0 where these "
    "are too few.",
    unit="dB",
    how="derived",
    settings=(LEAST_FADERS,),
)
def fader_over_others_db(row: Row[Channel]) -> FactValue | Unknown:
    faders = _faders(row.context)
    own = faders.get(row.subject.id)
    if own is None:
        return Unknown(unknown="its fader is automated, or down")
    others = [level for one, level in faders.items() if one != row.subject.id]
    if len(others) < row.context.setting(LEAST_FADERS):
        return FactValue(0.0, "derived", row.subject.where)
    usual = median(others)
    return FactValue(
        own - usual, "derived", row.subject.where, f"the middle of the others is at {number_text(usual, 'dB')}"
    )


SINGS_WITH: Final = share_setting(
    "doubles.sings_with", 60.0, "A lead that sings for this share of the time of a double is the one that it doubles."
)
DOUBLE_SETTINGS: Final = (*LEVEL_SETTINGS, SINGS_WITH)

LEADS: Final = frozenset({"lead-vocal", "vocal"})
"""Roles of a voice that another one may double."""


@per_session
def _against_its_lead(context: SessionContext, channel: Channel) -> tuple[float, bool, str] | Unknown:
    """How much louder a double arrives than the lead that sings with it, while both do, dB; if measured; which lead.

    Of several leads that sing with it the loudest counts. Unknown where none does, and where one of the two is measured
    and the other is not.
    """
    import numpy as np

    parts = energy_at_mix(context)
    if isinstance(parts, Unknown):
        return parts
    energies = {part.channel: part for part in parts}
    own = energies.get(channel.id)
    if own is None or context.role(channel.id) != "vocal-double":
        return Unknown(unknown="it doubles no voice")
    mine = own.left + own.right
    sings = playing(context, channel.id)
    found: list[tuple[float, bool, str]] = []
    for one, part in energies.items():
        if context.role(one) not in LEADS:
            continue
        together = np.minimum(playing(context, one), sings)
        if 100.0 * together.sum() < context.setting(SINGS_WITH) * sings.sum():
            continue
        theirs = part.left + part.right
        both = (mine > 0.0) & (theirs > 0.0)
        if not both.any():
            continue
        if part.measured is not own.measured:
            return Unknown(unknown=f"of it and {context.name(one)} only one is measured")
        found.append((float(10.0 * np.log10(mine[both].mean() / theirs[both].mean())), own.measured, context.name(one)))
    return min(found) if found else Unknown(unknown="no lead sings with it")


@FACTS.fact(
    "number",
    "How much louder a double or a harmony arrives at the mix bus than the lead that sings with it, while both do; "
    "under 0 where it is softer.",
    unit="dB",
    how="measured",
    settings=DOUBLE_SETTINGS,
)
def over_its_lead_db(row: Row[Channel]) -> FactValue:
    db, measured, lead = known(_against_its_lead(row.context, row.item))
    far = number_text(abs(db), "dB")
    text = f"{far} {'over' if db >= 0.0 else 'under'} {lead}{'' if measured else ', by the gains alone'}"
    return FactValue(db, "measured" if measured else "assumed", row.subject.where, text)


@FACTS.fact("switch", "Its name says double, and not harmony or octave.", how="derived")
def named_a_double(row: Row[Channel]) -> bool:
    words = row.context.house.vocabulary
    said = {words.pairs.concepts.get(word) for word in name_words(row.subject.name, words)}
    return "double" in said
