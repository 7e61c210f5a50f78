"""Counterparts by name: the side a name tells, the name without its side or number, and how two names pair."""

from __future__ import annotations

from functools import lru_cache
from typing import Final, Literal

from mixlint.naming.fold import Token, tokens
from mixlint.naming.lexicon import ends_in_side, languages_of, numberless, words

Side = Literal["left", "right"]
PairKind = Literal["sides", "numbers", "doubles", "microphones", "registers"]

_LEFT: Final = frozenset(
    [
        "l",
        "lt",
        "left",
        "lft",
        "li",
        "links",
        "linke",
        "linker",
        "gauche",
        "izq",
        "izquierda",
        "izquierdo",
        "sx",
        "sin",
        "sinistra",
        "sinistro",
        "esq",
        "esquerda",
        "esquerdo",
        "vanster",
        "venstre",
        "lewy",
        "lewa",
        "左",
        "лево",
        "левый",
        "левая",
        "linkerkant",
    ]
)
_RIGHT: Final = frozenset(
    [
        "r",
        "rt",
        "right",
        "rgt",
        "re",
        "rechts",
        "rechte",
        "rechter",
        "droite",
        "der",
        "derecha",
        "derecho",
        "dx",
        "des",
        "destra",
        "destro",
        "dir",
        "direita",
        "direito",
        "hoger",
        "hojre",
        "prawy",
        "prawa",
        "右",
        "право",
        "правый",
        "правая",
        "rechterkant",
    ]
)
# One letter of a language is a side only opposite its partner: G/D, I/D, E/D, V/H, L/P.
_LETTER_PAIRS: Final = frozenset({("g", "d"), ("i", "d"), ("e", "d"), ("v", "h"), ("l", "p"), ("l", "r"), ("s", "d")})
_ANYWHERE_BUT_FIRST: Final = frozenset({"l", "r", "lt", "rt"})
_LAST_ONLY: Final = frozenset({"li", "re", "der", "des", "dir", "sin"})
_LANGUAGE_LETTERS: Final = {
    "fr": ("g", "d"),
    "es": ("i", "d"),
    "it": ("s", "d"),
    "pt": ("e", "d"),
    "sv": ("v", "h"),
    "pl": ("l", "p"),
}
_DOUBLES: Final = frozenset(
    [
        "dbl",
        "dbls",
        "double",
        "doubles",
        "dub",
        "dt",
        "doubletrack",
        "dopplung",
        "doublage",
        "doble",
        "dobla",
        "doppia",
        "dobra",
        "dubbel",
        "ダブル",
    ]
)
_SPOTS: Final = (
    ("in", "out"),
    ("top", "bot"),
    ("top", "btm"),
    ("top", "bottom"),
    ("tp", "bt"),
    ("t", "b"),
    ("near", "far"),
    ("close", "far"),
    ("close", "room"),
    ("body", "neck"),
    ("12th", "bridge"),
    ("di", "mic"),
    ("di", "amp"),
    ("mic", "amp"),
    ("di", "cab"),
    ("di", "mike"),
    ("m", "s"),
    ("mid", "side"),
    ("oben", "unten"),
    ("haut", "bas"),
    ("arriba", "abajo"),
    ("inside", "outside"),
    ("in", "sub"),
    ("out", "sub"),
    ("front", "back"),
    ("mic", "room"),
    ("di", "room"),
    ("amp", "room"),
    ("fl", "fr"),
    ("batter", "reso"),
)
_REGISTERS: Final = (
    frozenset(["hi", "high", "hoch", "haut", "alta", "alto", "top"]),
    frozenset(["lo", "low", "tief", "bas", "baja", "basso"]),
    frozenset(["mid", "mitte", "medium"]),
    frozenset(["oct", "octave", "8ve", "8va", "okt", "oktave"]),
)
_ROMAN: Final = frozenset({"i", "ii", "iii", "iv"})
_PARITY: Final = frozenset({"odd", "even"})


@lru_cache(maxsize=8192)
def _tokens(name: str) -> tuple[str, ...]:
    """The tokens of a name; a run such as ``GtrL`` or ``ohr`` gives its side apart."""
    out: list[str] = []
    for token in numberless(tokens(name)):
        out.extend(_with_side_apart(token))
    joined: list[str] = []
    for text in out:
        if joined and text in ("th", "ve", "va") and joined[-1].isdigit():
            joined[-1] += text
        else:
            joined.append(text)
    return tuple(joined)


def _with_side_apart(token: Token) -> tuple[str, ...]:
    text = token.plain
    if text in _LEFT or text in _RIGHT or len(text) < 2:
        return (text,)
    if text[-1] in "左右":
        return (text[:-1], text[-1])
    if len(token.camel) > 1 and token.camel[-1] in _LEFT | _RIGHT and not _is_word(text):
        return ("".join(token.camel[:-1]), token.camel[-1])
    if text in ("ohl", "ohr") or (ends_in_side(text) and not _is_word(text) and _is_word(text[:-1])):
        return (text[:-1], text[-1])
    return (text,)


def _is_word(text: str) -> bool:
    return any(w.concepts for w in words(text)) and len(words(text)) == 1


def side_of(name: str) -> Side | None:
    """The side a name tells, or None.

    ``L`` and ``R`` count anywhere but at the beginning, where they can mean lead and rhythm; ``L/R`` together is a
    stereo channel. ``Li``, ``Re``, ``der``, ``des``, ``dir``, ``sin`` count at the end only. ``G`` and ``D``, ``I`` and
    ``D``, ``E`` and ``D``, ``V`` and ``H``, ``L`` and ``P`` count at the end of a name in the language they belong to.
    """
    sides = {side for side, _ in _side_tokens(name)}
    return sides.pop() if len(sides) == 1 else None


def _side_tokens(name: str) -> list[tuple[Side, int]]:
    """Each side told in a name with the place of its token."""
    found = _tokens(name)
    end = len(found)
    while end > 1 and found[end - 1].isdigit():
        end -= 1
    letters = _letters(name) if end > 1 and len(found[end - 1]) == 1 else {}
    told: list[tuple[Side, int]] = []
    for at, text in enumerate(found):
        side: Side | None = "left" if text in _LEFT else "right" if text in _RIGHT else None
        if at == end - 1 and text in letters:
            told.append((letters[text], at))
        elif side and (
            text not in _ANYWHERE_BUT_FIRST | _LAST_ONLY
            or (text in _ANYWHERE_BUT_FIRST and (at > 0 or _tells_role(found[1:])))
            or (text in _LAST_ONLY and 0 < at == end - 1)
        ):
            told.append((side, at))
    return told


def _tells_role(rest: tuple[str, ...]) -> bool:
    """``R Rhy Gtr``: the rhythm is told already, so the letter is the side."""
    return bool(rest) and rest[0] in ("rhy", "rhythm", "rtm", "lead", "ld")


def _letters(name: str) -> dict[str, Side]:
    """Single letters that are sides in the languages of the name's own words."""
    letters: dict[str, Side] = {}
    for language in languages_of(name):
        if language in _LANGUAGE_LETTERS:
            left, right = _LANGUAGE_LETTERS[language]
            letters |= {left: "left", right: "right"}
    return letters


def stem_of(name: str) -> str:
    """The name without side and number tokens, folded: counterparts share it."""
    found = _tokens(name)
    sides = {at for _, at in _side_tokens(name)}
    kept = [text for at, text in enumerate(found) if at not in sides and not text.isdigit()]
    return " ".join(kept or [text for at, text in enumerate(found) if at not in sides] or found)


def pair_kind(name_a: str, name_b: str) -> PairKind | None:
    """How two names pair, when they differ only in one place.

    Args:
        name_a: a channel's name.
        name_b: another channel's name.

    Returns:
        ``sides`` (L and R in the listed languages), ``numbers`` (1 and 2, I and II, odd and even), ``doubles`` (a part
        and its double), ``microphones`` (one performance, two pick-ups), ``registers`` (high and low), or None. A
        pair of letters (A and B, X and Y) is None: it can be a pair, a take or a version.
    """
    a, b = _tokens(name_a), _tokens(name_b)
    if a == b or not a or not b:
        return None
    only_a, only_b = _difference(a, b)
    if len(only_a) <= 1 and len(only_b) <= 1:
        one, two = (only_a or ("",))[0], (only_b or ("",))[0]
        return _of_words(one, two, rest=len(a) > len(only_a) or len(b) > len(only_b))
    for added in (only_a if not only_b else (), only_b if not only_a else ()):
        if len(added) == 2 and added[0] == "x" and added[1] == "2":
            return "doubles"
    return None


def _difference(a: tuple[str, ...], b: tuple[str, ...]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    start = 0
    while start < min(len(a), len(b)) and a[start] == b[start]:
        start += 1
    end = 0
    while end < min(len(a), len(b)) - start and a[-1 - end] == b[-1 - end]:
        end += 1
    return a[start : len(a) - end], b[start : len(b) - end]


def _of_words(one: str, two: str, *, rest: bool) -> PairKind | None:
    if (one in _LEFT and two in _RIGHT) or (one in _RIGHT and two in _LEFT):
        return "sides"
    if rest and ((one, two) in _LETTER_PAIRS or (two, one) in _LETTER_PAIRS):
        return "sides"
    if rest and ((one, two) in _SPOTS or (two, one) in _SPOTS):
        return "microphones"
    if not rest and ((one, two) in _SPOTS or (two, one) in _SPOTS) and len(one) > 1:
        return "microphones"
    if not one or not two:
        extra = one or two
        return "doubles" if extra in _DOUBLES else "numbers" if extra == "2" else _spot_alone(extra)
    if one in _DOUBLES or two in _DOUBLES:
        return "doubles"
    if one.isdigit() and two.isdigit():
        return "numbers"
    if (one in _ROMAN and two in _ROMAN) or (one in _PARITY and two in _PARITY):
        return "numbers"
    groups = [next((n for n, words in enumerate(_REGISTERS) if text in words), -1) for text in (one, two)]
    return "registers" if -1 not in groups and groups[0] != groups[1] else None


def _spot_alone(extra: str) -> PairKind | None:
    """``Gtr`` and ``Gtr DI``: one performance with a second pick-up; ``Vox`` and ``Vox Oct``: another register."""
    if extra in ("di", "mic", "amp", "room"):
        return "microphones"
    return "registers" if any(extra in words for words in _REGISTERS[::3]) else None
