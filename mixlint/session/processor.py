"""What sits in an insert: a processor, as far as the export shows it."""

from __future__ import annotations

from typing import Literal, get_args

from pydantic import Field

from mixlint.session.maybe import Figure, Frozen, Level, Unknown

ProcessorKind = Literal[
    "reverb",
    "delay",
    "equalizer",
    "filter",
    "compressor",
    "limiter",
    "gate",
    "expander",
    "de-esser",
    "modulation",
    "distortion",
    "pitch",
    "restoration",
    "spatial",
    "utility",
    "analyser",
    "monitor",
    "multi-effect",
    "instrument",
    "note-effect",
]
"""What a processor does, in the trade's words. ``monitor`` is a room or headphone correction, a dim or mono switch."""

PROCESSOR_KINDS: tuple[str, ...] = get_args(ProcessorKind)

BandKind = Literal["high-pass", "low-pass", "band-pass", "high-shelf", "low-shelf", "bell", "notch"]


class EqualizerBand(Frozen):
    """One band. ``freq_hz`` in hertz, ``gain_db`` in decibels, ``q`` linear.

    ``slope_db_per_oct`` belongs to high-pass and low-pass bands: 6, 12, 18 … dB per octave.
    """

    kind: BandKind
    freq_hz: Figure | Unknown
    gain_db: Level | Unknown = 0.0
    q: Figure | Unknown = Unknown(unknown="the export gives no Q")
    slope_db_per_oct: Figure | Unknown = Unknown(unknown="the export gives no slope")
    on: bool | Unknown = True


class Equalizer(Frozen):
    """The bands in file order, with the gains before and after them."""

    bands: tuple[EqualizerBand, ...] = ()
    input_gain_db: Level | Unknown = 0.0
    output_gain_db: Level | Unknown = 0.0


class Dynamics(Frozen):
    """A compressor, limiter or gate. Levels in dBFS, ``ratio`` as n in n:1, times in milliseconds.

    ``range_db`` is the most a gate takes away (a negative number).
    """

    threshold_db: Level | Unknown
    ratio: Figure | Unknown = Unknown(unknown="the export gives no ratio")
    attack_ms: Figure | Unknown = Unknown(unknown="the export gives no attack time")
    release_ms: Figure | Unknown = Unknown(unknown="the export gives no release time")
    knee_db: Level | Unknown = Unknown(unknown="the export gives no knee")
    range_db: Level | Unknown = Unknown(unknown="the export gives no range")
    input_gain_db: Level | Unknown = 0.0
    output_gain_db: Level | Unknown = 0.0
    auto_makeup: bool | Unknown = Unknown(unknown="the export does not say")


class Parameter(Frozen):
    """A parameter that the export lists: as named there, with its unit there."""

    id: str
    name: str = ""
    value: float | bool | int | str | Unknown
    unit: str = ""
    low: float | Unknown = Unknown(unknown="the export gives no range")
    high: float | Unknown = Unknown(unknown="the export gives no range")


class SavedSettings(Frozen):
    """The file in which a session keeps the settings of a processor. They are the plug-in's own, and are never read.

    Args:
        path: the file, as the session names it.
        place: inside the session's own container, beside it, or outside its folder.
        present: whether it is there.
        damaged: it is there, and cannot be read to its end.
        content: the hash of what the plug-in works by, so that two states can be told to be the same or not.
        plugin: the id of the plug-in whose settings they are, where the head of the file gives it.
    """

    path: str
    place: Literal["inside", "beside", "outside"] = "inside"
    present: bool | Unknown = Unknown(unknown="not looked for")
    damaged: bool = False
    content: str | Unknown = Unknown(unknown="not read")
    plugin: str = ""


class Insert(Frozen):
    """One processor in a channel, in the order the signal passes.

    Args:
        kind: what the processor does, where the file declares it; names are read later (room ``naming``).
        ground: how ``kind`` is known, for a reader; where it is not, how ``categories`` are if not from the document.
        on: false when it is bypassed.
        loaded: false when the processor was missing where the export was made.
        opaque: true when its settings are hidden in a blob, so its sound is not known from the export.
        wet: the wet share in per cent, 100 being wholly wet.
        categories: the open plug-in standards' own category words, where the file gives them.
        saved: the file of its settings, where the session names one.
    """

    id: str = ""
    name: str
    kind: ProcessorKind | Unknown = Unknown(unknown="the export does not say what this processor does")
    ground: str = ""
    on: bool | Unknown = True
    loaded: bool | Unknown = True
    opaque: bool = True
    wet: Figure | Unknown = Unknown(
        unknown="the export does not show the wet share",
        settle="print the return alone, or look at its mix control",
    )
    pre_delay_ms: Figure | Unknown = Unknown(unknown="the export does not show a pre-delay")
    equalizer: Equalizer | None = None
    dynamics: Dynamics | None = None
    parameters: tuple[Parameter, ...] = ()
    categories: tuple[str, ...] = ()
    saved: SavedSettings | None = None
    device: str = Field(default="", description="the processor's identifier in the file, as written")
    where: str = ""
