"""What a chain makes of a part's loudness: against scipy's filters, a compressor written here, and libebur128."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import signal as oracle

from mixlint.facts import FactValue
from mixlint.session import Automation, Clip, Dynamics, Equalizer, EqualizerBand, Insert, Parameter, Send, Unknown
from mixlint.session.target import Target
from mixlint.signal import synthesis
from tests.facts.audio_sessions import RATE, audio_context, write
from tests.facts.small_sessions import ask, bus, mix, track, value
from tests.facts.test_facts_insert_reduction import sounding, taken

VOICE = 0.5 * synthesis.voice(220.0, 1, 6.0, RATE)


def equalizer(*bands: EqualizerBand, name: str = "EQ", **gains: float) -> Insert:
    return Insert(name=name, kind="equalizer", opaque=False, equalizer=Equalizer(bands=bands, **gains))


def press(out_db: float = 0.0, **more) -> Insert:
    own = Dynamics(threshold_db=-24.0, ratio=4.0, attack_ms=10.0, release_ms=100.0, output_gain_db=out_db, **more)
    return Insert(name="Press", kind="compressor", opaque=False, dynamics=own)


def gate(**more) -> Insert:
    given = {"threshold_db": -30.0, "attack_ms": 1.0, "release_ms": 60.0, "range_db": -24.0} | more
    own = Dynamics(**{name: figure for name, figure in given.items() if figure is not None})
    return Insert(name="Gate", kind="gate", opaque=False, dynamics=own)


BELL = EqualizerBand(kind="bell", freq_hz=1000.0, gain_db=6.0, q=1.0)
CUT = EqualizerBand(kind="high-pass", freq_hz=300.0, slope_db_per_oct=12.0, q=0.7071067811865476)


def played(folder, samples, *inserts, **more):
    media = [write(folder, "a.wav", samples, subtype="FLOAT")]
    clips = (Clip(start_s=0.0, end_s=samples.shape[0] / RATE, file="a.wav"),)
    given = {"clips": clips, "inserts": inserts, "legs": samples.ndim} | more
    return audio_context(folder, media, track("Part", **given), mix())


def of(at, fact: str = "chain_louder_lu"):
    return value(at, "source", "Part", fact)


def lufs(samples: np.ndarray) -> float:
    """Integrated loudness by libebur128."""
    ebur = pytest.importorskip("pyebur128")
    legs = 1 if samples.ndim == 1 else samples.shape[1]
    meter = ebur.R128State(legs, RATE, ebur.MeasurementMode.MODE_I)
    meter.add_frames(np.ascontiguousarray(samples.ravel()), samples.shape[0])
    return ebur.get_loudness_global(meter)


def bell(samples: np.ndarray) -> np.ndarray:
    """The peaking equation of the W3C Audio EQ Cookbook, written out here: 6 dB at 1 kHz, Q 1."""
    a, w = 10.0 ** (6.0 / 40.0), 2.0 * np.pi * 1000.0 / RATE
    alpha = np.sin(w) / 2.0
    b = [1 + alpha * a, -2 * np.cos(w), 1 - alpha * a]
    return oracle.lfilter(b, [1 + alpha / a, -2 * np.cos(w), 1 - alpha / a], samples)


def test_a_plain_gain_is_its_gain(tmp_path):
    """5.5 dB out of an equalizer without bands is 5.5 LU; a trim of −2 dB behind it leaves 3.5."""
    assert of(played(tmp_path, VOICE, equalizer(output_gain_db=5.5))) == pytest.approx(5.5, abs=1e-6)
    trim = Insert(
        name="Trim", kind="utility", opaque=False, parameters=(Parameter(id="g", name="Gain", value=-2.0, unit="dB"),)
    )
    at = played(tmp_path, VOICE, equalizer(output_gain_db=5.5), trim)
    assert of(at) == pytest.approx(3.5, abs=1e-6)
    assert value(at, "insert", "Part: Trim", "louder_lu") == pytest.approx(-2.0, abs=1e-6)


@pytest.mark.slow
@pytest.mark.parametrize("sound", ["voice", "pluck", "kit"])
def test_an_equalizer_by_the_parts_own_sound(tmp_path, sound):
    """A bell (cookbook) and a low cut (scipy's Butterworth) measured by libebur128 before and after: ±0.1 LU."""
    make = {"voice": lambda: VOICE, "pluck": lambda: 0.5 * synthesis.pluck(196.0, 1, 6.0, RATE),
            "kit": lambda: 0.5 * synthesis.kit(1, 6.0, RATE)}  # fmt: skip
    samples = make[sound]()
    out = oracle.sosfilt(oracle.butter(2, 300.0, "high", fs=RATE, output="sos"), bell(samples))
    found = of(played(tmp_path, samples, equalizer(BELL), equalizer(CUT, name="Cut")))
    assert found == pytest.approx(lufs(out) - lufs(samples), abs=0.1)


def test_a_compressor_and_its_make_up(tmp_path):
    """Every sample by the published detector, 9 dB of make-up, measured by libebur128: within 0.3 LU, and the band."""
    out = VOICE * 10.0 ** ((9.0 - taken(VOICE, -24.0, 4.0, 10.0, 100.0)) / 20.0)
    at = played(tmp_path, VOICE, press(9.0))
    assert of(at) == pytest.approx(lufs(out) - lufs(VOICE), abs=0.3)
    assert 0.5 < of(at, "chain_off_lu") < 3.0
    assert of(at, "chain_louder_for_sure_lu") == pytest.approx(of(at) - of(at, "chain_off_lu"))


@pytest.mark.slow
@pytest.mark.parametrize("range_db", [-24.0, -6.0])
def test_a_gate_shuts_in_the_rests_and_opens_for_the_notes(tmp_path, range_db):
    """A voice that whispers 30 dB down for half of its time, 6 dB out of the gate: worked out here, sample by sample.

    It opens while anything within 10 ms comes over −30 dBFS, in 1 ms, and shuts in 60 (time constants).
    """
    samples = VOICE.copy()
    samples[: 3 * RATE] *= 10.0 ** (-30.0 / 20.0)
    open_, shut = np.exp(-1.0 / (0.001 * RATE)), np.exp(-1.0 / (0.06 * RATE))
    held = np.lib.stride_tricks.sliding_window_view(np.pad(np.abs(samples), (479, 0)), 480).max(axis=1)
    taken_db, out = 0.0, np.zeros(samples.size)
    for n, over in enumerate((held >= 10.0 ** (-30.0 / 20.0)).tolist()):
        due = 0.0 if over else -range_db
        slow = shut if due > taken_db else open_
        taken_db = slow * taken_db + (1 - slow) * due
        out[n] = samples[n] * 10.0 ** (-taken_db / 20.0)
    at = played(tmp_path, samples, gate(range_db=range_db, output_gain_db=6.0))
    assert of(at) == pytest.approx(lufs(out * 2.0) - lufs(samples), abs=0.15)
    assert of(at) == pytest.approx(6.0, abs=0.3)  # what is gated lies under the gate of the loudness, too


@pytest.mark.slow
def test_a_chain_runs_in_its_order(tmp_path):
    """A bell before the compressor drives it; behind it it does not. Both as worked out here."""
    before = bell(VOICE)
    first = before * 10.0 ** (-taken(before, -24.0, 4.0, 10.0, 100.0) / 20.0)
    last = bell(VOICE * 10.0 ** (-taken(VOICE, -24.0, 4.0, 10.0, 100.0) / 20.0))
    one, other = (of(played(tmp_path, VOICE, *c)) for c in ((equalizer(BELL), press()), (press(), equalizer(BELL))))
    assert one == pytest.approx(lufs(first) - lufs(VOICE), abs=0.3)
    assert other == pytest.approx(lufs(last) - lufs(VOICE), abs=0.3)
    assert one < other - 0.3


def test_the_note_says_what_each_of_them_adds(tmp_path):
    at = played(tmp_path, VOICE, equalizer(BELL), press(13.0))
    found = ask(at, "source", "Part", "chain_louder_lu")
    assert isinstance(found, FactValue)
    assert found.note.startswith("EQ +")
    assert "Press +" in found.note
    assert "Press taken with a hard knee" in found.note


def test_two_legs_count_together(tmp_path):
    """A part of two legs, measured as stereo by libebur128 before and after one gain for both."""
    both = np.stack([0.1 * VOICE, VOICE], axis=1)
    gain = 10.0 ** (-taken(VOICE, -24.0, 4.0, 10.0, 100.0) / 20.0)
    assert of(played(tmp_path, both, press())) == pytest.approx(lufs(both * gain[:, None]) - lufs(both), abs=0.3)


def test_half_a_wet_share_blends(tmp_path):
    """Half of the signal and half of it without any bass, added: by scipy."""
    insert = equalizer(CUT).model_copy(update={"wet": 50.0})
    out = 0.5 * VOICE + 0.5 * oracle.sosfilt(oracle.butter(2, 300.0, "high", fs=RATE, output="sos"), VOICE)
    assert of(played(tmp_path, VOICE, insert)) == pytest.approx(lufs(out) - lufs(VOICE), abs=0.1)


def test_a_part_without_processors_comes_out_as_it_goes_in(tmp_path):
    assert of(played(tmp_path, VOICE)) == 0.0
    switched_off = press(12.0).model_copy(update={"on": False})
    assert of(played(tmp_path, VOICE, switched_off)) == 0.0


MOVED = Automation(target=str(Target.insert(0, "outputgain")), scale="dB", t=(0.0, 3.0), v=(0.0, 6.0), shape="linear")


@pytest.mark.parametrize(
    ("insert", "more", "reason"),
    [
        (Insert(name="Velvet", kind="compressor"), {}, "Velvet hides its settings"),
        (Insert(name="Odd Box"), {}, "Odd Box hides its settings"),
        (press(auto_makeup=True), {}, "Press makes up for what it takes by itself"),
        (press().model_copy(update={"name": "Press (sidechain)"}), {}, "keyed by another channel"),
        (gate(attack_ms=None), {}, "no attack time"),
        (gate(range_db=None), {}, "no ratio"),
        (
            equalizer(EqualizerBand(kind="bell", freq_hz=Unknown(unknown="no frequency"), gain_db=3.0)),
            {},
            "EQ hides a setting",
        ),
        (
            Insert(name="Press", kind="compressor", opaque=False, dynamics=Dynamics(threshold_db=-20.0, ratio=4.0)),
            {},
            "no release time",
        ),
        (press(), {"automation": (MOVED,)}, "Press is automated"),
        (press().model_copy(update={"kind": "de-esser"}), {}, "Press is no compressor of the whole sound"),
        (press().model_copy(update={"equalizer": Equalizer(bands=(BELL,))}), {}, "an equalizer and a compressor"),
        (equalizer(BELL).model_copy(update={"kind": "multi-effect", "opaque": True}), {}, "EQ hides its settings"),
    ],
)
def test_what_is_not_known_of_one_leaves_the_chain_unknown_by_its_name(tmp_path, insert, more, reason):
    found = ask(played(tmp_path, VOICE, insert, **more), "source", "Part", "chain_louder_lu")
    assert isinstance(found, Unknown)
    assert reason in found.unknown


def test_what_stands_before_the_hidden_one_is_known(tmp_path):
    at = played(tmp_path, VOICE, equalizer(output_gain_db=4.0), Insert(name="Velvet", kind="compressor"), press())
    assert value(at, "insert", "Part: EQ", "louder_lu") == pytest.approx(4.0, abs=1e-6)
    for name in ("Velvet", "Press"):
        found = ask(at, "insert", f"Part: {name}", "louder_lu")
        assert isinstance(found, Unknown)
        assert "Velvet" in found.unknown


KIT = 0.3 * synthesis.kit(2, 6.0, RATE)


def grouped(folder, *inserts, **more):
    """A voice on the left and a kit on the right, through a group with processors."""
    media = [write(folder, "a.wav", VOICE, subtype="FLOAT"), write(folder, "k.wav", KIT, subtype="FLOAT")]
    parts = (
        track("Part", clips=(Clip(start_s=0.0, end_s=6.0, file="a.wav"),), output="Band", pan=-100.0, **more),
        track("Kit", clips=(Clip(start_s=0.0, end_s=6.0, file="k.wav"),), output="Band", pan=100.0),
    )
    return audio_context(folder, media, *parts, bus("Band", inserts=inserts), mix())


def test_a_compressor_on_a_bus_hears_the_sum_of_its_parts(tmp_path):
    """Both legs by the published detector, loudness by libebur128: 0.3 LU, and 0.3 dB of reduction."""
    at = grouped(tmp_path, press(4.0))
    both = np.stack([VOICE, KIT], axis=1)
    due = taken(np.abs(both).max(axis=1), -24.0, 4.0, 10.0, 100.0)
    out = both * (10.0 ** ((4.0 - due) / 20.0))[:, None]
    assert value(at, "insert", "Band: Press", "louder_lu") == pytest.approx(lufs(out) - lufs(both), abs=0.3)
    cut = due[: sounding(both.max(axis=1)).size]
    power = (np.abs(both).max(axis=1) ** 2)[: cut.size].reshape(-1, RATE // 10).mean(axis=1)
    level = 10.0 * np.log10(power) + 3.01
    loud = np.repeat((level > level.max() - 30.0) & (level > -50.0), RATE // 10)
    assert value(at, "insert", "Band: Press", "reduction_db") == pytest.approx(np.percentile(cut[loud], 95.0), abs=0.3)


def test_what_feeds_a_bus_unseen_leaves_it_unknown(tmp_path):
    at = grouped(tmp_path, press(4.0), inserts=(Insert(name="Velvet"),))
    for fact in ("louder_lu", "reduction_db"):
        found = ask(at, "insert", "Band: Press", fact)
        assert isinstance(found, Unknown)
        assert "Velvet on Part" in found.unknown


def test_what_is_hidden_behind_it_or_elsewhere_does_not_matter_to_a_bus(tmp_path):
    at = grouped(tmp_path, equalizer(output_gain_db=2.0), Insert(name="Velvet"))
    assert value(at, "insert", "Band: EQ", "louder_lu") == pytest.approx(2.0, abs=1e-6)
    found = ask(at, "insert", "Band: Velvet", "louder_lu")
    assert isinstance(found, Unknown)


@pytest.mark.slow
def test_a_long_part_is_told_within_its_band(tmp_path):
    """Three minutes that grow by 18 dB through a compressor: a minute of it against every sample."""
    samples = np.tile(VOICE, 30) * np.repeat(10.0 ** (np.linspace(-18.0, 0.0, 30) / 20.0), VOICE.size)
    out = samples * 10.0 ** (-taken(samples, -24.0, 4.0, 10.0, 100.0) / 20.0)
    at = played(tmp_path, samples, press())
    assert of(at) == pytest.approx(lufs(out) - lufs(samples), abs=of(at, "chain_off_lu"))
    assert of(at) == pytest.approx(lufs(out) - lufs(samples), abs=0.6)


def test_the_most_that_a_chain_can_add_is_known_without_its_sound(tmp_path):
    """A bell of 6 dB, 3 dB out of an equalizer, and a compressor's 4: 13 whatever passes; a cut adds nothing."""
    chain = (equalizer(BELL, output_gain_db=3.0), equalizer(CUT, name="Cut"), press(4.0))
    at = played(tmp_path, VOICE, *chain)
    assert of(at, "chain_louder_at_most_lu") == pytest.approx(13.0, abs=0.1)
    assert of(at) <= of(at, "chain_louder_at_most_lu")
    assert of(at, "chain_shown") is True
    assert of(played(tmp_path, VOICE, Insert(name="Velvet")), "chain_shown") is False


def test_nothing_else_of_the_strip_counts(tmp_path):
    """Fader, pan and sends come behind the processors."""
    at = played(tmp_path, VOICE, equalizer(output_gain_db=3.0), fader_db=-12.0, pan=40.0, sends=(Send(to="Mix"),))
    assert of(at) == pytest.approx(3.0, abs=1e-6)
