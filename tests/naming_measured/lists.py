"""The lists: read from their files, made into sessions."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NamedTuple

from mixlint.session import Channel, Clip, Insert, Send, Session, Unknown

HERE = Path(__file__).parent
KINDS = ("track", "group", "return", "master", "vca", "unknown")
ELSEWHERE = Unknown(unknown="it goes to an output that is no channel of the session")


class Label(NamedTuple):
    """What is right: any of some words, or a question where ``asked``."""

    words: frozenset[str]
    asked: bool

    def judged(self, said: str | None) -> str:
        """``right``, ``wrong`` or ``open``; a question is right where it was asked for."""
        if said is None:
            return "right" if self.asked else "open"
        return "right" if said in self.words else "wrong"

    def __str__(self) -> str:
        return "|".join(sorted(self.words)) + ("?" if self.asked else "")


def label(text: str) -> Label:
    """A label as it is written: ``kick``, ``bass|synth``, ``ask``, ``room?``."""
    parts = [part.strip() for part in text.split("|")]
    words = {part.rstrip("?") for part in parts} - {"ask"}
    return Label(frozenset(words), any(part == "ask" or part.endswith("?") for part in parts))


@dataclass
class Listed:
    """One list.

    Args:
        file: where it stands.
        roles: each channel's place in ``session`` with its label and the side its name tells.
        pairs: two names with how they pair.
        inserts: the kind of channel, the insert's name and what it does.
        categories: the category words of open plug-in standards and what they say.
        title: what the list is called.
    """

    file: Path
    session: Session
    roles: list[tuple[Channel, Label, str]] = field(default_factory=list)
    pairs: list[tuple[str, str, Label]] = field(default_factory=list)
    inserts: list[tuple[str, str, Label]] = field(default_factory=list)
    categories: list[tuple[str, Label]] = field(default_factory=list)
    title: str = ""


BESIDE = "# also in this session, unlabelled"
"""What stands before the names of a session that are not labelled, and that its others stand beside."""


def lists_in(*folders: Path) -> Iterator[Listed]:
    """Every list in some folders, in order of their names; open data as it was gathered stands in tables."""
    for folder in folders:
        for file in sorted(folder.rglob("*.txt")):
            yield _read(file, file.read_text(encoding="utf-8").splitlines())
        for file in sorted(folder.rglob("tracks.tsv")):
            yield from (_read(file, lines) for lines in _sessions(file))
        for file in sorted(folder.rglob("words.tsv")):
            yield from (_read(file, [f"{name}\t{role}\t-"]) for name, role, *_ in _cells(file))
        for file in sorted(folder.rglob("processors.tsv")):
            yield Listed(file, Session(), inserts=[("track", name, label(kind)) for name, kind, *_ in _cells(file)])
        for file in sorted(folder.rglob("categories.tsv")):
            yield Listed(file, Session(), categories=[(word, label(kind)) for word, kind, *_ in _cells(file)])


def labelled_lines(folder: Path) -> Iterator[Listed]:
    """The labelled lists of the tests of naming, each line a session of its own with what stands around it."""
    for file in sorted(folder.glob("track_names*.tsv")):
        for name, role, context in ((cells[1], cells[0], (*cells, "", "")[2]) for cells in _cells(file)):
            known = {key: value for key, _, value in (part.partition("=") for part in contexts(context))}
            also = [other for other in known.get("also", "").split("|") if other]
            known |= {"inserts": known.pop("effects")} if "effects" in known else {}
            known |= {"clips": "yes"} if known.get("clips") else {}
            told = "; ".join(f"{key}={value}" for key, value in known.items() if key != "also")
            rows = [f"{name}\t{role}\t-\t{told or 'kind=track'}", *(f"{other}\task\t-\tkind=track" for other in also)]
            listed = _read(file, rows)
            listed.roles = listed.roles[:1]
            yield listed


def contexts(text: str) -> list[str]:
    """``also=`` may hold spaces, so parts begin where a word with ``=`` begins."""
    parts: list[str] = []
    for word in text.split(" "):
        if "=" in word or not parts:
            parts.append(word)
        else:
            parts[-1] += " " + word
    return [part for part in parts if part]


def _cells(file: Path) -> Iterator[list[str]]:
    for line in file.read_text(encoding="utf-8").splitlines():
        if line.strip() and not line.startswith("#"):
            yield [cell.strip() for cell in line.split("\t")]


def _sessions(file: Path) -> Iterator[list[str]]:
    """The lines of each session of a table, which begin with its title."""
    lines: list[str] = []
    for line in file.read_text(encoding="utf-8").splitlines():
        if line.startswith("# session") and lines:
            yield lines
            lines = []
        lines.append(line)
    if lines:
        yield lines


def _read(file: Path, lines: list[str]) -> Listed:
    title = next((line.partition(":")[2].strip() for line in lines if line.startswith("# session")), file.stem)
    rows = [[cell.strip() for cell in line.split("\t")] for line in lines if line.strip() and not line.startswith("#")]
    strips = [row for row in rows if row[0] not in ("pair", "insert") or len(row) < 4]
    told = [line.partition(": ")[2] for line in lines if line.startswith(BESIDE)]
    beside = [[name.strip(), "?"] for text in told for name in text.split(" ; ")]
    made = [_channel(at, row, [*strips, *beside]) for at, row in enumerate([*strips, *beside])]
    listed = Listed(file, Session(channels=tuple(made)), title=title)
    listed.roles = [
        (made[at], label(row[1]), row[2] if len(row) > 2 and row[2] else "-") for at, row in enumerate(strips)
    ]
    kinds = {channel.name: channel.kind for channel in made}
    for row in rows:
        if row[0] == "pair" and len(row) >= 4:
            listed.pairs.append((row[1], row[2], label(row[3])))
        if row[0] == "insert" and len(row) >= 4:
            kind = kinds.get(row[1], "track")
            listed.inserts.append((kind if isinstance(kind, str) else "track", row[2], label(row[3])))
    return listed


def _channel(at: int, row: list[str], strips: list[list[str]]) -> Channel:
    known = dict(part.split("=", 1) for part in (row[3] if len(row) > 3 else "").split("; ") if "=" in part)
    known = {key.strip(): value.strip() for key, value in known.items()}
    if not known and row[0].endswith(".wav"):
        known = {"plays": "audio", "clips": "yes"}  # a file of a set is a recording
    places = {other[0]: f"c{place}" for place, other in reversed(list(enumerate(strips)))}
    kind: Any = known.get("kind", "track")
    if kind not in KINDS:
        raise ValueError(f"{row}: no kind of strip {kind!r}")
    output: Any = Unknown(unknown="not told")
    if "out" in known:
        output = places.get(known["out"], ELSEWHERE)
    if output == f"c{at}":
        output = ELSEWHERE
    parent = places.get(known.get("parent", ""))
    return Channel(
        id=f"c{at}",
        name=row[0],
        kind=Unknown(unknown="not declared") if kind == "unknown" else kind,
        parent=parent if parent != f"c{at}" else None,
        folder=tuple(part for part in known.get("folder", "").split("/") if part),
        output=output,
        plays=(known["plays"],) if known.get("plays") in ("audio", "notes") else (),  # type: ignore[arg-type]
        clips=(_clip(known),) if known.get("clips") == "yes" else (),
        sends=tuple(
            Send(to=places[name]) for one in known.get("sends", "").split(",") if (name := one.strip()) in places
        ),
        inserts=tuple(Insert(name=one.strip()) for one in known.get("inserts", "").split(",") if one.strip()),
    )


def _clip(known: dict[str, str]) -> Clip:
    return Clip(start_s=0.0, end_s=60.0, plays="notes" if known.get("plays") == "notes" else "audio")
