"""How templates become a page: where they lie, and what makes every text in them safe."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from mixlint.reports.pictures import TEMPLATES as PICTURES
from mixlint.reports.pictures.picture import Missing, Picture
from mixlint.reports.plain import markup_without_orders, neutral

if TYPE_CHECKING:
    from collections.abc import Iterable

    from jinja2 import Environment

TEMPLATES = Path(__file__).parent / "templates"


def rendered(template: str, pictures: Iterable[Picture | Missing], **given: Any) -> str:
    """A whole page.

    Args:
        template: one that extends ``base.html.j2``.
        pictures: what is drawn on it; the styles of these are put into it.
        given: what the template asks for, ``version`` and ``caution`` among it.
    """
    drawn = sorted({one.name for one in pictures if isinstance(one, Picture)})
    return markup_without_orders(environment().get_template(template).render(drawn=drawn, **given))


@cache
def environment() -> Environment:
    """The templates of pages and pictures, each compiled once however many pages there are."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    return Environment(
        loader=FileSystemLoader([TEMPLATES, PICTURES]),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=_safe,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def _safe(value: object) -> object:
    """What the template prints, with control and direction characters made visible; Markup is the template's own."""
    return neutral(value) if type(value) is str else value
