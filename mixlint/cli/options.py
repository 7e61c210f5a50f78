"""Options that several commands share, declared once so that they read the same everywhere."""

from __future__ import annotations

import os
import re
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

import typer

from mixlint.cli.completing import areas, review_forms, rule_ids, standards
from mixlint.reports.forms import LIST_FORMS, REVIEW_FORMS, forms_help, result_forms

HoldOn = Literal["hold", "look", "note"]
"""The lightest grade that holds the bounce."""

if TYPE_CHECKING:
    ResultFormName = str
    CompareFormName = str
    SheetFormName = str
    SurveyFormName = str
else:  # the choices are those of the tables, so that a form is named in one place
    ResultFormName = Literal[tuple(result_forms(""))]
    CompareFormName = Literal[tuple(result_forms("compare"))]
    SheetFormName = Literal[(*result_forms("sheet"), *LIST_FORMS)]
    SurveyFormName = Literal[tuple(result_forms("survey"))]


def typed(text: str | None) -> str | None:
    """What was typed, as text. Where the system's encoding cannot carry it, as ASCII, its bytes are read as UTF-8."""
    if text is None or not re.search("[\udc80-\udcff]", text):
        return text
    return os.fsencode(text).decode("utf-8", "replace")


StandardOption = Annotated[
    str | None,
    typer.Option(
        "--standard",
        metavar="FILE",
        autocompletion=standards,
        help="The house's standard, a file or a shipped name. Else mixlint-standard.toml beside the session "
        "or in a folder above it, else pre-bounce.",
    ),
]
ReviewFormOption = Annotated[
    str,
    typer.Option(
        "--as",
        metavar=f"<{'|'.join(REVIEW_FORMS)}>",
        autocompletion=review_forms,
        help=forms_help(REVIEW_FORMS),
    ),
]
"""No fixed choice: installed packages may bring more, and are looked for only when a name is none of mixlint's."""

FormOption = Annotated[ResultFormName, typer.Option("--as", help=forms_help(result_forms("")))]
"""Of the commands that offer no form of their own."""
CompareFormOption = Annotated[CompareFormName, typer.Option("--as", help=forms_help(result_forms("compare")))]
SurveyFormOption = Annotated[SurveyFormName, typer.Option("--as", help=forms_help(result_forms("survey")))]
SheetFormOption = Annotated[
    SheetFormName,
    typer.Option(
        "--as",
        help=" ".join([forms_help(result_forms("sheet")), *(f"{name}: {says}." for name, says in LIST_FORMS.items())]),
    ),
]
OutOption = Annotated[
    Path | None, typer.Option("--out", metavar="FILE", help="Write to this file instead of the terminal.")
]
PagesOption = Annotated[
    str | None,
    typer.Option(
        "--out",
        metavar="FILE",
        help="Write to this file instead of the terminal. Of html also a folder, one that is there or a name that ends "
        "in a slash: a page for each session and an index, what needs attention first; pages of sessions that are gone "
        "stay.",
    ),
]
"""As it was typed: a slash at its end says that it is a folder."""
ForceOption = Annotated[
    bool,
    typer.Option(
        "--force", help="Let --out replace a file that mixlint has not written in this form; never one that is read."
    ),
]
NoAudioOption = Annotated[bool, typer.Option("--no-audio", help="Open no audio; estimate from the settings.")]
HoldOnOption = Annotated[
    HoldOn, typer.Option("--hold-on", help="The lightest grade of a flagged row that holds the bounce.")
]
JobsOption = Annotated[
    int | None,
    typer.Option(
        "--jobs",
        metavar="N",
        min=1,
        help="Of several sessions: review so many at a time, each in a process of its own. All cores unless given.",
    ),
]
OnOption = Annotated[
    str | None,
    typer.Option(
        "--on",
        metavar="ADDRESS",
        help="Review on the workers of a Dask cluster, such as tcp://studio:8786: sessions in folders that all of them "
        "see under the same path, the same mixlint everywhere. With the extra: mixlint[cluster].",
    ),
]
ChangedSinceOption = Annotated[
    str | None,
    typer.Option(
        "--changed-since",
        metavar="REV",
        help="Only sessions of which git says that something changed since this revision, or is not committed: the "
        "session, its audio, its sign-offs, its standard. How many are left out is said.",
    ),
]
AreaOption = Annotated[
    list[str] | None,
    typer.Option(
        "--area",
        metavar="AREA",
        autocompletion=areas,
        help="Only the rules of this area, such as ambience; may be repeated.",
    ),
]
LeaveOutOption = Annotated[
    list[str] | None,
    typer.Option("--leave-out", metavar="ID", autocompletion=rule_ids, help="Leave this rule out; may be repeated."),
]
StoreOption = Annotated[
    Path | None,
    typer.Option(
        "--store",
        metavar="FOLDER",
        help="Keep the reviews in this folder, for mixlint survey: made where it is not there, added to by any number "
        "of runs. Needs the extra mixlint[store].",
    ),
]
EngineerOption = Annotated[
    str | None,
    typer.Option("--engineer", metavar="NAME", help="With --store: who mixes; else the export or the standard says."),
]
ClientOption = Annotated[
    str | None,
    typer.Option("--client", metavar="NAME", help="With --store: for whom; else the export or the standard says."),
]


def _on_this_machine(path: Path) -> Path:
    """A path; an address of object storage, which only ``review`` reads, is a mistake in what was typed."""
    from mixlint.errors import InputError
    from mixlint.runs.paths import refuse_address

    try:
        refuse_address(path)
    except InputError as fault:
        raise typer.BadParameter(str(fault)) from None
    return path


PathArgument = Annotated[
    Path,
    typer.Argument(metavar="PATH", help="A session file, or a folder of stems.", callback=_on_this_machine),
]
AssumptionsOption = Annotated[
    bool, typer.Option("--assumptions", help="In the text: also what the figures assume, one by one.")
]
