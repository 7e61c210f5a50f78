"""The JSON Schemas that come with mixlint, one line each."""

from __future__ import annotations

from collections.abc import Mapping

from mixlint.reports.plain import Page, wrapped


def schema_list_text(titles: Mapping[str, str], page: Page) -> str:
    """Every schema with its title, and how one is had.

    Args:
        titles: the title of each schema by its name.
        page: what the text is laid out on.
    """
    width = max(map(len, titles)) + 2
    lines: list[str] = []
    for name, title in titles.items():
        lines += wrapped(title, page.width, " " * width, name.ljust(width))
    said = "One of them: mixlint schema NAME, with --out FILE beside your own for an editor to find."
    return "\n".join([*lines, "", *wrapped(said, page.width, "")]) + "\n"
