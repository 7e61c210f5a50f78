"""The mark of a store: a file that says of which version of the form it is."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Final

from mixlint.errors import InputError
from mixlint.store.columns import FORM

MARKER: Final = "mixlint-store.json"
_SAYS: Final = re.compile(rb'\s*\{\s*"format"\s*:\s*"mixlint-store/(\d{1,6})"\s*\}\s*')
_MOST: Final = 1024
"""A mark has fewer bytes."""


def form_of_store(folder: Path) -> int | None:
    """The version of the form of a store; None for a folder that is none.

    Raises:
        InputError: it is of a newer version than this mixlint knows, or its mark is damaged.
        OSError: it cannot be read.
    """
    mark = folder / MARKER
    if not mark.is_file():
        return None
    with mark.open("rb") as file:
        said = _SAYS.fullmatch(file.read(_MOST))
    if said is None:
        do = f'it should hold {{"format": "mixlint-store/{FORM}"}}'
        raise InputError("the mark of the store is damaged", where=str(mark), do=do)
    return refuse_newer(int(said[1]), mark)


def refuse_newer(form: int, where: Path) -> int:
    """The version of the form that a file says.

    Raises:
        InputError: it is newer than this mixlint knows.
    """
    if form > FORM:
        what = f"this is a store of the form mixlint-store/{form}, and this mixlint reads up to {FORM}"
        raise InputError(what, where=str(where), do="use a newer mixlint")
    return form
