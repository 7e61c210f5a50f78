"""What the print of a return shows: the dry signal in it, and its low cut, measured against what feeds the return.

A return is printed when audio lies on the return's own channel, or on a track that bears the return's name and the
word print. The dry reference is the audio of the parts sent to it, at the levels of their sends. Nothing is measured
unless a fact needs it, and without audio there is nothing to measure.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Final, TypeVar

from mixlint.analysis.ambience import ENOUGH_SEEN, AmbienceLowCut, DryLeak, ambience_low_cut, dry_leak
from mixlint.analysis.context import LOW_HZ, MID_HZ, SessionContext, per_session
from mixlint.analysis.media_use import plain_clips
from mixlint.analysis.settings import Setting
from mixlint.naming import is_print, without_print_words
from mixlint.routing.strips import amplitude, fader_db
from mixlint.session import Channel, Unknown, is_known
from mixlint.units import number_text

if TYPE_CHECKING:
    from mixlint.media.excerpt_comparison import Excerpt

Found = TypeVar("Found")

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

LOW_CUT_SETTINGS: Final = (ENOUGH_SEEN, LEAST_LOW)
"""What :func:`return_low_cut` reads."""

NOT_PRINTED: Final = Unknown(unknown="no print of this return is in the session", settle="print the return alone")


def print_of(context: SessionContext, channel: Channel) -> Channel | None:
    """The channel whose clips are a return's print: itself, or a track of its name and a word such as print.

    None where there is none, or it has no clip that can be measured.
    """
    if plain_clips(channel):
        return channel
    words = context.house.vocabulary
    wanted = without_print_words(channel.name, words)
    for other in context.session.channels:
        if other.id == channel.id or not is_print(other.name, words):
            continue
        if without_print_words(other.name, words) == wanted:
            return other if plain_clips(other) else None
    return None


@per_session
def return_dry_leak(context: SessionContext, channel: Channel) -> DryLeak | Unknown:
    """The dry signal at a return's output: as the export shows it, or where that hides it, as measured in its print.

    Unknown where neither shows it; the reason is the export's where there is no print.
    """
    shown = dry_leak(context, channel)
    return _measured_where_hidden(
        shown,
        lambda: measured_dry_db(context, channel),
        lambda db: DryLeak(db, "measured in the return's print", known="measured"),
    )


@per_session
def return_low_cut(context: SessionContext, channel: Channel) -> AmbienceLowCut | Unknown:
    """The low cut on a return's ambience path: of the filters shown, or where one is hidden, as measured in its print.

    Unknown where neither shows it; the reason is the export's where there is no print.
    """
    shown = ambience_low_cut(context, channel)
    return _measured_where_hidden(
        shown, lambda: measured_low_cut_db(context, channel), lambda db: AmbienceLowCut(db, (), "measured")
    )


def _measured_where_hidden(
    shown: Found | Unknown, measure: Callable[[], float | Unknown], made: Callable[[float], Found]
) -> Found | Unknown:
    """What the export shows, else what is made of a measured level in dB; without a print the export's reason holds."""
    if not isinstance(shown, Unknown):
        return shown
    measured = measure()
    if isinstance(measured, Unknown):
        return shown if measured is NOT_PRINTED else measured
    return made(measured)


def measured_dry_db(context: SessionContext, channel: Channel) -> float | Unknown:
    """The dry signal in a return's print relative to the rest of it, dB.

    Returns:
        The level of the dry signal that stands out; where none does, the level up to which some may hide, if that is
        under the setting ``prints.shown_clean``. Unknown where it is not, the audio cannot be compared, or there is
        none (:data:`NOT_PRINTED`).
    """
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
    """The attenuation of a return's print at 60 Hz relative to 1 kHz, against the parts sent to the return, dB.

    Both are read in third-octave bands. Unknown where the parts hold less low end than the setting
    ``prints.least_low_end``, the audio cannot be compared, or there is no print (:data:`NOT_PRINTED`).
    """
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
    """The excerpts of the parts that feed a return, at the levels of their sends, and those of its print."""
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
        fader = amplitude(fader_db(source)) if edge.tap == "post" else 1.0
        dry += _excerpts(source, amplitude(edge.level_db) * fader)
    if not dry:
        return Unknown(unknown="nothing with audio feeds the return", settle="look at its mix control")
    return dry, _excerpts(printed, 1.0)


def _excerpts(channel: Channel, gain: float) -> list[Excerpt]:
    """The channel's measurable clips as excerpts, with an amplitude ``gain`` and their own."""
    from mixlint.media.excerpt_comparison import Excerpt

    return [
        Excerpt(c.file, c.start_s, c.end_s, c.offset_s, gain * (amplitude(c.gain_db) if is_known(c.gain_db) else 1.0))
        for c in plain_clips(channel)
        if c.file is not None and is_known(c.offset_s)
    ]
