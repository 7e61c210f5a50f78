"""What was found on trying version 0.1.0, as commands alone: ``python -m tests.first_version [--state FOLDER]``.

Each try is one of the thirteen findings of that trial. It knows nothing of the code, so that it can be held against any
state of the project: against 0.1.0 every one fails. The exit status is 1 where one fails. The test run holds the same
in the rooms that own it (the table in DEVELOPERS.md); this shows that those would have failed then.
"""

from __future__ import annotations

import argparse
import json
import math
import os
import random
import re
import shutil
import struct
import subprocess
import sys
import tempfile
import time
import unicodedata
import wave
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Final, NamedTuple

HERE: Final = Path(__file__).parents[1]
SONG: Final = "sixpenny-weathervane-flawed.session.json"
PATIENCE_S: Final = 240.0
HEAD: Final = 'name = "house"\ntitle = "A house"\nbuilds_on = "pre-bounce"\n'
TRACEBACK: Final = "Traceback (most recent call last)"


class Done(NamedTuple):
    """What a command came to; status None where it had to be stopped."""

    status: int | None
    said: str


class Desk:
    """A folder with a session in it, and the state of the project that is tried on it."""

    def __init__(self, state: Path, folder: Path) -> None:
        self.state, self.folder = state, folder
        self.song = folder / "song.session.json"
        shutil.copy(state / "example_sessions" / SONG, self.song)

    def start(self, *arguments: str | Path, **more: str) -> subprocess.Popen[str]:
        """Start a command of the state, in the folder."""
        return subprocess.Popen(
            [sys.executable, "-P", "-m", "mixlint", *map(str, arguments)],
            cwd=self.folder,
            env={**os.environ, "PYTHONPATH": str(self.state), "MIXLINT_CACHE": str(self.folder / "kept"), **more},
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            errors="replace",
        )

    def run(self, *arguments: str | Path, patience_s: float = PATIENCE_S, **more: str) -> Done:
        """Run one to its end."""
        process = self.start(*arguments, **more)
        try:
            said, _ = process.communicate(timeout=patience_s)
        except subprocess.TimeoutExpired:
            process.kill()
            return Done(None, process.communicate()[0])
        return Done(process.returncode, said)

    def review(self, *arguments: str | Path, patience_s: float = PATIENCE_S) -> Done:
        """Review the song without its audio."""
        return self.run("review", self.song, "--no-audio", *arguments, patience_s=patience_s)

    def sign(self, rule: str, because: str, by: str = "RM", **more: str) -> Done:
        """Sign a rule off."""
        return self.run("sign", self.song, rule, "--because", because, "--by", by, **more)

    def body(self) -> dict[str, object]:
        """The session as it stands in its file."""
        found: dict[str, object] = json.loads(self.song.read_text(encoding="utf-8"))
        return found

    def rename(self, old: str, new: str) -> None:
        """Call a channel otherwise."""
        text = self.song.read_text(encoding="utf-8")
        assert f'"{old}"' in text
        self.song.write_text(text.replace(f'"{old}"', json.dumps(new, ensure_ascii=False)), encoding="utf-8")

    def kept_lines(self) -> str:
        """All that stands in sign files beside the session."""
        return "\n".join(one.read_text(encoding="utf-8") for one in sorted(self.folder.glob("*.signed.txt")))


def signing_at_once(desk: Desk) -> None:
    """Twenty people sign at once; whoever was told that it is written finds it."""
    started = [
        desk.start("sign", desk.song, "nothing-soloed", "--because", f"reason {n}", "--by", f"P{n}") for n in range(20)
    ]
    told = [n for n, one in enumerate(started) if one.communicate(timeout=PATIENCE_S)[0] is not None]
    told = [n for n in told if started[n].returncode == 0]
    missing = [n for n in told if f"reason {n}" not in desk.kept_lines()]
    assert told, "nobody could sign"
    assert not missing, f"{len(missing)} of {len(told)} lines that were told as written are not there"


def an_older_line_with_a_later_day(desk: Desk) -> None:
    """The new line of a person wins over an older one that another clock dated later."""
    assert desk.sign("stereo-balanced", "in the east", TZ="Pacific/Kiritimati").status == 0
    done = desk.sign("stereo-balanced", "in the west", TZ="Etc/GMT+12")
    assert done.status != 0 or "in the west" in desk.kept_lines(), "told as signed, and not there"


def a_damaged_cache(desk: Desk) -> None:
    """Flipped bits in what is kept of a sound cost a new measurement, and nothing else."""
    stems = desk.folder / "stems"
    stems.mkdir()
    for n, name in enumerate(("Lute", "Bass")):
        _tone(stems / f"{name}.wav", 220.0 * (n + 1))
    first = desk.run("review", stems, "--as", "line")
    kept = [one for one in (desk.folder / "kept").rglob("*") if one.is_file()]
    assert kept, "nothing was kept"
    chance = random.Random(1)
    for _ in range(12):
        whole = {one: one.read_bytes() for one in kept}
        for one, body in whole.items():
            damaged = bytearray(body)
            for _ in range(3):
                damaged[chance.randrange(len(damaged))] ^= 1 << chance.randrange(8)
            one.write_bytes(damaged)
        done = desk.run("review", stems, "--as", "line")
        assert done == first, f"status {done.status}: {done.said[-300:]}"
        for one, body in whole.items():
            one.write_bytes(body)


def one_fault_costs_the_others(desk: Desk) -> None:
    """Three sessions, one of them beside a standard that nobody can read: the others are reported."""
    for name in ("a", "b", "c"):
        (desk.folder / name).mkdir()
        shutil.copy(desk.song, desk.folder / name / "song.session.json")
    deep = "x = " + "[" * 3_000 + "]" * 3_000
    (desk.folder / "b" / "mixlint-standard.toml").write_text(deep, encoding="utf-8")
    done = desk.run("review", "a", "b", "c", "--no-audio", "--as", "line")
    assert TRACEBACK not in done.said
    assert {"a", "c"} <= {line.split("/")[0] for line in done.said.splitlines()}, "the others are not reported"


def a_standard_that_is_found(desk: Desk) -> None:
    """A standard beside a session lists a pipe, then a secret outside of the folder: neither hangs nor is told."""
    inside = desk.folder / "song"
    inside.mkdir()
    desk.song = Path(shutil.move(desk.song, inside / "song.session.json"))
    standard = inside / "mixlint-standard.toml"
    os.mkfifo(inside / "pipe.toml")
    standard.write_text(f'{HEAD}rules = ["pipe.toml"]\n', encoding="utf-8")
    assert desk.review(patience_s=60.0).status is not None, "it hangs"
    (inside / "pipe.toml").unlink()
    (desk.folder / "secret.toml").write_text('password = "swordfish"\n', encoding="utf-8")
    standard.write_text(f'{HEAD}rules = ["../secret.toml"]\n', encoding="utf-8")
    done = desk.review()
    assert "password" not in done.said, "a file outside of the folder is read and told"


def a_byte_order_mark(desk: Desk) -> None:
    """A standard as the usual editor of one system saves it."""
    (desk.folder / "house.toml").write_bytes(b"\xef\xbb\xbf" + HEAD.replace("\n", "\r\n").encode())
    done = desk.review("--standard", desk.folder / "house.toml")
    assert done.status in (0, 1), done.said[-300:]


def an_approval_through_a_link(desk: Desk) -> None:
    """Approving a mix replaces no file that a link of that name points to."""
    precious = desk.folder / "precious.txt"
    precious.write_text("keep me\n", encoding="utf-8")
    for name in ("song.approved.json", "song.session.approved.json"):
        (desk.folder / name).symlink_to(precious)
    desk.run("sign", desk.song, "--approve", "--by", "RM", "--mix", "1")
    assert precious.read_text(encoding="utf-8") == "keep me\n", "it was replaced"


def a_command_to_a_runner(desk: Desk) -> None:
    """A channel whose name is an order to a CI runner begins no line of the log."""
    desk.rename("Shaker", "::error file=x::Shaker")
    done = desk.review()
    assert not re.search(r"^\s*::", done.said, re.MULTILINE), "an order stands at the beginning of a line"


def accents_stored_otherwise(desk: Desk) -> None:
    """What was signed for a name holds where another system stores its accents apart."""
    desk.rename("Shaker", "Sh\N{LATIN SMALL LETTER A WITH DIAERESIS}ker")
    assert desk.sign("nothing-soloed", "wanted").status == 0
    text = desk.song.read_text(encoding="utf-8")
    desk.song.write_text(unicodedata.normalize("NFD", text), encoding="utf-8")
    rows = desk.review("--as", "line").said.splitlines()
    assert not [row for row in rows if "\thold\tnothing-soloed\t" in row], "the hold is back"


def nesting_and_digits(desk: Desk) -> None:
    """A standard nested 3,000 deep, and a limit of 400 digits: one message, no traceback."""
    digits = f'[limits]\n"return-low-cut.low_cut_db" = {"9" * 400}\n'
    for text in ("x = " + "[" * 3_000 + "]" * 3_000, digits, 'rules = ["**x/**"]'):
        (desk.folder / "house.toml").write_text(f"{HEAD}{text}\n", encoding="utf-8")
        done = desk.review("--standard", desk.folder / "house.toml")
        assert TRACEBACK not in done.said
        assert done.status == 2, f"status {done.status}"


def a_dressed_up_line(desk: Desk) -> None:
    """Characters that nobody sees, and that turn the direction of reading, do not stand in a sign file as they are."""
    desk.sign("nothing-soloed", "fine\N{RIGHT-TO-LEFT OVERRIDE}ton\N{ZERO WIDTH SPACE}")
    assert not re.search("[\u200b\u202e]", desk.kept_lines()), "they stand there as they are"


def another_session_as_output(desk: Desk) -> None:
    """``--out`` does not replace a session."""
    other = desk.folder / "other.session.json"
    shutil.copy(desk.song, other)
    before = other.read_bytes()
    desk.review("--as", "json", "--out", other)
    assert other.read_bytes() == before, "it was replaced"


def interrupts_and_names(desk: Desk) -> None:
    """A Ctrl-C in the first moments shows no traceback; of a damaged archive the whole path is told; orders to a
    terminal in a file's name are not obeyed when a line is taken out."""
    for wait in (0.02, 0.04, 0.06, 0.1, 0.15):
        process = desk.start("review", desk.song, "--no-audio")
        time.sleep(wait)
        process.send_signal(2)
        said, _ = process.communicate(timeout=PATIENCE_S)
        assert TRACEBACK not in said, f"after {wait} s"
    deep = desk.folder / "week" / "day"
    deep.mkdir(parents=True)
    with zipfile.ZipFile(deep / "song.dawproject", "w") as packed:
        packed.writestr("project.xml", "<Project/>")
    whole = (deep / "song.dawproject").read_bytes()
    (deep / "song.dawproject").write_bytes(whole[: len(whole) // 2])
    assert "week/day" in desk.run("review", "week/day/song.dawproject").said.replace("\\", "/"), "not by its path"
    wild = desk.folder / "wild\x1b]0;owned\x07.session.json"
    shutil.copy(desk.song, wild)
    desk.run("sign", wild, "nothing-soloed", "--because", "wanted", "--by", "RM")
    assert "\x1b]" not in desk.run("sign", wild, "nothing-soloed", "--by", "RM", "--withdraw").said, "obeyed"


def _tone(path: Path, hertz: float) -> None:
    with wave.open(str(path), "wb") as file:
        file.setparams((1, 2, 44_100, 0, "NONE", ""))
        samples = (round(6_000 * math.sin(2.0 * math.pi * hertz * n / 44_100)) for n in range(88_200))
        file.writeframes(b"".join(struct.pack("<h", one) for one in samples))


TRIES: Final[tuple[Callable[[Desk], None], ...]] = (
    signing_at_once, an_older_line_with_a_later_day, a_damaged_cache, one_fault_costs_the_others,
    a_standard_that_is_found, a_byte_order_mark, an_approval_through_a_link, a_command_to_a_runner,
    accents_stored_otherwise, nesting_and_digits, a_dressed_up_line, another_session_as_output, interrupts_and_names,
)  # fmt: skip


def main() -> None:
    """Try all of them and print what came of each."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--state", type=Path, default=HERE, help="a checkout of the project")
    state = parser.parse_args().state.resolve()
    failed = 0
    for one in TRIES:
        with tempfile.TemporaryDirectory() as folder:
            try:
                one(Desk(state, Path(folder)))
                came = "holds"
            except AssertionError as fault:
                failed += 1
                came = f"FAILS: {fault}"
        print(f"{one.__name__.replace('_', ' '):34}{came}", flush=True)
    print(f"{len(TRIES) - failed} of {len(TRIES)} hold in {state}")
    sys.exit(failed > 0)


if __name__ == "__main__":
    main()
