"""Names by which facts were known in an earlier version, in the rules that a house wrote then."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, Final

from mixlint.facts.declare import Table
from mixlint.rulebook.faults import near

ECHOES_END: Final = "0.3"
"""The version that no longer reads the names of facts which only repeated another one's note or place."""


def no_such_fact(table: Table[Any], name: str, also: Iterable[str] = ()) -> tuple[str, str]:
    """What is wrong with a name that is no fact of a table, and what to write.

    Args:
        table: the table that the rule is over.
        name: what is written.
        also: other words that may stand there.

    Returns:
        The fault and its suggestion: the new name of a fact that has one, else the nearest spelling.
    """
    if name in table.renamed:
        return f"the fact {name} of the table {table.name} has another name now", f"write {table.renamed[name]}"
    if name in table.echoes:
        now = table.echoes[name]
        return (
            f"the table {table.name} has no fact {name} any more: it repeated {now}, which only a text can name",
            f"ask for {now.partition('.')[0]} here, and write {{{now}}} in a text",
        )
    hint = near(name, [*table.facts, *also]) or f"mixlint facts {table.name} lists them"
    return f"the table {table.name} has no fact {name}", hint
