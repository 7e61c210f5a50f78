"""A store that is read: its files looked over, bound to views, and asked in SQL with everything else out of reach.

Stores come from strangers too. A file that is damaged, or that no run of mixlint added, is told and left out. A query
runs in a database in memory that can open no file, load no extension and change none of that: it sees the views alone.
"""

from __future__ import annotations

import os
import re
import stat
from collections.abc import Collection, Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from mixlint.errors import InputError, MixlintError
from mixlint.store.columns import FORM_KEY, KIND_KEY, KINDS, Kind, file_name
from mixlint.store.extra import need_extra
from mixlint.store.marker import form_of_store, refuse_newer

if TYPE_CHECKING:
    import duckdb

_FOLDER: Final = re.compile(r"\d{4}-\d{2}|[0-9a-f]{2}")
_FILE: Final = re.compile(r"(\d{8}T\d{6}Z-[0-9a-f]{16}-\d{4,9}|[0-9a-f]{32})-[0-9a-f]{16}\.parquet")
_LARGEST: Final = 1 << 28
"""No file of a store is larger, bytes: one of 500,000 facts has a few million."""
_MOST_ROWS: Final = 100_000_000

_COUNTS: Final = "flagged, open, signed, clear, idle, flagged_hold, flagged_look, flagged_note, channels"
VIEWS: Final = {
    "sessions": (
        "SELECT * FROM stored_sessions WHERE outcome IN ('held', 'look', 'clear') "
        "AND hold_on IN ('hold', 'look', 'note') AND done BETWEEN '2000-01-01' AND '9000-01-01' "
        f"AND least({_COUNTS}) >= 0 AND greatest({_COUNTS}) < 1000000000 AND "
        + " AND ".join(f"{name} IS NOT NULL" for name in ("session", "place", "path", "title", "standard", "whole"))
    ),
    "runs": "SELECT * FROM stored_runs WHERE run IS NOT NULL",
    "rules": "SELECT * FROM stored_rules WHERE rule IS NOT NULL AND standard_digest IS NOT NULL",
    **{
        name: f"SELECT one.* FROM stored_{name} one SEMI JOIN sessions USING (session) WHERE {sound}"
        for name, sound in {
            "findings": (
                "verdict IN ('flagged', 'open', 'signed') AND grade IN ('hold', 'look', 'note') "
                "AND rule IS NOT NULL AND name IS NOT NULL AND fingerprint IS NOT NULL"
            ),
            "signed": "state IS NOT NULL AND rule IS NOT NULL AND name IS NOT NULL AND signers IS NOT NULL",
            "judged": (
                "verdict IN ('flagged', 'open', 'clear', 'idle') AND grade IN ('hold', 'look', 'note') "
                "AND rule IS NOT NULL AND name IS NOT NULL AND fingerprint IS NOT NULL"
            ),
            "facts": "rule IS NOT NULL AND row IS NOT NULL AND fact IS NOT NULL AND kind IS NOT NULL",
        }.items()
    },
}
"""The views by name. What is kept of a session counts once the session's own row is there; rows that no run of mixlint
writes, since something that is always there is missing in them, are passed over."""

LATEST: Final = (
    "SELECT * FROM sessions WHERE whole "
    "QUALIFY row_number() OVER (PARTITION BY place ORDER BY done DESC, session DESC) = 1"
)
"""The view ``latest``: of each session the review that is its picture, the last one of the whole checklist."""

_MISTYPED: Final = frozenset({"ParserException", "BinderException", "CatalogException", "PermissionException"})
"""Faults of a query that no file has to do with."""
_READS: Final = frozenset({"SELECT", "EXPLAIN", "MULTI"})
"""Statements that only read; a pivot is one of several parts."""


class LeftOut(NamedTuple):
    """A file that is not read: its path within the store, and why."""

    file: str
    why: str


class Answer(NamedTuple):
    """What a query gives: the columns' names and DuckDB's types of them, and the rows."""

    columns: tuple[str, ...]
    types: tuple[str, ...]
    rows: list[tuple[Any, ...]]


class Archive:
    """The files of a store that can be read.

    Args:
        folder: the store.
        kinds: the kinds of rows that are asked for; the sessions are always read.

    Raises:
        MixlintError: the extra is missing.
        InputError: it is no store, or one of a newer form, or cannot be read.
    """

    def __init__(self, folder: Path, kinds: Collection[str] = tuple(KINDS)) -> None:
        need_extra()
        self.folder = folder
        self.left_out: list[LeftOut] = []
        self._verified = False
        self._connection: duckdb.DuckDBPyConnection | None = None
        try:
            if form_of_store(folder) is None:
                do = "name the folder that mixlint review --store was given"
                raise InputError("this is no store of reviews", where=str(folder), do=do)
            self._files = {
                kind.name: self._usable(kind) if kind.name in kinds or kind.name == "sessions" else []
                for kind in KINDS.values()
            }
        except OSError as fault:
            what = f"the store cannot be read: {fault.strerror or fault}"
            raise InputError(what, where=str(fault.filename or folder), do="check its permissions") from fault

    # --- which files there are

    def _usable(self, kind: Kind) -> list[Path]:
        """The files of a kind that say they are of it; the others are told."""
        return [path for path in self._found(kind) if self._fits(path, kind)]

    def _found(self, kind: Kind) -> Iterable[Path]:
        top = self.folder / kind.name
        if not _is_folder(top):
            return
        for folder in sorted(os.scandir(top), key=lambda one: one.name):
            place = top / folder.name
            if not _FOLDER.fullmatch(folder.name) or not _is_folder(place):
                self._leave(place, "it is none of a store")
                continue
            for file in sorted(os.scandir(place), key=lambda one: one.name):
                path = place / file.name
                mode = path.lstat().st_mode
                if _FILE.fullmatch(file.name) and stat.S_ISREG(mode):
                    yield path
                else:
                    self._leave(path, "it is a link" if stat.S_ISLNK(mode) else "it is none of a store")

    def _leave(self, path: Path, why: str) -> None:
        """Tell a file that is not read; what is hidden, as a file in the making, needs no word."""
        if not path.name.startswith("."):
            name = os.fsencode(path.relative_to(self.folder)).decode("utf-8", "replace")
            self.left_out.append(LeftOut(name, why))

    def _fits(self, path: Path, kind: Kind) -> bool:
        """True where the end of a file says that it is of this kind, with these columns.

        Raises:
            InputError: it is of a newer form.
        """
        import pyarrow as pa
        import pyarrow.parquet as pq

        try:
            if path.stat().st_size > _LARGEST:
                self._leave(path, "it is too large")
                return False
            data = path.read_bytes()
            if file_name(path.name.rpartition("-")[0], data) != path.name:
                self._leave(path, "it is damaged: its content is not what was written")
                return False
            with pq.ParquetFile(pa.BufferReader(data)) as file:
                schema, rows = file.schema_arrow, file.metadata.num_rows
        except (pa.ArrowException, OSError, ValueError, TypeError, KeyError) as fault:
            self._leave(path, f"it is damaged: {_first_line(fault)}")
            return False
        marks = schema.metadata or {}
        form = marks.get(FORM_KEY, b"")
        if form.isdigit() and len(form) < 7:
            refuse_newer(int(form), path)
        if marks.get(KIND_KEY) != kind.name.encode() or not schema.equals(kind.schema()):
            self._leave(path, f"it holds other columns than {kind.name} of this form")
            return False
        if rows > _MOST_ROWS:
            self._leave(path, "it has too many rows")
            return False
        return True

    def _verify(self) -> None:
        """Read every file that is bound wholly, its checksums too, and leave out those that cannot be."""
        import pyarrow as pa
        import pyarrow.parquet as pq

        for kind, files in self._files.items():
            sound = []
            for path in files:
                try:
                    with pq.ParquetFile(path, page_checksum_verification=True) as file:
                        for _ in file.iter_batches():
                            pass
                    sound.append(path)
                except (pa.ArrowException, OSError, ValueError) as fault:
                    self._leave(path, f"it is damaged: {_first_line(fault)}")
            self._files[kind] = sound
        self._verified = True
        self._connection = None

    # --- asking

    def ask(self, query: str, given: Sequence[Any] = ()) -> Answer:
        """The answer to a query of the program's own.

        Args:
            query: what is asked, in DuckDB's SQL.
            given: values for its question marks.

        Raises:
            InputError: the store cannot be read even without what is damaged.
        """
        import duckdb
        import pyarrow as pa

        try:
            return _answer(self._bound().execute(query, list(given)))
        except (duckdb.Error, pa.ArrowException, OSError) as fault:
            if self._verified:
                where = str(self.folder)
                raise InputError(f"the store cannot be read: {_first_line(fault)}", where=where) from fault
            self._verify()
            return self.ask(query, given)

    def query(self, text: str) -> Answer:
        """The answer to a query that a user typed.

        Raises:
            MixlintError: it is none, it changes something, or it asks for what is out of reach.
            InputError: the store cannot be read.
        """
        import duckdb
        import pyarrow as pa

        where, do = "--sql", "see what there is with SHOW TABLES, and the columns of one with DESCRIBE findings"
        try:
            statements = self._bound().extract_statements(text)
            if len(statements) != 1 or statements[0].type.name not in _READS:
                raise MixlintError("it takes one query that only reads", where=where, do="write it as SELECT …")
            return _answer(self._bound().execute(text))
        except (duckdb.Error, pa.ArrowException, OSError) as fault:
            if self._verified or type(fault).__name__ in _MISTYPED:
                raise MixlintError(_first_line(fault), where=where, do=do) from None
            self._verify()
            return self.query(text)

    def _bound(self) -> duckdb.DuckDBPyConnection:
        """A database in memory with the views and nothing else, locked."""
        if self._connection is None:
            import duckdb
            import pyarrow.dataset as ds

            options = ds.ParquetFragmentScanOptions(page_checksum_verification=True)
            form = ds.ParquetFileFormat(default_fragment_scan_options=options)
            settings: dict[str, str | bool | int | float | list[str]] = {
                "autoinstall_known_extensions": "false",
                "autoload_known_extensions": "false",
                "allow_community_extensions": "false",
                "python_enable_replacements": "false",
            }
            made = duckdb.connect(":memory:", config=settings)
            made.execute("SET TimeZone = 'UTC'")
            made.execute("SET enable_progress_bar = false")
            for kind in KINDS.values():
                files = [str(path) for path in self._files[kind.name]]
                whole = ds.dataset(files, schema=kind.schema(), format=form) if files else kind.schema().empty_table()
                made.register(f"stored_{kind.name}", whole)
            for name, query in {**VIEWS, "latest": LATEST}.items():
                made.execute(f"CREATE VIEW {name} AS {query}")
            made.execute("SET temp_directory = ''")
            made.execute("SET enable_external_access = false")
            made.execute("SET lock_configuration = true")
            self._connection = made
        return self._connection


def kinds_named(query: str) -> tuple[str, ...]:
    """The kinds of rows that the text of a query names; all of them where it names none."""
    words = set(re.findall(r"\w+", query.casefold()))
    return tuple(name for name in KINDS if name in words) or tuple(KINDS)


def _answer(asked: duckdb.DuckDBPyConnection) -> Answer:
    about = asked.description or []
    return Answer(tuple(one[0] for one in about), tuple(str(one[1]) for one in about), asked.fetchall())


def _is_folder(path: Path) -> bool:
    try:
        return stat.S_ISDIR(path.lstat().st_mode)
    except FileNotFoundError:
        return False


def _first_line(fault: BaseException) -> str:
    """The first line of what a library says, without a stop."""
    lines = str(fault).strip().splitlines()
    return (lines[0][:300] if lines else type(fault).__name__).rstrip(".")
