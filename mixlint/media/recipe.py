"""How a sound of an example is made, as data: what plays, for how long, how loud, and what was done to it.

A rule that listens needs sounds in its examples. They are few, plain and made anew each time, so that an example shows
in a line what is wrong with a file. What the words sound like is laid down in ``made_sounds.py``.
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from mixlint.session.maybe import Frozen

Side = Literal["left", "right", "both"]
Span = tuple[float, float]


class Room(Frozen):
    """A room or a reverb: a tail of noise that decays evenly.

    Args:
        decay_s: until it is 60 dB down.
        predelay_ms: until it begins.
        dry_db: the direct sound beside it, relative to the tail's energy; none when left out.
    """

    decay_s: float = Field(default=1.2, gt=0.0, le=10.0)
    predelay_ms: float = Field(default=0.0, ge=0.0, le=500.0)
    dry_db: float | None = None


class Click(Frozen):
    """A single sample that stands out: when, and how far, in full scale."""

    at_s: float = Field(ge=0.0)
    size: float = 0.5


class Onward(Frozen):
    """What changes from some instant on: turned up or down, and nothing left over ``high_cut_hz``, steeply."""

    at_s: float = Field(ge=0.0)
    gain_db: float = 0.0
    high_cut_hz: float | None = None


class Howl(Frozen):
    """A tone that grows evenly, by 50 dB, to a level, and is gone a little later."""

    from_s: float = Field(ge=0.0)
    to_s: float = Field(gt=0.0)
    hz: float = Field(gt=10.0, lt=20_000.0)
    dbfs: float = Field(le=0.0)


class Again(Frozen):
    """All of it comes again and again, each time with a gain."""

    every_s: float = Field(gt=0.01)
    gain: float = Field(gt=0.0, le=2.0)


class Instead(Frozen):
    """White noise of a level, RMS, in place of the sound."""

    span_s: Span
    dbfs: float = Field(le=0.0)


class Step(Frozen):
    """One thing that was done to a sound; exactly one of these.

    Args:
        gain_db: turned up or down.
        low_cut_hz: nothing is left under this, steeply.
        high_cut_hz: nothing is left over this, steeply.
        shelf_db: what lies over 2 kHz is turned up or down by this.
        from_s: from some instant on it is another.
        howl: a tone that grows.
        repeats: a delay, fed back.
        crackle_s: a cable crackles from here to there.
        right_out_s: the right leg is 40 dB down from here to there.
        noise: noise in place of it.
        telephone_s: bursts of a telephone from here to there.
        gate_dbfs: a gate that opens at this level, RMS of a hundredth of a second, and shuts within a millisecond.
        clip_dbfs: whatever is over this level is cut off flat.
        invert: the polarity of a side, or of both, is turned over.
        delay_ms: later by this; a negative figure is earlier.
        delay_right_ms: the right leg alone is later by this.
        stretch: played so many times as fast, pitch and all; 1.003 is five cents up.
        silence_s: exact zeros from here to there.
        hold_s: one sample stands from here to there.
        reverse_s: out of polarity from here to there.
        drop: a side is silent.
        swap: left and right change places.
        right_db: the right leg alone is turned up or down.
        right_dies_s: the right leg is silent from here on.
        offset: so much is added to every sample, in full scale.
        hiss_dbfs: white noise of this level, RMS.
        hum_dbfs: 50 Hz and its harmonics of this level, RMS.
        click: a click.
        repeat_s: the 1024 samples before this come again in place of those behind it.
        burst_s: white noise at full scale from here to there.
        square_dbfs: a square wave of 110 Hz at this level in place of the sound.
        bits: rounded to so many bits.
        fade_in_s: faded in.
        fade_out_s: faded out.
        lead_s: silence before it, put in front; a negative figure cuts the beginning off.
        seconds: cut, or filled up with silence, to this length.
        not_a_number_s: one sample that is no number.
        room: through a room.
        wide: two legs that differ.
        drive_db: distorted by so much gain into a soft limit.
    """

    gain_db: float | None = None
    low_cut_hz: float | None = None
    high_cut_hz: float | None = None
    shelf_db: float | None = None
    from_s: Onward | None = None
    howl: Howl | None = None
    repeats: Again | None = None
    crackle_s: Span | None = None
    right_out_s: Span | None = None
    noise: Instead | None = None
    telephone_s: Span | None = None
    gate_dbfs: float | None = None
    clip_dbfs: float | None = None
    invert: Side | None = None
    delay_ms: float | None = None
    delay_right_ms: float | None = None
    stretch: float | None = Field(default=None, gt=0.5, lt=2.0)
    silence_s: Span | None = None
    hold_s: Span | None = None
    reverse_s: Span | None = None
    drop: Literal["left", "right"] | None = None
    swap: Literal[True] | None = None
    right_db: float | None = None
    right_dies_s: float | None = None
    offset: float | None = None
    hiss_dbfs: float | None = None
    hum_dbfs: float | None = None
    click: Click | None = None
    repeat_s: float | None = Field(default=None, ge=0.05)
    burst_s: Span | None = None
    square_dbfs: float | None = None
    bits: int | None = Field(default=None, ge=2, le=24)
    fade_in_s: float | None = None
    fade_out_s: float | None = None
    lead_s: float | None = None
    seconds: float | None = Field(default=None, gt=0.0, le=60.0)
    not_a_number_s: float | None = None
    room: Room | None = None
    wide: Literal[True] | None = None
    drive_db: float | None = None

    @model_validator(mode="after")
    def _one_thing(self) -> Step:
        """Refuse two things in one step, whose order would not be told, and none."""
        if len(self.model_fields_set) != 1:
            raise ValueError("a step does exactly one thing: put each in a table of its own")
        return self


class Part(Frozen):
    """Another sound of the example in a sum.

    Args:
        sound: its file name.
        gain_db: at which level.
        pan: where, −100 … +100, by the equal-power law; None leaves its legs as they are.
        delay_ms: how much later; negative is earlier.
    """

    sound: str
    gain_db: float = 0.0
    pan: float | None = Field(default=None, ge=-100.0, le=100.0)
    delay_ms: float = 0.0


class CuePoint(Frozen):
    """A labelled cue point of a wave file: where, seconds, and what it is called."""

    at_s: float = Field(ge=0.0, le=3600.0)
    name: str = Field(min_length=1, max_length=100)


class Label(Frozen):
    """What a wave file says of itself in chunks of its own.

    Args:
        track: the name of its track (iXML).
        lufs: its loudness (EBU Tech 3285), with ``range_lu``, ``true_peak_dbtp``, ``momentary_lufs`` and
            ``short_term_lufs``; not set when left out.
        stamp_s: when it begins, seconds since midnight.
        cues: its cue points.
    """

    track: str = ""
    lufs: float | None = None
    range_lu: float | None = None
    true_peak_dbtp: float | None = None
    momentary_lufs: float | None = None
    short_term_lufs: float | None = None
    stamp_s: float = Field(default=0.0, ge=0.0, lt=86_400.0)
    cues: tuple[CuePoint, ...] = ()


class DescribedObject(Frozen):
    """A bed or an object in the description that a file carries of its legs (ITU-R BS.2076).

    Args:
        name: what it is called.
        legs: which legs it plays, counted from 1: of a bed one (centre), two (left, right) or six (5.1 in the order of
            ITU-R BS.2094), of an object one.
        bed: it is for loudspeakers; else it has a position.
        content: the content that it belongs to.
        dialogue: what that content holds.
        played: the content refers to it.
        mute: it is muted.
        gain_db: its gain.
        importance: 10 … 0.
        start_s: when it begins; not stated when left out.
        seconds: how long it states to last; not stated when left out.
    """

    name: str = ""
    legs: tuple[int, ...] = Field(min_length=1, max_length=6)
    bed: bool = True
    content: str = "Music"
    dialogue: Literal["none", "dialogue", "mixed"] = "none"
    played: bool = True
    mute: bool = False
    gain_db: float = 0.0
    importance: int = Field(default=10, ge=0, le=10)
    start_s: float | None = Field(default=None, ge=0.0, le=3600.0)
    seconds: float | None = Field(default=None, ge=0.0, le=3600.0)

    @model_validator(mode="after")
    def _as_wide_as_it_is(self) -> DescribedObject:
        """Refuse a bed of a width that the examples have no pack for, and an object of several legs."""
        if len(self.legs) not in ((1, 2, 6) if self.bed else (1,)):
            raise ValueError("a bed has 1, 2 or 6 legs, an object has one")
        return self


class Described(Frozen):
    """The description that a wave file carries of its legs (ITU-R BS.2076 in BS.2088).

    Args:
        objects: its beds and objects.
        programme: the name of its programme.
        lufs: the loudness that the programme states.
        true_peak_dbtp: the true peak that it states.
        unnamed: legs that are left out of the chunk chna.
        named_twice: the first entry of chna stands there twice.
        cut: half of the document is lost.
    """

    objects: tuple[DescribedObject, ...] = Field(min_length=1, max_length=64)
    programme: str = "Programme"
    lufs: float | None = None
    true_peak_dbtp: float | None = None
    unnamed: tuple[int, ...] = ()
    named_twice: bool = False
    cut: bool = False


class Recipe(Frozen):
    """One file of an example.

    Args:
        plays: what it is; exactly one of ``plays``, ``sum`` and ``legs_of``.
        sum: other sounds of the example, which stand before it.
        legs_of: other sounds of the example, whose legs stand one after another in it.
        take: which performance; another number is another take of the same.
        hz: pitch of a tone, a pluck or a voice.
        seconds: its length.
        peak_dbfs: its highest sample before the steps; a sum keeps the levels of its parts.
        legs: one, or two that are alike until a step tells them apart.
        then: what was done to it, in this order.
        rate_hz: its sample rate.
        stored: how the samples are stored.
        label: what the file says of itself inside: the name of its track, its loudness, its time, its cue points.
        described: the description that it carries of its legs.
        no_file: it only goes into others, and is no file itself.
        damage: what happened to the file afterwards: its end lost, or bytes in its middle zeroed.
    """

    plays: Literal["tone", "pluck", "voice", "kit", "hall", "metronome", "noise", "silence"] | None = None
    sum: tuple[Part, ...] = ()
    legs_of: tuple[str, ...] = Field(default=(), max_length=64)
    take: int = Field(default=1, ge=0, le=10_000)
    hz: float = Field(default=220.0, gt=10.0, lt=20_000.0)
    seconds: float = Field(default=4.0, gt=0.0, le=60.0)
    peak_dbfs: float = Field(default=-12.0, le=0.0)
    legs: Literal[1, 2] = 1
    then: tuple[Step, ...] = ()
    rate_hz: int = Field(default=48_000, ge=8_000, le=96_000)
    stored: Literal["16 bit", "24 bit", "float", "flac"] = "24 bit"
    label: Label | None = None
    described: Described | None = None
    no_file: bool = False
    damage: Literal["end-lost", "middle-zeroed"] | None = None

    @model_validator(mode="after")
    def _one_source(self) -> Recipe:
        """Refuse a sound that is made in two ways, or in none."""
        if [self.plays is not None, bool(self.sum), bool(self.legs_of)].count(True) != 1:
            raise ValueError("a sound either plays something, or is a sum of others, or has their legs")
        return self
