"""What a processor does: as declared, by the open standards' category words, or by the trade's words in its name."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from mixlint.naming.fold import fits_pattern, fold_name, tokens, without_order_number
from mixlint.naming.reading import Reading, ambiguous, resolved
from mixlint.naming.runs import is_unspaced, pieces_of_run
from mixlint.naming.setting_reading import is_plainly
from mixlint.naming.vocabulary import LONGEST_PROCESSOR_PHRASE, SHIPPED, CategoryWords, Vocabulary
from mixlint.session import ChannelKind, Insert, Parameter, Unknown, is_known


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
    by_category = _by_category(insert.categories, vocabulary.categories)
    if by_category is not None and by_category.word is not None:
        return by_category
    by_name = _by_name(insert.name, on if on in ("return", "master") else None, vocabulary)
    if by_category is not None and by_name.word is None:
        return ambiguous(*by_category.grounds, *by_name.grounds)
    return by_name


def _by_category(categories: tuple[str, ...], known: CategoryWords) -> Reading | None:
    found: dict[str, str] = {}
    broad: list[str] = []
    for category in categories:
        whole = fold_name(category)
        last = whole.rpartition("#")[2].rpartition(":")[2] if "|" not in whole else whole
        for word in _category_words(last):
            if word in known.kinds:
                found.setdefault(known.kinds[word], category)
            elif word in known.doubts:
                broad.append(known.doubts[word])
    # A word that says where a processor is used gives way to one that says what it does.
    for vague in ("utility", "multi-effect", "spatial"):
        if len(found) > 1:
            found.pop(vague, None)
    if len(found) > 1 and found.keys() == {"equalizer", "filter"}:
        found.pop("filter")
    if len(found) == 1:
        ((kind, word),) = found.items()
        return resolved(kind, f"its category word '{word}'")
    if found:
        return resolved("multi-effect", "its category words name several effects: " + ", ".join(found))
    return ambiguous(*dict.fromkeys(broad)) if broad else None


def _category_words(whole: str) -> tuple[str, ...]:
    """``fx|dynamics|mono`` gives ``fx|dynamics`` and ``fx|mono``; a plain word gives itself."""
    if "|" not in whole:
        return (whole,)
    head, *rest = (part.strip() for part in whole.split("|"))
    if head == "instrument":
        return ("instrument",)
    return tuple(f"{head}|{part}" for part in rest) if head == "fx" else (head, *(f"fx|{part}" for part in rest))


@lru_cache(maxsize=4096)
def _by_name(name: str, on: str | None, vocabulary: Vocabulary) -> Reading:
    known = vocabulary.processors
    settles = known.settled.get(on, {}) if on else {}
    found = without_order_number(tokens(name))
    kinds: dict[str, str] = {}
    doubts: list[str] = []
    settled: dict[str, str] = {}
    at = 0
    while at < len(found):
        size = 1
        for size in range(min(LONGEST_PROCESSOR_PHRASE, len(found) - at), 0, -1):
            phrase = " ".join(t.plain for t in found[at : at + size])
            kind = known.exact.get(found[at].exact) if size == 1 else None
            kind = kind or known.phrases.get(phrase)
            if kind:
                kinds.setdefault(kind, phrase)
                break
        else:
            token = found[at]
            if doubt := known.doubts.get(token.plain):
                doubts.append(doubt)
                if token.plain in settles:
                    settled.setdefault(settles[token.plain], token.plain)
            for kind, part in _inside(token.plain, token.camel, known.phrases):
                kinds.setdefault(kind, part)
        at += size
    for winner, loser in known.outranks:
        if winner in kinds and loser in kinds:
            del kinds[loser]
    if len(kinds) == 1:
        ((kind, phrase),) = kinds.items()
        return resolved(kind, f"'{phrase}' in its name")
    if kinds:
        return ambiguous("could be " + " or ".join(f"{k} ('{p}')" for k, p in kinds.items()))
    if settled:
        ((kind, phrase),) = settled.items()
        return resolved(kind, f"'{phrase}' on a {on}")
    if doubts:
        return ambiguous(*dict.fromkeys(doubts))
    return ambiguous(f"'{name[:60]}' does not tell what it does" if name.strip() else "it has no name")


def _inside(text: str, camel: tuple[str, ...], plain: dict[str, str]) -> list[tuple[str, str]]:
    """Known words inside an unknown run: its camel-case pieces, a long word at either end, words of a run."""
    if text and is_unspaced(text[0]):
        return [(plain[piece], piece) for piece, known in pieces_of_run(text, plain.__contains__) if known]
    pieces = [(plain[piece], piece) for piece in camel if piece in plain]
    if pieces or len(text) > 40:
        return pieces
    for at in range(1, len(text) - 3):
        if text[at:] in plain and len(text) - at >= 4:
            return [(plain[text[at:]], text[at:])]
    for at in range(len(text) - 1, 4, -1):
        if text[:at] in plain:
            return [(plain[text[:at]], text[:at])]
    return []


def key_named(parameter: Parameter) -> str | None:
    """The name or id of a channel, folded, that a parameter lists as the key of its processor; None for any other."""
    value = parameter.value
    return fold_name(value, separators=True) if isinstance(value, str) and is_plainly(parameter, "key-input") else None


def keys_named(insert: Insert) -> frozenset[str]:
    """What a processor lists as its keys: names or ids of channels, folded."""
    return frozenset(key for parameter in insert.parameters if (key := key_named(parameter)) is not None)
