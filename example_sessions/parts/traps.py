"""Clean sessions that look wrong to a careless checklist. All names are invented."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from mixlint.session import Channel, Clip, Marker, Send, Session, Source, Tempo, Timeline

from .desk import bar, bus, clips, compressor, low_cut, part, reverb, send


def _session(title: str, artist: str, channels: tuple[Channel, ...]) -> Session:
    return Session(
        title=title,
        source=Source(importer="json", application="Lower Slate desk notes", version="1.0"),
        sample_rate_hz=48_000.0,
        timeline=Timeline(tempos=(Tempo(bpm=96.0),)),
        markers=(
            Marker(time_s=bar(1), name="Intro"),
            Marker(time_s=bar(5), name="Verse"),
            Marker(time_s=bar(21), name="Chorus"),
            Marker(time_s=bar(37), name="Outro"),
        ),
        channels=(*channels, bus("mix-bus", "Mix Bus", "master", output=None)),
        metadata={"title": title, "artist": artist, "comment": "Lower Slate Studio."},
    )


def _whole(name: str) -> tuple[Clip, ...]:
    return clips((1, 41), name=name, last_fade_s=2.0)


def _sung(name: str) -> tuple[Clip, ...]:
    return clips((5, 21), (21, 37), name=name)


def _hall(output: str = "mix-bus", **more: float) -> Channel:
    return bus(
        "hall", "Hall Verb", "return", output=output, fader_db=-4.0,
        pan=more.get("pan", 0.0), legs=int(more.get("legs", 2)),
        inserts=(reverb("Chapel Stair Reverb", 100.0, 35.0), low_cut(150.0)),
    )  # fmt: skip


def one_guitar() -> Session:
    """A voice and one guitar: the guitar sits to the left with nothing to answer it but its own ambience."""
    return _session(
        "Ferry Before Six", "Isolde Quarrier",
        (
            part("voice", "Lead Vocal", output="mix-bus", fader_db=-3.0, plays=_sung("voice"),
                 inserts=(low_cut(90.0), compressor(-20.0, 2.0, 10.0, 120.0)), sends=(send("hall", -16.0),)),
            part("guitar", "Acoustic Gtr", output="mix-bus", fader_db=-9.0, pan=-35.0, plays=_whole("guitar"),
                 inserts=(low_cut(80.0),), sends=(send("hall", -12.0),)),
            _hall(pan=35.0),
        ),
    )  # fmt: skip


def left_centre_right() -> Session:
    """Everything hard left, in the middle or hard right; unlike parts face each other by design."""
    band = partial(part, output="mix-bus")
    return _session(
        "Brass Tack Parade", "The Ludlow Kites",
        (
            band("kick", "Kick", fader_db=-6.0, plays=_whole("kick")),
            band("snare", "Snare", fader_db=-7.0, plays=_whole("snare"), inserts=(low_cut(80.0),)),
            band("bass", "Bass", fader_db=-7.0, plays=_whole("bass")),
            band("gtr", "Electric Gtr", fader_db=-10.0, pan=-100.0, plays=_whole("guitar"),
                 inserts=(low_cut(90.0),), sends=(send("hall", -14.0),)),
            band("organ", "Organ", fader_db=-10.0, pan=100.0, plays=_whole("organ"),
                 inserts=(low_cut(90.0),), sends=(send("hall", -14.0),)),
            band("voice", "Lead Vocal", fader_db=-5.0, plays=_sung("voice"), inserts=(low_cut(90.0),),
                 sends=(send("hall", -15.0),)),
            _hall(),
        ),
    )  # fmt: skip


def mono_release() -> Session:
    """A mono release: every part in the middle, pairs too, and one-legged returns."""
    band = partial(part, output="mix-bus")
    return _session(
        "Tin Roof Telegram", "The Ludlow Kites",
        (
            band("kick", "Kick", fader_db=-6.0, plays=_whole("kick")),
            band("snare", "Snare", fader_db=-7.0, plays=_whole("snare"), inserts=(low_cut(80.0),)),
            band("bass", "Bass", fader_db=-7.0, plays=_whole("bass")),
            band("gtr-l", "Acoustic Gtr L", fader_db=-11.0, plays=_whole("guitar one"), inserts=(low_cut(90.0),)),
            band("gtr-r", "Acoustic Gtr R", fader_db=-11.0, plays=_whole("guitar two"), inserts=(low_cut(90.0),)),
            band("voice", "Lead Vocal", fader_db=-4.0, plays=_sung("voice"), inserts=(low_cut(90.0),),
                 sends=(send("hall", -15.0),)),
            _hall(legs=1),
        ),
    )  # fmt: skip


def cue_sends() -> Session:
    """A headphone mix: pre-fader sends to a bus that goes to the singer and, rightly, nowhere else."""
    ears: tuple[Send, ...] = (send("phones", -6.0, "pre"),)
    band = partial(part, output="mix-bus")
    return _session(
        "Lamplighter's Ladder", "Isolde Quarrier",
        (
            band("kick", "Kick", fader_db=-6.0, plays=_whole("kick"), sends=ears),
            band("bass", "Bass", fader_db=-7.0, plays=_whole("bass"), sends=ears),
            band("gtr-l", "Acoustic Gtr L", fader_db=-10.0, pan=-45.0, plays=_whole("guitar one"),
                 inserts=(low_cut(90.0),), sends=(*ears, send("hall", -14.0))),
            band("gtr-r", "Acoustic Gtr R", fader_db=-10.0, pan=45.0, plays=_whole("guitar two"),
                 inserts=(low_cut(90.0),), sends=(*ears, send("hall", -14.0))),
            band("voice", "Lead Vocal", fader_db=-4.0, plays=_sung("voice"), inserts=(low_cut(90.0),),
                 sends=(send("phones", -3.0, "pre"), send("hall", -15.0))),
            bus("phones", "Singer Phones", "return", output=None, fader_db=-3.0),
            _hall(),
        ),
    )  # fmt: skip


def parallel_bus() -> Session:
    """Parallel compression: the kit reaches the mix bus twice, once plain and once squeezed, on purpose."""
    kit = partial(part, output="drums", parent="drums")
    band = partial(part, output="mix-bus")
    return _session(
        "Copper Gate", "Nine Acre Sound",
        (
            bus("drums", "Drums", "group", output="mix-bus", fader_db=-1.0, sends=(send("crush", -6.0),)),
            kit("kick", "Kick", fader_db=-5.0, plays=_whole("kick")),
            kit("snare", "Snare", fader_db=-6.0, plays=_whole("snare"), inserts=(low_cut(80.0),)),
            kit("overheads", "Overheads", fader_db=-9.0, legs=2, plays=_whole("overheads"),
                 inserts=(low_cut(120.0),)),
            band("bass", "Bass", fader_db=-7.0, plays=_whole("bass")),
            band("gtr-l", "Electric Gtr L", fader_db=-10.0, pan=-60.0, plays=_whole("guitar one"),
                 inserts=(low_cut(90.0),), sends=(send("hall", -16.0),)),
            band("gtr-r", "Electric Gtr R", fader_db=-10.0, pan=60.0, plays=_whole("guitar two"),
                 inserts=(low_cut(90.0),), sends=(send("hall", -16.0),)),
            band("voice", "Lead Vocal", fader_db=-4.0, plays=_sung("voice"), inserts=(low_cut(90.0),),
                 sends=(send("hall", -15.0),)),
            bus("crush", "Drum Crush", "return", output="mix-bus", fader_db=-8.0,
                inserts=(compressor(-32.0, 8.0, 3.0, 80.0),)),
            _hall(),
        ),
    )  # fmt: skip


def drum_kit() -> Session:
    """A kit with fourteen microphones: pieces stand where they stand in the room, and nothing answers a hi-hat."""
    kit = partial(part, output="drums", parent="drums")
    band = partial(part, output="mix-bus")
    cut, high_cut = (low_cut(80.0),), (low_cut(120.0),)
    return _session(
        "Hobnail Reel", "Nine Acre Sound",
        (
            bus("drums", "Drums", "group", output="mix-bus", fader_db=-2.0),
            kit("kick-in", "Kick In", fader_db=-6.0, plays=_whole("kick in")),
            kit("kick-out", "Kick Out", fader_db=-9.0, plays=_whole("kick out")),
            kit("snare-top", "Snare Top", fader_db=-6.0, plays=_whole("snare top"), inserts=cut,
                sends=(send("hall", -14.0),)),
            kit("snare-bottom", "Snare Bottom", fader_db=-14.0, plays=_whole("snare bottom"), inserts=high_cut),
            kit("hat", "Hi-Hat", fader_db=-14.0, pan=40.0, plays=_whole("hat"), inserts=high_cut),
            kit("ride", "Ride", fader_db=-14.0, pan=-45.0, plays=_sung("ride"), inserts=high_cut),
            kit("tom-1", "Rack Tom 1", fader_db=-10.0, pan=30.0, plays=_sung("tom one")),
            kit("tom-2", "Rack Tom 2", fader_db=-10.0, plays=_sung("tom two")),
            kit("tom-3", "Floor Tom", fader_db=-10.0, pan=-35.0, plays=_sung("floor tom")),
            kit("oh-l", "Overhead L", fader_db=-9.0, pan=-80.0, plays=_whole("overhead one"), inserts=high_cut),
            kit("oh-r", "Overhead R", fader_db=-9.0, pan=80.0, plays=_whole("overhead two"), inserts=high_cut),
            kit("room-l", "Drum Room L", fader_db=-14.0, pan=-100.0, plays=_whole("room one"), inserts=cut),
            kit("room-r", "Drum Room R", fader_db=-14.0, pan=100.0, plays=_whole("room two"), inserts=cut),
            kit("crotch", "Kit Mono", fader_db=-16.0, plays=_whole("kit mono"), inserts=cut),
            band("bass", "Bass", fader_db=-7.0, plays=_whole("bass")),
            band("voice", "Lead Vocal", fader_db=-4.0, plays=_sung("voice"), inserts=(low_cut(90.0),),
                 sends=(send("hall", -15.0),)),
            _hall(),
        ),
    )  # fmt: skip


TRAPS: dict[str, Callable[[], Session]] = {
    "voice-and-one-guitar": one_guitar,
    "left-centre-right": left_centre_right,
    "mono-release": mono_release,
    "cue-sends": cue_sends,
    "parallel-compression": parallel_bus,
    "drum-kit": drum_kit,
}
"""File stem to session."""
