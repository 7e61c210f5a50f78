"""A print against what its session computes to: loudness, gain, polarity, place, and what is left over."""

from __future__ import annotations

from mixlint.analysis.gaps import GAP_SETTINGS
from mixlint.analysis.mix_prints import MixPrint
from mixlint.analysis.print_of_session import BY_EAR, SessionMatch, session_match
from mixlint.analysis.spectrum import SPECTRUM_SETTINGS
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Unknown, known
from mixlint.units import few_text, number_text

FACTS: Facts[MixPrint] = Facts()

SETTINGS = (*SPECTRUM_SETTINGS, *GAP_SETTINGS)


def _match(row: Row[MixPrint]) -> SessionMatch:
    return known(session_match(row.context, row.item))


@FACTS.fact(
    "number",
    "How much louder it is than what the session computes to, K-weighted and gated, in stretches over the song; under "
    "0 where it is softer. What the session hides is passed at unity gain.",
    unit="LU",
    how="measured",
    settings=SETTINGS,
)
def session_louder_lu(row: Row[MixPrint]) -> FactValue:
    found = _match(row)
    away, way = number_text(abs(found.louder_lu), "LU"), "louder" if found.louder_lu > 0.0 else "softer"
    how = "as loud as" if away == "0 LU" else f"{away} {way} than"
    note = f"{how} what the session computes to"
    note += f", give or take {number_text(found.off_lu, 'LU')}"
    if found.hidden:
        note += f", without what is hidden ({few_text(list(found.hidden))})"
    return FactValue(found.louder_lu, "measured", row.subject.where, note)


@FACTS.fact(
    "number",
    "How far the two are apart in loudness at the least, whichever is louder: what the export does not tell of "
    "compressors is taken off.",
    unit="LU",
    how="derived",
    settings=SETTINGS,
)
def session_apart_lu(row: Row[MixPrint]) -> float:
    found = _match(row)
    return max(0.0, abs(found.louder_lu) - found.off_lu)


@FACTS.fact(
    "switch",
    "The session shows all of its mix, and nothing had to be taken for it, so that what it computes to is no estimate.",
    how="derived",
    settings=SETTINGS,
)
def session_shown(row: Row[MixPrint]) -> bool | Unknown:
    found = _match(row)
    if found.hidden:
        return Unknown(unknown=f"the session does not show {few_text(list(found.hidden))}", settle=BY_EAR)
    if found.assumed:
        return Unknown(
            unknown=f"nothing tells {few_text(list(found.assumed))}",
            settle="state the pan laws in the standard, and look at what is named",
        )
    return True


@FACTS.fact(
    "number", "The gain at which what the session computes to is in it.", unit="dB", how="measured", settings=SETTINGS
)
def session_gain_db(row: Row[MixPrint]) -> float:
    return _match(row).gain_db


@FACTS.fact(
    "number",
    "What is left over of it when what the session computes to is taken away at that gain, relative to the print.",
    unit="dB",
    how="measured",
    settings=SETTINGS,
)
def session_left_db(row: Row[MixPrint]) -> float:
    return _match(row).left_db


@FACTS.fact(
    "word",
    "Whether it is what the session computes to, or that turned over.",
    how="measured",
    words=("same", "turned-over"),
    settings=SETTINGS,
)
def session_polarity(row: Row[MixPrint]) -> str:
    return "turned-over" if _match(row).turned else "same"


@FACTS.fact(
    "number",
    "How much later it lies on its track than the session has the same sound; under 0 where earlier.",
    unit="ms",
    how="measured",
    settings=SETTINGS,
)
def session_late_ms(row: Row[MixPrint]) -> float | Unknown:
    late = _match(row).late_s
    return Unknown(unknown="it lies on no track") if late is None else late * 1000.0


@FACTS.fact("number", "Where in the song it begins, by its sound.", unit="s", how="measured", settings=SETTINGS)
def begins_at_s(row: Row[MixPrint]) -> float:
    return _match(row).origin_s
