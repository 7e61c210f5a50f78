"""Names folded: which spellings are one name, against the caseless matching of the Unicode Standard."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixlint.naming import fits_pattern, fold_name
from mixlint.naming.fold import as_read, strip_accents


def nf(form: str, text: str) -> str:
    return unicodedata.normalize(form, text)  # type: ignore[arg-type]


def caseless(text: str) -> str:
    """The Unicode Standard, section 3.13, definition D146 (compatibility caseless match), white space aside."""
    folded = nf("NFKD", nf("NFKD", nf("NFD", text).casefold()).casefold())
    return " ".join(folded.split())


@pytest.mark.slow
def test_every_character_folds_as_the_unicode_standard_matches_it() -> None:
    for code in (*range(0xD800), *range(0xE000, 0x110000)):
        name = f"a{chr(code)}b"
        assert nf("NFKD", fold_name(name)) == caseless(name), hex(code)


@given(st.text(max_size=40))
def test_folding_twice_is_folding_once(name: str) -> None:
    assert fold_name(fold_name(name)) == fold_name(name)
    assert strip_accents(strip_accents(name)) == strip_accents(name)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Lead Vox", "  LEAD   vox "),
        ("Lead\u00a0Vox", "lead vox"),
        ("Straße", "STRASSE"),
        ("Flügel", "Flu\u0308gel"),
        ("キック", "ｷｯｸ"),
        ("Gtr １", "gtr 1"),
    ],
)
def test_spellings_of_one_name(one: str, other: str) -> None:
    assert fold_name(one) == fold_name(other)


@pytest.mark.parametrize(("one", "other"), [("Flügel", "Flugel"), ("Gtr 1", "Gtr1"), ("Gtr-L", "Gtr L"), ("", "a")])
def test_names_that_stay_apart(one: str, other: str) -> None:
    assert fold_name(one) != fold_name(other)


def test_separators_count_as_spaces_where_that_is_asked() -> None:
    assert fold_name("Bass_DI - (print).2", separators=True) == "bass di print 2"
    assert fold_name("Bass_DI") == "bass_di"


def test_a_pattern_fits_whatever_the_case() -> None:
    assert fits_pattern("Barn Mics", "BARN *")
    assert fits_pattern("Straße 2", "STRASSE*")
    assert not fits_pattern("The Barn", "barn*")


def test_words_lose_the_accents_of_latin_letters_alone() -> None:
    """Cyrillic й and kana with a voiced mark are letters of their own (common practice, no source)."""
    assert strip_accents("Violão Ærø Łódź") == "violao aero lodz"
    assert strip_accents("Малый ドラム") == "малый ドラム"
    assert as_read("Snare-Top_01 (DI)") == "snare top 01 di"


@pytest.mark.parametrize(
    ("capitals", "small"),
    [
        ("ΚΙΘΑΡΑ", "κιθάρα"),
        ("ΦΩΝΗ", "φωνή"),
        ("ΜΠΑΓΛΑΜΑΣ", "μπαγλαμάς"),
        ("ΠΡΟΪΣΤΑΜΕΝΟΣ", "προϊστάμενος"),
        ("ΓΑΪΔΑ", "γαΐδα"),
        ("SAZ", "saz"),
        ("KIRIK", "kırık"),
        ("İNCE", "ince"),
        ("BAĞLAMA", "bağlama"),
        ("GİTAR", "gitar"),
        ("ČINEL", "činel"),
        ("SÄHKÖKITARA", "sähkökitara"),
    ],
)
def test_capitals_without_accents_are_found(capitals: str, small: str) -> None:
    """Greek capitals are written without tonos, a final sigma is a sigma, and a Turkish I has a dot or none.

    Unicode Standard, section 5.18 (Greek and Turkish casing): common practice for the rest.
    """
    assert strip_accents(capitals) == strip_accents(small)
    assert as_read(capitals) == as_read(small)
    assert as_read(capitals.lower()) == as_read(small)


def test_a_loose_accent_ends_no_word() -> None:
    """``İ`` in small letters is an i and a dot (Unicode, SpecialCasing.txt), which is no letter of its own."""
    assert as_read("BATERİ".lower()) == "bateri"
    assert as_read("вока\u0301л") == "вокал"


@pytest.mark.parametrize("text", ["보컬", "가야금", "ドラム", "パッド", "主唱"])
def test_hangul_kana_and_chinese_characters_stay_as_they_are(text: str) -> None:
    assert strip_accents(text) == as_read(text) == text
    assert as_read(nf("NFD", text)) == text
