"""Automation lanes, tempo, metre and markers."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from mixlint.session import (
    FADER,
    Automation,
    Meter,
    Session,
    Tempo,
    Timeline,
    Unknown,
    control_of,
    inserts_now,
)
from tests.importers.documents import TRANSPORT, channel, session_of, told, track

CONTROLS = (
    '<Volume unit="linear" min="0" max="2" value="1" id="v"/>'
    '<Pan unit="normalized" min="0" max="1" value="0.5" id="p"/><Mute value="false" id="u"/>'
    '<Sends><Send destination="m"><Volume unit="linear" value="1" id="s"/><Enable value="true" id="e"/></Send></Sends>'
    '<Devices><Vst3Plugin deviceName="Verb"><Enabled value="true" id="i"/><Parameters>'
    '<RealParameter name="Mix" unit="normalized" value="0.3" id="w" parameterID="7"/>'
    '<RealParameter name="Decay" unit="seconds" value="2" id="d" parameterID="8"/></Parameters></Vst3Plugin></Devices>'
)


def points(target: str, *marks: str, more: str = "") -> str:
    return f'<Points {more}><Target parameter="{target}"/>{"".join(marks)}</Points>'


def at(time: float, value: object, shape: str | None = "linear") -> str:
    how = f' interpolation="{shape}"' if shape else ""
    return f'<RealPoint time="{time}" value="{value}"{how}/>'


def part(folder: Path, *lanes: str, **parts: str) -> tuple[Session, dict[str, Automation]]:
    session = session_of(folder, track("Part", CONTROLS), f'<Lanes track="t:Part">{"".join(lanes)}</Lanes>', **parts)
    return session, {str(one.target): one for one in channel(session, "Part").automation}


def test_every_control_finds_its_target_and_scale(tmp_path: Path) -> None:
    _, lanes = part(
        tmp_path,
        points("v", at(0, 0.5), at(4, 1)),
        points("p", at(0, 0), at(4, 1)),
        points("u", '<BoolPoint time="0" value="false"/><BoolPoint time="2" value="true"/>'),
        points("s", at(0, 0.25)),
        points("e", '<BoolPoint time="2" value="true"/>'),
        points("i", '<BoolPoint time="2" value="false"/>'),
        points("w", at(0, 0.3), at(2, 1)),
        points("d", at(0, 2)),
    )
    seen = {name: (one.scale, one.v) for name, one in lanes.items()}
    assert seen == {
        "fader": ("amplitude", (0.5, 1.0)),
        "pan": ("pan", (-100.0, 100.0)),
        "mute": ("switch", (0.0, 1.0)),
        "send:0:level": ("amplitude", (0.25,)),
        "send:0:on": ("switch", (1.0,)),
        "insert:0:on": ("switch", (0.0,)),
        "insert:0:wet": ("plain", (30.0, 100.0)),
        "insert:0:8": ("plain", (2.0,)),
    }
    assert lanes["fader"].t == (0.0, 2.0)  # 4 beats at 120 bpm
    assert lanes["fader"].where == "project.xml:11"


SHAPED = (
    '<Devices><Equalizer deviceName="Desk EQ"><Band type="mystery"><Freq unit="hertz" value="50" id="lost"/></Band>'
    '<Band type="highPass"><Freq unit="hertz" value="80" id="f"/><Q unit="linear" value="0.7" id="q"/>'
    '<Enabled value="false" id="o"/></Band>'
    '<Band type="bell"><Freq unit="semitones" value="69" id="n"/><Gain unit="decibel" value="0" id="g"/></Band>'
    '<OutputGain unit="linear" value="1" id="y"/></Equalizer>'
    '<Compressor deviceName="Comp"><Threshold unit="decibel" value="-20" id="t"/>'
    '<Ratio unit="percent" value="50" id="r"/><Attack unit="seconds" value="0.01" id="a"/>'
    '<Release unit="beats" value="1" id="b"/></Compressor></Devices>'
)


def shaped(folder: Path, *lanes: str) -> tuple[Session, dict[str, Automation]]:
    session = session_of(folder, track("Part", SHAPED), f'<Lanes track="t:Part">{"".join(lanes)}</Lanes>')
    return session, {str(one.target): one for one in channel(session, "Part").automation}


def test_settings_of_processors_move_in_the_models_units(tmp_path: Path) -> None:
    """ISO 16 and equal temperament for pitches; bands of no known kind do not count; 75 per cent is 100·(1 − 1/4)."""
    session, lanes = shaped(
        tmp_path,
        points("o", '<BoolPoint time="0" value="true"/>'),
        points("f", at(0, 120), at(4, 180)),
        points("n", at(0, 81)),
        points("g", at(0, -2.5)),
        points("y", at(0, 0.5)),
        points("t", at(0, -30)),
        points("r", at(0, 75)),
        points("a", at(0, 0.02)),
    )
    assert {name: (one.scale, one.v) for name, one in lanes.items()} == {
        "insert:0:band:1:on": ("switch", (1.0,)),
        "insert:0:band:1:freq": ("plain", (120.0, 180.0)),
        "insert:0:band:2:freq": ("plain", (880.0,)),
        "insert:0:band:2:gain": ("dB", (-2.5,)),
        "insert:0:outputgain": ("amplitude", (0.5,)),
        "insert:1:threshold": ("dB", (-30.0,)),
        "insert:1:ratio": ("plain", (4.0,)),
        "insert:1:attack": ("plain", (20.0,)),
    }
    equalizer, compressor = inserts_now(channel(session, "Part"))
    assert equalizer.equalizer is not None
    assert compressor.dynamics is not None
    low_cut, bell = equalizer.equalizer.bands
    assert (low_cut.on, low_cut.freq_hz, bell.freq_hz, bell.gain_db) == (True, 80.0, 880.0, -2.5)
    assert equalizer.equalizer.output_gain_db == pytest.approx(-6.0206, abs=1e-4)
    settings = compressor.dynamics
    assert (settings.threshold_db, settings.ratio, settings.attack_ms) == (-30.0, 4.0, 20.0)


def test_figures_whose_unit_is_not_read_are_kept_and_said_to_be_unknown(tmp_path: Path) -> None:
    """A share of a fader's travel, a ratio of 3 per cent that may be 3:1, a time in beats."""
    session, lanes = shaped(tmp_path, points("r", at(0, 75), at(2, 3)), points("b", at(0, 2)), points("q", at(0, -1)))
    assert {name: (one.scale, one.v) for name, one in lanes.items()} == {
        "insert:1:ratio": ("unknown", (75.0, 3.0)),
        "insert:1:release": ("unknown", (2.0,)),
        "insert:0:band:1:q": ("unknown", (-1.0,)),
    }
    dynamics = inserts_now(channel(session, "Part"))[1].dynamics
    assert dynamics is not None
    assert isinstance(dynamics.ratio, Unknown)
    normal = '<Volume unit="normalized" min="0" max="1" value="0.7" id="v"/>'
    session = session_of(tmp_path, track("Part", normal), f'<Lanes track="t:Part">{points("v", at(0, 0.5))}</Lanes>')
    (lane,) = channel(session, "Part").automation
    assert (lane.scale, lane.v) == ("unknown", (0.5,))
    assert isinstance(control_of(channel(session, "Part"), FADER).now, Unknown)


def test_hold_is_the_formats_default(tmp_path: Path) -> None:
    _, lanes = part(tmp_path, points("v", at(0, 0.5, None), at(4, 1, None)), points("p", at(0, 0), at(4, 1)))
    assert (lanes["fader"].shape, lanes["pan"].shape) == ("hold", "linear")


def test_held_and_straight_stretches_mix_exactly(tmp_path: Path) -> None:
    _, lanes = part(tmp_path, points("v", at(0, 0.2), at(2, 0.8, "hold"), at(4, 0.1), at(6, 0.5, "hold")))
    lane = lanes["fader"]
    assert lane.shape == "linear"
    assert list(zip(lane.t, lane.v, strict=True)) == [(0.0, 0.2), (1.0, 0.8), (2.0, 0.8), (2.0, 0.1), (3.0, 0.5)]


def test_points_in_another_unit_than_their_target(tmp_path: Path) -> None:
    _, lanes = part(
        tmp_path,
        points("v", at(0, -6), at(2, "-inf"), more='unit="decibel"'),
        points("p", at(0, 75), more='unit="percent"'),
    )
    assert (lanes["fader"].scale, lanes["fader"].v) == ("dB", (-6.0, -200.0))
    assert lanes["pan"].v == (50.0,)


def test_points_out_of_order_or_without_a_number_do_no_harm(tmp_path: Path) -> None:
    _, lanes = part(tmp_path, points("v", at(4, 1), at(0, 0.5), at("nan", 1), at(2, "inf"), at(3, "")))
    assert (lanes["fader"].t, lanes["fader"].v) == ((0.0, 2.0), (0.5, 1.0))


def test_lanes_that_aim_nowhere_are_said(tmp_path: Path) -> None:
    expression = '<Points><Target expression="gain"/><RealPoint time="0" value="1"/></Points>'
    both = '<Points><Target parameter="v" expression="nonsense"/><RealPoint time="0" value="1"/></Points>'
    session, lanes = part(
        tmp_path, points("gone", at(0, 1)), expression, '<Points><RealPoint time="0" value="1"/></Points>', both
    )
    assert list(lanes) == ["fader"]
    assert told(session, "gone")
    assert session.gaps == ("automation",)
    assert told(session, "expression gain")
    assert told(session, "names no parameter")


def test_two_lanes_of_one_control_are_joined_when_they_follow(tmp_path: Path) -> None:
    session, lanes = part(tmp_path, points("v", at(4, 0.5), at(6, 1)), points("v", at(0, 0.1), at(2, 0.2)))
    assert lanes["fader"].v == (0.1, 0.2, 0.5, 1.0)
    assert told(session, "two automation lanes", "c:Part")


def test_points_at_the_root_with_a_track_of_their_own(tmp_path: Path) -> None:
    session = session_of(tmp_path, track("Part", CONTROLS), points("v", at(0, 1), more='track="t:Part"'))
    assert str(channel(session, "Part").automation[0].target) == "fader"


TEMPO = '</Lanes><TempoAutomation timeUnit="{}">{}</TempoAutomation><Lanes>'


def timeline(session: Session) -> Timeline:
    assert isinstance(session.timeline, Timeline)
    return session.timeline


def test_tempo_steps_and_glides(tmp_path: Path) -> None:
    marks = at(0, 60, "hold") + at(4, 120, "linear") + at(8, 60, "hold")
    session = session_of(tmp_path, track("Part"), TEMPO.format("beats", '<Target parameter="tempo"/>' + marks))
    expected = (Tempo(bpm=60), Tempo(beat=4, bpm=120, ramp=True), Tempo(beat=8, bpm=60))
    assert timeline(session).tempos == expected


@pytest.mark.parametrize(
    "lane",
    [
        TEMPO.format("beats", "<Points>" + at(0, 60, "hold") + at(4, 120, "hold") + "</Points>"),
        TEMPO.format("seconds", at(0, 60, "hold") + at(4, 120, "hold")),  # 4 s at 60 bpm are 4 beats
        points("tempo", at(0, 60, "hold"), at(4, 120, "hold")),
    ],
    ids=["points wrapped, no target", "in seconds", "points among the lanes"],
)
def test_a_tempo_map_in_every_spelling(tmp_path: Path, lane: str) -> None:
    session = session_of(tmp_path, track("Part"), lane)
    assert timeline(session).tempos == (Tempo(bpm=60), Tempo(beat=4, bpm=120))
    assert not told(session, "left out")


def test_a_line_in_beats_gets_a_point_where_the_tempo_changes(tmp_path: Path) -> None:
    lane = points("v", at(0, 0), at(8, 1)) + "</Lanes>" + TEMPO.format("beats", at(0, 60, "hold") + at(4, 120, "hold"))
    session = session_of(tmp_path, track("Part", CONTROLS), f'<Lanes track="t:Part">{lane}')
    fader = channel(session, "Part").automation[0]
    assert list(zip(fader.t, fader.v, strict=True)) == [(0.0, 0.0), (4.0, 0.5), (6.0, 1.0)]


def test_a_glide_that_ends_in_a_step_keeps_both_tempos(tmp_path: Path) -> None:
    marks = at(0, 60, "linear") + at(4, 120, "hold") + at(4, 90, "hold")
    tempos = timeline(session_of(tmp_path, track("Part"), TEMPO.format("beats", marks))).tempos
    assert [(round(one.beat, 3), one.bpm, one.ramp) for one in tempos] == [
        (0, 60, True),
        (4, 120, False),
        (4, 90, False),
    ]
    assert all(b.beat > a.beat for a, b in pairwise(tempos))


def test_without_a_tempo_120_is_assumed_and_bars_stay_unknown(tmp_path: Path) -> None:
    lane = '<Lanes track="t:Part"><Clips><Clip time="4" duration="4"><Notes/></Clip></Clips></Lanes>'
    session = session_of(tmp_path, track("Part"), lane, transport="")
    assert isinstance(session.timeline, Unknown)
    assert told(session, "120 bpm")
    assert channel(session, "Part").clips[0].start_s == 2.0


def test_metre_changes(tmp_path: Path) -> None:
    lane = (
        '</Lanes><TimeSignatureAutomation timeUnit="beats">'
        '<TimeSignaturePoint time="16" numerator="7" denominator="8"/>'
        '<TimeSignaturePoint time="20" numerator="0" denominator="8"/></TimeSignatureAutomation><Lanes>'
    )
    session = session_of(tmp_path, track("Part"), lane, transport=TRANSPORT.replace('numerator="4"', 'numerator="3"'))
    assert timeline(session).meters == (Meter(beats=3, unit=4), Meter(beat=16, beats=7, unit=8))


def test_markers_in_both_spellings(tmp_path: Path) -> None:
    inside = '<markers><Marker time="8" name="Chorus"/></markers>'
    outside = (
        '</Lanes><Markers timeUnit="seconds"><Marker time="1" name="Verse"/><Marker name="lost"/></Markers><Lanes>'
    )
    session = session_of(tmp_path, track("Part"), inside + outside)
    assert [(one.time_s, one.name) for one in session.markers] == [(1.0, "Verse"), (4.0, "Chorus")]
