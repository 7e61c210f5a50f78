"""What an importer assumed or could not carry over, for a reader."""

from __future__ import annotations

from mixlint.reports.plain import Page, neutral, wrapped
from mixlint.session import Session


def conversion_text(session: Session, out: str, page: Page) -> str:
    """What was written, and the importer's notes on it: first what is lost, then what was assumed."""
    names = {c.id: c.name for c in session.channels}
    count = len(session.channels)
    lines = [f"{neutral(out)}: {neutral(session.title) or 'untitled'}, {count} channel{'' if count == 1 else 's'}"]
    for heading, loses in (("not carried over", True), ("assumed", False)):
        notes = [n for n in session.notes if n.loses is loses]
        if not notes:
            continue
        lines += ["", page.bold(heading)]
        for note in notes:
            about = f"{neutral(names.get(note.about, note.about))}: " if note.about else ""
            lines += wrapped(f"{about}{neutral(note.text)}", page.width, "      ", "    ")
    return "\n".join(lines) + "\n"
