"""What is read of the lists, against what is right."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import NamedTuple

from mixlint.naming import Reading, family_of, pair_kind, read_processor, read_roles, side_of
from mixlint.session import Insert
from tests.naming_measured.lists import Label, Listed

_CAME = ("right", "wrong", "broad", "open")
SUBJECTS = ("roles", "sides", "pairs", "processors", "categories")


class Miss(NamedTuple):
    """A name that was not read right: ``came`` is ``wrong`` or ``open``."""

    subject: str
    came: str
    file: str
    name: str
    wanted: str
    said: str | None
    grounds: str


@dataclass
class Score:
    """How often each subject came right, wrong, open, and what did not come right."""

    counts: dict[str, Counter[str]] = field(default_factory=lambda: {subject: Counter() for subject in SUBJECTS})
    missed: list[Miss] = field(default_factory=list)

    def add(self, subject: str, came: str, miss: Miss) -> None:
        """Count one name."""
        self.counts[subject][came] += 1
        if came != "right":
            self.missed.append(miss)

    def share(self, subject: str, came: str) -> float:
        """The share of a subject's names that came so, 0…1; 0 where there are none."""
        total = self.counts[subject].total()
        return self.counts[subject][came] / total if total else 0.0

    def table(self) -> str:
        """A table by subject."""
        lines = [
            "| | n | right or rightly asked | wrong | family alone | open |",
            "| --- | ---: | ---: | ---: | ---: | ---: |",
        ]
        for subject, counted in self.counts.items():
            if counted.total():
                shares = " | ".join(f"{100 * self.share(subject, came):.1f} %" for came in _CAME)
                lines.append(f"| {subject} | {counted.total()} | {shares} |")
        return "\n".join(lines)


_BROAD = frozenset({"guitar", "vocal", "drums", "effect-return"})
"""Roles of a family whose closer kind is not told: they claim nothing that is not so of a closer one."""


def of_a_role(wanted: Label, said: str | None) -> str:
    """As :meth:`Label.judged`; a role that leaves the closer kind open is ``broad`` where a closer one was right."""
    came = wanted.judged(said)
    if came == "wrong" and said in _BROAD and family_of(str(said)) in {family_of(word) for word in wanted.words}:
        return "broad"
    return came


def score(lists: Iterable[Listed]) -> Score:
    """Read every list as sessions are read."""
    out = Score()
    for one in lists:
        readings = read_roles(one.session)
        for channel, wanted, side in one.roles:
            reading: Reading = readings[channel.id]
            came = of_a_role(wanted, reading.word)
            told = "; ".join(reading.grounds)
            out.add(
                "roles",
                came,
                Miss("roles", came, one.title or one.file.stem, channel.name, str(wanted), reading.word, told),
            )
            said = side_of(channel.name)
            came = "right" if (said or "-") == side else "open" if said is None else "wrong"
            out.add("sides", came, Miss("sides", came, one.title or one.file.stem, channel.name, side, said, ""))
        for name, other, wanted in one.pairs:
            kind = pair_kind(name, other)
            if "none" in wanted.words:
                came = "right" if kind in (None, *wanted.words) else "wrong"
            else:
                came = wanted.judged(kind)
            miss = Miss("pairs", came, one.title or one.file.stem, f"{name} / {other}", str(wanted), kind, "")
            out.add("pairs", came, miss)
        for on, name, wanted in one.inserts:
            reading = read_processor(Insert(name=name), on=on)  # type: ignore[arg-type]
            came = wanted.judged(reading.word)
            told = "; ".join(reading.grounds)
            out.add(
                "processors",
                came,
                Miss("processors", came, one.title or one.file.stem, name, str(wanted), reading.word, told),
            )
        for word, wanted in one.categories:
            reading = read_processor(Insert(name="", categories=(word,)))
            came = wanted.judged(reading.word)
            told = "; ".join(reading.grounds)
            out.add("categories", came, Miss("categories", came, one.title, word, str(wanted), reading.word, told))
    return out
