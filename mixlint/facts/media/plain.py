"""How a file is called, where it lies and how loud it is, for rules of a house."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mixlint.analysis.media_use import NOT_OPENED, MediaUse
from mixlint.facts.declare import Facts, Row
from mixlint.session import Unknown, known
from mixlint.units import SILENCE_DB

if TYPE_CHECKING:
    from mixlint.media import Measure

FACTS: Facts[MediaUse] = Facts()


@FACTS.fact("text", "The folder it lies in, as the session writes it; empty where it names none.")
def folder(row: Row[MediaUse]) -> str:
    return row.item.media.path.replace("\\", "/").rpartition("/")[0]


@FACTS.fact("text", "The ending of its name in small letters, as in wav; empty where it has none.")
def ending(row: Row[MediaUse]) -> str:
    return row.subject.name.rpartition(".")[2].casefold() if "." in row.subject.name else ""


def _measure(row: Row[MediaUse]) -> Measure:
    audio = row.context.audio
    return known(NOT_OPENED if audio is None else audio.measure(row.item.media.id))


@FACTS.fact("number", "Its highest sample over its whole length, played or not.", unit="dBFS", how="measured")
def whole_peak_dbfs(row: Row[MediaUse]) -> float:
    return max(_measure(row).sample_peak_db, default=SILENCE_DB)


@FACTS.fact(
    "number", "Its loudness over its whole length, played or not (ITU-R BS.1770-5).", unit="LUFS", how="measured"
)
def whole_loudness_lufs(row: Row[MediaUse]) -> float | Unknown:
    return _measure(row).integrated_lufs
