"""Two people, one repository of sessions, real git: from the first export to an approval and what comes after."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from tests.importers.exporters import STYLES
from tests.teamwork.repository import Person, export, shared, song

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(shutil.which("git") is None, reason="git is not installed"),
]

SESSION = "tarn.dawproject"
SIGNED = "tarn.signed.txt"
RULE = """id = "bass-below-unity"
title = "The bass stands well below unity"
area = "levels"
grade = "hold"
over = "channel"
when = { name = "Bass" }
must = { fader_db = { at_most = -12.0 } }
says = "{channel} stands at {fader_db} dB."
remedy = "Bring it down."
why = "This house mixes from the bass up and keeps it low, so that the mix bus has room to the end of the song."
basis = { kind = "common practice" }
"""
STANDARD = 'name = "tarn-house"\nbuilds_on = "pre-bounce"\nrules = ["bass-below-unity.toml"]\n'


@pytest.fixture
def people(tmp_path: Path) -> tuple[Person, Person]:
    """Ria and Tom, both with the song in their clones, and the job that both run."""
    ria, tom = shared(tmp_path, "ria", "tom")
    export(ria.home / SESSION, song())
    ria.commit("First mix")
    ria.push()
    tom.pull()
    return ria, tom


def job(who: Person, *more: str) -> tuple[int, dict]:
    """What continuous integration runs: exit status and report."""
    run = who.mixlint("review", ".", "--as", "json", "--no-audio", *more)
    assert run.stderr == "", run.stderr
    return run.returncode, json.loads(run.stdout)


def flagged(report: dict) -> list[tuple[str, str]]:
    return [
        (f["rule"], f["subject"]["name"])
        for s in report["sessions"]
        for f in s["findings"]
        if f["verdict"] == "flagged" and f["grade"] == "hold"
    ]


def test_a_solo_left_on_fails_with_the_channel_named(people: tuple[Person, Person]) -> None:
    """Exit 0 before; after Tom's push exit 1, the channel named in every form that a job may read."""
    ria, tom = people
    assert job(ria)[0] == 0
    export(tom.home / SESSION, song(bass={"solo": True}))
    tom.commit("Bass louder")
    tom.push()
    assert ria.pull().returncode == 0
    status, report = job(ria)
    assert (status, flagged(report)) == (1, [("nothing-soloed", "Bass")])
    for form in ("line", "sarif", "junit", "text"):
        run = ria.mixlint("review", SESSION, "--as", form, "--no-audio")
        assert run.returncode == 1
        assert "Bass is soloed." in run.stdout


def test_a_sign_off_shows_in_the_diff_as_one_line(people: tuple[Person, Person]) -> None:
    """It is one line added under its heading, the session is not touched, and Tom's job passes with it."""
    ria, tom = people
    export(ria.home / SESSION, song(bass={"solo": True}))
    ria.commit("Bass alone for the break")
    before = (ria.home / SESSION).read_bytes()
    run = ria.mixlint("sign", SESSION, "nothing-soloed", "--because", "client wish", "--by", "RM", "--no-audio")
    assert run.returncode == 0, run.stderr
    ria.commit("Sign the solo off")
    assert (ria.home / SESSION).read_bytes() == before
    shown = ria.git("show", "--format=", "--unified=0", "HEAD").stdout.splitlines()
    added = [one[1:] for one in shown if one.startswith("+sign ")]
    assert len(added) == 1
    assert added[0].startswith('sign nothing-soloed channel "Bass" because "client wish" by RM on ')
    ria.push()
    assert tom.pull().returncode == 0
    status, report = job(tom)
    assert (status, flagged(report)) == (0, [])
    (signed,) = [f for f in report["sessions"][0]["findings"] if f["verdict"] == "signed"]
    assert (signed["subject"]["name"], signed["signature"]["by"]) == ("Bass", ["RM"])
    text = tom.mixlint("review", SESSION, "--no-audio").stdout
    assert "signed off, and would hold the bounce" in text
    # Signed anew for another reason, it is one line changed.
    tom.mixlint("sign", SESSION, "nothing-soloed", "--because", "style", "--by", "RM", "--no-audio")
    numbers = tom.git("diff", "--numstat").stdout.split()
    assert numbers == ["1", "1", SIGNED]


def house(who: Person) -> None:
    """A house standard with a rule that rests on a fader."""
    (who.home / "bass-below-unity.toml").write_text(RULE, encoding="utf-8")
    (who.home / "mixlint-standard.toml").write_text(STANDARD, encoding="utf-8")


def test_a_sign_off_lapses_when_the_fader_it_rests_on_moves(people: tuple[Person, Person]) -> None:
    """1.5 dB is within the margin of 2; 3 dB is not, and the report says what moved."""
    ria, tom = people
    house(ria)
    assert job(ria)[0] == 1
    assert ria.mixlint("sign", SESSION, "bass-below-unity", "--because", "style", "--by", "RM").returncode == 0
    ria.commit("House standard, and the bass signed off")
    ria.push()
    tom.pull()
    for moved, status in ((-4.5, 0), (-3.0, 1)):
        export(tom.home / SESSION, song(bass={"fader_db": moved}))
        assert job(tom)[0] == status, moved
    tom.commit("Bass up by 3 dB")
    tom.push()
    ria.pull()
    status, report = job(ria)
    assert (status, flagged(report)) == (1, [("bass-below-unity", "Bass")])
    (lapsed,) = report["sessions"][0]["signing"]["lapsed"]
    assert lapsed["why"] == "fader db was −6 dB when it was signed, and is −3 dB now"
    assert "fader db was −6 dB when it was signed" in ria.mixlint("review", SESSION, "--no-audio").stdout


@pytest.mark.parametrize("style", STYLES, ids=lambda style: style.name)
def test_another_exporters_style_changes_nothing(style, people: tuple[Person, Person]) -> None:
    """Approved, signed and answered in one style; exported again in another, every line still holds."""
    ria, tom = people
    wide = {"vox": {"pan": -40.0}} if style.pan == "-1..1 no range" else {}  # this style is told by a pan to one side
    mix = song(bass={"solo": True}, **wide)
    export(ria.home / SESSION, mix)
    house(ria)
    for rule in ("nothing-soloed", "bass-below-unity"):
        run = ria.mixlint("sign", SESSION, rule, "--because", "client wish", "--by", "RM", "--no-audio")
        assert run.returncode == 0, run.stderr
    run = ria.mixlint(
        "sign", SESSION, "return-fully-wet", "--answer", "yes", "--because", "heard it alone", "--by", "RM"
    )
    assert run.returncode == 0, run.stderr
    assert ria.mixlint("sign", SESSION, "--approve", "--mix", "4", "--by", "RM", "--no-audio").returncode == 0
    ria.commit("Mix 4 approved")
    ria.push()
    tom.pull()
    export(tom.home / SESSION, mix, style)
    status, report = job(tom, "--everything")
    session = report["sessions"][0]
    assert (status, flagged(report)) == (0, [])
    assert session["signing"]["lapsed"] == []
    assert {f["rule"] for f in session["findings"] if f["verdict"] == "signed"} == {
        "nothing-soloed", "bass-below-unity", "return-fully-wet",
    }  # fmt: skip
    approved = [f for f in session["findings"] if f["rule"] == "as-approved"]
    assert [(f["subject"]["name"], f["verdict"]) for f in approved] == [("the approved mix", "clear")]
    said = json.loads(tom.mixlint("compare", "tarn.approved.json", SESSION, "--as", "json", "--no-audio").stdout)
    assert (said["changes"], said["unseen"]) == ([], [])
    # What an exporter leaves out altogether is a finding about the export, and no change of the mix.
    assert [f["rule"] for f in said["findings"]] == ([] if style.outputs else ["export-complete"])


def test_a_change_after_the_approval_is_told(people: tuple[Person, Person]) -> None:
    """As a look, and as a hold under the strict standard for continuous integration."""
    ria, tom = people
    assert ria.mixlint("sign", SESSION, "--approve", "--mix", "4", "--by", "RM", "--no-audio").returncode == 0
    ria.commit("Mix 4 approved")
    ria.push()
    tom.pull()
    export(tom.home / SESSION, song(vox={"fader_db": 0.0}))
    status, report = job(tom, "--area", "handover")
    found = [f for f in report["sessions"][0]["findings"] if f["rule"] == "as-approved"]
    assert status == 0
    assert [f["message"].split(" since ")[0] for f in found] == ["Lead Vocal: fader 3 dB up, from −3 dB to 0 dB"]
    status, report = job(tom, "--standard", "strict-ci", "--area", "handover")
    assert (status, flagged(report)) == (1, [("as-approved", "Lead Vocal: level")])
    assert tom.mixlint("sign", SESSION, "--approve", "--mix", "5", "--by", "TK", "--no-audio").returncode == 0
    assert job(tom, "--standard", "strict-ci", "--area", "handover")[0] == 0


def test_two_sign_offs_of_two_areas_merge_by_themselves(people: tuple[Person, Person]) -> None:
    """Three-way, without a word from anybody; both are read afterwards."""
    ria, tom = people
    start = song(bass={"solo": True, "mute": True})
    export(ria.home / SESSION, start)
    house(ria)
    ria.mixlint("sign", SESSION, "muted-on-purpose", "--because", "later", "--by", "RM", "--no-audio")
    ria.commit("House standard")
    ria.push()
    tom.pull()
    ria.mixlint("sign", SESSION, "nothing-soloed", "--because", "later", "--by", "RM", "--no-audio")
    ria.commit("Sign the solo")
    ria.push()
    tom.mixlint("sign", SESSION, "bass-below-unity", "--because", "style", "--by", "TK", "--no-audio")
    tom.commit("Sign the bass")
    merged = tom.pull()
    assert merged.returncode == 0, merged.stdout + merged.stderr
    lines = [one.split(" ")[1] for one in (tom.home / SIGNED).read_text("utf-8").splitlines() if one[:1] == "s"]
    assert lines == ["muted-on-purpose", "nothing-soloed", "bass-below-unity"]
    assert job(tom)[0] == 0


@pytest.mark.parametrize("union", [True, False])
def test_two_sign_offs_in_one_place(union: bool, people: tuple[Person, Person]) -> None:
    """Git's own union merge keeps both lines; without it git stops, and mixlint names the line of the conflict."""
    ria, tom = people
    export(ria.home / SESSION, song(bass={"solo": True}, kick={"solo": True}))
    if union:
        (ria.home / ".gitattributes").write_text("*.signed.txt merge=union\n", encoding="utf-8")
    for name in ("Kick", "Bass"):
        ria.mixlint("sign", SESSION, "nothing-soloed", "--on", name, "--because", "x", "--by", "ZZ", "--no-audio")
    for name in ("Kick", "Bass"):
        ria.mixlint("sign", SESSION, "nothing-soloed", "--on", name, "--withdraw", "--by", "ZZ")
    ria.commit("A file with headings only")
    ria.push()
    tom.pull()
    for who, name, by in ((ria, "Kick", "RM"), (tom, "Bass", "TK")):
        who.mixlint("sign", SESSION, "nothing-soloed", "--on", name, "--because", "later", "--by", by, "--no-audio")
        who.commit(f"Sign {name}")
    ria.push()
    merged = tom.pull()
    if union:
        assert merged.returncode == 0, merged.stdout + merged.stderr
        assert job(tom)[0] == 0
        return
    assert merged.returncode == 1
    run = tom.mixlint("review", SESSION, "--no-audio")
    assert run.returncode == 2
    assert "a merge conflict is left in the file" in run.stderr
    assert f"{SIGNED}, line " in run.stderr


def test_two_people_on_one_row_count_as_two(people: tuple[Person, Person]) -> None:
    """A rule that needs two: each signs in their own clone, and after the merge the row is signed."""
    ria, tom = people
    export(ria.home / SESSION, song(bass={"solo": True}))
    standard = 'name = "tarn-house"\nbuilds_on = "pre-bounce"\n[may_sign]\nnothing-soloed = "two"\n'
    (ria.home / "mixlint-standard.toml").write_text(standard, encoding="utf-8")
    (ria.home / ".gitattributes").write_text("*.signed.txt merge=union\n", encoding="utf-8")
    ria.commit("Two for a solo")
    ria.push()
    tom.pull()
    for who, by in ((ria, "RM"), (tom, "TK")):
        run = who.mixlint("sign", SESSION, "nothing-soloed", "--because", "client wish", "--by", by, "--no-audio")
        assert "needs a second person" in run.stdout
        assert job(who)[0] == 1
        who.commit("Sign the solo")
    ria.push()
    merged = tom.pull()
    assert merged.returncode == 0, merged.stdout + merged.stderr
    status, report = job(tom)
    assert status == 0
    (signed,) = [f for f in report["sessions"][0]["findings"] if f["verdict"] == "signed"]
    assert signed["signature"]["by"] == ["RM", "TK"]


@pytest.mark.parametrize("union", [True, False])
def test_two_approvals_never_become_a_third(union: bool, people: tuple[Person, Person]) -> None:
    """Two people approve two mixes: git stops, or, made to go on, the seal is broken; both end with exit status 2."""
    ria, tom = people
    if union:
        (ria.home / ".gitattributes").write_text("*.approved.json merge=union\n", encoding="utf-8")
    ria.mixlint("sign", SESSION, "--approve", "--mix", "1", "--by", "RM", "--no-audio")
    ria.commit("Mix 1 approved")
    ria.push()
    tom.pull()
    export(ria.home / SESSION, song(bass={"fader_db": -4.0}))
    export(tom.home / SESSION, song(vox={"fader_db": -1.0}))
    for who, mix, by in ((ria, "2", "RM"), (tom, "3", "TK")):
        who.mixlint("sign", SESSION, "--approve", "--mix", mix, "--by", by, "--no-audio")
        who.git("add", "tarn.approved.json")
        who.git("commit", "-q", "-m", f"Mix {mix} approved")
    ria.push()
    tom.git("checkout", "-q", "--", SESSION)
    merged = tom.pull()
    assert (merged.returncode == 0) is union
    run = tom.mixlint("review", SESSION, "--no-audio")
    assert run.returncode == 2
    assert "tarn.approved.json" in run.stderr
    assert ("no approval" in run.stderr) or ("seal is broken" in run.stderr)


def test_a_baseline_report_in_the_repository(people: tuple[Person, Person]) -> None:
    """What was there when the team began is left out; what Tom adds fails, by its channel."""
    ria, tom = people
    export(ria.home / SESSION, song(bass={"solo": True}))
    run = ria.mixlint("review", SESSION, "--as", "json", "--out", "begun.json", "--no-audio")
    assert run.returncode == 1
    ria.commit("Where we began")
    ria.push()
    tom.pull()
    assert job(tom, "--baseline", "begun.json")[0] == 0
    export(tom.home / SESSION, song(bass={"solo": True}, kick={"solo": True}))
    status, report = job(tom, "--baseline", "begun.json")
    assert (status, flagged(report)) == (1, [("nothing-soloed", "Kick")])
    begun = json.loads((tom.home / "begun.json").read_text("utf-8"))["sessions"][0]["findings"]
    assert report["sessions"][0]["baseline"] == {"source": "begun.json", "known": len(begun)}


def test_a_projects_own_line_holds_in_every_session(people: tuple[Person, Person]) -> None:
    """Scope *project* goes into one file at the root of the repository, beside no session."""
    ria, _ = people
    for folder in ("one", "two"):
        (ria.home / folder).mkdir()
        export(ria.home / folder / "song.dawproject", song(bass={"solo": True}))
    run = ria.mixlint(
        "sign", "one/song.dawproject", "nothing-soloed", "--because", "style", "--by", "RM", "--scope", "project",
        "--no-audio",
    )  # fmt: skip
    assert run.returncode == 0, run.stderr
    assert (ria.home / "mixlint-project.signed.txt").is_file()
    status, report = job(ria)
    assert (status, len(report["sessions"])) == (0, 3)
    assert sum(s["counts"]["signed"] for s in report["sessions"]) == 2
