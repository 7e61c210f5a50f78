"""A house's own roles in its standard and its rules: a role is also what it is like, and a misspelt one is a fault."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from mixlint.errors import RulebookError
from mixlint.facts import SessionContext
from mixlint.review.engine import judged
from mixlint.rulebook import Standard, load_standard
from mixlint.session import Channel, Clip, Session

WORDS = """
[role.hand-pan]
family = 'percussion'
may = 'sit off centre'
words = { en = 'handpan' }
[role.gang]
family = 'vocals'
words = { en = 'gang' }
"""
RULE = """
id = "ours"
title = "Ours"
area = "prep"
grade = "look"
over = "OVER"
must = MUST
says = "{channel} reads as {ROLE}."
remedy = "Change it."
why = "We say so."
[basis]
kind = "common practice"
"""


def standard(
    folder: Path, *, must: str, over: str = "source", more: str = "", role: str = "part", limits: str = ""
) -> Standard:
    (folder / "words.toml").write_text(WORDS, encoding="utf-8")
    text = RULE.replace("OVER", over).replace("MUST", must).replace("ROLE", role) + limits
    (folder / "ours.toml").write_text(text, encoding="utf-8")
    path = folder / "yard.toml"
    path.write_text(
        f'name = "yard"\ntakes = []\nrules = ["ours.toml"]\nwords = ["words.toml"]\n{more}', encoding="utf-8"
    )
    return load_standard(path)


def song(*names: str) -> Session:
    parts = (
        Channel(id=n, name=n, kind="track", output="mix", clips=(Clip(start_s=0.0, end_s=9.0),), legs=1) for n in names
    )
    mix = Channel(id="mix", name="Mix", kind="master", output=None, legs=2)
    return Session(channels=(*parts, mix))


def flagged(found: Standard, session: Session) -> set[str]:
    findings = judged(SessionContext(session, found.house), found.rules["ours"])
    return {one.subject.name for one in findings if one.verdict == "flagged"}


@pytest.mark.parametrize(
    ("must", "holds"),
    [
        ('{ part = "percussion" }', {"Handpan", "Conga"}),
        ('{ part = "hand-pan" }', {"Handpan"}),
        ('{ part = { is_not = "percussion" } }', {"Gang", "Vocal", "Bass"}),
        ('{ part = { is_not = "hand-pan" } }', {"Conga", "Gang", "Vocal", "Bass"}),
        ('{ part = { one_of = ["percussion", "vocal"] } }', {"Handpan", "Conga", "Gang", "Vocal"}),
        ('{ part = { one_of = ["hand-pan", "bass"] } }', {"Handpan", "Bass"}),
        ('{ part = { matches = "perc*" } }', {"Handpan", "Conga"}),
        ('{ part = { matches = ["hand-*", "ga*"] } }', {"Handpan", "Gang"}),
        ('{ role = "percussion", part_family = "percussion" }', {"Handpan", "Conga"}),
        ('{ not = { part = "hand-pan" }, part = "percussion" }', {"Conga"}),
        ('{ house_lets = { some = { is = "sit-off-centre" } } }', {"Handpan"}),
        ('{ part = "limits.kind" }', {"Handpan", "Conga"}),
    ],
)
def test_a_role_of_the_house_is_also_what_it_is_like(tmp_path: Path, must: str, holds: set[str]) -> None:
    """A second voice keeps ``Vocal`` from being read as the leading one."""
    names = ("Handpan", "Conga", "Gang", "Vocal", "Bass")
    found = standard(tmp_path, must=must, limits='[limits.kind]\nvalue = "percussion"\n' if "limits" in must else "")
    session = song(*names, "Vocal 2")
    assert set(names) - flagged(found, session) == holds


@pytest.mark.parametrize(
    ("must", "holds"),
    [
        ('{ carried_roles = { every = { is = "percussion" } } }', True),
        ('{ carried_roles = { some = { is = "hand-pan" } } }', True),
        ('{ carried_roles = { none = { is = "percussion" } } }', False),
        ('{ carried_roles = { none = { one_of = ["bass", "hand-pan"] } } }', False),
        ('{ carried_roles = ["hand-pan"] }', True),
        ('{ carried_roles = ["percussion"] }', True),
        ('{ carried_roles = ["bass"] }', False),
        ('{ carried_roles = { is_not = ["percussion"] } }', False),
        ('{ carried_families = ["percussion"] }', True),
    ],
)
def test_lists_of_roles_know_them_by_both_words(tmp_path: Path, must: str, holds: bool) -> None:
    found = standard(tmp_path, must=must, over="channel", role="carried_roles")
    group = Channel(id="g", name="Group", kind="group", output="mix", legs=2)
    session = song("Handpan")
    part, mix = session.channels
    session = Session(channels=(part.model_copy(update={"output": "g"}), group, mix))
    assert ("Group" not in flagged(found, session)) == holds


@pytest.mark.parametrize(
    ("must", "said"),
    [
        ('{ part = "hand-pam" }', "ours.toml: must.part: part never says hand-pam (did you mean hand-pan?)"),
        (
            '{ role = { one_of = ["gong"] } }',
            "ours.toml: must.role.one_of[0]: role never says gong (did you mean gang?)",
        ),
        ('{ part_family = "hand-pan" }', "ours.toml: must.part_family: part_family never says hand-pan"),
        ('{ part = { matches = "hant-*" } }', "ours.toml: must.part.matches: hant-* matches no word that part can say"),
        ('{ named_side = "hand-pan" }', "ours.toml: must.named_side: named_side never says hand-pan"),
    ],
)
def test_a_misspelt_role_is_a_fault_with_a_suggestion(tmp_path: Path, must: str, said: str) -> None:
    with pytest.raises(RulebookError) as caught:
        standard(tmp_path, must=must)
    (fault,) = caught.value.faults
    assert said in str(fault).replace(f"{tmp_path}/", "")


def test_the_table_of_names_takes_roles_of_the_house_and_of_what_it_builds_on(tmp_path: Path) -> None:
    found = standard(tmp_path, must='{ part = "percussion" }', more='[roles]\n"Marigold*" = "hand-pan"\n')
    assert flagged(found, song("Marigold 2", "Bass")) == {"Bass"}
    near = tmp_path / "near.toml"
    near.write_text('name = "near"\nbuilds_on = "yard.toml"\n[roles]\n"Pan*" = "hand-pan"\n', encoding="utf-8")
    assert load_standard(near).house.roles == {"Pan*": "hand-pan", "Marigold*": "hand-pan"}
    near.write_text('name = "near"\nbuilds_on = "yard.toml"\n[roles]\n"Pan*" = "hand-pam"\n', encoding="utf-8")
    with pytest.raises(RulebookError, match=r"1 fault|one fault") as caught:
        load_standard(near)
    assert "there is no role hand-pam (did you mean hand-pan?)" in str(caught.value.faults[0])


def test_without_its_words_a_rule_cannot_speak_of_a_role(tmp_path: Path) -> None:
    standard(tmp_path, must='{ part = "hand-pan" }')
    (tmp_path / "yard.toml").write_text('name = "yard"\ntakes = []\nrules = ["ours.toml"]', encoding="utf-8")
    with pytest.raises(RulebookError, match="one fault"):
        load_standard(tmp_path / "yard.toml")


def test_the_example_of_a_rule_knows_the_roles_of_its_house(tmp_path: Path) -> None:
    """By its words, and in the table of names that an example may carry."""
    from mixlint.review.examples import broken_promise

    found = standard(tmp_path, must='{ part = "hand-pan" }')
    text = (tmp_path / "ours.toml").read_text(encoding="utf-8")
    for name, house in (("Handpan", ""), ("Lily", 'roles = { "Lily" = "hand-pan" }')):
        example = (
            f'[[example]]\nname = "one"\nverdict = "clear"\nsubject = "{name}"\n[example.house]\n{house}\n'
            f'[example.session]\nchannels = [{{ name = "{name}", kind = "track", output = "Mix", clips = '
            '[{ start_s = 0.0, end_s = 9.0 }] }, { name = "Mix", kind = "master", output = false }]\n'
        )
        (tmp_path / "ours.toml").write_text(text + example, encoding="utf-8")
        found = load_standard(tmp_path / "yard.toml")
        rule = found.rules["ours"]
        (one,) = rule.examples()
        assert broken_promise(rule, one, found.house.vocabulary) == ""


def test_the_schemas_let_a_house_write_its_roles() -> None:
    import json

    from mixlint import resources

    folder = resources.folder("rules").parent / "schemas"
    body: dict[str, Any] = json.loads((folder / "standard.schema.json").read_text(encoding="utf-8"))
    check = Draft202012Validator(body)
    assert check.is_valid({"name": "yard", "roles": {"Pan*": "hand-pan"}, "words": ["words.toml"]})
    assert not check.is_valid({"name": "yard", "roles": {"Pan*": "Hand Pan"}})
    rule: dict[str, Any] = json.loads((folder / "rule.schema.json").read_text(encoding="utf-8"))
    written = {
        "id": "ours",
        "title": "Ours",
        "area": "prep",
        "grade": "look",
        "over": "source",
        "must": {"part": {"one_of": ["hand-pan"]}},
        "says": "It.",
        "remedy": "Do.",
        "why": "So.",
        "basis": {"kind": "common practice"},
    }
    assert Draft202012Validator(rule).is_valid(written)
    assert not Draft202012Validator(rule).is_valid({**written, "must": {"part_family": "hand-pan"}})
