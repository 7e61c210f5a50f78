"""Two revisions of a session: which channel is which, and what changed between them in an engineer's words.

It knows what changed, never whether that is good.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

from mixlint.revisions.model import Change, Comparison, Tolerances, Unseen

if TYPE_CHECKING:
    from mixlint.revisions.approval import Approval
    from mixlint.revisions.comparing import compare

__all__ = ["Approval", "Change", "Comparison", "Tolerances", "Unseen", "compare"]

_HOMES = {"Approval": "approval", "compare": "comparing"}


def __getattr__(name: str) -> Any:
    """Import what is asked for, when it is asked for: most reviews have no approval to compare with."""
    home = _HOMES.get(name)
    if home is None:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"mixlint.revisions.{home}"), name)
