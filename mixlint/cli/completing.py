"""What the shell offers where a rule, an area, a standard or a form is to be typed.

All of it is looked up when the Tab key asks, and nothing before: a start imports none of it.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from mixlint.reports.forms import REVIEW_FORMS

if TYPE_CHECKING:
    from mixlint.rulebook import Standard


def rule_ids(ctx: Any, incomplete: str) -> list[tuple[str, str]]:
    """The rules in force that begin so, each with its title."""
    found = _in_force(ctx)
    return [(one.id, one.title) for one in found.rules.values() if one.id.startswith(incomplete)] if found else []


def areas(ctx: Any, incomplete: str) -> list[str]:
    """The areas of the rules in force that begin so."""
    found = _in_force(ctx)
    names = sorted({rule.area for rule in found.rules.values()}) if found else []
    return [one for one in names if one.startswith(incomplete)]


def standards(incomplete: str) -> list[str]:
    """The shipped standards that begin so; where none does, the shell offers files."""
    from mixlint.rulebook.standard import shipped_standards

    return [one for one in shipped_standards() if one.startswith(incomplete)]


def review_forms(incomplete: str) -> list[tuple[str, str]]:
    """The forms of a review that begin so, those of installed packages too, each with what is said of it."""
    from mixlint.reports.installed import installed_forms

    forms = (REVIEW_FORMS | installed_forms()).values()
    return [(one.name, one.says) for one in forms if one.name.startswith(incomplete)]


def _in_force(ctx: Any) -> Standard | None:
    """The standard of the line as far as it is typed; None where it cannot be used: the command itself says why."""
    from mixlint.errors import MixlintError
    from mixlint.rulebook import load_standard

    given = ctx.params
    sessions = given.get("paths") or given.get("path") or ()
    first = next(iter(sessions), None) if isinstance(sessions, list | tuple) else sessions
    try:
        return load_standard(given.get("standard"), Path(first) if first else Path())
    except (MixlintError, OSError):
        return None
