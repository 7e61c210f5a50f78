"""Real recordings to try what listens on: drums, guitars, rooms and voices of a data package of Debian's.

They are not of the project and are never committed. ``python -m tests.recordings FOLDER`` fetches the package with the
system's package tool and unpacks it there, without installing anything; the tests take it from the place that
``MIXLINT_RECORDINGS`` names, or from where the package lies when it is installed, and are skipped where it is neither.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

PACKAGE = "sonic-pi-samples"
"""166 recordings in FLAC, given to the public domain (CC0); as Debian has them."""

INSTALLED = Path("/usr/share/sonic-pi/samples")


def recordings() -> list[Path]:
    """The recordings at hand, by name; none where the package is not."""
    named = os.environ.get("MIXLINT_RECORDINGS")
    folder = Path(named) if named else INSTALLED
    return sorted(folder.rglob("*.flac"))


def fetch(folder: Path) -> str:
    """Fetch the package into ``folder``; why not, where it cannot be had."""
    if shutil.which("apt-get") is None or shutil.which("dpkg-deb") is None:
        return "this system has no package tool of Debian's"
    with TemporaryDirectory() as place:
        tried = subprocess.run(["apt-get", "download", PACKAGE], cwd=place, capture_output=True, text=True, check=False)
        archive = next(Path(place).glob("*.deb"), None)
        if tried.returncode or archive is None:
            return (tried.stderr.strip().splitlines() or ["the package tool says nothing"])[-1]
        folder.mkdir(parents=True, exist_ok=True)
        subprocess.run(["dpkg-deb", "--extract", str(archive), str(folder)], check=True)
    return ""


if __name__ == "__main__":
    why = fetch(Path(sys.argv[1]))
    print(f"no recordings: {why}" if why else f"{len(list(Path(sys.argv[1]).rglob('*.flac')))} recordings")
