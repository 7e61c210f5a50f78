"""Sign-offs are never lost: many who sign at once, kills, clocks, full disks, links, and what is left behind."""

from __future__ import annotations

import errno
import json
import os
import stat
import sys
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from mixlint.errors import InputError
from mixlint.runs import files, locks, owners, records
from mixlint.runs.files import write_new, write_text
from mixlint.runs.locks import Lock, locked
from mixlint.runs.signing import add_signoff, take_out
from mixlint.signoffs.file import read_signoffs, signoffs_text
from tests.cli.cli_sessions import half_wet, session_body
from tests.links import link
from tests.signoffs.kill import AREA, kills
from tests.signoffs.signers import command, line, start_forks

forks = pytest.mark.skipif(not hasattr(os, "fork"), reason="processes are forked")


@pytest.fixture
def file(tmp_path: Path) -> Path:
    (tmp_path / "songs").mkdir()
    return tmp_path / "songs" / "song.signed.txt"


def signed(file: Path, by: str = "RM", **more: Any) -> None:
    add_signoff(file, lambda _: line(by, **more), AREA)


def left_beside(file: Path) -> list[str]:
    return [name for name in os.listdir(file.parent) if name.startswith(".mixlint-")]


def stale(path: Path, **changes: object) -> None:
    """A lock of a process of this machine that is gone: a number that Linux gives to none (pid_max is 2²² at most)."""
    said = {"machine": owners.this_machine(), "host": "here", "process": 2**22 + 1, "started": "1", "since": "…"}
    path.write_text(json.dumps({**said, "token": "a", **changes}), encoding="utf-8")


@forks
@pytest.mark.parametrize("count", [20, pytest.param(80, marks=pytest.mark.slow)])
def test_all_who_sign_at_once_are_in_the_file(count: int, file: Path, tmp_path: Path) -> None:
    children = start_forks(file, count, tmp_path / "go")
    stale(Lock(file).path)  # all of them meet a lock that was left behind, too
    (tmp_path / "go").touch()
    ended = [os.waitpid(child, 0)[1] for child in children]
    assert ended == [0] * count
    assert {item.by for item in read_signoffs(file)} == {f"A{number}" for number in range(count)}
    assert not left_beside(file)


@pytest.mark.slow
def test_commands_at_once_keep_every_line(tmp_path: Path) -> None:
    """The command as a user starts it; twenty of them lost five to seventeen lines before there was a lock."""
    session = tmp_path / "song.json"
    session.write_text(json.dumps(half_wet(session_body())), encoding="utf-8")
    running = [command(session, f"A{number}") for number in range(3)]
    ended = [(one.communicate(timeout=120), one.returncode) for one in running]
    assert all(status == 0 and "signed by" in said[0] for said, status in ended), ended
    assert len(read_signoffs(tmp_path / "song.signed.txt")) == len(running)


@forks
def test_kills_lose_nothing_and_leave_nothing(tmp_path: Path) -> None:
    found = kills(tmp_path, runs=10, seed=7)
    assert not found.faults
    assert found.signed > 0


def test_a_program_that_knows_no_lock_is_not_written_over(file: Path) -> None:
    """An editor or a merge writes between reading and replacing: the change is made anew on what is there then."""
    signed(file)
    calls: list[int] = []

    def new(items: Any) -> Any:
        calls.append(len(items))
        if len(calls) == 1:
            file.write_text(signoffs_text([line("RM"), line("TK")], AREA), encoding="utf-8")
        return line("MH")

    add_signoff(file, new, AREA)
    assert calls == [1, 2]
    assert {item.by for item in read_signoffs(file)} == {"RM", "TK", "MH"}


def test_one_whose_lock_was_taken_away_begins_again(file: Path) -> None:
    """A process that slept so long that it was taken for gone does not write over what came since."""
    calls: list[int] = []

    def new(items: Any) -> Any:
        calls.append(len(items))
        if len(calls) == 1:
            Lock(file).path.unlink()
        return line("MH")

    add_signoff(file, new, AREA)
    assert len(calls) == 2
    assert not left_beside(file)


def test_a_living_owner_is_waited_for(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """And named after a while, with the lock that can be deleted."""
    monkeypatch.setattr(locks, "PATIENCE_S", 0.05)
    with locked(file), pytest.raises(InputError, match=f"process {os.getpid()} on .* delete .*lock"):
        signed(file)
    signed(file)
    assert not left_beside(file)


@pytest.mark.parametrize("content", [{"machine": "another"}, None])
def test_a_lock_whose_owner_cannot_be_asked_is_watched(
    content: dict[str, str] | None, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of another machine, or one that says nothing: it goes when it has not stirred, by the waiting one's clock."""
    path = Lock(file).path
    stale(path, **(content or {}))
    if content is None:
        path.write_text("", encoding="utf-8")
    os.utime(path, (0, 0))  # how old it is by a clock says nothing
    monkeypatch.setattr(locks, "PATIENCE_S", 0.05)
    with pytest.raises(InputError, match="being written by another"):
        signed(file)
    monkeypatch.setattr(locks, "WATCHED_S", 0.02)
    monkeypatch.setattr(locks, "PATIENCE_S", 5.0)
    signed(file)
    assert not left_beside(file)


def test_where_there_are_no_links_a_lock_is_made_exclusively(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def no_link(*_: object) -> None:
        raise OSError(errno.EPERM, "Operation not permitted")

    monkeypatch.setattr(os, "link", no_link)
    stale(Lock(file).path)
    signed(file)
    signed(file, "TK")
    write_new("name = 'a'\n", file.with_name("mixlint-standard.toml"))
    assert len(read_signoffs(file)) == 2
    assert not left_beside(file)


def test_what_others_left_is_swept(file: Path) -> None:
    """Of those that are gone at once; of another machine after a day; never what somebody is still making."""
    folder, gone, here = file.parent, 2**22 + 1, owners.this_machine()
    stale(Lock(folder / "other.signed.txt").path)
    dead = folder / f".mixlint-{here}-{gone}-1-{'a' * 16}.tmp"
    living = owners.new_beside(folder)
    young = folder / f".mixlint-{'0' * 12}-{gone}-1-{'b' * 16}.tmp"
    old = folder / f".mixlint-{'0' * 12}-{gone}-1-{'c' * 16}.tmp"
    before = folder / ".mixlint-ab_cd123"  # as 0.1.0 named them
    mine = folder / ".mixlint-notes"
    for path in (dead, living, young, old, before, mine):
        path.touch()
    os.utime(old, (0, 0))
    os.utime(before, (0, 0))
    signed(file)
    assert sorted(left_beside(file)) == sorted([living.name, young.name, mine.name])


def test_the_new_line_wins_whatever_the_clocks_say(file: Path) -> None:
    """A day's line over one that bears a later day, as another time zone or a wrong clock writes it."""
    signed(file, because="first", day=date(2026, 11, 29))
    signed(file, because="again", day=date(2026, 11, 27))
    assert [(item.because, item.on) for item in read_signoffs(file)] == [("again", date(2026, 11, 27))]


def test_nothing_to_take_out_changes_nothing(file: Path) -> None:
    file.write_text("# a note of ours\n", encoding="utf-8")
    assert take_out(file, lambda _: True, AREA) == 0
    assert file.read_text("utf-8") == "# a note of ours\n"


@pytest.mark.parametrize("fault", [errno.ENOSPC, errno.EDQUOT, errno.EIO])
def test_a_full_disk_is_told_and_nothing_is_half_written(
    fault: int, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    signed(file)
    before = file.read_bytes()

    def full(_: int) -> None:
        raise OSError(fault, os.strerror(fault))

    monkeypatch.setattr(files.os, "fsync", full)
    standard, other = file.with_name("mixlint-standard.toml"), file.with_name("list.csv")
    for write in (lambda: signed(file, "TK"), lambda: write_new("a", standard), lambda: write_text("a", other)):
        with pytest.raises(InputError, match=os.strerror(fault)) as caught:
            write()
        assert caught.value.where in (str(file), str(standard), str(other))
    assert file.read_bytes() == before
    assert not standard.exists()
    assert not other.exists()
    assert not left_beside(file)


def test_a_folder_that_is_gone_or_shut_is_told(file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(InputError, match="No such file or directory"):
        signed(tmp_path / "gone" / "song.signed.txt")

    def shut(*_: object) -> None:
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(locks, "_create", shut)
    with pytest.raises(InputError, match=r"song\.signed\.txt: it cannot be written: Permission denied"):
        signed(file)
    assert not file.exists()


@pytest.mark.parametrize("there", [True, False])
def test_nothing_is_written_through_a_link(there: bool, file: Path, tmp_path: Path) -> None:
    """Dangling or not: what it points to stays as it is, or stays away."""
    (tmp_path / "far").mkdir()
    far = tmp_path / "far" / "precious.txt"
    if there:
        far.write_text("precious", encoding="utf-8")
    link(file, far)
    with pytest.raises(InputError, match="this is a link"):
        signed(file)
    with pytest.raises(InputError, match="this is a link"):
        records.put_record("{}", file, over=None)
    assert far.exists() == there
    assert file.is_symlink()
    assert not left_beside(file)
    if there:
        assert far.read_text("utf-8") == "precious"
        with pytest.raises(InputError, match="leads out of"):
            read_signoffs(file)


def test_a_link_that_leads_round_is_told(tmp_path: Path) -> None:
    """``--out`` onto it ended with a traceback."""
    ring = tmp_path / "ring.json"
    link(ring, ring)
    with pytest.raises(InputError, match=r"ring\.json"):
        write_text("a", ring)


def test_an_approval_that_another_gave_meanwhile_stays(tmp_path: Path) -> None:
    path = tmp_path / "song.approved.json"
    records.put_record("one", path, over=None)
    with pytest.raises(InputError, match="another has written it"):
        records.put_record("two", path, over=None)
    records.put_record("three", path, over=b"one")
    assert path.read_text("utf-8") == "three"


@pytest.mark.skipif(sys.platform == "win32", reason="permissions of POSIX")
def test_permissions_stay(file: Path) -> None:
    signed(file)
    file.chmod(0o640)
    signed(file, "TK")
    assert stat.S_IMODE(file.stat().st_mode) == 0o640


def test_a_zombie_counts_as_gone() -> None:
    """Killed and not yet waited for, it still has its number (proc(5), state Z)."""
    if not os.path.exists("/proc/self/stat"):
        pytest.skip("there is no /proc")
    child = os.fork()
    if not child:
        os._exit(0)
    try:
        os.waitid(os.P_PID, child, os.WEXITED | os.WNOWAIT)
        assert owners.is_gone(owners.this_machine(), child, "")
    finally:
        os.waitpid(child, 0)
    assert not owners.is_gone(owners.this_machine(), os.getpid(), owners.started(os.getpid()) or "")
    assert owners.is_gone(owners.this_machine(), os.getpid(), "1")
    assert not owners.is_gone("another", 2**22 + 1, "")
