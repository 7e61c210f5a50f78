"""Roles that a house defines itself: told when they are wrong, read where a name has their words."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixlint.errors import Fault, RulebookError
from mixlint.naming import FAMILIES, PERMISSIONS, ROLE_FAMILIES, ROLES, SHIPPED, Vocabulary, family_of, read_roles
from mixlint.naming.families import generic_role
from mixlint.naming.house_words import house_vocabulary
from mixlint.naming.word_files import read_word_file
from mixlint.rulebook import load_standard
from mixlint.session import Channel, Session


def house(folder: Path, *standards: str) -> Vocabulary:
    """The words of a chain of standards, one file each, the nearest first."""
    faults: list[Fault] = []
    layers = []
    for n, text in enumerate(standards):
        (folder / f"{n}.toml").write_text(text, encoding="utf-8")
        file = read_word_file(folder / f"{n}.toml", f"{n}.toml", faults)
        assert file is not None, faults
        layers.append((file,))
    vocabulary = house_vocabulary(layers, faults)
    assert faults == []
    return vocabulary


def role(name: str, vocabulary: Vocabulary, kind: str = "track", **more: Any) -> str | None:
    session = Session(channels=(Channel(id="it", name=name, kind=kind, **more),))  # type: ignore[arg-type]
    return read_roles(session, vocabulary=vocabulary)["it"].word


def test_every_family_has_a_role_that_says_least_of_a_part() -> None:
    assert all(family_of(generic_role(family)) == family for family in FAMILIES)


# Faults ---------------------------------------------------------------------------------------------------------------

PAN = "[role.hand-pan]\nfamily = 'percussion'\n"
FAULTS = [
    (
        "[role.kick]\nfamily = 'drums'",
        "role.kick: kick is a role of mixlint's already, of the family drums (give it another name, or add words to "
        "that one under [part.kick])",
    ),
    (
        "[role.group]\nfamily = 'buses'",
        "role.group: group is a role of mixlint's already, of the family buses (give it another name)",
    ),
    ("[role.guitars]\nfamily = 'guitars'", "role.guitars: guitars is a family (give the role a name of its own)"),
    (
        "[role.unread]\nfamily = 'keys'",
        "role.unread: unread is what is said of a part that no name tells (give the role a name of its own)",
    ),
    (
        "[role.Hand_Pan]\nfamily = 'percussion'",
        "role.Hand_Pan: the name of a role is small letters, digits and hyphens (write [role.hand-pan])",
    ),
    (
        "[role.'–']\nfamily = 'percussion'",
        "role.–: the name of a role is small letters, digits and hyphens (write it as hand-pan)",
    ),
    (
        "[role.hand-pan]\nlike = 'percussion'",
        f"role.hand-pan: it counts to no family (write family = '…' under it, one of {', '.join(FAMILIES)})",
    ),
    (
        "[role.hand-pan]\nfamily = 'percusion'",
        "role.hand-pan.family: there is no family percusion (did you mean percussion?)",
    ),
    (
        "[role.hand-pan]\nfamily = 'snare'",
        "role.hand-pan.family: there is no family snare (write family = 'drums')",
    ),
    (PAN + "like = 'percusion'", "role.hand-pan.like: there is no role percusion (did you mean percussion?)"),
    (
        "[role.big-drum]\nfamily = 'drums'\nlike = 'bass'",
        "role.big-drum.like: bass is of the family bass, not of drums (take one of kick, snare, hi-hat, toms, "
        "overheads, drum-room, drums)",
    ),
    (
        PAN + "may = 'sit off center, need no counterpart'",
        "role.hand-pan.may: there is no permission sit off center (did you mean sit off centre?)",
    ),
    (
        PAN + "may = 'fly'",
        "role.hand-pan.may: there is no permission fly (there are sit off centre, need no counterpart, stay out of the "
        "mix)",
    ),
    (
        "[role.slate]\nfamily = 'utility'\nmay = 'stay out of the mix'",
        "role.slate.may: what serves the session is no part of the mix anyway (leave it out, or write like = 'guide' "
        "for what must not be heard)",
    ),
    (PAN + "familly = 'keys'", "role.hand-pan.familly: no such key (did you mean family?)"),
    (
        "[role.hand-pan]\nfamily = ['percussion']",
        "role.hand-pan.family: it should be text in quotes, with commas between the words (write [role.hand-pan] and "
        "under it family = 'percussion')",
    ),
    (
        "[role]\nhand-pan = 'handpan'",
        "role.hand-pan: it should be a heading with lines under it (write [role.hand-pan] and under it family = "
        "'percussion')",
    ),
    ("[role.hand-pan]", "role.hand-pan: there is nothing under it (give at least one line, or leave it out)"),
    ("[role]", "role: there is nothing under it (give at least one line, or leave it out)"),
    (
        PAN + "words = 'handpan'",
        "role.hand-pan.words: it should be a heading with lines under it (write [role.hand-pan.words] and under it "
        "en = 'a word, another')",
    ),
    (
        PAN + "[role.hand-pan.words]\nen = ' , '",
        "role.hand-pan.words.en: there is no word in it (give at least one, or leave the line out)",
    ),
    (
        PAN + "[role.hand-pan.words]\nxx = 'handpan'",
        "role.hand-pan.words.xx: there is no language xx (there are en, de, fr, es, it, pt, nl, sv, no, da, pl, ru, "
        "sr, ja, cs, sk, fi, el, tr, ko, zh)",
    ),
    (
        PAN + "[role.hand-pan.words]\nen = 'the big old tin tub'",
        "role.hand-pan.words.en: the big old tin tub is read as 5 words, and at most 4 words can stand here (write a "
        "shorter one)",
    ),
    (
        PAN + "[role.hand-pan.words]\nen = '–'",
        "role.hand-pan.words.en: – has no letter and no digit in it (leave it out)",
    ),
    (
        PAN + "words = { en = 'tub' }\n[role.tin-bath]\nfamily = 'percussion'\nwords = { de = 'Tub' }",
        "role.tin-bath.words.de: tub stands under the role hand-pan too (leave it under one, or write it under "
        "[ambiguous.part]: tub = 'hand-pan, tin-bath')",
    ),
    (
        PAN + "words = { en = 'tub' }\n[ambiguous.part]\ntub = 'bass, keys'",
        "role.hand-pan.words.en: tub stands under [ambiguous.part] too (leave it in one place)",
    ),
    (
        PAN + "[ambiguous.part]\ntub = 'hand-pann, bass'",
        "ambiguous.part.tub: there is no role hand-pann (did you mean hand-pan?)",
    ),
]


@pytest.mark.parametrize(("text", "said"), FAULTS, ids=[said[:60] for _, said in FAULTS])
def test_a_fault_names_the_key_what_is_wrong_and_what_to_do(tmp_path: Path, text: str, said: str) -> None:
    """With the rest of the standard's faults, and without any for the use of a role that is only written wrong."""
    file = tmp_path / "ours.toml"
    file.write_text(text, encoding="utf-8")
    standard = tmp_path / "yard.toml"
    more = '[roles]\n"Pan *" = "hand-pan"\n' if "[role.hand-pan]" in text else ""
    standard.write_text(
        f'name = "yard"\nwords = ["ours.toml"]\ntakes = []\nleave_out = ["nothing"]\n{more}', encoding="utf-8"
    )
    with pytest.raises(RulebookError) as caught:
        load_standard(standard)
    faults = [str(fault) for fault in caught.value.faults]
    assert [one.removeprefix(f"{file}: ") for one in faults if one.startswith(str(file))] == [said]
    assert [one.split(": ")[1] for one in faults if one.startswith(str(standard))] == ["leave_out"]


@pytest.mark.parametrize("section", ["part.kick", "playing.double", "strip.reverb"])
def test_a_word_that_stands_in_another_file_under_another_concept_is_told(tmp_path: Path, section: str) -> None:
    (tmp_path / "a.toml").write_text(f"[{section}]\nen = 'Tub'", encoding="utf-8")
    (tmp_path / "b.toml").write_text(PAN + "words = { de = 'tub' }", encoding="utf-8")
    (tmp_path / "yard.toml").write_text('name = "yard"\nwords = ["a.toml", "b.toml"]', encoding="utf-8")
    with pytest.raises(RulebookError) as caught:
        load_standard(tmp_path / "yard.toml")
    assert [str(one).replace(f"{tmp_path}/", "") for one in caught.value.faults] == [
        f"b.toml: role.hand-pan.words.de: tub stands under [{section}] of a.toml too (leave it in one place)"
    ]


def test_a_role_that_stands_in_two_files_is_told(tmp_path: Path) -> None:
    for name in "ab":
        (tmp_path / f"{name}.toml").write_text(PAN, encoding="utf-8")
    (tmp_path / "yard.toml").write_text('name = "yard"\nwords = ["?.toml"]', encoding="utf-8")
    with pytest.raises(RulebookError) as caught:
        load_standard(tmp_path / "yard.toml")
    assert [str(one).replace(f"{tmp_path}/", "") for one in caught.value.faults] == [
        "b.toml: role.hand-pan: hand-pan stands in a.toml already (put the words there)"
    ]


# Reading --------------------------------------------------------------------------------------------------------------

OURS = """
[role.hand-pan]
family = 'percussion'
may = 'Sit off centre, need-no-counterpart'
[role.hand-pan.words]
en = 'handpan, hand pan, shaker'
de = 'Klangschüssel'
[role.octo-bass]
family = 'bass'
words = { en = 'octobass' }
[role.gang]
family = 'vocals'
words = { en = 'gang shout' }
[role.slate]
family = 'utility'
like = 'guide'
words = { en = 'slate' }
[role.gallery-mics]
family = 'room-microphones'
words = { en = 'gallery' }
[role.shimmer]
family = 'returns'
words = { en = 'shimmerwash' }
[role.stack]
family = 'buses'
words = { en = 'stack' }
[ambiguous.part]
tub = 'hand-pan, bass'
[role.frontman]
family = 'vocals'
like = 'lead-vocal'
words = { en = 'frontman' }
[role.box-kit]
family = 'drums'
words = { en = 'box kit' }
[role.baritone]
family = 'guitars'
words = { en = 'zimbor' }
"""


@pytest.mark.parametrize(
    ("name", "kind", "read"),
    [
        ("Handpan", "track", "hand-pan"),
        ("03_HAND-PAN L", "track", "hand-pan"),
        ("KLANGSCHÜSSEL 2", "track", "hand-pan"),
        ("Handpans", "track", "hand-pan"),
        ("Shaker", "track", "hand-pan"),  # a word of mixlint's, which the house's role beats
        ("Octobass DI", "track", "octo-bass"),
        ("Gang Shout dbl", "track", "gang"),
        ("Slate", "track", "slate"),
        ("Gallery", "track", "gallery-mics"),
        ("Shimmerwash", "return", "shimmer"),
        ("Stack", "group", "stack"),
        # What a strip is for is told by its other words, as with mixlint's own.
        ("Handpan Bus", "group", "group"),
        ("Handpan Verb", "return", "reverb-return"),
        ("Stack", "master", "mix-bus"),
        ("Conga", "track", "percussion"),
        ("Handpan Click", "track", None),
        ("Slate Click", "track", "click"),
        # Within the family a word of mixlint's counts where it says outright what the strip is.
        ("Frontman", "track", "frontman"),
        ("Frontman Dbl", "track", "vocal-double"),
        ("Frontman BV", "track", "backing-vocals"),
        ("Box Kit", "track", "box-kit"),
        ("Box Kit OH", "track", "overheads"),
        ("Box Kit Room", "track", "drum-room"),
        ("Zimbor", "track", "baritone"),
        ("Zimbor Gtr Clean", "track", "baritone"),
        # Two parts in one name are as open as ever.
        ("Handpan Snare", "track", None),
        ("Octobass Handpan", "track", None),
        ("Tub", "track", None),
    ],
)
def test_a_name_reads_as_the_role_of_the_house(tmp_path: Path, name: str, kind: str, read: str | None) -> None:
    assert role(name, house(tmp_path, OURS), kind) == read


def test_two_roles_of_one_family_in_a_name_are_open(tmp_path: Path) -> None:
    ours = house(tmp_path, OURS + "[role.tin-bath]\nfamily = 'percussion'\nwords = { en = 'tinbath' }")
    session = Session(channels=(Channel(id="it", name="Tinbath Handpan", kind="track"),))
    reading = read_roles(session, vocabulary=ours)["it"]
    assert (reading.word, reading.grounds) == (None, ("could be tin-bath or hand-pan: the name has words of each",))


def test_what_is_left_open_is_told_in_the_words_of_the_house(tmp_path: Path) -> None:
    session = Session(channels=(Channel(id="it", name="Handpan Snare", kind="track"),))
    reading = read_roles(session, vocabulary=house(tmp_path, OURS))["it"]
    assert reading.grounds == ("could be hand-pan ('handpan') or snare ('snare')",)


@pytest.mark.parametrize(
    ("code", "word", "name"),
    [
        ("ja", "硝子鉢", "硝子鉢1"),
        ("ru", "стеклянная ванна", "Стеклянная Ванна 2"),
        ("pl", "szklana niecka", "Szklana Niecka L"),
        ("sr", "стаклено корито", "СТАКЛЕНО КОРИТО"),
        ("fi", "lasikouru", "Lasikouru"),
        ("el", "γυάλινη σκάφη", "Γυάλινη σκάφη"),
    ],
)
def test_the_words_of_a_role_are_in_any_language(tmp_path: Path, code: str, word: str, name: str) -> None:
    """Also in one that a house brings itself, by its code of ISO 639."""
    text = f"[language]\nfi = 'Finnish'\nel = 'Greek'\n{PAN}words = {{ {code} = '{word}' }}"
    assert role(name, house(tmp_path, text)) == "hand-pan"


def test_a_folder_and_an_ambiguous_word_tell_of_a_role_of_the_house(tmp_path: Path) -> None:
    ours = house(tmp_path, OURS)
    assert role("Spot 1", ours, folder=("Handpans",)) == "hand-pan"
    assert role("Tub", ours, folder=("Handpans",)) == "hand-pan"
    assert role("Tub", ours, folder=("Bass",)) == "bass"


def test_the_table_of_names_takes_a_role_of_the_house(tmp_path: Path) -> None:
    ours = house(tmp_path, OURS)
    session = Session(channels=(Channel(id="it", name="Marigold 2", kind="track"),))
    assert read_roles(session, {"Marigold*": "gang"}, vocabulary=ours)["it"].word == "gang"
    assert ours.shipped_role("gang") == "vocal"
    assert ours.family_of("gang") == "vocals"


def test_a_lone_voice_leads_unless_the_houses_role_is_like_one_that_does(tmp_path: Path) -> None:
    text = "[role.frontman]\nfamily = 'vocals'\nlike = 'lead-vocal'\nwords = { en = 'marigold' }"
    session = Session(
        channels=tuple(Channel(id=name, name=name, kind="track") for name in ("Vocal", "Marigold")),
    )
    for vocabulary, read in ((SHIPPED, "lead-vocal"), (house(tmp_path, text), "vocal")):
        assert read_roles(session, vocabulary=vocabulary)["Vocal"].word == read


def test_the_nearer_standard_says_what_a_role_is_and_what_a_word_means(tmp_path: Path) -> None:
    far = "[role.hand-pan]\nfamily = 'keys'\nwords = { en = 'handpan, pantam' }"
    near = PAN + "words = { en = 'handpan' }"
    ours = house(tmp_path, near, far)
    assert ours.own_roles["hand-pan"].family == "percussion"
    assert (role("Handpan", ours), role("Pantam", ours)) == ("hand-pan", "hand-pan")
    assert role("Handpan", house(tmp_path, "[part.keys]\nen = 'handpan'", far)) == "keys"
    assert role("Pantam", house(tmp_path, "[part.keys]\nen = 'handpan'", far)) == "hand-pan"


def test_one_houses_roles_are_none_in_anothers_sessions(tmp_path: Path) -> None:
    ours = house(tmp_path, OURS)
    assert role("Octobass", ours) == "octo-bass"
    assert role("Octobass", SHIPPED) is None
    assert role("Shaker", SHIPPED) == "percussion"
    assert SHIPPED.own_roles == {}


# Whatever a house writes ----------------------------------------------------------------------------------------------

WORD = st.text("bcdfghjklmnpqrstvwxz", min_size=6, max_size=9).filter(lambda word: not word.endswith("s"))
NAME = st.lists(st.text("abcdefghij0123456789", min_size=1, max_size=5), min_size=1, max_size=3).map("-".join)


@st.composite
def own_roles(draw: st.DrawFn) -> tuple[str, dict[str, tuple[str, str]]]:
    """A word file with roles, and the word of each with the shipped role that it is like."""
    names = draw(
        st.lists(NAME.filter(lambda n: n not in ROLES and n not in FAMILIES), min_size=1, max_size=5, unique=True)
    )
    words = draw(st.lists(WORD, min_size=len(names), max_size=len(names), unique=True))
    text, told = "", {}
    for name, word in zip(names, words, strict=True):
        family = draw(st.sampled_from(FAMILIES))
        alike = [one for one, home in ROLE_FAMILIES.items() if home == family]
        like = draw(st.none() | st.sampled_from(alike))
        may = draw(st.lists(st.sampled_from(PERMISSIONS), unique=True))
        may = [one.replace("-", " ") for one in may if family != "utility" or "mix" not in one]
        text += f"[role.{name}]\nfamily = '{family}'\n"
        text += f"like = '{like}'\n" if like else ""
        text += f"may = '{', '.join(may)}'\n" if may else ""
        text += f"words = {{ en = '{word}' }}\n"
        told[name] = (word, like or generic_role(family))
    return text, told


STRIPS = {"returns": "return", "buses": "group"}


@pytest.mark.slow
@given(own_roles())
def test_whatever_roles_a_house_defines_each_is_read_from_its_word(
    made: tuple[str, dict[str, tuple[str, str]]],
) -> None:
    text, told = made
    with TemporaryDirectory() as folder:
        ours = house(Path(folder), text)
        (Path(folder) / "yard.toml").write_text('name = "yard"\nwords = ["0.toml"]\ntakes = []', encoding="utf-8")
        assert set(load_standard(Path(folder) / "yard.toml").house.vocabulary.own_roles) == set(told)
    for name, (word, like) in told.items():
        assert (ours.own_roles[name].like, ours.shipped_role(name)) == (like, like)
        if like != "mix-bus" and word not in SHIPPED.channels.phrases:
            kind = STRIPS.get(family_of(like) or "", "track")
            assert role(word.title(), ours, kind) == name, (word, like)


@given(
    st.dictionaries(
        st.text(max_size=6),
        st.dictionaries(
            st.sampled_from(["family", "like", "may", "words", "en", ""]),
            st.text(max_size=8) | st.dictionaries(st.sampled_from(["en", "de", "q"]), st.text(max_size=8), max_size=2),
            max_size=4,
        )
        | st.text(max_size=5),
        max_size=3,
    )
)
def test_whatever_is_written_about_roles_is_read_or_told(raw: dict[str, Any]) -> None:
    """No form of the heading ends in anything but a vocabulary or faults that name the file."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "ours.toml"
        path.write_text(f"role = {_toml(raw)}", encoding="utf-8")
        faults: list[Fault] = []
        file = read_word_file(path, "ours.toml", faults)
    if file is not None:
        ours = house_vocabulary([(file,)], faults)
        assert faults or set(ours.own_roles) == set(raw)
        assert (ours is SHIPPED) == bool(faults)
    assert all(fault.file == "ours.toml" and fault.what for fault in faults)


def _toml(value: Any) -> str:
    import json

    if isinstance(value, dict):
        return "{ " + ", ".join(f"{json.dumps(k)} = {_toml(v)}" for k, v in value.items()) + " }"
    return json.dumps(value).replace("\\u007f", "")
