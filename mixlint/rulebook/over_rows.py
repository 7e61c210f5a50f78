"""What is asked of the rows that a fact leads to: how the answer follows, and which of them it rests on."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from typing import Any, Final

from mixlint.facts.declare import LEADING, FactValue, How, Row
from mixlint.rulebook.counting import holds_over_all, over_all
from mixlint.rulebook.evaluation import Asked, RowEvaluation, Test
from mixlint.rulebook.operators import Compare
from mixlint.rulebook.truth import Missing, Outcome
from mixlint.session import Unknown
from mixlint.units import few_text, value_text

_UNIT: Final = re.compile(r"_(db|dbfs|dbtp|lufs|lu|hz|ms|s|percent|bpm)$")
"""The unit at the end of a fact's name, which its value says as well."""

SINGLED: Final = {"every": "no", "some": "yes", "none": "yes", "count": "yes"}
"""What has come out for the rows that an operator's answer rests on."""


def over_rows(asked: Asked, operator: str, inner: Test, counts: Sequence[Compare]) -> Test:
    """The test of an operator over the rows that a fact leads to; those that settle it are written down by name.

    Args:
        asked: the fact that leads there, and the limit of a count.
        operator: ``every``, ``some``, ``none`` or ``count``.
        inner: the test of each of the rows.
        counts: what the count has to keep, for ``count``.
    """
    name = asked.fact.name

    def holds(row: Row[Any], own: Row[Any]) -> bool | None:
        rows = row.rows(name)
        if isinstance(rows, Unknown):
            return None
        # Behind the last there may be more, no more of them than there are channels.
        behind = len(row.context.session.channels) if name in row.open_ends else 0
        return holds_over_all(operator, (inner.holds(one, own) for one in rows), behind, counts)

    def outcome(evaluation: RowEvaluation) -> Outcome:
        rows = evaluation.row.rows(name)
        if isinstance(rows, Unknown):
            evaluation.noted[asked] = rows
            return Outcome("unknown", (Missing(name, rows.unknown, rows.settle),))
        sights = [RowEvaluation(row.table, row, of=evaluation.own) for row in rows]
        met = [inner.outcome(sight) for sight in sights]
        more = evaluation.row.open_ends.get(name)
        behind: list[Outcome] = []
        if more is not None:  # no more of them than there are channels
            unseen = Outcome("unknown", (Missing(name, more.unknown, more.settle),))
            behind = [unseen] * len(evaluation.row.context.session.channels)
        came_to = over_all(operator, [*met, *behind], counts)
        chosen = [sight for sight, one in zip(sights, met, strict=True) if one.truth == SINGLED[operator]]
        whole = evaluation.row.value(name)
        how = asked.fact.how if isinstance(whole, Unknown) else whole.how
        found = _named(chosen, evaluation.row, how)
        if came_to.truth != "no":
            evaluation.noted[asked] = found
            return came_to
        # What breaks the rule goes before what else was asked of the same rows. Where none is as it should be, a text
        # names all of them, while a sign-off rests on there being none.
        named = found if chosen else _named(sights, evaluation.row, how)
        evaluation.noted = {asked: replace(found, note=named.note), **evaluation.noted}
        evaluation.singled[name] = _together(evaluation.singled.get(name), named)
        return came_to

    return Test(outcome, holds)


def _named(sights: Sequence[RowEvaluation], led_from: Row[Any], how: How) -> FactValue:
    """Rows by name, without that of the row they belong to, and what each was asked for: ``Deckel: ceiling −0.3``."""
    names, notes = [], []
    for sight in sights:
        name = sight.row.subject.name.removeprefix(f"{led_from.subject.name}: ")
        seen = dict.fromkeys(
            f"{_UNIT.sub('', asked.fact.name).replace('_', ' ')} {value_text(found.value, asked.fact.unit)}"
            for asked, found in sight.noted.items()
            if isinstance(found, FactValue) and asked.limit is not None and asked.fact.kind not in LEADING
        )
        names.append(name)
        notes.append(f"{name} ({', '.join(seen)})" if seen else name)
    return FactValue(tuple(names), how, "", few_text(notes, none="none"))


def _together(first: FactValue | None, second: FactValue) -> FactValue:
    """What several operators over one fact single out, each name and note once."""
    if first is None or not isinstance(first.value, tuple) or not isinstance(second.value, tuple):
        return second
    note = "; ".join(dict.fromkeys((first.note, second.note)))
    return FactValue(tuple(dict.fromkeys((*first.value, *second.value))), second.how, "", note)
