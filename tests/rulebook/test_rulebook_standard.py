"""Standards: found, chained, and what they change."""

from __future__ import annotations

from pathlib import Path

import pytest
from toytables import TOYS

from mixlint import resources
from mixlint.errors import RulebookError
from mixlint.facts import House
from mixlint.rulebook import Standard, load_standard, shipped_standards
from mixlint.rulebook.standard import BESIDE

BOAT_RULE = """
id = "{id}"
title = "Every boat floats"
area = "{area}"
grade = "hold"
over = "boat"
{more}
must = {{ depth_db = {{ at_most = "limits.deepest" }} }}
says = "{{channel}} sits {{depth_db}} dB deep."
remedy = "Bail it out."
why = "Boats that sink are lost."
[limits.deepest]
value = -6.0
unit = "dB"
[basis]
kind = "common practice"
"""


class Quay:
    """A folder in which a house keeps its standards and rules, for a vocabulary of boats."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        for name, area in (("boat-afloat", "prep"), ("boat-dry", "levels")):
            self.rule(name, area)
        self.write("base.toml", 'name = "base"\ntakes = []\nrules = ["own/*.toml"]')

    def write(self, name: str, text: str) -> Path:
        path = self.folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
        return path

    def rule(self, name: str, area: str = "prep", more: str = "", folder: str = "own") -> None:
        self.write(f"{folder}/{name}.toml", BOAT_RULE.format(id=name, area=area, more=more))

    def load(self, text: str, name: str = "house.toml") -> Standard:
        return load_standard(self.write(name, text), tables=TOYS)

    def faults(self, text: str) -> list[str]:
        """The faults of a standard, its own path and the folder's left out."""
        with pytest.raises(RulebookError) as caught:
            self.load(text)
        return [str(fault).replace(f"{self.folder}/", "") for fault in caught.value.faults]


@pytest.fixture
def quay(tmp_path: Path) -> Quay:
    return Quay(tmp_path)


def test_the_shipped_standard_holds_every_shipped_rule_as_written() -> None:
    """``pre-bounce`` is the default; nothing in it is changed, and what it leaves out another one takes."""
    standard = load_standard()
    files = [p for p in resources.folder("rules").glob("*/*.toml") if p.parent.name not in ("standards", "words")]
    assert standard.name == "pre-bounce"
    elsewhere = {
        "file-names-portable",
        "instruments-printed",
        "low-cut-in-place",
        "mix-bus-unlimited",
        "reference-past-mix-bus",
    }
    assert {*standard.rules} == {p.stem for p in files} - elsewhere
    assert elsewhere <= {*load_standard("hand-over").rules, *load_standard("acoustic-song").rules}
    assert len(files) >= 8
    for rule in standard.rules.values():
        assert rule.grade == rule.file.grade
        assert rule.path.parent.name == rule.area
        assert {*rule.limit_from.values(), rule.grade_from} <= {"the rule"}
    assert standard.house == House()
    assert "pre-bounce" in shipped_standards()


@pytest.mark.parametrize("name", shipped_standards())
def test_a_shipped_standard_has_nothing_to_be_told(name: str) -> None:
    """The names of facts that went are read for houses alone."""
    assert load_standard(name).notices == ()


@pytest.mark.parametrize("name", shipped_standards())
def test_every_shipped_standard_loads(name: str) -> None:
    """Each can be named on its own."""
    assert load_standard(name).name == name


def test_its_own_rules_are_read_in_the_order_of_area_and_id(quay: Quay) -> None:
    assert [(r.area, r.id) for r in quay.load('name = "house"\nbuilds_on = "base.toml"').rules.values()] == [
        ("levels", "boat-dry"),
        ("prep", "boat-afloat"),
    ]


def test_changes_are_kept_with_where_they_come_from(quay: Quay) -> None:
    """The nearer standard wins, and each limit and grade can say which standard set it."""
    quay.write(
        "middle.toml",
        'name = "middle"\nbuilds_on = "base.toml"\n[grades]\nboat-afloat = "look"\nboat-dry = "note"\n'
        '[limits]\n"boat-afloat.deepest" = -9.0\nboat-dry = { deepest = -7 }\n[may_sign]\nboat-dry = "two"',
    )
    standard = quay.load(
        'name = "house"\nbuilds_on = "middle.toml"\n[grades]\nboat-dry = "hold"\n[limits.boat-afloat]\ndeepest = -12.5'
    )
    afloat, dry = standard.rules["boat-afloat"], standard.rules["boat-dry"]
    assert (afloat.grade, afloat.grade_from) == ("look", "middle")
    assert (afloat.limits["deepest"].value, afloat.limits["deepest"].unit) == (-12.5, "dB")
    assert afloat.limit_from == {"deepest": "house"}
    assert (dry.grade, dry.grade_from) == ("hold", "house")
    assert (dry.limits["deepest"].value, dry.limit_from) == (-7, {"deepest": "middle"})
    assert (afloat.may_sign, dry.may_sign) == ("anyone", "two")
    assert afloat.file.limits["deepest"].value == -6.0
    assert [link.file.name for link in standard.chain] == ["house", "middle", "base"]


@pytest.mark.parametrize(("left_out", "kept"), [("boat-dry", ["boat-afloat"]), ("prep", ["boat-dry"])])
def test_rules_and_areas_are_left_out(quay: Quay, left_out: str, kept: list[str]) -> None:
    """By id or by area; a change to a rule that is left out is still allowed."""
    text = f'name = "house"\nbuilds_on = "base.toml"\nleave_out = ["{left_out}"]\n[grades]\nboat-dry = "note"'
    assert list(quay.load(text).rules) == kept


def test_shipped_rules_can_be_taken_by_area_and_id() -> None:
    """``takes`` starts from some of the shipped rules instead of all."""
    whole = load_standard()
    some = {r.id for r in whole.rules.values() if r.area == "ambience"} | {"pan-answered"}
    assert len(some) > 2

    from tempfile import TemporaryDirectory

    with TemporaryDirectory() as folder:
        path = Path(folder) / "some.toml"
        path.write_text('name = "some"\ntakes = ["ambience", "pan-answered"]', encoding="utf-8")
        assert set(load_standard(path).rules) == some


@pytest.mark.parametrize("area", sorted({rule.area for rule in load_standard().rules.values()}))
def test_every_area_can_be_taken_alone(tmp_path: Path, area: str) -> None:
    """A shipped rule may follow one of another area: without that area there is nothing to follow."""
    path = tmp_path / "alone.toml"
    path.write_text(f'name = "alone"\ntakes = ["{area}"]', encoding="utf-8")
    assert {rule.area for rule in load_standard(path).rules.values()} == {area}


def test_settings_of_the_house_are_joined(quay: Quay) -> None:
    """Names: the nearer standard's patterns come first. Laws and intents: the nearer wins."""
    quay.write(
        "middle.toml",
        'name = "middle"\nbuilds_on = "base.toml"\n[roles]\n"vox*" = "vocal"\n"bs*" = "bass"\n[processors]\n'
        '"room*" = "reverb"\n[pan]\nmono = "linear"\nstereo = "balance"\n[intent]\nmono = true\nhard_panned = true\n'
        'parallel = ["Crush"]\ncue = ["Phones*"]',
    )
    house = quay.load(
        'name = "house"\nbuilds_on = "middle.toml"\n[roles]\n"vox lead*" = "lead-vocal"\n"bs*" = "synth"\n'
        '[pan]\nmono = "compromise"\n[intent]\nmono = false\nsingle_instrument = true\nparallel = ["Squash"]'
    ).house
    assert list(house.roles.items()) == [("vox lead*", "lead-vocal"), ("bs*", "synth"), ("vox*", "vocal")]
    assert house.processors == {"room*": "reverb"}
    assert (house.mono_pan, house.stereo_pan, house.pan_stated) == ("compromise", "balance", True)
    assert house.intents == {"single-instrument", "hard-panned"}
    assert (house.parallel, house.cue) == (("Squash", "Crush"), ("Phones*",))


def test_one_law_alone_leaves_the_other_an_assumption(quay: Quay) -> None:
    """Laws count as stated only when both are."""
    assert not quay.load('name = "house"\nbuilds_on = "base.toml"\n[pan]\nmono = "linear"').house.pan_stated


GOLDEN: list[tuple[str, list[str]]] = [
    ('[grades]\nboat-aflaot = "look"',
     ["grades.boat-aflaot: there is no rule boat-aflaot (did you mean boat-afloat?)"]),
    ('[grades]\nboat-afloat = "loook"', ["grades.boat-afloat: 'loook' cannot stand here (did you mean look?)"]),
    ("[limits]\n\"boat-afloat.deepst\" = 1.0",
     ["limits.boat-afloat.deepst: the rule boat-afloat has no limit deepst (did you mean deepest?)"]),
    ("[limits]\n\"boat-aflot.deepest\" = 1.0",
     ["limits.boat-aflot: there is no rule boat-aflot (did you mean boat-afloat?)"]),
    ("[limits]\n\"boat-afloat.deepest\" = \"deep\"",
     ["limits.boat-afloat.deepest: it takes a number, as in own/boat-afloat.toml, not text"]),
    ("[limits]\nboat-afloat = 3.0",
     ['limits.boat-afloat: a limit is named after its rule (write "boat-afloat.LIMIT" = value)']),
    ('[may_sign]\nboat-dry = "nobdy"', ["may_sign.boat-dry: 'nobdy' cannot stand here (did you mean nobody?)"]),
    ('leave_out = ["boat-dyr", "levls"]',
     ["leave_out: there is no rule or area boat-dyr (did you mean boat-dry?)",
      "leave_out: there is no rule or area levls (did you mean levels?)"]),
    ('[roles]\n"vox*" = "lead-vocals"', ["roles.vox*: there is no role lead-vocals (did you mean lead-vocal?)"]),
    ('[processors]\n"room*" = "reverbs"',
     ["processors.room*: there is no kind of processor reverbs (did you mean reverb?)"]),
    ('[pan]\nmono = "equal"', ["pan.mono: 'equal' cannot stand here (did you mean equal-power?)"]),
    ("[intent]\nsingle-instrument = true", ["intent.single-instrument: no such key (did you mean single_instrument?)"]),
    ('leaveout = ["prep"]', ["leaveout: no such key (did you mean leave_out?)"]),
    ('rules = ["mine/*.toml"]', ["rules: no file matches mine/*.toml (it is looked for from FOLDER)"]),
    ('rules = ["mine/one.toml"]', ["mine/one.toml: it cannot be read: no such file or directory (check the path)"]),
    ("[grades", ["line 3, the end of the file: a heading has no ] at its end (write it as [limits], with quotes round "
                 "what has spaces)"]),
]  # fmt: skip


@pytest.mark.parametrize(("text", "said"), GOLDEN, ids=[text[:50] for text, _ in GOLDEN])
def test_fault_of_a_standard(quay: Quay, text: str, said: list[str]) -> None:
    """Each fault names the standard's file, the key and what comes near."""
    found = quay.faults(f'name = "house"\nbuilds_on = "base.toml"\n{text}')
    wanted = [line if line.startswith("mine/one") else f"house.toml: {line}" for line in said]
    assert [line.replace(str(quay.folder), "FOLDER") for line in found] == wanted


def test_faults_of_all_files_are_told_at_once(quay: Quay) -> None:
    """A standard and the rules it brings along are looked through whole."""
    quay.rule("boat-red", more="when = { flag = 1 }", folder="own")
    quay.rule("boat-new", more='follows = ["boat-gone"]', folder="own")
    quay.write("own/boat-bad.toml", "id = ")
    found = quay.faults('name = "house"\nbuilds_on = "base.toml"\nleave_out = ["nothing"]')
    assert [line.split(": ")[:2] for line in found] == [
        ["own/boat-bad.toml", "line 1, the end of the file"],
        ["house.toml", "leave_out"],
        ["own/boat-new.toml", "follows"],
        ["own/boat-red.toml", "when.flag"],
    ]


def test_standards_in_a_ring_are_refused(quay: Quay) -> None:
    """Two standards that build on each other would never end."""
    quay.write("one.toml", 'name = "one"\nbuilds_on = "house.toml"')
    assert quay.faults('name = "house"\nbuilds_on = "one.toml"') == [
        "one.toml: builds_on: the standards build on each other in a ring: house → one → house"
    ]


def test_a_ring_further_down_names_its_own_members(quay: Quay) -> None:
    """The standard that leads into a ring is not part of it."""
    quay.write("one.toml", 'name = "one"\nbuilds_on = "two.toml"')
    quay.write("two.toml", 'name = "two"\nbuilds_on = "one.toml"')
    assert quay.faults('name = "house"\nbuilds_on = "one.toml"') == [
        "two.toml: builds_on: the standards build on each other in a ring: one → two → one"
    ]


def test_a_rule_cannot_stand_in_two_standards_of_a_chain(quay: Quay) -> None:
    """A house changes a rule it has, and does not write it again."""
    quay.rule("boat-dry", folder="mine")
    assert quay.faults('name = "house"\nbuilds_on = "base.toml"\nrules = ["mine/*.toml"]') == [
        "mine/boat-dry.toml: id: the rule boat-dry is there already, in own/boat-dry.toml "
        "(change its grade and limits in the standard, or choose another id)"
    ]


def test_a_missing_standard_is_told_with_what_there_is(quay: Quay) -> None:
    with pytest.raises(RulebookError, match=r"pre-bonce: there is no standard pre-bonce \(did you mean pre-bounce\?\)"):
        load_standard("pre-bonce")
    assert quay.faults('name = "house"\nbuilds_on = "bse.toml"')[0].startswith(
        "house.toml: builds_on: there is no standard bse.toml"
    )


def test_a_limit_that_is_no_number_is_refused_in_place(quay: Quay) -> None:
    """NaN never enters."""
    found = quay.faults('name = "house"\nbuilds_on = "base.toml"\n[limits]\n"boat-dry.deepest" = nan')
    assert found == [
        "house.toml: limits.boat-dry.deepest: it should be a finite number, text in quotes, true or false, "
        "or a list of these"
    ]


class TestFinding:
    """Which standard is in force for a session."""

    def test_beside_the_session(self, tmp_path: Path) -> None:
        (tmp_path / BESIDE).write_text('name = "house"', encoding="utf-8")
        session = tmp_path / "song.json"
        assert load_standard(None, session).name == "house"

    def test_in_a_folder_of_stems(self, tmp_path: Path) -> None:
        (tmp_path / BESIDE).write_text('name = "house"', encoding="utf-8")
        assert load_standard(None, tmp_path).name == "house"

    def test_the_nearest_above(self, tmp_path: Path) -> None:
        for folder, name in ((tmp_path, "far"), (tmp_path / "a" / "b", "near")):
            folder.mkdir(parents=True, exist_ok=True)
            (folder / BESIDE).write_text(f'name = "{name}"', encoding="utf-8")
        deep = tmp_path / "a" / "b" / "c" / "d"
        deep.mkdir(parents=True)
        assert load_standard(None, deep / "song.json").name == "near"
        assert load_standard(None, tmp_path / "a" / "song.json").name == "far"

    def test_not_above_a_repository(self, tmp_path: Path) -> None:
        """The folder that holds a repository is looked into; those above it are not."""
        (tmp_path / BESIDE).write_text('name = "far"', encoding="utf-8")
        top = tmp_path / "repository"
        (top / ".git").mkdir(parents=True)
        (top / "songs").mkdir()
        assert load_standard(None, top / "songs" / "song.json").name == "pre-bounce"
        (top / BESIDE).write_text('name = "mine"', encoding="utf-8")
        assert load_standard(None, top / "songs" / "song.json").name == "mine"

    def test_the_named_one_wins(self, tmp_path: Path) -> None:
        (tmp_path / BESIDE).write_text('name = "house"', encoding="utf-8")
        assert load_standard("pre-bounce", tmp_path / "song.json").name == "pre-bounce"

    def test_a_house_builds_on_the_shipped_checklist(self, tmp_path: Path) -> None:
        """Without saying what it builds on."""
        (tmp_path / BESIDE).write_text('name = "house"', encoding="utf-8")
        assert list(load_standard(None, tmp_path).rules) == list(load_standard().rules)
