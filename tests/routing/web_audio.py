"""Render a mixlint routing with an independent Web Audio engine, to hold our gains against.

Every strip becomes the nodes that the W3C Web Audio API (Recommendation, 17 June 2021) defines for it: BiquadFilterNode
for an insert, GainNode for a fader or send level, StereoPannerNode for a pan, explicit channel counts for the up- and
down-mix. A sine goes in at the traced channel; once it has settled, the engine's own output is the answer.
"""

from __future__ import annotations

import asyncio
import math

import numpy as np
from numpy.typing import NDArray
from web_audio_api import OfflineAudioContext

from mixlint.routing import Edge, Routing
from mixlint.session import Channel, EqualizerBand, is_known

RATE_HZ = 48_000.0
SETTLE_FRAMES = 28_800
MEASURED_FRAMES = 19_200
"""Whole periods of every frequency that divides 48 kHz by a factor of 19 200: 60, 250, 1000 and 5000 Hz among them."""

FRAMES = SETTLE_FRAMES + MEASURED_FRAMES
FILTERS = {
    "high-pass": "highpass",
    "low-pass": "lowpass",
    "bell": "peaking",
    "low-shelf": "lowshelf",
    "high-shelf": "highshelf",
    "notch": "notch",
    "band-pass": "bandpass",
}


def render(routing: Routing, source: str, at_hz: float) -> NDArray[np.float64]:
    """Amplitude left and right (2,) at ``at_hz`` for a sine that stands on both legs of ``source``."""
    return asyncio.run(_render(routing, source, at_hz))


async def _render(routing: Routing, source: str, at_hz: float) -> NDArray[np.float64]:
    context = OfflineAudioContext(2, FRAMES, RATE_HZ)
    heads = {c.id: _head(context, routing.legs[c.id]) for c in routing.session.channels}
    taps = {c.id: _strip(context, routing, c, heads[c.id]) for c in routing.session.channels}
    for edge in routing.edges:
        _connect(context, routing, edge, taps[edge.source][0 if edge.tap == "pre" else 1], heads[edge.to])
    assert isinstance(routing.wiring.mix_bus, str)
    taps[routing.wiring.mix_bus][1].connect(context.destination)
    buffer = context.createBuffer(1, FRAMES, RATE_HZ)
    sine = np.sin(2 * math.pi * at_hz / RATE_HZ * np.arange(FRAMES))
    buffer.copyToChannel(sine.astype(np.float32), 0)
    player = context.createBufferSource()
    player.buffer = buffer
    player.connect(heads[source])
    player.start()
    result = await context.startRendering()
    legs = [np.asarray(result.getChannelData(k), dtype=np.float64) for k in (0, 1)]
    wheel = np.exp(-2j * math.pi * at_hz / RATE_HZ * np.arange(SETTLE_FRAMES, FRAMES))
    return np.array([abs(np.dot(leg[SETTLE_FRAMES:], wheel)) * 2.0 / MEASURED_FRAMES for leg in legs])


def _explicit(node, legs: int):
    node.channelCount = legs
    node.channelCountMode = "explicit"
    node.channelInterpretation = "speakers"
    return node


def _gain(context, legs: int, value: float):
    node = _explicit(context.createGain(), legs)
    node.gain.value = value
    return node


def _head(context, legs: int):
    """The input of a strip: sums what arrives and folds or widens it to the strip's legs."""
    return _gain(context, legs, 1.0)


def _amplitude(level_db: float) -> float:
    return 0.0 if level_db <= -200.0 else 10.0 ** (level_db / 20.0)


def _strip(context, routing: Routing, channel: Channel, head):
    """The nodes of one strip; returns its pre-fader and its post-fader tap."""
    legs = routing.legs[channel.id]
    here = head
    for insert in channel.inserts:
        if insert.on is False or insert.loaded is False or insert.equalizer is None:
            continue
        for band in insert.equalizer.bands:
            if band.on is not False:
                here = _to(here, _biquad(context, band, legs))
    fader = _to(here, _gain(context, legs, 0.0 if channel.mute is True else _amplitude(channel.fader_db)))
    return here, _to(fader, _panner(context, channel.pan, legs))


def _to(here, there):
    here.connect(there)
    return there


def _biquad(context, band: EqualizerBand, legs: int):
    node = _explicit(context.createBiquadFilter(), legs)
    node.type = FILTERS[band.kind]
    node.frequency.value = band.freq_hz
    node.gain.value = band.gain_db
    # The API takes Q in decibels for these two types ("Filters Characteristics").
    in_db = band.kind in ("high-pass", "low-pass")
    node.Q.value = 20.0 * math.log10(band.q) if in_db else band.q
    assert is_known(band.q)
    return node


def _panner(context, pan: float, legs: int):
    node = _explicit(context.createStereoPanner(), legs)
    node.pan.value = pan / 100.0
    return node


def _connect(context, routing: Routing, edge: Edge, tap, head) -> None:
    if edge.send is None:
        tap.connect(head)
        return
    send = _gain(context, 1 if _is_mono(routing, edge) else 2, _amplitude(edge.level_db))
    tap.connect(send)
    if routing.legs[edge.to] == 1:
        send.connect(head)
        return
    _to(send, _panner(context, edge.pan, 1 if _is_mono(routing, edge) else 2)).connect(head)


def _is_mono(routing: Routing, edge: Edge) -> bool:
    return edge.tap == "pre" and routing.legs[edge.source] == 1
