"""What the names of a set of stems say: the part of each, and which of the files hold the mix instead of a part.

A stem is named after its song, its version, a day, a number, how it is stored, and somewhere its part. What all files
of a set have in common tells of the set, and no part.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Final, Literal, NamedTuple

from mixlint.naming.file_reading import says_left_out
from mixlint.naming.fold import as_read
from mixlint.naming.role_reading import families_named
from mixlint.naming.splitting import DAY, STORED, TEMPO, version_pattern, words
from mixlint.naming.vocabulary import SHIPPED, Vocabulary

StemKind = Literal["part", "mix", "version", "reference", "delivery"]
"""What a file of a set holds: a part or a return, the mix itself, another version of it, a mix to compare with, or a
delivery that says itself what its legs are, which no name tells."""


class StemName(NamedTuple):
    """What the name of one file says.

    Args:
        part: the name without what tells of the set, as written.
        kind: what it holds, as far as the name tells.
        version: the number of its version, 0 where it gives none.
    """

    part: str
    kind: StemKind
    version: int


_PIECE: Final = re.compile(r"[^\s_\-.,;+&()\[\]]+")
_LEAST_SHARED: Final = 3
"""So many files have to begin or end alike before what they share is taken for the name of the set."""

_SHARE: Final = 0.75
"""The share of the files that has to do so: a print or a file from elsewhere may be named otherwise."""


def read_stem_names(names: Sequence[str], title: str = "", vocabulary: Vocabulary = SHIPPED) -> dict[str, StemName]:
    """What each file name of a set says, in the order given.

    Args:
        names: file names without folders, each with its suffix.
        title: the name of the song or its folder, whose words tell of no part.
        vocabulary: the words in force.
    """
    plain = {name: _plain(name, vocabulary) for name in dict.fromkeys(names)}
    pieces = {name: _PIECE.findall(text) for name, (text, _) in plain.items()}
    _drop_shared(pieces, vocabulary, end=False)
    _drop_shared(pieces, vocabulary, end=True)
    of_song = frozenset(as_read(title).split())
    found = {}
    for name, (text, version) in plain.items():
        left = _without_numbers(pieces[name])
        kind = _kind(pieces[name], of_song, vocabulary)
        part = " ".join(left) or " ".join(_PIECE.findall(text)) or name.rpartition(".")[0] or name
        found[name] = StemName(part, kind, version)
    return found


def _plain(name: str, vocabulary: Vocabulary) -> tuple[str, int]:
    """A file's name without suffix, day, tempo, storage and version; and the number of its version."""
    text = name.rpartition(".")[0] or name
    for pattern in (DAY, TEMPO, STORED):
        text = pattern.sub(" ", text)
    numbered = version_pattern(vocabulary, whole=True)
    numbers = [int(one) for one in numbered.findall(text)]
    return numbered.sub(" ", text), max(numbers, default=0)


def _drop_shared(pieces: dict[str, list[str]], vocabulary: Vocabulary, *, end: bool) -> None:
    """Take away, in place, what most names begin or end with, as long as it is no part and leaves something."""
    place = -1 if end else 0
    while len(pieces) >= _LEAST_SHARED:
        counted = Counter(as_read(one[place]) for one in pieces.values() if len(one) > 1)
        word, count = counted.most_common(1)[0] if counted else ("", 0)
        if not word or count < _SHARE * len(pieces) or _tells(word, vocabulary):
            return
        sharing = [one for one in pieces.values() if len(one) > 1 and as_read(one[place]) == word]
        rest = [one[:-1] if end else one[1:] for one in sharing]
        if all(all(piece.isdigit() for piece in one) for one in rest):
            return
        for one in sharing:
            del one[place]


def _tells(word: str, vocabulary: Vocabulary) -> bool:
    """True for a word that can tell of a part, a side or a strip; one for stems tells nothing in a set of them."""
    if word in ("stem", "stems"):
        return False
    return len(word) < 2 or word.isdigit() or any(found.concepts for found in words(word, vocabulary))


def _without_numbers(pieces: list[str]) -> list[str]:
    """The pieces without an order number at the beginning and words for stems at the end, unless nothing is left."""
    left = list(pieces)
    while len(left) > 1 and left[0].isdigit():
        left.pop(0)
    while len(left) > 1 and as_read(left[-1]) in ("stem", "stems"):
        left.pop()
    return left


def _kind(pieces: Iterable[str], of_song: frozenset[str], vocabulary: Vocabulary) -> StemKind:
    """Whether what is left of a name tells of the whole mix, of another version of it, or of anything else."""
    text = " ".join(piece for piece in as_read(" ".join(pieces)).split() if piece not in of_song or piece == "mix")
    marks = vocabulary.marks
    part = bool(families_named(text, vocabulary))
    other = _longest_out(text, marks.get("other-version", frozenset()))
    if other is not None and not families_named(other, vocabulary):
        return "version"
    if any("reference" in word.concepts for word in words(text, vocabulary)) and not part:
        return "reference"
    rest = _longest_out(text, marks.get("whole-mix", frozenset()))
    if rest is None:
        return "part"
    if says_left_out(text, vocabulary):
        return "version"
    beside = marks.get("of-a-mix", frozenset()) | marks.get("version", frozenset()) | marks.get("complete", frozenset())
    while rest and (less := _longest_out(rest, beside)) is not None:
        rest = less
    return "part" if any(not word.isdigit() for word in rest.split()) else "mix"


def _longest_out(text: str, known: frozenset[str]) -> str | None:
    """A text without the longest known phrase in it; None where there is none."""
    spaced = f" {text} "
    for phrase in sorted(known, key=lambda one: (-len(one), one)):
        if f" {phrase} " in spaced:
            return " ".join(spaced.replace(f" {phrase} ", " ").split())
    return None


def is_kind_of_folder(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True for a folder named after parts or a kind of files: ``Drums``, ``02 Vocals``, ``Stems``."""
    plain, _ = _plain(f"{name}.", vocabulary)
    pieces = [piece for piece in as_read(plain).split() if not piece.isdigit()]
    known = vocabulary.marks.get("kind-of-folder", frozenset())
    text: str | None = " ".join(pieces)
    while text:
        less = _longest_out(text, known)
        if less is None:
            break
        text = less
    if not text:
        return bool(pieces)
    return all(word.concepts or word.text.isdigit() for word in words(text, vocabulary)) and bool(
        families_named(text, vocabulary)
        or any(
            c in ("reverb", "delay", "return", "fx", "bus", "stem", "print")
            for w in words(text, vocabulary)
            for c in w.concepts
        )
    )
