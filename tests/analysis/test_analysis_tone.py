"""The frequencies at which equalizer curves are compared."""

from __future__ import annotations

import pytest

from mixlint.analysis.tone import third_octaves


def test_third_octaves_are_those_of_the_standard():
    """IEC 61260-1, base ten: 1000 · 10^(n/10) Hz; the ends are 79.4 Hz and 7943 Hz."""
    at = third_octaves()
    assert at[0] == pytest.approx(79.43, abs=0.01)
    assert at[-1] == pytest.approx(7943.3, abs=0.1)
    assert 1000.0 in at
