"""What a rule file can get wrong: each fault with its file, key, words and suggestion, all of them at once."""

from __future__ import annotations

from pathlib import Path

import pytest
from toytables import TOYS

from mixlint.errors import RulebookError
from mixlint.rulebook.faults import Faults
from mixlint.rulebook.rule import ready
from mixlint.rulebook.rule_file import read_rule_file

SOUND = """
id = "boat-afloat"
title = "Every boat floats"
area = "prep"
grade = "hold"
over = "boat"
must = { depth_db = { at_most = "limits.deepest" } }
says = "{channel} sits {depth_db} dB deep, {limits.deepest} dB at most."
remedy = "Bail {name} out."
why = "Boats that sink are lost."

[limits.deepest]
value = -6.0
unit = "dB"

[basis]
kind = "common practice"

[[example]]
name = "a sunk boat"
verdict = "flagged"
[example.session]
channels = []
"""


def faults_of(text: str, folder: Path, *, whole: bool = False) -> list[str]:
    """Every fault of a rule file, as a reader meets them."""
    path = folder / "boat-afloat.toml"
    path.write_text(text, encoding="utf-8")
    faults = Faults()
    written = read_rule_file(path, "boat-afloat.toml", faults, whole=whole)
    if written is not None:
        ready(written, TOYS, faults)
    return [str(fault) for fault in faults.found]


def test_a_sound_file_has_none(tmp_path: Path) -> None:
    assert faults_of(SOUND, tmp_path) == []
    assert faults_of(SOUND, tmp_path, whole=True) == []


def grades(to: str = "look", fact: str = "depth_db", because: str = 'because = "it lies on the ground"') -> str:
    """Two cases of a grade, the first one sound, before the table that follows."""
    sound = '[[grades]]\nto = "note"\nwhen = { depth_db = { below = -30.0 } }\nbecause = "it is no boat any more"\n'
    return f'{sound}[[grades]]\nto = "{to}"\nwhen = {{ {fact} = {{ below = -20.0 }} }}\n{because}\n\n[basis]'


MUST = 'must = { depth_db = { at_most = "limits.deepest" } }'
GOLDEN: list[tuple[str, str, str]] = [
    # what to replace, with what, the one fault that comes of it
    ('over = "boat"', 'over = "baot"', "over: there is no table baot (did you mean boat?)"),
    (
        "[basis]",
        grades(fact="depht_db"),
        "grades[1].when.depht_db: the table boat has no fact depht_db (did you mean depth_db?)",
    ),
    ("[basis]", grades(to="stop"), "grades[1].to: 'stop' cannot stand here (there are hold, look, note)"),
    ("[basis]", grades(because=""), "grades[1].because: it is missing"),
    (
        'grade = "hold"',
        'grade = "hold"\nfine_answer = "maybe"',
        "fine_answer: 'maybe' cannot stand here (there are yes, no)",
    ),
    ("depth_db = {", "depht_db = {", "must.depht_db: the table boat has no fact depht_db (did you mean depth_db?)"),
    ("depth_db = {", "zzz = {", "must.zzz: the table boat has no fact zzz (mixlint facts boat lists them)"),
    ("at_most =", "at_mots =", "must.depth_db.at_mots: there is no operator at_mots (did you mean at_most?)"),
    (
        "at_most =",
        "matches =",
        "must.depth_db.matches: matches does not fit depth_db, a number (what fits: is, is_not, at_most, at_least, "
        "below, above, between, within, one_of, known)",
    ),
    (
        '"limits.deepest" } }',
        '"limits.deepst" } }',
        "must.depth_db.at_most: no limit deepst is declared in [limits] (did you mean deepest?)",
    ),
    (
        '"limits.deepest" } }',
        '"deep" } }',
        "must.depth_db.at_most: a number is compared with a number, not with the text 'deep'",
    ),
    (
        '"limits.deepest" } }',
        "true } }",
        "must.depth_db.at_most: a number is compared with a number, not with true",
    ),
    ('"limits.deepest" } }', "nan } }", "must.depth_db.at_most: it must be a finite number"),
    (
        'unit = "dB"',
        'unit = "Hz"',
        "must.depth_db.at_most: the limit deepest is in Hz and the fact depth_db in dB",
    ),
    (
        'unit = "dB"',
        "",
        "must.depth_db.at_most: the limit deepest is without a unit and the fact depth_db in dB",
    ),
    (
        'unit = "dB"',
        'unit = "decibel"',
        "limits.deepest.unit: there is no unit decibel; there are dB, dBFS, dBTP, LUFS, LU, Hz, s, ms, %, pan, "
        "pan distance, bpm, dB/oct, cents, :1",
    ),
    (MUST, "must = {}", "must: an empty condition asks nothing"),
    (MUST, "must = { any = [] }", "must.any: any holds a list of at least one condition"),
    (MUST, "must = { depth_db = {} }", "must.depth_db: it needs an operator (for a number: is, is_not, at_most, "
     "at_least, below, above, between, within, one_of, known)"),
    (MUST, 'must = { drive = "sial" }', "must.drive: drive never says sial (did you mean sail?)"),
    (MUST, 'must = { drive = "galley" }', "must.drive: drive never says galley (there are sail, oar, steam)"),
    (MUST, 'must = { drive = { one_of = [] } }',
     "must.drive.one_of: the list is empty, so nothing can equal one of it"),
    (MUST, 'must = { drive = { one_of = "sail" } }', "must.drive.one_of: it takes a list, not the text 'sail'"),
    (MUST, 'must = { drive = { one_of = ["sail", "oars"] } }',
     "must.drive.one_of[1]: drive never says oars (did you mean oar?)"),
    (MUST, 'must = { drive = { matches = "row*" } }',
     "must.drive.matches: row* matches no word that drive can say (there are sail, oar, steam)"),
    (MUST, "must = { motto = { matches = 3 } }", "must.motto.matches: it takes a glob or a list of globs, not 3"),
    (MUST, "must = { motto = 3 }", "must.motto: text is compared with text in quotes, not with 3"),
    (MUST, 'must = { afloat = "yes" }',
     "must.afloat: a switch is compared with true or false, not with the text 'yes'"),
    (MUST, "must = { afloat = { at_most = true } }",
     "must.afloat.at_most: at_most does not fit afloat, a switch (what fits: is, is_not, known)"),
    (MUST, "must = { afloat = { known = 1 } }", "must.afloat.known: it takes true or false, not 1"),
    (MUST, "must = { depth_db = { between = [1, 2, 3] } }", "must.depth_db.between: it takes two numbers: [low, high]"),
    (MUST, "must = { depth_db = { between = [-3, -9] } }",
     "must.depth_db.between: the low end -3 lies above the high end -9"),
    (MUST, "must = { depth_db = { within = { of = 1 } } }",
     "must.depth_db.within: it takes { of = centre, by = spread }"),
    (MUST, "must = { depth_db = { within = 3 } }",
     "must.depth_db.within: it takes { of = centre, by = spread } or [centre, spread]"),
    (MUST, "must = { depth_db = { within = [1, -2] } }", "must.depth_db.within.by: the spread cannot be negative"),
    (MUST, 'must = { flags = "red" }', "must.flags: it takes a list, not the text 'red'"),
    (MUST, 'must = { flags = { some = "rde" } }', "must.flags.some: flags never says rde (did you mean red?)"),
    (MUST, "must = { flags = { some = { at_most = 1 } } }",
     "must.flags.some.at_most: at_most does not fit each member of flags, a word (what fits: is, is_not, one_of, "
     "matches)"),
    (MUST, "must = { flags = { every = {} } }",
     "must.flags.every: it needs an operator (for a word: is, is_not, one_of, matches)"),
    (MUST, 'must = { drive = { some = "sail" } }',
     "must.drive.some: some does not fit drive, a word (what fits: is, is_not, one_of, matches, known)"),
    (MUST, 'must = "depth_db below 3"', "must: it should be a table"),
    (MUST, "must = { not = 3 }", "must.not: a condition is a table, such as { fact = value }"),
    ("sits {depth_db}", "sits {depth}", "says: the table boat has no fact depth (did you mean depth_db?)"),
    ("sits {depth_db}", "sits {depth_db:.1f}",
     "says: a placeholder holds the name of a fact and nothing else (write {dry_db})"),
    ("sits {depth_db}", "sits {depth_db",
     "says: its braces do not pair (write {{ or }} for a brace in the text)"),
    ("{limits.deepest} dB at most", "{limits.depest} dB at most",
     "says: no limit depest is declared in [limits] (did you mean deepest?)"),
    ("Bail {name} out", "Bail {nmae} out", "remedy: the table boat has no fact nmae (did you mean name?)"),
    (MUST, "must = { verdict = true }",
     "must.verdict: the fact verdict of the table boat has another name now (write remark)"),
    (MUST, "must = { depth_how = true }",
     "must.depth_how: the table boat has no fact depth_how any more: it repeated depth_db.note, which only a text can "
     "name (ask for depth_db here, and write {depth_db.note} in a text)"),
    ("Bail {name} out", "Bail {verdict} out",
     "remedy: the fact verdict of the table boat has another name now (write remark)"),
    ("Bail {name} out", "Bail {verdict.note} out",
     "remedy: the fact verdict of the table boat has another name now (write remark)"),
    ("Bail {name} out", "Bail {name.why} out",
     "remedy: a text can name no why of name (write {name.note} or {name.where})"),
    ("Bail {name} out", "Bail {nmae.note} out", "remedy: the table boat has no fact nmae (did you mean name?)"),
    ("[basis]", "[margins]\nverdict = 2\n[basis]",
     "margins.verdict: the fact verdict of the table boat has another name now (write remark)"),
    (MUST, 'must = { off_centre = { at_most = "limits.far" } }\nlimits.far = { value = 3, unit = "pan" }',
     "must.off_centre.at_most: the limit far is in pan and the fact off_centre in pan distance "
     '(write unit = "pan distance")'),
    ('grade = "hold"', 'grade = "hodl"', "grade: 'hodl' cannot stand here (did you mean hold?)"),
    ('area = "prep"', 'area = "mixbus"', "area: 'mixbus' cannot stand here (did you mean mix-bus?)"),
    ('title = "Every boat floats"', "title = 3", "title: it should be text in quotes"),
    ('area = "prep"', 'area = "prep"\nfollows = "x"', "follows: it should be a list"),
    ("[basis]", "[margins]\ndepth_db = nan\n[basis]", "margins.depth_db: it should be a finite number"),
    ('title = "Every boat floats"', "", "title: it is missing"),
    ('grade = "hold"', 'grade = "hold"\nremdy = "x"', "remdy: no such key (did you mean remedy?)"),
    ('kind = "common practice"', 'kind = "common practice"\nclaus = "4"',
     "basis.claus: no such key (did you mean clause?)"),
    ('kind = "common practice"', 'kind = "publishd"',
     "basis.kind: 'publishd' cannot stand here (did you mean published?)"),
    ('value = -6.0', 'value = -6.0\nvalu = 3', "limits.deepest.valu: no such key (did you mean value?)"),
    ('id = "boat-afloat"', 'id = "boat-sunk"',
     "id: the file is called boat-afloat.toml, so the id must be boat-afloat, not boat-sunk"),
    ("[basis]", "[margins]\ndepth = 1.0\n[basis]",
     "margins.depth: the table boat has no fact depth (did you mean depth_db?)"),
    ("[basis]", "[margins]\ndrive = 1.0\n[basis]",
     "margins.drive: drive is a word; only a number can worsen by a margin"),
    ("[basis]", "[margins]\ndepth_db = 0.0\n[basis]", "margins.depth_db: a margin is more than 0"),
    ("[basis]", "[limits.widest]\nvalue = 3\n[basis]", "limits.widest: no condition and no text uses this limit"),
    ("[basis]", "[basis", "line 16: a heading has no ] at its end "
     "(write it as [limits], with quotes round what has spaces)"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("old", "new", "said"), GOLDEN, ids=[f"{n}: {new[:50]}" for n, (_, new, _) in enumerate(GOLDEN)]
)
def test_fault(old: str, new: str, said: str, tmp_path: Path) -> None:
    """One thing wrong is one fault, in these words."""
    assert SOUND.count(old) == 1
    assert faults_of(SOUND.replace(old, new), tmp_path) == [f"boat-afloat.toml: {said}"]


def test_the_examples_are_checked_when_they_are_read(tmp_path: Path) -> None:
    """A review skips the examples; whoever reads them meets their faults."""
    text = SOUND.replace('verdict = "flagged"', 'verdict = "flaged"')
    assert faults_of(text, tmp_path) == []
    assert faults_of(text, tmp_path, whole=True) == [
        "boat-afloat.toml: example[0].verdict: 'flaged' cannot stand here (did you mean flagged?)"
    ]


@pytest.mark.parametrize(
    "moved",
    ['[limits.deepest]\nvalue = -6.0\nunit = "dB"\n', '[basis]\nkind = "common practice"\n'],
)
def test_what_stands_after_the_examples_is_not_overlooked(moved: str, tmp_path: Path) -> None:
    """The examples belong at the end, yet a table behind them is read all the same."""
    assert faults_of(SOUND.replace(moved, "") + moved, tmp_path) == []


def test_a_heading_inside_a_long_text_does_not_cut_the_file(tmp_path: Path) -> None:
    """``[[example]]`` in the reason of a rule is text."""
    why = '"""\nWrite it so:\n[[example]]\n"""'
    assert faults_of(SOUND.replace('"Boats that sink are lost."', why), tmp_path) == []
    note = f'kind = "common practice"\nnote = {why}'
    assert faults_of(SOUND.replace('kind = "common practice"', note), tmp_path) == []


def test_all_faults_of_a_file_are_told_at_once(tmp_path: Path) -> None:
    """Nobody has to correct a file one run at a time."""
    text = (
        SOUND.replace("at_most =", "at_mots =").replace("{name}", "{nmae}").replace("sits {depth_db}", "sits {depth}")
    )
    assert [line.split(": ")[1] for line in faults_of(text, tmp_path)] == ["must.depth_db.at_mots", "says", "remedy"]


def test_a_file_that_is_not_text_is_told_so(tmp_path: Path) -> None:
    path = tmp_path / "boat-afloat.toml"
    path.write_bytes(b'id = "\xff"')
    faults = Faults()
    assert read_rule_file(path, "boat-afloat.toml", faults) is None
    assert read_rule_file(tmp_path / "gone.toml", "gone.toml", faults) is None
    assert [str(fault) for fault in faults.found] == [
        "boat-afloat.toml: line 1: it is not UTF-8 text: byte 6 does not belong in it "
        "(save it as UTF-8; an editor calls that its encoding)",
        "gone.toml: it cannot be read: no such file or directory (check the path)",
    ]


def test_the_error_gathers_them_under_one_heading() -> None:
    """A reader sees one heading and a line per fault, each once."""
    faults = Faults()
    file_faults = faults.of("a.toml")
    file_faults.add("says", "it is missing")
    file_faults.add("says", "it is missing")
    faults.of("b.toml").add("", "this is not TOML")
    with pytest.raises(RulebookError) as caught:
        faults.stop()
    assert str(caught.value) == (
        "the rules cannot be used: 2 faults. Correct each line below.\n"
        "  a.toml: says: it is missing\n"
        "  b.toml: this is not TOML"
    )
