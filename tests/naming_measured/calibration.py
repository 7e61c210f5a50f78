"""How often a word that a reading rested on alone told the right role: what ``rules/words/precision.toml`` holds."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from pathlib import Path

from mixlint.naming import Vocabulary, family_of, read_roles
from mixlint.naming.evidence import stands_alone
from tests.naming_measured.lists import Label, Listed
from tests.naming_measured.scoring import of_a_role

FILE = Path(__file__).parents[2] / "rules" / "words" / "precision.toml"

LEAST_RIGHT = 0.7
"""A word that is right less often than this tells nothing alone; a miss or two among ten is met with any word. At 0.8
``mix`` was among them, and an ``Old Mix`` that is heard was no longer told."""

LEAST_WRONG = 2
"""Less often wrong than this can be one name, or one label, and would silence every word the data holds once."""


def counted(lists: Iterable[Listed]) -> dict[str, tuple[int, int]]:
    """Word to how often a reading that rested on it alone was right, and how often there was one.

    A reading of the right family counts as right: words that mean several things are those that mean several families.
    Dictionaries are left out: they tell what a word can mean, not how often it stands on a desk.
    """
    bare = Vocabulary()
    bare.__dict__["precision"] = {}  # as if nothing were known of any word
    right: Counter[str] = Counter()
    total: Counter[str] = Counter()
    for one in lists:
        if one.file.name == "words.tsv":
            continue
        readings = read_roles(one.session, vocabulary=bare)
        for channel, wanted, _ in one.roles:
            reading = readings[channel.id]
            if reading.word is None:
                continue
            for word in (text for text in reading.deciding if stands_alone(reading, text, bare)):
                total[word] += 1
                right[word] += of_a_role(wanted, reading.word) != "wrong" or _of_the_family(wanted, reading.word)
    return {word: (right[word], total[word]) for word in sorted(total)}


def _of_the_family(wanted: Label, said: str) -> bool:
    return family_of(said) in {family_of(word) for word in wanted.words}


def weak(counts: dict[str, tuple[int, int]]) -> dict[str, tuple[int, int]]:
    """The words that were wrong too often."""
    return {
        word: (right, total)
        for word, (right, total) in counts.items()
        if right < LEAST_RIGHT * total and total - right >= LEAST_WRONG
    }


def written(counts: dict[str, tuple[int, int]], old: str) -> str:
    """The text of the file: its head as it was, then the words."""
    head = old[: old.index("[precision]")]
    lines = [f"'{word}' = '{right} of {total}'" for word, (right, total) in weak(counts).items()]
    return head + "\n".join(["[precision]", *lines, ""])
