"""Draws the pictures of README and of the handbook: those of the page, from the flawed example session.

``python -m tests.readme_pictures --write`` makes them anew: an SVG file for each kind of picture in
:data:`mixlint.reports.pictures.KINDS` that the session gives something for, the handbook's page of them, and the lines
of README that show some. ``tests/handbook/test_handbook_pictures.py`` tests all of it against drift.
"""

from __future__ import annotations

import argparse
import re
from functools import cache
from pathlib import Path
from typing import Final

import mixlint
from mixlint.reports.page.environment import environment
from mixlint.reports.pictures.picture import Missing, Picture

TOP: Final = Path(__file__).resolve().parents[1]
SONG: Final = TOP / "example_sessions" / "sixpenny-weathervane-flawed.dawproject"
PAGES: Final = TOP / ".handbook" / "pages"
FOLDER: Final = PAGES / "pictures"
COMMAND: Final = "python -m tests.readme_pictures --write"
FIRST: Final = ("stereo", "ambience", "over_time", "routing")
MOST: Final = 2
"""README shows the first two of these that are drawn; the handbook shows all."""
BEGINS: Final = f"<!-- pictures of the example: written by {COMMAND} -->"
ENDS: Final = "<!-- end of the pictures -->"
ROOM: Final = 18
"""Paper around a picture, user units."""

_HEAD: Final = """# The pictures of a session

<!-- written by {command} -->

`mixlint review PATH --as html --out review.html` writes a page that works without a network. Besides the findings and
the channel sheet it has a picture of whatever the session gives something for. Below each stands what it answers, and
on the page also the same in words, as a table. Those here are drawn from the example session with eight planted
mistakes, `{song}`.
"""


@cache
def pictures() -> tuple[Picture | Missing, ...]:
    """The pictures of the flawed example, each drawn or with what is missing for it."""
    found = mixlint.check(SONG, pictures=True).pictures
    assert found is not None
    return found.drawn


def drawn() -> tuple[Picture, ...]:
    """Those that are drawn."""
    return tuple(one for one in pictures() if isinstance(one, Picture))


def svg(picture: Picture) -> str:
    """A picture that stands alone: on its paper, with the styles of the page for light and dark."""
    body = environment().get_template(f"{picture.name}.svg.j2").render(picture=picture, d=picture.drawing, number=1)
    found = re.search(r"<svg\b([^>]*)>", body)
    assert found, f"{picture.name}.svg.j2 holds no picture"
    left, top, width, height = map(float, re.findall(r'viewBox="([^"]*)"', found[1])[0].split())
    left, top, width, height = left - ROOM, top - ROOM, width + 2 * ROOM, height + 2 * ROOM
    size = f"width:{width:g}px;height:{height:g}px;min-width:0;max-width:none"  # the page lets it grow with the window
    attributes = re.sub(r'\s(?:width|height|viewBox|style|xmlns)="[^"]*"', "", found[1])
    return (
        f'{body[: found.start()]}<svg xmlns="http://www.w3.org/2000/svg"{attributes} '
        f'viewBox="{left:g} {top:g} {width:g} {height:g}" width="{width:g}" height="{height:g}" style="{size}">\n'
        f"<style>\n{_styles(picture.name)}</style>\n"
        f'<rect x="{left:g}" y="{top:g}" width="{width:g}" height="{height:g}" '
        f'style="fill:var(--paper);stroke:none"/>\n'
        f"{body[found.end() :].strip()}\n"
    )


def _styles(name: str) -> str:
    """The colours of the page and what it says of pictures, then the style of this one."""
    env = environment()
    page = env.get_template("style.css.j2").render().splitlines()
    wanted = [line for line in page if ":root" in line or re.match(r"svg\b", line)]
    own = env.get_template(f"{name}.css").render().rstrip("\n")
    return "\n".join([*wanted, own, ""]).replace("<", "\\3c ").replace("&", "\\26 ")


def _alt(picture: Picture) -> str:
    said = f"{picture.title}: {picture.answer}"
    return re.sub(r"([\[\]\\*_`<>])", r"\\\1", " ".join(said.split()))


def handbook_page() -> str:
    """The page of the handbook."""
    parts = [_HEAD.format(command=COMMAND, song=SONG.relative_to(TOP).as_posix())]
    for one in drawn():
        legend = " ".join(one.legend)
        parts.append(f"## {one.title}\n\n![{_alt(one)}](pictures/{one.name}.svg)\n\n{one.answer}\n")
        if legend:
            parts.append(f"{legend}\n")
    return "\n".join(parts)


def readme(text: str) -> str:
    """README with the lines that show pictures as they are now."""
    by_name = {one.name: one for one in drawn()}
    shown = [name for name in FIRST if name in by_name][:MOST]
    lines = [f"![{_alt(by_name[name])}](.handbook/pages/pictures/{name}.svg)\n" for name in shown]
    before, _, rest = text.partition(BEGINS)
    after = rest.partition(ENDS)[2]
    assert after, f"README has no lines between {BEGINS} and {ENDS}"
    return f"{before}{BEGINS}\n\n" + "\n".join(lines) + f"\n{ENDS}{after}"


def made() -> dict[Path, str]:
    """Every file that is written, with its text."""
    page = TOP / "README.md"
    return {
        **{FOLDER / f"{one.name}.svg": svg(one) for one in drawn()},
        PAGES / "pictures.md": handbook_page(),
        page: readme(page.read_text(encoding="utf-8")),
    }


def main() -> None:
    """Write all of it."""
    parser = argparse.ArgumentParser(prog="python -m tests.readme_pictures", description=__doc__)
    parser.add_argument("--write", action="store_true", required=True, help="write them")
    parser.parse_args()
    wanted = made()
    FOLDER.mkdir(exist_ok=True)
    for place in FOLDER.iterdir():
        if place not in wanted:
            place.unlink()
    for place, text in wanted.items():
        place.write_text(text, encoding="utf-8", newline="\n")
    for one in pictures():
        print(f"{one.name}: {'drawn' if isinstance(one, Picture) else f'not drawn, since {one.why}'}")


if __name__ == "__main__":
    main()
