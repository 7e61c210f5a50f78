"""A run that keeps its reviews: each adds files of its own to a store, and changes none that is there.

Files are named by the run's time, 64 random bits and a hash of their content, so that any number of runs can add at
once, on network folders too, where no lock is sure, and a reader can tell what was damaged. Each is made under another
name, put on the disk and moved in its place: it is there whole or not at all. What a run that was killed left in the
making is passed over, and cleared by the next that writes there. The row of a session comes last of all that is kept of
it; until it is there, the rest counts for nothing.
"""

from __future__ import annotations

import json
import os
import re
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import UTC, datetime
from hashlib import sha256
from io import BytesIO
from pathlib import Path
from secrets import token_hex
from time import monotonic
from typing import TYPE_CHECKING, Any, Final

from mixlint import __version__
from mixlint.errors import InputError, MixlintError
from mixlint.reports.page.names import seen_from
from mixlint.runs.files import not_written, synced
from mixlint.runs.owners import new_beside, sweep
from mixlint.store.columns import FORM, KINDS, Kind, file_name
from mixlint.store.extra import need_extra
from mixlint.store.marker import MARKER, form_of_store
from mixlint.store.rows import (
    About,
    Columns,
    fact_columns,
    finding_columns,
    judged_columns,
    session_columns,
    signed_columns,
)
from mixlint.store.standards import KeptStandard, kept_standard

if TYPE_CHECKING:
    import pyarrow

    from mixlint.review.findings import SessionReview
    from mixlint.rulebook import Standard
    from mixlint.store.kept import Kept

_MOST_SESSIONS: Final = 32
_MOST_ROWS: Final = 500_000
_MOST_SECONDS: Final = 60.0
"""So much is gathered before files are added: an archive is not to become a file for each session, and what a run that
is killed has not added yet is lost to the store."""
_PLACE: Final = 16
"""Hexadecimal digits by which sessions are told apart."""
_IN_THE_MAKING: Final = re.compile(r"\.mixlint-.*\.tmp")


@dataclass(frozen=True, slots=True)
class Asked:
    """What a run was asked for, as a store keeps it.

    Args:
        audio: audio is opened.
        areas, only, leave_out: what it is kept to, and what it leaves out.
        hold_on: the lightest grade that holds.
        engineer: who mixes, where the caller says so; empty where not.
        client: for whom.
    """

    audio: bool = True
    areas: tuple[str, ...] = ()
    only: tuple[str, ...] = ()
    leave_out: tuple[str, ...] = ()
    hold_on: str = "hold"
    engineer: str = ""
    client: str = ""


@dataclass(slots=True)
class _Gathered:
    """What is not added yet."""

    tables: dict[str, list[pyarrow.Table]] = field(default_factory=dict)
    sessions: int = 0
    rows: int = 0
    since: float = field(default_factory=monotonic)

    def add(self, kind: str, table: pyarrow.Table) -> None:
        if table.num_rows:
            self.tables.setdefault(kind, []).append(table)
            self.rows += table.num_rows

    @property
    def is_enough(self) -> bool:
        old = monotonic() - self.since > _MOST_SECONDS
        return self.sessions >= _MOST_SESSIONS or self.rows >= _MOST_ROWS or (old and self.sessions > 0)


class Storing:
    """One run that adds its reviews to a store.

    A fault does not end it: :attr:`fault` tells. What could not be written is tried again by the next that is added,
    and at the end.

    Args:
        folder: the store; made where it is not there.
        asked: what the run was asked for.

    Raises:
        MixlintError: the extra is missing.
        InputError: the folder holds something else or a newer store, or cannot be written.
    """

    def __init__(self, folder: Path, asked: Asked) -> None:
        need_extra()
        self._folder, self._asked = folder, asked
        _begun(folder)
        self._unwritten: InputError | None = None
        self._unkept: InputError | None = None
        now = datetime.now().astimezone()
        self._run = f"{now.astimezone(UTC):%Y%m%dT%H%M%SZ}-{token_hex(8)}"
        self._files = self._sessions = 0
        self._standards: dict[int, tuple[Standard, KeptStandard]] = {}
        self._gathered = _Gathered()
        self._gathered.add("runs", _table(KINDS["runs"], self._run_columns(now)))

    def _run_columns(self, now: datetime) -> Columns:
        asked = self._asked
        row = {
            "run": self._run,
            "begun": now,
            "zone": _zone(now),
            "version": __version__,
            "audio": asked.audio,
            "only_areas": list(asked.areas),
            "only_rules": list(asked.only),
            "left_out": list(asked.leave_out),
            "hold_on": asked.hold_on,
        }
        return {name: [value] for name, value in row.items()}

    @property
    def fault(self) -> InputError | None:
        """Why something that was reviewed is not in the store; None where all of it is."""
        return self._unkept or self._unwritten

    def add(self, session: Path, made: SessionReview, kept: Kept, standard: Standard) -> None:
        """Keep the review of one session; what cannot be kept of it is a fault of the store, and not of the review.

        Args:
            session: its file.
            made: the review.
            kept: what is kept beside it.
            standard: the standard that it was made under.
        """
        try:
            self._add(session, made, kept, standard)
        except (ValueError, TypeError, OverflowError, OSError) as fault:  # Arrow's own faults are ValueErrors too
            what = f"its review cannot be kept: {' '.join(str(fault).split())[:200]}"
            self._unkept = InputError(what, where=str(session), do="report it")
        if self._gathered.is_enough:
            self.write()

    def _add(self, session: Path, made: SessionReview, kept: Kept, standard: Standard) -> None:
        now = datetime.now().astimezone()
        self._sessions += 1
        about = About(
            session=f"{self._run}-{self._sessions:06d}",
            run=self._run,
            done=now,
            zone=_zone(now),
            place=sha256(os.fsencode(seen_from(session.resolve(), self._folder.resolve()))).hexdigest()[:_PLACE],
            whole=not (self._asked.areas or self._asked.only) and made.baseline is None,
            standard_digest=self._standard(standard).digest,
            engineer=self._asked.engineer or _said(kept.metadata, "engineer") or standard.archive.engineer or None,
            client=self._asked.client or _said(kept.metadata, "client") or standard.archive.client or None,
        )
        name = about.session
        facts = _facts_table(name, fact_columns(kept), kept.asked)
        tables = {
            "facts": facts,
            "judged": _table(KINDS["judged"], judged_columns(name, kept)),
            "findings": _table(KINDS["findings"], finding_columns(name, made.findings, kept)),
            "signed": _table(KINDS["signed"], signed_columns(name, made.findings, made.signing)),
            "sessions": _table(KINDS["sessions"], session_columns(about, made, self._asked.hold_on, kept)),
        }
        for kind, table in tables.items():
            self._gathered.add(kind, table)
        self._gathered.sessions += 1

    def write(self) -> None:
        """Add what was gathered; what could not be is gathered on."""
        try:
            self._write()
            self._unwritten = None
        except OSError as fault:
            self._unwritten = not_written(fault, Path(fault.filename) if fault.filename else self._folder)

    def _write(self) -> None:
        import pyarrow as pa

        for _, kept in self._standards.values():
            self._write_standard(kept)
        gathered = self._gathered
        month = f"{datetime.now(UTC):%Y-%m}"
        self._files += 1
        for kind in KINDS:  # in their order: sessions last
            if tables := gathered.tables.get(kind):
                name = f"{self._run}-{self._files:04d}"
                _write_file(pa.concat_tables(tables), self._folder / kind / month, name)
                del gathered.tables[kind]
        self._gathered = _Gathered()

    def _standard(self, standard: Standard) -> KeptStandard:
        """A standard as it is kept, worked out once."""
        found = self._standards.get(id(standard))
        if found is None:
            found = self._standards[id(standard)] = (standard, kept_standard(standard))
        return found[1]

    def _write_standard(self, kept: KeptStandard) -> None:
        """Add the rules of a standard, once for all runs under it: the name of the file is their digest."""
        folder = self._folder / "rules" / kept.digest[:2]
        if not any(folder.glob(f"{kept.digest}-*.parquet")):
            _write_file(_table(KINDS["rules"], kept.columns), folder, kept.digest)


def _said(metadata: Mapping[str, str], what: str) -> str:
    """What an export says of itself under a name, letter case aside."""
    return next((text.strip() for name, text in metadata.items() if name.casefold() == what), "")


def _zone(now: datetime) -> str:
    text = f"{now:%z}"
    return f"{text[:3]}:{text[3:5]}"


def _table(kind: Kind, columns: Columns) -> pyarrow.Table:
    """Rows of a kind; columns that are left out are null."""
    import pyarrow as pa

    schema = kind.schema()
    length = max(map(len, columns.values()), default=0)
    arrays = [pa.array(_sound(columns.get(one.name, [None] * length)), type=one.type) for one in schema]
    return pa.Table.from_arrays(arrays, schema=schema)


def _sound(values: list[Any]) -> list[Any]:
    """Values whose texts can be written: what is no letter of any writing, as half of one, becomes a question mark."""
    return [
        _sound_text(one) if isinstance(one, str) else _sound(one) if isinstance(one, list) else one for one in values
    ]


def _sound_text(text: str) -> str:
    return text if text.isascii() else text.encode("utf-8", "replace").decode("utf-8")


def _facts_table(session: str, facts: Columns, asked: Any) -> pyarrow.Table:
    """A row for each rule that names a fact, in the order of the facts, so that equal values lie together."""
    import pyarrow as pa

    kind = KINDS["facts"]
    whole = _table(kind, facts)
    ordered = sorted(asked, key=lambda one: one.fact)
    taken = whole.take(pa.array([one.fact for one in ordered], type=pa.int64()))
    schema = kind.schema()
    for name, values in (
        ("session", [session] * len(ordered)),
        ("rule", [one.rule for one in ordered]),
        ("limit_name", [one.limit for one in ordered]),
    ):
        place = schema.get_field_index(name)
        taken = taken.set_column(place, schema.field(place), pa.array(values, type=schema.field(place).type))
    return taken.cast(schema)


def _write_file(table: pyarrow.Table, folder: Path, name: str) -> None:
    """Add a file: whole on the disk before it has its name, and never in the place of another.

    Args:
        table: its rows.
        folder: where it goes; made where it is not there.
        name: what it is called, before the hash of its content.

    Raises:
        OSError: it cannot be written.
    """
    import pyarrow.parquet as pq

    content = BytesIO()
    pq.write_table(table, content, compression="zstd", write_page_checksum=True)
    data = content.getvalue()
    folder.mkdir(parents=True, exist_ok=True)
    made = new_beside(folder)
    flags = os.O_CREAT | os.O_EXCL | os.O_WRONLY | getattr(os, "O_BINARY", 0)
    handle = os.open(made, flags, 0o666)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
            now_s = os.fstat(file.fileno()).st_mtime
        os.rename(made, folder / file_name(name, data))
        synced(folder)
    finally:
        with suppress(OSError):
            made.unlink()
    sweep(folder, now_s)


def _begun(folder: Path) -> None:
    """Make the store where it is not there; its mark is made first of all, and only in an empty folder.

    Raises:
        InputError: the folder holds something else, or a store of a newer form, or cannot be written.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
        if form_of_store(folder) is None:
            others = [one for one in os.scandir(folder) if not _IN_THE_MAKING.fullmatch(one.name)]
            if others and form_of_store(folder) is None:  # another run may have begun it just now
                do = "name an empty folder, or one that is not there yet"
                raise InputError("this folder holds something else, and no store of reviews", where=str(folder), do=do)
            _mark(folder)
        for kind in KINDS:
            (folder / kind).mkdir(exist_ok=True)
    except FileExistsError:
        raise InputError("this is no folder", where=str(folder), do="name a folder for the store") from None
    except OSError as fault:
        raise not_written(fault, folder) from fault


def _mark(folder: Path) -> None:
    made = new_beside(folder)
    try:
        with made.open("x", encoding="utf-8") as file:
            file.write(json.dumps({"format": f"mixlint-store/{FORM}"}) + "\n")
            file.flush()
            os.fsync(file.fileno())
        os.replace(made, folder / MARKER)  # of two runs that begin a store at once both write the same
        synced(folder)
    finally:
        with suppress(OSError):
            made.unlink()


def could_not(fault: MixlintError) -> str:
    """What is said where a store could not be written; the reviews are told all the same."""
    return f"the reviews are told, and could not be stored: {fault}"
