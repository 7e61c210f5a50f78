"""Sessions written again by somebody else, and sessions with one change planted."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from hypothesis import strategies as st

from mixlint.session import Automation, Channel, Clip, Insert, MediaFile, Send, Session
from mixlint.units import SILENCE_DB
from tests.importers.made_sessions import sessions

Planted = tuple[Session, str, str]
"""The changed session, what the change touches, and the channel's name."""


@st.composite
def told_apart(draw: st.DrawFn) -> Session:
    """A made session in which no two channels share a name, whatever the letter case."""
    session = draw(sessions())
    channels = tuple(c.model_copy(update={"name": f"{c.name} {n}"}) for n, c in enumerate(session.channels))
    return session.model_copy(update={"channels": channels})


@st.composite
def with_one_send(draw: st.DrawFn) -> Session:
    """The same, with a track that has just one send: an open one that sounds, to a return, with nothing automated."""
    session = draw(told_apart())
    bus = next((c for c in session.channels if c.kind == "return"), None)
    if bus is None:
        bus = Channel(id="added", name="Added Hall", kind="return", output="m")
        session = session.model_copy(update={"channels": (*session.channels, bus)})
    tracks = [n for n, c in enumerate(session.channels) if c.kind == "track"]
    if not tracks:
        return session
    send = Send(
        to=bus.id,
        level_db=float(draw(st.integers(-60, 6))),
        pan=float(draw(st.integers(-100, 100))),
        tap=draw(st.sampled_from(("pre", "post"))),
        on=True,
    )
    return with_channel(session, draw(st.sampled_from(tracks)), sends=(send,), automation=())


def _level(db: Any) -> Any:
    """A level after its way through an amplitude of six decimals."""
    if not isinstance(db, float) or db <= SILENCE_DB:
        return db
    amplitude = round(10.0 ** (db / 20.0), 6)
    from math import log10

    return 20.0 * log10(amplitude) if amplitude > 0.0 else SILENCE_DB


def written_again(session: Session) -> Session:
    """The same mix with other ids, in another order, its names in capitals and its numbers rounded."""
    ids = {c.id: f"id-{n:03d}" for n, c in enumerate(reversed(session.channels))}
    files = {m.id: f"file-{n}" for n, m in enumerate(reversed(session.media))}

    def lead(target: Any) -> Any:
        return ids.get(target, target) if isinstance(target, str) else target

    def clip(one: Clip) -> Clip:
        return one.model_copy(
            update={
                "file": files.get(one.file) if one.file else None,
                "start_s": round(one.start_s + 3e-7, 6),
                "end_s": round(one.end_s + 3e-7, 6),
            }
        )

    def strip(c: Channel) -> Channel:
        order = list(reversed(range(len(c.sends))))
        sends = tuple(
            c.sends[n].model_copy(update={"to": lead(c.sends[n].to), "level_db": _level(c.sends[n].level_db)})
            for n in order
        )
        lanes = tuple(_moved(lane, order) for lane in reversed(c.automation))
        return c.model_copy(
            update={
                "id": ids[c.id], "name": c.name.upper(), "parent": lead(c.parent), "output": lead(c.output),
                "fader_db": _level(c.fader_db), "pan": round(float(c.pan) + 4e-5, 4), "sends": sends,
                "clips": tuple(clip(one) for one in reversed(c.clips)), "automation": lanes, "where": "elsewhere",
                "inserts": tuple(i.model_copy(update={"id": f"x{n}"}) for n, i in enumerate(c.inserts)),
            }
        )  # fmt: skip

    return session.model_copy(
        update={
            "channels": tuple(strip(c) for c in reversed(session.channels)),
            "media": tuple(m.model_copy(update={"id": files[m.id], "path": f"pool/{m.path}"}) for m in session.media),
        }
    )


def _moved(lane: Automation, order: list[int]) -> Automation:
    if lane.target.place is None or not lane.target.of_send:
        return lane
    return lane.model_copy(update={"target": replace(lane.target, place=order.index(lane.target.place))})


def with_channel(session: Session, number: int, **changes: Any) -> Session:
    """The session with one channel changed."""
    channels = list(session.channels)
    channels[number] = channels[number].model_copy(update=changes)
    return session.model_copy(update={"channels": tuple(channels)})


def _rides(channel: Channel, target: str) -> bool:
    return any(str(lane.target) == target for lane in channel.automation)


def _on_channel(fit: Callable[[Channel], bool], change: Callable[[Channel], dict[str, Any]], what: str) -> Any:
    def plant(session: Session, pick: Callable[[list[int]], int]) -> Planted | None:
        fitting = [n for n, c in enumerate(session.channels) if fit(c)]
        if not fitting:
            return None
        number = pick(fitting)
        changed = with_channel(session, number, **change(session.channels[number]))
        return changed, what, session.channels[number].name

    return plant


def _louder(db: Any) -> float:
    return 0.0 if db <= -90.0 else db + 0.75


def _first_send(c: Channel, **changes: Any) -> dict[str, Any]:
    return {"sends": (c.sends[0].model_copy(update=changes), *c.sends[1:])}


def _first_insert(c: Channel, **changes: Any) -> dict[str, Any]:
    return {"inserts": (c.inserts[0].model_copy(update=changes), *c.inserts[1:])}


def _first_clip(c: Channel, **changes: Any) -> dict[str, Any]:
    return {"clips": (c.clips[0].model_copy(update=changes), *c.clips[1:])}


def _one_send(c: Channel) -> bool:
    """One send that sounds, so that nothing else could be taken for it."""
    return len(c.sends) == 1 and c.sends[0].on is True and c.sends[0].level_db > -90.0 and not c.automation


def _moves(c: Channel) -> dict[str, Any]:
    lane = next(one for one in c.automation if str(one.target) == "fader")
    other = Automation(target="fader", scale="dB", t=lane.t, v=tuple(_louder(v) for v in lane.v), shape=lane.shape)
    return {"automation": (other, *(one for one in c.automation if one is not lane))}


def _alone(c: Channel) -> bool:
    """Its first clip is the only one with that file, so that a moved clip is told from a replaced one."""
    return bool(c.clips) and len({(k.file, k.plays) for k in c.clips}) == len(c.clips)


def _other_file(session: Session, pick: Callable[[list[int]], int]) -> Planted | None:
    """The first clip of a channel plays another file in its place."""
    fitting = [n for n, c in enumerate(session.channels) if c.clips and c.clips[0].file is not None]
    if not fitting:
        return None
    number = pick(fitting)
    media = (*session.media, MediaFile(id="another", path="audio/another take.wav", legs=1))
    changes = _first_clip(session.channels[number], file="another")
    changed = with_channel(session.model_copy(update={"media": media}), number, **changes)
    return changed, "audio", session.channels[number].name


PLANTS: dict[str, Any] = {
    "fader": _on_channel(lambda c: not _rides(c, "fader"), lambda c: {"fader_db": _louder(c.fader_db)}, "level"),
    "pan": _on_channel(lambda c: not _rides(c, "pan"), lambda c: {"pan": c.pan + (6.0 if c.pan < 0 else -6.0)}, "pan"),
    "mute": _on_channel(lambda c: not _rides(c, "mute"), lambda c: {"mute": not c.mute}, "mute"),
    "solo": _on_channel(lambda c: True, lambda c: {"solo": not c.solo}, "solo"),
    "output": _on_channel(lambda c: c.output is not None, lambda c: {"output": None}, "output"),
    "send level": _on_channel(_one_send, lambda c: _first_send(c, level_db=c.sends[0].level_db - 0.75), "send"),
    "send pan": _on_channel(
        _one_send, lambda c: _first_send(c, pan=c.sends[0].pan + (6.0 if c.sends[0].pan < 0 else -6.0)), "send"
    ),
    "send tap": _on_channel(
        _one_send, lambda c: _first_send(c, tap="pre" if c.sends[0].tap == "post" else "post"), "send"
    ),
    "send off": _on_channel(_one_send, lambda c: _first_send(c, on=False), "send"),
    "send removed": _on_channel(_one_send, lambda c: {"sends": ()}, "send"),
    "send added": _on_channel(
        lambda c: c.kind == "track" and not c.sends,
        lambda c: {"sends": (Send(to=c.output, level_db=-20.0),)},
        "send",
    ),
    "insert added": _on_channel(
        lambda c: True, lambda c: {"inserts": (*c.inserts, Insert(name="Salt Mill 7"))}, "insert"
    ),
    "insert removed": _on_channel(lambda c: bool(c.inserts), lambda c: {"inserts": c.inserts[:-1]}, "insert"),
    "insert bypassed": _on_channel(
        lambda c: bool(c.inserts), lambda c: _first_insert(c, on=not c.inserts[0].on), "insert"
    ),
    "insert set": _on_channel(
        lambda c: bool(c.inserts and c.inserts[0].equalizer and c.inserts[0].equalizer.bands),
        lambda c: _first_insert(c, equalizer=_other_band(c.inserts[0])),
        "insert",
    ),
    "clip moved": _on_channel(
        _alone, lambda c: _first_clip(c, start_s=c.clips[0].start_s + 0.0021, end_s=c.clips[0].end_s + 0.0021), "clip"
    ),
    "clip cut": _on_channel(_alone, lambda c: _first_clip(c, end_s=c.clips[0].end_s + 0.0021), "clip"),
    "clip slipped": _on_channel(
        lambda c: _alone(c) and c.clips[0].file is not None,
        lambda c: _first_clip(c, offset_s=c.clips[0].offset_s + 0.0021),
        "clip",
    ),
    "clip off": _on_channel(lambda c: bool(c.clips), lambda c: _first_clip(c, on=not c.clips[0].on), "clip"),
    "clip gain": _on_channel(lambda c: bool(c.clips), lambda c: _first_clip(c, gain_db=-1.0), "clip"),
    "clip faded": _on_channel(
        lambda c: bool(c.clips), lambda c: _first_clip(c, fade_out_s=c.clips[0].fade_out_s + 0.0021), "clip"
    ),
    "clip removed": _on_channel(lambda c: bool(c.clips), lambda c: {"clips": c.clips[1:]}, "clip"),
    "clip plays another file": _other_file,
    "automation": _on_channel(lambda c: _rides(c, "fader"), _moves, "automation"),
    "renamed": _on_channel(lambda c: c.kind == "track" and bool(c.clips), lambda c: {"name": "Quite Another"}, "name"),
}


def _other_band(insert: Insert) -> Any:
    assert insert.equalizer is not None
    first, *rest = insert.equalizer.bands
    return insert.equalizer.model_copy(
        update={"bands": (first.model_copy(update={"gain_db": first.gain_db + 0.75}), *rest)}
    )
