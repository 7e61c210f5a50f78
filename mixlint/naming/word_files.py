"""Word files: the words that names are read by, as TOML text beside the rules, and what is wrong with one.

A file holds sections (``[part.kick]``); each is a few levels of keys down to one text with commas or new lines between
the words. Lists are written as one text, not as TOML lists, because a studio types them without a quotation mark round
every word, and because the standard library reads a long text in ``'…'`` three times as fast as a list of short ones:
the shipped files are read at every start.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any, Final, NamedTuple

from mixlint.errors import Fault, RulebookError, near
from mixlint.resources import folder
from mixlint.toml_text import Misread, text_in, toml_in


class Section(NamedTuple):
    """What a section of a word file is made of.

    Args:
        levels: what its keys stand for, from the outermost on.
        shown: how a line of it is written, for a reader who wrote it otherwise.
        house: whether a house may write it too.
    """

    levels: tuple[str, ...]
    shown: str
    house: bool = True


SECTIONS: Final[dict[str, Section]] = {
    "part": Section(("part", "language"), "[part.kick] and under it en = 'kick, kick drum'"),
    "playing": Section(("way of playing", "language"), "[playing.double] and under it en = 'double, dbl'"),
    "strip": Section(("kind of strip", "language"), "[strip.reverb] and under it en = 'plate, hall'"),
    "processor": Section(("kind of processor", "language"), "[processor.gate] and under it en = 'gate, noise gate'"),
    "processor-part": Section(
        ("use", "language"), "[processor-part.modifier] and under it en = 'vintage, tape'", house=False
    ),
    "head-order": Section(("order",), "[head-order] and under it first = 'fr, es'", house=False),
    "category": Section(("kind of processor", "plug-in standard"), "[category.gate] and under it clap = 'gate'"),
    "no-category": Section(("plug-in standard",), "[no-category] and under it clap = 'stereo'", house=False),
    "ambiguous": Section(("subject", "word"), "[ambiguous.part] and under it upright = 'bass, keys'"),
    "side": Section(("side", "language"), "[side.left] and under it en = 'left, l'"),
    "side-letters": Section(("language",), "[side-letters] and under it fr = 'g / d'"),
    "pair": Section(("kind of pair", "language"), "[pair.double] and under it en = 'double, dbl'"),
    "pair-words": Section(("kind of pair", "language"), "[pair-words.microphones] and under it en = 'top / bottom'"),
    "mark": Section(("mark", "language"), "[mark.take] and under it en = 'take, tk'"),
    "heading": Section(("column of a list", "language"), "[heading.level] and under it en = 'fader, level'"),
    "cell": Section(("what stands in a list", "language"), "[cell.centre] and under it en = 'c, centre'"),
    "role": Section(("role", "key"), "[role.hand-pan] and under it family = 'percussion'"),
    "language": Section(("code",), "[language] and under it hu = 'Hungarian'"),
    "family": Section(("family",), "[family] and under it keys = 'keys'", house=False),
    "outranks": Section(("subject",), "[outranks] and under it kinds = 'monitor / equalizer'", house=False),
    "combined": Section(("subject",), "[combined] and under it kinds = 'delay / reverb'", house=False),
    "settled": Section(
        ("kind of channel", "kind of processor"), "[settled.return] and under it reverb = 'room'", house=False
    ),
    "side-place": Section(("place",), "[side-place] and under it last = 're'", house=False),
    "language-clue": Section(("language",), "[language-clue] and under it pt = 'baixo'", house=False),
    "precision": Section(("word",), "[precision] and under it far = '6 of 9'", house=False),
    "compound": Section(("use",), "[compound] and under it links = 's, n'", house=False),
}


ROLE_WORDS: Final = "role.words"
"""Stands for the words under the headings of roles, ``[role.hand-pan.words]``, as a section does for others."""

ROLE_KEYS: Final = ("family", "like", "may", "words")
"""What can stand under the heading of a role."""


@dataclass(frozen=True, slots=True)
class WordFile:
    """A word file as read; two with the same name and text are the same.

    Args:
        name: how faults refer to it.
        text: what stands in it.
        sections: section → keys → text, in the file's order.
    """

    name: str
    text: str
    sections: dict[str, dict[str, Any]] = field(default_factory=dict, compare=False)

    def texts(self, section: str) -> list[tuple[tuple[str, ...], str]]:
        """Every text of a section with the keys it stands under, in the file's order.

        Of :data:`ROLE_WORDS` they are the words of the roles that the file defines, by role and language.
        """
        if section == ROLE_WORDS:
            roles = self.sections.get("role", {})
            return [
                ((role, code), text) for role, keys in roles.items() for code, text in keys.get("words", {}).items()
            ]
        found = self.sections.get(section, {})
        if len(SECTIONS[section].levels) == 1:
            return [((key,), text) for key, text in found.items()]
        return [((outer, inner), text) for outer, under in found.items() for inner, text in under.items()]


def listed(text: str) -> list[str]:
    """The words of a text with commas or new lines between them, in its order."""
    return [word for part in text.replace("\n", ",").split(",") if (word := part.strip())]


def rows(text: str) -> list[tuple[str, ...]]:
    """The rows of a text: words with strokes between them, as ``top / bottom, in / out``."""
    return [tuple(word.strip() for word in row.split("/")) for row in listed(text)]


def read_word_file(
    path: Path, name: str, faults: list[Fault], *, shipped: bool = False, top: Path | None = None
) -> WordFile | None:
    """Read one word file and see that it has the form of one; what its words mean is checked by the vocabulary.

    Args:
        path: the file.
        name: how faults refer to it.
        faults: where they go.
        shipped: whether it is one of mixlint's own, which may hold every section.
        top: the tree that it has to lie in; None for one that comes along or was named by hand.

    Returns:
        The file, or None when faults were found.
    """
    try:
        text = text_in(path, top)
        raw = toml_in(text)
    except Misread as fault:
        faults.append(Fault(name, fault.place, fault.what, fault.do))
        return None
    count = len(faults)
    for section, found in raw.items():
        _check_section(section, found, name, faults, shipped)
    return WordFile(name, text, raw) if len(faults) == count else None


@cache
def shipped_file(stem: str) -> WordFile:
    """One of the word files that come with mixlint.

    Args:
        stem: its name without the ending.

    Raises:
        RulebookError: the file is missing or damaged.
    """
    faults: list[Fault] = []
    found = read_word_file(folder("rules") / "words" / f"{stem}.toml", f"rules/words/{stem}.toml", faults, shipped=True)
    if found is None:
        raise RulebookError(faults)
    return found


def _check_section(section: str, found: Any, name: str, faults: list[Fault], shipped: bool) -> None:
    layout = SECTIONS.get(section)
    if layout is None:
        own = [key for key, one in SECTIONS.items() if one.house or shipped]
        faults.append(Fault(name, section, "no such heading", near(section, own)))
    elif not (layout.house or shipped):
        what = "only the word files that come with mixlint hold this"
        faults.append(Fault(name, section, what, "leave it out"))
    elif section == "role":
        _check_roles(found, _Pen(name, f"write {layout.shown}", faults))
    else:
        _check_keys((section,), found, len(layout.levels), _Pen(name, f"write {layout.shown}", faults))


class _Pen(NamedTuple):
    """Where faults of a section go: the file, how a line of the section is written, and the faults so far."""

    file: str
    do: str
    faults: list[Fault]

    def __call__(self, keys: tuple[str, ...], what: str, do: str = "") -> None:
        """Write one fault down."""
        self.faults.append(Fault(self.file, ".".join(keys), what, do or self.do))


def _check_keys(keys: tuple[str, ...], found: Any, depth: int, fault: _Pen) -> None:
    """See that there are ``depth`` levels of keys, and a text with something in it under the last."""
    if depth == 0:
        if not isinstance(found, str):
            fault(keys, "it should be text in quotes, with commas between the words")
        elif not found.strip(" \t\r\n,"):
            fault(keys, "there is no word in it", "give at least one, or leave the line out")
    elif not isinstance(found, dict):
        fault(keys, "it should be a heading with lines under it")
    elif not found:
        fault(keys, "there is nothing under it", "give at least one line, or leave it out")
    else:
        for inner, under in found.items():
            _check_keys((*keys, inner), under, depth - 1, fault)


def _check_roles(found: Any, fault: _Pen) -> None:
    """See that each role is a heading with texts under it, and its words a heading with a text for each language."""
    if not isinstance(found, dict) or not found:
        _check_keys(("role",), found, 1, fault)
        return
    for role, keys in found.items():
        if not isinstance(keys, dict) or not keys:
            _check_keys(("role", role), keys, 1, fault)
            continue
        for key, under in keys.items():
            if key not in ROLE_KEYS:
                fault(("role", role, key), "no such key", near(key, ROLE_KEYS))
            elif key == "words":
                do = f"write [role.{role}.words] and under it en = 'a word, another'"
                _check_keys(("role", role, key), under, 1, fault._replace(do=do))
            else:
                _check_keys(("role", role, key), under, 0, fault)
