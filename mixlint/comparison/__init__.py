"""Two revisions of a session: which channel is which, and what changed between them control by control; approvals.

It knows what changed, never whether that is good.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from mixlint.comparison.approval import Approval
    from mixlint.comparison.changes import compare
    from mixlint.comparison.model import Comparison, MixChange, Tolerances, Unseen

__all__ = ["Approval", "Comparison", "MixChange", "Tolerances", "Unseen", "compare"]

_HOMES = {
    "Approval": "approval",
    "Comparison": "model",
    "MixChange": "model",
    "Tolerances": "model",
    "Unseen": "model",
    "compare": "changes",
}


def __getattr__(name: str) -> Any:
    """Import what is asked for, when it is asked for: most reviews have no approval to compare with."""
    home = _HOMES.get(name)
    if home is None:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"mixlint.comparison.{home}"), name)
