"""Wheel and sdist hold what they have to and nothing else, and work away from the checkout.

``python -m tests.installs`` does the whole of it, with every Python at hand.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tarfile
import tomllib
import venv
import zipfile
from importlib.util import find_spec
from pathlib import Path

import pytest

import mixlint
from tests.installs import SONG, TOP, build, check_types

SMALL = "import mixlint\n\nreveal_type(mixlint.__version__)\n"
"""A consumer that is checked quickly; the one of ``tests.installs`` uses more of the package."""

NEEDS_BACKEND = pytest.mark.skipif(find_spec("hatchling") is None, reason="the build backend is not installed")


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """Wheel and sdist; the wheel of the sdist is that of the checkout, byte for byte."""
    return build(tmp_path_factory.mktemp("built"))


def test_the_version_stands_in_one_place() -> None:
    """In the package; the build reads it there, and nothing else has a figure of its own."""
    project = tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))
    assert "version" not in project["project"]
    assert project["project"]["dynamic"] == ["version"]
    assert project["tool"]["hatch"]["version"]["path"] == "mixlint/__init__.py"
    assert re.fullmatch(r"\d+\.\d+\.\d+", mixlint.__version__)
    written = f'"{mixlint.__version__}"'
    assert [path.name for path in (TOP / "mixlint").rglob("*.py") if written in path.read_text("utf-8")] == [
        "__init__.py"
    ]


@pytest.mark.slow
@NEEDS_BACKEND
def test_the_wheel_holds_the_package_its_data_and_its_licence(built: tuple[Path, Path]) -> None:
    with zipfile.ZipFile(built[0]) as wheel:
        names = set(wheel.namelist())
        info = f"mixlint-{mixlint.__version__}.dist-info"
        metadata = wheel.read(f"{info}/METADATA").decode("utf-8")
        licence = wheel.read(f"{info}/licenses/LICENSE")
        commands = wheel.read(f"{info}/entry_points.txt").decode("utf-8")
    man = f"mixlint-{mixlint.__version__}.data/data/share/man/man1/mixlint.1"
    assert {name.split("/")[0] for name in names - {man}} == {"mixlint", info}
    assert man in names
    assert "mixlint/py.typed" in names
    ours = {path.relative_to(TOP).as_posix() for path in (TOP / "mixlint").rglob("*") if path.is_file()}
    ours = {name for name in ours if "__pycache__" not in name and name != "mixlint/cli/mixlint.1"}
    data = {
        f"mixlint/_data/{path.relative_to(TOP).as_posix()}"
        for room in ("rules", "schemas")
        for path in (TOP / room).rglob("*")
        if path.is_file()
    }
    assert {name for name in names if name.startswith("mixlint/")} == ours | data
    assert licence == (TOP / "LICENSE").read_bytes()
    assert "mixlint = mixlint.cli:main" in commands
    assert f"Version: {mixlint.__version__}\n" in metadata
    assert "License-Expression: MIT\n" in metadata
    assert "Requires-Python: >=3.11\n" in metadata
    assert "Provides-Extra: docs\n" in metadata


@pytest.mark.slow
@NEEDS_BACKEND
def test_the_sdist_holds_what_the_tests_need(built: tuple[Path, Path]) -> None:
    """Whoever has it can build, test and read all that the checkout holds."""
    with tarfile.open(built[1]) as sdist:
        names = {name.partition("/")[2] for name in sdist.getnames()}
    for name in ("LICENSE", "README.md", "pyproject.toml", ".ci/run", ".handbook/pages/index.md", "tests/installs.py"):
        assert name in names
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=TOP, capture_output=True, check=False)
    if listed.returncode == 0:
        tracked = {name for name in listed.stdout.decode("utf-8").split("\0") if name and (TOP / name).exists()}
        assert tracked <= names
        assert {name for name in names if not name.endswith("PKG-INFO")} - tracked <= _new()


def _new() -> set[str]:
    """Files of the work tree that are neither tracked nor ignored: those of a change that is being made."""
    said = subprocess.run(
        ["git", "ls-files", "-z", "--others", "--exclude-standard"], cwd=TOP, capture_output=True, check=True
    )
    return set(said.stdout.decode("utf-8").split("\0"))


@pytest.mark.slow
@NEEDS_BACKEND
def test_the_wheel_works_away_from_the_checkout_and_tells_its_types(built: tuple[Path, Path], tmp_path: Path) -> None:
    """In an environment of its own that borrows what the package needs from this one."""
    home = tmp_path / "own"
    venv.create(home, with_pip=False)
    (site,) = [home / "Lib" / "site-packages"] if os.name == "nt" else home.glob("lib/python*/site-packages")
    with zipfile.ZipFile(built[0]) as wheel:
        wheel.extractall(site)
    (site / "borrowed.pth").write_text("\n".join(p for p in sys.path if p.endswith("-packages")), encoding="utf-8")
    python = str(home / ("Scripts/python.exe" if os.name == "nt" else "bin/python"))
    env = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"} | {"MIXLINT_CACHE": ""}
    (tmp_path / "song.json").write_bytes(SONG.read_bytes())
    code = "import mixlint, sys; print(mixlint.__file__); from mixlint.cli import main; main()"
    done = subprocess.run(
        [python, "-c", code, "review", "song.json", "--quiet"],
        cwd=tmp_path, env=env, capture_output=True, text=True, encoding="utf-8", timeout=120, check=False,
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (1, "")
    assert Path(done.stdout.splitlines()[0]).is_relative_to(site)
    assert "feedback loop" in done.stdout
    check_types(python, tmp_path, SMALL, ["str"])


@pytest.mark.slow
@NEEDS_BACKEND
def test_a_consumer_of_a_wheel_without_types_is_told(built: tuple[Path, Path], tmp_path: Path) -> None:
    """So that the check above shows something: without the marker mypy refuses the very same consumer."""
    home = tmp_path / "own"
    venv.create(home, with_pip=False)
    (site,) = [home / "Lib" / "site-packages"] if os.name == "nt" else home.glob("lib/python*/site-packages")
    with zipfile.ZipFile(built[0]) as wheel:
        wheel.extractall(site)
    (site / "mixlint" / "py.typed").unlink()
    with pytest.raises(RuntimeError, match="ended with 1"):
        check_types(str(home / ("Scripts/python.exe" if os.name == "nt" else "bin/python")), tmp_path, SMALL, ["str"])
