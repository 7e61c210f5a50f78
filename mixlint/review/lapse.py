"""Whether what a sign-off rests on still stands."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from mixlint.review.findings import GRAVITY, Evidence, Finding
from mixlint.review.sign_item import SignOff, Value
from mixlint.rulebook.rule import Rule
from mixlint.units import PAN, PAN_DISTANCE, value_text

LEVELS: Final = ("dB", "dBFS", "dBTP", "LUFS", "LU")
MARGINS: Final = {**dict.fromkeys(LEVELS, 2.0), PAN: 10.0, PAN_DISTANCE: 10.0, "%": 10.0}
"""By how much a fact must move for a sign-off to lapse where its rule says nothing, by unit."""

SHARE: Final = 0.1
"""The same for units without a fixed margin (Hz, s, ms, bpm, dB/oct, :1), as a share of the value signed."""

PLAIN: Final = 0.1
"""The same for a number without a unit that is no whole number, such as a correlation."""

SOON: Final = timedelta(days=7)

_HAIR: Final = 1e-9


@dataclass(frozen=True, slots=True)
class Today:
    """What a sign-off's end and an answer's content are held against.

    Args:
        day: the day of the review.
        mix: the number of the mix, or None where it cannot be told.
        content: the hash of the mix and of its sound, ``…/…``; ``unheard`` in place of the second without audio.
    """

    day: date
    mix: int | None = None
    content: str = ""


def why_ended(item: SignOff, now: Today) -> str:
    """Why a sign-off has come to its end, or nothing."""
    what, _, number = item.until.partition(" ")
    if what == "mix":
        return f"it held until mix {number}, and this is mix {now.mix}" if (now.mix or 0) > int(number) else ""
    if what != "never" and now.day > date.fromisoformat(what):
        return f"it held until {what}"
    return ""


def why_ends_soon(item: SignOff, now: Today) -> str:
    """Why a sign-off that holds is about to end, or nothing."""
    what, _, number = item.until.partition(" ")
    if what == "mix":
        return f"it ends with this mix, mix {number}" if now.mix == int(number) else ""
    if what != "never" and date.fromisoformat(what) - now.day <= SOON:
        return f"it ends after {what}"
    return ""


def why_content_differs(item: SignOff, now: Today) -> str:
    """Why an answer no longer counts, or nothing: it counts for the very mix and sound it was given for."""
    mix, _, sound = item.content.partition("/")
    mix_now, _, sound_now = now.content.partition("/")
    if mix != mix_now:
        return "the mix has changed since it was answered"
    heard = "unheard" not in (sound, sound_now)
    return "the audio has changed since it was answered" if heard and sound != sound_now else ""


def why_lapsed(item: SignOff, finding: Finding, rule: Rule | None) -> str:
    """Why a sign-off no longer covers ``finding``, or nothing."""
    if item.grade in GRAVITY and GRAVITY[finding.grade] < GRAVITY[item.grade]:
        return f"it was signed at grade {item.grade}, and the grade is {finding.grade} now"
    margins = rule.margins if rule is not None else {}
    for evidence in finding.evidence:
        if evidence.value is None:
            continue
        name = evidence.fact
        if name not in item.rests:
            if evidence.limit is not None and item.scope == "finding":
                return f"the rule now also rests on {_words(name)}"
            continue
        limit = item.limits.get(name)
        margin = margins.get(name)
        if margin is None and limit is None and evidence.unit == "" and is_number(evidence.value):
            continue  # a count that only says that the rule applies here
        if moved(item.rests[name], evidence, limit, margin, worse_way(rule, name)):
            was, now = (value_text(one, evidence.unit) for one in (item.rests[name], evidence.value))
            return f"{_words(name)} was {was} when it was signed, and is {now} now"
    return ""


def moved(was: Value, now: Evidence, limit: Value, margin: float | None = None, way: int = 0) -> bool:
    """True when a fact has moved far enough to be another: by its margin, and not for the better.

    Args:
        was: the value then.
        now: the fact now.
        limit: the limit it was held to then; None where it had none.
        margin: by how much it must move; by its unit where not given.
        way: 1 where more is worse, −1 where less is; 0 where that cannot be told, and then only a move towards the
            limit and not beyond it is taken for the better.
    """
    value = now.value
    if isinstance(was, bool) or isinstance(value, bool) or was is None or value is None:
        return was != value
    if isinstance(was, tuple) or isinstance(value, tuple):
        return _list_moved(was, value, now.unit, margin)
    if isinstance(was, str) or isinstance(value, str):
        return _folded(str(was)) != _folded(str(value))
    step = margin if margin is not None else margin_of(was, now.unit)
    if abs(value - was) < step - _HAIR:
        return False
    if way:
        return (value - was) * way > 0
    edge = _edge(was, limit)
    if edge is None:
        return True
    towards = min(was, edge) <= value <= max(was, edge)
    return not towards  # beyond the limit it may be better or worse: then it is asked again


def margin_of(value: float, unit: str) -> float:
    """By how much a number must move to be another where its rule says nothing."""
    if unit in MARGINS:
        return MARGINS[unit]
    if unit:
        return abs(value) * SHARE or SHARE
    return 1.0 if float(value).is_integer() else PLAIN


def worse_way(rule: Rule | None, fact: str) -> int:
    """1 where more of a fact is worse under a rule, −1 where less is, 0 where its condition does not say."""
    asked = rule.file.must.get(fact) if rule is not None else None
    if not isinstance(asked, Mapping) or not asked:
        return 0
    if set(asked) <= {"at_most", "below"}:
        return 1
    return -1 if set(asked) <= {"at_least", "above"} else 0


def worse(was: float, now: float, limit: Value, way: int = 0) -> bool | None:
    """True when a flagged number went further from its limit, False when nearer; None where that cannot be told."""
    if way and was != now:
        return (now - was) * way > 0
    edge = _edge(was, limit)
    if edge is None or was == now:
        return None
    return abs(now - edge) > abs(was - edge)


def _edge(was: float, limit: Value) -> float | None:
    """The limit, or that one of two that a value lies nearer to."""
    if isinstance(limit, bool) or limit is None or isinstance(limit, str):
        return None
    if isinstance(limit, tuple):
        numbers = [float(one) for one in limit if is_number(one)]
        return min(numbers, key=lambda one: abs(one - was), default=None)
    return float(limit)


def is_number(value: object) -> bool:
    """A number, and not a switch."""
    return isinstance(value, int | float) and not isinstance(value, bool)


def _list_moved(was: Value, now: Value, unit: str, margin: float | None) -> bool:
    then, here = _listed(was), _listed(now)
    if all(is_number(one) for one in (*then, *here)):
        pairs = zip(sorted(map(float, then)), sorted(map(float, here)), strict=False)
        step = margin if margin is not None else margin_of(0.5, unit)
        return len(then) != len(here) or any(abs(a - b) >= step - _HAIR for a, b in pairs)
    return {_folded(str(one)) for one in then} != {_folded(str(one)) for one in here}


def _listed(value: Value) -> tuple[float | int | bool | str, ...]:
    if value is None:
        return ()
    return value if isinstance(value, tuple) else (value,)


def _folded(text: str) -> str:
    return " ".join(text.casefold().split())


def _words(fact: str) -> str:
    return fact.replace("_", " ")


def grounds(finding: Finding) -> tuple[dict[str, Value], dict[str, Value]]:
    """What a sign-off of one finding rests on: the value of every fact, and the limits they are held to."""
    rests: dict[str, Value] = {e.fact: e.value for e in finding.evidence if e.value is not None}
    limits: dict[str, Value] = {e.fact: e.limit for e in finding.evidence if e.value is not None and is_limit(e)}
    return rests, limits


def is_limit(evidence: Evidence) -> bool:
    """The evidence has a limit that a number can be held to."""
    limit = evidence.limit
    return is_number(evidence.value) and (is_number(limit) or isinstance(limit, tuple))


def worst_grounds(findings: Iterable[Finding]) -> tuple[dict[str, Value], dict[str, Value]]:
    """What a wider sign-off rests on: of each number with a limit the value farthest from it."""
    rests: dict[str, Value] = {}
    limits: dict[str, Value] = {}
    for finding in findings:
        for evidence in finding.evidence:
            value = evidence.value
            if not is_limit(evidence) or not isinstance(value, int | float):
                continue
            edge = _edge(value, evidence.limit) or 0.0
            before = rests.get(evidence.fact)
            if not isinstance(before, int | float) or abs(value - edge) > abs(before - edge):
                rests[evidence.fact], limits[evidence.fact] = value, evidence.limit
    return rests, limits
