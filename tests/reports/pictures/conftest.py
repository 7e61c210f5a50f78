"""Lets the tests of pictures import what they share, which lies beside them."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
