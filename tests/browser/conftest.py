"""A browser for the tests of this folder, and the pages that they look at; skipped where there is no browser."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from typer.testing import CliRunner

from mixlint.cli.app import app
from mixlint.runs.storing import Asked
from tests.browser import needs
from tests.browser.rig import Opened, open_page, told

if TYPE_CHECKING:
    from playwright.sync_api import Browser

EXAMPLES = Path(__file__).resolve().parents[2] / "example_sessions"

Open = Callable[..., Opened]
"""Opens a file in the browser; ``script=False`` without scripts."""


@pytest.fixture(scope="package")
def browser() -> Iterator[Browser]:
    """One Chromium for the folder. It is ended with it: its loop must not be met by a test that runs one of its own."""
    playwright = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
    try:
        path = needs.browser()
    except needs.Missing as why:
        pytest.skip(str(why))
    with playwright.sync_playwright() as started:
        try:
            found = started.chromium.launch(executable_path=path)
        except playwright.Error as why:
            pytest.skip(f"{path} does not start: {str(why).splitlines()[0]}")
        yield found
        found.close()


@pytest.fixture(scope="package")
def axe() -> str:
    """axe-core, as a script."""
    try:
        return needs.axe()
    except needs.Missing as why:
        pytest.skip(str(why))


@pytest.fixture
def open_file(browser: Browser) -> Iterator[Open]:
    """Opens pages; whatever one of them did that it must not fails the test at its end."""
    contexts = []
    pages: list[Opened] = []

    def opens(path: Path, **more: Any) -> Opened:
        opened, context = open_page(browser, path, **more)
        contexts.append(context)
        pages.append(opened)
        return opened

    yield opens
    for context in contexts:
        context.close()
    faults = [fault for page in pages for fault in page.faults]
    assert not faults, told(faults)


def review(folder: Path, session: str, *more: str) -> Path:
    """The page of an example session, or of one at a path, as the command writes it."""
    out = folder / f"{Path(session).name.partition('.')[0]}.html"
    done = CliRunner().invoke(
        app, ["review", str(EXAMPLES / session), "--no-audio", "--as", "html", "--out", str(out), *more]
    )
    assert done.exit_code in (0, 1), done.output
    return out


@pytest.fixture(scope="package")
def held(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The page of a session of 20 channels that is held, with all its pictures."""
    return review(tmp_path_factory.mktemp("held"), "sixpenny-weathervane-flawed.session.json")


@pytest.fixture(scope="package")
def clear(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The page of a small session of which nothing is held."""
    return review(tmp_path_factory.mktemp("clear"), "voice-and-one-guitar.session.json", "--everything")


@pytest.fixture(scope="package")
def surveyed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The page of a survey of the example sessions, with every picture that it can have."""
    pytest.importorskip("pyarrow")
    pytest.importorskip("duckdb")
    from tests.store.stores import keep

    folder = tmp_path_factory.mktemp("survey")
    out = folder / "survey.html"
    songs = [EXAMPLES / "sixpenny-weathervane-flawed.session.json", EXAMPLES / "mono-release.session.json"]
    for song, engineer in zip(songs, ("Ada Marsh", "Bo Reed"), strict=True):
        keep(folder / "store", song, asked=Asked(audio=False, engineer=engineer))
    words = ["--as", "html", "--out", str(out), "--what-if", "return-low-cut.low_cut_db=0"]
    done = CliRunner().invoke(app, ["survey", str(folder / "store"), *words])
    assert done.exit_code == 0, done.output
    return out
