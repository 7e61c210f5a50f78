"""What the tests in a browser need beside Python's packages: a Chromium, and axe-core, which looks for barriers.

``python -m tests.browser.needs`` installs the first with the system's package tool where it is missing and may be
installed, and fetches the second. Neither is committed. The tests take the browser that ``MIXLINT_BROWSER`` names, or
one that the system finds by its name, and axe-core from a cache folder of the user, into which the first test fetches
it with npm; they are skipped, with a word why, where one of them cannot be had.
"""

from __future__ import annotations

import base64
import hashlib
import os
import shutil
import subprocess
import tarfile
from pathlib import Path
from tempfile import TemporaryDirectory

AXE = "axe-core@4.14.1"
"""Mozilla Public License 2.0; of npm. For the tests alone: nothing of it is shipped."""

AXE_SHA512 = "FHfa+lmNjQZfJz1q8wKqIDwC6DExcHt/pkjNQb09a3NPjCKg2rhu5qb2S4r76ASyFNNtuFooJpZe37OgudVGtQ=="
"""Of the package, as npm states it (``dist.integrity``)."""

NAMES = ("chromium", "chromium-browser", "google-chrome")
WAIT_S = 120.0


class Missing(Exception):
    """What cannot be had, and why."""


def browser() -> str:
    """The browser to drive, as a path."""
    named = os.environ.get("MIXLINT_BROWSER")
    found = named or next((path for name in NAMES if (path := shutil.which(name))), None)
    if found is None:
        raise Missing("no Chromium is installed; MIXLINT_BROWSER can name one")
    return found


def axe() -> str:
    """The script of axe-core, fetched when it is not kept yet."""
    kept = _cache() / f"{AXE}.tgz"
    if not kept.is_file():
        _fetch_axe(kept)
    data = kept.read_bytes()
    if base64.b64encode(hashlib.sha512(data).digest()).decode() != AXE_SHA512:
        kept.unlink()
        raise Missing(f"{AXE} is not the package that was looked at")
    with tarfile.open(kept) as archive:
        member = archive.extractfile("package/axe.min.js")
        assert member is not None
        return member.read().decode("utf-8")


def _cache() -> Path:
    home = os.environ.get("XDG_CACHE_HOME")
    return (Path(home) if home else Path.home() / ".cache") / "mixlint-tests"


def _fetch_axe(kept: Path) -> None:
    npm = shutil.which("npm")
    if npm is None:
        raise Missing(f"{AXE} is fetched with npm, which is not installed")
    kept.parent.mkdir(parents=True, exist_ok=True)
    with TemporaryDirectory(dir=kept.parent) as place:
        command = [npm, "pack", AXE, "--silent", "--fetch-retries=0", "--ignore-scripts"]
        try:
            tried = subprocess.run(
                command, cwd=place, capture_output=True, text=True, errors="replace", timeout=WAIT_S, check=False
            )
        except subprocess.TimeoutExpired:
            raise Missing(f"npm did not fetch {AXE} within {WAIT_S:g} s") from None
        archive = next(Path(place).glob("*.tgz"), None)
        if tried.returncode or archive is None:
            said = (tried.stderr or tried.stdout).strip().splitlines()
            raise Missing(f"npm does not fetch {AXE}: {said[-1] if said else 'it says nothing'}")
        archive.replace(kept)


def install_browser() -> None:
    """Install Chromium with the package tool of Debian's where there is none."""
    try:
        browser()
    except Missing:
        tool = shutil.which("apt-get")
        if tool is None:
            raise Missing("this system has no package tool of Debian's") from None
        quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
        for command in (["update", "-q"], ["install", "-q", "-y", "--no-install-recommends", "chromium"]):
            done = subprocess.run([tool, *command], env=quiet, capture_output=True, text=True, check=False)
            said = done.stderr.strip().splitlines()
            if done.returncode and command[0] == "install":
                raise Missing(said[-1] if said else "the package tool says nothing") from None


if __name__ == "__main__":
    for what, have in (("browser", install_browser), ("axe-core", axe)):
        try:
            have()
        except Missing as why:
            print(f"no {what}, so that tests are skipped: {why}")
        else:
            print(f"{what}: there")
