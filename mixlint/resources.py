"""Where the shipped rules and schemas are: in the wheel, in a checkout, in an editable install."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Final, Literal

SCHEMA: Final = ".schema.json"
"""How the file of a JSON Schema ends."""


@cache
def folder(name: Literal["rules", "schemas"]) -> Path:
    """The shipped folder called ``name``.

    Raises:
        FileNotFoundError: the installation is incomplete.
    """
    inside = Path(__file__).parent / "_data" / name
    if inside.is_dir():  # an installed wheel
        return inside
    top = Path(__file__).resolve().parents[1]
    if (top / "pyproject.toml").is_file() and (top / name).is_dir():  # a checkout or an editable install
        return top / name
    raise FileNotFoundError(f"mixlint is installed without its {name} folder; install it again")


def schemas() -> dict[str, Path]:
    """The JSON Schemas that come with mixlint, by name.

    Raises:
        FileNotFoundError: the installation is incomplete.
    """
    return {path.name.removesuffix(SCHEMA): path for path in sorted(folder("schemas").glob(f"*{SCHEMA}"))}
