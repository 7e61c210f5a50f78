"""When a sign-off ends: by its day or mix, by what it rests on getting worse, or by the mix being another."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from mixlint.facts import under_current_names
from mixlint.review.findings import GRAVITY, Finding
from mixlint.review.worsening import fact_words, is_number, moved, worse_way
from mixlint.rulebook.rule import Rule
from mixlint.session import Session
from mixlint.signoffs.line import SignOff
from mixlint.signoffs.saved_settings import settings_hash
from mixlint.units import value_text

SOON: Final = timedelta(days=7)
"""A sign-off that ends within this time is told as about to end."""

TIME_ZONES: Final = timedelta(days=1)
"""The days of two places differ by one at most: their clocks do by 26 hours (UTC+14 and UTC−12, IANA time zones)."""

UNHEARD: Final = "unheard"
"""What stands for the hash of the sound where no audio was opened."""


@dataclass(frozen=True, slots=True)
class MixState:
    """The mix under review, as far as a sign-off's end and an answer hang on it.

    Args:
        day: the day of the review.
        mix: the number of the mix, or None where it cannot be told.
        content: the hash of the mix and of its sound, ``…/…``; ``unheard`` in place of the second without audio.
        session: the session, whose saved settings are asked for; None leaves them out of account.
    """

    day: date
    mix: int | None = None
    content: str = ""
    session: Session | None = None


def is_to_come(item: SignOff, today: date) -> bool:
    """True for a line of a day that nobody has seen yet; tomorrow it may be already, in another time zone."""
    return item.on > today and item.on - today > TIME_ZONES


def days_of_change(item: SignOff) -> tuple[date, ...]:
    """The days from which on the day alone makes something else of a sign-off: it counts, is about to end, has ended.

    Args:
        item: the sign-off.
    """
    found = [item.on.toordinal() - TIME_ZONES.days]
    if item.until != "never" and not item.until.startswith("mix "):
        last = date.fromisoformat(item.until).toordinal()
        found += [last - SOON.days, last + 1]
    return tuple(date.fromordinal(min(max(one, 1), date.max.toordinal())) for one in found)


def why_ended(item: SignOff, now: MixState) -> str:
    """Why a sign-off has come to its end by its day or its mix, or nothing; the day or mix named is the last."""
    if is_to_come(item, now.day):
        return f"it is dated {item.on}, which is still to come: see to the clock it was signed by, and sign it again"
    what, _, number = item.until.partition(" ")
    if what == "mix":
        return f"it held until mix {number}, and this is mix {now.mix}" if (now.mix or 0) > int(number) else ""
    if what != "never" and now.day > date.fromisoformat(what):
        return f"it held until {what}"
    return ""


def why_ends_soon(item: SignOff, now: MixState) -> str:
    """Why a sign-off that holds is about to end, or nothing."""
    what, _, number = item.until.partition(" ")
    if what == "mix":
        return f"it ends with this mix, mix {number}" if now.mix == int(number) else ""
    if what != "never" and date.fromisoformat(what) - now.day <= SOON:
        return f"it ends after {what}"
    return ""


def why_content_differs(item: SignOff, now: MixState) -> str:
    """Why an answer no longer counts, or nothing: it counts for the very mix and sound it was given for."""
    mix, _, sound = item.content.partition("/")
    mix_now, _, sound_now = now.content.partition("/")
    if mix != mix_now:
        return "the mix has changed since it was answered"
    heard = UNHEARD not in (sound, sound_now)
    return "the audio has changed since it was answered" if heard and sound != sound_now else ""


def why_settings_differ(item: SignOff, finding: Finding, now: MixState) -> str:
    """Why a sign-off no longer covers ``finding`` because of settings that nobody reads, or nothing.

    A line that was written before such settings were looked at, and an export that saves none, tell nothing.
    """
    if not item.settings or now.session is None:
        return ""
    settings = settings_hash(now.session, finding, item.scope)
    if not settings or settings == item.settings:
        return ""
    return f"saved settings of {finding.subject.name} changed since it was signed; what changed cannot be read"


def why_lapsed(item: SignOff, finding: Finding, rule: Rule | None) -> str:
    """Why a sign-off no longer covers ``finding``, or nothing.

    Args:
        item: the sign-off.
        finding: a finding it is about, as it is now.
        rule: its rule, which gives margins and says which way is worse; None where it is not in force.
    """
    if item.grade in GRAVITY and GRAVITY[finding.grade] < GRAVITY[item.grade]:
        return f"it was signed at grade {item.grade}, and the grade is {finding.grade} now"
    margins = rule.margins if rule is not None else {}
    rests, limits = (under_current_names(item.table, values) for values in (item.rests, item.limits))
    for evidence in finding.evidence:
        if evidence.value is None:
            continue
        name = evidence.fact
        if name not in rests:
            if evidence.limit is not None and item.scope == "finding":
                return f"the rule now also rests on {fact_words(name)}"
            continue
        limit = limits.get(name)
        margin = margins.get(name)
        if margin is None and limit is None and evidence.unit == "" and is_number(evidence.value):
            continue  # a count that only says that the rule applies here
        was_, value = rests[name], evidence.value
        if item.scope != "finding" and isinstance(was_, tuple) and not isinstance(value, tuple):
            if not any(not moved(one, evidence, None) for one in was_):
                seen = " or ".join(value_text(one, evidence.unit) for one in was_)
                return (
                    f"{fact_words(name)} was {seen} when it was signed, and is {value_text(value, evidence.unit)} now"
                )
            continue
        if moved(was_, evidence, limit, margin, worse_way(rule, name)):
            was, now = (value_text(one, evidence.unit) for one in (was_, value))
            return f"{fact_words(name)} was {was} when it was signed, and is {now} now"
    return ""
