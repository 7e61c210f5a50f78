"""The extra that stores need, asked for with one word where it is missing."""

from __future__ import annotations

from importlib.util import find_spec
from typing import Final

from mixlint.errors import MixlintError

_NEEDED: Final = ("pyarrow", "duckdb")


def need_extra() -> None:
    """Make sure that the libraries of the extra ``store`` are there.

    Raises:
        MixlintError: one of them is not installed.
    """
    missing = [name for name in _NEEDED if find_spec(name) is None]
    if missing:
        raise MixlintError(
            f"a store of reviews needs {' and '.join(missing)}",
            do='install the extra, with pip install "mixlint[store]"',
        )
