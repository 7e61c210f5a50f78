"""What is muted because another channel plays in its place: a print and its source, a DI kept beside its amplifier."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.audibility import is_audible
from mixlint.analysis.context import SessionContext, per_session
from mixlint.naming import family_of, fold_name, is_direct, name_words, without_print_words
from mixlint.session import Channel

REAMPED: Final = frozenset({"guitars"})
"""Families whose DI is recorded for re-amping; that of a bass is a part of its sound."""


@per_session
def plays_instead(context: SessionContext, channel: Channel) -> str:
    """The name of the audible channel in whose favour ``channel`` can be silent; empty where there is none.

    The two are a print and what it is a print of, by their names; or a guitar's DI and a channel of the same family
    whose name holds all of the DI's but the word for it, such as ``EGtr 1 DI`` and ``EGtr 1 Amp``.
    """
    words = context.house.vocabulary
    direct = is_direct(channel.name, words) and family_of(context.role(channel.id) or "") in REAMPED
    bare = without_print_words(channel.name, words, of_instrument=True)
    own = name_words(channel.name, words) - words.marks.get("direct", frozenset())
    for other in context.session.channels:
        if other.id == channel.id or fold_name(other.name) == fold_name(channel.name) or not is_audible(context, other):
            continue
        if bare and without_print_words(other.name, words, of_instrument=True) == bare:
            return context.name(other.id)
        amplified = not is_direct(other.name, words) and own <= name_words(other.name, words)
        same = family_of(context.role(other.id) or "") == family_of(context.role(channel.id) or "")
        if direct and same and other.kind == "track" and amplified:
            return context.name(other.id)
    return ""
