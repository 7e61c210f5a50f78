"""A survey as one self-contained page: what it comes to, pictures, and every section as a table."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from mixlint.reports.page.environment import rendered
from mixlint.reports.pictures import bars
from mixlint.reports.pictures.bars import Bar
from mixlint.reports.survey import NOT_GIVEN, about, sections
from mixlint.reports.words import SHORT, counts_of
from mixlint.units import few_text

if TYPE_CHECKING:
    from collections.abc import Sequence

    from mixlint.reports.pictures.picture import Picture
    from mixlint.store.survey_model import GroupRow, Survey

OUTCOMES: Final = tuple(SHORT.values())
MOST_NAMED: Final = 3
"""So many are named in a caption: wording."""


def survey_html(survey: Survey) -> str:
    """The page."""
    pictures = tuple(_pictures(survey))
    return rendered(
        "survey.html.j2",
        pictures,
        styles=("index.css.j2", "survey.css.j2"),
        version=survey.version,
        caution="",
        title=f"{counts_of(len(survey.sessions), 'session')}: a survey",
        answer=_answer(survey),
        about=about(survey),
        figures=pictures,
        sections=sections(survey, whole=True),
    )


def _answer(survey: Survey) -> str:
    """What the store comes to, in a sentence or two."""
    held = [one.title or one.path for one in survey.sessions if one.outcome == "held"]
    said = f"{len(held)} of {counts_of(len(survey.sessions), 'session')} {'is' if len(held) == 1 else 'are'} held"
    said += f": {few_text(held, MOST_NAMED)}." if held else "."
    if survey.lapsing:
        said += f" {counts_of(len(survey.lapsing), 'sign-off')} will have lapsed in {survey.lapse_within} days."
    return said


def _pictures(survey: Survey) -> Iterator[Picture]:
    if survey.rules:
        first = [f"{one.rule} ({counts_of(one.rows, 'row')} since {one.since})" for one in survey.rules]
        yield bars.draw(
            "What fires most",
            f"Most often: {few_text(first, MOST_NAMED)}.",
            "rule",
            ("hold", "look", "notes"),
            [Bar(one.rule, (one.hold, one.look, one.note)) for one in survey.rules],
        )
    if len(survey.months) > 1:
        first_month, last_month = survey.months[0], survey.months[-1]
        yield bars.draw(
            "Reviews, month by month",
            f"{_share(first_month.held, first_month.reviews)} of the reviews of {first_month.month} were held, "
            f"{_share(last_month.held, last_month.reviews)} of those of {last_month.month}.",
            "month",
            OUTCOMES,
            [Bar(one.month, (one.held, one.look, one.clear)) for one in survey.months],
        )
    for what, groups in (("engineer", survey.engineers), ("client", survey.clients), ("standard", survey.standards)):
        if len(groups) > 1:
            yield _by(what, groups)
    if survey.what_if:
        told = [
            f"{one.rule}: {one.flagged_then} in place of {counts_of(one.flagged, 'flagged row')}"
            for one in survey.what_if
        ]
        yield bars.draw(
            "At other limits",
            f"{few_text(told, MOST_NAMED, between='; ')}.",
            "rule",
            ("flagged rows",),
            [
                Bar(f"{one.rule}, {when}", (number,))
                for one in survey.what_if
                for when, number in (("now", one.flagged), ("then", one.flagged_then))
            ],
        )


def _by(what: str, groups: Sequence[GroupRow]) -> Picture:
    most = max(groups, key=lambda one: one.held)
    held = f"{most.name or NOT_GIVEN} has {most.held} of {most.sessions}" if most.held else "none is held"
    return bars.draw(
        f"Sessions by {what}",
        f"Most sessions that are held: {held}." if most.held else "No session is held.",
        what,
        OUTCOMES,
        [Bar(one.name or NOT_GIVEN, (one.held, one.look, one.clear)) for one in groups],
    )


def _share(part: int, whole: int) -> str:
    return f"{part} of {whole}"
