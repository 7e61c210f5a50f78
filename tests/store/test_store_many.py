"""Many writers at once, and writers that are killed: real processes, and what pyarrow finds afterwards."""

from __future__ import annotations

import os
import random
import subprocess
import sys
import time
from datetime import date
from pathlib import Path

import pyarrow.parquet as pq
import pytest

from mixlint.store.archive import Archive
from mixlint.store.survey import survey
from tests.store.stores import TOP, body, files, keep, write

WRITERS = 20
ADDING = Path(__file__).with_name("adding.py")


def started(store: Path, song: Path, *numbers: int) -> subprocess.Popen[bytes]:
    return subprocess.Popen(
        [sys.executable, str(ADDING), str(store), str(song), *map(str, numbers)],
        env={**os.environ, "PYTHONPATH": str(TOP)},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        bufsize=0,  # a line that is read takes none with it that is asked for by communicate()
    )


def sound(store: Path) -> int:
    """Every file is whole, by a reader that knows nothing of mixlint; how many reviews there are."""
    for path in store.rglob("*.parquet"):
        pq.read_table(path, page_checksum_verification=True)
    return sum(pq.read_table(path).num_rows for path in files(store, "sessions"))


@pytest.mark.slow
@pytest.mark.skipif(not hasattr(os, "fork"), reason="the writers are forked")
def test_twenty_processes_write_at_once_and_nothing_is_lost(tmp_path: Path) -> None:
    """They begin the store together, too: nobody has made it before them."""
    store = tmp_path / "store"
    song = write(tmp_path / "lamp.json", body(solo=True))
    out, err = started(store, song, 3, WRITERS).communicate(timeout=200)
    assert out.count(b"kept") == WRITERS * 3, err.decode()
    assert sound(store) == WRITERS * 3
    for kind in ("findings", "judged", "facts", "runs"):
        assert len(files(store, kind)) == WRITERS * 3
    assert len(files(store, "rules")) == 1
    made = survey(Archive(store), version="0", store="", day=date(2026, 1, 1), lapse_within=0)
    assert (made.runs, made.reviews, len(made.sessions)) == (WRITERS * 3, WRITERS * 3, 1)
    assert not list(store.rglob("*.tmp"))


@pytest.mark.slow
def test_a_writer_that_is_killed_leaves_whole_files_or_none(tmp_path: Path) -> None:
    """At random moments of its writing; what it said was kept is there, and the next writer clears what it left."""
    store = tmp_path / "store"
    song = write(tmp_path / "lamp.json", body(solo=True))
    keep(store, song)
    chance = random.Random(11)
    kept = 1
    for _ in range(4):
        one = started(store, song, 10_000)
        assert one.stdout is not None
        one.stdout.readline()
        time.sleep(chance.uniform(0.0, 0.15))
        one.kill()
        out, _ = one.communicate()
        kept += 1 + out.count(b"kept")
        assert kept <= sound(store) <= kept + 1  # the last may be there, and not be said any more
        kept = sound(store)
    archive = Archive(store)
    assert not archive.left_out
    made = survey(archive, version="0", store="", day=date(2026, 1, 1), lapse_within=0)
    assert (made.reviews, made.rules[0].rule, made.rules[0].rows) == (kept, "nothing-soloed", 1)
    (seen,) = archive.ask("SELECT count(DISTINCT session) FROM facts").rows
    assert seen == (kept,)  # of a session whose own row is not there nothing counts
    keep(store, song)
    assert not list(store.rglob("*.tmp"))


def test_what_was_left_in_the_making_and_without_a_session_counts_for_nothing(tmp_path: Path) -> None:
    store = tmp_path / "store"
    song = write(tmp_path / "lamp.json", body(solo=True))
    keep(store, song)
    keep(store, song)
    files(store, "sessions")[1].unlink()  # as if the second run had been killed just before it
    folder = files(store, "findings")[0].parent
    (folder / ".mixlint-0123456789ab-99999-1-0123456789abcdef.tmp").write_bytes(b"PAR1 half")
    archive = Archive(store)
    assert not archive.left_out
    made = survey(archive, version="0", store="", day=date(2026, 1, 1), lapse_within=0)
    assert (made.reviews, made.rules[0].rows) == (1, 1)
    assert archive.ask("SELECT count(*) FROM findings").rows == [(1,)]
    assert archive.ask("SELECT count(DISTINCT session) FROM facts").rows == [(1,)]
