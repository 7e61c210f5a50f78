"""Names by which facts were known once lead to facts that there are, and to nothing that is one itself."""

from __future__ import annotations

import pytest

from mixlint.facts import TABLES
from mixlint.facts.declare import ECHOES


@pytest.mark.parametrize("table", TABLES.values(), ids=lambda table: table.name)
def test_former_names_lead_somewhere(table) -> None:
    """A renamed fact is there under its new name; a note or place that is named in its stead belongs to a fact."""
    for old, now in table.renamed.items():
        assert now in table.facts
        assert old not in table.facts
    for old, written in table.echoes.items():
        fact, _, echo = written.partition(".")
        assert fact in table.facts
        assert echo in ECHOES
        assert old not in table.facts
        assert old not in table.renamed
