"""A house's own roles on the command line, run from another folder than the one that holds session and standard."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any

import pytest
from cli_sessions import Run, session_body

from mixlint.facts import SessionContext
from mixlint.review.engine import judged
from mixlint.rulebook import load_standard
from mixlint.session import Session

TOP = Path(__file__).resolve().parents[2]
HOUSE = TOP / "example_sessions" / "house"


def track(name: str, **more: Any) -> dict[str, Any]:
    """A mono track that plays for a minute and goes to the mix."""
    clips = [{"start_s": 0.0, "end_s": 60.0, "plays": "audio"}]
    return {"id": name, "name": name, "kind": "track", "legs": 1, "output": "mix", "clips": clips, **more}


def quay(folder: Path, *channels: dict[str, Any]) -> Path:
    """A session below a copy of the example house."""
    shutil.copytree(HOUSE, folder / "yard")
    mix = {"id": "mix", "name": "Mix Bus", "kind": "master", "legs": 2, "output": None}
    path = folder / "yard" / "songs" / "quay.session.json"
    path.parent.mkdir()
    path.write_text(json.dumps(session_body(channels=[*channels, mix])), encoding="utf-8")
    return path


@pytest.fixture
def song(tmp_path: Path) -> Path:
    return quay(
        tmp_path,
        track("Marigold Main"),
        track("Trough 1", pan=70.0),
        track("Glastrog fern", pan=-20.0),
        track("Conga L", pan=-60.0),
        track("The Quay", output=None),
        track("Quay High", mute=True),
        track("Quay Low", fader_db=-200.0),
        track("Cello", output=None),
        track("Slate"),
    )


def verdicts(run: Run, session: Path, cwd: Path) -> dict[tuple[str, str], str]:
    done = run("review", session, "--as", "json", "--everything", "--no-audio", cwd=cwd)
    assert done.returncode in (0, 1), done.stderr
    body = json.loads(done.stdout)
    assert body["sessions"][0]["standard"] == "larkspur-house"
    return {(f["rule"], f["subject"]["name"]): f["verdict"] for f in body["sessions"][0]["findings"]}


def test_the_sheet_shows_the_roles_of_the_house(mixlint: Run, song: Path, tmp_path: Path) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    text = mixlint("sheet", song, cwd=elsewhere).stdout.decode()
    assert "glass-trough" in text
    rows = json.loads(mixlint("sheet", song, "--as", "json", cwd=elsewhere).stdout)["channels"]
    assert {row["name"]: row["role"] for row in rows if row["name"] != "Mix Bus"} == {
        "Marigold Main": "lead-vocal",
        "Trough 1": "glass-trough",
        "Glastrog fern": "glass-trough",
        "Conga L": "percussion",
        "The Quay": "quay-choir",
        "Quay High": "quay-choir",
        "Quay Low": "quay-choir",
        "Cello": "strings",
        "Slate": "slate",
    }


@pytest.mark.slow
def test_the_rules_hold_for_them_as_for_their_family_and_let_off_what_the_house_lets_off(
    mixlint: Run, song: Path, tmp_path: Path
) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    found = verdicts(mixlint, song, elsewhere)
    assert found["pan-answered", "Trough 1"] == "idle"
    for rule, name in (
        ("reaches-mix-bus", "The Quay"),
        ("muted-on-purpose", "Quay High"),
        ("part-not-faded-out", "Quay Low"),
    ):
        assert found[rule, name] == "idle", rule
    assert found["reaches-mix-bus", "Cello"] == "flagged"
    assert found["reaches-mix-bus", "Trough 1"] == "clear"
    assert found["guide-stays-out", "Slate"] == "flagged"
    roles = tmp_path / "yard" / "words" / "yard-roles.toml"
    text = roles.read_text(encoding="utf-8")
    roles.write_text("\n".join(line for line in text.splitlines() if not line.startswith("may")), encoding="utf-8")
    without = verdicts(mixlint, song, elsewhere)
    assert {key for key in found if (found[key], without[key]) == ("idle", "flagged")} == {
        ("reaches-mix-bus", "The Quay"),
        ("muted-on-purpose", "Quay High"),
        ("part-not-faded-out", "Quay Low"),
    }
    # What else changes is asked now and is in order: the muted choir has its way to the mix.
    assert {without[key] for key in found if found[key] != without[key]} == {"flagged", "clear"}


@pytest.mark.slow
def test_a_part_named_for_a_side_needs_no_answer_where_the_house_says_so(mixlint: Run, tmp_path: Path) -> None:
    """A percussion without a side in its name is asked by nobody; one that is called right is, but for the house."""
    path = quay(tmp_path, track("Marigold Main"), track("Trough R", pan=70.0), track("Conga R", pan=70.0))
    found = verdicts(mixlint, path, tmp_path / "yard")
    assert (found["pan-answered", "Trough R"], found["pan-answered", "Conga R"]) == ("idle", "flagged")


@pytest.mark.slow
@pytest.mark.parametrize(
    ("family", "name", "rule", "more"),
    [
        ("bass", "Zimbor", "anchors-centred", {"pan": 40.0}),
        ("backing-tracks", "Zimbor", "two-tracks-centred", {"pan": 40.0, "legs": 2, "plays": ["audio"]}),
        ("guitars", "Zimbor", "pan-answered", {"pan": 80.0}),
    ],
)
def test_what_is_let_off_is_asked_without_the_leave(
    mixlint: Run, tmp_path: Path, family: str, name: str, rule: str, more: dict[str, Any]
) -> None:
    path = quay(tmp_path, track("Marigold Main"), track(name, **more))
    roles = tmp_path / "yard" / "words" / "more.toml"
    head = f"[role.zimbor]\nfamily = '{family}'\nwords = {{ en = 'zimbor' }}\n"
    roles.write_text(head, encoding="utf-8")
    asked = verdicts(mixlint, path, tmp_path)[rule, name]
    roles.write_text(head + "may = 'sit off centre, need no counterpart'\n", encoding="utf-8")
    assert asked in ("flagged", "open")
    assert verdicts(mixlint, path, tmp_path)[rule, name] == "idle"


def test_a_fault_ends_with_2_and_names_file_key_and_cure(mixlint: Run, song: Path, tmp_path: Path) -> None:
    (tmp_path / "yard" / "words" / "more.toml").write_text(
        "[role.glass-bowl]\nfamily = 'percussions'\nwords = { en = 'silo, trough' }", encoding="utf-8"
    )
    done = mixlint("review", song, cwd=tmp_path)
    said = " ".join(done.stderr.decode().split())
    assert (done.returncode, done.stdout) == (2, b"")
    assert "more.toml: role.glass-bowl.family: there is no family percussions (did you mean percussion?)" in said
    assert "role.glass-bowl.words.en: silo stands under [strip.reverb] of" in said
    assert "trough stands under the role glass-" in said
    assert "Traceback" not in said


# A role of the house against the same word given to the shipped role it is like ---------------------------------------

EXAMPLES = TOP / "example_sessions"
LIKE = (
    ("percussion", "percussion"),
    ("bass", "bass"),
    ("guitars", "guitar"),
    ("keys", "keys"),
    ("strings", "strings"),
    ("vocals", "vocal"),
    ("synths", "synth"),
    ("winds", "winds"),
    ("speech", "speech"),
    ("drums", "drums"),
    ("sound-effects", "sound-effects"),
)


@pytest.mark.slow
@pytest.mark.parametrize(("family", "part"), LIKE)
def test_every_rule_says_of_a_role_of_the_house_what_it_says_of_the_role_it_is_like(
    tmp_path: Path, family: str, part: str
) -> None:
    """Two houses, the word under the shipped role in one and under a role of its own in the other: verdicts alike."""
    for text, name in (
        (f"[part.{part}]\nen = 'zimbor'", "shipped"),
        (f"[role.bowed-thing]\nfamily = '{family}'\nwords = {{ en = 'zimbor' }}", "own"),
    ):
        (tmp_path / f"{name}.words.toml").write_text(text, encoding="utf-8")
        (tmp_path / f"{name}.toml").write_text(f'name = "{name}"\nwords = ["{name}.words.toml"]', encoding="utf-8")
    body = json.loads((EXAMPLES / "sixpenny-weathervane-flawed.session.json").read_text(encoding="utf-8"))
    renamed = 0
    for place, channel in enumerate(c for c in body["channels"] if c["kind"] == "track" and c.get("clips")):
        if place % 3 == 0:
            side = channel["name"].rpartition(" ")[2]
            channel["name"] = f"Zimbor {side}" if side in ("L", "R") else f"Zimbor {place}"
            renamed += 1
    assert renamed >= 4
    session = Session.model_validate(body)
    said = []
    for name in ("shipped", "own"):
        standard = load_standard(tmp_path / f"{name}.toml")
        context = SessionContext(session, standard.house)
        rows = [one for rule in standard.rules.values() for one in judged(context, rule)]
        said.append([(one.rule, one.subject.id, one.verdict, one.grade) for one in rows])
        words = {reading.word for reading in context.roles.values()}
        assert ("bowed-thing" in words) == (name == "own")
    assert said[0] == said[1]
