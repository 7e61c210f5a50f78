"""Each .dawproject, read by its importer, describes the same mix as its twin in the native form."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from mixlint import importers
from mixlint.session import Channel, Clip, Session, is_known

FOLDER = Path(__file__).resolve().parents[2] / "example_sessions"
STEMS = ("sixpenny-weathervane", "sixpenny-weathervane-flawed")


@pytest.fixture(scope="module", params=STEMS)
def twins(request: pytest.FixtureRequest) -> tuple[Session, Session]:
    """The session read from the open format and the one in the native form."""
    return (
        importers.read(FOLDER / f"{request.param}.dawproject"),
        Session.model_validate_json((FOLDER / f"{request.param}.session.json").read_text(encoding="utf-8")),
    )


def _pairs(twins: tuple[Session, Session]) -> list[tuple[Channel, Channel]]:
    read, native = twins
    return list(zip(read.channels, native.channels, strict=True))


def _name(session: Session, channel_id: object) -> str | None:
    if channel_id is None:
        return None
    assert isinstance(channel_id, str)
    channel = session.channel(channel_id)
    assert channel is not None
    return channel.name


def test_the_same_channels_in_the_same_order(twins: tuple[Session, Session]) -> None:
    read, native = twins
    assert [c.name for c in read.channels] == [c.name for c in native.channels]
    assert [c.kind for c in read.channels] == [c.kind for c in native.channels]
    assert [c.legs for c in read.channels] == [c.legs for c in native.channels]
    assert [_name(read, c.parent) for c in read.channels] == [_name(native, c.parent) for c in native.channels]


def test_the_same_faders_pans_and_switches(twins: tuple[Session, Session]) -> None:
    """Levels within 0.01 dB, pans within 0.1."""
    for a, b in _pairs(twins):
        assert a.fader_db == pytest.approx(b.fader_db, abs=0.01), b.name
        assert a.pan == pytest.approx(b.pan, abs=0.1), b.name
        assert (a.mute, a.solo) == (b.mute, b.solo), b.name


def test_the_same_outputs(twins: tuple[Session, Session]) -> None:
    """What leads nowhere does so in both; every other output leads to the channel of the same name."""
    read, native = twins
    for a, b in _pairs(twins):
        if b.output is None:
            assert a.output is None, b.name
        else:
            assert _name(read, a.output) == _name(native, b.output), b.name


def test_the_same_sends(twins: tuple[Session, Session]) -> None:
    read, native = twins
    for a, b in _pairs(twins):
        assert [_name(read, s.to) for s in a.sends] == [_name(native, s.to) for s in b.sends], b.name
        for sent, meant in zip(a.sends, b.sends, strict=True):
            assert sent.level_db == pytest.approx(meant.level_db, abs=0.01), b.name
            assert sent.pan == pytest.approx(meant.pan, abs=0.1), b.name
            assert (sent.tap, sent.on) == (meant.tap, meant.on), b.name


def test_the_same_inserts(twins: tuple[Session, Session]) -> None:
    """Names, switches, bands, listed parameters; what the open format cannot say may stay unknown."""
    for a, b in _pairs(twins):
        assert [i.name for i in a.inserts] == [i.name for i in b.inserts], b.name
        for found, meant in zip(a.inserts, b.inserts, strict=True):
            assert (found.on, found.loaded, found.opaque) == (meant.on, meant.loaded, meant.opaque), b.name
            # The importer keeps numbers whose meaning it had to read, such as a ratio in per cent, beside its reading.
            listed = [p for p in found.parameters if not p.name.endswith("as written")]
            assert [(p.name, p.unit) for p in listed] == [(p.name, p.unit) for p in meant.parameters]
            for p, q in zip(listed, meant.parameters, strict=True):
                assert p.value == pytest.approx(q.value, abs=1e-6)
            if is_known(found.wet):
                assert found.wet == pytest.approx(meant.wet)
            assert (found.equalizer is None) == (meant.equalizer is None)
            if found.equalizer is not None and meant.equalizer is not None:
                for x, y in zip(found.equalizer.bands, meant.equalizer.bands, strict=True):
                    assert x.kind == y.kind
                    assert x.freq_hz == pytest.approx(y.freq_hz, abs=0.01)
                    assert x.gain_db == pytest.approx(y.gain_db, abs=1e-6)
                    assert x.q == pytest.approx(y.q, abs=1e-6)
                    assert x.on == y.on
            assert (found.dynamics is None) == (meant.dynamics is None)
            if found.dynamics is not None and meant.dynamics is not None:
                assert found.dynamics.threshold_db == pytest.approx(meant.dynamics.threshold_db)
                assert found.dynamics.ratio == pytest.approx(meant.dynamics.ratio)
                assert found.dynamics.attack_ms == pytest.approx(meant.dynamics.attack_ms)
                assert found.dynamics.release_ms == pytest.approx(meant.dynamics.release_ms)


def _stretches(clips: tuple[Clip, ...]) -> list[tuple[float, float]]:
    """Where the clips play; the repeats of one loop joined into the stretch they fill."""
    joined: list[list[float]] = []
    last: Clip | None = None
    for clip in sorted(clips, key=lambda c: c.start_s):
        if last is not None and last.file == clip.file and abs(clip.start_s - joined[-1][1]) < 1e-6:
            joined[-1][1] = clip.end_s
        else:
            joined.append([clip.start_s, clip.end_s])
        last = clip
    return [(start, end) for start, end in joined]


def test_the_same_clips(twins: tuple[Session, Session]) -> None:
    """Within 1 ms, with the same fades at the outer edges."""
    for a, b in _pairs(twins):
        found, meant = _stretches(a.clips), _stretches(b.clips)
        assert len(found) == len(meant), b.name
        for (start, end), (start_b, end_b) in zip(found, meant, strict=True):
            assert start == pytest.approx(start_b, abs=0.001)
            assert end == pytest.approx(end_b, abs=0.001)
        starts = {round(c.start_s, 3): c for c in a.clips}
        ends = {round(c.end_s, 3): c for c in a.clips}
        for clip in b.clips:
            assert starts[round(clip.start_s, 3)].fade_in_s == pytest.approx(clip.fade_in_s, abs=0.001), b.name
            assert ends[round(clip.end_s, 3)].fade_out_s == pytest.approx(clip.fade_out_s, abs=0.001), b.name


def test_the_same_automation(twins: tuple[Session, Session]) -> None:
    for a, b in _pairs(twins):
        assert [x.target for x in a.automation] == [x.target for x in b.automation], b.name
        for drawn, meant in zip(a.automation, b.automation, strict=True):
            assert (drawn.scale, drawn.shape) == (meant.scale, meant.shape)
            assert drawn.t == pytest.approx(meant.t, abs=0.001)
            assert drawn.v == pytest.approx(meant.v, abs=1e-5)


def test_the_same_song(twins: tuple[Session, Session]) -> None:
    """Tempo and markers; every file lies inside, fits its channel and is as long as its clips say."""
    read, native = twins
    assert read.timeline == native.timeline
    assert [m.name for m in read.markers] == [m.name for m in native.markers]
    assert [m.time_s for m in read.markers] == pytest.approx([m.time_s for m in native.markers], abs=0.001)
    files = {m.id: m for m in read.media}
    assert len({m.path for m in read.media}) == 12
    assert {m.place for m in read.media} == {"inside"}
    for channel in read.channels:
        for clip in channel.clips:
            assert clip.file is not None
            media = files[clip.file]
            assert media.legs == channel.legs
            assert is_known(media.duration_s)
            assert is_known(clip.offset_s)
            assert clip.offset_s + clip.end_s - clip.start_s <= media.duration_s + 0.001


def test_stretches_join_only_what_touches() -> None:
    """The helper above: repeats join, a gap or another file does not."""
    one = [Clip(start_s=t, end_s=t + 1.0, file="a") for t in (0.0, 1.0, 2.5)]
    two = [*one, Clip(start_s=3.5, end_s=4.0, file="b")]
    assert _stretches(tuple(two)) == [(0.0, 2.0), (2.5, 3.5), (3.5, 4.0)]
    assert all(b[0] >= a[1] for a, b in pairwise(_stretches(tuple(two))))
