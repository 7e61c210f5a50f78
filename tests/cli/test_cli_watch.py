"""``mixlint watch`` as a process: new exports, half-written ones, renames, files beside it, stops."""

from __future__ import annotations

import json
import os
import random
import socket
import subprocess
import sys
import time
from pathlib import Path

import pytest
from cli_sessions import half_wet, session_body
from stop_at_any_moment import still_there
from typer.testing import CliRunner
from watched import Watched

from mixlint.cli.app import app

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(not hasattr(os, "killpg"), reason="signals and groups of processes of POSIX"),
]

HALF_WET = json.dumps(half_wet(session_body()))
WET = json.dumps(session_body())


@pytest.fixture
def song(tmp_path: Path) -> Path:
    """A session that is held."""
    path = tmp_path / "lamp.json"
    path.write_text(HALF_WET)
    return path


def renamed_over(path: Path, text: str) -> None:
    """As most exporters write: to a file beside it, which then takes its name."""
    made = path.with_name(".export.part")
    made.write_text(text)
    made.replace(path)


def test_a_new_export_tells_what_was_cured_and_what_is_new(song: Path, tmp_path: Path) -> None:
    page = tmp_path / "page.html"
    with Watched(tmp_path, song, "--out", page) as watch:
        first = watch.until_stands(1)
        assert "held: do not bounce yet" in first
        assert "cured" not in first
        watch.until(page.exists)
        assert 'class="since"' not in page.read_text()
        renamed_over(song, WET)
        second = watch.until_stands(2)
        head = second.split("─")[0]
        assert "exported anew" in head
        assert "1 cured" in head
        assert "Hall passes 0 dB of dry signal" in " ".join(head.split())
        assert "clear to bounce" in second
        watch.until(lambda: "1 cured" in page.read_text())
        assert page.read_text().index("1 cured") < page.read_text().index("<main")
        assert "renew.js" not in page.read_text()
        song.unlink()  # deleted and written anew
        song.write_text(HALF_WET)
        assert "1 new" in watch.until_stands(3).split("─")[0]
        song.write_text(HALF_WET)
        watch.until(lambda: "nothing has changed" in watch.told())
        assert watch.stopped() == (130, "mixlint: stopped.")
        assert not still_there(watch.process.pid)
    assert sorted(one.name for one in tmp_path.iterdir()) == [
        "lamp.json", "mixlint-standard.toml", "page.html", "told.err", "told.out",
    ]  # fmt: skip


def test_what_the_figures_assume_is_listed_where_asked(song: Path, tmp_path: Path) -> None:
    with Watched(tmp_path, song, "--assumptions") as watch:
        text = watch.until_stands(1)
        assert "pan law: equal power" in " ".join(text.split())


def test_a_half_written_export_is_waited_for(song: Path, tmp_path: Path) -> None:
    with Watched(tmp_path, song) as watch:
        watch.until_stands(1)
        song.write_text(WET[: len(WET) // 2])
        watch.until_said("waiting for the export to be whole: it is not well-formed JSON")
        with song.open("a") as file:
            file.write(WET[len(WET) // 2 :])
        assert "1 cured" in watch.until_stands(2)
        song.write_text("")
        watch.until_said("waiting for the export to be whole: the file is empty")
        song.unlink()
        watch.until_said("the session is gone: waiting for it to come back")
        renamed_over(song, HALF_WET)
        assert "1 new" in watch.until_stands(3)
        assert watch.stopped() == (130, "mixlint: stopped.")
    assert "Traceback" not in watch.said()


def test_an_export_that_is_written_in_pieces_is_reviewed_when_it_is_whole(song: Path, tmp_path: Path) -> None:
    """Nothing but the whole of it is ever reviewed, however a busy machine parts the pieces."""
    with Watched(tmp_path, song) as watch:
        watch.until_stands(1)
        with song.open("w", buffering=1) as file:
            for at in range(0, len(WET), len(WET) // 30):
                file.write(WET[at : at + len(WET) // 30])
                file.flush()
                time.sleep(0.05)
        assert "1 cured" in watch.until_stands(2)
        assert watch.stopped() == (130, "mixlint: stopped.")
    assert set(watch.said().splitlines()[1:-1]) <= {
        one for one in watch.said().splitlines() if one.startswith("mixlint: waiting for the export to be whole: ")
    }


def test_what_goes_on_changing_is_reviewed_all_the_same(song: Path, tmp_path: Path) -> None:
    """A file that is recorded beside the session grows all the time."""
    take = tmp_path / "Lamp Song mix 1.wav"
    with Watched(tmp_path, song, "--no-audio") as watch:
        watch.until_stands(1)
        song.write_text(WET)

        def grown() -> bool:
            with take.open("ab") as file:
                file.write(b"\0" * 4096)
            return "1 cured" in watch.told()

        watch.until(grown)
        watch.until_said("it is being written")


def test_a_broken_session_at_the_beginning_is_waited_for(song: Path, tmp_path: Path) -> None:
    song.write_text(HALF_WET[:-9])
    with Watched(tmp_path, song) as watch:
        watch.until_said("waiting for the export to be whole")
        song.write_text(HALF_WET)
        watch.until_stands(1)


def test_sign_offs_and_the_standard_renew_it_too(song: Path, tmp_path: Path) -> None:
    standard = tmp_path / "mixlint-standard.toml"
    with Watched(tmp_path, song) as watch:
        watch.until_stands(1)
        given = ["sign", str(song), "return-fully-wet", "--because", "intended sound", "--by", "RM"]
        assert CliRunner().invoke(app, given).exit_code == 0
        signed = watch.until_stands(2)
        assert "sign-offs changed" in signed
        assert "clear to bounce" in signed
        lines = song.with_name("lamp.signed.txt")
        lines.write_text("<<<<<<< ours\n" + lines.read_text())
        watch.until_said("a merge conflict is left in the file", "The last review stays until that is mended.")
        lines.unlink()
        assert "held: do not bounce yet" in watch.until_stands(3)
        good = standard.read_text()
        standard.write_text("takes = [\n")
        watch.until_said("mixlint-standard.toml")
        standard.write_text(good + 'words = ["words/*.toml"]\ngrades = { "return-fully-wet" = "note" }\n')
        words = tmp_path / "words"
        words.mkdir()
        (words / "own.toml").write_text("[oops\n")
        watch.until_said("own.toml")
        (words / "own.toml").unlink()
        standard.write_text(good + 'grades = { "return-fully-wet" = "note" }\n')
        assert "the standard changed" in (last := watch.until_stands(4))
        assert "1 better" in last
        assert watch.stopped() == (130, "mixlint: stopped.")
    assert "Traceback" not in watch.said()


def test_stems_are_watched_with_their_audio(tmp_path: Path) -> None:
    import numpy as np
    import soundfile

    stems = tmp_path / "Lantern stems"
    stems.mkdir()
    rate = 48_000
    tone = 0.25 * np.sin(2 * np.pi * 220.0 * np.arange(rate) / rate)

    def put(name: str, gain: float) -> None:
        soundfile.write(stems / name, gain * tone, rate, subtype="PCM_16")

    put("Bass.wav", 1.0)
    put("Lead Vocal.wav", 1.0)
    (tmp_path / "mixlint-standard.toml").write_text('name = "lamp-house"\ntakes = ["files-whole", "files"]\n')
    with Watched(tmp_path, stems, "--standard", "pre-bounce", "--leave-out", "one-speed-on-all-microphones") as watch:
        watch.until_stands(1)
        put("Bass.wav", 1e-4)
        assert "audio changed" in watch.until_stands(2)
        put("Drums.wav", 1.0)
        assert "audio changed" in watch.until_stands(3)
        for one in stems.iterdir():
            one.unlink()
        stems.rmdir()
        watch.until_said("the session is gone")
        stems.mkdir()
        put("Bass.wav", 1.0)
        watch.until_stands(4)
        assert watch.stopped() == (130, "mixlint: stopped.")
    assert "Traceback" not in watch.said()


def test_it_ends_when_nobody_reads_it_any_more(song: Path) -> None:
    """As ``mixlint watch … | head`` asks for."""
    read, write = os.pipe()
    os.close(read)
    with open(write, "wb") as closed:
        result = subprocess.run(
            [sys.executable, "-m", "mixlint", "watch", str(song)], stdout=closed, stderr=subprocess.PIPE, timeout=60
        )
    assert result.returncode == 2
    assert result.stderr.decode().splitlines()[1:] == ["mixlint: the reader of the output went away before the end."]


def test_a_signal_to_end_ends_it_while_it_reviews(song: Path, tmp_path: Path) -> None:
    chance = random.Random()
    for _ in range(3):
        with Watched(tmp_path, song, "--page") as watch:
            watch.until_said("watching")
            time.sleep(chance.uniform(0.0, 1.5))
            watch.process.terminate()
            assert watch.process.wait(60) == 143
            assert watch.said().splitlines()[-1] == "mixlint: stopped."
            assert not still_there(watch.process.pid)


def test_a_folder_that_holds_the_session_may_get_another_export(tmp_path: Path) -> None:
    folder = tmp_path / "song"
    folder.mkdir()
    (folder / "lamp mix 1.json").write_text(HALF_WET)
    with Watched(tmp_path, folder) as watch:
        watch.until_stands(1)
        (folder / "lamp mix 2.json").write_text(WET)
        watch.until_said("this folder holds 2 sessions", "The last review stays")
        (folder / "lamp mix 1.json").unlink()
        assert "1 cured" in watch.until_stands(2)
        assert watch.stopped() == (130, "mixlint: stopped.")


def test_what_can_never_be_watched_ends_at_once(tmp_path: Path, held: Path, clear: Path) -> None:
    def said(*arguments: object) -> str:
        result = CliRunner().invoke(app, ["watch", *map(str, arguments)])
        assert result.exit_code == 2, result.output
        return " ".join(result.stderr.split())

    assert "there is no such file or folder" in said(tmp_path / "none.json")
    assert "this folder holds 2 sessions" in said(tmp_path)
    assert "Add --page" in said(held, "--port", "8080")
    assert "has no rule called" in said(held, "--leave-out", "no-such-rule")
    assert "overwrite what is being read" in said(held, "--out", held)
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        assert "Choose another --port" in said(held, "--page", "--port", taken.getsockname()[1])


def test_without_the_library_it_says_what_to_install(held: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "watchfiles", None)
    result = CliRunner().invoke(app, ["watch", str(held)])
    assert (result.exit_code, result.stderr) == (
        2,
        "mixlint: what tells of new exports is not installed. Install it: pip install 'mixlint[watch]'.\n",
    )


def test_the_page_is_served_renewed_and_signed_on(song: Path, tmp_path: Path) -> None:
    with Watched(tmp_path, song, "--page") as watch:
        watch.until_stands(1)
        assert watch.ask("wrong")[0] == 404
        status, page = watch.ask("")
        assert status == 200
        assert "do not bounce yet" in page
        assert '<script src="renew.js"' in page
        assert "http-equiv" not in page
        turn = watch.ask("state")[1]["turn"]
        row = next(one for one in watch.ask("rows")[1]["rows"] if one["verdict"] == "flagged")
        assert row["line"] == f"mixlint sign {song} return-fully-wet --on Hall --because '' --by ''"
        asked = {"rule": row["rule"], "channel": row["channel"], "because": "intended sound", "by": "RM"}
        status, answer = watch.ask("sign", {**asked, "scope": "finding"})
        assert (status, answer["signed"][0]) == (200, f"signed by RM, 1 row: {song.with_name('lamp.signed.txt')}")
        assert "clear to bounce" in watch.until_stands(2)
        watch.until(lambda: watch.ask("state")[1]["turn"] > turn)
        assert "Clear to bounce" in watch.ask("")[1]
        song.unlink()
        watch.until(lambda: "gone" in watch.ask("state")[1]["said"])
        assert watch.stopped() == (130, "mixlint: stopped.")
    assert "Traceback" not in watch.said()
