"""Small sessions for the tests of analyses and facts, with questions asked by table and fact."""

from __future__ import annotations

from typing import Any

from mixlint.facts import TABLES, FactValue, House, SessionContext
from mixlint.session import Channel, Clip, Insert, Send, Session, Tempo, Timeline, Unknown


def context(*channels: Channel, house: House | None = None, **more: Any) -> SessionContext:
    timeline = Timeline(tempos=(Tempo(bpm=120.0),))
    return SessionContext(Session(title="Harrow Gate", channels=channels, timeline=timeline, **more), house)


def track(name: str, *, at: tuple[float, float] | None = (0.0, 60.0), output: Any = "Mix", **more: Any) -> Channel:
    clips = (Clip(start_s=at[0], end_s=at[1]),) if at else ()
    return Channel(
        id=name,
        name=name,
        kind="track",
        legs=more.pop("legs", 1),
        output=output,
        clips=more.pop("clips", clips),
        **more,
    )


def bus(name: str, *, kind: str = "group", output: Any = "Mix", **more: Any) -> Channel:
    return Channel(id=name, name=name, kind=kind, legs=2, output=output, **more)


def mix(**more: Any) -> Channel:
    return Channel(id="Mix", name="Mix Bus", kind="master", legs=2, output=None, **more)


def send(to: str, level_db: float = 0.0, **more: Any) -> Send:
    return Send(to=to, level_db=level_db, **more)


def reverb(wet: Any = 100.0, name: str = "Old Hall", **more: Any) -> Insert:
    return Insert(name=name, kind="reverb", wet=wet, **more)


def ask(at: SessionContext, table: str, name: str, fact: str) -> FactValue | Unknown:
    """The value of one fact for the row whose subject bears ``name``."""
    rows = [row for row in TABLES[table].rows(at) if row.subject.name == name]
    assert rows, f"no row {name!r} in {table}"
    return rows[0].value(fact)


def value(at: SessionContext, table: str, name: str, fact: str) -> Any:
    """The value of one fact; fails with the reason where it is unknown."""
    found = ask(at, table, name, fact)
    assert isinstance(found, FactValue), found
    return found.value
