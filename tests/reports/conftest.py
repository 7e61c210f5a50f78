"""Lets the tests of the reports import the hand-made reports beside them."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
