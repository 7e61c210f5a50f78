"""Build every example session, the same to the byte on every machine.

Usage: ``python example_sessions/build.py [--out DIR]``; without ``--out`` the files beside this script are rebuilt.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

if __package__ in (None, ""):  # run as a script: find the checkout
    sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from example_sessions.parts.dawproject_writer import dawproject
from example_sessions.parts.house import ferry_bell
from example_sessions.parts.mistakes import flawed
from example_sessions.parts.song import clean
from example_sessions.parts.synth import recordings
from example_sessions.parts.traps import TRAPS
from mixlint.reports.channel_list import list_text

HERE = Path(__file__).resolve().parent


def files() -> dict[str, bytes]:
    """Every built file: name and bytes."""
    song = clean()
    twin = flawed(song)
    sound = recordings()
    built = {
        "sixpenny-weathervane.session.json": song.json_text().encode(),
        "sixpenny-weathervane.dawproject": dawproject(song, sound),
        "sixpenny-weathervane-flawed.session.json": twin.json_text().encode(),
        "sixpenny-weathervane-flawed.dawproject": dawproject(twin, sound),
    }
    built |= {
        "sixpenny-weathervane.channels.csv": list_text(song, "csv").encode(),
        "sixpenny-weathervane-flawed.channels.csv": list_text(twin, "csv").encode(),
    }
    built |= {f"{name}.session.json": session().json_text().encode() for name, session in TRAPS.items()}
    built |= {
        "house/tried/ferry-bell.session.json": ferry_bell().json_text().encode(),
        "house/tried/ferry-bell-pushed.session.json": ferry_bell(pushed=True).json_text().encode(),
    }
    return built


def build(out: Path) -> list[Path]:
    """Write every file into ``out``."""
    out.mkdir(parents=True, exist_ok=True)
    written = []
    for name, data in files().items():
        (out / name).parent.mkdir(parents=True, exist_ok=True)
        (out / name).write_bytes(data)
        written.append(out / name)
    return written


def main() -> None:
    """Read the command line and build."""
    parser = argparse.ArgumentParser(description="Build the example sessions.")
    parser.add_argument("--out", type=Path, default=HERE, help="the folder to write to (default: this one)")
    for path in build(parser.parse_args().out):
        print(f"{path.name}  {path.stat().st_size} bytes")


if __name__ == "__main__":
    main()
