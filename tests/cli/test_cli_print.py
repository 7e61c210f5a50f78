"""The print of the mix on the command line: named, beside the session, or none."""

from __future__ import annotations

import json

import numpy as np
import pytest
import soundfile
from cli_sessions import Run, write_session

HOUSE = 'name = "lamp-house"\ntakes = ["print-unclipped", "print-in-the-format-of-the-session", "stems-in-time"]\n'


@pytest.fixture(autouse=True)
def _of_prints(tmp_path, _house):
    (tmp_path / "mixlint-standard.toml").write_text(HOUSE)


def sound(path, seconds=2.0, seed=1, gain=0.2):
    samples = gain * np.random.default_rng(seed).normal(size=(round(48_000 * seconds), 2))
    soundfile.write(path, samples, 48_000, subtype="PCM_24")
    return samples


def rows(mixlint: Run, *arguments: str) -> dict[str, str]:
    out = mixlint("review", *arguments, "--as", "json", "--everything").stdout
    found = json.loads(out)["sessions"][0]["findings"]
    return {f"{one['rule']} {one['subject']['name']}": one["verdict"] for one in found}


def test_a_named_print_is_measured_wherever_it_lies(tmp_path, mixlint, tmp_path_factory):
    session = write_session(tmp_path / "lamp.json")
    elsewhere = tmp_path_factory.mktemp("elsewhere") / "take 9.wav"
    sound(elsewhere, gain=2.0)
    assert rows(mixlint, str(session), "--print", str(elsewhere))["print-unclipped take 9.wav"] == "flagged"


def test_a_print_beside_the_session_is_known_by_its_name(tmp_path, mixlint):
    session = write_session(tmp_path / "lamp.json")
    for name in ("lamp mix v2.wav", "lamp mix v3.wav", "drums.wav", "other mix.wav"):
        sound(tmp_path / name)
    found = rows(mixlint, str(session))
    assert {one for one in found if one.startswith("print-unclipped")} == {"print-unclipped lamp mix v3.wav"}


def test_a_print_is_named_for_a_folder_of_stems(tmp_path, mixlint, tmp_path_factory):
    folder = tmp_path / "Lantern stems"
    folder.mkdir()
    one, two = (sound(folder / f"{name}.wav", seed=seed) for seed, name in enumerate(("Bass", "Drums")))
    printed = tmp_path_factory.mktemp("prints") / "whole.wav"
    soundfile.write(printed, np.roll(one, -3, axis=0) + two, 48_000, subtype="PCM_24")
    found = rows(mixlint, str(folder), "--print", str(printed))
    assert found["stems-in-time Bass.wav"] == "flagged"
    assert found["stems-in-time Drums.wav"] == "clear"


@pytest.mark.parametrize(("name", "says"), [("none.wav", "no such file"), ("lamp.json", "no audio file")])
def test_what_is_no_print_is_refused(tmp_path, mixlint, name, says):
    session = write_session(tmp_path / "lamp.json")
    found = mixlint("review", str(session), "--print", str(tmp_path / name))
    assert found.returncode == 2
    assert says in found.stderr.decode()


def test_one_print_for_two_sessions_is_refused(tmp_path, mixlint):
    paths = [str(write_session(tmp_path / f"{name}.json")) for name in ("one", "two")]
    sound(tmp_path / "mix.wav")
    found = mixlint("review", *paths, "--print", str(tmp_path / "mix.wav"))
    assert found.returncode == 2
    assert "2 sessions" in found.stderr.decode()


def test_a_print_that_cannot_be_read_is_refused(tmp_path, mixlint):
    """By its name it may be audio; without audio nothing looks into it."""
    session = write_session(tmp_path / "lamp.json")
    (tmp_path / "take.wav").write_text("not sound")
    found = mixlint("review", str(session), "--print", str(tmp_path / "take.wav"))
    assert (found.returncode, found.stdout) == (2, b"")
    assert b"take.wav: this is no audio file that can be read" in found.stderr
    assert mixlint("review", str(session), "--print", str(tmp_path / "take.wav"), "--no-audio").returncode != 2


def test_a_stem_that_cannot_be_read_holds_and_the_rest_is_judged(tmp_path, mixlint):
    folder = tmp_path / "Lantern stems"
    folder.mkdir()
    (tmp_path / "mixlint-standard.toml").write_text('name = "lamp-house"\ntakes = ["media-present"]\n')
    for name in ("Bass", "Drums"):
        sound(folder / f"{name}.wav", seed=len(name))
    (folder / "Vocal.wav").write_text("not sound")
    found = mixlint("review", str(folder))
    assert found.returncode == 1
    assert b"Vocal.wav is unreadable" in found.stdout
    assert b"Vocal plays it" in found.stdout
    told = rows(mixlint, str(folder))
    assert (told["media-present Bass.wav"], told["media-present Vocal.wav"]) == ("clear", "flagged")
