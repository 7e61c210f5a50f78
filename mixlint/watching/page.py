"""The page of a review as it is kept in a file, and as it is served: then it renews itself, and rows can be signed."""

from __future__ import annotations

import os
import re
from typing import TYPE_CHECKING, Any, Final

from mixlint.reports.plain import neutral
from mixlint.reports.words import subject_text
from mixlint.signoffs.shell_line import sign_line
from mixlint.watching.since import since_html

if TYPE_CHECKING:
    from mixlint.review.findings import Finding
    from mixlint.watching.watcher import Renewal

_BODY: Final = re.compile(r"<body[^>]*>\n?")
_POLICY: Final = re.compile(r'<meta http-equiv="Content-Security-Policy"[^>]*>\n?')
_SCRIPT: Final = '<script src="renew.js" data-turn="{}" defer="defer"></script>\n'


def kept_page(renewal: Renewal) -> str:
    """The page for a file: what was cured and what is new on top, and no script in it."""
    page = renewal.made.html
    if renewal.since is None:
        return page
    section = since_html(renewal.since, renewal.head)
    return _BODY.sub(lambda found: found.group() + section, page, count=1)


def served_page(renewal: Renewal, turn: int) -> str:
    """The page as it is served: with the script, which the header allows in the place of the page's own policy.

    Args:
        renewal: the review that stands.
        turn: how many stood, by which the script knows a newer one.
    """
    page = _POLICY.sub("", kept_page(renewal), count=1)
    head, end, rest = page.rpartition("</body>")
    return f"{head}{_SCRIPT.format(turn)}{end}{rest}"


def waiting_page(said: str, turn: int) -> str:
    """The page before a first review stands."""
    from html import escape

    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8"/>\n<title>mixlint watch</title>\n</head>\n'
        f"<body>\n<p>{escape(neutral(said))}</p>\n{_SCRIPT.format(turn)}</body>\n</html>\n"
    )


def rows_to_sign(renewal: Renewal, standard: str | None, *, audio: bool) -> list[dict[str, Any]]:
    """What the page needs for a form beside each flagged row and each open question.

    Args:
        renewal: the review that stands.
        standard: the standard as it was named for it.
        audio: it opened the audio.
    """
    session = renewal.session.absolute()  # the line may be pasted anywhere
    named = os.path.abspath(standard) if standard is not None and os.path.isfile(standard) else standard
    return [
        _row(finding, sign_line(finding, session, standard=named, audio=audio))
        for finding in renewal.result.findings
        if finding.verdict in ("flagged", "open")
    ]


def _row(finding: Finding, line: str) -> dict[str, Any]:
    return {
        "fingerprint": finding.fingerprint,
        "rule": finding.rule,
        "channel": finding.subject.name,
        "grade": finding.grade,
        "verdict": finding.verdict,
        "about": subject_text(finding),
        "message": neutral(finding.message),
        "question": neutral(finding.question),
        "line": line,
    }
