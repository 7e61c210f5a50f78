"""What a printed return tells: the dry signal in it, and the low end it keeps, measured against what feeds it.

A return is printed when audio lies on the return's own channel, or on a track that bears the return's name and the
word print. The dry reference is the audio of the parts sent to it, at the levels of their sends. Nothing is measured
unless a fact needs it, and without audio there is nothing to measure.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from mixlint.analysis.ambience import AmbienceLowCut, DryLeak, ambience_low_cut, dry_leak
from mixlint.analysis.context import LOW_HZ, MID_HZ, SessionContext, per_session
from mixlint.analysis.media_use import plain_clips
from mixlint.analysis.settings import Setting
from mixlint.routing.strips import amplitude
from mixlint.session import Channel, Unknown, is_known
from mixlint.units import number_text

if TYPE_CHECKING:
    from mixlint.media.excerpt_comparison import Excerpt

PRINT_WORD: Final = re.compile(r"\b(?:print(?:ed)?|prt|bounce(?:d)?|rendered)\b", re.IGNORECASE)

LEAST_LOW: Final = Setting(
    "prints.least_low_end",
    -50.0,
    "dB",
    "Parts with less than this at 60 Hz, relative to 1 kHz, hold too little low end to show a low cut in a print.",
)

SHOWN_CLEAN: Final = Setting(
    "prints.shown_clean",
    -40.0,
    "dB",
    "A print in which no dry signal stands out is shown to be clean when what may hide in it lies under this.",
)

NOT_PRINTED: Final = Unknown(unknown="no print of this return is in the session", settle="print the return alone")


def print_of(context: SessionContext, channel: Channel) -> Channel | None:
    """The channel whose clips are the return's print: itself, or a track named after it with the word print."""
    if plain_clips(channel):
        return channel
    wanted = _without_print_word(channel.name)
    for other in context.session.channels:
        if other.id != channel.id and PRINT_WORD.search(other.name) and _without_print_word(other.name) == wanted:
            return other if plain_clips(other) else None
    return None


def _without_print_word(name: str) -> str:
    return " ".join(re.split(r"[\s_\-.()\[\]]+", PRINT_WORD.sub(" ", name).casefold())).strip()


@per_session
def return_dry_leak(context: SessionContext, channel: Channel) -> DryLeak | Unknown:
    """The dry signal at a return's output: what the export shows, and where it hides it, what its print shows."""
    declared = dry_leak(context, channel)
    if isinstance(declared, DryLeak):
        return declared
    measured = measured_dry_db(context, channel)
    if isinstance(measured, Unknown):
        return declared if measured is NOT_PRINTED else measured
    return DryLeak(measured, "measured in the return's print", known="measured")


@per_session
def return_low_cut(context: SessionContext, channel: Channel) -> AmbienceLowCut | Unknown:
    """The low cut on a return's path: of the filters that can be seen; where one is hidden, what its print has lost."""
    seen = ambience_low_cut(context, channel)
    if isinstance(seen, AmbienceLowCut):
        return seen
    measured = measured_low_cut_db(context, channel)
    if isinstance(measured, Unknown):
        return seen if measured is NOT_PRINTED else measured
    return AmbienceLowCut(measured, (), "measured")


def measured_dry_db(context: SessionContext, channel: Channel) -> float | Unknown:
    """Dry signal in the return's print relative to the rest of it, dB."""
    found = _dry_and_printed(context, channel)
    if isinstance(found, Unknown):
        return found
    assert context.audio is not None
    from mixlint.media.excerpt_comparison import leak

    measured = leak(context.audio, *found)
    if isinstance(measured, Unknown):
        return measured
    if measured.dry_db is not None:
        return measured.dry_db
    if measured.at_most_db is None or measured.at_most_db > context.setting(SHOWN_CLEAN):
        bound = "" if measured.at_most_db is None else f"; it may be up to {number_text(measured.at_most_db)} dB"
        return Unknown(
            unknown=f"no dry signal stands out in the print{bound}",
            settle="print the return again from a brighter part, or look at its mix control",
        )
    return measured.at_most_db


def measured_low_cut_db(context: SessionContext, channel: Channel) -> float | Unknown:
    """What the print has lost at 60 Hz relative to 1 kHz, against the parts sent to it, dB (third-octave bands)."""
    found = _dry_and_printed(context, channel)
    if isinstance(found, Unknown):
        return found
    assert context.audio is not None
    from mixlint.media.excerpt_comparison import band_levels

    levels = []
    for excerpts in found:
        measured = band_levels(context.audio, excerpts, [LOW_HZ, MID_HZ])
        if isinstance(measured, Unknown):
            return measured
        levels.append(measured)
    dry, wet = levels
    if dry[0] - dry[1] < context.setting(LEAST_LOW):
        return Unknown(
            unknown="the parts sent to it hold too little low end to show a low cut",
            settle="look at the return's filter",
        )
    return float((dry[0] - dry[1]) - (wet[0] - wet[1]))


def _dry_and_printed(context: SessionContext, channel: Channel) -> tuple[list[Excerpt], list[Excerpt]] | Unknown:
    """The dry pieces and the printed pieces, or why there are none to compare."""
    if context.audio is None:
        return NOT_PRINTED
    printed = print_of(context, channel)
    if printed is None:
        return NOT_PRINTED
    dry: list[Excerpt] = []
    for edge in context.routing.wiring.arriving.get(channel.id, ()):
        source = context.channels[edge.source]
        if source.id in (channel.id, printed.id) or not context.routing.wiring.audible(edge):
            continue
        if not plain_clips(source):
            return Unknown(
                unknown=f"{context.name(source.id)} feeds the return and has no audio of its own to compare with",
                settle="print the return with one part sent to it",
            )
        fader = amplitude(source.fader_db) if edge.tap == "post" else 1.0
        dry += _excerpts(source, amplitude(edge.level_db) * fader)
    if not dry:
        return Unknown(unknown="nothing with audio feeds the return", settle="look at its mix control")
    return dry, _excerpts(printed, 1.0)


def _excerpts(channel: Channel, gain: float) -> list[Excerpt]:
    from mixlint.media.excerpt_comparison import Excerpt

    return [
        Excerpt(c.file, c.start_s, c.end_s, c.offset_s, gain * (amplitude(c.gain_db) if is_known(c.gain_db) else 1.0))
        for c in plain_clips(channel)
        if c.file is not None and is_known(c.offset_s)
    ]
