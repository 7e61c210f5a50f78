"""Names as names: placeholders nobody chose, and channels that share one name."""

from __future__ import annotations

import re
from typing import Final

from mixlint.analysis.context import SessionContext, per_session
from mixlint.naming import fold_name

PLACEHOLDER: Final = re.compile(
    r"^(?!fx$)(?:(?:audio|midi|inst(?:rument)?|track|channel|group|bus|aux|fx|return|send|untitled|new|copy|no name|"
    r"spur|kanal|neu|piste|pista|canal|nuevo|nuova|nova|faixa|sp[aå]r|ścieżka|дорожка|トラック|オーディオ)"
    r"(?:\s*(?:audio|midi|track|channel))?)?[\s_\-.#()]*\d*$",
    re.IGNORECASE,
)
"""A name that a program gave: a general word, in several languages, and a number; or nothing at all.

``FX`` alone is what engineers call a group of sound effects or a bus of returns.
"""


def is_placeholder(name: str) -> bool:
    """True for an empty name or one that a program gave, such as ``Audio 3``."""
    return PLACEHOLDER.match(name.strip()) is not None


@per_session
def namesakes(context: SessionContext) -> dict[str, tuple[str, ...]]:
    """Channel id → ids of the other channels that bear the same name, case and spaces aside."""

    groups: dict[str, list[str]] = {}
    for channel in context.session.channels:
        groups.setdefault(fold_name(channel.name), []).append(channel.id)
    return {one: tuple(o for o in ids if o != one) for ids in groups.values() for one in ids}
