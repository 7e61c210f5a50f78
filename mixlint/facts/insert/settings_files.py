"""The files in which a session keeps the settings of its processors: whether they are there, and which are alike."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.context import SessionContext, per_session
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.insert.processing import ChannelInsert
from mixlint.session import Unknown, is_known, known, seen_inserts

FACTS: Facts[ChannelInsert] = Facts()

NONE_BESIDE: Final = Unknown(
    unknown="the session was read without the files that belong to it: none that it names for settings lies beside it",
    settle="review the session as it was exported, with all its files",
)


@FACTS.fact("switch", "The session names a file in which its settings are kept.")
def settings_kept(row: Row[ChannelInsert]) -> bool:
    return row.item.insert.saved is not None


@per_session
def _any_there(context: SessionContext) -> bool:
    """True where at least one file of settings is there."""
    saved = (insert.saved for channel in context.session.channels for insert in seen_inserts(channel))
    return any(one is not None and one.present is True for one in saved)


@FACTS.fact(
    "word",
    "Whether the file in which its settings are kept is there: there, absent, or damaged, so that it cannot be read to "
    "its end. None where the session names none.",
    words=("there", "absent", "damaged", "none"),
)
def settings_file(row: Row[ChannelInsert]) -> FactValue | Unknown:
    saved = row.item.insert.saved
    if saved is None:
        return FactValue("none", "declared", row.subject.where, "the session names no file of its settings")
    if not known(saved.present):
        if saved.place == "beside" and not _any_there(row.context):
            return NONE_BESIDE
        return FactValue("absent", "declared", row.subject.where, saved.path)
    return FactValue("damaged" if saved.damaged else "there", "declared", row.subject.where, saved.path)


@per_session
def _by_content(context: SessionContext) -> dict[str, list[tuple[str, int, str]]]:
    """The hash of saved settings → channel id, place and name of each processor that has these."""
    found: dict[str, list[tuple[str, int, str]]] = {}
    for channel in context.session.channels:
        for place, insert in enumerate(seen_inserts(channel)):
            if insert.saved is not None and is_known(insert.saved.content):
                name = f"{context.name(channel.id)}: {insert.name or f'insert {place + 1}'}"
                found.setdefault(insert.saved.content, []).append((channel.id, place, name))
    return found


@FACTS.fact(
    "list", "The other processors whose saved settings are the same as its own, which nobody can read.", how="derived"
)
def settings_alike(row: Row[ChannelInsert]) -> tuple[str, ...]:
    item, saved = row.item, row.item.insert.saved
    if saved is None:
        return ()
    same = _by_content(row.context).get(known(saved.content), ())
    return tuple(name for channel, place, name in same if (channel, place) != (item.channel.id, item.place))
