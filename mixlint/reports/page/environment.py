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
    styles: tuple[str, ...] = (),
    script: str = "",
    **given: Any,
) -> str:
    """A whole page. Its policy takes its own styles and its own script, by their hashes, and nothing else.

    Args:
        template: one that extends ``base.html.j2``.
        pictures: what is drawn on it; the styles of these are put into it.
        styles: further templates of styles.
        script: the file of its script, beside the templates; none where it is empty.
        given: what the template asks for, ``version`` and ``caution`` among it.
    """
    drawn = sorted({f"{one.name}.css" for one in pictures if isinstance(one, Picture)})
    style = "\n".join(environment().get_template(name).render() for name in ("style.css.j2", *styles, *drawn))
    own = (TEMPLATES / script).read_text(encoding="utf-8") if script else ""
    page = (
        environment()
        .get_template(template)
        .render(
            style=_own(style), style_hash=_hash(style), script=_own(own) if own else "", script_hash=_hash(own), **given
        )
    )
    return markup_without_orders(page)


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


def _own(text: str) -> Markup:
    """What is the page's own, and holds nothing of a session: as it stands, so that it keeps its hash."""
    from markupsafe import Markup

    assert markup_without_orders(text) == text
    return Markup(f"\n{text}\n")


def _hash(text: str) -> Markup:
    """What the policy knows a script or a sheet of styles by (Content Security Policy Level 3, 2.3.1)."""
    from markupsafe import Markup

    return Markup(f"'sha256-{b64encode(sha256(f'{chr(10)}{text}{chr(10)}'.encode()).digest()).decode()}'")


def _safe(value: object) -> object:
    """What the template prints, with control and direction characters made visible; Markup is the template's own."""
    return neutral(value) if type(value) is str else value
