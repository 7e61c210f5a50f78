"""A package put where installed ones lie, as an installer does it: its modules, and its metadata beside them."""

from __future__ import annotations

import shutil
import tomllib
from collections.abc import Mapping
from pathlib import Path

HERE = Path(__file__).parent
QUAYSIDE = HERE / "quayside"


def installed(project: Path, target: Path) -> Path:
    """Install a project of one package without dependencies into ``target``: no network, no build."""
    declared = tomllib.loads((project / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    module = declared["name"].replace("-", "_")
    shutil.copytree(project / module, target / module, ignore=shutil.ignore_patterns("__pycache__"))
    metadata(target, declared["name"], declared["version"], declared["entry-points"])
    return target


def written(target: Path, name: str, modules: Mapping[str, str], entries: Mapping[str, Mapping[str, str]]) -> Path:
    """Install a package of single modules, given as text by name."""
    target.mkdir(exist_ok=True)
    for module, text in modules.items():
        (target / f"{module}.py").write_text(text, encoding="utf-8")
    metadata(target, name, "0.1", entries)
    return target


def metadata(target: Path, name: str, version: str, entries: Mapping[str, Mapping[str, str]]) -> None:
    """The folder that says what is installed (the core metadata and entry points of the packaging specifications)."""
    folder = target / f"{name.replace('-', '_')}-{version}.dist-info"
    folder.mkdir(parents=True)
    (folder / "METADATA").write_text(f"Metadata-Version: 2.1\nName: {name}\nVersion: {version}\n", encoding="utf-8")
    groups = (f"[{group}]\n" + "".join(f"{k} = {v}\n" for k, v in its.items()) for group, its in entries.items())
    (folder / "entry_points.txt").write_text("\n".join(groups), encoding="utf-8")
