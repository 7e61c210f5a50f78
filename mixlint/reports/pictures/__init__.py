"""The pictures of a session. A new one is a module here, a template and a style of its name, and a row in ``KINDS``.

Each module works out geometry and words from a :class:`Scene`; ``templates/NAME.svg.j2`` turns the geometry into SVG,
and ``templates/NAME.css`` says how its lines look, in the colours of the page. Nothing here decides what is right or
wrong.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from importlib import import_module
from pathlib import Path
from typing import Final

from mixlint.reports.pictures.picture import Missing, Picture, Pictures, Scene
from mixlint.session import Unknown, as_shown

TEMPLATES: Final = Path(__file__).parent / "templates"


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of picture, declared once.

    Args:
        name: its anchor, template and style.
        title: its heading.
        module: where ``draw(scene, name, title) -> Picture | Missing | None`` stands; None where the session has
            nothing of that kind at all, so that not even its absence needs a word.
    """

    name: str
    title: str
    module: str

    def draw(self, scene: Scene) -> Picture | Missing | None:
        """The picture of a session; what is missing for it, where it hangs on what the export does not show."""
        draw: Callable[[], Picture | Missing | None] = partial(
            import_module(self.module).draw, scene, self.name, self.title
        )
        drawn = as_shown(draw)
        return Missing.of(self.name, self.title, drawn) if isinstance(drawn, Unknown) else drawn


KINDS: Final = (
    Kind("stereo", "The mix in stereo", "mixlint.reports.pictures.stereo"),
    Kind("tone", "Tone", "mixlint.reports.pictures.tone"),
    Kind("levels", "Levels", "mixlint.reports.pictures.levels"),
    Kind("over_time", "Over time", "mixlint.reports.pictures.over_time"),
    Kind("ambience", "Ambience", "mixlint.reports.pictures.ambience"),
    Kind("routing", "Routing", "mixlint.reports.pictures.routing"),
    Kind("pairs", "Pairs and microphones", "mixlint.reports.pictures.pairs"),
    Kind("stems", "Stems against the print", "mixlint.reports.pictures.stems"),
)
"""The pictures, in the order in which they stand on the page."""


def pictures_of(scene: Scene) -> Pictures:
    """The channel sheet and every picture of one session."""
    from mixlint.facts.channel_sheet import sheet
    from mixlint.reports.pictures.small_balance import small_balance

    drawn = (kind.draw(scene) for kind in KINDS)
    read = {channel.id: scene.context.family(channel.id) for channel in scene.context.session.channels}
    families = {channel: family for channel, family in read.items() if family is not None}
    shown = tuple(one for one in drawn if one is not None)
    return Pictures(sheet(scene.context), shown, families, small_balance(scene.context))
