"""What an importer assumed or could not carry over, for a reader."""

from __future__ import annotations

from collections.abc import Iterable

from mixlint.importers import shown_by
from mixlint.reports.plain import Page, neutral, wrapped
from mixlint.session import GAP_WORDS, GAPS, Gap, Session


def conversion_text(session: Session, out: str, page: Page) -> str:
    """What was written, and the importer's notes on it: first what is wrong or lost, then what was assumed."""
    names = {c.id: c.name for c in session.channels}
    count = len(session.channels)
    said = f"{neutral(out)}: {neutral(session.title) or 'untitled'}, {count} channel{'' if count == 1 else 's'}"
    lines = wrapped(said, page.width, "  ", "")
    shows = shown_by(session)
    lines += ["", *shown_lines(shows, [gap for gap in GAPS if gap not in shows], page)]
    kinds = (("could not be read", (False, True)), ("not carried over", (True, False)), ("assumed", (False, False)))
    for heading, kind in kinds:
        notes = [n for n in session.notes if (n.loses, n.unread) == kind]
        if not notes:
            continue
        lines += ["", page.bold(heading)]
        for note in notes:
            about = f"{neutral(names.get(note.about, note.about))}: " if note.about else ""
            lines += wrapped(f"{about}{neutral(note.text)}", page.width, "      ", "    ")
    return "\n".join(lines) + "\n"


def shown_lines(shows: Iterable[Gap], gaps: Iterable[Gap], page: Page) -> list[str]:
    """What the form that was read shows of a session, and what it does not, in an engineer's words."""
    there, missing = ([GAP_WORDS[gap] for gap in kinds] for kinds in (shows, gaps))
    lines = wrapped(", ".join(there) or "nothing of a desk", page.width, " " * 13, "    shows    ")
    if missing:
        lines += wrapped(", ".join(missing), page.width, " " * 13, "    shows no ")
    return lines
