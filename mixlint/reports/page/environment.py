"""How templates become a page: where they lie, and what makes every text in them safe."""

from __future__ import annotations

from base64 import b64encode
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Any

from mixlint.reports.pictures import TEMPLATES as PICTURES
from mixlint.reports.pictures.picture import Missing, Picture
from mixlint.reports.plain import markup_without_orders, neutral

if TYPE_CHECKING:
    from collections.abc import Iterable

    from jinja2 import Environment
    from markupsafe import Markup

TEMPLATES = Path(__file__).parent / "templates"


def rendered(
    template: str,
    pictures: Iterable[Picture | Missing],
    *,
    styles: Iterable[str] = (),
    scripted: bool = False,
    **given: Any,
) -> str:
    """A whole page.

    Args:
        template: one that extends ``base.html.j2``.
        pictures: what is drawn on it; the styles of these are put into it.
        styles: templates of further styles.
        scripted: the page's script is put into it.
        given: what the template asks for, ``version`` and ``caution`` among it.
    """
    drawn = sorted({one.name for one in pictures if isinstance(one, Picture)})
    parts = ("style.css.j2", *(f"{one}.css" for one in drawn), *styles)
    style = "\n".join(environment().get_template(name).render() for name in parts)
    script = page_script() if scripted else ""
    page = environment().get_template(template)
    return markup_without_orders(
        page.render(
            style=_own(style), style_hash=hashed(style), script=_own(script), script_hash=hashed(script), **given
        )
    )


@cache
def page_script() -> str:
    """The script of the page of a review."""
    return (TEMPLATES / "page.js").read_text(encoding="utf-8")


def hashed(text: str) -> str:
    """What a policy knows a script or a sheet of styles of a page by (Content Security Policy Level 3, 2.3.1)."""
    return f"'sha256-{b64encode(sha256(text.encode()).digest()).decode()}'"


def _own(text: str) -> Markup:
    """What is the page's own, and holds nothing of a session: as it stands, so that it keeps its hash."""
    from markupsafe import Markup

    assert markup_without_orders(text) == text
    return Markup(text)


@cache
def environment() -> Environment:
    """The templates of pages and pictures, each compiled once however many pages there are."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    made = Environment(
        loader=FileSystemLoader([TEMPLATES, PICTURES]),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=_safe,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["line"] = _line
    return made


def _line(text: str) -> Markup:
    """A line to be copied, every character of it: what signs a row hides nothing, and is not made safe twice."""
    from html import escape

    from markupsafe import Markup

    return Markup(escape(text, quote=False))


def _safe(value: object) -> object:
    """What the template prints, with control and direction characters made visible; Markup is the template's own."""
    return neutral(value) if type(value) is str else value
