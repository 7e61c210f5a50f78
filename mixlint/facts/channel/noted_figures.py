"""Figures that the comment of a channel notes of a setting, against that setting: a delay, a ceiling, a low cut.

A figure counts where the note names what it sets, or where a plain delay is the one thing on the channel that can be
meant by milliseconds. What is noted as about so much, or twice with different figures, tells nothing.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final, NamedTuple

from mixlint.analysis.channel_purpose import is_return
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.parameter_times import delay_ms, feedback_percent, pre_delay_ms
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.naming.comment_reading import Figure, figures_in, is_about, named_beside, says_any
from mixlint.naming.fold import as_read
from mixlint.naming.setting_reading import listed_db
from mixlint.routing import acting_inserts
from mixlint.session import FADER, Channel, Insert, Target, control_of, is_known
from mixlint.session.control import settings_move
from mixlint.units import number_text

FACTS: Facts[Channel] = Facts()

OFF_SHARE: Final = Setting(
    "noted.off_share", 5.0, "%", "A setting so far from the figure in a note, or less, is as noted.", lowest=0.0
)

LEAST_HZ: Final = 15.0
"""A smaller number without a unit beside a word for a filter is no frequency: a definition."""


class Noted(NamedTuple):
    """What a note says of one setting, and what may be meant by it.

    Args:
        what: the setting, for a reader.
        figure: the figure in the note.
        unit: the unit in which both stand.
        values: the settings of that kind on the channel.
        bound: whether the setting may be lower.
    """

    what: str
    figure: Figure
    unit: str
    values: tuple[float, ...]
    bound: bool = False


@per_session
def _settings(context: SessionContext, channel: Channel) -> dict[str, tuple[str, tuple[str, ...], tuple[float, ...]]]:
    """Word for a setting → its unit, the units in which it may be noted, and its values on the channel."""
    found: dict[str, list[float]] = {}
    kinds = context.processors[channel.id]
    for place, insert in acting_inserts(channel).items():
        if not settings_move(channel, place):
            for word, value in _of_insert(context, channel, insert, kinds[place].word):
                found.setdefault(word, []).append(value)
    fader = control_of(channel, FADER)
    if is_known(fader.now) and not fader.moves:
        found["fader-setting"] = [fader.now]
    return {word: (*_UNITS[word], tuple(values)) for word, values in found.items()}


_UNITS: Final[dict[str, tuple[str, tuple[str, ...]]]] = {
    "delay": ("ms", ("ms",)),
    "pre-delay": ("ms", ("ms", "")),
    "attack-time": ("ms", ("ms", "")),
    "release-time": ("ms", ("ms", "")),
    "ceiling": ("dB", ("dBTP", "dBFS", "dB", "")),
    "threshold": ("dB", ("dBFS", "dB", "")),
    "trim-gain": ("dB", ("dB",)),
    "fader-setting": ("dB", ("dB", "")),
    "low-cut-setting": ("Hz", ("Hz", "")),
    "high-cut-setting": ("Hz", ("Hz", "")),
    "feedback": ("%", ("%", "")),
}

_CALLED: Final[dict[str, str]] = {
    "delay": "its delay", "pre-delay": "the pre-delay", "attack-time": "the attack", "release-time": "the release",
    "ceiling": "the ceiling", "threshold": "the threshold", "trim-gain": "the gain", "fader-setting": "the fader",
    "low-cut-setting": "the low cut", "high-cut-setting": "the high cut", "feedback": "the feedback",
}  # fmt: skip
"""What a setting is called: wording."""


def _of_insert(
    context: SessionContext, channel: Channel, insert: Insert, kind: str | None
) -> Iterator[tuple[str, float]]:
    """Each setting of a processor that a note may name, with its value."""
    words = context.house.vocabulary
    # On a part a delay in time is meant by milliseconds, on a return the echo itself.
    if kind in ({"delay"} if is_return(context, channel) else {"utility", None}):
        time = delay_ms(insert, words)
        if is_known(time):
            yield "delay", time
    if kind == "reverb" and is_known(before := pre_delay_ms(insert)):
        yield "pre-delay", before
    if kind == "delay" and is_known(fed := feedback_percent(insert, words)):
        yield "feedback", fed
    if kind == "limiter" and (ceiling := listed_db(insert, "ceiling", words)) is not None:
        yield "ceiling", ceiling
    if kind == "utility" and (gain := listed_db(insert, "trim-gain", words)) is not None:
        yield "trim-gain", gain
    dynamics = insert.dynamics
    for word, value in (
        (("threshold", dynamics.threshold_db), ("attack-time", dynamics.attack_ms),
         ("release-time", dynamics.release_ms)) if dynamics else ()
    ):  # fmt: skip
        if is_known(value):
            yield word, value
    for band in insert.equalizer.bands if insert.equalizer else ():
        cut = {"high-pass": "low-cut-setting", "low-pass": "high-cut-setting"}.get(band.kind)
        if cut and band.on is True and is_known(band.freq_hz):
            yield cut, band.freq_hz


@per_session
def _noted(context: SessionContext, channel: Channel) -> tuple[Noted, ...]:
    """What the comment of a channel notes of its settings in figures, one figure for each setting."""
    words = context.house.vocabulary
    figures = figures_in(channel.comment)
    settings = _settings(context, channel) if figures else {}
    found: list[Noted] = []
    for word, (unit, units, values) in settings.items():
        named = [one for one in figures if one.unit in units and _means(one, word, context)]
        if len(named) != 1:
            continue
        bound = is_about(named[0], words)
        if not bound or word == "ceiling":
            found.append(Noted(_CALLED[word], named[0], unit, values, bound))
    if figures and len(ratios := _RATIO.findall(channel.comment)) == 1:
        set_to = tuple(
            float(insert.dynamics.ratio)
            for place, insert in acting_inserts(channel).items()
            if insert.dynamics is not None and is_known(insert.dynamics.ratio) and not settings_move(channel, place)
        )
        number = float(ratios[0].replace(",", "."))
        if set_to:
            found.append(Noted("the ratio", Figure(number, False, 1, "", "", "", f"{ratios[0]}:1"), ":1", set_to))
    return (*found, *_noted_sends(context, channel, figures))


_RATIO: Final = re.compile(r"(?<![\d:.,])(\d{1,2}(?:[.,]\d)?):1(?![\d:])")


def _means(figure: Figure, word: str, context: SessionContext) -> bool:
    """True where a figure is that of a setting, by the words beside it."""
    words = context.house.vocabulary
    if word == "delay":
        beside = f"{figure.before} {figure.after}"
        others = ("other-time", "pre-delay", "attack-time", "release-time")
        return not any(says_any(beside, other, words) for other in others)
    if word == "ceiling" and figure.unit == "dBTP":
        return True
    if not named_beside(figure, word, words):
        return False
    return not (_UNITS[word][0] == "Hz" and not figure.unit and figure.value < LEAST_HZ)


def _noted_sends(context: SessionContext, channel: Channel, figures: tuple[Figure, ...]) -> Iterator[Noted]:
    """Levels of sends that a comment notes by the name of the other channel: ``BATT at 0 dB`` on its stem."""
    for figure in figures:
        if figure.unit != "dB" or not figure.before or is_about(figure, context.house.vocabulary):
            continue
        for other in _called(context, figure.before):
            here, there = (other, channel.id) if other.id != channel.id else (channel, "")
            for source, to in ((here, there), (channel, other.id)):
                level = _level_of(source, to)
                if level is not None:
                    yield Noted(f"the send of {context.name(source.id)}", figure, "dB", (level,))


def _called(context: SessionContext, before: str) -> list[Channel]:
    """The channels by whose name words end, one small word aside."""
    words = before.split()
    ends = {" ".join(words[start:stop]) for stop in (len(words), len(words) - 1) for start in range(max(0, stop))}
    return [context.channels[one] for end in ends for one in _by_name(context).get(end, ())]


@per_session
def _by_name(context: SessionContext) -> dict[str, tuple[str, ...]]:
    """A name as it is read → the channels that bear it; longer than a letter."""
    found: dict[str, tuple[str, ...]] = {}
    for channel in context.session.channels:
        read = as_read(channel.name)
        if len(read) > 1:
            found[read] = (*found.get(read, ()), channel.id)
    return found


def _level_of(source: Channel, to: str) -> float | None:
    """The level of the one send from a channel to another that is on and stays; None where there is none."""
    places = [at for at, send in enumerate(source.sends) if to and send.to == to]
    if len(places) != 1:
        return None
    level = control_of(source, Target.send(places[0], "level"))
    return level.now if is_known(level.now) and not level.moves else None


def _differs(noted: Noted, share: float) -> bool:
    """True where none of the settings is as noted, within rounding."""
    said = noted.figure
    near = max(0.55 * 10.0**-said.decimals if noted.unit in ("dB", "ms") else 0.0, 0.01 * share * abs(said.value))
    if noted.bound:
        return min(noted.values) > said.value + near
    unsigned = noted.what in ("the ceiling", "the threshold") and not said.signed
    return not any(
        abs(value - said.value) <= near or (unsigned and abs(abs(value) - abs(said.value)) <= near)
        for value in noted.values
    )


def _how(noted: Noted) -> str:
    """How the setting nearest to a note may have slipped, for a reader."""
    said = noted.figure.value
    for value in noted.values:
        for times, text in ((10.0, "ten times as much"), (0.1, "a tenth of it"), (-1.0, "the sign is lost")):
            if said and abs(value - times * said) <= 0.01 * abs(times * said):
                return f", {text}"
        if said != value and sorted(f"{abs(value):g}") == sorted(f"{abs(said):g}") and said * value > 0:
            return ", two digits changed places"
    return ""


@FACTS.fact(
    "list",
    "Settings that its comment notes in figures and that stand otherwise, each with both figures.",
    how="derived",
    settings=(OFF_SHARE,),
)
def noted_otherwise(row: Row[Channel]) -> FactValue:
    share = row.context.setting(OFF_SHARE)
    found = tuple(
        f"{one.what} as {one.figure.text}, where it is set to {_set_to(one)}{_how(one)}"
        for one in _noted(row.context, row.item)
        if _differs(one, share)
    )
    return FactValue(found, "derived", row.subject.where)


def _set_to(noted: Noted) -> str:
    unit = "" if noted.unit == ":1" else noted.unit
    return ", ".join(number_text(value, unit) + (":1" if noted.unit == ":1" else "") for value in noted.values)
