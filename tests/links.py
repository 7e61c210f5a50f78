"""Symbolic links for tests, where they may be made: on Windows that takes a right."""

from __future__ import annotations

from pathlib import Path

import pytest


def link(at: Path, to: Path) -> None:
    """Make ``at`` a link to ``to``, or skip the test."""
    try:
        at.symlink_to(to, target_is_directory=to.is_dir())
    except (OSError, NotImplementedError):
        pytest.skip("symbolic links may not be made here")
