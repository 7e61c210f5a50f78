"""What studios would tell of their own names: wishes written blind, said in word files, and what comes of them."""

from __future__ import annotations

from pathlib import Path

import pytest

from mixlint.errors import Fault
from mixlint.naming import Vocabulary, pair_kind, read_roles, side_of
from mixlint.naming.house_words import house_vocabulary
from mixlint.naming.word_files import read_word_file
from mixlint.session import Channel, Clip, Session

OWN = "need no counterpart, sit off centre"

WISHES: dict[str, tuple[str, list[tuple[str, str | None, str | None]]]] = {
    "the jumbo": (
        "[part.acoustic-guitar]\nen = 'jg'",
        [("JG Vs L", "acoustic-guitar", "left"), ("jg_chorus_R_02", "acoustic-guitar", "right")],
    ),
    "one wind player": ("[part.winds]\nde = 'sb'", [("SB Klar Brücke", "winds", None), ("sb oboe tk3", "winds", None)]),
    "stamping": (
        "[role.tramp]\nfamily = 'percussion'\n[role.tramp.words]\nsv = 'tramp'",
        [("Tramp Per", "tramp", None), ("tramp golv 2", "tramp", None)],
    ),
    "scrap": (
        "[role.klad]\nfamily = 'utility'\nlike = 'guide'\n[role.klad.words]\nnl = 'klad'",
        [("KLAD zang idee", "klad", None), ("klad git L", "klad", "left")],
    ),
    "halves of a choir": (
        "[side.left]\nen = 'can'\n[side.right]\nen = 'dec'",
        [("Tenor dec", None, "right"), ("Tenor can", None, "left")],
    ),
    "field recordings": (
        f"[role.tunnelma]\nfamily = 'sound-effects'\nmay = '{OWN}'\n[role.tunnelma.words]\nfi = 'tunnelma'",
        [("tunnelma järvi", "tunnelma", None), ("Tunnelma_sade_V", "tunnelma", "left")],
    ),
    "horns and their copy": (
        "[part.brass]\nda = 'hb'\n[role.copy]\nfamily = 'winds'\nlike = 'brass'\nmay = 'stay out of the mix'\n"
        "[role.copy.words]\nda = 'hbx'",
        [("HB omkv", "brass", None), ("HBX omkv", "copy", None)],
    ),
    "the producer's tag": (
        f"[role.tag]\nfamily = 'speech'\nmay = '{OWN}'\n[role.tag.words]\nen = 'tag, beat tag'",
        [("TAG fennel", "tag", None), ("beat_tag_v2 L", "tag", "left")],
    ),
    "bandoneon": ("[part.keys]\nes = 'fueye'", [("Fueye izq", "keys", "left"), ("FUEYE toma 3", "keys", None)]),
    "jaleo": (
        f"[role.jaleo]\nfamily = 'vocals'\nlike = 'backing-vocals'\nmay = '{OWN}'\n[role.jaleo.words]\nes = 'jaleo'",
        [("Jaleo Curro", "jaleo", None), ("ole_y_jaleo_T2", "jaleo", None)],
    ),
    "the guitar of the fado": (
        "[part.acoustic-guitar]\npt = 'viola'\n[part.strings]\npt = 'violeta'",
        [("Viola mic", "acoustic-guitar", None), ("Violeta spot", "strings", None)],
    ),
    "sides of the stage": (
        "[side.left]\nfr = 'jardin, jd'\n[side.right]\nfr = 'cour, cr'",
        [("Cuivres_jd", "brass", "left"), ("Public cr", "audience", "right")],
    ),
    "rehearsals": (
        "[role.proba]\nfamily = 'utility'\nlike = 'guide'\n[role.proba.words]\nel = 'proba'",
        [("Proba fwni Stella", "proba", None), ("PROBA mpouzouki 2", "proba", None)],
    ),
    "low answers": (
        f"[role.contracanto]\nfamily = 'plucked'\nmay = '{OWN}'\n[role.contracanto.words]\npt = 'cc, contracanto'",
        # Beside another instrument's word it is asked about, and two letters give way: a role counts to one family.
        [("Contracanto sax", None, None), ("Contracanto 2", "contracanto", None)],
    ),
    "a condenser and a pick-up": (
        "[part.acoustic-guitar]\npl = 'gk, gp'\n[pair-words.microphones]\npl = 'gk / gp'",
        [("gk Ola 2", "acoustic-guitar", None), ("gp Ola 2", "acoustic-guitar", None)],
    ),
    "calls": (
        f"[role.fan-call]\nfamily = 'vocals'\nlike = 'backing-vocals'\nmay = '{OWN}'\n"
        "[role.fan-call.words]\nja = 'コール'",
        [("コール_1番_男", "fan-call", None), ("コールW_落ちサビ", "fan-call", None)],
    ),
    "cimbalom and kontra": (
        "[part.plucked]\ncs = 'cb'\n[part.strings]\ncs = 'ko'",
        [("CB spodek", "plucked", None), ("KO Jura", "strings", None)],
    ),
    "calls for the editor": (
        "[role.call]\nfamily = 'utility'\nlike = 'guide'\n[role.call.words]\nko = '추임'",
        [("추임 고수 1", "call", None), ("추임 객석쪽", "call", None)],
    ),
    "the frame": (
        f"[role.frame]\nfamily = 'percussion'\nmay = '{OWN}'\n[role.frame.words]\nzh = '骨'",
        [("骨_竹 左", "frame", "left"), ("骨_鐵門", "frame", None)],
    ),
    "people": (
        "[part.bass]\nen = 'big ray'\n[part.keys]\nen = 'dodie'",
        [("Big Ray DI", "bass", None), ("Dodie top", "keys", None)],
    ),
    "found voices": (
        f"[role.found-voice]\nfamily = 'vocals'\nmay = '{OWN}'\n[role.found-voice.words]\nen = 'fv'\n"
        "[role.no-rights]\nfamily = 'utility'\nlike = 'guide'\n[role.no-rights.words]\nen = 'fvx'",
        [("FV auntie answering machine", "found-voice", None), ("FVx radio sermon", "no-rights", None)],
    ),
}
"""What a studio wishes: the file in which it says so, and names with role and side."""


def words(folder: Path, text: str) -> Vocabulary:
    faults: list[Fault] = []
    (folder / "house.toml").write_text(text, encoding="utf-8")
    file = read_word_file(folder / "house.toml", "house.toml", faults)
    assert file is not None, faults
    found = house_vocabulary([(file,)], faults)
    assert faults == []
    return found


@pytest.mark.parametrize("wish", WISHES)
def test_a_wish_can_be_said_and_is_heeded(tmp_path: Path, wish: str) -> None:
    text, names = WISHES[wish]
    vocabulary = words(tmp_path, text)
    clip = Clip(start_s=0.0, end_s=9.0)
    for name, role, side in names:
        channel = Channel(id="it", name=name, kind="track", plays=("audio",), clips=(clip,), output="m")
        mix = Channel(id="m", name="Mix Bus", kind="master", output=None)
        reading = read_roles(Session(channels=(channel, mix)), vocabulary=vocabulary)["it"]
        assert role is None or reading.word == role, (name, reading)
        assert side_of(name, vocabulary) == side, name


def test_words_of_a_house_pair_names(tmp_path: Path) -> None:
    guitars = words(tmp_path, WISHES["a condenser and a pick-up"][0])
    assert pair_kind("gk Ola 2", "gp Ola 2", guitars) == "microphones"
    choir = words(tmp_path, WISHES["halves of a choir"][0])
    assert pair_kind("Tenor dec", "Tenor can", choir) == "sides"
    doubles = words(tmp_path, "[pair.double]\nit = 'fnt'")
    assert pair_kind("Celli", "Celli fnt", doubles) == "doubles"
