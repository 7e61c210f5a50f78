"""A fact declares every setting that decides it, so that a rule's page and the evidence can show it.

What a fact reads is found out by watching: the house notes each setting that is asked for, and everything the context
and the rows keep remembers what was asked for while it was worked out. So a reading counts for every fact that rests
on it, whichever fact was asked first.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from mixlint.analysis.context import SessionContext
from mixlint.analysis.counterparts import MATCHING
from mixlint.facts import TABLES, House
from mixlint.importers import read
from mixlint.media import Library

EXAMPLES = Path(__file__).resolve().parents[2] / "example_sessions"
SESSIONS = sorted([*EXAMPLES.glob("*.session.json"), *EXAMPLES.glob("house/tried/*.session.json")])


class Watch:
    """What was asked for, by what is being worked out; the outermost first."""

    def __init__(self) -> None:
        self.open: list[set[str]] = [set()]

    def note(self, names: set[str]) -> None:
        self.open[-1] |= names

    def begin(self) -> None:
        self.open.append(set())

    def end(self) -> set[str]:
        """What was asked for since the last beginning; it counts for what is around it too."""
        names = self.open.pop()
        self.note(names)
        return names


class WatchedSettings(dict[str, float]):
    """The settings of a house: none is set, and what is asked for is noted."""

    def __init__(self, watch: Watch) -> None:
        super().__init__()
        self.watch = watch

    def get(self, name: str, default: Any = None, /) -> Any:
        self.watch.note({name})
        return default


class Kept(dict[Any, Any]):
    """What was worked out, with what was asked for meanwhile; a key that is missing is worked out next and kept."""

    def __init__(self, watch: Watch) -> None:
        super().__init__()
        self.watch = watch
        self.names: dict[Any, set[str]] = {}

    def get(self, key: Any, default: Any = None, /) -> Any:
        if key in self:
            self.watch.note(self.names[key])
        else:
            self.watch.begin()
        return super().get(key, default)

    def __setitem__(self, key: Any, value: Any) -> None:
        self.names[key] = self.watch.end()
        super().__setitem__(key, value)


class KeptByFunction(dict[Any, Any]):
    """The memory of a context: one watched memory for each function."""

    def __init__(self, watch: Watch) -> None:
        super().__init__()
        self.watch = watch

    def setdefault(self, key: Any, _default: Any = None, /) -> Any:
        return super().setdefault(key, Kept(self.watch))


def readings(context: SessionContext) -> Iterator[tuple[str, set[str], set[str]]]:
    """Each fact and table of a session: its name, the settings it asked for, those that are declared."""
    watch = Watch()
    context.house = House(settings=WatchedSettings(watch))
    context.kept = KeptByFunction(watch)
    for table in TABLES.values():
        watch.begin()
        rows = table.rows(context)
        yield table.name, watch.end(), {one.name for one in table.settings}
        for row in rows:
            row.values = Kept(watch)
        for fact in table.facts.values():
            watch.begin()
            for row in rows:
                row.value(fact.name)
            yield f"{table.name}.{fact.name}", watch.end(), {one.name for one in fact.settings}
    assert len(watch.open) == 1


@pytest.mark.parametrize("path", SESSIONS, ids=lambda path: path.name.removesuffix(".session.json"))
def test_every_setting_that_a_fact_reads_is_declared_by_it(path: Path) -> None:
    undeclared = {name: read - said for name, read, said in readings(SessionContext(read(path))) if read - said}
    assert undeclared == {}


@pytest.mark.slow
def test_the_same_with_audio() -> None:
    """Facts measured in the audio may rest on settings that the export alone never reaches."""
    path = EXAMPLES / "sixpenny-weathervane-flawed.dawproject"
    session = read(path)
    with Library(session, path, cache_dir=None) as library:
        found = list(readings(SessionContext(session, audio=library)))
    assert {name: read - said for name, read, said in found if read - said} == {}


def test_watching_sees_what_is_read_whoever_asked_first() -> None:
    """Several facts rest on one matching of counterparts; without this the test above could not fail."""
    found: dict[str, set[str]] = {}
    for path in SESSIONS:
        for name, read_here, _ in readings(SessionContext(read(path))):
            found.setdefault(name, set()).update(read_here)
    matching = {one.name for one in MATCHING}
    assert found["source.answered"] == found["source.counterpart"] == found["source.answered_percent"] == matching
    assert found["pair"] == matching
    assert found["source.twin"] == {"counterparts.least_angle_ratio"}
    assert found["channel.name"] == set()


@pytest.mark.slow
def test_a_declared_setting_is_read_by_something() -> None:
    """A setting that no fact of any example asks for would decide nothing."""
    asked: set[str] = set()
    for path in SESSIONS:
        asked |= {name for _, names, _ in readings(SessionContext(read(path))) for name in names}
    assert {one.name for one in MATCHING} <= asked
