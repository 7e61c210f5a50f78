"""Processors against copies of theirs: all settings but one agree to the digit, or all others leave one at nought."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, NamedTuple

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.partners import partners
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.insert.at_rest import LEAST_LIKE
from mixlint.facts.insert.likes import (
    AUTOMATIC,
    DB_APART,
    LIKES,
    PAIR_TIMES,
    TIMES_APART,
    Listed,
    Placed,
    acting,
    apart_words,
    kind_of,
    settings_apart,
    settings_of,
)
from mixlint.facts.insert.processing import ChannelInsert
from mixlint.naming import fold_name
from mixlint.naming.setting_reading import is_plainly, number_of
from mixlint.session.control import settings_move
from mixlint.units import few_text, number_text

FACTS: Facts[ChannelInsert] = Facts()

GAIN_APART: Final = Setting(
    "copies.gain_apart", 5.0, "dB", "A gain so far from that of its copies is none that was set by ear.", lowest=1.0
)
OFF_NOUGHT: Final = Setting(
    "copies.off_nought", 6.0, "dB", "A gain that stands so far from 0 dB, where all others do, slipped.", lowest=1.0
)
LEAST_COPIES: Final = Setting(
    "copies.least_others", 2.0, "", "So many copies that agree to the digit show how the chain was set.", lowest=2.0
)
TYPED_DB: Final = 1.0
"""A make-up gain from here on was typed in: a definition, beside one that the compressor makes by itself."""

SIGN_DB: Final = 1.5
"""From so much on a gain and its opposite are a boost and a cut: a definition."""

FEWEST: Final = 3
"""A processor with fewer settings is like others by chance. No setting: it tells a copy from two that look alike."""

Where = tuple[str, int]
"""Channel id and place of a processor."""


class _Read(NamedTuple):
    """A processor whose settings stand, with them."""

    at: Placed
    name: str
    listed: dict[str, Listed]


@per_session
def _read(context: SessionContext) -> tuple[_Read, ...]:
    """Every processor that acts and of which automation moves no setting."""
    return tuple(
        _Read(at, fold_name(at.insert.name, separators=True), settings_of(context, at.insert))
        for at in acting(context)
        if at.insert.name and not settings_move(at.channel, at.place)
    )


def _is_gain(what: str) -> bool:
    """True for a setting that makes the level, or that of a band."""
    return "gain" in what.split()


def _far(context: SessionContext, what: str, own: Listed, other: Listed, times: Setting) -> bool:
    """True where one setting of two copies is too far apart to have been set by ear."""
    if isinstance(own.value, str) or isinstance(other.value, str) or own.unit != other.unit:
        return False
    if own.unit == "dB":
        if _is_gain(what) and own.value == -other.value and abs(own.value) >= SIGN_DB:
            return True  # a sign was lost
        return abs(own.value - other.value) >= context.setting(GAIN_APART if _is_gain(what) else DB_APART)
    low, high = sorted((abs(own.value), abs(other.value)))
    return own.unit != "%" and high > 0.0 and low * context.setting(times) <= high


def _alike_but_for_one(context: SessionContext) -> Iterator[tuple[str, list[_Read]]]:
    """Settings, each with processors of one name and kind that seem to agree in all other settings.

    They are found by the sum of the hashes of these others, since a plug-in may list thousands of settings.
    """
    found: dict[tuple[str, str, str, str, int], list[_Read]] = {}
    for one in _read(context):
        if len(one.listed) < FEWEST:
            continue
        kind, strip = kind_of(context, one.at), str(one.at.channel.kind)
        hashes = {what: hash((what, listed)) for what, listed in one.listed.items()}
        total = sum(hashes.values())
        for what, of_it in hashes.items():
            found.setdefault((one.name, kind, strip, what, total - of_it), []).append(one)
    for (_, _, _, what, _), several in found.items():
        if len({one.listed[what].value for one in several}) > 1:
            yield what, several


def _agree_but_for(one: _Read, other: _Read, what: str) -> bool:
    return one.listed.keys() == other.listed.keys() and all(
        listed == other.listed[text] for text, listed in one.listed.items() if text != what
    )


def _of_copies(context: SessionContext) -> Iterator[tuple[Where, str]]:
    """The one of some copies that stands apart in one setting; of a lone filter its corner is set for the part."""
    for what, several in _alike_but_for_one(context):
        for mine in several:
            filters = [text for text in mine.listed if text.startswith("frequency")]
            if filters == [what]:
                continue
            near = [
                other
                for other in several
                if other.at.channel.id != mine.at.channel.id
                and _akin(context, mine.at, other.at)
                and _agree_but_for(mine, other, what)
            ]
            values = {other.listed[what].value for other in near}
            if len({other.at.channel.id for other in near}) < context.setting(LEAST_COPIES) or len(values) != 1:
                continue
            own, theirs = mine.listed[what], near[0].listed[what]
            if _far(context, what, own, theirs, TIMES_APART):
                where = (mine.at.channel.id, mine.at.place)
                yield where, apart_words(context, what, own, theirs, [other.at for other in near])


def _akin(context: SessionContext, one: Placed, other: Placed) -> bool:
    """True for processors on parts of one family, or that go out to one channel."""
    family = context.family(one.channel.id)
    if family is not None and family == context.family(other.channel.id):
        return True
    return isinstance(one.channel.output, str) and one.channel.output == other.channel.output


def _of_sides(context: SessionContext) -> Iterator[tuple[Where, str]]:
    """Of the two sides of a pair the second, where a processor of theirs agrees in all but one setting."""
    beside = partners(context)
    by_channel: dict[str, list[_Read]] = {}
    for one in _read(context):
        by_channel.setdefault(one.at.channel.id, []).append(one)
    for first_id, several in by_channel.items():
        second = beside.get(first_id)
        if second is None or context.order[second.id] < context.order[first_id]:
            continue
        for mine in several:
            theirs = [one for one in by_channel.get(second.id, ()) if one.name == mine.name]
            if len(theirs) != 1 or theirs[0].listed.keys() != mine.listed.keys():
                continue
            (other,) = theirs
            apart = [what for what, one in mine.listed.items() if one != other.listed[what]]
            if len(apart) != 1 or len(mine.listed) < FEWEST:
                continue
            (what,) = apart
            if _far(context, what, other.listed[what], mine.listed[what], PAIR_TIMES):
                where = (other.at.channel.id, other.at.place)
                yield where, apart_words(context, what, other.listed[what], mine.listed[what], [mine.at])


@per_session
def _made_up_twice(context: SessionContext) -> dict[Where, str]:
    """Compressors that make up by themselves beside a gain that was typed, where no other of several does so."""
    shown = [one for one in _read(context) if AUTOMATIC in one.listed]
    found: dict[Where, str] = {}
    on = [one for one in shown if one.listed[AUTOMATIC].value == "on"]
    if len(on) == 1 and len(shown) > context.setting(LEAST_LIKE):
        (one,) = on
        typed = one.listed.get("output gain")
        if typed is not None and isinstance(typed.value, float) and typed.value >= TYPED_DB:
            found[one.at.channel.id, one.at.place] = (
                f"its automatic make-up is on beside a typed one of {number_text(typed.value, 'dB')}, and off in all "
                f"{len(shown) - 1} others"
            )
    return found


class _Gain(NamedTuple):
    """A gain of a processor by which it does nothing else but raise or lower what passes."""

    at: Placed
    db: float


@per_session
def _gains(context: SessionContext) -> dict[tuple[str, ...], list[_Gain]]:
    """What gains are called, and on what → those of equalizers behind their bands, and those of trims of one name."""
    words = context.house.vocabulary
    found: dict[tuple[str, ...], list[_Gain]] = {}
    for one in _read(context):
        if one.at.insert.equalizer is not None:
            for what in ("input gain", "output gain"):
                listed = one.listed.get(what)
                if listed is not None and isinstance(listed.value, float):
                    found.setdefault((what,), []).append(_Gain(one.at, listed.value))
        for parameter in one.at.insert.parameters:
            number = number_of(parameter)
            if number is None or number[1] != "dB":
                continue
            if is_plainly(parameter, "trim-gain", words) or is_plainly(parameter, "input-gain", words):
                said = (one.name, fold_name(parameter.name or parameter.id))
                found.setdefault(said, []).append(_Gain(one.at, number[0]))
    return found


class _OffNought(NamedTuple):
    """A gain that alone stands off 0 dB, and what is said of it."""

    db: float
    text: str


@per_session
def _off_nought(context: SessionContext) -> dict[Where, _OffNought]:
    """The one gain of several of one name that stands off 0 dB, where all others stand there."""
    found: dict[Where, _OffNought] = {}
    for said, several in _gains(context).items():
        off = [one for one in several if one.db != 0.0]
        others = {one.at.channel.id for one in several if one.db == 0.0}
        if len(off) != 1 or abs(off[0].db) < context.setting(OFF_NOUGHT) or off[0].at.channel.id in others:
            continue
        least = LEAST_LIKE if len(said) == 1 else LEAST_COPIES
        if len(others) < context.setting(least):
            continue
        (at, db) = off[0]
        names = few_text([context.name(one) for one in context.order if one in others])
        text = f"its {said[-1]} stands at {number_text(db, 'dB')}, on {names} at 0 dB"
        found[at.channel.id, at.place] = _OffNought(db, text)
    return found


COPIES: Final = (*LIKES, GAIN_APART, OFF_NOUGHT, LEAST_COPIES)


@per_session
def _copies_apart(context: SessionContext) -> dict[Where, str]:
    """Channel id and place of a processor that one setting tells from its copies → how, for a reader."""
    found = {where: one.text for where, one in _off_nought(context).items()} | _made_up_twice(context)
    found |= {where: text for where, text in _of_copies(context) if where not in found}
    channels = {channel for channel, _ in (*found, *settings_apart(context))}
    beside = partners(context)
    for where, text in _of_sides(context):
        # The other side of the pair is told already, where a third copy shows which of the two slipped.
        if where[0] not in channels and beside[where[0]].id not in channels:
            found[where] = text
    return {where: text for where, text in found.items() if where not in settings_apart(context)}


@FACTS.fact(
    "text",
    "The one setting in which it stands apart from copies of it, which agree in all; a gain that all others leave at 0 "
    "dB; or none.",
    how="derived",
    settings=COPIES,
)
def copy_apart(row: Row[ChannelInsert]) -> FactValue:
    text = _copies_apart(row.context).get((row.item.channel.id, row.item.place), "none")
    return FactValue(text, "derived", row.subject.where)


@FACTS.fact(
    "number",
    "How far a gain of it is turned down that stands at 0 dB on all its like; 0 where none is.",
    unit="dB",
    how="derived",
    settings=COPIES,
)
def left_down_db(row: Row[ChannelInsert]) -> FactValue:
    found = _off_nought(row.context).get((row.item.channel.id, row.item.place))
    return FactValue(max(0.0, -found.db) if found is not None else 0.0, "derived", row.subject.where)


@FACTS.fact("text", "In what it stands apart from its like, for a reader.", how="derived", settings=COPIES)
def apart_text(row: Row[ChannelInsert]) -> str:
    found = (str(row.need(fact).value) for fact in ("setting_apart", "key_input_apart", "copy_apart"))
    return " and ".join(text for text in found if text != "none") or "in nothing"
