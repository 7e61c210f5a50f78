"""Rules over tables: rows in, findings out; what became of the findings of an earlier review.

It prints nothing and opens no audio.
"""

from mixlint.review.engine import review
from mixlint.review.findings import Evidence, Finding, Grade, Reason, Report, SessionReview, SubjectRef, Verdict

__all__ = [
    "Evidence",
    "Finding",
    "Grade",
    "Reason",
    "Report",
    "SessionReview",
    "SubjectRef",
    "Verdict",
    "review",
]
