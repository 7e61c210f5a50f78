"""A repository of sessions with two people in it: real git, in a folder of the test's own."""

from __future__ import annotations

import os
import subprocess
from contextlib import chdir
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NamedTuple
from unittest.mock import patch

from typer.testing import CliRunner

from mixlint.cli.app import app
from mixlint.session import Channel, Clip, Equalizer, EqualizerBand, Insert, Send, Session, Tempo, Timeline
from tests.importers.exporters import STYLES, Exporter, Style

SURROUNDINGS = {
    "GIT_CONFIG_GLOBAL": os.devnull,
    "GIT_CONFIG_SYSTEM": os.devnull,
    "GIT_TERMINAL_PROMPT": "0",
    "MIXLINT_CACHE": "",
}


class Ran(NamedTuple):
    """How a command ended and what it said."""

    returncode: int
    stdout: str
    stderr: str


@dataclass
class Person:
    """One of the people, in a clone of their own."""

    name: str
    home: Path

    def git(self, *arguments: str, check: bool = True) -> subprocess.CompletedProcess[str]:
        """Run git here, under this person's name."""
        who = (
            "-c",
            f"user.name={self.name}",
            "-c",
            f"user.email={self.name}@example.org",
            "-c",
            "commit.gpgsign=false",
        )
        return subprocess.run(
            ["git", *who, *arguments], cwd=self.home, env={**os.environ, **SURROUNDINGS}, capture_output=True,
            text=True, check=check, timeout=60, encoding="utf-8",
        )  # fmt: skip

    def commit(self, says: str, *paths: str) -> None:
        """Add and commit."""
        self.git("add", "--all", *paths)
        self.git("commit", "-q", "-m", says)

    def push(self) -> None:
        """To the shared repository."""
        self.git("push", "-q", "origin", "HEAD:trunk")

    def pull(self) -> subprocess.CompletedProcess[str]:
        """Fetch and merge what the others did; the caller looks at how it went."""
        self.git("fetch", "-q", "origin", "trunk")
        return self.git("merge", "-q", "--no-edit", "FETCH_HEAD", check=False)

    def mixlint(self, *arguments: str) -> Ran:
        """Run the command line here, in this process."""
        with chdir(self.home), patch.dict(os.environ, SURROUNDINGS):
            result = CliRunner().invoke(app, arguments)
        if result.exception is not None and not isinstance(result.exception, SystemExit):
            raise result.exception
        return Ran(result.exit_code, result.stdout, result.stderr)


def shared(folder: Path, *names: str) -> list[Person]:
    """A bare repository and a clone for each person."""
    bare = folder / "shared.git"
    starter = Person("starter", folder)
    starter.git("init", "-q", "--bare", "--initial-branch=trunk", str(bare))
    people = []
    for name in names:
        starter.git("clone", "-q", str(bare), name)
        people.append(Person(name, folder / name))
        people[-1].git("checkout", "-q", "-B", "trunk", check=False)
    return people


def song(**changes: dict[str, Any]) -> Session:
    """A small song that nothing holds; ``bass={"fader_db": -3.0}`` changes the channel of that id."""
    low_cut = Insert(
        name="Tide EQ",
        opaque=False,
        equalizer=Equalizer(bands=(EqualizerBand(kind="high-pass", freq_hz=200.0, q=0.7),)),
    )

    def strip(identity: str, name: str, **more: Any) -> Channel:
        body = {"kind": "track", "output": "mix", "plays": ("notes",), "legs": 1, **more}
        if body["kind"] == "track":
            clip = Clip(start_s=0.0, end_s=60.0, plays="notes", name=name, fade_in_s=0.01, fade_out_s=0.01)
            body.setdefault("clips", (clip,))
            body.setdefault("inserts", (Insert(name="Low Loom", kind="instrument"),))
        return Channel(id=identity, name=name, **{**body, **changes.get(identity, {})})

    return Session(
        title="Tarn Song",
        timeline=Timeline(tempos=(Tempo(bpm=120.0),)),
        channels=(
            strip("kick", "Kick", fader_db=-6.0),
            strip("bass", "Bass", fader_db=-6.0),
            strip("vox", "Lead Vocal", fader_db=-3.0, sends=(Send(to="hall", level_db=-12.0),)),
            strip("hall", "Hall", kind="return", plays=(), legs=2, inserts=(low_cut, Insert(name="Stair Well Reverb"))),
            strip("mix", "Mix Bus", kind="master", plays=(), legs=2, output=None),
        ),
    )


def export(path: Path, session: Session, style: Style = STYLES[0]) -> Path:
    """Write a session the way one kind of exporter does."""
    path.write_bytes(Exporter(session, style).archive())
    return path
