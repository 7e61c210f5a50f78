"""What turns templates into pages: every value is escaped, and made safe before it is."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from mixlint.reports.pictures import TEMPLATES as PICTURES
from mixlint.reports.plain import neutral

if TYPE_CHECKING:
    from jinja2 import Environment

TEMPLATES = Path(__file__).parent / "templates"


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
    """What a template prints, with control and direction characters made visible; Markup is the template's own."""
    return neutral(value) if type(value) is str else value
