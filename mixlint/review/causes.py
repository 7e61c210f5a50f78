"""Which findings have one cause: what follows from a graver fault on the same channel is told under it."""

from __future__ import annotations

from collections.abc import Iterable

from mixlint.review.findings import Finding
from mixlint.rulebook.rule import Rule


def with_causes(findings: Iterable[Finding], rules: Iterable[Rule]) -> list[Finding]:
    """The findings, each flagged or open one with its ``cause`` where a rule it follows has flagged.

    A rule says ``follows = ["other-rule"]``. When a flagged finding of that other rule covers one of the channels of
    this one's finding, its fingerprint becomes the cause. A finding about the whole session (no channels) covers every
    channel. Of several causes the first of ``follows`` counts, then desk order.

    Args:
        findings: findings of any rules, in any order.
        rules: the rules that were run.
    """
    found = list(findings)
    follows = {rule.id: rule.follows for rule in rules if rule.follows}
    wanted = {other for others in follows.values() for other in others}
    roots: dict[str, list[Finding]] = {}
    for finding in sorted(found, key=lambda f: f.order):
        if finding.verdict == "flagged" and finding.rule in wanted:
            roots.setdefault(finding.rule, []).append(finding)
    return [_with_cause(finding, follows.get(finding.rule, ()), roots) for finding in found]


def _with_cause(finding: Finding, follows: Iterable[str], roots: dict[str, list[Finding]]) -> Finding:
    if finding.verdict not in ("flagged", "open"):
        return finding
    for rule in follows:
        for root in roots.get(rule, ()):
            covers = not root.channels or not set(root.channels).isdisjoint(finding.channels)
            if covers and root.fingerprint != finding.fingerprint:
                return finding.model_copy(update={"cause": root.fingerprint})
    return finding
