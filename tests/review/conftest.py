"""Lets the tests of the review share the toy vocabulary of the rulebook's tests."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "rulebook"))
