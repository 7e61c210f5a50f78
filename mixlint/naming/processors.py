"""What a processor does: as declared, by the open standards' category words, or by the trade's words in its name."""

from __future__ import annotations

from collections.abc import Mapping
from fnmatch import fnmatchcase
from functools import lru_cache

from mixlint.naming.fold import strip_accents, tokens, without_order_number
from mixlint.naming.reading import Reading, ask, told
from mixlint.session import ChannelKind, Insert, Unknown, is_known


def read_processor(
    insert: Insert, table: Mapping[str, str] = {}, *, on: ChannelKind | Unknown | None = None
) -> Reading:
    """What an insert does.

    Args:
        insert: the insert as read.
        table: the house's own names, glob pattern (case does not count) to processor kind; the first that fits wins.
        on: the kind of the channel it sits in, where that is known: a "Room" on a return is a reverb, a "Mono" on
            the master is a monitor switch.

    Returns:
        A reading whose word is a :data:`mixlint.session.ProcessorKind`, or None with grounds that say why not.
    """
    folded = insert.name.casefold()
    for pattern, word in table.items():
        if fnmatchcase(folded, pattern.casefold()):
            return told(word, 1.0, f"the house's table: '{pattern}'")
    if is_known(insert.kind):
        return told(insert.kind, 1.0, insert.ground or "declared in the export")
    by_category = _by_category(insert.categories)
    if by_category is not None and by_category.word is not None:
        return by_category
    by_name = _by_name(insert.name, on if on in ("return", "master") else None)
    if by_category is not None and by_name.word is None:
        return ask(*by_category.grounds, *by_name.grounds)
    return by_name


def _by_category(categories: tuple[str, ...]) -> Reading | None:
    from mixlint.naming.tables.categories import BROAD_CATEGORIES, CATEGORIES

    found: dict[str, str] = {}
    broad: list[str] = []
    for category in categories:
        whole = category.strip().casefold()
        last = whole.rpartition("#")[2].rpartition(":")[2] if "|" not in whole else whole
        for word in _category_words(last):
            if word in CATEGORIES:
                found.setdefault(CATEGORIES[word], category)
            elif word in BROAD_CATEGORIES:
                broad.append(BROAD_CATEGORIES[word])
    # A word that says where a processor is used gives way to one that says what it does.
    for vague in ("utility", "multi-effect", "spatial"):
        if len(found) > 1:
            found.pop(vague, None)
    if len(found) > 1 and found.keys() == {"equalizer", "filter"}:
        found.pop("filter")
    if len(found) == 1:
        ((kind, word),) = found.items()
        return told(kind, 0.95, f"its category word '{word}'")
    if found:
        return told("multi-effect", 0.7, "its category words name several effects: " + ", ".join(found))
    return ask(*dict.fromkeys(broad)) if broad else None


def _category_words(whole: str) -> tuple[str, ...]:
    """``fx|dynamics|mono`` gives ``fx|dynamics`` and ``fx|mono``; a plain word gives itself."""
    if "|" not in whole:
        return (whole,)
    head, *rest = (part.strip() for part in whole.split("|"))
    if head == "instrument":
        return ("instrument",)
    return tuple(f"{head}|{part}" for part in rest) if head == "fx" else (head, *(f"fx|{part}" for part in rest))


@lru_cache(maxsize=1)
def _phrases() -> tuple[dict[str, str], dict[str, str]]:
    from mixlint.naming.tables.processors import PROCESSORS

    plain: dict[str, str] = {}
    exact: dict[str, str] = {}
    for kind, languages in PROCESSORS.items():
        for words in languages.values():
            for word in words.split(", "):
                if word[0] == "=":
                    exact[word[1:]] = kind
                    continue
                phrase = strip_accents(word)
                plain.setdefault(phrase, kind)
                if " " in phrase and len(phrase) > 6:
                    plain.setdefault(phrase.replace(" ", ""), kind)
    return plain, exact


@lru_cache(maxsize=4096)
def _by_name(name: str, on: str | None) -> Reading:
    from mixlint.naming.tables.processors import AMBIGUOUS_PROCESSORS, OUTRANKS, SETTLED_ON

    plain, exact = _phrases()
    found = without_order_number(tokens(name))
    kinds: dict[str, str] = {}
    doubts: list[str] = []
    settled: dict[str, str] = {}
    at = 0
    while at < len(found):
        size = 1
        for size in range(min(3, len(found) - at), 0, -1):
            phrase = " ".join(t.plain for t in found[at : at + size])
            kind = exact.get(found[at].exact) if size == 1 else None
            kind = kind or plain.get(phrase)
            if kind:
                kinds.setdefault(kind, phrase)
                break
        else:
            token = found[at]
            if doubt := AMBIGUOUS_PROCESSORS.get(token.plain):
                doubts.append(doubt)
                if on and token.plain in SETTLED_ON.get(on, ((), ""))[0]:
                    settled.setdefault(SETTLED_ON[on][1], token.plain)
            for kind, part in _inside(token.plain, token.camel, plain):
                kinds.setdefault(kind, part)
        at += size
    for winner, loser in OUTRANKS:
        if winner in kinds and loser in kinds:
            del kinds[loser]
    if len(kinds) == 1:
        ((kind, phrase),) = kinds.items()
        return told(kind, 0.85, f"'{phrase}' in its name")
    if kinds:
        return ask("could be " + " or ".join(f"{k} ('{p}')" for k, p in kinds.items()))
    if settled:
        ((kind, phrase),) = settled.items()
        return told(kind, 0.7, f"'{phrase}' on a {on}")
    if doubts:
        return ask(*dict.fromkeys(doubts))
    return ask(f"'{name[:60]}' does not tell what it does" if name.strip() else "it has no name")


def _inside(text: str, camel: tuple[str, ...], plain: dict[str, str]) -> list[tuple[str, str]]:
    """Known words inside an unknown run: its camel-case pieces, a long word at either end, Japanese words."""
    if text and "\u3040" <= text[0] <= "\u9fff":
        return [(kind, word) for word, kind in plain.items() if len(word) > 1 and word[0] > "\u3000" and word in text]
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
