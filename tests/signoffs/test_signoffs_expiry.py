"""When a sign-off lapses: by margin, by a switch or word, by its end, by a graver grade; and when it does not."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest

from mixlint.review.findings import Evidence, Finding, SubjectRef
from mixlint.rulebook import load_standard
from mixlint.signoffs.create import grounds
from mixlint.signoffs.lapse import MixState, why_content_differs, why_ended, why_ends_soon, why_lapsed
from mixlint.signoffs.line import SignOff

DAY = date(2026, 3, 14)


def finding(*evidence: Evidence, **more: Any) -> Finding:
    body = {"rule": "r", "area": "prep", "grade": "look", "verdict": "flagged", "message": "", "fingerprint": "f"}
    return Finding(
        **{**body, "subject": SubjectRef(table="channel", id="a", name="Bass"), "evidence": evidence, **more}
    )


def fact(value: Any, unit: str = "dB", limit: Any = -40.0, name: str = "dry_db") -> Evidence:
    return Evidence(fact=name, value=value, unit=unit, limit=limit, known="declared")


def signed(found: Finding, **more: Any) -> SignOff:
    rests, limits = grounds(found)
    return SignOff("r", "channel", "Bass", "style", "RM", DAY, grade=found.grade, rests=rests, limits=limits, **more)


@pytest.mark.parametrize(
    ("was", "now", "lapses"),
    [
        (-9.5, -7.6, False),  # 1.9 dB worse
        (-9.5, -7.5, True),  # 2 dB worse: the margin
        (-9.5, -30.0, False),  # better, and still flagged
        (-9.5, -9.4999, False),  # rounding
    ],
)
def test_two_db_worse_lapses(was: float, now: float, lapses: bool) -> None:
    """The default margin for levels (common practice, no source); getting better never lapses."""
    assert bool(why_lapsed(signed(finding(fact(was))), finding(fact(now)), None)) is lapses


def test_a_fact_without_a_limit_may_move_neither_way() -> None:
    """A fader that a finding rests on, though nothing limits it."""
    for now, lapses in ((-4.5, False), (-3.0, True), (-9.0, True)):
        assert bool(why_lapsed(signed(finding(fact(-6.0, limit=None))), finding(fact(now, limit=None)), None)) is lapses


def test_a_count_that_only_says_where_the_rule_applies_may_change() -> None:
    """One more part in the song does not wake every sign-off."""
    parts = {"unit": "", "limit": None, "name": "parts"}
    assert why_lapsed(signed(finding(fact(12, **parts))), finding(fact(13, **parts)), None) == ""


def test_a_graver_grade_lapses_and_a_lighter_one_does_not() -> None:
    item = signed(finding(fact(-9.5)))
    assert "grade look, and the grade is hold" in why_lapsed(item, finding(fact(-9.5), grade="hold"), None)
    assert why_lapsed(item, finding(fact(-9.5), grade="note"), None) == ""


def test_a_rule_that_asks_for_more_lapses() -> None:
    """A fact with a limit that was not looked at when it was signed."""
    item = signed(finding(fact(-9.5)))
    assert "now also rests on tail" in why_lapsed(item, finding(fact(-9.5), fact(1.0, "s", 2.0, "tail")), None)


def test_a_reason_says_then_and_now() -> None:
    why = why_lapsed(signed(finding(fact(-9.5))), finding(fact(-3.0)), None)
    assert why == "dry db was −9.5 dB when it was signed, and is −3 dB now"


@pytest.mark.parametrize(
    ("until", "today", "mix", "ended", "soon"),
    [
        ("never", DAY, 99, False, False),
        ("2026-03-14", DAY, None, False, True),
        ("2026-03-13", DAY, None, True, True),
        ("2026-03-21", DAY, None, False, True),
        ("2026-03-22", DAY, None, False, False),
        ("mix 5", DAY, 4, False, False),
        ("mix 5", DAY, 5, False, True),
        ("mix 5", DAY, 6, True, False),
        ("mix 5", DAY, None, False, False),
    ],
)
def test_ends(until: str, today: date, mix: int | None, ended: bool, soon: bool) -> None:
    """The day named is the last one; a mix number holds for that mix; seven days ahead is soon."""
    item = replace(signed(finding(fact(-9.5))), until=until)
    assert bool(why_ended(item, MixState(today, mix))) is ended
    assert bool(why_ends_soon(item, MixState(today, mix))) is soon
    assert timedelta(days=7) == date(2026, 3, 21) - DAY


@pytest.mark.parametrize(
    ("answered", "now", "says"),
    [
        ("a/b", "a/b", ""),
        ("a/b", "c/b", "the mix has changed"),
        ("a/b", "a/c", "the audio has changed"),
        ("a/unheard", "a/c", ""),
        ("a/b", "a/unheard", ""),
    ],
)
def test_an_answer_counts_for_the_very_mix_and_sound(answered: str, now: str, says: str) -> None:
    item = replace(signed(finding(fact(-9.5))), answer="yes", content=answered)
    assert why_content_differs(item, MixState(DAY, content=now)).startswith(says)
    assert bool(why_content_differs(item, MixState(DAY, content=now))) is bool(says)


def test_what_was_within_its_limit_lapses_when_it_goes_beyond() -> None:
    """A fact that was within its limit when the row was signed lapses when it goes beyond, and not when it falls."""
    wet = load_standard("pre-bounce").rules["return-fully-wet"]  # dry_db at most −40 dB
    within = signed(finding(fact(-50.0)))
    assert why_lapsed(within, finding(fact(-60.0)), wet) == ""
    assert why_lapsed(within, finding(fact(-45.0)), wet) != ""
    assert why_lapsed(signed(finding(fact(-9.5))), finding(fact(-50.0)), wet) == ""


def test_a_sign_off_written_under_a_former_name_of_a_fact_still_holds() -> None:
    """The balance of a session was called lean_db in the first version: its sign-offs lapse by its value alone."""
    about = {"subject": SubjectRef(table="session", id="session", name="Song")}
    old = finding(fact(2.5, limit=1.5, name="lean_db"), **about)
    item = replace(signed(old), table="session", name="Song")
    now = fact(2.6, limit=1.5, name="imbalance_db")
    assert why_lapsed(item, finding(now, **about), None) == ""
    worse = finding(fact(5.5, limit=1.5, name="imbalance_db"), **about)
    assert why_lapsed(item, worse, None) == "imbalance db was 2.5 dB when it was signed, and is 5.5 dB now"
