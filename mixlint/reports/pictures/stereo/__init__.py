"""The mix in stereo: every part and return at its place from left to right, its level, and its tone.

``gathering`` asks the rooms below what stands where, ``folding`` brings a large session together by families,
``layout`` gives everything a place without collisions, and ``saying`` finds the words.
"""

from __future__ import annotations

from mixlint.reports.pictures.picture import Missing, Picture, Scene
from mixlint.reports.pictures.stereo.folding import folded
from mixlint.reports.pictures.stereo.gathering import gathered
from mixlint.reports.pictures.stereo.layout import laid_out
from mixlint.reports.pictures.stereo.saying import answer, legend, words
from mixlint.session import Unknown


def draw(scene: Scene, name: str, title: str) -> Picture | Missing | None:
    """The mix of a session in stereo; None where nothing in it is a part of a song."""
    found = gathered(scene)
    if found is None or isinstance(found, Unknown):
        return found if found is None else Missing.of(name, title, found)
    if not found.parts and found.unplaced:
        why = found.unplaced[0]
        return Missing(name, title, f"it is not known where any part stands: {why.name}: {why.detail}")
    shown = folded(found)
    return Picture(name, title, answer(found), laid_out(shown), words(shown), legend(shown))
