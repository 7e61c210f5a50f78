"""The category words of the open plug-in standards: every published one is read, with its published meaning."""

from __future__ import annotations

import pytest

from mixlint.naming import SHIPPED, read_processor
from mixlint.session import Insert

CLAP = (
    "instrument", "audio-effect", "note-effect", "note-detector", "analyzer", "synthesizer", "sampler", "drum",
    "drum-machine", "filter", "phaser", "equalizer", "de-esser", "phase-vocoder", "granular", "frequency-shifter",
    "pitch-shifter", "distortion", "transient-shaper", "compressor", "expander", "gate", "limiter", "flanger",
    "chorus", "delay", "reverb", "tremolo", "glitch", "utility", "pitch-correction", "restoration", "multi-effects",
    "mixing", "mastering", "mono", "stereo", "surround", "ambisonic",
)  # fmt: skip
"""CLAP, include/clap/plugin-features.h, as published with version 1.2; the words between the quotation marks."""

VST3 = (
    "Fx", "Fx|Analyzer", "Fx|Bass", "Fx|Channel Strip", "Fx|Delay", "Fx|Distortion", "Fx|Drums", "Fx|Dynamics", "Fx|EQ",
    "Fx|Filter", "Fx|Generator", "Fx|Guitar", "Fx|Instrument", "Fx|Instrument|External", "Fx|Mastering",
    "Fx|Microphone", "Fx|Modulation", "Fx|Network", "Fx|Pitch Shift", "Fx|Restoration", "Fx|Reverb", "Fx|Spatial",
    "Fx|Surround", "Fx|Tools", "Fx|Vocals", "Instrument", "Instrument|Drum", "Instrument|External", "Instrument|Piano",
    "Instrument|Sampler", "Instrument|Synth", "Instrument|Synth|Sampler", "Ambisonics", "Analyzer", "NoOfflineProcess",
    "OnlyARA", "OnlyOfflineProcess", "OnlyRT", "Spatial", "Spatial|Fx", "Up-Downmix", "Mono", "Stereo", "Surround",
)  # fmt: skip
"""VST 3.7.10, pluginterfaces/vst/ivstaudioprocessor.h, namespace PlugType: the values."""

LV2 = (
    "Plugin", "AllpassPlugin", "AmplifierPlugin", "AnalyserPlugin", "BandpassPlugin", "ChorusPlugin", "CombPlugin",
    "CompressorPlugin", "ConstantPlugin", "ConverterPlugin", "DelayPlugin", "DistortionPlugin", "DynamicsPlugin",
    "EnvelopePlugin", "EQPlugin", "ExpanderPlugin", "FilterPlugin", "FlangerPlugin", "FunctionPlugin", "GatePlugin",
    "GeneratorPlugin", "HighpassPlugin", "InstrumentPlugin", "LimiterPlugin", "LowpassPlugin", "MIDIPlugin",
    "MixerPlugin", "ModulatorPlugin", "MultiEQPlugin", "OscillatorPlugin", "ParaEQPlugin", "PhaserPlugin",
    "PitchPlugin", "ReverbPlugin", "SimulatorPlugin", "SpatialPlugin", "SpectralPlugin", "UtilityPlugin",
    "WaveshaperPlugin",
)  # fmt: skip
"""LV2, lv2/core/lv2core.ttl (namespace http://lv2plug.in/ns/lv2core#): the classes below ``lv2:Plugin``, and that."""

LV2_LABELS = (
    "Allpass Plugin", "Amplifier Plugin", "Analyser Plugin", "Bandpass Filter Plugin", "Chorus Plugin",
    "Comb FilterPlugin", "Comb Filter Plugin", "Compressor Plugin", "Constant Plugin", "Converter Plugin",
    "Delay Plugin", "Distortion Plugin", "Dynamics Plugin", "Envelope Plugin", "Equaliser Plugin", "EQ Plugin",
    "Expander Plugin", "Filter Plugin", "Flanger Plugin", "Function Plugin", "Gate Plugin", "Generator Plugin",
    "Highpass Filter Plugin", "Instrument Plugin", "Limiter Plugin", "Lowpass Filter Plugin", "MIDI Plugin",
    "Mixer Plugin", "Modulator Plugin", "Multiband EQ Plugin", "Oscillator Plugin", "Parametric EQ Plugin",
    "Phaser Plugin", "Pitch Shifter Plugin", "Reverb Plugin", "Simulator Plugin", "Spatial Plugin", "Spectral Plugin",
    "Utility Plugin", "Waveshaper Plugin",
)  # fmt: skip
"""The same file: the ``rdfs:label`` of each class; two are spelt in two ways from version to version."""


@pytest.mark.parametrize("word", [*CLAP, *VST3, *LV2, *LV2_LABELS])
def test_every_published_word_is_read_or_says_nothing(word: str) -> None:
    reading = read_processor(Insert(name="Nordwind", categories=(word,)))
    assert not any("none of the published" in ground for ground in reading.grounds), reading
    if reading.word is not None:
        assert word in reading.grounds[0]


@pytest.mark.parametrize("word", ["studio:shiny", "Fx|Sparkle", "http://example.org/ns#ShinyPlugin"])
def test_a_word_that_is_not_published_is_told_as_such(word: str) -> None:
    reading = read_processor(Insert(name="Nordwind", categories=(word,)))
    assert reading.word is None
    assert f"the category word '{word}' is none of the published ones" in reading.grounds


def test_the_file_holds_nothing_else() -> None:
    known = SHIPPED.categories
    published = {word.casefold() for word in (*CLAP, *VST3, *LV2, *LV2_LABELS)}
    published.add("fx|external")  # what stands behind the first word of VST 3 is read word by word
    assert known.kinds.keys() | known.doubts.keys() | known.silent <= published
    assert not known.silent & (known.kinds.keys() | known.doubts.keys())


@pytest.mark.parametrize(
    ("categories", "kind"),
    [
        # kFxAnalyzer "Scope, FFT-Display, Loudness Processing...", kAnalyzer "Meter, Scope, FFT-Display"
        (("Fx|Analyzer",), "analyser"),
        (("Analyzer",), "analyser"),
        # kFxTools "Volume, Mixer, Tuner...", kFxDynamics "Compressor, Expander, Gate, Limiter, ... Tape Simulator"
        (("Fx|Tools",), None),
        (("Fx|Dynamics",), None),
        # kFxInstrument "Fx which could be loaded as Instrument too"; kInstrument "not as insert"
        (("Fx|Instrument",), None),
        (("Fx|Instrument|External",), None),
        (("Instrument|External",), "instrument"),
        # kFxGenerator "Tone Generator, Noise Generator..."
        (("Fx|Generator",), "instrument"),
        # kFxSpatial "MonoToStereo, StereoEnhancer,..."; kSpatialFx "used for SurroundPanner and as insert effect"
        (("Fx|Spatial",), "spatial"),
        (("Spatial|Fx",), "spatial"),
        (("Fx|Reverb|Surround",), "reverb"),
        (("Fx|Vocals|Reverb",), "reverb"),
        (("Fx|EQ|Stereo|OnlyRT",), "equalizer"),
        # lv2:ReverbPlugin is a subclass of lv2:DelayPlugin and lv2:SimulatorPlugin; lv2:AmplifierPlugin "primarily
        # changes the volume of its input"; lv2:EQPlugin is a subclass of lv2:FilterPlugin
        (("lv2:DelayPlugin", "lv2:SimulatorPlugin", "lv2:ReverbPlugin"), "reverb"),
        (("lv2:DynamicsPlugin", "lv2:AmplifierPlugin"), "utility"),
        (("lv2:FilterPlugin", "lv2:EQPlugin"), "equalizer"),
        # CLAP: "note-detector" converts audio to notes, which is no reading of a meter
        (("note-detector",), None),
        (("Reverb Plugin", "Delay Plugin"), "reverb"),
        (("audio-effect", "transient-shaper"), None),
    ],
)
def test_published_meanings(categories: tuple[str, ...], kind: str | None) -> None:
    assert read_processor(Insert(name="Nordwind", categories=categories)).word == kind
