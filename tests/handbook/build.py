"""Puts the written and the made pages together, and has Sphinx build them, with every warning an error."""

from __future__ import annotations

import argparse
import gc
import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

import mixlint
from tests.handbook import reference_pages as reference
from tests.handbook.rule_pages import rule_pages
from tests.handbook.walk import walked

TOP = Path(__file__).resolve().parents[2]
WRITTEN = TOP / ".handbook" / "pages"
THEME = TOP / ".handbook" / "theme"


def written_pages() -> dict[str, str]:
    """The pages written by hand, by their path below ``.handbook/pages``."""
    return {
        path.relative_to(WRITTEN).as_posix(): path.read_text(encoding="utf-8") for path in sorted(WRITTEN.rglob("*.md"))
    }


def pictures() -> dict[str, str]:
    """The pictures that pages show (``tests/readme_pictures.py``), by path; SVG is text too."""
    return {path.relative_to(WRITTEN).as_posix(): path.read_text(encoding="utf-8") for path in WRITTEN.rglob("*.svg")}


def made_pages() -> dict[str, str]:
    """The pages made from what the program says, by path."""
    return {
        **rule_pages(),
        **reference.fact_pages(),
        **reference.settings_page(),
        **reference.standards_page(),
        **reference.schema_pages(),
        **reference.command_pages(),
        **reference.forms_page(),
        **reference.store_page(),
        **reference.computation_pages(),
        **reference.python_page(),
    }


def contents(pages: dict[str, str]) -> list[tuple[str, str]]:
    """The pages that the contents of the first page name, each with its title."""
    names = pages["index.md"].partition("```{toctree}")[2].partition("```")[0].split()
    return [(name, pages[f"{name}.md"].partition("\n")[0].removeprefix("# ")) for name in names if name != ":hidden:"]


def settings(pages: dict[str, str]) -> dict[str, object]:
    """Sphinx's configuration."""
    return {
        "html_context": {"contents": contents(pages)},
        "project": "mixlint",
        "release": mixlint.__version__,
        "extensions": ["myst_parser"],
        "myst_heading_anchors": 3,
        "smartquotes": False,
        "highlight_language": "text",
        "html_theme": "theme",
        "html_theme_path": [str(THEME.parent)],
        "html_title": "mixlint handbook",
        "html_show_sphinx": False,
        "html_show_copyright": False,
        "html_copy_source": False,
        "html_show_search_summary": False,  # it would fetch the pages, which a browser refuses for files
        "html_use_index": False,
        "html_permalinks_icon": "#",
    }


def put(pages: dict[str, str], into: Path) -> None:
    """Write the sources of pages into a folder."""
    for name, text in pages.items():
        path = into / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")


def build(out: Path, pages: dict[str, str], builder: str = "html") -> str:
    """Build the handbook into ``out``, which is emptied first.

    Args:
        out: the folder.
        pages: the sources by path.
        builder: Sphinx's builder; ``dummy`` reads all and follows every link, and writes nothing.

    Returns:
        what Sphinx had to say; empty where nothing was wrong.
    """
    from io import StringIO

    from sphinx.application import Sphinx

    with TemporaryDirectory() as place, _quick_stems():
        source = Path(place) / "source"
        put(pages, source)
        shutil.rmtree(out, ignore_errors=True)
        said = StringIO()
        app = Sphinx(
            source, None, out, Path(place) / "trees", builder, settings(pages), status=None, warning=said, freshenv=True
        )
        app.build()
    return said.getvalue().strip()


@contextmanager
def _quick_stems() -> Iterator[None]:
    """Sphinx stems every word of every page for its search; the same words come again and again."""
    from sphinx.search.en import SearchEnglish

    plain = SearchEnglish.stem
    known: dict[str, str] = {}

    def stem(self: SearchEnglish, word: str) -> str:
        if word not in known:
            known[word] = plain(self, word)
        return known[word]

    SearchEnglish.stem = stem  # type: ignore[method-assign]
    try:
        yield
    finally:
        SearchEnglish.stem = plain  # type: ignore[method-assign]


def walk_anew() -> None:
    """Write into the first pages what their commands print now."""
    page = WRITTEN / "getting-started.md"
    os.environ["MIXLINT_CACHE"] = ""
    with TemporaryDirectory() as place:
        shutil.copytree(TOP / "example_sessions", Path(place) / "example_sessions")
        os.chdir(place)
        said = walked(page.read_text(encoding="utf-8"), Path(place))
        os.chdir(TOP)
    page.write_text(said, encoding="utf-8", newline="\n")


def main() -> int:
    """``python -m tests.handbook FOLDER``: 1 where a page has a fault, which is then told."""
    parser = argparse.ArgumentParser(prog="python -m tests.handbook", description="Build the handbook.")
    parser.add_argument("folder", nargs="?", type=Path, help="where it goes; the folder is emptied first")
    parser.add_argument("--sources", type=Path, help="also write the pages as Markdown into this folder")
    parser.add_argument("--walk", action="store_true", help="first write into the pages what their commands print")
    given = parser.parse_args()
    if given.folder is None and given.sources is None and not given.walk:
        parser.error("name a folder, --sources or --walk")
    if given.walk:
        walk_anew()
    if given.folder is None and given.sources is None:
        return 0
    gc.disable()  # nearly all that Sphinx makes stays until the end: the search for cycles takes two fifths of a build
    pages = {**made_pages(), **written_pages()}
    if given.sources is not None:
        put(pages, given.sources)
    if given.folder is None:
        return 0
    said = build(given.folder.resolve(), {**pages, **pictures()})
    print(said or f"{sum(1 for _ in given.folder.rglob('*.html'))} pages; open {given.folder / 'index.html'}")
    return 1 if said else 0
