"""How a path is written in a report."""

from __future__ import annotations

import os
from pathlib import Path


def shown(path: Path) -> str:
    """A path as it can stand in a report: bytes that are no text become ``�``."""
    return os.fsencode(path).decode("utf-8", "replace")
