"""Settings of a house: read in both spellings, along a chain of standards, with who set them and what is wrong."""

from __future__ import annotations

from pathlib import Path

import pytest
from toytables import BOAT, CROWDED, FAR, QUAY, SHALLOW_DB, TOYS, toy_desk

from mixlint.analysis.settings import Setting
from mixlint.errors import RulebookError
from mixlint.facts import House
from mixlint.facts.declare import Table
from mixlint.rulebook import Standard, load_standard
from mixlint.rulebook.example import example_house
from mixlint.rulebook.rule_file import Example
from mixlint.rulebook.settings import AS_SHIPPED, settings_of

RULE = """
id = "boat-afloat"
title = "Every boat floats"
area = "prep"
grade = "hold"
over = "boat"
{when}
must = {{ {must} }}
says = "{says}"
remedy = "Bail it out."
why = "Boats that sink are lost."
[basis]
kind = "common practice"
"""


class Quay:
    """A folder of standards over the vocabulary of boats, with one rule."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.rule()
        self.write("base.toml", 'name = "base"\ntakes = []\nrules = ["boat-afloat.toml"]')

    def write(self, name: str, text: str) -> Path:
        path = self.folder / name
        path.write_text(text, encoding="utf-8")
        return path

    def rule(self, must: str = "afloat = true", says: str = "{channel} sinks.", when: str = "") -> None:
        self.write("boat-afloat.toml", RULE.format(must=must, says=says, when=when))

    def load(self, text: str, name: str = "house") -> Standard:
        body = f'name = "{name}"\nbuilds_on = "base.toml"\n{text}'
        return load_standard(self.write(f"{name}.toml", body), tables=TOYS)

    def faults(self, text: str) -> list[str]:
        with pytest.raises(RulebookError) as caught:
            self.load(text)
        return [str(fault).replace(f"{self.folder}/", "") for fault in caught.value.faults]


@pytest.fixture
def quay(tmp_path: Path) -> Quay:
    return Quay(tmp_path)


@pytest.mark.parametrize(
    "written",
    [
        '[settings]\n"harbour.shallow_db" = 5.0',
        "[settings]\nharbour.shallow_db = 5",
        "[settings.harbour]\nshallow_db = 5.0",
        "settings = { harbour = { shallow_db = 5.0 } }",
    ],
)
def test_a_setting_is_written_with_its_whole_name_or_under_its_subject(quay: Quay, written: str) -> None:
    """All spellings that TOML has for it come to the same; the others stay as shipped."""
    standard = quay.load(written)
    assert standard.house.settings == {"harbour.shallow_db": 5.0}
    assert {name: (one.value, one.laid_down_by) for name, one in standard.settings.items()} == {
        "harbour.shallow_db": (5.0, "house"),
        "harbour.crowded": (8.0, AS_SHIPPED),
        "quay.far": (40.0, AS_SHIPPED),
    }


def test_without_a_word_about_it_all_is_as_shipped(quay: Quay) -> None:
    assert quay.load("").house == House()


def test_the_nearest_standard_of_a_chain_wins(quay: Quay) -> None:
    """Each setting by itself: one is set by both, one by the farther standard alone."""
    quay.load('[settings]\n"harbour.shallow_db" = 5.0\n"quay.far" = 60.0', "yard")
    near = 'name = "song"\nbuilds_on = "yard.toml"\n[settings]\n"harbour.shallow_db" = 7.0\n'
    standard = load_standard(quay.write("song.toml", near), tables=TOYS)
    assert standard.house.settings == {"harbour.shallow_db": 7.0, "quay.far": 60.0}
    assert standard.settings["harbour.shallow_db"].laid_down_by == "song"
    assert standard.settings["quay.far"].laid_down_by == "yard"


def test_two_standards_of_one_name_are_told_apart(quay: Quay) -> None:
    """A house may call its standard like the one it builds on; the nearer value still wins."""
    quay.write("base.toml", 'name = "house"\ntakes = []\nrules = ["boat-afloat.toml"]\n[settings.quay]\nfar = 60.0')
    standard = quay.load("[settings]\nharbour.crowded = 3")
    assert standard.house.settings == {"harbour.crowded": 3.0, "quay.far": 60.0}


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ('"harbour.shalow_db" = 5.0', "settings.harbour.shalow_db: there is no setting harbour.shalow_db "
         "(did you mean harbour.shallow_db?)"),
        ("harbour = { shallow = 5.0 }", "settings.harbour.shallow: there is no setting harbour.shallow "
         "(did you mean harbour.shallow_db?)"),
        ("tide = 5.0", "settings.tide: there is no setting tide "
         "(there are harbour.shallow_db, harbour.crowded, quay.far)"),
        ('"harbour.shallow_db" = "5"', "settings.harbour.shallow_db: it takes a finite number (in dB)"),
        ('"harbour.shallow_db" = true', "settings.harbour.shallow_db: it takes a finite number (in dB)"),
        ('"harbour.shallow_db" = nan', "settings.harbour.shallow_db: it takes a finite number (in dB)"),
        ('"harbour.shallow_db" = inf', "settings.harbour.shallow_db: it takes a finite number (in dB)"),
        (f'"harbour.crowded" = {10**400}', "line 4: this number has 401 characters (write it with 40 at most)"),
        ('"harbour.crowded" = []', "settings.harbour.crowded: it takes a finite number"),
        ('"harbour.shallow_db" = -1', "settings.harbour.shallow_db: it takes 0 dB or more, not −1 dB"),
        ('"quay.far" = 101', "settings.quay.far: it takes 100 or less, not 101"),
        ('"quay.far" = 10\nquay = { far = 20 }', "settings.quay.far: it is set twice in this file"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told_with_key_and_cure(quay: Quay, written: str, said: str) -> None:
    assert quay.faults(f"[settings]\n{written}") == [f"house.toml: {said}"]


def test_settings_that_are_no_table_are_refused(quay: Quay) -> None:
    assert quay.faults("settings = 3") == ["house.toml: settings: it should be a table"]


def test_a_rule_rests_on_the_settings_of_every_fact_it_names(quay: Quay) -> None:
    """Facts of ``when``, of ``must`` and of the texts, each setting once; a rule that names none rests on none."""
    assert quay.load("").rules["boat-afloat"].settings == ()
    quay.rule(must="aground = false")
    assert [one.setting for one in quay.load("").rules["boat-afloat"].settings] == [SHALLOW_DB]
    quay.rule(when="when = { aground = true }")
    assert [one.setting for one in quay.load("").rules["boat-afloat"].settings] == [SHALLOW_DB]
    quay.rule(must="aground = false", says="{channel}: {remark.note}.")
    made = quay.load('[settings]\n"harbour.crowded" = 3').rules["boat-afloat"]
    assert [(one.name, one.value, one.laid_down_by) for one in made.settings] == [
        ("harbour.shallow_db", 3.0, "mixlint"),
        ("harbour.crowded", 3.0, "house"),
    ]


def test_a_rule_rests_on_the_settings_that_decide_which_rows_there_are(quay: Quay) -> None:
    """Those of the table count for every rule over it."""
    quay.write("boat-afloat.toml", RULE.format(must='quay_name = "x"', says="{channel}", when="").replace(
        'over = "boat"', 'over = "quay"'))  # fmt: skip
    assert [one.setting for one in quay.load("").rules["boat-afloat"].settings] == [FAR]


def test_the_value_in_force_reaches_the_fact() -> None:
    """A boat 4 dB deep touches the ground at 3 dB, and does not where the harbour is said to be 5 dB deep."""
    deep = toy_desk({"depth_db": 4.0})
    assert BOAT.rows(deep)[0].need("aground").value is True
    assert deep.setting(SHALLOW_DB) == 3.0
    deep = toy_desk({"depth_db": 4.0})
    deep.house = House(settings={SHALLOW_DB.name: 5.0})
    assert BOAT.rows(deep)[0].need("aground").value is False


def test_an_example_may_set_them_too() -> None:
    """As in a standard file, with its checks."""
    given = {"name": "a boat", "verdict": "clear", "session": {}}
    example = Example.model_validate({**given, "house": {"settings": {"harbour": {"shallow_db": 5.0}}}})
    assert example_house(example, "boat.toml", TOYS).settings == {"harbour.shallow_db": 5.0}
    wrong = Example.model_validate({**given, "house": {"settings": {"harbour.shallow": 5.0}}})
    with pytest.raises(RulebookError, match="did you mean harbour") as caught:
        example_house(wrong, "boat.toml", TOYS)
    assert [fault.key for fault in caught.value.faults] == ["example 'a boat'.house.settings.harbour.shallow"]


def test_no_two_settings_bear_one_name() -> None:
    """A second declaration under the name of another is a mistake of the program."""
    other = Setting("quay.far", 50.0, "pan distance", "Something else.")
    clash: Table[object] = Table("pier", "Piers.", lambda _context: (), settings=(other,))
    with pytest.raises(ValueError, match="two settings are called quay"):
        settings_of([QUAY, clash])
    assert settings_of(TOYS.values()) == {one.name: one for one in (SHALLOW_DB, CROWDED, FAR)}


@pytest.mark.parametrize(("value", "unit"), [(3.0, "decibel"), (-1.0, "dB"), (11.0, "dB")])
def test_a_setting_out_of_its_own_range_cannot_be_declared(value: float, unit: str) -> None:
    with pytest.raises(ValueError, match=r"is not a unit|lies out of"):
        Setting("harbour.tide_db", value, unit, "The tide.", lowest=0.0, highest=10.0)


def test_every_shipped_setting_says_what_it_is() -> None:
    """A subject and a name, a sentence, a basis; and a fact or table that rests on it."""
    shipped = load_standard().settings
    assert {"counterparts.least_angle", "counterparts.least_angle_ratio", "counterparts.least_together",
            "counterparts.most_level_difference_db"} <= set(shipped)  # fmt: skip
    for name, one in shipped.items():
        assert name.count(".") == 1
        assert one.setting.meaning.endswith(".")
        assert not one.setting.basis.endswith(".")
        assert one.setting.basis
        assert one.value == one.setting.value
