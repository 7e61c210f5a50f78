"""Which example of a rule turns from flagged to clear with which number of a house."""

from __future__ import annotations

from typing import NamedTuple


class ByExample(NamedTuple):
    """An example of a rule that is flagged as shipped, and clear, or idle, with a house's number."""

    rule: str
    example: str
    set_to: float
    then: str = "clear"


KICK = ("recording-where-it-was", "a printed kick sample 14 ms early")
ROOM = ("clips-cut-together-play-together", "a room microphone that slipped by 0.35 s")
OPEN_JOIN = ("edges-faded-as-elsewhere", "a join that came open")
ORGAN = ("endings-ring-out", "an organ with five milliseconds of a fade under a band that rings on")
BRASS = ("prints-run-to-one-end", "the brass stops before the end")
NEAR = ("rides-of-a-pair-agree", "the near microphone stays up after the solo")
PIANO = ("clips-cut-together-play-together", "an edit of eight bars that one channel was left out of")
PICKUP = ("moved-on-every-clip", "a pick-up that is moved by 1.4 ms on all clips but one")
FIDDLE = ("recorded-on-one-clock", "one microphone whose recorder ran on a film's clock")
LATER = ("clips-lie-as-stamped", "begun half a second after the others, and nudged")
LOOP = ("stretched-clips-follow-tempo", "one clip of a loop was never stretched")
HALL = ("edited-as-its-like", "the hall stops with the last note")
CHOIR = ("edited-as-its-like", "one of a choir is trimmed")
OVERHEAD = ("fades-as-its-like", "an overhead whose end breaks off")
CELLO = ("no-hole-at-the-cut", "the cello's first take ends early")
SINKS = ("fades-fit-their-clips", "a verse that sinks from its first note")
ALTO = ("halves-alike-in-every-clip", "one of a section plays a verse again")

SHARP = ("parts-in-tune", "a guitar a third of a semitone sharp")
CLOCK = ("metronome-stays-out", "the metronome in the rests of a voice")
KNOCKED = ("recording-stays-as-it-was", "one of two microphones that was knocked")
PREAMP = ("recording-stays-as-it-was", "a preamplifier that was turned up")
LOW_TAKE = ("takes-of-one-level", "a take that came 10 dB lower")
CRACKLE = ("cables-hold", "a cable that crackles")
HOWL = ("no-feedback-in-recordings", "a voice whose microphone howls")
RUNAWAY = ("printed-effect-dies-away", "a delay that runs away")
GATED = ("recording-keeps-its-words", "a voice through a gate")
TALK = ("nothing-behind-the-end", "talk behind the last note")
LOW_RATE = ("spectrum-goes-to-its-end", "a voice from a recording at a low rate")

BY_EXAMPLE: dict[str, ByExample] = {
    "file_legs.answered": ByExample("both-sides-sound", "of two stems one leans far more than the other", 10.0),
    "metronome.jitter": ByExample(*CLOCK, 0.1),
    "metronome.share": ByExample(*CLOCK, 100.0),
    "metronome.spread": ByExample(*CLOCK, 0.01),
    "tuning.agreement": ByExample(*SHARP, 0.99, "idle"),
    "tuning.notes": ByExample(*SHARP, 12.0, "idle"),
    "tuning.alike": ByExample(*SHARP, 1.0, "idle"),
    "tuning.lasts": ByExample(*SHARP, 6.0, "idle"),
    "metronome.ticks": ByExample(*CLOCK, 60.0),
    "changes.around": ByExample(*PREAMP, 30.0),
    "changes.clear": ByExample(*KNOCKED, 12.0),
    "changes.least": ByExample(*PREAMP, 20.0),
    "chops.drop": ByExample(*GATED, 300.0),
    "chops.under": ByExample(*GATED, 0.0),
    "comp.agree": ByExample(*LOW_TAKE, 0.01),
    "comp.music": ByExample(*LOW_TAKE, 30.0),
    "comp.noise": ByExample(*LOW_TAKE, 30.0),
    "crackle.cells": ByExample(*CRACKLE, 100.0),
    "crackle.over": ByExample(*CRACKLE, 80.0),
    "crackle.sharp": ByExample(*CRACKLE, 80.0),
    "drops.drop": ByExample("cables-hold", "a side that drops out again and again", 60.0),
    "howl.grows": ByExample(*HOWL, 60.0),
    "howl.lasts": ByExample(*HOWL, 5.0),
    "howl.loud": ByExample(*HOWL, 0.0),
    "left_over.behind": ByExample(*TALK, 10.0),
    "left_over.gap": ByExample(*TALK, 10.0),
    "left_over.lasts": ByExample(*TALK, 10.0),
    "left_over.loud": ByExample(*TALK, 0.0),
    "left_over.most": ByExample(*TALK, 1.0),
    "left_over.quiet": ByExample(*TALK, -10.0),
    "runaway.alike": ByExample(*RUNAWAY, 1.0),
    "runaway.gain": ByExample(*RUNAWAY, 2.0),
    "runaway.times": ByExample(*RUNAWAY, 20.0),
    "shelf.deep": ByExample(*LOW_RATE, 200.0),
    "shelf.lowest": ByExample(*LOW_RATE, 9000.0),
    "beside_its_like.least_alike": ByExample(*HALL, 95.0),
    "beside_its_like.least_clips": ByExample(*CHOIR, 4.0),
    "beside_its_like.least_ensemble": ByExample(*HALL, 4.0),
    "beside_its_like.least_like": ByExample("edited-as-its-like", "a trombone one bar late", 3.0),
    "clips_beside_like.least_faded": ByExample(*OVERHEAD, 60.0),
    "clips_beside_like.least_others": ByExample(*OVERHEAD, 4.0),
    "cut_as_one.farthest": ByExample(*PICKUP, 1.0),
    "cut_as_one.least_channels": ByExample(*PICKUP, 4.0),
    "cut_as_one.least_cuts": ByExample(*PICKUP, 6.0),
    "displaced.farthest": ByExample(*KICK, 3.0),
    "displaced.least_channels": ByExample(*KICK, 7.0),
    "displaced.least_clips": ByExample("clip-where-it-was", "a verse that plays a beat early", 3.0),
    "displaced.least_cut": ByExample(*ROOM, 6.0),
    "displaced.least_loose": ByExample("clip-where-it-was", "a double among others that were moved by ear", 6.0),
    "displaced.of_one_cut": ByExample(*ROOM, 90.0),
    "displaced.shared_origin": ByExample(*KICK, 84.0),
    "edges.bare": ByExample(*OPEN_JOIN, 10.0),
    "edges.least": ByExample(*OPEN_JOIN, 30.0),
    "edges.most_faded": ByExample(*OPEN_JOIN, 100.0),
    "edges.within_file": ByExample(*OPEN_JOIN, 100.0),
    "endings.faded": ByExample(*ORGAN, 2000.0),
    "endings.habit": ByExample(*ORGAN, 90.0),
    "endings.least_left": ByExample("endings-ring-out", "the right guitar's last chord", 4.0),
    "endings.no_fade": ByExample(*ORGAN, 2.5),
    "endings.room_fade": ByExample("endings-ring-out", "a room that ends within a fifth of a second", 150.0),
    "fades_and_lengths.fills": ByExample("fades-fit-their-clips", "a line that comes up until its last word", 98.0),
    "fades_and_lengths.least_others": ByExample(*SINKS, 3.0),
    "fades_and_lengths.usual": ByExample(*SINKS, 0.05),
    "flown.least": ByExample(
        "flown-together-lie-together", "a chorus of four voices, of which one was set down a beat late", 4.0
    ),
    "missed_edits.least_skipping": ByExample(*PIANO, 5.0),
    "missed_edits.skipping": ByExample(*PIANO, 90.0),
    "one_clip_apart.least_peers": ByExample(*ALTO, 3.0),
    "one_clip_apart.least_same": ByExample(*ALTO, 3.0),
    "file_marks.least_of_song": ByExample("files-of-one-set", "a file of another song", 5.0),
    "file_marks.least_others": ByExample("files-of-one-set", "one stem of the delivery before", 4.0),
    "file_marks.least_together": ByExample(
        "files-of-one-set", "one microphone plays another take where all are cut", 5.0
    ),
    "file_parts.least_sides": ByExample(
        "files-fit-their-channels", "the right guitar plays a file of the left one", 4.0
    ),
    "file_parts.named_alike": ByExample(
        "files-fit-their-channels", "the direct signal on the amplifier's channel", 80.0
    ),
    "phrases.alone_among": ByExample("phrases-in-line", "the one clip of a double that was touched", 4.0),
    "off_clock.least_as_long": ByExample(*FIDDLE, 4.0),
    "off_clock.near": ByExample(*FIDDLE, 0.0001),
    "off_stamp.least_together": ByExample("clips-lie-as-stamped", "a bass that was nudged 20 ms late", 4.0, "idle"),
    "off_stamp.overlap": ByExample(*LATER, 80.0, "idle"),
    "off_stamp.farthest": ByExample(*LATER, 0.02, "idle"),
    "cues.least_alike": ByExample("cues-stand-at-the-markers", "one stem has its chorus elsewhere", 3.0, "idle"),
    "pairs.farthest_clip": ByExample("one-clip-of-a-pair-in-time", "the amplifier 9 ms late in the second hook", 2.0),
    "pairs.least_alike": ByExample("one-clip-of-a-pair-in-time", "a pick-up that is moved on all clips but one", 4.0),
    "prints.least_together": ByExample(*BRASS, 4.5),
    "prints.same_end": ByExample(*BRASS, 100.0),
    "rides_of_pairs.alike": ByExample(*NEAR, 82.0),
    "rides_of_pairs.apart": ByExample(*NEAR, 4.0),
    "rides_of_pairs.least_apart": ByExample(*NEAR, 80.0),
    "song_end.least_parts": ByExample("no-part-past-the-end", "a drone that nobody stopped", 4.0),
    "stretched.least_agreed": ByExample(*LOOP, 4.0),
    "stretched.of_agreed": ByExample(*LOOP, 80.0),
    "takes.least_lines": ByExample("lines-follow-each-other", "a line that slid over the one before", 5.0),
    "takes.least_over": ByExample("line-taken-again-stands-alone", "the fluffed line plays with its pick-up", 10.0),
    "takes_in_step.changed": ByExample("takes-change-together", "the viola left in the first take", 90.0),
    "takes_in_step.least_cut": ByExample(*CELLO, 6.0),
    "takes_in_step.least_crossed": ByExample("crossfaded-throughout", "an atmosphere that stops for a moment", 4.0),
    "takes_in_step.longest_hole": ByExample(*CELLO, 0.16),
    "file_legs.active": ByExample("both-sides-sound", "a dead leg with hiss on it", 100.0),
    "file_legs.before_and_after": ByExample("both-sides-sound", "the right leg dies halfway", 1.6),
    "file_legs.throughout": ByExample("both-sides-sound", "the right leg far too low throughout", 100.0),
    "rests.noisy": ByExample("rests-without-noise", "a hissing take", 0.9),
    "rests.under": ByExample("rests-without-hum", "a guitar with an earth loop", 120.0, "idle"),
    "stems.copy_left": ByExample("stems-differ", "the copy is stored anew, softer and with dither", -120.0),
    "stems.full_sound": ByExample("stems-begin-and-end-in-silence", "the last chord is cut", -5.0),
}
