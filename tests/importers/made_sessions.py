"""Sessions that hypothesis makes, and what must be the same after a round trip."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from mixlint.session import (
    Automation,
    Channel,
    Clip,
    Equalizer,
    EqualizerBand,
    Insert,
    Marker,
    MediaFile,
    Meter,
    Send,
    Session,
    Tempo,
    Timeline,
)
from mixlint.units import SILENCE_DB

_NAMES = st.text(st.sampled_from("abcXYZ 0189&<>\"'äß東−.-_/"), min_size=1, max_size=12).map(
    lambda text: text.strip() or "x"
)
_LEVELS = st.one_of(st.just(SILENCE_DB), st.integers(-6000, 600).map(lambda n: n / 100.0))
_PANS = st.integers(-100, 100).map(float)
_SWITCHES = st.booleans()
_SIXTEENTHS = st.integers(0, 400).map(lambda n: n / 16.0)


def _times(draw: st.DrawFn, most: int) -> tuple[float, ...]:
    return tuple(sorted(draw(st.lists(_SIXTEENTHS, min_size=1, max_size=most, unique=True))))


@st.composite
def _bands(draw: st.DrawFn) -> EqualizerBand:
    return EqualizerBand(
        kind=draw(st.sampled_from(("high-pass", "low-pass", "band-pass", "high-shelf", "low-shelf", "bell", "notch"))),
        freq_hz=float(draw(st.integers(20, 20_000))),
        gain_db=draw(st.integers(-240, 240)) / 10.0,
        q=draw(st.integers(1, 400)) / 10.0,
        on=draw(_SWITCHES),
    )


@st.composite
def _inserts(draw: st.DrawFn) -> Insert:
    equalizer = draw(st.none() | st.lists(_bands(), max_size=4).map(lambda bands: Equalizer(bands=tuple(bands))))
    return Insert(
        name=draw(_NAMES),
        equalizer=equalizer,
        opaque=equalizer is None,
        on=draw(_SWITCHES),
        loaded=draw(_SWITCHES),
        device=draw(st.sampled_from(("", "{5C}", "1234567890123"))),
    )


@st.composite
def _automation(draw: st.DrawFn, sends: int) -> tuple[Automation, ...]:
    targets = ["fader", "pan", "mute", *(f"send:{n}:level" for n in range(sends))]
    lanes = []
    for target in draw(st.lists(st.sampled_from(targets), unique=True, max_size=2)):
        times = _times(draw, 6)
        values = {"pan": _PANS, "mute": st.sampled_from((0.0, 1.0))}.get(target, _LEVELS)
        lanes.append(
            Automation(
                target=target,
                scale={"pan": "pan", "mute": "switch"}.get(target, "dB"),
                shape="hold" if target == "mute" else draw(st.sampled_from(("hold", "linear"))),
                t=times,
                v=tuple(draw(values) for _ in times),
            )
        )
    return tuple(lanes)


@st.composite
def _clips(draw: st.DrawFn, media: tuple[MediaFile, ...]) -> tuple[Clip, ...]:
    times = _times(draw, 6)
    clips = []
    for start, end in zip(times[::2], times[1::2], strict=False):
        notes = not media or draw(_SWITCHES)
        half = (end - start) / 2.0
        clips.append(
            Clip(
                start_s=start,
                end_s=end,
                name=draw(_NAMES),
                plays="notes" if notes else "audio",
                file=None if notes else draw(st.sampled_from(media)).id,
                offset_s=0.0 if notes else draw(_SIXTEENTHS),
                fade_in_s=draw(st.sampled_from((0.0, half, -0.25))),
                fade_out_s=draw(st.sampled_from((0.0, half))),
                on=draw(_SWITCHES),
            )
        )
    return tuple(clips)


@st.composite
def _timelines(draw: st.DrawFn) -> Timeline:
    tempos = [Tempo(bpm=float(draw(st.integers(40, 240))), ramp=False)]
    if draw(_SWITCHES):
        tempos = [
            tempos[0].model_copy(update={"ramp": draw(_SWITCHES)}),
            Tempo(beat=float(draw(st.integers(4, 30))), bpm=float(draw(st.integers(40, 240)))),
        ]
        if tempos[0].bpm == tempos[1].bpm:
            tempos[0] = tempos[0].model_copy(update={"ramp": False})
    meters = [Meter(beats=draw(st.integers(2, 7)), unit=draw(st.sampled_from((4, 8))))]
    if draw(_SWITCHES):
        meters.append(Meter(beat=float(draw(st.integers(4, 40))), beats=3, unit=4))
    return Timeline(tempos=tuple(tempos), meters=tuple(meters))


@st.composite
def sessions(draw: st.DrawFn) -> Session:
    """A desk with tracks, groups, returns, perhaps a VCA, and a master."""
    media = tuple(
        MediaFile(
            id=path, path=path, place=place, legs=draw(st.sampled_from((1, 2))), sample_rate_hz=48000.0, duration_s=60.0
        )
        for path, place in (("audio/a take.wav", "inside"), ("audio/b%20.wav", "inside"), ("../pool/c.wav", "outside"))[
            : draw(st.integers(0, 3))
        ]
    )
    returns = [f"r{n}" for n in range(draw(st.integers(0, 2)))]
    groups = [f"g{n}" for n in range(draw(st.integers(0, 2)))]
    channels: list[Channel] = []

    def strip(identity: str, kind: Any, output: str | None, parent: str | None, sends: tuple[Send, ...]) -> Channel:
        return Channel(
            id=identity,
            name=draw(_NAMES),
            kind=kind,
            parent=parent,
            plays=draw(st.sampled_from((("audio",), ("notes",), ("audio", "notes")))) if kind == "track" else (),
            fader_db=draw(_LEVELS),
            pan=draw(_PANS),
            mute=draw(_SWITCHES),
            solo=draw(_SWITCHES),
            output=output,
            sends=sends,
            inserts=tuple(draw(st.lists(_inserts(), max_size=2))),
            clips=draw(_clips(media)) if kind == "track" else (),
            automation=draw(_automation(len(sends))) if kind != "vca" else (),
        )

    def some_sends() -> tuple[Send, ...]:
        to = draw(st.lists(st.sampled_from(returns), max_size=3)) if returns else []
        return tuple(
            Send(
                to=one,
                level_db=draw(_LEVELS),
                pan=draw(_PANS),
                tap=draw(st.sampled_from(("pre", "post"))),
                on=draw(_SWITCHES),
            )
            for one in to
        )

    for group in groups:
        channels.append(strip(group, "group", "m", None, some_sends()))
        for n in range(draw(st.integers(1, 2))):
            channels.append(strip(f"{group}t{n}", "track", group, group, some_sends()))
    for n in range(draw(st.integers(0, 3))):
        channels.append(strip(f"t{n}", "track", "m", None, some_sends()))
    channels += [strip(one, "return", "m", None, ()) for one in returns]
    if draw(_SWITCHES):
        channels.append(strip("v", "vca", None, None, ()))
    channels.append(strip("m", "master", None, None, ()))
    markers = tuple(
        Marker(time_s=time, name=draw(_NAMES)) for time in draw(st.lists(_SIXTEENTHS, max_size=3).map(sorted))
    )
    return Session(title="Made", timeline=draw(_timelines()), markers=markers, channels=tuple(channels), media=media)


def essence(session: Session) -> dict[str, Any]:
    """What must come through, with rounding and without what each file numbers or places in its own way."""
    return {
        "title": session.title,
        "timeline": session.timeline,
        "markers": [(round(one.time_s, 6), one.name) for one in session.markers],
        "channels": [_channel(one) for one in session.channels],
        "media": {one.path: (one.place, one.legs, one.sample_rate_hz, one.duration_s) for one in _used(session)},
    }


def _used(session: Session) -> list[MediaFile]:
    used = {clip.file for channel in session.channels for clip in channel.clips}
    return [one for one in session.media if one.id in used]


def _channel(one: Channel) -> dict[str, Any]:
    return {
        "id": one.id,
        "name": one.name,
        "kind": one.kind,
        "parent": one.parent,
        "fader": _near(one.fader_db),
        "pan": _near(one.pan),
        "mute": one.mute,
        "solo": one.solo,
        "output": one.output,
        "sends": [(s.to, _near(s.level_db), _near(s.pan), s.tap, s.on) for s in one.sends],
        "inserts": [(i.name, i.on, i.loaded, i.opaque, i.device, _equalizer(i)) for i in one.inserts],
        "clips": [
            (
                round(c.start_s, 6), round(c.end_s, 6), c.name, c.plays, c.file, _near(c.offset_s), _near(c.speed),
                _near(c.fade_in_s), _near(c.fade_out_s), c.on, c.gain_db,
            )
            for c in one.clips
        ],
    }  # fmt: skip


def _near(value: Any) -> Any:
    return round(value, 3) + 0.0 if isinstance(value, float) else value


def _equalizer(insert: Insert) -> list[Any] | None:
    if insert.equalizer is None:
        return None
    return [
        (b.kind, _near(b.freq_hz), _near(b.gain_db), _near(b.q), b.on, b.slope_db_per_oct)
        for b in insert.equalizer.bands
    ]
