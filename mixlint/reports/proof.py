"""How a standard stood its proof, as text."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from mixlint.reports.plain import Page, neutral, wrapped

if TYPE_CHECKING:
    from mixlint.review.proof import Proof, TriedRule, TriedSession


def proof_text(proof: Proof, page: Page) -> str:
    """Rule by rule and session by session, what was kept and what was not; the outcome stands last."""
    own = f"{len(proof.rules)} of its own" if proof.rules else "none of its own"
    lines = [f"standard  {neutral(proof.standard)}: {proof.in_force} rules in force, {own}"]
    if proof.rules:
        lines += ["", page.bold("its own rules")]
        for rule in proof.rules:
            lines += _rule(rule, page)
    if proof.sessions:
        lines += ["", page.bold("its sessions")]
        for session in proof.sessions:
            lines += _session(session, page)
    if proof.unproven:
        lines += ["", page.bold("not proven"), *_listed(proof.unproven, page)]
        lines += ["    Give each an example that is flagged and one that is clear."]
    if proof.unfitted:
        lines += [
            "",
            page.bold("names that fit nothing in its sessions"),
            *_listed(proof.unfitted, page),
        ]
    if not proof.rules and not proof.sessions:
        said = "nothing to try yet: no rules of its own and no sessions. What it names is known."
        lines += ["", *wrapped(said, page.width, "")]
    outcome = _outcome(proof)
    return "\n".join([*lines, "", f"outcome   {outcome}"]) + "\n"


def _outcome(proof: Proof) -> str:
    if not proof.kept:
        return "the standard fails"
    if proof.unproven:
        open_ = "one rule of its own is" if len(proof.unproven) == 1 else f"{len(proof.unproven)} rules of its own are"
        return f"what was tried passes; {open_} not proven"
    return "the standard passes"


def _listed(names: Iterable[str], page: Page) -> list[str]:
    return [line for one in names for line in wrapped(neutral(one), page.width, " " * 8, " " * 4)]


def _rule(rule: TriedRule, page: Page) -> list[str]:
    broken = [one for one in rule.examples if one.fault]
    if not rule.examples:
        said = "has no example, so that it is not proven"
    elif broken:
        said = f"{len(rule.examples) - len(broken)} of {_count(len(rule.examples))} kept"
    else:
        said = f"{_count(len(rule.examples))} kept"
    lines = wrapped(f"{neutral(rule.rule)}: {said}", page.width, " " * 8, " " * 4)
    for one in broken:
        lines += wrapped(f"{neutral(one.name)}: {neutral(one.fault)}", page.width, " " * 12, " " * 8)
    return lines


def _count(examples: int) -> str:
    return "1 example" if examples == 1 else f"{examples} examples"


def _session(session: TriedSession, page: Page) -> list[str]:
    name = neutral(session.session)
    if session.kept:
        said = f"flagged as expected, {', '.join(session.flagged)}" if session.flagged else "nothing flagged"
        return wrapped(f"{name}: {said}", page.width, " " * 8, " " * 4)
    lines = wrapped(f"{name}: not as expected", page.width, " " * 8, " " * 4)
    for rule in session.missing:
        lines += wrapped(f"{rule} is expected to be flagged, and is not", page.width, " " * 12, " " * 8)
    for one in session.surplus:
        text = f"{one.rule} is flagged, and is not expected: {neutral(one.message)}"
        lines += wrapped(text, page.width, " " * 12, " " * 8)
    return lines
