"""What a processor does: as declared, by the open standards' category words, or by the trade's words in its name."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import Final, NamedTuple

from mixlint.naming.fold import LONGEST, fits_pattern, fold_name, without_asides
from mixlint.naming.processor_pieces import Piece, pieces
from mixlint.naming.reading import Reading, ambiguous, resolved
from mixlint.naming.runs import is_unspaced
from mixlint.naming.setting_reading import is_plainly
from mixlint.naming.vocabulary import SHIPPED, CategoryWords, ProcessorWords, Vocabulary
from mixlint.session import ChannelKind, Insert, Parameter, Unknown, is_known

_WITH: Final = re.compile(r"(?i)\bw/")
"""``w/`` is "with", and its stroke parts nothing."""

_BESIDE: Final = re.compile(r"[+&>→|,;]|\s[-–—]\s")
"""What stands between two names of equal rank."""

_DOER: Final = re.compile(r"(?:er|or|ers|ors|ing|eur|tion|ment)$")
"""How words end that say what something does, in the languages whose endings are met most. Common practice."""

_PARTS_COMPOUNDS: Final = "en"
"""The language that writes compounds as two words, so that the first of them may only say how."""


def read_processor(
    insert: Insert,
    table: Mapping[str, str] = {},
    *,
    on: ChannelKind | Unknown | None = None,
    vocabulary: Vocabulary = SHIPPED,
) -> Reading:
    """What an insert does.

    Args:
        insert: the insert as read.
        table: the house's own names, glob pattern (case does not count) to processor kind; the first that fits wins.
        on: the kind of the channel it sits in, where that is known: a "Room" on a return is a reverb, a "Mono" on
            the master is a monitor switch.
        vocabulary: the words in force.

    Returns:
        A reading whose word is a :data:`mixlint.session.ProcessorKind`, or None with grounds that say why not.
    """
    for pattern, word in table.items():
        if fits_pattern(insert.name, pattern):
            return resolved(word, f"the house's table: '{pattern}'")
    if is_known(insert.kind):
        return resolved(insert.kind, insert.ground or "declared in the export")
    by_category = _by_category(insert, vocabulary.categories)
    if by_category is not None and by_category.word is not None:
        return by_category
    by_name = _by_name(insert.name, on if on in ("return", "master") else None, vocabulary)
    if by_category is not None and by_name.word is None:
        return ambiguous(*by_category.grounds, *by_name.grounds)
    return by_name


def _by_category(insert: Insert, known: CategoryWords) -> Reading | None:
    """What the category words say; None when they say nothing of what it does."""
    found: dict[str, str] = {}
    broad: list[str] = []
    said: set[str] = set()
    for category in insert.categories:
        whole = fold_name(category)
        last = whole.rpartition("#")[2].rpartition(":")[2] if "|" not in whole else whole
        for word in _category_words(last, known):
            said.add(word.replace(" ", ""))
            if word in known.kinds:
                found.setdefault(known.kinds[word], category)
            elif word in known.doubts:
                broad.append(known.doubts[word])
            elif word not in known.silent:
                broad.append(f"the category word '{category[:60]}' is none of the published ones")
    # A word that says where a processor is used gives way to one that says what it does.
    for vague in ("utility", "multi-effect", "spatial"):
        if len(found) > 1:
            found.pop(vague, None)
    if len(found) > 1 and found.keys() == {"equalizer", "filter"}:
        found.pop("filter")
    if {"reverbplugin", "delayplugin"} <= said:  # in LV2 every reverb is one of the delays too
        found.pop("delay", None)
    source = f", from {insert.ground}" if insert.ground else ""
    if len(found) == 1:
        ((kind, word),) = found.items()
        return resolved(kind, f"its category word '{word}'{source}")
    if found:
        return resolved("multi-effect", "its category words name several effects: " + ", ".join(found) + source)
    return ambiguous(*dict.fromkeys(broad)) if broad else None


def _category_words(whole: str, known: CategoryWords) -> tuple[str, ...]:
    """``fx|dynamics|mono`` gives ``fx|dynamics`` and ``mono``; an instrument is one whatever follows."""
    head, *rest = (part.strip() for part in whole.split("|"))
    if head == "instrument":
        return ("instrument",)
    if head != "fx" or not rest:
        return (head, *rest)
    published = known.kinds.keys() | known.doubts.keys() | known.silent
    return tuple(whole if (whole := f"fx|{part}") in published else part for part in rest)


@lru_cache(maxsize=4096)
def _by_name(name: str, on: str | None, vocabulary: Vocabulary) -> Reading:
    """What the name says: its head decides, what stands in brackets says nothing."""
    bare = without_asides(name)
    if not bare:
        return ambiguous("what stands in brackets is no ground" if name.strip() else "it has no name")
    bare = _WITH.sub(" with ", bare[:LONGEST])
    said = [_said_by(part, vocabulary) for part in _equals(bare, vocabulary)]
    named = [one for one in said if one.kind]
    asked = [one for one in named if one.why]
    kinds = dict.fromkeys(one.kind for one in named)
    if asked:
        return ambiguous(*dict.fromkeys(one.why for one in asked))
    if len(kinds) > 1:
        return ambiguous("could be " + " or ".join(f"{one.kind} ('{one.word}')" for one in named))
    if named:
        return resolved(named[0].kind, f"'{named[0].word}' in its name", *named[0].besides)
    if why := [one.why for one in said if one.why]:
        return ambiguous(*dict.fromkeys(why))
    found = [piece for one in said for piece in one.pieces]
    settles = vocabulary.processors.settled.get(on, {}) if on else {}
    for piece in found:
        if piece.text in settles:
            return resolved(settles[piece.text], f"'{piece.text}' on a {on}")
    if doubts := [piece.doubt for piece in found if piece.doubt]:
        return ambiguous(*dict.fromkeys(doubts))
    return ambiguous(f"'{name[:60]}' does not tell what it does")


class _Said(NamedTuple):
    """What a part of a name says: the kind, the word that says it, why that is a question, and what else it names."""

    pieces: tuple[Piece, ...]
    kind: str = ""
    word: str = ""
    why: str = ""
    besides: tuple[str, ...] = ()


def _equals(name: str, vocabulary: Vocabulary) -> list[tuple[Piece, ...]]:
    """The parts of a name that stand side by side (``EQ + Comp``), or the whole of it."""
    parts = [found for text in _BESIDE.split(name) for found in _at_joiners(pieces(text, vocabulary))]
    strokes = [found for text in name.split("/") if (found := pieces(text, vocabulary))]
    if len(parts) == 1 and len(strokes) > 1 and all(any(p.kind for p in found) for found in strokes):
        return strokes  # "Gate/Comp", but not "Mid/Side"
    before, colon, behind = name.rpartition(":")
    named = pieces(behind, vocabulary) if colon and before else ()
    if any(piece.kind for piece in named):
        return [named]  # whose it is stands before a colon
    return [found for found in parts if found] or [()]


def _at_joiners(found: tuple[Piece, ...]) -> list[tuple[Piece, ...]]:
    """A part split at its words for "and", where a kind stands on either side."""
    for at, piece in enumerate(found):
        before, behind = found[:at], found[at + 1 :]
        if "joiner" in piece.uses and any(p.kind for p in before) and any(p.kind for p in behind):
            return [before, *_at_joiners(behind)]
    return [found]


def _said_by(found: tuple[Piece, ...], vocabulary: Vocabulary) -> _Said:
    known = vocabulary.processors
    own, first = _without_company(found, known)
    kinds = [piece for piece in own if piece.kind]
    if not kinds:
        with_it = [piece for piece in found[len(own) :] if piece.kind]
        why = f"'{with_it[0].text}' in its name is what it is used with or made for" if with_it else ""
        return _Said(own, why=why)
    strong = [piece for piece in kinds if "weak" not in piece.uses] or kinds
    first = first or any(piece.languages and piece.languages <= known.heads_first for piece in own)
    head = strong[0 if first else -1]
    for winner, loser in known.outranks:
        if head.kind == loser:
            head = next((piece for piece in kinds if piece.kind == winner), head)
    others = [piece for piece in kinds if piece.kind != head.kind]
    said = _Said(own, head.kind, head.text)
    if question := _question(head, own, strong, known, first):
        return said._replace(why=question)
    besides = tuple(f"'{piece.text}' ({piece.kind}) only says how or with what" for piece in others)
    return said._replace(besides=tuple(dict.fromkeys(besides)))


def _without_company(found: tuple[Piece, ...], known: ProcessorWords) -> tuple[tuple[Piece, ...], bool]:
    """The pieces before the first preposition, and whether it tells that the head comes first."""
    for at, piece in enumerate(found[:-1]):
        before = found[:at]
        if not any(one.kind or one.unknown or one.doubt for one in before):
            continue
        foreign = any(one.languages and one.languages <= known.heads_first for one in before)
        if "preposition" in piece.uses or ("coming" in piece.uses and foreign):
            return before, piece.languages <= known.heads_first
    return found, False


def _question(head: Piece, own: tuple[Piece, ...], strong: list[Piece], known: ProcessorWords, first: bool) -> str:
    """Why the head does not decide; empty when it does."""
    for piece in strong:
        beside = frozenset((head.kind, piece.kind))
        manner = "modifier" in piece.uses or (head.kind, piece.kind) in known.outranks
        weak = "weak" in head.uses and piece.kind != head.kind and not manner
        if beside in known.combined or weak or (piece.kind == "analyser" != head.kind and not manner):
            return f"could be {head.kind} ('{head.text}') or {piece.kind} ('{piece.text}')"
    behind = own[own.index(head) + 1 :]
    if any("several" in piece.uses for piece in behind) and len({piece.kind for piece in strong}) > 1:
        return "it names several effects: " + ", ".join(f"{piece.kind} ('{piece.text}')" for piece in strong)
    if first or is_unspaced(head.text[:1]):
        return ""
    for piece in behind:
        settled = "modifier" in piece.uses or (head.kind, piece.kind) in known.outranks
        if piece.kind and piece.kind != head.kind and "weak" in piece.uses and not settled:
            return f"could be {head.kind} ('{head.text}') or {piece.kind} ('{piece.text}')"
        if "vague" in piece.uses and "weak" in head.uses:
            return f"'{head.text} {piece.text}' does not tell what it does"
        if piece.unknown and (_DOER.search(piece.text) or not _is_a_device(head)):
            return f"'{piece.text[:60]}' is not known, and '{head.text}' before it only says how or with what"
    return ""


def _is_a_device(head: Piece) -> bool:
    """Whether an unknown word behind it is a product's name or tells what it is like; English alone parts compounds."""
    foreign = head.languages and _PARTS_COMPOUNDS not in head.languages and "weak" not in head.uses
    return bool(foreign or {"device", "tail"} & head.uses)


def key_named(parameter: Parameter) -> str | None:
    """The name or id of a channel, folded, that a parameter lists as the key of its processor; None for any other."""
    value = parameter.value
    return fold_name(value, separators=True) if isinstance(value, str) and is_plainly(parameter, "key-input") else None


def keys_named(insert: Insert) -> frozenset[str]:
    """What a processor lists as its keys: names or ids of channels, folded."""
    return frozenset(key for parameter in insert.parameters if (key := key_named(parameter)) is not None)
