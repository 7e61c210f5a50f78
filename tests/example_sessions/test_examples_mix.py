"""The clean song is balanced and complete, and the flawed twin differs from it by eight mistakes and nothing else.

Read from the committed JSON with the standard library alone, so that no part of the package vouches for itself. The
pan law is the equal-power one of the W3C Web Audio API's StereoPannerNode (mono input); a stereo part in the middle
passes unchanged.
"""

from __future__ import annotations

import io
import json
import math
import wave
import zipfile
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import numpy as np
import pytest

FOLDER = Path(__file__).resolve().parents[2] / "example_sessions"
Channels = dict[str, dict[str, Any]]
SONG_S, BAR_S = 180.0, 2.5


def _channels(stem: str) -> Channels:
    text = (FOLDER / f"{stem}.session.json").read_text(encoding="utf-8")
    return {channel["id"]: channel for channel in json.loads(text)["channels"]}


@pytest.fixture(scope="module")
def clean() -> Channels:
    return _channels("sixpenny-weathervane")


@pytest.fixture(scope="module")
def flawed() -> Channels:
    return _channels("sixpenny-weathervane-flawed")


def _to_mix(channels: Channels, channel_id: str) -> float | None:
    """The sum of the faders on the way to the mix bus in dB, or None where the outputs lead elsewhere."""
    gain, here = 0.0, channel_id
    for _ in channels:
        if here == "mix-bus":
            return gain
        gain += channels[here].get("fader_db", 0.0)
        if channels[here].get("mute") or "output" not in channels[here] or channels[here]["output"] is None:
            return None
        here = channels[here]["output"]
    raise AssertionError(f"the outputs from {channel_id} run in a circle")


def _levels() -> dict[str, list[float]]:
    """The mean square of each leg of each embedded recording, by channel id, read by the standard library."""
    found = {}
    with zipfile.ZipFile(FOLDER / "sixpenny-weathervane.dawproject") as archive:
        for name in archive.namelist():
            if name.endswith(".wav"):
                with wave.open(io.BytesIO(archive.read(name))) as sound:
                    data = np.frombuffer(sound.readframes(sound.getnframes()), dtype="<i2") / 32768
                    legs = data.reshape(-1, sound.getnchannels()).T
                found[name.removeprefix("audio/").removesuffix(".wav")] = [float(np.mean(leg**2)) for leg in legs]
    return found


def _sides(channels: Channels, levels: dict[str, list[float]] | None) -> np.ndarray[Any, Any]:
    """Energy left and right per bar, shape (2, bars); every part equally loud when ``levels`` is None."""
    out = np.zeros((2, round(SONG_S / BAR_S)))
    for channel_id, channel in channels.items():
        gain = _to_mix(channels, channel_id) if channel.get("clips") else None
        if gain is None:
            continue
        power = 10 ** (gain / 10)
        angle = (channel.get("pan", 0.0) / 100 + 1) * math.pi / 4
        if channel["legs"] == 1:
            level = levels[channel_id][0] if levels else 1.0
            left, right = level * math.cos(angle) ** 2, level * math.sin(angle) ** 2
        else:
            assert channel.get("pan", 0.0) == 0.0
            left, right = levels[channel_id] if levels else (0.5, 0.5)
        for clip in channel["clips"]:
            for bar in range(out.shape[1]):
                share = min(clip["end_s"], (bar + 1) * BAR_S) - max(clip["start_s"], bar * BAR_S)
                if share > 0:
                    out[:, bar] += np.array([left, right]) * power * share / BAR_S
    return out


def _db(ratio: float) -> float:
    return 10 * math.log10(ratio)


@pytest.mark.parametrize("heard", [True, False], ids=["measured levels", "faders alone"])
def test_the_clean_song_stands_level(clean: Channels, heard: bool) -> None:
    """Left and right stay well within 1 dB over the song and 3 dB in every bar."""
    sides = _sides(clean, _levels() if heard else None)
    assert abs(_db(sides[0].sum() / sides[1].sum())) < 0.5
    assert (sides > 0).all()
    assert max(abs(_db(left / right)) for left, right in sides.T) < 1.5


@pytest.mark.parametrize("heard", [True, False], ids=["measured levels", "faders alone"])
def test_the_flawed_song_leans_left(flawed: Channels, heard: bool) -> None:
    """By more than the 1.5 dB at which a balance is questioned."""
    sides = _sides(flawed, _levels() if heard else None)
    assert _db(sides[0].sum() / sides[1].sum()) > 1.7


def test_the_two_guitars_are_alike_in_level_and_unlike_in_performance() -> None:
    """The same loudness within 0.5 dB, and two takes: normalised cross-correlation under 0.3 at every lag."""
    levels = _levels()
    assert abs(_db(levels["acoustic-gtr-l"][0] / levels["acoustic-gtr-r"][0])) < 0.5
    with zipfile.ZipFile(FOLDER / "sixpenny-weathervane.dawproject") as archive:
        left, right = (
            np.frombuffer(archive.read(f"audio/acoustic-gtr-{side}.wav")[44:], dtype="<i2").astype(float)
            for side in "lr"
        )
    cross = np.fft.irfft(np.fft.rfft(left) * np.conj(np.fft.rfft(right)), len(left))
    assert np.abs(cross).max() / math.sqrt(float((left**2).sum() * (right**2).sum())) < 0.3


def test_the_song_never_clips_at_the_mix_bus(clean: Channels) -> None:
    """Two bars with every part playing, the lead ridden up, peak below −1 dBFS; loud sound harms hearing.

    Every loop starts on an odd bar and fits a whole number of times into two bars, so nothing louder occurs.
    """
    mix = np.zeros((2, 220_500))
    with zipfile.ZipFile(FOLDER / "sixpenny-weathervane.dawproject") as archive:
        for channel_id, channel in clean.items():
            if not channel.get("clips"):
                continue
            assert all(clip["start_s"] % (2 * BAR_S) == 0 for clip in channel["clips"])
            data = np.frombuffer(archive.read(f"audio/{channel_id}.wav")[44:], dtype="<i2") / 32768
            legs = np.tile(data.reshape(-1, channel["legs"]).T, 220_500 * channel["legs"] // len(data))
            gain = 10 ** ((_to_mix(clean, channel_id) or 0.0) / 20 + (0.075 if channel_id == "lead-vocal" else 0.0))
            angle = (channel.get("pan", 0.0) / 100 + 1) * math.pi / 4
            sides = np.array([[math.cos(angle)], [math.sin(angle)]]) if channel["legs"] == 1 else np.ones((2, 1))
            mix += gain * sides * legs
    assert 0.1 < np.abs(mix).max() < 10 ** (-1 / 20)


def test_everything_in_the_clean_song_reaches_the_mix_bus(clean: Channels) -> None:
    assert all(_to_mix(clean, channel_id) is not None for channel_id in clean)
    assert not any(channel.get("mute") or channel.get("solo") for channel in clean.values())


def test_dry_signal_reaches_the_mix_bus_once(clean: Channels) -> None:
    """Sends go to returns with a wholly wet reverb or delay and nowhere else; all are taken after the fader."""
    sends = [(c["id"], s) for c in clean.values() for s in c.get("sends", [])]
    assert len(sends) == 8
    for source, send in sends:
        assert clean[send["to"]]["kind"] == "return"
        assert send.get("tap", "post") == "post"
        assert send["to"] != source
    for channel in clean.values():
        if channel["kind"] == "return":
            (effect,) = [i for i in channel["inserts"] if i["kind"] in ("reverb", "delay")]
            (cut,) = [i for i in channel["inserts"] if i["kind"] == "equalizer"]
            assert effect["wet"] == 100.0
            assert [(b["kind"], b["freq_hz"]) for b in cut["equalizer"]["bands"]] == [("high-pass", 150.0)]


def _circle(channels: Channels) -> list[str]:
    """The channels that can be reached from themselves by outputs and sends."""
    onward = {
        c["id"]: [s["to"] for s in c.get("sends", [])] + [c["output"]] * (c.get("output") is not None)
        for c in channels.values()
    }
    found = []
    for start in channels:
        seen: set[str] = set()
        todo = list(onward[start])
        while todo:
            here = todo.pop()
            if here not in seen:
                seen.add(here)
                todo += onward[here]
        if start in seen:
            found.append(start)
    return found


def test_the_clean_song_has_no_loop(clean: Channels) -> None:
    assert _circle(clean) == []


def test_every_wide_part_of_the_clean_song_is_answered(clean: Channels) -> None:
    """Each part 30 or more to a side has a twin as far on the other with the same clips and fader."""
    wide = [c for c in clean.values() if c.get("clips") and abs(c.get("pan", 0.0)) >= 30]
    assert sorted(c["id"] for c in wide) == ["acoustic-gtr-l", "acoustic-gtr-r", "backing-vox-l", "backing-vox-r"]
    for part in wide:
        (twin,) = [c for c in wide if c["id"][:-1] == part["id"][:-1] and c is not part]
        assert twin["pan"] == -part["pan"]
        assert twin["fader_db"] == part["fader_db"]
        assert twin["clips"] == part["clips"]
    for side in "lr":
        gtr, verb = clean[f"acoustic-gtr-{side}"], clean[f"gtr-{side}-verb"]
        assert [send["to"] for send in gtr["sends"]] == [verb["id"]]
        assert verb["pan"] == -gtr["pan"]


def test_every_fader_starts_where_its_automation_starts(clean: Channels) -> None:
    (rides, throws) = clean["lead-vocal"]["automation"]
    assert 20 * math.log10(rides["v"][0]) == pytest.approx(clean["lead-vocal"]["fader_db"], abs=1e-4)
    assert 20 * math.log10(throws["v"][0]) == pytest.approx(clean["lead-vocal"]["sends"][1]["level_db"], abs=1e-4)
    assert rides["v"][-1] == rides["v"][0]
    assert throws["v"][-1] == throws["v"][0]


EXPECTED: dict[str, tuple[str, Any, Any]] = {
    "half-wet reverb": ("gtr-r-verb", 100.0, 50.0),
    "return without low cut": ("gtr-l-verb", ["equalizer", "reverb"], ["reverb"]),
    "unanswered guitar": ("acoustic-gtr-r", 50.0, 0.0),
    "leaning mix": ("acoustic-gtr-l", -6.0, -1.0),
    "solo left on": ("shaker", False, True),
    "muted voice": ("harmony-vocal", False, True),
    "part that goes nowhere": ("bass", "music-bus", "headphones"),
    "loop between returns": ("vocal-verb", [], ["vocal-delay"]),
}


def _value(mistake: str, channel: dict[str, Any]) -> Any:
    if mistake == "half-wet reverb":
        (effect,) = [i for i in channel["inserts"] if i["kind"] == "reverb"]
        assert effect["parameters"][0]["value"] == effect["wet"]
        return effect["wet"]
    if mistake == "return without low cut":
        return [i["kind"] for i in channel["inserts"]]
    if mistake == "loop between returns":
        return [s["to"] for s in channel.get("sends", [])]
    key, default = {
        "unanswered guitar": ("pan", 0.0),
        "leaning mix": ("fader_db", 0.0),
        "solo left on": ("solo", False),
        "muted voice": ("mute", False),
        "part that goes nowhere": ("output", None),
    }[mistake]
    return channel.get(key, default)


@pytest.mark.parametrize("mistake", EXPECTED)
def test_the_mistake_is_there_as_data(mistake: str, clean: Channels, flawed: Channels) -> None:
    channel, before, after = EXPECTED[mistake]
    assert _value(mistake, clean[channel]) == before
    assert _value(mistake, flawed[channel]) == after


def test_there_are_eight_mistakes_and_no_more(clean: Channels, flawed: Channels) -> None:
    """One channel each; every other channel is as it was, and one pair of outputs is new."""
    changed = {channel_id for channel_id in clean if clean[channel_id] != flawed[channel_id]}
    assert changed == {channel for channel, _, _ in EXPECTED.values()}
    assert len(EXPECTED) == 8
    assert set(flawed) - set(clean) == {"headphones"}
    for channel, _, _ in EXPECTED.values():
        keys = {k for k in (*clean[channel], *flawed[channel]) if clean[channel].get(k) != flawed[channel].get(k)}
        assert len(keys) == 1, (channel, keys)


def test_only_the_bass_misses_the_mix_bus(flawed: Channels) -> None:
    """Its output leads to a second pair of outputs which leads on to nothing; the muted voice aside."""
    missing = {channel_id for channel_id in flawed if _to_mix(flawed, channel_id) is None}
    assert missing == {"bass", "headphones", "harmony-vocal"}
    assert flawed["headphones"]["output"] is None
    assert [c["id"] for c in flawed.values() if c.get("output") == "headphones"] == ["bass"]


def test_the_loop_holds_the_two_vocal_returns_and_nothing_else(flawed: Channels) -> None:
    assert _circle(flawed) == ["vocal-delay", "vocal-verb"]
    assert all(s.get("on", True) and s["level_db"] > -60 for s in flawed["vocal-verb"]["sends"])


def test_the_open_format_carries_the_mistakes_too() -> None:
    """Read straight from the flawed document: the same eight, in that format's own numbers."""
    with zipfile.ZipFile(FOLDER / "sixpenny-weathervane-flawed.dawproject") as archive:
        root = ET.fromstring(archive.read("project.xml"))  # noqa: S314 (our own file)
    channels = {}
    for track in root.iter("Track"):
        channels[track.attrib["name"]] = track.find("Channel")
    (phones,) = root.findall("./Structure/Channel")
    ids = {name: c.attrib["id"] for name, c in channels.items() if c is not None}

    def value(name: str, path: str) -> str:
        channel = channels[name]
        assert channel is not None
        found = channel.find(path)
        assert found is not None
        return found.attrib["value"]

    assert float(value("Gtr R Verb", ".//RealParameter[@name='Mix']")) == 50.0
    assert channels["Gtr L Verb"].find(".//Equalizer") is None
    assert float(value("Acoustic Gtr R", "Pan")) == 0.5
    assert 20 * math.log10(float(value("Acoustic Gtr L", "Volume"))) == pytest.approx(-1.0, abs=1e-4)
    assert [n for n, c in channels.items() if c.attrib["solo"] == "true"] == ["Shaker"]
    assert [n for n in channels if value(n, "Mute") == "true"] == ["Harmony Vocal"]
    assert channels["Bass"].attrib["destination"] == phones.attrib["id"]
    assert "destination" not in phones.attrib
    assert phones.attrib["role"] == "master"
    sends = {n: [s.attrib["destination"] for s in channels[n].iter("Send")] for n in ("Vocal Delay", "Vocal Verb")}
    assert sends == {"Vocal Delay": [ids["Vocal Verb"]], "Vocal Verb": [ids["Vocal Delay"]]}
