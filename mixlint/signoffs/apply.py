"""Sign-offs held against a review: what they cover, what has lapsed, what is unused, what ends soon."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from datetime import date

from mixlint.naming import fold_name
from mixlint.review.engine import counts, outcome
from mixlint.review.findings import Finding, SessionReview, Signature, Signing, SignNote
from mixlint.review.fingerprint import row_keys, row_name
from mixlint.review.run import ChecklistRun
from mixlint.rulebook.rule import Rule
from mixlint.signoffs.file import FiledSignOff, identity
from mixlint.signoffs.lapse import (
    MixState,
    is_to_come,
    why_content_differs,
    why_ended,
    why_ends_soon,
    why_lapsed,
    why_settings_differ,
)
from mixlint.signoffs.line import SignOff

Names = Mapping[str, str]
"""Channel id to name."""

NOBODY = "nobody may sign this rule off"


def with_signoffs(
    made: SessionReview, signed: Sequence[FiledSignOff], run: ChecklistRun, now: MixState, names: Names
) -> SessionReview:
    """``made`` with what was signed off and answered.

    Args:
        made: the review, with its clear and idle rows.
        signed: the sign-offs that may concern it.
        run: the run of the checklist; lines about rules that it leaves out are not called unused.
        now: the day, the mix number and the content of the review.
        names: the channels' names by id.
    """
    if not signed:
        return made
    at_hand = _SignOffSet(_counting(signed, now), run.standard.rules, now, names)
    numbers = [key.number for key in row_keys(made.findings)]
    at_hand.reserve(zip(made.findings, numbers, strict=True))
    findings = tuple(
        at_hand.judged(finding, number) if finding.verdict in ("flagged", "open") else finding
        for finding, number in zip(made.findings, numbers, strict=True)
    )
    signing = Signing(
        lapsed=tuple(at_hand.lapsed),
        waiting=tuple(at_hand.waiting),
        unused=tuple(at_hand.unused(made.findings, run.rules)),
        ending=tuple(at_hand.ending),
    )
    return made.model_copy(
        update={
            "findings": findings,
            "counts": counts(findings),
            "outcome": outcome(findings, run.hold_on),
            "signing": signing,
        }
    )


def _counting(signed: Sequence[FiledSignOff], now: MixState) -> list[FiledSignOff]:
    """Of several lines of one person about one thing in one file the latest, as a merge may have left more.

    Of one day that is the one farther down; a day to come is later than none.
    """
    latest: dict[tuple[object, ...], FiledSignOff] = {}

    def rank(one: FiledSignOff) -> tuple[bool, date]:
        return (not is_to_come(one.item, now.day), one.item.on)

    for one in signed:
        key = (one.file, *identity(one.item))
        if key not in latest or rank(latest[key]) <= rank(one):
            latest[key] = one
    return [one for one in signed if latest[(one.file, *identity(one.item))] is one]


def covers(item: SignOff, finding: Finding, names: Names) -> bool:
    """True when a line is about a finding, whichever of several of one name it is.

    Args:
        item: the sign-off.
        finding: the finding.
        names: the channels' names by id, which a sign-off of a whole part goes by.
    """
    if item.rule != finding.rule:
        return False
    if item.scope in ("song", "project"):
        return True
    if item.scope == "part":
        parts = {fold_name(names.get(one, one)) for one in finding.channels} | {fold_name(finding.subject.name)}
        return fold_name(item.name) in parts
    return item.table == finding.subject.table and fold_name(item.name) == fold_name(row_name(finding))


class _SignOffSet:
    """The sign-offs, and what was met while findings were held against them."""

    def __init__(self, signed: Sequence[FiledSignOff], rules: Mapping[str, Rule], now: MixState, names: Names) -> None:
        self.by_rule: dict[str, list[FiledSignOff]] = defaultdict(list)
        for one in signed:
            self.by_rule[one.item.rule].append(one)
        self.rules = rules
        self.now = now
        self.names = names
        self.used: set[int] = set()
        self.lapsed: list[SignNote] = []
        self.waiting: list[SignNote] = []
        self.ending: list[SignNote] = []
        self._kept: set[int] = set()
        self._noted: set[tuple[int, str]] = set()

    def reserve(self, findings: Iterable[tuple[Finding, int]]) -> None:
        """Keep each line for the row it was written for, where it holds there; the rest may serve a namesake."""
        for finding, number in findings:
            for one in self.by_rule.get(finding.rule, ()):
                item = one.item
                meant = item.scope == "finding" and item.number == number and covers(item, finding, self.names)
                if meant and not self._why(item, finding):
                    self._kept.add(id(one))

    def judged(self, finding: Finding, number: int) -> Finding:
        """A flagged or open finding under what was signed."""
        asked = finding.verdict == "open"
        about = [
            one
            for one in self.by_rule.get(finding.rule, ())
            if (one.item.answer is not None) == asked and covers(one.item, finding, self.names)
        ]
        whys = {id(one): self._why(one.item, finding) for one in about}
        own = [one for one in about if one.item.scope != "finding" or one.item.number == number]
        holding = [one for one in own if not whys[id(one)]]
        if not holding:  # one of several of one name: the order may have changed, so another's line may be meant
            spare = [one for one in about if one not in own and not whys[id(one)] and id(one) not in self._kept]
            holding = spare[:1]
            self._kept.update(id(one) for one in holding)
        self.used.update(id(one) for one in (*own, *holding))
        if not holding:
            for one in own:
                self._note(self.lapsed, one, finding.subject.name, whys[id(one)])
            return finding
        for one in holding:
            if soon := why_ends_soon(one.item, self.now):
                self._note(self.ending, one, finding.subject.name, soon)
        return self._answered(finding, holding) if asked else self._signed(finding, holding)

    def _why(self, item: SignOff, finding: Finding) -> str:
        """Why a line does not hold for a finding it is about, or nothing."""
        rule = self.rules.get(item.rule)
        if item.answer is not None:
            return why_ended(item, self.now) or why_content_differs(item, self.now)
        if rule is not None and rule.may_sign == "nobody":
            return NOBODY
        ended = why_ended(item, self.now) or why_lapsed(item, finding, rule)
        return ended or why_settings_differ(item, finding, self.now)

    def _enough(self, finding: Finding, holding: list[FiledSignOff]) -> bool:
        """As many people signed as the rule asks for."""
        rule = self.rules.get(finding.rule)
        signers = {one.item.signer for one in holding}
        if rule is None or rule.may_sign != "two" or len(signers) > 1:
            return True
        self._note(self.waiting, holding[0], finding.subject.name, "a second person must sign this rule off too")
        return False

    def _signed(self, finding: Finding, holding: list[FiledSignOff]) -> Finding:
        if not self._enough(finding, holding):
            return finding
        return finding.model_copy(update={"verdict": "signed", "signature": _signature(holding)})

    def _answered(self, finding: Finding, holding: list[FiledSignOff]) -> Finding:
        signature = _signature(holding)
        who = " and ".join(signature.by)
        words = {one.item.answer for one in holding}
        asked = finding.question or finding.message
        fine = finding.fine_answer or "yes"
        bad = "no" if fine == "yes" else "yes"
        if bad in words:  # one who gives it is enough
            no = _signature([one for one in holding if one.item.answer == bad])
            rule = self.rules.get(finding.rule)
            remedy = rule.remedy.text.replace("{channel}", finding.subject.name) if rule is not None else ""
            changes = {
                "verdict": "flagged",
                "message": f"{asked} {' and '.join(no.by)} answered {bad}.",
                "remedy": "" if "{" in remedy else remedy,
                "signature": no,
            }
            return finding.model_copy(update=changes)
        if not self._enough(finding, holding):
            return finding
        if words == {"not-applicable"}:
            message = f"{asked} {who} answered that it does not apply."
            return finding.model_copy(update={"verdict": "idle", "message": message, "signature": signature})
        message = f"{asked} {who} answered {fine}."
        return finding.model_copy(update={"verdict": "signed", "message": message, "signature": signature})

    def unused(self, findings: Iterable[Finding], ran: Collection[str]) -> Iterable[SignNote]:
        """The lines of the session's own file that no flagged or open row asked for, and why."""
        rows = list(findings)
        for one in (one for found in self.by_rule.values() for one in found):
            item = one.item
            if id(one) in self.used or item.scope == "project" or (item.rule in self.rules and item.rule not in ran):
                continue
            yield _note(one, item.name, self._why_unused(item, rows))

    def _why_unused(self, item: SignOff, rows: list[Finding]) -> str:
        if item.rule not in self.rules:
            return "this standard has no such rule"
        about = [row for row in rows if covers(item, row, self.names)]
        verdicts = {row.verdict for row in about}
        if not about:
            return "nothing in the session goes by this name"
        if "open" in verdicts:
            return "it cannot be seen any more, and asks for an answer"
        if "flagged" in verdicts:
            return "what was asked is seen now, and is flagged" if item.answer else "another row of this name is meant"
        return "the rule is clear here now" if "clear" in verdicts else "the rule does not apply here now"

    def _note(self, to: list[SignNote], one: FiledSignOff, name: str, why: str) -> None:
        wide = one.item.scope != "finding"
        key = (id(one), why if wide else f"{name}: {why}")
        if key not in self._noted:
            self._noted.add(key)
            to.append(_note(one, name, why))


def _note(one: FiledSignOff, name: str, why: str) -> SignNote:
    item = one.item
    shown = "" if name == "*" else name
    return SignNote(
        rule=item.rule, table=item.table, name=shown, by=item.by, on=item.on.isoformat(), because=item.because,
        why=why, file=one.file.name,
    )  # fmt: skip


def _signature(holding: list[FiledSignOff]) -> Signature:
    """One or several people's lines as one signature; one line per person, the latest."""
    latest: dict[str, FiledSignOff] = {}
    for one in sorted(holding, key=lambda s: s.item.on):
        latest[one.item.signer] = one
    items = [one.item for one in latest.values()]
    last = max(items, key=lambda i: i.on)
    ends = sorted({i.until for i in items} - {"never"})
    return Signature(
        because="; ".join(dict.fromkeys(i.because for i in items)),
        by=tuple(i.by for i in sorted(items, key=lambda i: i.signer)),
        on=last.on.isoformat(),
        until=ends[0] if ends else "never",
        scope=last.scope,
        answer=last.answer or "",
        file=", ".join(dict.fromkeys(one.file.name for one in latest.values())),
    )
