"""What a form leaves out is never taken for a setting: rules on it stay open, and no row appears that was not there.

The property is the definition of a gap in DEVELOPERS.md; the sessions are the shipped example and its flawed twin.
"""

from __future__ import annotations

import json
import random
from collections.abc import Iterable
from functools import cache
from itertools import combinations
from pathlib import Path

import pytest

from mixlint.analysis.context import SessionContext
from mixlint.importers import read
from mixlint.importers.registry import IMPORTERS, STEMS, shown_by
from mixlint.review.engine import review
from mixlint.rulebook.standard import Standard, load_standard
from mixlint.session import GAP_WORDS, GAPS, Gap, Session, Unknown
from tests.facts.left_out import FORM, without

EXAMPLES = Path(__file__).resolve().parents[2] / "example_sessions"
FLAWED = "sixpenny-weathervane-flawed.session.json"
CLEAN = "sixpenny-weathervane.session.json"

Rows = dict[tuple[str, str], str]


@cache
def house() -> Standard:
    return load_standard(Path(__file__).resolve().parents[1] / "everything.toml")


@cache
def whole(name: str) -> Session:
    return read(EXAMPLES / name)


def rows(session: Session) -> dict[str, Rows]:
    """Verdict → the rows that came out with it, with what they say."""
    context = SessionContext(session, house().house)
    found: dict[str, Rows] = {}
    for one in review(context, house(), source="", digest="", everything=False).findings:
        found.setdefault(one.verdict, {})[one.rule, one.subject.id] = one.message
    return found


@cache
def flagged_when_whole(name: str) -> frozenset[tuple[str, str]]:
    return frozenset(rows(whole(name)).get("flagged", {}))


def some_subsets() -> list[tuple[Gap, ...]]:
    """Every kind alone, everything but one, everything, and forty subsets of any size, the same on every run."""
    draw = random.Random(13)
    several = [tuple(gap for gap in GAPS if draw.random() < 0.5) for _ in range(40)]
    return [*combinations(GAPS, 1), *combinations(GAPS, len(GAPS) - 1), GAPS, *filter(None, several)]


@pytest.mark.slow
@pytest.mark.parametrize("gaps", some_subsets(), ids="+".join)
def test_no_row_appears_for_what_a_form_leaves_out(gaps: tuple[Gap, ...]):
    found = rows(without(whole(FLAWED), gaps)).get("flagged", {})
    assert {key: found[key] for key in found.keys() - flagged_when_whole(FLAWED)} == {}


@pytest.mark.slow
@pytest.mark.parametrize("gap", GAPS)
def test_a_clean_session_stays_without_a_flagged_row(gap: Gap):
    assert rows(without(whole(CLEAN), [gap])).get("flagged", {}) == {}


def opened(gaps: Iterable[Gap], name: str = FLAWED) -> tuple[Rows, set[str]]:
    """The open rows, and which rules have open rows that name the form."""
    found = rows(without(whole(name), gaps))
    open_rows = found.get("open", {})
    return open_rows, {rule for (rule, _), says in open_rows.items() if FORM in says}


def test_without_processors_low_cuts_and_wet_shares_are_open():
    open_rows, named = opened(["inserts"])
    wanted = {
        "return-low-cut",
        "return-fully-wet",
        "monitor-path-clean",
        "limiter-and-dither-last",
        "part-arrives-once",
    }
    assert wanted <= named
    assert ("return-low-cut", "gtr-r-verb") in open_rows, "nothing is said of a low end that nobody has seen"


def test_low_parts_and_low_cuts_of_parts_are_open_without_processors():
    body = {
        "title": "Slate Harbour",
        "gaps": ["inserts"],
        "source": {"form": FORM},
        "channels": [
            {"id": "b", "name": "Bass", "kind": "track", "output": "m", "sends": [{"to": "r"}], "clips": [PLAYS]},
            {
                "id": "g",
                "name": "Acoustic Gtr",
                "kind": "track",
                "output": "m",
                "sends": [{"to": "r"}],
                "clips": [PLAYS],
            },
            {"id": "r", "name": "Plate Verb", "kind": "return", "output": "m"},
            {"id": "m", "name": "Mix Bus", "kind": "master", "output": None},
        ],
    }
    found = rows(Session.model_validate_json(json.dumps(body)))
    assert {"low-cut-in-place", "low-parts-stay-dry", "return-low-cut"} <= {rule for rule, _ in found["open"]}
    assert {rule for rule, _ in found.get("flagged", {})} <= {"title-and-tempo-told"}


PLAYS = {"start_s": 0.0, "end_s": 60.0, "plays": "audio"}


def test_without_pans_the_picture_is_open():
    _, named = opened(["pans"])
    assert {"pan-answered", "stereo-balanced"} <= {rule for rule, _ in opened(["pans"])[0]}
    assert "pan-answered" in named


def test_without_faders_levels_are_open_and_never_at_zero():
    open_rows, named = opened(["levels"])
    assert {"fader-in-its-range", "fader-has-room", "mix-fader-at-unity"} <= named
    assert "stereo-balanced" in {rule for rule, _ in open_rows}


def test_without_clips_nobody_says_that_a_channel_is_empty():
    assert "channel-in-use" in opened(["clips"])[1]
    assert not any("holds no clips" in says for says in rows(without(whole(FLAWED), ["clips"]))["flagged"].values())


def test_solos_and_mutes_are_open_where_a_form_has_none():
    assert "nothing-soloed" in opened(["solos"])[1]
    assert "muted-on-purpose" in opened(["mutes"])[1]


@pytest.mark.parametrize("held", ["inserts", "clips"])
@pytest.mark.parametrize("which", ["lead-vocal", "vocal-verb", "bass", "drums", "mix-bus"])
def test_one_channel_alone_may_not_be_shown(held: str, which: str):
    """What is not known of one channel makes no row appear, on it or on those beside it."""
    body = json.loads(whole(FLAWED).json_text())
    for channel in body["channels"]:
        if channel["id"] == which:
            channel.pop(held, None)
            channel["missing"] = {held: {"unknown": "the cell is empty"}}
            if held == "inserts":
                channel["automation"] = [a for a in channel.get("automation", []) if "insert" not in a["target"]]
    found = rows(Session.model_validate_json(json.dumps(body))).get("flagged", {})
    assert {key: found[key] for key in found.keys() - flagged_when_whole(FLAWED)} == {}


def test_a_gap_reads_as_unknown_and_what_is_stated_stays():
    body = {
        "gaps": ["levels", "pans", "mutes", "solos", "inserts", "clips"],
        "source": {"form": FORM},
        "channels": [{"id": "a", "name": "A", "kind": "track", "pan": 0.0, "inserts": [{"name": "Old EQ"}]}],
    }
    channel = Session.model_validate_json(json.dumps(body)).channels[0]
    assert channel.pan == 0.0, "stated, though the form leaves it out elsewhere"
    assert channel.fader_db == Unknown(unknown=f"{FORM} shows no faders", settle="look at the faders in the session")
    assert isinstance(channel.mute, Unknown)
    assert isinstance(channel.solo, Unknown)
    assert set(channel.missing) == {"clips"}


def test_a_gap_travels_through_the_neutral_form():
    poor = without(whole(FLAWED), ["inserts", "pans", "clips"])
    assert Session.model_validate_json(poor.json_text()) == poor


def test_every_form_says_what_it_carries():
    for form in (*IMPORTERS, STEMS):
        assert set(form.carries) <= set(GAPS), form.name
    assert set(GAP_WORDS) == set(GAPS)


def test_what_a_session_shows_is_what_its_form_carries_but_for_its_gaps():
    assert shown_by(whole(FLAWED)) == GAPS
    assert shown_by(without(whole(FLAWED), ["pans"])) == tuple(gap for gap in GAPS if gap != "pans")
