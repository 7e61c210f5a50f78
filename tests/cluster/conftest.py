"""A cluster for the tests of one module."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.cluster.real import cluster_of


@pytest.fixture(scope="module")
def cluster(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Four workers, for the tests of one module."""
    pytest.importorskip("distributed", reason="the extra cluster is not installed")
    with cluster_of(tmp_path_factory.mktemp("cluster"), 4) as address:
        yield address
