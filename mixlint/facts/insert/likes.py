"""Processors against their like: the one whose key, key input or other setting stands apart from all the others."""

from __future__ import annotations

from collections.abc import Iterator
from math import log10
from typing import Final, NamedTuple

from mixlint.analysis.channel_purpose import carries_content, is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.key_inputs import channels_by_key
from mixlint.analysis.pitches import BUILT
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.insert.at_rest import LEAST_LIKE
from mixlint.facts.insert.processing import ChannelInsert
from mixlint.naming import (
    fold_name,
    is_polarity,
    key_named,
    keys_named,
    name_without_side,
    pair_kind,
    side_of,
)
from mixlint.naming.setting_reading import is_setting, number_of, scale_of
from mixlint.routing import acting_inserts
from mixlint.session import Channel, Insert, Parameter, Unknown
from mixlint.session.control import settings_move
from mixlint.units import few_text, number_text

FACTS: Facts[ChannelInsert] = Facts()

TIMES_APART: Final = Setting(
    "likes.times_apart", 5.0, "", "A time, frequency or ratio so many times another one stands apart.", lowest=1.1
)
DB_APART: Final = Setting("likes.db_apart", 10.0, "dB", "A level so far from another one stands apart.", lowest=1.0)
PAIR_TIMES: Final = Setting(
    "likes.pair_times_apart", 8.0, "", "The same where only the other side of a pair is there to compare.", lowest=1.1
)
SHARE_APART: Final = 50.0
"""Shares so far from each other, per cent, stand apart. No setting: it is half of all there is."""


class Placed(NamedTuple):
    """A processor that acts, with its channel and its place there, counted from 0."""

    channel: Channel
    place: int
    insert: Insert


AUTOMATIC: Final = "automatic make-up"
"""What the switch is called that gives back by itself what a compressor takes."""


class Listed(NamedTuple):
    """A setting for comparison, with its unit, empty where that is not known."""

    value: float | str
    unit: str


@per_session
def acting(context: SessionContext) -> tuple[Placed, ...]:
    """Every processor that acts on a channel which plays something, in desk order."""
    return tuple(
        Placed(channel, place, insert)
        for channel in context.session.channels
        if carries_content(context, channel.id)
        for place, insert in acting_inserts(channel).items()
    )


def kind_of(context: SessionContext, at: Placed) -> str:
    return context.processors[at.channel.id][at.place].word or ""


@per_session
def _keys_apart(context: SessionContext) -> dict[tuple[str, int], str]:
    """Channel id and place of a pitch corrector in another key than the others → what they are in, for a reader."""
    words = context.house.vocabulary
    named: dict[str, list[tuple[Placed, str, str]]] = {}
    for at in acting(context):
        if kind_of(context, at) != "pitch":
            continue
        for one in at.insert.parameters:
            if not isinstance(one.value, str) or not is_setting(one, "musical-key", words):
                continue
            plain = fold_name(one.value, separators=True)
            scale = scale_of(one.value, words)
            if plain and not any(word in plain for word in _ANY_KEY):
                said = plain if scale is None else f"={scale}"
                named.setdefault(fold_name(one.name or one.id), []).append((at, said, one.value))
    found: dict[tuple[str, int], str] = {}
    for several in named.values():
        for at, said, value in several:
            others = [(other, theirs, shown) for other, theirs, shown in several if other.channel.id != at.channel.id]
            if not others or len({theirs for _, theirs, _ in others}) > 1 or others[0][1] == said:
                continue
            if len(others) == 1 and context.order[others[0][0].channel.id] > context.order[at.channel.id]:
                continue  # of two, one row is enough: it names both
            names = few_text([context.name(other.channel.id) for other, _, _ in others])
            found[at.channel.id, at.place] = f"is set to {value}, where {names} keep to {others[0][2]}"
    return found


_ANY_KEY: Final = ("chrom", "chrm", "хромат", "クロマ", "off", "none", "all notes", "aus")
"""Parts of words for a corrector that keeps to no key."""


@FACTS.fact("text", "How the key of a pitch corrector differs from that of all the others, or none.", how="derived")
def key_apart(row: Row[ChannelInsert]) -> str:
    return _keys_apart(row.context).get((row.item.channel.id, row.item.place), "none")


@per_session
def _key_inputs_apart(context: SessionContext) -> dict[tuple[str, int], str]:
    """Channel id and place of a processor keyed otherwise than all its namesakes → how they are, for a reader."""
    named: dict[tuple[str, str], list[Placed]] = {}
    for at in acting(context):
        if keys_named(at.insert) and kind_of(context, at) != "pitch":
            said = (fold_name(at.insert.name, separators=True), kind_of(context, at))
            named.setdefault(said, []).append(at)
    channels = channels_by_key(context).keys()
    found: dict[tuple[str, int], str] = {}
    for several in named.values():
        for at in several:
            others = [other for other in several if other.channel.id != at.channel.id]
            keys = {keys_named(other.insert) for other in others}
            if len(others) < context.setting(LEAST_LIKE) or len(keys) > 1:
                continue
            (usual,) = keys
            if usual & channels and usual != keys_named(at.insert):
                what, theirs = ", ".join(sorted(keys_named(at.insert))), ", ".join(sorted(usual))
                found[at.channel.id, at.place] = f"is keyed from {what}, all {len(others)} others from {theirs}"
    return found


@FACTS.fact(
    "text",
    "How the key input of a processor differs from that of all others of its name, or none.",
    how="derived",
    settings=(LEAST_LIKE,),
)
def key_input_apart(row: Row[ChannelInsert]) -> str:
    return _key_inputs_apart(row.context).get((row.item.channel.id, row.item.place), "none")


@FACTS.fact(
    "text",
    "The key input it lists by a name that no channel bears, where others list theirs by the names of channels; or "
    "none.",
    how="derived",
)
def missing_key(row: Row[ChannelInsert]) -> str:
    context = row.context
    if row.need("kind").value == "pitch":
        return "none"
    names, words = channels_by_key(context), _words_of_keys(context)
    for one in row.item.insert.parameters if words else ():
        key = key_named(one)
        if key is not None and key not in names and words & set(key.split()):
            return str(one.value)
    return "none"


@per_session
def _words_of_keys(context: SessionContext) -> frozenset[str]:
    """The words of channels' names and ids; none where nothing shows that key inputs are listed by those here."""
    names = channels_by_key(context)
    if not any(keys_named(at.insert) & names.keys() for at in acting(context)):
        return frozenset()
    return frozenset(word for name in names for word in name.split() if len(word) > 2 and not word.isdigit())


def settings_of(context: SessionContext, insert: Insert) -> dict[str, Listed]:
    """What of a processor can be compared with its like, by what it is called."""
    found: dict[str, Listed] = {}
    if insert.dynamics is not None:
        own = insert.dynamics
        for text, value, unit in (
            ("threshold", own.threshold_db, "dB"),
            ("ratio", own.ratio, ":1"),
            ("attack", own.attack_ms, "ms"),
            ("release", own.release_ms, "ms"),
            ("range", own.range_db, "dB"),
            ("input gain", own.input_gain_db, "dB"),
            ("output gain", own.output_gain_db, "dB"),
        ):
            if not isinstance(value, Unknown):
                found[text] = Listed(float(value), unit)
        if not isinstance(own.auto_makeup, Unknown):
            found[AUTOMATIC] = Listed("on" if own.auto_makeup else "off", "")
    if insert.equalizer is not None:
        for text, gain in (
            ("input gain", insert.equalizer.input_gain_db),
            ("output gain", insert.equalizer.output_gain_db),
        ):
            if not isinstance(gain, Unknown):
                found[text] = Listed(float(gain), "dB")
    for number, band in enumerate(insert.equalizer.bands if insert.equalizer is not None else (), 1):
        where = f"band {number} ({band.kind.replace('-', ' ')})"
        for text, value, unit in (("frequency", band.freq_hz, "Hz"), ("gain", band.gain_db, "dB"), ("Q", band.q, "")):
            if not isinstance(value, Unknown) and band.on is not False:
                found[f"{text} of {where}"] = Listed(float(value), unit)
    for one in insert.parameters:
        number_read = number_of(one)
        name = one.name or one.id
        if isinstance(one.value, bool) and is_polarity(name, context.house.vocabulary):
            found["polarity"] = Listed("inverted" if one.value else "normal", "")
        elif isinstance(one.value, bool):
            found[name] = Listed("on" if one.value else "off", "")
        elif isinstance(one.value, str) and _is_choice(context, one):
            found[name] = Listed(one.value, "")
        if number_read is not None and not is_polarity(name, context.house.vocabulary):
            found[name] = Listed(*number_read)
    if not isinstance(insert.wet, Unknown):
        found["wet share"] = Listed(float(insert.wet), "%")
    return found


def _is_choice(context: SessionContext, parameter: Parameter) -> bool:
    """True for a setting that is one of several words; keys and key inputs are compared by themselves."""
    words = context.house.vocabulary
    return key_named(parameter) is None and not is_setting(parameter, "musical-key", words)


def _apart(context: SessionContext, one: Listed, other: Listed, times: Setting) -> bool:
    """True where two values of one setting are too far apart for a decision of taste."""
    if isinstance(one.value, str) or isinstance(other.value, str):
        return one.value != other.value
    if one.unit == "dB":
        return abs(one.value - other.value) >= context.setting(DB_APART)
    if one.unit == "%":
        return abs(one.value - other.value) >= SHARE_APART
    low, high = sorted((abs(one.value), abs(other.value)))
    return high > 0.0 and low * context.setting(times) <= high


NEAR_DB: Final = Setting(
    "likes.near_db", 8.0, "dB", "Levels of one setting that lie in so narrow a band are alike.", lowest=0.0
)
FAR_DB: Final = Setting("likes.far_db", 12.0, "dB", "A level so far from such a band stands apart.", lowest=1.0)
NEAR_TIMES: Final = Setting(
    "likes.near_times",
    2.0,
    "",
    "Times, frequencies or ratios within so many times of each other are alike.",
    lowest=1.0,
)
FAR_TIMES: Final = Setting("likes.far_times", 4.0, "", "One so many times over or under them stands apart.", lowest=1.1)
FAR_SPREADS: Final = 2.0
"""How many times as far from the band as it is wide. No setting: it keeps a wide band from being left by little."""

_OF_MANY_SOUNDS: Final = frozenset({"drum-room", "keys", "percussion", "sound-effects", "synth"})
"""Roles whose parts are of so many kinds that one of them is set otherwise by nature."""

_COMPARED: Final = frozenset({"threshold", "ratio", "attack", "release", "range"})
"""Settings of dynamics that lie near each other on parts of one family, and the low cut, on parts of one role."""


def _out_of_band(context: SessionContext, own: Listed, others: list[Listed]) -> Listed | None:
    """The one of some values, near to each other, that is nearest to one far outside of them; None where that is not.

    Levels are compared by their differences, all else by how many times one is the other.
    """
    numbers = [one.value for one in (own, *others) if not isinstance(one.value, str)]
    levels = own.unit == "dB"
    if len(numbers) <= len(others) or any(other.unit != own.unit for other in others):
        return None
    if not levels and min(map(abs, numbers)) <= 0.0:
        return None
    value, *theirs = numbers if levels else [20.0 * log10(abs(number)) for number in numbers]
    near, far = (
        (context.setting(NEAR_DB), context.setting(FAR_DB))
        if levels
        else (20.0 * log10(context.setting(NEAR_TIMES)), 20.0 * log10(context.setting(FAR_TIMES)))
    )
    spread = max(theirs) - min(theirs)
    gap, nearest = min((abs(value - other), at) for at, other in enumerate(theirs))
    inside = min(theirs) <= value <= max(theirs)
    return others[nearest] if spread <= near and not inside and gap >= max(far, FAR_SPREADS * spread) else None


def _of_families(context: SessionContext) -> Iterator[tuple[tuple[str, int], str]]:
    """Processors of which a setting lies far outside the narrow band of at least two others of their name and kind."""
    named: dict[tuple[str, ...], list[tuple[Placed, Listed]]] = {}
    for at in acting(context):
        role, family = context.role(at.channel.id), context.family(at.channel.id)
        if (
            role is None
            or role in _OF_MANY_SOUNDS
            or family is None
            or not at.insert.name
            or settings_move(at.channel, at.place)
            or at.channel.kind != "track"
        ):
            continue
        said = (fold_name(at.insert.name, separators=True), kind_of(context, at))
        for text, one in settings_of(context, at.insert).items():
            plain = text in _COMPARED or (kind_of(context, at) == "de-esser" and one.unit in ("dB", "Hz"))
            cut = text.startswith("frequency of band") and "high pass" in text
            if plain or cut:
                kin = role if cut or kind_of(context, at) == "compressor" else family
                named.setdefault((kin, *said, "low cut" if cut else text), []).append((at, one))
    for (_, _, _, text), several in named.items():
        for at, own in several if len(several) > 2 else ():
            others = [(other, one) for other, one in several if other.channel.id != at.channel.id]
            if len({other.channel.id for other, _ in others}) > 1:
                near = _out_of_band(context, own, [one for _, one in others])
                if near is not None:
                    yield (
                        (at.channel.id, at.place),
                        apart_words(
                            context, text, own, near, [other for other, one in others if one.value == near.value]
                        ),
                    )


@per_session
def settings_apart(context: SessionContext) -> dict[tuple[str, int], str]:
    """Channel id and place of a processor of which one setting stands apart from its like → how, for a reader.

    Its like are those of the same name and kind on channels of the same role. All of them agree exactly in it. Where
    they are but the two sides of a pair, these agree in all else.
    """
    named: dict[tuple[str, str, str, str], list[Placed]] = {}
    for at in acting(context):
        role = context.role(at.channel.id)
        if role is not None and at.insert.name and not settings_move(at.channel, at.place):
            said = fold_name(at.insert.name, separators=True)
            named.setdefault((role, str(at.channel.kind), said, kind_of(context, at)), []).append(at)
    found: dict[tuple[str, int], str] = dict(_turned_over(context)) | dict(_of_families(context))
    found |= dict(_at_nought(context))
    for several in named.values():
        if len(several) > 1:
            read = [(at, settings_of(context, at.insert)) for at in several]
            found |= dict(_of_many(context, read))
            found |= {at: text for at, text in _of_pairs(context, read) if at not in found}
    return found


FEWEST_SPOTS: Final = 5
"""Of so many other microphones with the same tool none is turned over by chance. No setting: one is no pair's other."""


def _turned_over(context: SessionContext) -> Iterator[tuple[tuple[str, int], str]]:
    """The one of many microphones, whatever they pick up, that the same tool turns over; not one of two on one part."""
    words = context.house.vocabulary
    named: dict[str, list[tuple[Placed, bool]]] = {}
    for at in acting(context):
        for one in at.insert.parameters:
            if isinstance(one.value, bool) and is_source(context, at.channel) and is_polarity(one.name, words):
                named.setdefault(fold_name(at.insert.name, separators=True), []).append((at, one.value))
    for several in named.values():
        turned = [at for at, over in several if over]
        if len(turned) != 1 or len(several) <= FEWEST_SPOTS:
            continue
        (at,) = turned
        others = [other for other, _ in several if other is not at]
        role = context.role(at.channel.id)
        if not any(
            pair_kind(at.channel.name, other.channel.name, words) == "microphones"
            or (role not in BUILT and role == context.role(other.channel.id))
            for other in others
        ):
            yield (at.channel.id, at.place), f"it turns its channel over, and none of {len(others)} others"


def _at_nought(context: SessionContext) -> Iterator[tuple[tuple[str, int], str]]:
    """The one of several tools of a name whose time is nought: all spots are delayed to a pair but one."""
    named: dict[tuple[str, str], list[tuple[Placed, Listed]]] = {}
    for at in acting(context):
        for text, one in settings_of(context, at.insert).items():
            if one.unit in ("ms", "s") and not settings_move(at.channel, at.place) and at.channel.kind == "track":
                named.setdefault((fold_name(at.insert.name, separators=True), text), []).append((at, one))
    for (name, text), several in named.items():
        at_none = [(at, one) for at, one in several if one.value == 0.0]
        others = [(at, one) for at, one in several if one.value != 0.0]
        if name and len(at_none) == 1 and len(others) >= context.setting(LEAST_LIKE):
            (at, one), (_, theirs) = at_none[0], others[0]
            yield (at.channel.id, at.place), apart_words(context, text, one, theirs, [other for other, _ in others[:1]])


Read = list[tuple[Placed, dict[str, Listed]]]


def _of_many(context: SessionContext, read: Read) -> Iterator[tuple[tuple[str, int], str]]:
    """Of a family of like processors those that stand apart in one setting from all the others, which agree."""
    for text in dict.fromkeys(text for _, listed in read for text in listed):
        holding = [(at, listed[text]) for at, listed in read if text in listed]
        counts: dict[float | str, list[tuple[Placed, Listed]]] = {}
        for at, one in holding:
            counts.setdefault(one.value, []).append((at, one))
        if len(counts) != 2 or len(holding) <= context.setting(LEAST_LIKE):
            continue
        (alone, several) = sorted(counts.values(), key=len)
        if len(alone) == 1 and len(several) > 1 and _apart(context, alone[0][1], several[0][1], TIMES_APART):
            at = alone[0][0]
            yield (
                (at.channel.id, at.place),
                apart_words(context, text, alone[0][1], several[0][1], [p for p, _ in several]),
            )


def _of_pairs(context: SessionContext, read: Read) -> Iterator[tuple[tuple[str, int], str]]:
    """Of the two sides of a pair the second, where they agree in all settings but one."""
    words = context.house.vocabulary
    sides: dict[str, list[tuple[Placed, dict[str, Listed]]]] = {}
    for at, listed in read:
        if side_of(at.channel.name, words) and at.insert.equalizer is None:
            sides.setdefault(name_without_side(at.channel.name, words), []).append((at, listed))
    for both in sides.values():
        if len(both) != 2 or both[0][0].channel.id == both[1][0].channel.id:
            continue
        (first, mine), (second, theirs) = both
        apart = [text for text in mine.keys() & theirs.keys() if mine[text] != theirs[text]]
        if len(apart) == 1 and apart != ["polarity"] and mine.keys() == theirs.keys():
            (text,) = apart
            aligned = kind_of(context, first) == "utility" and _late(mine[text], theirs[text])
            if aligned or _apart(context, mine[text], theirs[text], PAIR_TIMES):
                yield (second.channel.id, second.place), apart_words(context, text, theirs[text], mine[text], [first])


LATE_MS: Final = 2.0
"""The two sides of a pair that are delayed to the others lie closer than this: no setting, it is heard at once."""


def _late(one: Listed, other: Listed) -> bool:
    """True where two delays that align a pair are too far from each other for one pair of microphones."""
    if isinstance(one.value, str) or isinstance(other.value, str):
        return False
    return one.unit == other.unit == "ms" and abs(one.value - other.value) >= LATE_MS


def apart_words(context: SessionContext, what: str, own: Listed, other: Listed, others: list[Placed]) -> str:
    names = few_text([context.name(at.channel.id) for at in others])
    mine, theirs = (
        one.value if isinstance(one.value, str) else number_text(one.value, one.unit) for one in (own, other)
    )
    return f"its {what} stands at {mine}, on {names} at {theirs}"


LIKES: Final = (LEAST_LIKE, TIMES_APART, DB_APART, PAIR_TIMES, NEAR_DB, FAR_DB, NEAR_TIMES, FAR_TIMES)


@FACTS.fact(
    "text",
    "The setting in which it stands apart from all its like, which agree: those of its name and kind on channels of "
    "one role; or none.",
    how="derived",
    settings=LIKES,
)
def setting_apart(row: Row[ChannelInsert]) -> FactValue:
    text = settings_apart(row.context).get((row.item.channel.id, row.item.place), "none")
    return FactValue(text, "derived", row.subject.where)
