"""The examples of rules, held against what they promise."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from mixlint.analysis.context import SessionContext
from mixlint.naming import SHIPPED, Vocabulary
from mixlint.review.engine import judged
from mixlint.review.findings import Finding
from mixlint.rulebook.example import example_approval, example_house, example_session
from mixlint.rulebook.faults import Faults
from mixlint.rulebook.rule import Rule
from mixlint.rulebook.rule_file import Example

if TYPE_CHECKING:
    from mixlint.media import Library
    from mixlint.session import Session


def broken_promise(rule: Rule, example: Example, vocabulary: Vocabulary = SHIPPED) -> str:
    """What is wrong with one example of a rule, or nothing; names are read by the words of the rule's house.

    An example that names a ``subject`` is about that row; it must be there. Without one, the rows are taken together:
    flagged or open means that at least one row is, idle that every row is, and clear that at least one is and every
    other one is idle.

    Raises:
        RulebookError: the example cannot be built.
    """
    session = example_session(example, rule.path.name)
    approved = example_approval(example, rule.path.name)
    house = example_house(example, rule.path.name, vocabulary=vocabulary)
    with sounds_of(session, example, rule.path.name) as audio:
        findings = judged(SessionContext(session, house, audio=audio, approved=approved), rule)
    if example.subject:
        rows = [f for f in findings if f.subject.name == example.subject]
        if not rows:
            names = ", ".join(f.subject.name for f in findings)
            return f"no row is called {example.subject}; there is {names}"
    else:
        rows = findings
    if example.verdict == "clear" and not example.subject and any(f.verdict == "clear" for f in rows):
        rows = [f for f in rows if f.verdict != "idle"]
    kept = [f for f in rows if f.verdict == example.verdict]
    whole = example.subject or example.verdict in ("clear", "idle")
    if len(kept) < len(rows) if whole else not kept:
        return f"it is {_verdicts(rows)} where {example.verdict} is promised"
    if example.grade is not None and any(f.grade != example.grade for f in kept):
        return f"its grade is {', '.join(dict.fromkeys(f.grade for f in kept))} where {example.grade} is promised"
    if example.expect_message and not any(example.expect_message in f.message for f in kept):
        return f"no message says {example.expect_message!r}: {' | '.join(f.message for f in kept)}"
    return ""


@contextmanager
def sounds_of(session: Session, example: Example, file: str) -> Iterator[Library | None]:
    """The example's sounds, written to a folder that goes when they were heard; None where it has none.

    Raises:
        RulebookError: a sound cannot be made.
    """
    if not example.sounds:
        yield None
        return
    from mixlint.media import Library
    from mixlint.media.made_sounds import write_sounds

    with TemporaryDirectory() as folder:
        try:
            write_sounds(example.sounds, Path(folder))
        except ValueError as fault:
            faults = Faults()
            faults.of(file).add(f"example {example.name!r}.sounds", str(fault))
            faults.stop()
        with Library(session, folder) as audio:
            yield audio


def _verdicts(rows: Sequence[Finding]) -> str:
    return "; ".join(f"{f.verdict} ({f.subject.name}: {f.message})" for f in rows)
