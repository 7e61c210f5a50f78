"""Small desks for the routing tests."""

from __future__ import annotations

from typing import Any

from mixlint.session import Channel, Insert, Send, Session


def session(*channels: Channel) -> Session:
    return Session(channels=channels)


def track(name: str, output: Any = "Mix", **more: Any) -> Channel:
    return Channel(id=name, name=name, kind="track", legs=more.pop("legs", 1), output=output, **more)


def bus(name: str, output: Any = "Mix", kind: str = "group", **more: Any) -> Channel:
    return Channel(id=name, name=name, kind=kind, legs=more.pop("legs", 2), output=output, **more)


def mix(**more: Any) -> Channel:
    return Channel(id="Mix", name="Mix", kind="master", legs=2, output=None, **more)


def send(to: str, level_db: float = 0.0, **more: Any) -> Send:
    return Send(to=to, level_db=level_db, **more)


def reverb(wet: Any = 100.0, **more: Any) -> Insert:
    return Insert(name="Old Hall", kind="reverb", wet=wet, **more)
