"""All pairs among many names at once, against each name held against each other."""

from __future__ import annotations

import random

import pytest

from mixlint.naming import SHIPPED, PairKind, Vocabulary, pair_kind, paired_names
from tests.benchmarks.scale_sessions import PARTS

SAID = """
    kick snare gtr piano vox choir oh room amp verse song part di mic mike in out top bottom hi lo high low mid side l
    r left right li re links rechts dt dbl double oct octave x 1 2 3 4 5 19 20 21 i ii iii one two a b close far near
    front back string violin corni stl str foobarl foobarr u87 sm57 tk take v2 take2 take3 24bit hand synth m s tenor
"""
WORDS = SAID.split()


def _names(seed: int) -> list[str]:
    rng = random.Random(seed)
    found = [
        rng.choice((" ", "_", " ", "")).join(rng.choice(WORDS) for _ in range(rng.choice((1, 2, 2, 3, 3, 4))))
        for _ in range(60)
    ]
    for name in found[:40]:  # such as differ in one piece, which chance seldom makes
        parts = name.split()
        at = rng.randrange(len(parts) + 1)
        put = rng.choices(WORDS, k=rng.choice((1, 1, 2)))
        found.append(" ".join((*parts[:at], *put, *parts[at + rng.randint(0, 1) :])))
    return found


@pytest.mark.parametrize("seed", range(40))
def test_the_same_pairs_as_each_against_each(seed: int) -> None:
    names = list(dict.fromkeys(_names(seed)))
    plain = {(a, b): kind for a in names for b in names if a != b and (kind := pair_kind(a, b)) is not None}
    found = paired_names(names, SHIPPED)
    assert {(a, b): kind for a, others in found.items() for b, kind in others.items()} == plain


def test_ten_times_the_names_ask_for_ten_times_the_pairs_and_no_more(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = 0

    def counting(one: str, other: str, vocabulary: Vocabulary) -> PairKind | None:
        nonlocal asked
        asked += 1
        return pair_kind(one, other, vocabulary)

    monkeypatch.setattr("mixlint.naming.name_pairs.pair_kind", counting)
    calls = []
    for many in (300, 3_000):
        asked = 0
        paired_names([f"{PARTS[n % 20][0]} {n // 20 + 1}" for n in range(many)], SHIPPED)
        calls.append(asked)
    assert 0 < calls[1] < 11 * calls[0]
