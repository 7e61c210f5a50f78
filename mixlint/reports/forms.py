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
        folders: of several sessions each can have a file of its own, in a folder with an index.
    """

    name: str
    module: str
    says: str
    exact: bool = True
    quiet_rows: bool = False
    pictures: bool = False
    folders: bool = False

    def write(self, output: ReviewOutput) -> str:
        """A review in this form."""
        text: str = import_module(self.module).write(output)
        return text if self.exact else _without_orders(text)


@dataclass(frozen=True, slots=True)
class ResultOutput:
    """What a form of a result can be written from.

    Args:
        result: the result as a model.
        as_text: writes it as text.
        page: how wide text is, and whether bold and dim can be used.
        as_html: writes it as a page; None for the commands that offer none.
        as_table: writes it for a spreadsheet, in the form named; None likewise.
    """

    result: BaseModel
    as_text: Callable[[Page], str]
    page: Page
    as_html: Callable[[], str] | None = None
    as_table: Callable[[str], str] | None = None


@dataclass(frozen=True, slots=True)
class ResultForm:
    """One form that the result of a command other than ``review`` is written in, declared once.

    Args:
        name: how it is asked for.
        says: what the help says about it, one sentence without a full stop.
        write: makes it.
        exact: it prescribes UTF-8, whatever the terminal's encoding.
        commands: which commands offer it; empty for all.
    """

    name: str
    says: str
    write: Callable[[ResultOutput], str]
    exact: bool = True
    commands: tuple[str, ...] = ()


def _without_orders(text: str) -> str:
    from mixlint.reports.plain import without_orders

    return without_orders(text)


def _text(output: ResultOutput) -> str:
    return _without_orders(output.as_text(output.page))


def _json(output: ResultOutput) -> str:
    from mixlint.reports.json import model_json

    return model_json(output.result)


def _html(output: ResultOutput) -> str:
    assert output.as_html is not None  # the commands of its row write one
    return output.as_html()


def _csv(output: ResultOutput) -> str:
    assert output.as_table is not None
    return output.as_table("csv")


def _tsv(output: ResultOutput) -> str:
    assert output.as_table is not None
    return output.as_table("tsv")


REVIEW_FORMS: dict[str, ReviewForm] = {
    form.name: form
    for form in (
        ReviewForm("text", "mixlint.reports.text", "a track sheet to read", exact=False),
        ReviewForm("json", "mixlint.reports.json", "the whole report (schemas/report.schema.json)"),
        ReviewForm("sarif", "mixlint.reports.sarif", "SARIF 2.1.0"),
        ReviewForm("junit", "mixlint.reports.junit", "JUnit XML, where a clear row is a case too", quiet_rows=True),
        ReviewForm(
            "html",
            "mixlint.reports.page.document",
            "one page with channel sheet and pictures, or a folder of pages",
            pictures=True,
            folders=True,
        ),
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
        ResultForm("html", "one page with pictures", _html, commands=("compare", "survey")),
        ResultForm("csv", "tables for a spreadsheet", _csv, commands=("survey",)),
        ResultForm("tsv", "the same with tabs", _tsv, commands=("survey",)),
    )
}


def result_forms(command: str) -> dict[str, ResultForm]:
    """The forms that the result of a command can be had in, by name."""
    return {name: form for name, form in RESULT_FORMS.items() if command in form.commands or not form.commands}


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
