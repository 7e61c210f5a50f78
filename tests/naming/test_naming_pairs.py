"""Counterparts by name. The cases are common practice, no source: the side and pair words of twenty-one languages."""

from __future__ import annotations

import pytest

from mixlint.naming import mid_or_side, name_without_side, pair_kind, side_of, stem_of

SIDES = [
    ("Gtr L", "left"),
    ("Gtr R", "right"),
    ("Gtr L 2", "left"),
    ("GtrL", "left"),
    ("gtr_r", "right"),
    ("OHL", "left"),
    ("ohr", "right"),
    ("OH_Left", "left"),
    ("Right Gtr", "right"),
    ("Gtr Lt", "left"),
    ("Gtr L Dist", "left"),
    ("R Rhy Gtr", "right"),
    ("E-Git Li", "left"),
    ("E-Git Re", "right"),
    ("Git links", "left"),
    ("Git rechts 2", "right"),
    ("Guitare G", "left"),
    ("Guitare D", "right"),
    ("Guitare gauche", "left"),
    ("Voix droite", "right"),
    ("Guitarra izq", "left"),
    ("Guitarra der", "right"),
    ("Platos D", "right"),
    ("Chitarra sx", "left"),
    ("Chitarra Dx", "right"),
    ("Chitarra des", "right"),
    ("Violão esq", "left"),
    ("Violão dir", "right"),
    ("Violão E", "left"),
    ("Violão D", "right"),
    ("Gitarr V", "left"),
    ("Gitarr H", "right"),
    ("Gitara L", "left"),
    ("Gitara P", "right"),
    ("アコギ 左", "left"),
    ("主唱左", "left"),
    ("钢琴右声道", "right"),
    ("左电吉他", "left"),
    ("和聲右", "right"),
    ("吉他2左", "left"),
    ("통기타좌", "left"),
    ("남보컬우", "right"),
    ("오른쪽 기타", "right"),
    ("Kitara V", "left"),
    ("Sähkökitara O", "right"),
    ("Kytara P", "right"),
    ("Spev ľavý", "left"),
    ("ΚΙΘΑΡΑ ΔΕΞΙΑ", "right"),
    ("Κιθάρα αρ.", "left"),
    ("Gitar SOL", "left"),
    ("Bağlama sağ 2", "right"),
    ("アコギ右", "right"),
    ("アコギ L", "left"),
    ("Гитара левая", "left"),
    ("Гитара правая", "right"),
    ("Рояль Л", "left"),
    ("Рояль П", "right"),
    ("Guitarra dcha", "right"),
    # no side, or not told
    ("김현우", None),
    ("보컬 지우", None),
    ("钢琴左手", None),
    ("Flûte en sol", None),
    ("Trompeta en Sol", None),
    ("Micro sol", None),
    ("ΚΙΘΑΡΑ Α", None),
    ("Gtr", None),
    ("Gtr L/R", None),
    ("Room LR", None),
    ("R Gtr", None),
    ("L Vox", None),
    ("Gtr Re-Amp", None),
    ("Chor der Frauen", None),
    ("Gtr G", None),
    ("Gtr D", None),
    ("Tom E", None),
    ("Lead Gtr", None),
    ("Rhythm Gtr", None),
    ("Guitare l'intro", None),
    ("L", None),
    ("R", None),
    ("Bell", None),
    ("Floor", None),
    ("Summer", None),
    ("Sampler", None),
    ("", None),
]


@pytest.mark.parametrize(("name", "side"), SIDES)
def test_side_of(name: str, side: str | None) -> None:
    assert side_of(name) == side


PAIRS = [
    ("Gtr L", "Gtr R", "sides"),
    ("OHL", "OHR", "sides"),
    ("GtrLeft", "GtrRight", "sides"),
    ("Gtr Lt", "Gtr Rt", "sides"),
    ("L Gtr", "R Gtr", "sides"),
    ("E-Git Li", "E-Git Re", "sides"),
    ("Git links", "Git rechts", "sides"),
    ("Guitare G", "Guitare D", "sides"),
    ("Voix gauche", "Voix droite", "sides"),
    ("Guitarra I", "Guitarra D", "sides"),
    ("Platos izq", "Platos der", "sides"),
    ("Chit Sx", "Chit Dx", "sides"),
    ("Гитара л", "Гитара п", "sides"),
    ("Малый верх", "Малый низ", "microphones"),
    ("Бочка внутри", "Бочка снаружи", "microphones"),
    ("Rullante sopra", "Rullante sotto", "microphones"),
    ("Caixa cima", "Caixa esteira", "microphones"),
    ("Snare boven", "Snare onder", "microphones"),
    ("Basdrum binnen", "Basdrum buiten", "microphones"),
    ("Werbel góra", "Werbel dół", "microphones"),
    ("Virvel över", "Virvel under", "microphones"),
    ("Skarptromme topp", "Skarptromme bunn", "microphones"),
    ("Lilletromme top", "Lilletromme bund", "microphones"),
    ("スネア 表", "スネア 裏", "microphones"),
    ("Вокал", "Вокал дабл", "doubles"),
    ("Fiol hög", "Fiol låg", "registers"),
    ("Chit sin", "Chit des", "sides"),
    ("Violão E", "Violão D", "sides"),
    ("Violão esq", "Violão dir", "sides"),
    ("Gitarr V", "Gitarr H", "sides"),
    ("Gitara L", "Gitara P", "sides"),
    ("ギター 左", "ギター 右", "sides"),
    ("05_Gtr L", "06_Gtr R", "sides"),
    ("Gtr L dist", "gtr_R_Dist", "sides"),
    ("主唱左", "主唱右", "sides"),
    ("吉他左边", "吉他右边", "sides"),
    ("코러스좌", "코러스우", "sides"),
    ("일렉 왼쪽", "일렉 오른쪽", "sides"),
    ("Kitara V", "Kitara O", "sides"),
    ("Κιθάρα αριστερά", "ΚΙΘΑΡΑ ΔΕΞΙΑ", "sides"),
    ("Gitar sol", "Gitar sağ", "sides"),
    ("Gtr 1", "Gtr 2", "numbers"),
    ("Gtr 01", "Gtr 02", "numbers"),
    ("BV I", "BV II", "numbers"),
    ("Rhy odd", "Rhy even", "numbers"),
    ("Gtr", "Gtr 2", "numbers"),
    ("Vox", "Vox Dbl", "doubles"),
    ("Lead Vox", "Lead Vox Double", "doubles"),
    ("Gtr", "Gtr x2", "doubles"),
    ("Gtr", "Gtr DT", "doubles"),
    ("Voz", "Voz doble", "doubles"),
    ("Gesang", "Gesang Dopplung", "doubles"),
    ("Kick In", "Kick Out", "microphones"),
    ("Snare Top", "Snare Bot", "microphones"),
    ("Snare top", "Snare bottom", "microphones"),
    ("Snare oben", "Snare unten", "microphones"),
    ("Sax near", "Sax far", "microphones"),
    ("Sax close", "Sax room", "microphones"),
    ("AG body", "AG neck", "microphones"),
    ("AG 12th", "AG bridge", "microphones"),
    ("Bass DI", "Bass Amp", "microphones"),
    ("Bass DI", "Bass Mic", "microphones"),
    ("Piano M", "Piano S", "microphones"),
    ("Piano mid", "Piano side", "microphones"),
    ("Virbl vrch", "Virbl spodek", "microphones"),
    ("Virveli ylä", "Virveli ala", "microphones"),
    ("Ταμπούρο πάνω", "ΤΑΜΠΟΥΡΟ ΚΑΤΩ", "microphones"),
    ("Trampet üst", "TRAMPET ALT", "microphones"),
    ("스네어탑", "스네어바텀", "microphones"),
    ("军鼓上", "军鼓下", "microphones"),
    ("底鼓 内", "底鼓 外", "microphones"),
    ("보컬", "보컬더블", "doubles"),
    ("Harm Hi", "Harm Lo", "registers"),
    ("BV High", "BV Low", "registers"),
    ("Vox", "Vox Oct", "registers"),
    # asked, or no pair
    ("Gtr A", "Gtr B", None),
    ("Gtr X", "Gtr Y", None),
    ("Vox verse", "Vox chorus", None),
    ("Vox V", "Vox Ch", None),
    ("Kick", "Snare", None),
    ("Gtr L", "Gtr L", None),
    ("Gtr L", "Keys R", None),
    ("Gtr", "", None),
    ("보컬 지우", "보컬 지좌", None),
]


@pytest.mark.parametrize(("one", "two", "kind"), PAIRS)
def test_pair_kind(one: str, two: str, kind: str | None) -> None:
    """A pair reads the same from either end."""
    assert pair_kind(one, two) == kind
    assert pair_kind(two, one) == kind


WORDS_OF_THE_NAME = ("L Gtr", "BV I", "Rhy odd")
COUNTERPARTS = [p[:2] for p in PAIRS if p[2] in ("sides", "numbers") and p[0] not in WORDS_OF_THE_NAME]


@pytest.mark.parametrize(("one", "two"), COUNTERPARTS)
def test_counterparts_share_their_stem(one: str, two: str) -> None:
    """But for a letter in front, Roman numbers and odd/even, which are words of the name."""
    assert stem_of(one) == stem_of(two) != ""


def test_stem_keeps_what_tells_the_part() -> None:
    assert stem_of("03_E-Git Re 2") == "e git"
    assert stem_of("L Vox") == "l vox"
    assert stem_of("808 L") == stem_of("808 R")
    assert stem_of("R") == "r"
    assert stem_of("") == ""


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("Rhythm Gtr L", "Rhythm Gtr R", True),
        ("GtrL", "GtrR", True),
        ("Guitare gauche", "Guitare droite", True),
        ("BV L 1", "BV R 1", True),
        ("BV L 1", "BV R 2", False),
        ("Gtr 1 L", "Gtr 2 R", False),
        ("Gtr L", "Piano R", False),
    ],
)
def test_names_that_differ_in_nothing_but_the_side_are_one_without_it(one, other, same):
    assert (name_without_side(one) == name_without_side(other)) is same


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("OH M", "mid"),
        ("OH S", "side"),
        ("OH S L", "side"),
        ("Gtr Mid", "mid"),
        ("Gtr Side R", "side"),
        ("Mid Side", None),
        ("Snare", None),
        ("Strings", None),
    ],
)
def test_mid_and_side_are_told_by_whole_words(name, told):
    assert mid_or_side(name) == told
