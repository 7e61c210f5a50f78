"""``mixlint watch``: reviews a session at each new export, on the terminal and on a page."""

from __future__ import annotations

import sys
from contextlib import AbstractContextManager, ExitStack
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mixlint.cli.options import (
    AreaOption,
    AssumptionsOption,
    ForceOption,
    HoldOnOption,
    LeaveOutOption,
    NoAudioOption,
    PathArgument,
    StandardOption,
)
from mixlint.runs.each_apart import DEFAULT_MINUTES

if TYPE_CHECKING:
    from mixlint.cli.progress import Progress
    from mixlint.reports.plain import Page
    from mixlint.runs.listening import Watch
    from mixlint.watching.server import PageServer
    from mixlint.watching.watcher import Renewal


def watch(
    path: PathArgument,
    standard: StandardOption = None,
    out: Annotated[
        Path | None,
        typer.Option("--out", metavar="FILE", help="Also keep the review as a page in this file, renewed each time."),
    ] = None,
    force: ForceOption = False,
    page: Annotated[
        bool,
        typer.Option("--page", help="Also show it on a page of this machine alone, where rows can be signed."),
    ] = False,
    port: Annotated[
        int, typer.Option("--port", metavar="N", min=0, max=65535, help="The port of the page; 0 takes a free one.")
    ] = 0,
    hold_on: HoldOnOption = "hold",
    printed: Annotated[
        Path | None, typer.Option("--print", metavar="FILE", help="The print of the mix, as for mixlint review.")
    ] = None,
    no_audio: NoAudioOption = False,
    area: AreaOption = None,
    leave_out: LeaveOutOption = None,
    assumptions: AssumptionsOption = False,
) -> None:
    """Review a session at each new export, and tell what was cured and what is new, until it is stopped."""
    from mixlint.errors import MixlintError
    from mixlint.importers.prints import check_print
    from mixlint.media.workers import cores
    from mixlint.rulebook.choosing import known_areas, known_rules
    from mixlint.runs.files import refuse_inputs
    from mixlint.watching.watcher import Watcher

    if port and not page:
        raise MixlintError("a port is of use for the page alone", do="add --page")
    if printed is not None:
        check_print(printed, audio=not no_audio)
    if out is not None:
        refuse_inputs(out, [path, *(Path(one) for one in (standard, printed) if one)], force=force)
    check = {
        "audio": not no_audio,
        "areas": tuple(area or ()),
        "leave_out": tuple(leave_out or ()),
        "hold_on": hold_on,
        "printed": printed,
        "workers": cores(),
    }
    desk = _Desk(path, out, force=force)
    html = page or out is not None
    watcher = Watcher(path, standard, check, html=html, assumptions=assumptions, minutes=DEFAULT_MINUTES, onlooker=desk)
    if area or leave_out:
        from mixlint.cli.inputs import standard_for

        chosen = standard_for(watcher.session, standard)
        known_areas(area or (), chosen)
        known_rules(leave_out or (), chosen)
    with ExitStack() as open_until_stopped:
        if page:
            from mixlint.watching.server import PageServer
            from mixlint.watching.signing_desk import SigningDesk

            signs = open_until_stopped.enter_context(SigningDesk(standard, audio=not no_audio))
            desk.server = open_until_stopped.enter_context(PageServer(signs, port))
        desk.say_where()
        watcher.run()


class _Desk:
    """Where what becomes of a watched session is told: the terminal, the file, the page.

    Args:
        path: the session as it was named.
        out: the file of the page.
        force: the file may be one that mixlint has not written.
    """

    def __init__(self, path: Path, out: Path | None, *, force: bool) -> None:
        self._path, self._out, self._force = path, out, force
        self.server: PageServer | None = None
        self._told: set[str] = set()
        self._begun = False
        self._progress: Progress | None = None

    def stands(self, renewal: Renewal) -> None:
        """Tell all of it."""
        from mixlint.cli.guard import say
        from mixlint.watching.since import since_text

        for one in renewal.made.notices:
            if one not in self._told:
                self._told.add(one)
                say(one)
        page = self.page()
        head = [page.line, page.bold(renewal.head)]
        if renewal.unheard:
            head.append("Without its sound, which is being heard:")
        text = "\n".join(head) + "\n"
        if renewal.since is not None:
            text += since_text(renewal.since, page)
        self._put(f"{text}\n{renewal.made.text}")
        self._keep(renewal)
        if self.server is not None:
            self.server.renew(renewal)

    def same(self, head: str, stands: Renewal) -> None:
        """Tell that nothing is another."""
        self._put(f"{head}: nothing has changed.\n", wipe=False)
        if self.server is not None:
            self.server.renew(stands)

    def waits(self, said: str) -> None:
        """Tell why nothing is reviewed."""
        from mixlint.cli.guard import say

        say(said)
        if self.server is not None:
            self.server.wait(said)

    def working(self, session: Path) -> AbstractContextManager[Watch]:
        """Show what is being worked on, once it takes more than a second."""
        from mixlint.cli.progress import Progress

        self._progress = Progress(1)
        self._progress.step(session.name)
        return self._progress

    def page(self) -> Page:
        """As wide as the terminal is now."""
        from mixlint.cli.out import page

        return page(None)

    def _put(self, text: str, *, wipe: bool = True) -> None:
        """Put a text on the terminal, in the place of the last one where it is one that can be wiped."""
        import os

        from mixlint.cli.out import put

        if self._progress is not None:
            self._progress.clear()
        if wipe and self._begun and sys.stdout.isatty() and os.environ.get("TERM") != "dumb":
            sys.stdout.write("\x1b[H\x1b[2J")
        self._begun = True
        put(text, None)

    def _keep(self, renewal: Renewal) -> None:
        """Write the page; where that cannot be done the watch goes on."""
        from mixlint.cli.guard import complain
        from mixlint.errors import InputError
        from mixlint.runs.files import write_text
        from mixlint.watching.page import kept_page

        if self._out is None:
            return
        try:
            write_text(kept_page(renewal), self._out, inputs=[renewal.session], force=self._force)
        except InputError as fault:
            complain(fault)

    def say_where(self) -> None:
        """Say where the page is, and how the watch ends."""
        from mixlint.cli.guard import say

        said = f"watching {self._path}: Ctrl-C ends it."
        if self.server is not None:
            said += f"\n  The page, for this machine alone: {self.server.address}"
            said += "\n  Whoever has that address can read the review and sign."
        say(said)
