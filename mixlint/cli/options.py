"""Options that several commands share, declared once so that they read the same everywhere."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

import typer

StandardOption = Annotated[
    str | None,
    typer.Option(
        "--standard",
        metavar="FILE",
        help="The house's standard, a file or a shipped name. Else mixlint-standard.toml beside the session "
        "or in a folder above it, else pre-bounce.",
    ),
]
FormOption = Annotated[Literal["text", "json"], typer.Option("--as", help="The form of the output.")]
OutOption = Annotated[
    Path | None, typer.Option("--out", metavar="FILE", help="Write to this file instead of the terminal.")
]
PathArgument = Annotated[Path, typer.Argument(metavar="PATH", help="A session file, or a folder of stems.")]
