"""Options that several commands share, declared once so that they read the same everywhere."""

from __future__ import annotations

import os
import re
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

import typer

from mixlint.reports.forms import RESULT_FORMS, REVIEW_FORMS, forms_help

HoldOn = Literal["hold", "look", "note"]
"""The lightest grade that holds the bounce."""

if TYPE_CHECKING:
    ReviewFormName = str
    ResultFormName = str
else:  # the choices are those of the tables, so that a form is named in one place
    ReviewFormName = Literal[tuple(REVIEW_FORMS)]
    ResultFormName = Literal[tuple(RESULT_FORMS)]


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
        help="The house's standard, a file or a shipped name. Else mixlint-standard.toml beside the session "
        "or in a folder above it, else pre-bounce.",
    ),
]
ReviewFormOption = Annotated[ReviewFormName, typer.Option("--as", help=forms_help(REVIEW_FORMS))]
FormOption = Annotated[ResultFormName, typer.Option("--as", help=forms_help(RESULT_FORMS))]
OutOption = Annotated[
    Path | None, typer.Option("--out", metavar="FILE", help="Write to this file instead of the terminal.")
]
PathArgument = Annotated[Path, typer.Argument(metavar="PATH", help="A session file, or a folder of stems.")]
