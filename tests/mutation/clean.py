"""Clean sessions to plant mistakes in: the example songs, and made ones of several sizes. All names are invented."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import partial
from math import log10
from random import Random

from example_sessions.parts.desk import bus, compressor, delay, low_cut, part, reverb, send
from example_sessions.parts.song import clean as song
from example_sessions.parts.traps import TRAPS
from mixlint.analysis.house import House
from mixlint.session import (
    Automation,
    Channel,
    Clip,
    Insert,
    Marker,
    MediaFile,
    Send,
    Session,
    Source,
    Tempo,
    Timeline,
)

INTENTS: dict[str, House] = {
    "voice-and-one-guitar": House(intents=frozenset({"single-instrument"})),
    "left-centre-right": House(intents=frozenset({"hard-panned"})),
    "mono-release": House(intents=frozenset({"mono"})),
    "cue-sends": House(cue=("Singer Phones",)),
    "parallel-compression": House(parallel=("Drum Crush",)),
    "drum-kit": House(roles={"Kit Mono": "drum-room"}),
}
"""What the standard beside each of the small example sessions lays down."""

BIG_HOUSE = House(parallel=("Kit Squash",), cue=("Phones*",))


@dataclass(frozen=True)
class Clean:
    """A clean session: what it is, its house, and the session."""

    name: str
    house: House
    session: Session

    def __post_init__(self) -> None:
        """A low cut of a part spares its returns none here, so that a mistake on a return is a mistake."""
        object.__setattr__(
            self, "house", replace(self.house, settings={"low_end.cleared": 200.0, **self.house.settings})
        )


def clean_sessions(seed: int) -> list[Clean]:
    """Every clean session; the made ones differ with ``seed``."""
    rng = Random(seed)
    found = [Clean("the example song", House(), with_files(song()))]
    found += [Clean(name, INTENTS[name], with_files(make())) for name, make in TRAPS.items()]
    found += [Clean(f"duo {n}", House(), with_files(duo(rng))) for n in (1, 2)]
    found += [
        Clean("solo", House(intents=frozenset({"single-instrument"})), with_files(voice_and_guitar(rng))),
        *(Clean(f"band {n}", House(), with_files(band(rng))) for n in (1, 2, 3)),
        *(Clean(f"big {n}", BIG_HOUSE, with_files(big(rng))) for n in (1, 2)),
    ]
    return found


def stems_session() -> Clean:
    """A folder of stems as it is read without its audio: lengths, rates and legs declared, every pan in the centre."""
    names = ("Drums", "Bass", "Guitars", "Lead_Vocal", "Backing_Vox", "Reverbs")
    media = tuple(
        MediaFile(
            id=f"{n}.wav", path=f"{n}.wav", present=True, legs=2, sample_rate_hz=48_000.0, duration_s=184.0
        )
        for n in names
    )  # fmt: skip
    tracks = tuple(
        Channel(
            id=n, name=n, kind="track", plays=("audio",), legs=2, output="mix",
            clips=(Clip(start_s=0.0, end_s=184.0, file=f"{n}.wav", fade_in_s=0.0, fade_out_s=0.0),),
        )
        for n in names
    )  # fmt: skip
    mix = Channel(id="mix", name="Mix Bus", kind="master", legs=2, output=None)
    session = Session(
        title="Gannet Stair", source=Source(importer="stems"), sample_rate_hz=48_000.0,
        timeline=Timeline(tempos=(Tempo(bpm=92.0),)), channels=(*tracks, mix), media=media,
    )  # fmt: skip
    return Clean("stems", House(), session)


def with_files(session: Session) -> Session:
    """The session with a file of its own behind every channel's clips, as long as the song, all at one rate."""
    rate = session.sample_rate_hz if isinstance(session.sample_rate_hz, float) else 48_000.0
    end = max(clip.end_s for channel in session.channels for clip in channel.clips)
    media, channels = [], []
    for channel in session.channels:
        if not any(clip.plays == "audio" for clip in channel.clips):
            channels.append(channel)
            continue
        path = f"audio/{channel.id}.wav"
        legs = 2 if channel.legs == 2 else 1
        media.append(
            MediaFile(
                id=path, path=path, place="inside", present=True, legs=legs, sample_rate_hz=rate, duration_s=end + 20.0
            )
        )
        clips = tuple(c.model_copy(update={"file": path, "offset_s": c.start_s}) for c in channel.clips)
        lanes = tuple(_in_decibels(lane) for lane in channel.automation)
        channels.append(channel.model_copy(update={"clips": clips, "automation": lanes}))
    return session.model_copy(
        update={"channels": tuple(channels), "media": tuple(media), "sample_rate_hz": rate, "metadata": {}}
    )


def _in_decibels(lane: Automation) -> Automation:
    """A lane of amplitudes as levels, which is how the writer of the round-trip tests takes them."""
    if lane.scale != "amplitude":
        return lane
    return lane.model_copy(update={"scale": "dB", "v": tuple(round(20.0 * log10(v), 4) for v in lane.v)})


# --- made sessions


_TITLES = ("Otter Gate", "Seven Lamps", "Slow Tram", "Pewter Morning", "The Ferryman's Niece", "Chalk and Cherry")
_ROOMS = ("Granary Reverb", "Chapel Stair Reverb", "Quarry Plate Reverb", "Linden Hall Reverb")


@dataclass
class _Song:
    """The frame of a made song: tempo, sections in bars, and the random source."""

    rng: Random
    bpm: float
    bars: int
    title: str

    @classmethod
    def new(cls, rng: Random, bars: int) -> _Song:
        return cls(rng, float(rng.randrange(72, 141, 2)), bars, rng.choice(_TITLES))

    def at(self, number: float) -> float:
        return (number - 1) * 240.0 / self.bpm

    def takes(self, name: str, *stretches: tuple[int, int]) -> tuple[Clip, ...]:
        """One clip per stretch from bar to bar, each with short fades and a little air before the next."""
        return tuple(
            Clip(start_s=self.at(a), end_s=self.at(b) - 0.2, name=name, fade_in_s=0.01, fade_out_s=0.06)
            for a, b in stretches
        )

    def whole(self, name: str) -> tuple[Clip, ...]:
        half = 1 + self.bars // 2
        return self.takes(name, (1, half), (half, self.bars + 1))

    def sung(self, name: str) -> tuple[Clip, ...]:
        third = self.bars // 3
        return self.takes(name, (3, 1 + third), (2 + third, 1 + 2 * third), (2 + 2 * third, self.bars - 1))

    def level(self, around: float) -> float:
        return round(around + self.rng.uniform(-1.5, 1.5), 1)

    def done(self, channels: Iterable[Channel], mix: Channel | None = None) -> Session:
        mix = mix or bus("mix", "Mix Bus", "master", output=None)
        third = self.bars // 3
        return Session(
            title=self.title,
            source=Source(importer="json", application="Lower Slate desk notes", version="1.0"),
            sample_rate_hz=self.rng.choice((44_100.0, 48_000.0, 96_000.0)),
            timeline=Timeline(tempos=(Tempo(bpm=self.bpm),)),
            markers=tuple(
                Marker(time_s=self.at(number), name=name)
                for number, name in ((1, "Intro"), (3, "Verse"), (2 + third, "Chorus"), (2 + 2 * third, "Outro"))
            ),
            channels=(*channels, mix),
        )


def _room(song: _Song, channel_id: str, name: str, output: str, pan: float = 0.0) -> Channel:
    inserts: list[Insert] = [reverb(song.rng.choice(_ROOMS), 100.0, float(song.rng.randrange(20, 46, 5)))]
    inserts.insert(song.rng.randrange(2), low_cut(song.rng.choice((150.0, 180.0, 200.0))))
    return bus(channel_id, name, "return", output=output, fader_db=song.level(-4.0), pan=pan, inserts=tuple(inserts))


def _echo(song: _Song, channel_id: str, name: str, output: str) -> Channel:
    inserts = (low_cut(180.0), delay("Tidewater Delay", 100.0))
    return bus(channel_id, name, "return", output=output, fader_db=song.level(-6.0), inserts=inserts)


def _pair(song: _Song, make: partial[Channel], stem: str, name: str, angle: float, fader_db: float) -> list[Channel]:
    """Two parts on either side, at one level, with the same processors."""
    pan, level = angle + song.rng.randrange(-5, 6), song.level(fader_db)
    takes = song.whole(name.casefold())
    return [
        make(f"{stem}-l", f"{name} L", fader_db=level, pan=-pan, plays=takes),
        make(f"{stem}-r", f"{name} R", fader_db=level, pan=pan, plays=takes),
    ]


def duo(rng: Random) -> Session:
    """Two voices and a guitar on either side, one shared room."""
    song = _Song.new(rng, 36)
    to_room = (send("room", song.level(-13.0)),)
    guitar = partial(part, output="mix", inserts=(low_cut(75.0),), sends=to_room)
    return song.done(
        [
            *_pair(song, guitar, "gtr", "Nylon Gtr", 45.0, -8.0),
            part("lead", "Lead Vocal", output="mix", fader_db=song.level(-4.0), plays=song.sung("lead"),
                 inserts=(low_cut(80.0), compressor(-20.0, 2.5, 10.0, 120.0)), sends=to_room),
            part("harmony", "Harmony Vocal", output="mix", fader_db=song.level(-8.0), plays=song.sung("harmony"),
                 inserts=(low_cut(90.0),), sends=to_room),
            _room(song, "room", "Room Verb", "mix"),
        ]
    )  # fmt: skip


def voice_and_guitar(rng: Random) -> Session:
    """One voice, one guitar in the middle, a room."""
    song = _Song.new(rng, 30)
    return song.done(
        [
            part("lead", "Lead Vocal", output="mix", fader_db=song.level(-3.0), plays=song.sung("lead"),
                 inserts=(low_cut(80.0),), sends=(send("room", -14.0),)),
            part("gtr", "Acoustic Gtr", output="mix", fader_db=song.level(-8.0), plays=song.whole("guitar"),
                 inserts=(low_cut(75.0),), sends=(send("room", -12.0),)),
            _room(song, "room", "Room Verb", "mix"),
        ]
    )  # fmt: skip


def _kit(song: _Song, output: str, parent: str | None = None) -> list[Channel]:
    make = partial(part, output=output, parent=parent)
    whole = partial(song.whole)
    return [
        make("kick", "Kick", fader_db=song.level(-5.0), plays=whole("kick")),
        make("snare", "Snare", fader_db=song.level(-6.0), plays=whole("snare"), inserts=(low_cut(80.0),)),
        make("hat", "Hat", fader_db=song.level(-12.0), pan=12.0, plays=whole("hat"), inserts=(low_cut(250.0),)),
        make("oh", "Overheads", fader_db=song.level(-8.0), legs=2, plays=whole("overheads"), inserts=(low_cut(120.0),)),
    ]


def band(rng: Random) -> Session:
    """A band: kit, bass, pairs of guitars and backing voices, lead and harmony, groups, a room and an echo."""
    song = _Song.new(rng, 48)
    music = partial(part, output="music", parent="music", inserts=(low_cut(75.0),), sends=(send("room", -16.0),))
    voices = partial(part, output="vox", parent="vox", sends=(send("plate", song.level(-14.0)),))
    lead_sends: tuple[Send, ...] = (send("plate", -13.0), send("echo", -18.0))
    return song.done(
        [
            bus("drums", "Drums", "group", output="mix", fader_db=-1.0),
            *_kit(song, "drums", "drums"),
            bus("music", "Music", "group", output="mix", fader_db=-1.0),
            part("bass", "Bass", output="music", parent="music", fader_db=song.level(-6.0), plays=song.whole("bass"),
                 inserts=(compressor(-18.0, 3.0, 15.0, 150.0),)),
            *_pair(song, music, "gtr", rng.choice(("Acoustic Gtr", "Electric Gtr")), 50.0, -9.0),
            bus("vox", "Vocals", "group", output="mix"),
            part("lead", "Lead Vocal", output="vox", parent="vox", fader_db=song.level(-4.0), plays=song.sung("lead"),
                 inserts=(low_cut(80.0), compressor(-20.0, 3.0, 8.0, 120.0)), sends=lead_sends),
            voices("harmony", "Harmony Vocal", fader_db=song.level(-9.0), plays=song.sung("harmony"),
                   inserts=(low_cut(90.0),)),
            *_pair(song, partial(voices, inserts=(low_cut(110.0),)), "bv", "Backing Vox", 40.0, -12.0),
            _room(song, "room", "Room Verb", "music"),
            _room(song, "plate", "Vocal Plate", "vox"),
            _echo(song, "echo", "Vocal Delay", "vox"),
        ]
    )  # fmt: skip


def big(rng: Random) -> Session:
    """A big session: kit with toms, bass, three pairs, keys, strings, a choir, groups in groups, a parallel bus, a cue
    mix, a muted guide and click, a VCA."""
    song = _Song.new(rng, 60)
    ears = (send("phones", -8.0, "pre"),)
    kit = _kit(song, "drums", "drums")
    music = partial(part, output="guitars", parent="guitars", inserts=(low_cut(75.0),), sends=(send("room", -15.0),))
    keys = partial(part, output="keys", parent="keys", inserts=(low_cut(60.0),), sends=(send("hall", -16.0),))
    voices = partial(part, output="vox", parent="vox")
    silent = partial(part, output="mix", fader_db=-10.0)
    guide = (
        silent("click", "Click", plays=song.whole("click")),
        silent("guide", "Guide Vocal", plays=song.sung("guide")),
    )
    context = [
        bus("drums", "Drums", "group", output="band", parent="band", fader_db=-1.0, sends=(send("squash", -8.0),)),
        *kit,
        part("toms", "Toms", output="drums", parent="drums", fader_db=song.level(-9.0), legs=2,
             plays=song.takes("toms", (8, 10), (30, 32)), inserts=(low_cut(60.0),)),
        part("bass", "Bass", output="band", parent="band", fader_db=song.level(-6.0), plays=song.whole("bass"),
             sends=ears, inserts=(compressor(-18.0, 3.0, 15.0, 150.0),)),
        bus("guitars", "Guitars", "group", output="band", parent="band", fader_db=-1.0),
        *_pair(song, music, "ac", "Acoustic Gtr", 55.0, -10.0),
        *_pair(song, music, "el", "Electric Gtr", 70.0, -11.0),
        bus("keys", "Keys", "group", output="band", parent="band", fader_db=-1.5),
        keys("piano", "Piano", fader_db=song.level(-11.0), legs=2, plays=song.whole("piano")),
        keys("vln", "Violin", fader_db=song.level(-15.0), pan=12.0, plays=song.takes("violin", (20, 40))),
        keys("vc", "Cello", fader_db=song.level(-14.0), pan=-12.0, plays=song.takes("cello", (20, 40)), inserts=()),
        bus("vox", "Vocals", "group", output="mix"),
        voices("lead", "Lead Vocal", fader_db=song.level(-4.0), plays=song.sung("lead"),
               inserts=(low_cut(80.0), compressor(-20.0, 3.0, 8.0, 120.0)),
               sends=(*ears, send("plate", -13.0), send("echo", -18.0))),
        voices("double", "Lead Vocal Dbl", fader_db=song.level(-14.0), plays=song.sung("double"),
               inserts=(low_cut(100.0),), sends=(send("plate", -13.0),)),
        *_pair(song, partial(voices, inserts=(low_cut(110.0),), sends=(send("plate", -12.0),)), "bv", "Backing Vox",
               45.0, -13.0),
        *_pair(song, partial(voices, inserts=(low_cut(120.0),), sends=(send("hall", -12.0),)), "choir", "Choir",
               80.0, -16.0),
        bus("band", "Band", "group", output="mix", fader_db=-0.5),
        *(channel.model_copy(update={"mute": True}) for channel in guide),
        bus("squash", "Kit Squash", "return", output="band", fader_db=-10.0,
            inserts=(compressor(-32.0, 8.0, 3.0, 80.0),)),
        bus("phones", "Phones Singer", "group", output=None, fader_db=-3.0, declared_role="master"),
        _room(song, "room", "Room Verb", "band"),
        _room(song, "hall", "Hall Verb", "mix"),
        _room(song, "plate", "Vocal Plate", "vox"),
        _echo(song, "echo", "Vocal Delay", "vox"),
        Channel(id="vca", name="Band VCA", kind="vca", output=None),
    ]  # fmt: skip
    return song.done(context)
