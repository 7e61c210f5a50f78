"""Rules at other limits: their conditions asked again of the facts that a store keeps, and of no others.

The rule is made ready as any rule is, from what the store kept of it, once as it was in force and once with the other
limits; both are held against the row as it was stored, by the very evaluation of a review. Where the first does not
come to what the review said, or one of them asks for a fact that was never worked out, it cannot be told of that row,
and the survey says why. A fact rests on the settings that were in force in its review, and tells nothing of other ones.
"""

from __future__ import annotations

import json
import tomllib
from collections import Counter
from collections.abc import Container, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from mixlint.errors import MixlintError, near
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.facts.installed import vocabulary
from mixlint.naming import fold_name
from mixlint.review.engine import QUIET, Met, outcome_of, verdict_on
from mixlint.review.findings import GRAVITY
from mixlint.rulebook.evaluation import RowEvaluation
from mixlint.rulebook.faults import Faults
from mixlint.rulebook.rule import Change, LimitChange, Rule, ready
from mixlint.rulebook.rule_file import RuleFile, Written
from mixlint.rulebook.settings import settings_of
from mixlint.session import Unknown
from mixlint.store.standards import LAID_DOWN
from mixlint.store.survey_model import LimitAsked, OutcomeTurn, Untold, WhatIf, WhatIfRow

if TYPE_CHECKING:
    from mixlint.rulebook.values import LimitValue
    from mixlint.store.archive import Archive

OPTION: Final = "--what-if"
NOT_AS_SAID: Final = "what is stored of it does not come to what its review said"
MAY_BE_SIGNED: Final = "a sign-off in its session may cover it"
MAY_LAPSE: Final = "its sign-off was for a lighter grade, and may lapse"
NOT_READ: Final = "this mixlint cannot read the rule as it was then"


class LimitWish(NamedTuple):
    """A limit to try: of which rule, its name, and the value as it was typed."""

    rule: str
    limit: str
    typed: str


def wish(typed: str) -> LimitWish:
    """A wish as it was typed: ``RULE.LIMIT=VALUE``.

    Raises:
        MixlintError: it is none.
    """
    what, equals, value = typed.partition("=")
    rule, dot, limit = what.strip().rpartition(".")
    if not equals or not dot or not rule or not limit or not value.strip():
        raise MixlintError("this is no limit to try", where=f"{OPTION} {typed[:80]}", do="write it as RULE.LIMIT=VALUE")
    return LimitWish(rule, limit, value.strip())


class NotKept(Exception):
    """A fact is asked for that the review had not worked out."""

    def __init__(self, fact: str) -> None:
        super().__init__(fact)
        self.fact = fact


class StoredRow(Row[None]):
    """A row with the facts that a store keeps of it; no other can be worked out."""

    def value(self, name: str) -> FactValue | Unknown:
        """The value of one of its facts.

        Raises:
            NotKept: the store does not have it.
        """
        found = self.values.get(name)
        if found is None:
            raise NotKept(name)
        return found


@dataclass(slots=True)
class _Session:
    """One session of the picture: what it came to and by which rows."""

    title: str
    path: str
    outcome: Any
    hold_on: Any
    digest: str
    channels: int
    left_out: frozenset[str]
    findings: dict[str, Met] = field(default_factory=dict)
    """Fingerprint → verdict after sign-offs, and grade."""
    signed: dict[str, list[tuple[str, str]]] = field(default_factory=dict)
    """Rule → scope and name of what is signed, or was."""
    turned: dict[str, Met] = field(default_factory=dict)
    untold: list[Any] = field(default_factory=list)
    """Grades that rows of which it cannot be told may be flagged at."""

    def then(self) -> Any:
        """The outcome at the other limits; None where it hangs on rows of which it cannot be told."""
        met = [one for one in {**self.findings, **self.turned}.values() if one[0] not in QUIET]
        least = outcome_of(met, self.hold_on)
        most = outcome_of([*met, *(("flagged", grade) for grade in self.untold)], self.hold_on)
        return least if least == most else None


class _Judged(NamedTuple):
    """A row under a rule as its review judged it."""

    session: str
    row: int
    table: str
    name: str
    verdict: Any
    grade: Any
    fingerprint: str


def at_other_limits(
    archive: Archive, wishes: Sequence[LimitWish]
) -> tuple[tuple[WhatIf, ...], tuple[OutcomeTurn, ...]]:
    """What would be flagged at other limits, rule by rule, and which sessions would come to another outcome.

    Raises:
        MixlintError: no review of the picture had such a rule or limit, or the value is of another sort.
        InputError: the store cannot be read.
    """
    sessions = _sessions(archive)
    by_rule: dict[str, list[LimitWish]] = {}
    for one in wishes:
        by_rule.setdefault(one.rule, []).append(one)
    definitions = _by_rule(archive, _DEFINITIONS, by_rule)
    trials = [_Trial(archive, sessions, rule, asked, definitions[rule]) for rule, asked in by_rule.items()]
    judged, facts = _by_rule(archive, _JUDGED, by_rule), _by_rule(archive, _FACTS, by_rule)
    found = tuple(one.made(judged[one.rule], facts[one.rule]) for one in trials)
    turns = []
    for session in sessions.values():
        then = session.then() if session.turned or session.untold else session.outcome
        if then != session.outcome:
            turns.append(OutcomeTurn(session=session.title, path=session.path, now=session.outcome, then=then))
    return found, tuple(turns)


_DEFINITIONS: Final = (
    "SELECT rule, standard_digest, any_value(definition), any_value(own_roles) FROM rules "
    "WHERE list_contains(?, rule) AND standard_digest IN (SELECT standard_digest FROM latest) "
    "GROUP BY rule, standard_digest ORDER BY ALL"
)
_JUDGED: Final = (
    "SELECT rule, session, row, of_table, name, verdict, grade, fingerprint FROM judged "
    "SEMI JOIN latest USING (session) WHERE list_contains(?, rule) ORDER BY session, row"
)
_FACTS: Final = (
    "SELECT DISTINCT rule, session, row, of_table, name, fact, kind, number, truth, text, rows, how, unknown "
    "FROM facts SEMI JOIN latest USING (session) WHERE list_contains(?, rule)"
)


def _by_rule(archive: Archive, query: str, rules: Iterable[str]) -> dict[str, list[tuple[Any, ...]]]:
    """The rows of a query by the rule that stands in its first column, without that."""
    found: dict[str, list[tuple[Any, ...]]] = {rule: [] for rule in rules}
    for rule, *row in archive.ask(query, [list(found)]).rows:
        found[rule].append(tuple(row))
    return found


def _sessions(archive: Archive) -> dict[str, _Session]:
    query = (
        "SELECT latest.session, title, path, outcome, latest.hold_on, standard_digest, channels, left_out "
        "FROM latest LEFT JOIN runs USING (run) ORDER BY lower(title), path, latest.session"
    )
    found = {
        row[0]: _Session(row[1], row[2], row[3], row[4], row[5], row[6] or 0, frozenset(row[7] or ()))
        for row in archive.ask(query).rows
    }
    query = "SELECT session, fingerprint, verdict, grade FROM findings SEMI JOIN latest USING (session)"
    for session, fingerprint, verdict, grade in archive.ask(query).rows:
        found[session].findings[fingerprint] = (verdict, grade)
    query = "SELECT session, rule, coalesce(scope, ''), name FROM signed SEMI JOIN latest USING (session)"
    for session, rule, scope, name in archive.ask(query).rows:
        found[session].signed.setdefault(rule, []).append((scope, name))
    return found


class _Trial:
    """One rule at other limits, over all sessions of the picture."""

    def __init__(
        self,
        archive: Archive,
        sessions: Mapping[str, _Session],
        rule: str,
        wishes: Sequence[LimitWish],
        definitions: Iterable[tuple[Any, ...]],
    ) -> None:
        self.archive, self.sessions, self.rule = archive, sessions, rule
        self.definitions = self._definitions(definitions)
        self.asked, self.changes = self._limits(wishes)
        self.whys: Counter[str] = Counter()
        self.rules: dict[str, tuple[Rule, Rule] | None] = {}

    def _definitions(self, stored: Iterable[tuple[Any, ...]]) -> dict[str, tuple[dict[str, Any], dict[str, str]]]:
        """Digest of a standard → the rule as it has it in force, and the house's own roles."""
        found = {}
        for digest, definition, own_roles in stored:
            try:
                body, roles = json.loads(definition), json.loads(own_roles)
            except (TypeError, ValueError, RecursionError):
                body, roles = {}, {}
            found[digest] = (body if isinstance(body, dict) else {}, roles if isinstance(roles, dict) else {})
        if not found:
            self._refuse_rule()
        return found

    def _refuse_rule(self) -> None:
        where = f"{OPTION} {self.rule}"
        subjects = {name.partition(".")[0] for name in settings_of(vocabulary().values())}
        if self.rule in subjects:
            what = f"{self.rule} is the subject of settings, on which facts rest"
            raise MixlintError(what, where=where, do="stored facts tell nothing of other settings: review again")
        known = [row[0] for row in self.archive.ask("SELECT DISTINCT rule FROM rules ORDER BY rule").rows]
        what = "no session of the store was reviewed under such a rule"
        raise MixlintError(what, where=where, do=near(self.rule, known) or "mixlint rules lists them")

    def _limits(self, wishes: Sequence[LimitWish]) -> tuple[tuple[LimitAsked, ...], dict[str, LimitChange]]:
        """The limits with their values now and then, checked against what the standards had."""
        asked, changes = [], {}
        for one in wishes:
            where = f"{OPTION} {one.rule}.{one.limit}"
            limits = [body.get("limits", {}) for body, _ in self.definitions.values()]
            had = [limit[one.limit] for limit in limits if isinstance(limit, dict) and one.limit in limit]
            if not had:
                known = sorted({name for limit in limits if isinstance(limit, dict) for name in limit})
                do = near(one.limit, known) if known else "it has none"
                raise MixlintError(f"the rule {one.rule} has no such limit", where=where, do=do)
            was = [_tuples(limit.get("value")) for limit in had if isinstance(limit, dict)]
            value = _read_value(one.typed, was, where)
            unit = next((str(limit.get("unit", "")) for limit in had if isinstance(limit, dict)), "")
            asked.append(LimitAsked(limit=one.limit, was=tuple(dict.fromkeys(was)), value=value, unit=unit))
            changes[one.limit] = LimitChange(value, OPTION, OPTION)
        return tuple(asked), changes

    def made(self, stored: Iterable[tuple[Any, ...]], facts: Iterable[tuple[Any, ...]]) -> WhatIf:
        """Hold the rule against every row again.

        Args:
            stored: its rows as they were judged.
            facts: their facts, and those of the rows they lead to.
        """
        judged = [one for one in (_Judged(*row) for row in stored) if self._was_run(self.sessions[one.session])]
        rows = self._rows({one.session for one in judged}, facts)
        flagged = Counter[str]()
        come: list[WhatIfRow] = []
        go: list[WhatIfRow] = []
        for one in judged:
            session = self.sessions[one.session]
            now = self._standing(session, one)
            then = self._then(session, one, now, rows)
            if isinstance(then, str):
                self.whys[then] += 1
                session.untold.append(self._gravest(session.digest, one.grade))
                session.turned[one.fingerprint] = ("clear", now[1])  # it counts as gone, and as flagged, by turns
                continue
            flagged[f"now {now[0]}"] += 1
            flagged[f"then {then[0]}"] += 1
            if then == now:
                continue
            session.turned[one.fingerprint] = then
            met = WhatIfRow(
                session=session.title, path=session.path, name=one.name, grade=then[1], fingerprint=one.fingerprint
            )
            if then[0] == "flagged" != now[0]:
                come.append(met)
            elif now[0] == "flagged" != then[0]:
                go.append(met.model_copy(update={"grade": now[1]}))
        run = [one for one in self.sessions.values() if self._was_run(one)]
        return WhatIf(
            rule=self.rule,
            limits=self.asked,
            sessions=len(run),
            elsewhere=len(self.sessions) - len(run),
            flagged=flagged["now flagged"],
            flagged_then=flagged["then flagged"],
            open=flagged["now open"],
            open_then=flagged["then open"],
            come=tuple(come),
            go=tuple(go),
            untold=tuple(Untold(why=why, rows=number) for why, number in self.whys.most_common()),
        )

    def _was_run(self, session: _Session) -> bool:
        return session.digest in self.definitions and self.rule not in session.left_out

    @staticmethod
    def _standing(session: _Session, one: _Judged) -> Met:
        """What a row stands at now, sign-offs counted: one that was answered as not applicable is no finding."""
        found = session.findings.get(one.fingerprint)
        if found is not None:
            return found
        return (one.verdict if one.verdict in QUIET else "idle"), one.grade

    def _then(self, session: _Session, one: _Judged, now: Met, rows: Mapping[tuple[str, int], StoredRow]) -> Met | str:
        """What a row would stand at, or why that cannot be told."""
        both = self._ready(session.digest)
        if both is None:
            return NOT_READ
        row = rows.get((one.session, one.row)) or self._row(session, one.table, one.name)
        if row is None:
            return NOT_READ
        try:
            if _is_idle_at_any_limit(both[0], row):
                return now if one.verdict == "idle" else NOT_AS_SAID
            before, then = (verdict_on(rule, row) for rule in both)
        except NotKept as missing:
            return f"its review had not worked out {missing.fact}"
        except (TypeError, ValueError, KeyError, AttributeError, ZeroDivisionError, RecursionError):
            return NOT_AS_SAID
        if before != (one.verdict, one.grade):
            return NOT_AS_SAID
        if then == before:
            return now
        if then[0] == before[0]:  # at another grade alone
            if now[0] == "signed" and GRAVITY[then[1]] < GRAVITY[now[1]]:
                return MAY_LAPSE
            return now[0], then[1]
        if then[0] not in QUIET and self._may_be_signed(session, one):
            return MAY_BE_SIGNED
        return then

    def _may_be_signed(self, session: _Session, one: _Judged) -> bool:
        """True where a sign-off or answer of this rule is there that is wide, or about a row of this name."""
        about = session.signed.get(self.rule, ())
        name = fold_name(one.name)
        return any(scope not in ("finding", "") or fold_name(of) == name for scope, of in about)

    def _gravest(self, digest: str, grade: Any) -> Any:
        """The gravest grade that the rule can be flagged at; ``hold`` where the rule cannot be read."""
        both = self.rules.get(digest)
        if both is None:
            return "hold"
        grades = {grade, both[1].grade, *(case.grade for case in both[1].grades)}
        return min(grades, key=lambda one: GRAVITY.get(one, 0))

    def _ready(self, digest: str) -> tuple[Rule, Rule] | None:
        """The rule as it was in force, and at the other limits; None where this mixlint cannot read it."""
        if digest not in self.rules:
            before, then = self._made_ready(digest, {}), self._made_ready(digest, self.changes)
            self.rules[digest] = (before, then) if before is not None and then is not None else None
        return self.rules[digest]

    def _made_ready(self, digest: str, changes: dict[str, LimitChange]) -> Rule | None:
        body, own_roles = self.definitions[digest]
        try:
            file = RuleFile.model_validate({name: one for name, one in body.items() if name != LAID_DOWN})
            faults = Faults()
            kept = {name: one for name, one in changes.items() if name in file.limits}
            written = Written(file, Path(f"{file.id}.toml"), file.id)
            change = Change(file.grade if body.get(LAID_DOWN) else None, limits=kept)
            rule = ready(written, vocabulary(), faults, change, None, own_roles)
        except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
            return None
        return None if faults.found else rule

    # --- what the store keeps

    def _rows(self, wanted: Container[str], facts: Iterable[tuple[Any, ...]]) -> dict[tuple[str, int], StoredRow]:
        """Session and number of a row → the row with its facts, those it leads to among them."""
        made: dict[tuple[str, int], StoredRow] = {}
        leads: list[tuple[StoredRow, str, str, Sequence[int], str | None]] = []
        for row in facts:
            name, number, table, label, fact, kind, *value, rows, how, unknown = row
            if name not in wanted:
                continue
            here = made.get((name, number)) or self._row(self.sessions[name], table, label)
            if here is None or fact not in here.table.facts:
                continue
            made[name, number] = here
            if kind == "rows":
                leads.append((here, fact, name, rows or (), unknown))
            else:
                here.values[fact] = _value(kind, value, how, unknown)
        for here, fact, name, numbers, unknown in leads:
            led_to = [made.get((name, number)) for number in numbers]
            if any(one is None for one in led_to):  # nothing was asked of them
                to = here.table.facts[fact].of
                led_to = [one or self._row(self.sessions[name], to, "") for one in led_to]
            here.led_to[fact] = tuple(one for one in led_to if one is not None)
            here.values[fact] = FactValue(tuple(one.subject.name for one in here.led_to[fact]), "derived")
            if unknown:
                here.open_ends[fact] = Unknown(unknown=unknown)
        return made

    @staticmethod
    def _row(session: _Session, table: str, name: str) -> StoredRow | None:
        known: Table[Any] | None = vocabulary().get(table)
        if known is None:
            return None
        channels = SimpleNamespace(session=SimpleNamespace(channels=range(min(session.channels, 100_000))))
        return StoredRow(channels, Subject(table, "", name), None, known)  # type: ignore[arg-type]  # no more is asked


def _is_idle_at_any_limit(rule: Rule, row: StoredRow) -> bool:
    """True where what ``when`` asks beside its limits keeps the rule off; its review may have looked no further."""
    fixed = rule.when.fixed if rule.when is not None else None
    try:
        return fixed is not None and fixed(RowEvaluation(rule.table, row)).truth == "no"
    except NotKept:
        return False


def _value(kind: str, value: Sequence[Any], how: str | None, unknown: str | None) -> FactValue | Unknown:
    number, truth, text = value
    known: Any = how or "derived"
    match kind:
        case "number":
            return FactValue(number, known)
        case "truth":
            return FactValue(truth, known)
        case "text":
            return FactValue(text, known)
        case "list":
            try:
                return FactValue(tuple(json.loads(text)), known)
            except (TypeError, ValueError, RecursionError):
                return Unknown(unknown="it is stored in another form")
        case _:
            return Unknown(unknown=unknown or "it is not known")


def _tuples(value: Any) -> Any:
    return tuple(value) if isinstance(value, list) else value


def _read_value(typed: str, was: Sequence[Any], where: str) -> LimitValue:
    """A value as it was typed, of the sort of those in force: as a standard writes it, or a bare word for a text."""
    try:
        value: Any = _tuples(tomllib.loads(f"value = {typed}").get("value"))
    except (tomllib.TOMLDecodeError, RecursionError):
        value = typed
    if was and isinstance(was[0], str) and not isinstance(value, str):
        value = typed
    sorts = {_sort(one) for one in was}
    if _sort(value) not in sorts or (isinstance(value, float) and value - value != 0.0):
        what = f"it takes {' or '.join(sorted(sorts))}, as in force"
        shown = ", ".join(dict.fromkeys(json.dumps(one, ensure_ascii=False) for one in was))
        raise MixlintError(what, where=where, do=f"in force is {shown}")
    found: LimitValue = value
    return found


def _sort(value: Any) -> str:
    if isinstance(value, bool):
        return "true or false"
    if isinstance(value, str):
        return "text"
    if isinstance(value, int | float):
        return "a number"
    return "a list" if isinstance(value, tuple) else "another value"
