"""Reviews of many sessions kept between runs, so that one of which nothing changed costs a look.

An entry says what it rests on (:mod:`mixlint.runs.witness`) and on which days, and holds the review with its rows, or
the part of a document that was written of it. It bears its own name, which is a hash over all that was asked and over
the state of the program, begins with a checksum over all the rest, and is taken apart within bounds: one that is
damaged, cut short, another's or huge is as good as none, and the session is reviewed. As with kept measures, a forged
entry that keeps to all this is told from a true one by nothing, so that the folder is the user's own
(:mod:`mixlint.media.cache_folder`).
"""

from __future__ import annotations

import json
import os
import re
import zlib
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import asdict, dataclass, fields, replace
from datetime import date
from pathlib import Path
from typing import Any, Final, NamedTuple

from mixlint.errors import RefusedFile
from mixlint.media.sealed import Misfit, put_sealed, sealed, unpacked
from mixlint.media.storing import tidy
from mixlint.reports.several import Html, Told
from mixlint.runs.witness import Leaf, content_of, names_in, seen_at, settled, stamp_of

FOLDER: Final = "reviews"
"""Where they lie in the folder of kept measures."""

MOST_KEPT: Final = 256 << 20
"""How many bytes of reviews are kept: a review of 12 tracks takes some 10 kB, its page 60 kB."""
MOST_FILES: Final = 60_000
MOST_ENTRY: Final = 64 << 20
"""Bytes of an entry on the disk."""
MOST_TEXT: Final = 256 << 20
"""Bytes of what it holds, unpacked."""
_MOST_HEAD: Final = 32 << 20

_MAGIC: Final = b"mixlint review\n"
_OURS: Final = re.compile(r"[0-9a-f]{64}\.(?:review|part|\w+\.half)")
_DAY: Final = re.compile(r"(?:\d{4}-\d\d-\d\d)?")
_CONTROLS: Final = re.compile(r"[\x00-\x08\x0b-\x1f\x7f]")
_CONTROL_BYTES: Final = bytes([*range(9), *range(11, 32), 127])
"""The same in UTF-8, by which most texts are cleared in a moment."""
_WEIGHT: Final = re.compile(r"\x1b\[[0-9;]{1,8}m")
_LINES: Final = 100_000


class Span(NamedTuple):
    """The days on which a review comes out the same, as far as its sign-offs go: from the first, before the second.

    Both are written in ISO 8601; empty where there is no such day.
    """

    first: str = ""
    until: str = ""

    def holds(self, day: date) -> bool:
        """Whether a day is one of them."""
        now = day.isoformat()
        return (not self.first or self.first <= now) and (not self.until or now < self.until)


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry.

    Args:
        leaves: what it rests on.
        span: the days for which it was made.
        plain: what it says, as JSON has it.
        text: the review, or the part.
        controls: the text has characters that no text for people has.
    """

    leaves: tuple[Leaf, ...]
    span: Span
    plain: dict[str, Any]
    text: str
    controls: bool = True


class Looked:
    """What was looked at in one run, each place once."""

    def __init__(self, day: date) -> None:
        self.day = day
        self._stamps: dict[str, tuple[int, ...]] = {}
        self._whats: dict[tuple[str, str], str] = {}

    def stamp(self, path: str) -> tuple[int, ...]:
        """The stamp of a place."""
        if path not in self._stamps:
            self._stamps[path] = stamp_of(path)
        return self._stamps[path]

    def what(self, kind: str, path: str) -> str:
        """What stands there, as a leaf says it."""
        key = (kind, path)
        if key not in self._whats:
            self._whats[key] = {"file": content_of, "folder": names_in, "seen": seen_at}[kind](path)
        return self._whats[key]

    def renewed(self, leaves: tuple[Leaf, ...]) -> tuple[Leaf, ...] | None:
        """The leaves with the stamps they have now, where each is what it was; None where one is not."""
        found = []
        for leaf in leaves:
            stamp = self.stamp(leaf.path) if leaf.kind != "seen" else ()
            if not leaf.stamp or stamp != leaf.stamp:
                if self.what(leaf.kind, leaf.path) != leaf.what:
                    return None
                found.append(leaf._replace(stamp=settled(stamp)) if leaf.kind != "seen" else leaf)
            else:
                found.append(leaf)
        return tuple(found)


def keep(place: Path, entry: Entry) -> None:
    """Write an entry, whole or not at all; one that could not be read again is not written.

    Raises:
        OSError: the folder cannot be written.
    """
    plain = {"name": place.name, "leaves": _plain_leaves(entry.leaves), "span": list(entry.span), "says": entry.plain}
    head = json.dumps(plain, allow_nan=False).encode("ascii")
    body = zlib.compress(entry.text.encode("utf-8", "surrogatepass"), 1)
    whole = len(head).to_bytes(4, "little") + head + body
    if len(whole) > MOST_ENTRY or len(head) > _MOST_HEAD or len(entry.text) > MOST_TEXT // 4:
        return
    put_sealed(place, _MAGIC, whole, ".half")


def fetch(place: Path, *, leaves: bool = True, text: bool = True) -> Entry | None:
    """An entry that can be believed, or None.

    Args:
        place: where it is kept.
        leaves: what it rests on is to be looked at; else it was, in this run.
        text: its text is wanted; else it has none.
    """
    try:
        return _unpacked(place, leaves, text)
    except (OSError, RefusedFile, Misfit):
        return None


def still(place: Path, looked: Looked) -> bool:
    """Whether an entry is there and all it rests on is as it was; its stamps are brought up to date where they help."""
    entry = fetch(place, text=False)
    if entry is None or not entry.span.holds(looked.day):
        return False
    leaves = looked.renewed(entry.leaves)
    if leaves is None:
        return False
    if any(new.stamp and new.stamp != old.stamp for new, old in zip(leaves, entry.leaves, strict=True)):
        whole = fetch(place, leaves=False)
        with suppress(OSError):  # it holds all the same
            if whole is not None:
                keep(place, replace(whole, leaves=leaves))
    else:
        with suppress(OSError):
            os.utime(place)
    return True


def tidied(folder: Path) -> None:
    """Remove the entries that were not used for longest, where there are too many."""
    tidy(folder, MOST_KEPT, MOST_FILES, _OURS)


def _unpacked(place: Path, leaves: bool, text: bool) -> Entry:
    whole = sealed(place, _MAGIC, MOST_ENTRY)
    size = int.from_bytes(whole[:4], "little")
    if len(whole) < 4 or size > min(len(whole) - 4, _MOST_HEAD):
        raise Misfit("it is cut short")
    try:
        plain: Any = json.loads(bytes(whole[4 : 4 + size]))
    except (ValueError, RecursionError) as fault:
        raise Misfit("it holds no values") from fault
    if not isinstance(plain, dict) or plain.get("name") != place.name:
        raise Misfit("it is the entry of something else")
    says = plain.get("says")
    if not isinstance(says, dict):
        raise Misfit("it says nothing")
    rests_on = _leaves(plain.get("leaves")) if leaves else ()
    body = unpacked(whole[4 + size :], MOST_TEXT) if text else b""
    try:
        said = body.decode("utf-8", "surrogatepass")
    except ValueError as fault:
        raise Misfit("it is no text") from fault
    controls = len(body.translate(None, _CONTROL_BYTES)) < len(body)
    return Entry(rests_on, _span(plain.get("span")), says, said, controls)


def _plain_leaves(leaves: Iterable[Leaf]) -> list[Any]:
    """Leaves as JSON has them: of what was only looked at the places together that came to the same."""
    seen: dict[str, list[str]] = {}
    read: list[Any] = []
    for leaf in leaves:
        if leaf.kind == "seen":
            seen.setdefault(leaf.what, []).append(leaf.path)
        else:
            read.append([leaf.kind, leaf.path, leaf.what, list(leaf.stamp)])
    return [read, [[what, *paths] for what, paths in seen.items()]]


def _leaves(plain: Any) -> tuple[Leaf, ...]:
    found = []
    parts = _list(plain)
    if len(parts) != 2:
        raise Misfit("it does not say what it rests on")
    for one in _list(parts[0]):
        if not (isinstance(one, list) and len(one) == 4 and _all(str, one[:3]) and isinstance(one[3], list)):
            raise Misfit("it does not say what it rests on")
        kind, path, what, stamp = one
        if (
            kind not in ("file", "folder")
            or not os.path.isabs(path)
            or not _all(int, stamp)
            or len(stamp) not in (0, 5)
        ):
            raise Misfit("it does not say what it rests on")
        found.append(Leaf(kind, path, what, tuple(stamp)))
    for one in _list(parts[1]):
        if not (isinstance(one, list) and one and _all(str, one)):
            raise Misfit("it does not say what it rests on")
        found += [Leaf("seen", path, one[0]) for path in one[1:]]
    if not found:
        raise Misfit("it rests on nothing")
    return tuple(found)


def _all(kind: type, some: list[Any]) -> bool:
    return {*map(type, some)} <= {kind}


def _span(plain: Any) -> Span:
    if not (isinstance(plain, list) and len(plain) == 2 and all(isinstance(day, str) for day in plain)):
        raise Misfit("it does not say for which days it is")
    if not all(_DAY.fullmatch(day) for day in plain):
        raise Misfit("it does not say for which days it is")
    return Span(*plain)


def _list(plain: Any) -> list[Any]:
    if not isinstance(plain, list) or len(plain) > _LINES:
        raise Misfit("it holds no list")
    return plain


# --- what a part says


def plain_told(told: Told) -> dict[str, Any]:
    """What is told of a session, as JSON has it."""
    return asdict(told)


def told_of(entry: Entry) -> Told:
    """The same again, held to what it can be.

    Args:
        entry: an entry of a part, whose text is looked through for what no part holds.

    Raises:
        Misfit: it is none.
    """
    plain = entry.plain.get("told")
    if not isinstance(plain, dict) or set(plain) != {one.name for one in fields(Told)}:
        raise Misfit("it tells of no session")
    told = dict(plain)
    words = ("source", "title", "grades", "opens", "page")
    if not all(isinstance(told[one], str) for one in words) or type(told["cautions"]) is not bool:
        raise Misfit("it tells of no session")
    if told["outcome"] not in ("held", "look", "clear"):
        raise Misfit("it came to nothing")
    told["row"], told["drawn"] = _texts(told["row"]), _texts(told["drawn"])
    tally = _list(told["tally"])
    if len(tally) != 3 or not all(type(one) is int and one >= 0 for one in tally):
        raise Misfit("it counts nothing")
    told["tally"] = tuple(tally)
    _counted(told["counts"])
    told["balance"] = _balance(told["balance"])
    text = entry.text if entry.controls else ""
    for mark in (Html.NUMBER, Html.NAME, Html.WARNING):
        text = text.replace(mark, "")
    said = "\n".join((text, told["grades"], told["opens"], told["page"], *told["row"], *told["drawn"]))
    if "\x1b" in said:  # bold, dim and colour, on a terminal
        said = _WEIGHT.sub("", said)
    if _CONTROLS.search(said) or not all(re.fullmatch(r"[a-z_]{1,40}", one) for one in told["drawn"]):
        raise Misfit("it holds what no part does")
    return Told(**told)


def _texts(plain: Any) -> tuple[str, ...]:
    found = _list(plain)
    if not all(isinstance(one, str) for one in found):
        raise Misfit("it holds no texts")
    return tuple(found)


def _counted(plain: Any) -> None:
    verdicts = ("flagged", "open", "signed", "clear", "idle")
    grades = ("flagged_by_grade", "open_by_grade")
    if not isinstance(plain, dict) or set(plain) != {*verdicts, *grades}:
        raise Misfit("it counts nothing")
    by_grade = [plain[one] for one in grades]
    if not all(isinstance(one, dict) and set(one) == {"hold", "look", "note"} for one in by_grade):
        raise Misfit("it counts nothing")
    numbers = [plain[one] for one in verdicts] + [number for one in by_grade for number in one.values()]
    if not all(type(one) is int and one >= 0 for one in numbers):
        raise Misfit("it counts nothing")


def _balance(plain: Any) -> dict[str, Any] | None:
    if plain is None:
        return None
    if not isinstance(plain, dict) or set(plain) != {"said", "pieces", "dots", "width", "height"}:
        raise Misfit("it has no balance")
    dots = _list(plain["dots"])
    sizes = (plain["width"], plain["height"])
    if not isinstance(plain["said"], str) or not all(type(one) is int and 0 < one < 10_000 for one in sizes):
        raise Misfit("it has no balance")
    if not all(
        isinstance(dot, list) and len(dot) == 2 and all(type(one) in (int, float) for one in dot) for dot in dots
    ):
        raise Misfit("it has no balance")
    return {**plain, "pieces": _texts(plain["pieces"]), "dots": tuple(tuple(dot) for dot in dots)}
