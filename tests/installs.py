"""Whether anybody can install it: every Python at hand, from wheel and from sdist, each in an environment of its own.

``python -m tests.installs [PYTHON …]`` builds both, installs each with the newest of what it needs, reviews an example
from a folder that has nothing to do with the checkout, and prints a table. Where mypy is installed, it also checks a
consumer of the package under ``--strict``. It takes half a minute a row, most of it for what is installed besides.
"""

from __future__ import annotations

import argparse
import json
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from importlib.util import find_spec
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

TOP = Path(__file__).resolve().parents[1]
MINORS = range(11, 16)
SONG = TOP / "example_sessions" / "sixpenny-weathervane-flawed.session.json"

CONSUMER = """\
from pathlib import Path

import mixlint
from mixlint.importers import read
from mixlint.session import Session

version: str = mixlint.__version__


def names(path: Path) -> list[str]:
    session: Session = read(path)
    return [channel.name for channel in session.channels]


reveal_type(read)
reveal_type(mixlint.__version__)
"""
"""A program that uses the package and is checked under ``mypy --strict``."""

SEEN = (
    "def (path: str | os.PathLike[str], words: mixlint.naming.vocabulary.Vocabulary =)"
    " -> mixlint.session.model.Session",
    "str",
)
"""What mypy has to say of its last two lines; of a package without types it says ``Any``."""

INSTALLED = """
import json, sys
from importlib.metadata import distribution
import mixlint
from mixlint.resources import folder
one = distribution("mixlint")
files = {str(path).replace("\\\\", "/") for path in one.files or ()}
print(json.dumps({
    "at": mixlint.__file__,
    "version": [one.version, mixlint.__version__],
    "typed": "mixlint/py.typed" in files,
    "licence": any(name.endswith(".dist-info/licenses/LICENSE") for name in files),
    "expression": one.metadata["License-Expression"],
    "rules": sum(1 for _ in folder("rules").glob("*/*.toml")),
    "schemas": sum(1 for _ in folder("schemas").glob("*.json")),
    "tests": any(name.startswith(("tests/", "example_sessions/")) for name in files),
}))
"""


class Row(NamedTuple):
    """One installation: which Python, from what, what went wrong, and how long it took."""

    python: str
    source: str
    fault: str
    seconds: float


def pythons(named: Sequence[str]) -> dict[str, str]:
    """The interpreters to try, by version; those named, else every one from 3.11 on that is found."""
    found: dict[str, str] = {}
    for path in named or _candidates():
        asked = subprocess.run(
            [path, "-c", "import sys, venv, ensurepip; print('%d.%d.%d' % sys.version_info[:3])"],
            capture_output=True,
            text=True,
            check=False,
        )
        if asked.returncode == 0:
            found.setdefault(asked.stdout.strip(), path)
        elif named:
            raise SystemExit(f"{path} makes no environments: {asked.stderr.strip()}")
    return found


def _candidates() -> Iterator[str]:
    managed = Path(os.environ.get("PYENV_ROOT") or Path.home() / ".pyenv") / "versions"
    for minor in MINORS:
        yield from (str(path) for path in sorted(managed.glob(f"3.{minor}.*/bin/python")))
        path = shutil.which(f"python3.{minor}")
        if path:
            yield path
    if sys.version_info[1] in MINORS:
        yield sys.executable


def build(into: Path) -> tuple[Path, Path]:
    """Build sdist and wheel with the build backend of this environment; the wheel is built from the sdist.

    Raises:
        RuntimeError: it cannot be built, or the sdist gives another wheel than the checkout.
    """
    backend = (sys.executable, "-m", "hatchling", "build")
    _run(*backend, "-t", "sdist", "-d", str(into), cwd=TOP)
    sdist = next(into.glob("*.tar.gz"))
    shutil.unpack_archive(sdist, into / "unpacked", filter="data")
    (top,) = (into / "unpacked").iterdir()
    _run(*backend, "-t", "wheel", "-d", str(into), cwd=top)
    _run(*backend, "-t", "wheel", "-d", str(into / "straight"), cwd=TOP)
    wheel, straight = next(into.glob("*.whl")), next((into / "straight").glob("*.whl"))
    if wheel.read_bytes() != straight.read_bytes():
        raise RuntimeError("the wheel of the sdist differs from the wheel of the checkout")
    return wheel, sdist


def _run(*command: str, cwd: Path, env: dict[str, str] | None = None, status: int = 0) -> str:
    done = subprocess.run(
        command, cwd=cwd, env=env, capture_output=True, text=True, encoding="utf-8", errors="replace", check=False
    )
    if done.returncode != status:
        said = (done.stderr.strip() or done.stdout.strip()).splitlines() or ["it says nothing"]
        raise RuntimeError(f"{Path(command[0]).name} {' '.join(command[1:4])} ended with {done.returncode}: {said[-1]}")
    return done.stdout


def tried(version: str, python: str, artefact: Path, place: Path, *, types: bool) -> Row:
    """Install one of both under one Python, and try what came of it."""
    began = time.perf_counter()
    source = "wheel" if artefact.suffix == ".whl" else "sdist"
    try:
        try_in(python, artefact, place, types=types)
        fault = ""
    except (RuntimeError, OSError) as wrong:
        fault = str(wrong)
    return Row(version, source, fault, time.perf_counter() - began)


def try_in(python: str, artefact: Path, place: Path, *, types: bool) -> None:
    """Make an environment, install into it, and use it from a folder that is not the checkout.

    Raises:
        RuntimeError: something is not as it should be.
    """
    home = place / "envirönment of its own"
    _run(python, "-m", "venv", str(home), cwd=place)
    scripts = home / ("Scripts" if os.name == "nt" else "bin")
    own = str(scripts / "python")
    env = {name: value for name, value in os.environ.items() if not name.startswith(("PYTHON", "VIRTUAL_ENV"))}
    env |= {"MIXLINT_CACHE": "", "PIP_DISABLE_PIP_VERSION_CHECK": "1"}
    away = place / "anderswo é"
    away.mkdir()
    _run(own, "-m", "pip", "install", "-q", str(artefact), cwd=away, env=env)
    _run(own, "-m", "pip", "check", cwd=away, env=env)
    told = json.loads(_run(own, "-c", INSTALLED, cwd=away, env=env))
    as_it_is = {
        "it is imported from the environment": Path(told["at"]).is_relative_to(home),
        "one version": len(set(told["version"])) == 1,
        "the marker for types": told["typed"],
        "the licence": told["licence"] and told["expression"] == "MIT",
        "all rules": told["rules"] == sum(1 for _ in (TOP / "rules").glob("*/*.toml")),
        "all schemas": told["schemas"] == sum(1 for _ in (TOP / "schemas").glob("*.json")),
        "no tests": not told["tests"],
    }
    missing = [what for what, holds in as_it_is.items() if not holds]
    if missing:
        raise RuntimeError(f"not as it should be: {', '.join(missing)}")
    command = str(scripts / "mixlint")
    said = _run(command, "--version", cwd=away, env=env)
    if said.split() != ["mixlint", told["version"][0]]:
        raise RuntimeError(f"mixlint --version says {said!r}")
    shutil.copyfile(SONG, away / "song.json")
    report = json.loads(_run(command, "review", "song.json", "--as", "json", cwd=away, env=env, status=1))
    held = sorted({f["rule"] for f in report["sessions"][0]["findings"] if f["grade"] == "hold"})
    if len(held) < 4 or "no-feedback-loop" not in held:
        raise RuntimeError(f"the review holds on {held}")
    _run(own, "-m", "mixlint", "rules", "--prove", "--standard", str(_house(away)), cwd=away, env=env)
    if types:
        check_types(own, away)


def _house(away: Path) -> Path:
    return Path(shutil.copytree(TOP / "example_sessions" / "house", away / "house")) / "mixlint-standard.toml"


def check_types(python: str, folder: Path, text: str = CONSUMER, seen: Sequence[str] = SEEN) -> None:
    """Check a consumer with the mypy of this environment against the packages of another.

    Args:
        python: the interpreter of the other environment.
        folder: where the consumer and mypy's own files go.
        text: the consumer.
        seen: the types that mypy has to reveal.

    Raises:
        RuntimeError: it has a fault, or the types of the package are not seen.
    """
    consumer = folder / "consumer.py"
    consumer.write_text(text, encoding="utf-8")
    said = _run(
        *(sys.executable, "-m", "mypy", "--strict", "--python-executable", python, "--no-color-output"),
        *("--cache-dir", str(folder / "types"), "--config-file", os.devnull, str(consumer)),
        cwd=folder,
        env={name: value for name, value in os.environ.items() if name not in ("PYTHONPATH", "MYPYPATH")},
    )
    if not all(f'Revealed type is "{what}"' in said for what in seen):
        raise RuntimeError(f"the consumer sees no types: {said.strip()}")


def main() -> int:
    """Build, try all, print the table; 1 where one row failed."""
    parser = argparse.ArgumentParser(prog="python -m tests.installs", description=__doc__)
    parser.add_argument("python", nargs="*", help="interpreters to try (default: every one from 3.11 on that is found)")
    given = parser.parse_args()
    found = pythons(given.python)
    types = find_spec("mypy") is not None
    rows: list[Row] = []
    with TemporaryDirectory(prefix="mixlint ", ignore_cleanup_errors=True) as place:
        artefacts = build(Path(place))
        print(*(f"{one.name}  {one.stat().st_size / 1e6:.2f} MB" for one in artefacts), sep="\n")
        print(f"\n{'Python':<10}{'from':<8}{'seconds':>8}  outcome")
        for version, python in found.items():
            for artefact in artefacts:
                here = Path(place) / f"{version} {artefact.suffix}"
                here.mkdir()
                row = tried(version, python, artefact, here, types=types)
                rows.append(row)
                says = row.fault or "installed, reviewed, proven" + (", typed" if types else "")
                print(f"{row.python:<10}{row.source:<8}{row.seconds:>8.0f}  {says}", flush=True)
                shutil.rmtree(here, ignore_errors=True)
    return 1 if not rows or any(row.fault for row in rows) else 0


if __name__ == "__main__":
    raise SystemExit(main())
