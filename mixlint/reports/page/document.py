"""The review as one self-contained page, made to be read and printed: no script, no network, nothing else to load."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from mixlint.reports import words
from mixlint.reports.choice import by_cause, open_by_reason
from mixlint.reports.pictures import TEMPLATES as PICTURES
from mixlint.reports.pictures.picture import Picture, Pictures
from mixlint.reports.plain import markup_without_orders, neutral
from mixlint.reports.sheet import insert_text, mix_text, output_text, role_text, send_text, state_text
from mixlint.reports.signed import baseline_text, note_text, sign_notes, signature_text, signed_apart
from mixlint.review.findings import Report, SessionReview

if TYPE_CHECKING:
    from mixlint.reports.review_output import ReviewOutput

TEMPLATES = Path(__file__).parent / "templates"


def write(output: ReviewOutput) -> str:
    """A review in this form."""
    return review_html(output.report, output.pictures, everything=output.everything)


def review_html(report: Report, pictures: Sequence[Pictures] = (), *, everything: bool = False) -> str:
    """The report as an HTML document.

    Args:
        report: the sessions.
        pictures: what to show of each session besides its findings, in the order of the sessions; may be left out.
        everything: also the clear and idle rows.
    """
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    env = Environment(
        loader=FileSystemLoader([TEMPLATES, PICTURES]),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=_safe,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    shown = [*pictures, *([Pictures()] * (len(report.sessions) - len(pictures)))]
    sessions = [_session(s, p, everything) for s, p in zip(report.sessions, shown, strict=True)]
    page = env.get_template("page.html.j2").render(
        report=report,
        sessions=sessions,
        drawn=sorted({one.name for each in shown for one in each.drawn if isinstance(one, Picture)}),
        caution=words.caution_for(report.sessions),
        w=words,
        baseline_text=baseline_text,
        insert_text=insert_text,
        mix_text=mix_text,
        note_text=note_text,
        numbers=words.numbers,
        output_text=output_text,
        role_text=role_text,
        send_text=send_text,
        signature_text=signature_text,
        state_text=state_text,
    )
    return markup_without_orders(page)


def _session(review: SessionReview, pictures: Pictures, everything: bool) -> dict[str, Any]:
    quiet: dict[str, dict[str, list[str]]] = {"clear": {}, "idle": {}}
    for finding in review.findings:
        if everything and finding.verdict in quiet:
            quiet[finding.verdict].setdefault(finding.rule, []).append(words.subject_text(finding))
    return {
        "review": review,
        "groups": by_cause(review.findings),
        "open": open_by_reason(review.findings),
        "signed": signed_apart(review.findings),
        "sign_notes": sign_notes(review.signing),
        "quiet": quiet,
        "pictures": pictures,
        "names": {row.id: neutral(row.name) for row in pictures.sheet.channels} if pictures.sheet else {},
    }


def _safe(value: object) -> object:
    """What the template prints, with control and direction characters made visible; Markup is the template's own."""
    return neutral(value) if type(value) is str else value
