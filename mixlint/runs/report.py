"""Reviews as text in one of the forms that a report has."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from mixlint.errors import MixlintError
from mixlint.runs.check import Review

if TYPE_CHECKING:
    from mixlint.reports.plain import Page
    from mixlint.reports.review_output import SignLine


def report(
    reviews: Review | Iterable[Review],
    form: str = "text",
    *,
    everything: bool | None = None,
    why: bool = False,
    assumptions: bool = False,
    quiet: bool = False,
    page: Page | None = None,
    sign: SignLine | None = None,
    back: str = "",
) -> str:
    """One review, or several in one document, as ``mixlint review --as FORM`` writes it.

    Args:
        reviews: the reviews, in the order in which they shall stand.
        form: ``text``, ``json``, ``sarif``, ``junit``, ``html``, ``line``, or a form of an installed package.
        everything: show the clear and idle rows; unless given, where the reviews hold them.
        why: in the text, also what each row rests on.
        assumptions: in the text, also what the figures assume, one by one.
        quiet: in the text, only the outcome, the counts and what holds the bounce.
        page: how wide text is, and whether bold and dim can be used; 100 columns without them unless given.
        sign: on the page, writes the line for a shell that signs a finding of a review off, or answers its question;
            without it the page has none.
        back: in a page, where it leads back to, as ``index.html``; empty for one that stands alone.

    Returns:
        The whole text; what it holds of a session's names is made safe for a terminal or a page.

    Raises:
        MixlintError: there is no such form, or the reviews lack what it shows.
    """
    from mixlint import __version__
    from mixlint.reports.forms import review_form
    from mixlint.reports.plain import Page
    from mixlint.reports.review_output import ReviewOutput
    from mixlint.review.findings import Report

    made = [reviews] if isinstance(reviews, Review) else list(reviews)
    chosen = review_form(form)
    if chosen.quiet_rows and not all(one.everything or one.passed is not None for one in made):
        raise MixlintError(
            f"the form {form} shows clear rows too", do="check the session with everything=True or clear_named=True"
        )
    if chosen.pictures and any(one.pictures is None for one in made):
        raise MixlintError(f"the form {form} shows drawings", do="check the session with pictures=True")
    output = ReviewOutput(
        report=Report(version=__version__, sessions=tuple(one.result for one in made)),
        page=page or Page(),
        everything=any(one.everything for one in made) if everything is None else everything,
        hold_on=made[0].hold_on if made else "hold",
        rules={name: rule for one in made for name, rule in one.rules.items()},
        passed=[one.passed or () for one in made],
        pictures=[one.pictures for one in made if one.pictures is not None],
        why=why,
        assumptions=assumptions,
        quiet=quiet,
        sign=sign,
        back=back,
    )
    return chosen.write(output)
