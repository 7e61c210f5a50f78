"""The tables of output forms: a new one is a file of its own and a row here.

Nothing heavy is imported to know which forms there are: what writes a form is imported when the form is asked for.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pydantic import BaseModel

    from mixlint.reports.plain import Page
    from mixlint.reports.review_output import ReviewOutput


@dataclass(frozen=True, slots=True)
class ReviewForm:
    """One form that a review is written in, declared once.

    Args:
        name: how it is asked for.
        module: the module that writes it, with ``write(output: ReviewOutput) -> str``; imported when it is used.
        says: what the help says about it, one sentence without a full stop.
        exact: it prescribes UTF-8, whatever the terminal's encoding.
        quiet_rows: it shows clear and idle rows even where the reader did not ask for them.
        pictures: it shows the channel sheet and the drawings of each session.
    """

    name: str
    module: str
    says: str
    exact: bool = True
    quiet_rows: bool = False
    pictures: bool = False

    def write(self, output: ReviewOutput) -> str:
        """A review in this form."""
        text: str = import_module(self.module).write(output)
        return text if self.exact else _without_orders(text)


@dataclass(frozen=True, slots=True)
class ResultForm:
    """One form that the result of a command other than ``review`` is written in, declared once.

    Args:
        name: how it is asked for.
        says: what the help says about it, one sentence without a full stop.
        write: makes it from the result as a model, from the function that writes the result as text, and the page.
        exact: it prescribes UTF-8, whatever the terminal's encoding.
    """

    name: str
    says: str
    write: Callable[[BaseModel, Callable[[Page], str], Page], str]
    exact: bool = True


def _without_orders(text: str) -> str:
    from mixlint.reports.plain import without_orders

    return without_orders(text)


def _text(_: BaseModel, as_text: Callable[[Page], str], page: Page) -> str:
    return _without_orders(as_text(page))


def _json(result: BaseModel, _: Callable[[Page], str], __: Page) -> str:
    from mixlint.reports.json import model_json

    return model_json(result)


REVIEW_FORMS: dict[str, ReviewForm] = {
    form.name: form
    for form in (
        ReviewForm("text", "mixlint.reports.text", "a track sheet to read", exact=False),
        ReviewForm("json", "mixlint.reports.json", "the whole report (schemas/report.schema.json)"),
        ReviewForm("sarif", "mixlint.reports.sarif", "SARIF 2.1.0"),
        ReviewForm("junit", "mixlint.reports.junit", "JUnit XML, where a clear row is a case too", quiet_rows=True),
        ReviewForm("html", "mixlint.reports.page.document", "one page with channel sheet and pictures", pictures=True),
        ReviewForm(
            "line",
            "mixlint.reports.line",
            "one line per finding for a pipeline, parted by tabs: session, grade (or open, signed, clear, idle), rule, "
            "channel, message",
            exact=False,
        ),
    )
}

RESULT_FORMS: dict[str, ResultForm] = {
    form.name: form
    for form in (
        ResultForm("text", "to read", _text, exact=False),
        ResultForm("json", "for programs", _json),
    )
}


def review_form(name: str) -> ReviewForm:
    """The form of a review with this name.

    Raises:
        MixlintError: there is none.
    """
    found = REVIEW_FORMS.get(name)
    if found is None:
        from mixlint.errors import MixlintError
        from mixlint.reports.installed import installed_forms, why_not

        forms = REVIEW_FORMS | installed_forms()
        found = forms.get(name)
        if found is None:
            what = f"there is no form of a report called {name!r}"
            raise MixlintError(
                f"{what}: {why}" if (why := why_not(name)) else what, do=f"choose one of {', '.join(forms)}"
            )
    return found


LIST_FORMS: dict[str, str] = {
    "csv": "a list of channels for a spreadsheet, which is read again",
    "tsv": "the same with tabs",
}
"""Forms of the channel sheet that are written from the session itself (:mod:`mixlint.reports.channel_list`)."""


def forms_help(forms: Mapping[str, ReviewForm] | Mapping[str, ResultForm]) -> str:
    """What the help says about a choice of forms."""
    return f"The form of the output. {forms_said(forms)}"


def forms_said(forms: Mapping[str, ReviewForm] | Mapping[str, ResultForm]) -> str:
    """Each form with what is said about it."""
    return " ".join(f"{form.name}: {form.says}." for form in forms.values())
