"""Two revisions of a session: which channel is which, and what changed between them in an engineer's words.

It knows what changed, never whether that is good.
"""

from mixlint.revisions.approval import Approval
from mixlint.revisions.compare import compare
from mixlint.revisions.model import Change, Comparison, Tolerances, Unseen

__all__ = ["Approval", "Change", "Comparison", "Tolerances", "Unseen", "compare"]
