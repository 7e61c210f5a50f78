"""The JSON Schemas that come with mixlint, by name."""

from __future__ import annotations

import json

from mixlint import resources
from mixlint.errors import MixlintError, suggestion


def schema_titles() -> dict[str, str]:
    """What each schema is of, by its name."""
    return {name: str(json.loads(schema_text(name))["title"]) for name in resources.schemas()}


def schema_text(name: str) -> str:
    """One schema as it ships.

    Args:
        name: its name, such as ``session``; that of its file does as well.

    Raises:
        MixlintError: there is none.
    """
    known = resources.schemas()
    wanted = name.removesuffix(resources.SCHEMA)
    if wanted not in known:
        near = suggestion(wanted, known)
        do = f"perhaps {near} is meant" if near else f"choose one of {', '.join(known)}"
        raise MixlintError(f"there is no schema called {name[:60]!r}", do=do)
    return known[wanted].read_text(encoding="utf-8")
