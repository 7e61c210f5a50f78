"""What all members of a kin but one have in common, by counts, against asking each of them."""

from __future__ import annotations

import random

import pytest

from mixlint.analysis.copies import Kin
from mixlint.session import Channel


@pytest.mark.parametrize("seed", range(60))
def test_counts_tell_what_each_of_the_others_says(seed: int) -> None:
    rng = random.Random(seed)
    parts = [Channel(id=f"c{n}", name=rng.choice("aab" if seed % 2 else "abc"), kind="track") for n in range(6)]
    members = rng.sample(parts, rng.randint(0, 6))
    kin = Kin(members)
    for part in parts:
        others = [one for one in members if one.id != part.id]
        said = {one.name for one in others}
        assert kin.without(part) == others
        assert kin.has_others(part) is bool(others)
        assert kin.said_without(part, _name) == len(said)
        assert kin.agreed_without(part, _name) == (said.pop() if len(said) == 1 else None)


def test_each_member_is_asked_once() -> None:
    asked: list[str] = []

    def says(part: Channel) -> str:
        asked.append(part.id)
        return part.kind

    parts = [Channel(id=f"c{n}", name="Vox", kind="track") for n in range(50)]
    kin = Kin(parts)
    stranger = Channel(id="c50", name="Vox", kind="track")
    for _ in range(50):
        assert kin.agreed_without(stranger, says) == "track"
    assert len(asked) == 50


def _name(part: Channel) -> str:
    return part.name
