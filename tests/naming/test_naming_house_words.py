"""A house's own words: told when they are wrong, read where they are right, and kept to that house."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from mixlint.cli.app import app
from mixlint.errors import Fault, RulebookError
from mixlint.facts import TABLES, FactValue, SessionContext
from mixlint.naming import SHIPPED, Vocabulary, pair_kind, read_processor, read_roles, side_of, stand_opposite, stem_of
from mixlint.naming.families import role_families
from mixlint.naming.house_words import house_vocabulary
from mixlint.naming.word_files import WordFile, read_word_file
from mixlint.rulebook import Standard, load_standard
from mixlint.session import Channel, Clip, Insert, Send, Session


def written(folder: Path, text: str | bytes, name: str = "ours.toml") -> Path:
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return path


def house(folder: Path, *standards: str) -> Vocabulary:
    """The words of a chain of standards, one file each, the nearest first."""
    faults: list[Fault] = []
    layers = []
    for n, text in enumerate(standards):
        file = read_word_file(written(folder, text, f"{n}.toml"), f"{n}.toml", faults)
        assert file is not None, faults
        layers.append((file,))
    vocabulary = house_vocabulary(layers, faults)
    assert faults == []
    return vocabulary


def role(name: str, vocabulary: Vocabulary, kind: str = "track", **more: object) -> str | None:
    session = Session(channels=(Channel(id="it", name=name, kind=kind, **more),))  # type: ignore[arg-type]
    return read_roles(session, vocabulary=vocabulary)["it"].word


# Faults ---------------------------------------------------------------------------------------------------------------

FAULTS = [
    (
        "[part.kick]\nen = ''",
        "part.kick.en: there is no word in it (give at least one, or leave the line out)",
    ),
    (
        "[part.kick]\nen = ' , '",
        "part.kick.en: there is no word in it (give at least one, or leave the line out)",
    ),
    (
        "[part.kick]\nen = ['silo']",
        "part.kick.en: it should be text in quotes, with commas between the words (write [part.kick] and "
        "under it en = 'kick, kick drum')",
    ),
    (
        "[part]\nkick = 'silo'",
        "part.kick: it should be a heading with lines under it (write [part.kick] and under it en = 'kick, kick drum')",
    ),
    (
        "part = 3",
        "part: it should be a heading with lines under it (write [part.kick] and under it en = 'kick, kick drum')",
    ),
    (
        "[part.kick]",
        "part.kick: there is nothing under it (give at least one line, or leave it out)",
    ),
    (
        "[parts.kick]\nen = 'silo'",
        "parts: no such heading (did you mean part?)",
    ),
    (
        "[family]\ndrums = 'silo'",
        "family: only the word files that come with mixlint hold this (leave it out)",
    ),
    (
        "[part.kik]\nen = 'silo'",
        "part.kik: there is no part kik (did you mean kick?)",
    ),
    (
        "[part.reverb]\nen = 'silo'",
        "part.reverb: there is no part reverb (write [strip.reverb])",
    ),
    (
        "[processor.reverbs]\nen = 'silo'",
        "processor.reverbs: there is no kind of processor reverbs (did you mean reverb?)",
    ),
    (
        "[part.kick]\njp = 'silo'",
        "part.kick.jp: there is no language jp (there are en, de, fr, es, it, pt, nl, sv, no, da, pl, ru, sr, ja, "
        "cs, sk, fi, el, tr, ko, zh)",
    ),
    (
        "[category.gate]\nvst = 'silo'",
        "category.gate.vst: there is no plug-in standard vst (did you mean vst3?)",
    ),
    (
        "[part.kick]\nen = 'silo'\n[part.snare]\nen = 'churn, Silo'",
        "part.snare.en: silo stands under kick and snare, and it can be only one (leave it under one, or "
        "write it under [ambiguous.part])",
    ),
    (
        "[side.left]\nen = 'port'\n[side.right]\nen = 'port'",
        "side.right.en: port stands under left and right, and it can be only one (leave it under one)",
    ),
    (
        "[part.kick]\nen = 'silo'\n[ambiguous.part]\nsilo = 'bass, keys'",
        "ambiguous.part.silo: silo stands under [part] too (leave it in one place)",
    ),
    (
        "[ambiguous.part]\ncask = 'percusion, bass'",
        "ambiguous.part.cask: there is no role percusion (did you mean percussion?)",
    ),
    (
        "[ambiguous.parts]\ncask = 'bass'",
        "ambiguous.parts: no such heading (did you mean part?)",
    ),
    (
        "[ambiguous.part]\n'old cask' = 'bass'",
        "ambiguous.part.old cask: old cask is read as 2 words, and at most one word can stand here "
        "(write a shorter one)",
    ),
    (
        "[part.kick]\nen = '–'",
        "part.kick.en: – has no letter and no digit in it (leave it out)",
    ),
    (
        "[part.kick]\nen = 'the big old tin tub'",
        "part.kick.en: the big old tin tub is read as 5 words, and at most 4 words can stand here (write "
        "a shorter one)",
    ),
    (
        "[side.left]\nen = 'stage left'",
        "side.left.en: stage left is read as 2 words, and at most one word can stand here (write a shorter one)",
    ),
    (
        "[side-letters]\nde = 'll / r'",
        "side-letters.de: ll / r is no pair of letters (write left / right, as 'g / d')",
    ),
    (
        "[pair-words.microphones]\nen = 'a / b / c'",
        "pair-words.microphones.en: a / b / c is no pair (write one / the other, as 'top / bottom')",
    ),
    (
        "[pair-words.mics]\nen = 'a / b'",
        "pair-words.mics.en: there is no kind of pair mics (there are microphones, opposite-microphones, numbers)",
    ),
    (
        "[language]\nFinnish = 'fi'",
        "language.Finnish: Finnish is no code of a language (write its code of ISO 639, as fi or fin)",
    ),
    (
        "[part.kick]\nen = 'silo'\n[part.kick]\nde = 'silo'",
        "line 3: a heading or a key stands twice, here for the second time (write each heading once, with all "
        "that belongs to it under it)",
    ),
    (
        "[part.kick]\nen = 'silo'\nen = 'churn'\n",
        "line 3: a heading or a key stands twice, here for the second time (write each heading once, with all "
        "that belongs to it under it)",
    ),
    (
        "[part.kick\n",
        "line 1: a heading has no ] at its end (write it as [limits], with quotes round what has spaces)",
    ),
    (
        b"[part.kick]\nen = '\xff'",
        "line 2: it is not UTF-8 text: byte 18 does not belong in it "
        "(save it as UTF-8; an editor calls that its encoding)",
    ),
]


@pytest.mark.parametrize(("text", "said"), FAULTS, ids=[said for _, said in FAULTS])
def test_a_fault_names_the_file_the_key_what_is_wrong_and_what_would_be_right(
    tmp_path: Path, text: str | bytes, said: str
) -> None:
    """All of them end as mixlint's own error, with every other fault of the standard."""
    file = written(tmp_path, text, "words/ours.toml")
    standard = written(tmp_path, 'name = "yard"\nwords = ["words/*.toml"]\nleave_out = ["nothing"]', "yard.toml")
    with pytest.raises(RulebookError) as caught:
        load_standard(standard)
    faults = [str(fault) for fault in caught.value.faults]
    assert [one.removeprefix(f"{file}: ") for one in faults if one.startswith(str(file))] == [said]
    assert any("leave_out" in one for one in faults)


def test_a_file_that_is_not_there_is_told(tmp_path: Path) -> None:
    standard = written(tmp_path, 'name = "yard"\nwords = ["ours.toml", "words/*.toml"]', "yard.toml")
    with pytest.raises(RulebookError) as caught:
        load_standard(standard)
    assert [str(fault).replace(f"{tmp_path}", "") for fault in caught.value.faults] == [
        "/yard.toml: words: no file matches words/*.toml (it is looked for from )",
        "/ours.toml: it cannot be read: no such file or directory (check the path)",
    ]


def test_a_fault_ends_a_command_with_status_2_and_no_traceback(tmp_path: Path) -> None:
    written(tmp_path, "[part.kik]\nen = 'silo'")
    written(tmp_path, 'name = "yard"\nwords = ["ours.toml"]', "mixlint-standard.toml")
    session = written(
        tmp_path, Session(channels=(Channel(id="a", name="A", kind="track"),)).json_text(), "song.session.json"
    )
    result = CliRunner().invoke(app, ["review", str(session), "--no-audio"])
    assert result.exit_code == 2
    assert "ours.toml: part.kik: there is no part kik (did you mean kick?)" in " ".join(result.stderr.split())
    assert "Traceback" not in result.output


def test_a_role_in_two_families_is_a_fault() -> None:
    with pytest.raises(RulebookError, match="keys belongs to strings already"):
        role_families(WordFile("roles.toml", "", {"family": {"strings": "strings, keys", "keys": "keys"}}))


# Words ----------------------------------------------------------------------------------------------------------------

YARD = """
[part.percussion]
en = 'milk-churn, Zugrohr'
[playing.double]
en = 'echoed'
[strip.parallel]
en = 'smack'
[processor.reverb]
en = 'silo'
[category.distortion]
clap = 'larkspur-heat'
[ambiguous.part]
cask = 'drum-room, bass'
[side.left]
en = 'barnside'
[side.right]
en = 'roadside'
[pair-words.microphones]
en = 'loft / cellar'
[pair-words.opposite-microphones]
en = 'hayside / yardside'
[pair.double]
en = 'shadow'
"""


def test_a_house_adds_its_words(tmp_path: Path) -> None:
    ours = house(tmp_path, YARD)
    for name in ("Milk Churn", "milkchurn", "03_MILK-CHURN", "Milk.Churn 2", "Zugrohrs"):
        assert role(name, ours) == "percussion", name
        assert role(name, SHIPPED) is None, name
    assert role("Smack", ours, "group") == "parallel-bus"
    assert role("Cask", ours, folder=("Drums",)) == "drum-room"
    assert role("Cask", ours) is None
    assert role("Vox Echoed", ours) == "vocal-double"
    assert read_processor(Insert(name="Silo 2"), vocabulary=ours).word == "reverb"
    assert read_processor(Insert(name="X", categories=("Larkspur-Heat",)), vocabulary=ours).word == "distortion"
    assert (side_of("Gtr Barnside", ours), side_of("Gtr Roadside", ours)) == ("left", "right")
    assert stem_of("Gtr Barnside", ours) == stem_of("Gtr Roadside", ours) == "gtr"
    assert pair_kind("Gtr Barnside", "Gtr Roadside", ours) == "sides"
    assert pair_kind("Fiddle Loft", "Fiddle Cellar", ours) == "microphones"
    assert not stand_opposite("Fiddle Loft", "Fiddle Cellar", ours)
    assert pair_kind("Drum Hayside", "Drum Yardside", ours) == "microphones"
    assert stand_opposite("Drum Hayside", "Drum Yardside", ours)
    assert pair_kind("Vox", "Vox Shadow", ours) == "doubles"
    # without the house none of it is known
    assert side_of("Gtr Barnside") is None
    assert pair_kind("Fiddle Loft", "Fiddle Cellar") is None
    assert not stand_opposite("Drum Hayside", "Drum Yardside")
    assert pair_kind("Vox", "Vox Shadow") is None


def test_a_houses_words_leave_the_others_as_they_are(tmp_path: Path) -> None:
    ours = house(tmp_path, YARD)
    assert ours.channels.phrases.items() >= SHIPPED.channels.phrases.items()
    assert ours.processors.phrases.items() >= SHIPPED.processors.phrases.items()
    assert ours.sides.sides.items() >= SHIPPED.sides.sides.items()


@pytest.mark.parametrize(
    ("text", "name", "before", "now"),
    [
        ("[part.sound-effects]\nen = 'shaker'", "Shaker", "percussion", "sound-effects"),
        ("[part.keys]\nde = 'lead vox'", "Leadvox", "lead-vocal", "keys"),
        ("[part.bass]\nen = 'china'", "China", "overheads", "bass"),
        ("[ambiguous.part]\nshaker = 'sound-effects, percussion'", "Shaker", "percussion", None),
        ("[part.bass]\nen = 'flugel'", "Flügel", "keys", "bass"),
        ("[part.bass]\nen = '=flügel'", "Flügel", "keys", "bass"),
        ("[part.bass]\nen = '=flügel'", "Fluegel", "keys", "keys"),
    ],
)
def test_what_a_house_says_of_a_word_holds(tmp_path: Path, text: str, name: str, before: str, now: str | None) -> None:
    assert role(name, SHIPPED) == before
    assert role(name, house(tmp_path, text)) == now


def test_a_house_overrules_words_of_processors_and_sides(tmp_path: Path) -> None:
    ours = house(
        tmp_path, "[processor.compressor]\nen = 'plate'\n[processor.gate]\nen = 'room'\n[side.right]\nen = 'left'"
    )
    assert read_processor(Insert(name="Plate"), vocabulary=ours).word == "compressor"
    assert read_processor(Insert(name="Room"), vocabulary=ours).word == "gate"
    assert side_of("Gtr left", ours) == "right"


def test_a_houses_word_for_a_processor_is_no_mere_manner(tmp_path: Path) -> None:
    ours = house(tmp_path, "[processor.modulation]\nen = 'vintage, tape'")
    for name, before in (("Vintage", None), ("Tape", "distortion"), ("Delay Tape", "delay"), ("Tape Larkspur", None)):
        assert read_processor(Insert(name=name)).word == before
        assert read_processor(Insert(name=name), vocabulary=ours).word == "modulation"


def test_the_nearer_standard_overrules_the_farther(tmp_path: Path) -> None:
    near, far = "[part.keys]\nen = 'silo'", "[part.bass]\nen = 'silo, cask'\n[ambiguous.part]\nchurn = 'bass, keys'"
    ours = house(tmp_path, near, far)
    assert (role("Silo", ours), role("Cask", ours)) == ("keys", "bass")
    assert role("Churn", house(tmp_path, "[part.keys]\nen = 'churn'", far)) == "keys"
    assert role("Cask", house(tmp_path, "[ambiguous.part]\ncask = 'bass, keys'", far)) is None


def test_a_house_brings_a_language_with_its_side_letters(tmp_path: Path) -> None:
    """Hungarian: furulya is a recorder, bal and jobb are left and right (common practice, no source)."""
    ours = house(
        tmp_path,
        "[language]\nhu = 'Hungarian'\n[part.winds]\nhu = 'furulya'\n[side-letters]\nhu = 'b / j'\n"
        "[side.left]\nhu = 'bal'\n[side.right]\nhu = 'jobb'",
    )
    assert role("Furulya", ours) == "winds"
    assert (side_of("Furulya B", ours), side_of("Furulya J", ours), side_of("Gtr B", ours)) == ("left", "right", None)
    assert pair_kind("Furulya bal", "Furulya jobb", ours) == "sides"


def test_one_houses_words_are_not_read_in_anothers_session(tmp_path: Path) -> None:
    """Whatever was read before, and in whatever order: readings are remembered by name and by vocabulary."""
    one = house(tmp_path, "[part.bass]\nen = 'silo'\n[processor.gate]\nen = 'silo'\n[side.left]\nen = 'yonder'")
    two = house(tmp_path, "[part.keys]\nen = 'silo'\n[processor.delay]\nen = 'silo'\n[side.right]\nen = 'yonder'")
    for _ in range(2):
        for vocabulary, expected in (
            (one, ("bass", "gate", "left", "gtr")),
            (SHIPPED, (None, None, None, "gtr yonder")),
            (two, ("keys", "delay", "right", "gtr")),
        ):
            assert (
                role("Silo", vocabulary),
                read_processor(Insert(name="Silo"), vocabulary=vocabulary).word,
                side_of("Gtr Yonder", vocabulary),
                stem_of("Gtr Yonder", vocabulary),
            ) == expected


@pytest.mark.slow
def test_the_sessions_of_one_house_share_its_words(tmp_path: Path) -> None:
    """What is read once serves all of them; a changed file is another vocabulary."""
    one = standard_of(tmp_path, YARD).house.vocabulary
    assert standard_of(tmp_path, YARD).house.vocabulary is one
    assert standard_of(tmp_path, YARD.replace("silo", "tower")).house.vocabulary is not one


def test_a_house_without_words_reads_by_the_shipped_ones(tmp_path: Path) -> None:
    assert house_vocabulary([(), ()], []) is SHIPPED
    assert load_standard().house.vocabulary is SHIPPED


# From the standard to the report --------------------------------------------------------------------------------------

PLAYS: Any = {"kind": "track", "clips": (Clip(start_s=0.0, end_s=60.0),)}
BRAMBLE = Session(
    title="Bramble Court",
    channels=(
        Channel(id="a", name="Zugrohr Barnside", output="m", pan=-60.0, sends=(Send(to="r"),), **PLAYS),
        Channel(id="b", name="Zugrohr Roadside", output="m", pan=60.0, **PLAYS),
        Channel(id="r", name="Aux 1", kind="return", output="m", inserts=(Insert(name="Silo"),)),
        Channel(id="m", name="Mix Bus", kind="master", output=None),
    ),
)


def standard_of(folder: Path, words: str) -> Standard:
    written(folder, words, "words/yard.toml")
    return load_standard(written(folder, 'name = "yard"\nwords = ["words/*.toml"]', "mixlint-standard.toml"))


def test_a_session_whose_names_only_the_house_knows_is_read(tmp_path: Path) -> None:
    """Roles, processors, sides and pairs, all through the standard's house."""
    standard = standard_of(tmp_path, YARD)
    for known, ours in ((True, SessionContext(BRAMBLE, standard.house)), (False, SessionContext(BRAMBLE))):
        roles = [ours.role(c) for c in ("a", "b", "r")]
        assert roles == (["percussion", "percussion", "reverb-return"] if known else [None, None, "effect-return"])
        assert [r.word for r in ours.processors["r"]] == (["reverb"] if known else [None])
        said = [row.value("named_side") for row in TABLES["source"].rows(ours)]
        sides = [one.value for one in said if isinstance(one, FactValue)]
        assert sides == (["left", "right"] if known else ["none", "none"])


def test_the_command_reads_by_the_words_beside_the_session(tmp_path: Path) -> None:
    session = written(tmp_path, BRAMBLE.json_text(), "bramble.session.json")
    wide = {"COLUMNS": "120"}  # roles are cut where the page is narrow
    before = CliRunner().invoke(app, ["sheet", str(session)], env=wide).output
    standard_of(tmp_path, YARD)
    after = CliRunner().invoke(app, ["sheet", str(session)], env=wide).output
    assert "percussion" not in before
    assert after.count("percussion") == 2
    assert "reverb-return" in after
