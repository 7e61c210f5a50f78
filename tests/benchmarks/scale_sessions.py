"""Sessions of any size as bare ``project.xml``, for measuring and for counting what a review does.

All are made up, and the same to the byte at every call. None comes with its audio.
"""

from __future__ import annotations

import random
from collections.abc import Iterable, Iterator
from typing import Final

PARTS: Final = (
    ("Kick", 1),
    ("Snare Top", 1),
    ("Hat", 1),
    ("Tom", 1),
    ("Overheads", 2),
    ("Bass Gtr", 1),
    ("Synth Bass", 1),
    ("Acoustic Gtr", 1),
    ("Electric Gtr", 1),
    ("Piano", 2),
    ("Organ", 2),
    ("Pad", 2),
    ("Lead Vocal", 1),
    ("Backing Vox", 1),
    ("Violin", 1),
    ("Viola", 1),
    ("Cello", 1),
    ("Trumpet", 1),
    ("Shaker", 1),
    ("Tambourine", 1),
)
"""Parts whose names are taken in turn, and on how many legs each was recorded."""

GROUPS: Final = ("Drums", "Bass", "Guitars", "Keys", "Vocals", "Strings", "Brass", "Percussion", "Choir", "Woodwinds")
RETURNS: Final = ("Hall", "Plate", "Room", "Chamber", "Echo", "Slap", "Quarter Delay", "Spring", "Bloom", "Throw")
SONG_BEATS: Final = 480.0


class _Ids:
    def __init__(self) -> None:
        self.last = 0

    def __call__(self) -> str:
        self.last += 1
        return f"n{self.last}"


def studio(
    tracks: int, clips: tuple[int, int] = (5, 50), points: int = 200, *, sends: int = 2, faults: bool = False
) -> str:
    """The session of a studio: 20 groups, 20 returns, four inserts a track, a ridden fader on each.

    Args:
        tracks: how many tracks there are.
        clips: the fewest and the most clips of a track.
        points: points of each fader's lane.
        sends: sends of each track.
        faults: every second track has a send into nothing new, a pan and a fader that are like nobody's.
    """
    rng, ids = random.Random(tracks), _Ids()
    groups, returns = [f"g{n}" for n in range(20)], [f"r{n}" for n in range(20)]
    strips, lanes = [], []
    for n, group in enumerate(groups):
        strips.append(_strip(ids, group, f"{GROUPS[n % 10]} {n // 10 + 1}", "submix", 2, "main"))
    for n, back in enumerate(returns):
        name = f"{RETURNS[n % 10]} {n // 10 + 1}"
        kind = "Reverb" if n % 10 < 4 else "Delay"
        strips.append(_strip(ids, back, name, "effect", 2, "main", inserts=[_plugin(ids, f"Vale {kind}")]))
    for n in range(tracks):
        part, legs = PARTS[n % len(PARTS)]
        at, odd = f"t{n}", faults and n % 2 == 1
        pan = rng.choice([0.5, 0.5, 0.2, 0.8, 0.35, 0.65]) if not odd else rng.uniform(0.0, 1.0)
        level = 0.5 if not odd else rng.uniform(0.01, 1.9)
        to = [rng.choice(returns) for _ in range(sends)]
        inserts = [_equalizer(ids), _compressor(ids), _plugin(ids, "Vale De-esser"), _plugin(ids, "Vale Saturator")]
        strips.append(
            _strip(
                ids, at, f"{part} {n // len(PARTS) + 1}", "regular", legs, groups[n % 20], pan, level, inserts, to, odd
            )
        )
        many = rng.randint(*clips)
        lanes.append(_lane(ids, at, _spread(rng, many, part, f"audio/{at}.wav", legs), _ride(rng, f"v{at}", points)))
    return _document(strips, lanes)


def edited(clips: int, tracks: int = 16) -> str:
    """A beat-edited band: one recording a track, cut into ``clips`` clips that lie back to back."""
    rng, ids = random.Random(clips), _Ids()
    strips, lanes = [], []
    each = SONG_BEATS / clips
    cuts = [round(each * n + (rng.uniform(-0.1, 0.1) * each if n else 0.0), 6) for n in range(clips)]
    for n in range(tracks):
        part, legs = PARTS[n % len(PARTS)]
        at = f"t{n}"
        strips.append(_strip(ids, at, part, "regular", legs, "main"))
        found = [
            _clip(part, begin, end - begin, begin / 2.0, f"audio/{at}.wav", legs)
            for begin, end in zip(cuts, [*cuts[1:], SONG_BEATS], strict=True)
        ]
        lanes.append(_lane(ids, at, found, ""))
    return _document(strips, lanes)


def tangled(strips: int, sends: int = 3) -> str:
    """Strips of which each sends to ``sends`` others anywhere, so that nearly all lie in one loop."""
    rng, ids = random.Random(strips), _Ids()
    names = [f"t{n}" for n in range(strips)]
    made = []
    for n, at in enumerate(names):
        to = rng.sample([other for other in names if other != at], sends)
        made.append(
            _strip(ids, at, f"{PARTS[n % 20][0]} {n // 20 + 1}", "regular" if n % 4 else "effect", 2, "main", sends=to)
        )
    lanes = [_lane(ids, at, [_clip("take", 0.0, 60.0, 0.0, f"audio/{at}.wav", 2)], "") for at in names]
    return _document(made, lanes)


def ridden(points: int, tracks: int = 16) -> str:
    """A band whose faders are ridden by lanes of ``points`` points."""
    rng, ids = random.Random(points), _Ids()
    strips, lanes = [], []
    for n in range(tracks):
        part, legs = PARTS[n % len(PARTS)]
        at = f"t{n}"
        strips.append(_strip(ids, at, part, "regular", legs, "main"))
        lanes.append(_lane(ids, at, _spread(rng, 8, part, f"audio/{at}.wav", legs), _ride(rng, f"v{at}", points)))
    return _document(strips, lanes)


def _strip(
    ids: _Ids,
    at: str,
    name: str,
    role: str,
    legs: int,
    to: str,
    pan: float = 0.5,
    level: float = 0.5,
    inserts: Iterable[str] = (),
    sends: Iterable[str] = (),
    muted: bool = False,
) -> str:
    kind = {"submix": "tracks", "effect": "audio"}.get(role, "audio")
    output = f' destination="c{to}"' if to else ""
    sent = "".join(
        f'<Send destination="c{one}" type="post" id="{ids()}"><Enable value="true" id="{ids()}"/>'
        f'<Pan max="1.0" min="0.0" unit="normalized" value="0.5" id="{ids()}"/>'
        f'<Volume max="2.0" min="0.0" unit="linear" value="0.25" id="{ids()}" name="Send"/></Send>'
        for one in sends
    )
    held = "".join(inserts)
    return (
        f'    <Track contentType="{kind}" loaded="true" id="{at}" name="{name}">\n'
        f'      <Channel audioChannels="{legs}"{output} role="{role}" solo="false" id="c{at}">\n'
        f"        <Devices>{held}</Devices>\n"
        f'        <Mute value="{"true" if muted else "false"}" id="{ids()}" name="Mute"/>\n'
        f'        <Pan max="1.0" min="0.0" unit="normalized" value="{pan:.6f}" id="{ids()}" name="Pan"/>\n'
        f"        <Sends>{sent}</Sends>\n"
        f'        <Volume max="2.0" min="0.0" unit="linear" value="{level:.6f}" id="v{at}" name="Volume"/>\n'
        "      </Channel>\n    </Track>\n"
    )


def _equalizer(ids: _Ids) -> str:
    return (
        f'<Equalizer deviceID="desk-eq" deviceName="Desk EQ" deviceRole="audioFX" loaded="true" id="{ids()}" '
        f'name="Desk EQ"><Parameters/><Enabled value="true" id="{ids()}"/><Band type="highPass">'
        f'<Freq unit="hertz" value="80.0" id="{ids()}"/><Q unit="linear" value="0.7071" id="{ids()}"/>'
        f'<Enabled value="true" id="{ids()}"/></Band></Equalizer>'
    )


def _compressor(ids: _Ids) -> str:
    return (
        f'<Compressor deviceID="desk-comp" deviceName="Desk Compressor" deviceRole="audioFX" loaded="true" '
        f'id="{ids()}" name="Desk Compressor"><Parameters/><Enabled value="true" id="{ids()}"/>'
        f'<Attack unit="seconds" value="0.015" id="{ids()}"/><Ratio unit="percent" value="50.0" id="{ids()}"/>'
        f'<Release unit="seconds" value="0.16" id="{ids()}"/>'
        f'<Threshold unit="decibel" value="-19.0" id="{ids()}"/></Compressor>'
    )


def _plugin(ids: _Ids, name: str) -> str:
    return (
        f'<Vst3Plugin deviceID="{name.lower().replace(" ", "-")}" deviceName="{name}" deviceRole="audioFX" '
        f'loaded="true" id="{ids()}" name="{name}"><Parameters/><Enabled value="true" id="{ids()}"/></Vst3Plugin>'
    )


def _spread(rng: random.Random, many: int, name: str, file: str, legs: int) -> Iterator[str]:
    """Clips with a rest behind each, over the whole song."""
    each = SONG_BEATS / many
    for n in range(many):
        begin = round(each * n, 6)
        yield _clip(name, begin, each * rng.uniform(0.5, 0.95), begin / 2.0, file, legs)


def _clip(name: str, begin: float, beats: float, inside_s: float, file: str, legs: int) -> str:
    return (
        f'          <Clip time="{begin:.6f}" duration="{beats:.6f}" contentTimeUnit="seconds" '
        f'playStart="{inside_s:.6f}" fadeTimeUnit="seconds" fadeInTime="0.005" fadeOutTime="0.01" enable="true" '
        f'name="{name}"><Audio channels="{legs}" sampleRate="48000" duration="260.0"><File path="{file}"/></Audio>'
        "</Clip>\n"
    )


def _ride(rng: random.Random, parameter: str, points: int) -> str:
    if not points:
        return ""
    each = SONG_BEATS / points
    drawn = "".join(
        f'          <RealPoint time="{each * n:.6f}" value="{rng.uniform(0.4, 0.6):.6f}" interpolation="linear"/>\n'
        for n in range(points)
    )
    return f'        <Points unit="linear"><Target parameter="{parameter}"/>\n{drawn}        </Points>\n'


def _lane(ids: _Ids, at: str, clips: Iterable[str], rides: str) -> str:
    return (
        f'      <Lanes track="{at}" id="{ids()}">\n        <Clips id="{ids()}">\n{"".join(clips)}        </Clips>\n'
        f"{rides}      </Lanes>\n"
    )


def _document(strips: Iterable[str], lanes: Iterable[str]) -> str:
    sections = ("Intro", "Verse 1", "Chorus 1", "Verse 2", "Chorus 2", "Bridge", "Chorus 3", "Outro")
    markers = "".join(f'      <Marker time="{60.0 * n:.1f}" name="{name}"/>\n' for n, name in enumerate(sections))
    return (
        '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n<Project version="1.0">\n'
        '  <Application name="Lower Slate Desk" version="1.0"/>\n  <Transport>\n'
        '    <Tempo unit="bpm" value="120.0" id="tempo"/>\n'
        '    <TimeSignature denominator="4" numerator="4" id="metre"/>\n  </Transport>\n  <Structure>\n'
        f"{''.join(strips)}"
        '    <Track contentType="audio" loaded="true" id="main" name="Mix Bus">\n'
        '      <Channel audioChannels="2" role="master" solo="false" id="cmain">\n'
        '        <Volume max="2.0" min="0.0" unit="linear" value="1.0" id="vmain" name="Volume"/>\n'
        "      </Channel>\n    </Track>\n  </Structure>\n"
        '  <Arrangement id="arrangement">\n    <Lanes timeUnit="beats" id="lanes">\n'
        f"{''.join(lanes)}    </Lanes>\n"
        f'    <Markers timeUnit="beats" id="markers">\n{markers}    </Markers>\n  </Arrangement>\n</Project>\n'
    )
