"""“Ferry Bell” by The Nettle Choir: two small sessions on which a house tries its standard. All names are invented."""

from __future__ import annotations

from functools import partial

from mixlint.session import Channel, Marker, Session, Source, Tempo, Timeline

from .desk import bar, bus, clips, compressor, delay, low_cut, part, reverb, send


def ferry_bell(*, pushed: bool = False) -> Session:
    """The song as the house likes it; ``pushed`` holds one mistake of each of the house's own rules."""
    kit = partial(part, parent="drums", output="drums", plays=clips((1, 41), name="kit"))
    band = partial(part, output="mix-bus")
    sung = clips((5, 21), (21, 37), name="voice")
    guitar = clips((1, 41), name="guitar", last_fade_s=2.0)
    channels: tuple[Channel, ...] = (
        bus("drums", "Drums", "group", output="mix-bus", fader_db=2.0 if pushed else -1.0),
        kit("kick", "Kick", fader_db=-5.0),
        kit("snare", "Snare", fader_db=-6.0, inserts=(low_cut(80.0),)),
        kit("barn", "Barn Mics", fader_db=-14.0, legs=2, inserts=(low_cut(120.0),)),
        band("bass", "Bass", fader_db=-7.0, plays=clips((1, 41), name="bass"), inserts=()),
        band("gtr-l", "Acoustic Gtr L", fader_db=-10.0, pan=-50.0, plays=guitar, inserts=(low_cut(80.0),),
             sends=(send("room", -14.0),)),
        band("gtr-r", "Acoustic Gtr R", fader_db=-10.0, pan=50.0, plays=guitar, inserts=(low_cut(80.0),),
             sends=(send("room", -14.0),)),
        band("voice", "Marigold Main", fader_db=-4.0, plays=sung,
             inserts=(low_cut(85.0), compressor(-20.0, 2.5, 10.0, 120.0)),
             sends=(send("room", 0.0 if pushed else -13.0), send("echo", -18.0))),
        bus("room", "Aux Room" if pushed else "Room Verb", "return", output="mix-bus", fader_db=-4.0,
            inserts=(reverb("Wide Barn 2", 100.0), low_cut(180.0))),
        bus("echo", "Vocal Delay", "return", output="mix-bus", fader_db=-5.0,
            inserts=(low_cut(180.0), delay("Tidewater Delay", 100.0))),
        bus("mix-bus", "Mix Bus", "master", output=None),
    )  # fmt: skip
    return Session(
        title="Ferry Bell (pushed)" if pushed else "Ferry Bell",
        source=Source(importer="json", application="Larkspur Yard desk notes", version="1.0"),
        sample_rate_hz=48_000.0,
        timeline=Timeline(tempos=(Tempo(bpm=96.0),)),
        markers=tuple(Marker(time_s=bar(n), name=name) for n, name in ((1, "Intro"), (5, "Verse"), (21, "Chorus"))),
        channels=channels,
        metadata={"title": "Ferry Bell", "artist": "The Nettle Choir"},
    )
