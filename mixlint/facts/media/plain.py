"""How a file is called and where it lies, for rules of a house."""

from __future__ import annotations

from mixlint.analysis.media_use import MediaUse
from mixlint.facts.declare import Facts, Row

FACTS: Facts[MediaUse] = Facts()


@FACTS.fact("text", "The folder it lies in, as the session writes it; empty where it names none.")
def folder(row: Row[MediaUse]) -> str:
    return row.item.media.path.replace("\\", "/").rpartition("/")[0]


@FACTS.fact("text", "The ending of its name in small letters, as in wav; empty where it has none.")
def ending(row: Row[MediaUse]) -> str:
    return row.subject.name.rpartition(".")[2].casefold() if "." in row.subject.name else ""
