"""What DEVELOPERS.md and the help say of a store is what is declared."""

from __future__ import annotations

import re

from mixlint.cli.statuses import STATUSES
from mixlint.store.columns import FORM, KINDS
from tests.store.stores import TOP


def test_the_table_of_the_form_names_every_column() -> None:
    text = (TOP / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert f"`mixlint-store/{FORM}`" in text
    for kind in KINDS.values():
        row = next(line for line in text.splitlines() if line.startswith(f"| `{kind.name}` | {kind.meaning} |"))
        assert re.findall(r"`([a-z_]+)`", row)[1:] == [one.name for one in kind.columns]


def test_the_status_of_a_store_that_cannot_be_written_is_told() -> None:
    assert [status for status, _ in STATUSES["review"]][:4] == ["0", "1", "2", "3"]
    assert "survey" in STATUSES
