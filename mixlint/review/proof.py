"""A house's standard held to its own word: the examples of its own rules, and the sessions it is tried on.

Beside a session in the standard's folder of examples lies what is expected of it: for ``late-night.session.json``
or ``late-night.dawproject`` that is ``late-night.expected.toml``, which lists the rules that must be flagged.
Whatever is not listed must not be flagged; a session without such a file must come out without a flagged row.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from contextlib import AbstractContextManager
from pathlib import Path
from typing import Final, Literal

from pydantic import ValidationError

from mixlint import resources
from mixlint.analysis.context import SessionContext
from mixlint.analysis.house_patterns import nowhere, unfitted_patterns
from mixlint.errors import MixlintError
from mixlint.review.engine import judged
from mixlint.review.examples import broken_promise
from mixlint.review.findings import Finding
from mixlint.rulebook.faults import Faults, near, read_text, read_toml
from mixlint.rulebook.rule import Rule
from mixlint.rulebook.standard import Standard
from mixlint.session.maybe import Frozen

EXPECTED: Final = ".expected.toml"
"""The end of the name of a file of expectations."""


class Expected(Frozen):
    """What is expected of one session.

    Args:
        flagged: ids of the rules that must be flagged, each on one row or more.
        note: a word about it.
    """

    flagged: tuple[str, ...] = ()
    note: str = ""


class TriedExample(Frozen):
    """One example of a rule; ``fault`` says what it promises and does not keep, and is empty when it keeps it."""

    name: str
    fault: str = ""


class TriedRule(Frozen):
    """One rule of the house's own, with its examples."""

    rule: str
    examples: tuple[TriedExample, ...]


class Surplus(Frozen):
    """A flagged row that was not expected: its rule and its message."""

    rule: str
    message: str


class TriedSession(Frozen):
    """One session of the examples: what was expected and flagged, what is missing, what is too much."""

    session: str
    flagged: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    surplus: tuple[Surplus, ...] = ()

    @property
    def kept(self) -> bool:
        """True when it came out as expected."""
        return not self.missing and not self.surplus


class Proof(Frozen):
    """How a standard stood its proof: ``mixlint-proof/1``.

    Args:
        kept: nothing that was tried came out otherwise than promised.
        unproven: ids of its own rules that have no example, so that nothing shows what they do.
        unfitted: its name patterns that fit no name in any of its sessions, as ``[roles] "Marigold*"``.
    """

    format: Literal["mixlint-proof/1"] = "mixlint-proof/1"
    standard: str
    in_force: int
    kept: bool
    rules: tuple[TriedRule, ...] = ()
    sessions: tuple[TriedSession, ...] = ()
    unproven: tuple[str, ...] = ()
    unfitted: tuple[str, ...] = ()


def prove(
    standard: Standard, sessions: Sequence[Path], context_of: Callable[[Path], AbstractContextManager[SessionContext]]
) -> Proof:
    """Try a standard. One that only changes shipped rules, and names nothing to try it on, has passed when it is read.

    Args:
        standard: the standard in force.
        sessions: the sessions of its folder of examples.
        context_of: opens one of them under the house of the standard.

    Raises:
        RulebookError: an example or a file of expectations cannot be used.
        MixlintError: it names rules of its own, and nothing of them is left to try.
        InputError: a session cannot be read.
    """
    own = own_rules(standard)
    if not sessions and not any(rule.examples() for rule in own) and _names_own(standard):
        raise MixlintError(
            f"the standard {standard.name} has nothing to try: no rule of its own has an example, no session is named",
            where=str(standard.path),
            do='give a rule of its own an example, or it a folder of sessions: examples = "FOLDER"',
        )
    expectations = _expectations(standard, sessions)
    words = standard.house.vocabulary
    rules = tuple(
        TriedRule(
            rule=rule.id,
            examples=tuple(TriedExample(name=e.name, fault=broken_promise(rule, e, words)) for e in rule.examples()),
        )
        for rule in own
    )
    tried = []
    unfitted: list[tuple[str, ...]] = []
    for path in sessions:
        with context_of(path) as context:
            unfitted.append(unfitted_patterns(context.session, standard.house))
            found = [f for rule in standard.rules.values() for f in judged(context, rule) if f.verdict == "flagged"]
        tried.append(_held_against(_name(standard, path), expectations[path], found))
    kept = all(not e.fault for rule in rules for e in rule.examples) and all(one.kept for one in tried)
    return Proof(
        standard=standard.name,
        in_force=len(standard.rules),
        kept=kept,
        rules=rules,
        sessions=tuple(tried),
        unproven=tuple(rule.rule for rule in rules if not rule.examples),
        unfitted=nowhere(unfitted),
    )


def _names_own(standard: Standard) -> bool:
    """True when the standard, or one that it builds on, says that it has rules of its own."""
    return any(link.file.rules or link.file.packages for link in standard.chain)


def own_rules(standard: Standard) -> list[Rule]:
    """The rules that a standard, or one that it builds on, adds to the shipped checklist."""
    folder = resources.folder("rules")
    return [
        rule
        for rule in standard.rules.values()
        if not (rule.path.is_relative_to(folder) and rule.path.parent.parent == folder)
    ]


def _held_against(name: str, expected: Expected, found: Iterable[Finding]) -> TriedSession:
    flagged = list(found)
    rules = tuple(dict.fromkeys(f.rule for f in flagged))
    return TriedSession(
        session=name,
        flagged=tuple(one for one in rules if one in expected.flagged),
        missing=tuple(one for one in expected.flagged if one not in rules),
        surplus=tuple(Surplus(rule=f.rule, message=f.message) for f in flagged if f.rule not in expected.flagged),
    )


def _expectations(standard: Standard, sessions: Sequence[Path]) -> dict[Path, Expected]:
    """What is expected of each session; every fault of every file is gathered."""
    faults = Faults()
    found = {path: _read(path.parent / f"{_stem(path)}{EXPECTED}", standard, faults) for path in sessions}
    folder = standard.examples
    stems = {(path.parent.resolve(), _stem(path)) for path in sessions}
    for file in sorted(folder.rglob(f"*{EXPECTED}")) if folder is not None else ():
        stem = file.name.removesuffix(EXPECTED)
        if (file.parent.resolve(), stem) not in stems:
            here = [name for parent, name in stems if parent == file.parent.resolve()]
            faults.add(str(file), "", f"there is no session called {stem} beside it", near(stem, here))
    faults.stop()
    return found


def _read(file: Path, standard: Standard, faults: Faults) -> Expected:
    if not file.exists():
        return Expected()
    file_faults = faults.of(str(file))
    text = read_text(file, file_faults)
    raw = read_toml(text, file_faults) if text is not None else None
    if raw is None:
        return Expected()
    try:
        expected = Expected.model_validate(raw)
    except ValidationError as fault:
        file_faults.add_model(Expected, fault)
        return Expected()
    for rule in expected.flagged:
        if rule not in standard.rules:
            file_faults.add("flagged", f"the standard {standard.name} has no rule {rule}", near(rule, standard.rules))
    return expected


def _stem(path: Path) -> str:
    """A session's name without its ending: ``late-night`` for ``late-night.session.json``."""
    return path.name.rpartition(".")[0].removesuffix(".session") or path.name


def _name(standard: Standard, path: Path) -> str:
    folder = standard.examples
    return path.relative_to(folder).as_posix() if folder is not None and path.is_relative_to(folder) else path.name
