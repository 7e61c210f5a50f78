"""“Sixpenny Weathervane” by Marrow & Tern: the clean session. Band, song and studio are invented."""

from __future__ import annotations

from functools import partial

from mixlint.session import Automation, Channel, Clip, Marker, Session, Source, Tempo, Timeline

from .desk import BPM, air, amplitude, bar, bell, bus, clips, compressor, delay, low_cut, part, reverb, send

END_BAR = 73
SECTIONS = (
    (1, "Intro"), (5, "Verse 1"), (21, "Chorus 1"), (29, "Verse 2"), (41, "Chorus 2"), (49, "Bridge"),
    (57, "Chorus 3"), (69, "Outro"),
)  # fmt: skip
_CHORUSES = ((21, 29), (41, 49), (57, 69))
_LEAD_BARS = (*range(5, 49, 2), 51, 53, *range(57, 69, 2))
_PHRASE_S = 4.4


def clean() -> Session:
    """The session as it goes to the bounce."""
    return Session(
        title="Sixpenny Weathervane",
        source=Source(importer="json", application="Lower Slate desk notes", version="1.0"),
        sample_rate_hz=44_100.0,
        timeline=Timeline(tempos=(Tempo(bpm=BPM),)),
        markers=tuple(Marker(time_s=bar(number), name=name) for number, name in SECTIONS),
        channels=(*_drums(), *_music(), *_vocals(), *_returns(), bus("mix-bus", "Mix Bus", "master", output=None)),
        metadata={
            "title": "Sixpenny Weathervane",
            "artist": "Marrow & Tern",
            "producer": "Odile Fenwright",
            "comment": "Mix 4, Lower Slate Studio. 96 bpm, 44.1 kHz.",
        },
    )


def _drums() -> tuple[Channel, ...]:
    kit = ((5, 49), (57, 73))
    late = ((13, 49), (57, 73))
    on = partial(part, parent="drums", output="drums")
    return (
        bus("drums", "Drums", "group", output="mix-bus", fader_db=-2.0),
        on("kick", "Kick", fader_db=-4.0, plays=clips(*late, name="kick")),
        on("snare", "Snare", fader_db=-4.0, inserts=(low_cut(80.0),), plays=clips(*late, name="snare")),
        on("hat", "Hat", fader_db=-10.0, pan=14.0, inserts=(low_cut(250.0),), plays=clips(*kit, name="hat")),
        on(
            "overheads", "Overheads", fader_db=-6.0, legs=2, inserts=(low_cut(120.0),),
            plays=clips(*late, name="overheads", last_fade_s=1.0),
        ),
        on(
            "shaker", "Shaker", fader_db=-10.0, pan=-14.0, inserts=(low_cut(250.0),),
            plays=clips(*_CHORUSES, name="shaker"),
        ),
    )  # fmt: skip


def _music() -> tuple[Channel, ...]:
    whole = clips((1, 49), (49, END_BAR), name="strum", last_fade_s=2.5)
    on = partial(part, parent="music-bus", output="music-bus")
    tone = (low_cut(90.0, bell(250.0, -2.0), air(9000.0, 1.5)),)
    return (
        bus("music-bus", "Music Bus", "group", output="mix-bus", fader_db=-1.0),
        on(
            "bass", "Bass", fader_db=-6.0, inserts=(compressor(-19.0, 2.0, 15.0, 160.0),),
            plays=clips((5, 49), (53, 73), name="bass", last_fade_s=1.0),
        ),
        on(
            "acoustic-gtr-l", "Acoustic Gtr L", fader_db=-6.0, pan=-50.0, inserts=tone, plays=whole,
            sends=(send("gtr-l-verb", -12.0),),
        ),
        on(
            "acoustic-gtr-r", "Acoustic Gtr R", fader_db=-6.0, pan=50.0, inserts=tone, plays=whole,
            sends=(send("gtr-r-verb", -12.0),),
        ),
    )  # fmt: skip


def _vocals() -> tuple[Channel, ...]:
    on = partial(part, parent="vocals-bus", output="vocals-bus")
    phrases = tuple(
        Clip(start_s=bar(at), end_s=bar(at) + _PHRASE_S, name="lead phrase", fade_in_s=0.02, fade_out_s=0.08)
        for at in _LEAD_BARS
    )
    answers = clips(*_CHORUSES, name="oohs")
    return (
        bus("vocals-bus", "Vocals Bus", "group", output="mix-bus", fader_db=0.0),
        on(
            "lead-vocal", "Lead Vocal", fader_db=-5.0, plays=phrases,
            inserts=(
                low_cut(90.0, bell(500.0, -2.0), air(10_000.0, 1.5)),
                compressor(-18.0, 2.0, 10.0, 120.0),
            ),
            sends=(send("vocal-verb", -14.0), send("vocal-delay", -18.0)),
            automation=(_rides(), _throws()),
        ),
        on(
            "harmony-vocal", "Harmony Vocal", fader_db=-9.0, inserts=(low_cut(110.0),),
            plays=clips(*_CHORUSES, name="harmony"), sends=(send("vocal-verb", -12.0),),
        ),
        on(
            "backing-vox-l", "Backing Vox L", fader_db=-11.0, pan=-40.0, inserts=(low_cut(130.0),), plays=answers,
            sends=(send("vocal-verb", -10.0),),
        ),
        on(
            "backing-vox-r", "Backing Vox R", fader_db=-11.0, pan=40.0, inserts=(low_cut(130.0),), plays=answers,
            sends=(send("vocal-verb", -10.0),),
        ),
    )  # fmt: skip


def _rides() -> Automation:
    """The lead's fader: up 1.5 dB in the choruses, back for the verses."""
    base, up = -5.0, -3.5
    points = [(0.0, base)]
    for first, end in _CHORUSES:
        points += [(bar(first) - 0.5, base), (bar(first), up), (bar(end) - 0.5, up), (bar(end), base)]
    return _drawn("fader", points)


def _throws() -> Automation:
    """Delay throws at the end of each chorus: the send opens by 8 dB for a second and closes again."""
    base, thrown = -18.0, -10.0
    points = [(0.0, base)]
    for _, end in _CHORUSES:
        at = bar(end) - 1.25
        points += [(at, base), (at + 0.1, thrown), (at + 1.1, thrown), (at + 1.2, base)]
    return _drawn("send:1:level", points)


def _drawn(target: str, points: list[tuple[float, float]]) -> Automation:
    return Automation(
        target=target,
        scale="amplitude",
        shape="linear",
        t=tuple(round(t, 6) for t, _ in points),
        v=tuple(amplitude(db) for _, db in points),
    )


def _returns() -> tuple[Channel, ...]:
    return (
        bus(
            "gtr-l-verb", "Gtr L Verb", "return", output="music-bus", fader_db=-3.0, pan=50.0,
            inserts=(low_cut(150.0), reverb("Quarry Plate Reverb", 100.0)),
        ),
        bus(
            "gtr-r-verb", "Gtr R Verb", "return", output="music-bus", fader_db=-3.0, pan=-50.0,
            inserts=(reverb("Quarry Plate Reverb", 100.0), low_cut(150.0)),
        ),
        bus(
            "vocal-delay", "Vocal Delay", "return", output="vocals-bus", fader_db=-4.0,
            inserts=(low_cut(150.0), delay("Tidewater Delay", 100.0)), sends=(send("vocal-verb", -12.0),),
        ),
        bus(
            "vocal-verb", "Vocal Verb", "return", output="vocals-bus", fader_db=-2.0,
            inserts=(reverb("Chapel Stair Reverb", 100.0, 35.0), low_cut(150.0)),
        ),
    )  # fmt: skip
