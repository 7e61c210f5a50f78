"""What comments say of a channel as a whole, and what they say of something else; common practice, no source."""

from __future__ import annotations

import pytest

from mixlint.naming.comment_reading import figures_in, kept_out, noted_pan, noted_place, open_for_a_time

KEPT = (
    "do not use: rattles", "not used any more", "wird im Mix nicht verwendet", "ne plus utiliser", "non usare più",
    "trzymać wyciszone", "deixar sempre mutado", "niet meenemen in de mix", "ne puštati u miks", "behövs ej",
    "NARRADORA: lectura de prueba", "nie in die Summe", "не использовать в миксе", "このテイクは使わない",
)  # fmt: skip
NOT_KEPT = (
    "not too loud in the mix", "not used in verse 2", "never use the compressor here", "pas trop fort dans le mix",
    "nicht zu laut im Mix", "non mixare troppo alto", "felt, not heard", "keep the room down", "two mics, harmon mute",
    "the live return stays muted", "rehearsal room mic", "muted trumpet", "",
)  # fmt: skip


@pytest.mark.parametrize("comment", KEPT)
def test_a_comment_keeps_its_channel_out(comment: str) -> None:
    assert kept_out(comment) is not None


@pytest.mark.parametrize("comment", NOT_KEPT)
def test_a_comment_that_speaks_of_something_else_does_not(comment: str) -> None:
    assert kept_out(comment) is None


def test_without_an_output_is_another_thing_than_out_of_the_mix() -> None:
    assert kept_out("sans sortie exprès: ne va qu'au délai") == ("unconnected", "sans sortie exprès")


@pytest.mark.parametrize(
    ("comment", "place"),
    [
        ("siempre al centro", "centre"), ("3,0 m zum HP, sitzt links", "left"), ("siedzi po lewej", "left"),
        ("halbrechts", "right"), ("two chops left", None), ("stage left", None), ("od lewej", None),
        ("left gtr, verb comes back right", None),
    ],
)  # fmt: skip
def test_a_comment_places_its_channel(comment: str, place: str | None) -> None:
    assert noted_place(comment) == place


def test_a_pan_by_its_figure() -> None:
    assert noted_pan("choruses only, 30 right") == (30.0, "30 right")
    assert noted_pan("copied to R2 and R3") is None
    assert noted_pan("3 m left of the pair") is None


def test_figures_keep_their_sign_and_unit() -> None:
    found = figures_in("tecto -1 dBTP, DI 1,2 ms, 0,8 kHz")
    assert [(one.value, one.unit) for one in found] == [(-1.0, "dBTP"), (1.2, "ms"), (800.0, "Hz")]


def test_open_for_a_time() -> None:
    assert open_for_a_time("open only for the talk, coupé pendant le morceau") == "open only for the talk"
    assert open_for_a_time("the muted line is on the other track") == ""


@pytest.mark.parametrize(
    "comment",
    [
        "nepoužívat",
        "älä käytä",
        "μη χρησιμοποιηθεί",
        "KULLANMA",
        "사용하지 않음",
        "僅供參考",
        "不进混音",
        "nie do mixu",
    ],
)
def test_kept_out_in_more_languages(comment: str) -> None:
    assert kept_out(comment) is not None
