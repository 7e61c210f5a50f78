"""The reading of roles against a labelled list of track names.

The labels are common practice, no source: what a mix engineer would call the channel, written before the reader was
tuned. Role words follow the trade's usual names in twenty-one languages. A label ``side=`` is the side the name tells.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import pytest

from mixlint.naming import ROLES, Reading, read_roles, side_of
from mixlint.session import Channel, Clip, Insert, Session, Unknown
from tests.naming_measured.lists import contexts

HERE = Path(__file__).parent


@dataclass(frozen=True)
class Labelled:
    """One line of the list."""

    label: str
    name: str
    context: str
    line: int

    def session(self) -> Session:
        """A session with this channel first and what the context tells around it."""
        known = dict(part.split("=", 1) for part in contexts(self.context))
        kind = known.get("kind", "track")
        plays = known.get("plays", "audio" if kind == "track" else "")
        clips = (Clip(start_s=0.0, end_s=4.0),) if known.get("clips") else ()
        channel = Channel(
            id="it",
            name=self.name,
            kind=Unknown(unknown="not declared") if kind == "unknown" else kind,  # type: ignore[arg-type]
            folder=(known["folder"],) if "folder" in known else (),
            plays=(plays,) if plays else (),  # type: ignore[arg-type]
            inserts=tuple(
                Insert(name=e, kind=e)  # type: ignore[arg-type]
                for e in known.get("effects", "").split(",")
                if e
            ),
            clips=clips,
        )
        others = [n for n in known.get("also", "").split("|") if n]
        return Session(channels=(channel, *(Channel(id=f"o{i}", name=n, kind="track") for i, n in enumerate(others))))

    def reading(self) -> Reading:
        """What the room reads."""
        return read_roles(self.session())["it"]


@lru_cache
def labelled(file: str) -> tuple[Labelled, ...]:
    """The lines of a list."""
    out = []
    for number, line in enumerate((HERE / file).read_text(encoding="utf-8").splitlines(), 1):
        if line and not line.startswith("#"):
            label, name, context = (*line.split("\t"), "")[:3]
            out.append(Labelled(label, name, context, number))
    return tuple(out)


def score(file: str) -> tuple[int, list[str], list[str]]:
    """Right, wrong (a role where another or none was right) and left open, the latter two as lines to read."""
    right, wrong, left_open = 0, [], []
    for one in labelled(file):
        reading = one.reading()
        if reading.word == (None if one.label == "ask" else one.label):
            right += 1
        else:
            line = f"{file}:{one.line} {one.name!r} [{one.context}]: {one.label}, read {reading.word} {reading.grounds}"
            (left_open if reading.word is None else wrong).append(line)
    return right, wrong, left_open


FILES = {
    "track_names.tsv": 420,
    "track_names_held_out.tsv": 80,
    "track_names_held_out_2.tsv": 80,
    "track_names_held_out_3.tsv": 80,
    "track_names_more_languages.tsv": 640,
    "track_names_wider.tsv": 1400,
}


@pytest.mark.parametrize("file", FILES)
def test_labels_are_roles(file: str) -> None:
    """A label is a role of the room or ``ask``, and no line stands twice."""
    assert {one.label for one in labelled(file)} <= {*ROLES, "ask"}
    keys = [(one.name, one.context) for one in labelled(file)]
    assert len(keys) == len(set(keys))


@pytest.mark.parametrize(
    "files", [list(FILES)[:1], list(FILES)[1:4], list(FILES)[4:]], ids=["known", "held-out", "more-languages"]
)
def test_labelled_names(files: list[str]) -> None:
    """At least 95 % read right, at most 1 % wrong, the rest left open.

    The held-out lists once measured the reader unseen (those scores stand at their tops); now they guard it.
    """
    right, total, wrong, left_open = 0, 0, [], []
    for file in files:
        assert len(labelled(file)) >= FILES[file]
        total += len(labelled(file))
        here, wrong_here, open_here = score(file)
        right, wrong, left_open = right + here, wrong + wrong_here, left_open + open_here
    told = "\n".join(["wrong:", *wrong, "left open:", *left_open])
    assert right >= 0.95 * total, told
    assert len(wrong) <= 0.01 * total, told


def test_labelled_sides() -> None:
    """No name of the list in more languages tells a side that its label does not, and at least 90 % tell theirs."""
    lines = labelled("track_names_more_languages.tsv")
    asked = [(one, dict(part.split("=", 1) for part in contexts(one.context)).get("side")) for one in lines]
    wrong = [(one.line, one.name) for one, side in asked if side_of(one.name) not in (None, side)]
    missed = [(one.line, one.name) for one, side in asked if side and side_of(one.name) is None]
    assert wrong == []
    assert len(missed) <= 0.1 * sum(side is not None for _, side in asked), missed


ORDINARY_WORDS = [
    "Monkey",
    "Laptop",
    "Outside",
    "Overdub",
    "Override",
    "Overlap",
    "Microphones",
    "Telephone",
    "Masterpiece",
    "Resolute",
    "Revamp",
    "Printer",
    "Carbon",
    "Organic",
    "Summer",
    "Rider",
    "Slider",
    "Mission",
    "Sunrise",
    "Cabinet",
    "Imperial",
    "Distance",
    "Percent",
    "Strange",
    "Clever",
    "Blueprint",
    "Descending",
    "Retrain",
    "Mickey",
    "Andrea",
    "Markus",
    "Petra",
    "Oskar",
    "Hannah",
    "Window",
    "Yellow",
    "Baseline",
    "Concert",
    "Harvest",
    "Plastic",
    "Velvet",
    "Ghost",
    "Orbit",
    "Tomi",
    "Otto",
    "Sade",
    "Ana Duarte",
    "Kita",
    "김현우",
    "킥보드",
    "북쪽",
    "징글",
]


@pytest.mark.parametrize("word", ORDINARY_WORDS)
def test_ordinary_words_tell_of_no_part(word: str) -> None:
    """A song's or a player's name is not taken apart into words of the trade."""
    session = Session(channels=(Channel(id="it", name=word, kind="track", plays=("audio",)),))
    assert read_roles(session)["it"].word is None
