"""The review as one self-contained page, made to be read and printed: no network, nothing else to load.

It is whole without its script, which filters rows and copies links. Its policy takes that one script and that one sheet
of styles, by their hashes, and nothing else; what is said of a session is text and attributes, never script or style.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any, Final

from markupsafe import Markup

from mixlint.reports import words
from mixlint.reports.anchors import session_anchors, spelt
from mixlint.reports.choice import way_and_table
from mixlint.reports.page.around import CAUTIONED, of_all
from mixlint.reports.page.environment import environment, rendered
from mixlint.reports.page.rows import FOLD, OTHER, rows_of
from mixlint.reports.parts import told_of
from mixlint.reports.pictures.picture import Picture, Pictures
from mixlint.reports.plain import markup_without_orders, neutral
from mixlint.reports.several import LABEL, Html, Told, sessions_said
from mixlint.reports.sheet import insert_text, mix_text, output_text, role_text, send_text, state_text
from mixlint.reports.signed import baseline_text, note_text, sign_notes, signature_text
from mixlint.reports.words import SHORT
from mixlint.review.findings import Grade, Report, SessionReview

if TYPE_CHECKING:
    from mixlint.facts.channel_sheet import SheetRow
    from mixlint.reports.review_output import ReviewOutput, SignLine


_SAYS: Final[dict[str, Any]] = {
    "SHORT": SHORT,
    "w": words,
    "baseline_text": baseline_text,
    "insert_text": insert_text,
    "mix_text": mix_text,
    "note_text": note_text,
    "output_text": output_text,
    "role_text": role_text,
    "send_text": send_text,
    "signature_text": signature_text,
    "spelt": spelt,
    "state_text": state_text,
    "way_and_table": way_and_table,
}
"""How the templates say things."""


def write(output: ReviewOutput) -> str:
    """A review in this form."""
    return review_html(
        output.report,
        output.pictures,
        everything=output.everything,
        hold_on=output.hold_on,
        sign=output.sign,
        back=output.back,
    )


def review_html(
    report: Report,
    pictures: Sequence[Pictures] = (),
    *,
    everything: bool = False,
    hold_on: Grade = "hold",
    sign: SignLine | None = None,
    back: str = "",
) -> str:
    """The report as an HTML document.

    Args:
        report: the sessions.
        pictures: what to show of each session besides its findings, in the order of the sessions; may be left out.
        everything: also the clear and idle rows.
        hold_on: the lightest grade that holds the bounce.
        sign: writes the line for a shell that signs a row off.
        back: the place that leads back to all sessions; empty for a page that stands alone.
    """
    shown = [*pictures, *([Pictures()] * (len(report.sessions) - len(pictures)))]
    opens = session_anchors(report.sessions)
    sessions = [
        _session(review, drawn, one, everything, hold_on, sign)
        for review, drawn, one in zip(report.sessions, shown, opens, strict=True)
    ]
    titles = [(review.title or review.source)[:LABEL] for review in report.sessions]
    cautioned = next((one for one in sessions if one["told"].cautions), None)
    for number, one in enumerate(titles):
        sessions[number]["number"] = number + 1
        sessions[number]["label"] = one if titles.count(one) == 1 else f"{one} ({number + 1})"
        sessions[number]["caution"] = Markup(CAUTIONED) if sessions[number] is cautioned else ""
    return rendered(
        "page.html.j2",
        (one for each in shown for one in each.drawn),
        styles=("index.css.j2",) if back else (),
        scripted=True,
        back=back,
        hole="",
        many="" if len(sessions) == 1 else sessions_said(len(sessions)),
        **of_all(sessions, report.version),
        **_SAYS,
    )


def part(output: ReviewOutput, told: Told) -> tuple[Told, str]:
    """One session of a page of several. Its number, its label and the caution are put in where all are known."""
    (review,) = output.report.sessions
    pictures = output.pictures[0] if output.pictures else Pictures()
    opens = session_anchors([review, review])[0]
    one = _session(review, pictures, opens, output.everything, output.hold_on, output.sign)
    one["number"], one["label"] = Markup(Html.NUMBER), Markup(Html.NAME)
    one["caution"] = Markup(Html.WARNING) if told.cautions else ""
    text = environment().get_template("part.html.j2").render(s=one, **_SAYS)
    drawn = tuple(sorted({each.name for each in pictures.drawn if isinstance(each, Picture)}))
    return replace(told, opens=opens, drawn=drawn), markup_without_orders(text)


def _session(
    review: SessionReview, pictures: Pictures, opens: str, everything: bool, hold_on: Grade, sign: SignLine | None
) -> dict[str, Any]:
    quiet: dict[str, dict[str, list[str]]] = {"clear": {}, "idle": {}}
    for finding in review.findings:
        if everything and finding.verdict in quiet:
            quiet[finding.verdict].setdefault(finding.rule, []).append(words.subject_text(finding))
    return {
        "review": review,
        "told": told_of(review),
        "opens": opens,
        "rows": rows_of(review, opens, pictures.families, hold_on, sign),
        "sign_notes": sign_notes(review.signing),
        "quiet": quiet,
        "pictures": pictures,
        "strips": _strips(pictures),
        "names": {row.id: neutral(row.name) for row in pictures.sheet.channels} if pictures.sheet else {},
    }


def _strips(pictures: Pictures) -> dict[str, list[SheetRow]]:
    """The rows of the channel sheet: in desk order, or by family where they are many."""
    found: dict[str, list[SheetRow]] = {}
    rows = pictures.sheet.channels if pictures.sheet else ()
    for row in rows:
        found.setdefault(pictures.families.get(row.id, OTHER) if len(rows) > FOLD else "", []).append(row)
    return found
