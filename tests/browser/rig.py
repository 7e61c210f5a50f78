"""One page in a real browser: opened as a file, watched for everything that it must not do, and measured.

Chromium is driven by playwright, which can turn scripts off, stand in for dark, print and forced colours, and tell of
every request; what the page does wrong is kept in ``faults`` and asked for at the end of a test.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from playwright.sync_api import Browser, BrowserContext, Page

WIDTHS = (320, 400, 768, 1280)
"""Widths of a window, px: a small phone, WCAG 2.2's 320 px for reflow (1.4.10) included, to a desk."""

PAPER_PX = 680
"""A4 less the page's margins of 15 mm, at 96 px an inch: 180 mm."""

CUT = """
() => {
  const found = [];
  const room = document.documentElement.clientWidth;
  const name = e => e.tagName.toLowerCase() + (e.id ? '#' + e.id : '') + (e.className && typeof e.className === 'string'
    ? '.' + e.className.trim().split(/\\s+/).join('.') : '') + ': ' + (e.textContent || '').trim().slice(0, 40);
  if (document.documentElement.scrollWidth > room) found.push('the page is ' +
    document.documentElement.scrollWidth + ' px wide in ' + room);
  const paper = matchMedia('print').matches;
  const scrolls = e => !paper && ['auto', 'scroll'].includes(getComputedStyle(e).overflowX);
  const walk = (e, inside) => {
    const style = getComputedStyle(e);
    if (style.display === 'none' || style.visibility === 'hidden' || style.clipPath !== 'none') return;
    const box = e.getBoundingClientRect();
    if (box.width && !inside && (box.right > room + 1 || box.left < -1)) found.push('outside: ' + name(e));
    if (!inside && ['hidden', 'clip'].includes(style.overflowX) && e.scrollWidth > e.clientWidth + 1)
      found.push('cut: ' + name(e));
    if (e instanceof SVGElement) return;
    const folded = e.tagName === 'DETAILS' ? !(e.open || paper) : false;
    for (const child of folded ? [e.firstElementChild] : e.children) walk(child, inside || scrolls(e));
  };
  walk(document.body, false);
  return found;
}
"""
"""What is cut at the sides: wider than the window, and in nothing that scrolls; on paper nothing scrolls."""


@dataclass
class Opened:
    """A page that stands open, and what it did that it must not."""

    page: Page
    url: str
    faults: list[str] = field(default_factory=list)

    def look(self, *, dark: bool = False, paper: bool = False, **more: Any) -> None:
        """Show the page in dark, or as it is printed; ``more`` as ``emulate_media`` takes it."""
        self.page.emulate_media(media="print" if paper else "screen", color_scheme="dark" if dark else "light", **more)

    def wide(self, px: int) -> None:
        """Make the window so wide."""
        self.page.set_viewport_size({"width": px, "height": 900})

    def cut(self) -> list[str]:
        """What is cut at the sides."""
        found: list[str] = self.page.evaluate(CUT)
        return found

    def barriers(self, axe: str) -> list[str]:
        """What axe-core finds, by every rule that it has, those of good practice too."""
        if not self.page.evaluate("() => 'axe' in window"):
            self.page.evaluate(axe)
        found = self.page.evaluate("() => axe.run(document, { resultTypes: ['violations'] }).then(r => r.violations)")
        return [
            f"{one['id']} ({one['impact']}): {one['help']}: {node['target']} {node['html'][:160]}"
            for one in found
            for node in one["nodes"]
        ]


def open_page(browser: Browser, path: Path, *, script: bool = True, **more: Any) -> tuple[Opened, BrowserContext]:
    """Open a file; ``more`` as a context of playwright's takes it, whose closing is the caller's.

    Whatever leaves the page is refused and kept, as are errors and warnings of the console and of scripts.
    """
    context = browser.new_context(
        java_script_enabled=script, offline=True, viewport={"width": 1280, "height": 900}, **more
    )
    page = context.new_page()
    opened = Opened(page, path.as_uri())

    def request(asked: Any) -> None:
        if asked.url.partition("#")[0] != opened.url:
            opened.faults.append(f"asks for {asked.url[:200]}")

    def console(said: Any) -> None:
        if said.type in ("error", "warning"):
            opened.faults.append(f"{said.type} of the console: {said.text[:300]}")

    def dialog(shown: Any) -> None:
        opened.faults.append(f"a dialog: {shown.message}")
        shown.dismiss()

    page.on("request", request)
    page.on("console", console)
    page.on("pageerror", lambda error: opened.faults.append(f"a script fails: {error}"))
    page.on("dialog", dialog)
    page.on("popup", lambda _: opened.faults.append("another window"))
    page.goto(opened.url)
    return opened, context


def told(found: Sequence[str]) -> str:
    """Faults, one a line."""
    return json.dumps(list(found), indent=1, ensure_ascii=False)
