"""Processors left on what is there to set them by: the band soloed, the key, what they take away."""

from __future__ import annotations

from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.insert.processing import ChannelInsert
from mixlint.naming import Vocabulary, fold_name
from mixlint.naming.setting_reading import is_setting, says
from mixlint.session import Parameter
from mixlint.session.control import settings_move

FACTS: Facts[ChannelInsert] = Facts()


@FACTS.fact(
    "text",
    "The setting by which nothing is heard but what it works on or takes away, with its value; or none.",
    how="declared",
)
def plays_only(row: Row[ChannelInsert]) -> FactValue:
    item, words = row.item, row.context.house.vocabulary
    for one in () if settings_move(item.channel, item.place) else item.insert.parameters:
        if is_setting(one, "listen-to", words) and _is_on(one, words):
            said = fold_name(str(one.value)) if isinstance(one.value, str) else "on"
            return FactValue(f"{one.name or one.id}: {said}", "declared", row.subject.where)
    return FactValue("none", "declared", row.subject.where)


def _is_on(parameter: Parameter, words: Vocabulary) -> bool:
    """Whether a switch for listening is on; a choice is where it says what is taken away, or the key."""
    value = parameter.value
    if isinstance(value, bool):
        return value
    if isinstance(value, str):
        return says(value, "listened-to", words)
    return not parameter.unit.strip() and value == 1.0
