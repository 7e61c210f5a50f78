"""Sessions in object storage, fetched through fsspec into a folder of this user and reviewed there.

What is fetched is what lies below the address that the user named, by the storage's own list of it, and nothing else:
no word in a session is ever an address. A file is fetched again when the storage tells another version of it.
"""

from __future__ import annotations

import atexit
import json
import os
import re
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from hashlib import sha256
from pathlib import Path, PurePosixPath
from typing import Any, Final, NamedTuple

from mixlint.errors import InputError, MixlintError, RefusedFile
from mixlint.runs.paths import ADDRESS, TREE, address_of, stands_for, without_login

STORES: Final = ("s3", "s3a", "gs", "gcs", "az", "abfs", "abfss", "oss", "oci", "b2")
"""Protocols of fsspec that are object storage. No others: some read this machine's files (``file``, ``local``,
``reference``), some what another address or a page says (``::``, ``http``), some run commands (``ssh``, ``git``)."""

MOST_OBJECTS: Final = 50_000
"""How many objects may lie below an address."""
MOST_BYTES: Final = 64 << 30
"""How many bytes they may be, and how many of all addresses are kept."""
_ROUNDS: Final = 3
"""How often it is looked again whether something changed while it was fetched."""
_BLOCK: Final = 1 << 20
_FOLDER: Final = "stored"
_INDEX: Final = "index.json"
_MOST_PART: Final = 255
"""Bytes of a name on most systems."""

_VERSIONS: Final = (
    "VersionId",
    "version_id",
    "ETag",
    "etag",
    "generation",
    "md5Hash",
    "content_md5",
    "LastModified",
    "last_modified",
)


class _Object(NamedTuple):
    """An object below an address.

    Args:
        key: where the storage has it.
        size: bytes.
        version: what the storage tells it apart by; empty where it tells nothing.
    """

    key: str
    size: int
    version: str


def here(path: Path) -> Path:
    """The path itself, or of an address the folder or file that stands for it, fetched.

    Raises:
        InputError: it cannot be fetched.
        MixlintError: the extra is not installed.
    """
    address = address_of(path)
    if address is None:
        return path
    checked(address)
    files, top = _opened(address)
    with _told(address):
        is_file = files.isfile(top)
    beside = str(PurePosixPath(top).parent) if is_file else top
    named = address.rstrip("/").rpartition("/")[0] if is_file else address.rstrip("/")
    tree = _folder(named) / TREE
    _mirror(files, beside, tree, named)
    stands_for(tree, named)
    return tree / PurePosixPath(top).name if is_file else tree


def _folder(address: str) -> Path:
    """The folder that stands for an address; where nothing is kept (no cache folder) it goes with this process."""
    from mixlint.media.cache_folder import cache_folder

    above = cache_folder()
    name = sha256(address.encode("utf-8", "surrogatepass")).hexdigest()[:32]
    if above is None:
        above = Path(tempfile.mkdtemp(prefix="mixlint-"))
        atexit.register(shutil.rmtree, above, ignore_errors=True)
    folder = above / _FOLDER / name
    (folder / TREE).mkdir(mode=0o700, parents=True, exist_ok=True)
    (folder / ADDRESS).write_text(address, encoding="utf-8", errors="surrogatepass")
    # What is found by itself is looked for up to the folder of a repository: here it ends.
    (folder / TREE / ".git").touch()
    os.utime(folder)
    _tidy(folder)
    return folder


def checked(address: str) -> None:
    """See that an address may be fetched.

    Raises:
        RefusedFile: it is none of object storage, leads on to another, or bears a name or password.
    """
    protocol, _, rest = address.partition("://")
    login = re.match(r"[^/]*@", rest)
    plain = without_login(address)
    if login and protocol not in ("abfs", "abfss", "az"):
        raise RefusedFile(
            "an address bears no name and no password",
            where=plain,
            do="leave them to the settings of fsspec: the environment, or its own files",
        )
    if login and ":" in login[0]:
        raise RefusedFile("an address bears no password", where=plain, do="leave it to the settings of fsspec")
    if "::" in address or protocol not in STORES:
        raise RefusedFile(
            "it is no address of object storage that is read",
            where=plain,
            do=f"name a path, or an address of {', '.join(STORES)}",
        )


def _opened(address: str) -> tuple[Any, str]:
    try:
        import fsspec
    except ImportError:
        raise MixlintError(
            "object storage needs a package that is not installed",
            where=address,
            do="install the extra: pip install 'mixlint[storage]'",
        ) from None
    _quiet()
    try:
        files, top = fsspec.core.url_to_fs(address, use_listings_cache=False)
    except (ImportError, ValueError):
        protocol = address.partition("://")[0]
        raise MixlintError(
            f"fsspec has nothing installed that reads {protocol}",
            where=address,
            do="install the package of that storage, such as s3fs for s3, gcsfs for gs, adlfs for az",
        ) from None
    return files, str(top).rstrip("/")


def _mirror(files: Any, top: str, tree: Path, address: str) -> None:
    """Bring a folder to what lies below an address."""
    index = tree.parent / _INDEX
    had = _read_index(index)
    listed = _listed(files, top, address)
    for _ in range(_ROUNDS):
        for name, one in listed.items():
            place = tree / name
            if one.version and had.get(name) == [one.version, one.size] and place.is_file():
                continue
            had.pop(name, None)
            place.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            with suppress(FileNotFoundError), _told(address):
                _fetch(files, one, place)
                had[name] = [one.version, one.size]
        again = _listed(files, top, address)
        if again == listed and all(name in had for name in listed):
            break
        had = {name: what for name, what in had.items() if name in again and again[name] == listed.get(name)}
        listed = again
    else:
        raise InputError("it changes while it is fetched", where=address, do="try again when nobody writes there")
    for folder, _, names in os.walk(tree, topdown=False):
        for name in names:
            place = Path(folder, name)
            if place.relative_to(tree).as_posix() not in listed and place != tree / ".git":
                place.unlink()
        with suppress(OSError):  # there is something in it
            if Path(folder) != tree:
                os.rmdir(folder)
    _write(index, json.dumps({name: had[name] for name in listed}).encode("ascii"))


def _listed(files: Any, top: str, address: str) -> dict[str, _Object]:
    """The objects below an address, by the place that each has in the folder."""
    with _told(address):
        files.invalidate_cache()
        try:
            found = files.find(top, detail=True)
        except FileNotFoundError:
            found = {}
    if not found:
        raise InputError("nothing lies there", where=address, do="name a session, or what sessions lie below")
    if len(found) > MOST_OBJECTS:
        raise RefusedFile(
            f"more than {MOST_OBJECTS:,} objects lie there", where=address, do="name what the sessions lie below"
        )
    listed: dict[str, _Object] = {}
    for key, info in found.items():
        name = str(key)[len(top) :].lstrip("/")
        if not name or name.endswith("/") or info.get("type") == "directory":
            continue
        if not _is_plain(name):
            raise RefusedFile(
                "the name of an object there is no path", where=f"{address}: {name[:200]!r}", do="give it another name"
            )
        version = next((str(info[one]) for one in _VERSIONS if info.get(one)), "")
        listed[name] = _Object(str(key), int(info.get("size") or 0), version)
    total = sum(one.size for one in listed.values())
    if total > MOST_BYTES:
        raise RefusedFile(
            f"{total >> 30} GiB lie there, and {MOST_BYTES >> 30} are fetched at most",
            where=address,
            do="name what the sessions lie below",
        )
    return listed


def _is_plain(name: str) -> bool:
    parts = name.split("/")
    return all(
        part not in ("", ".", "..", ".git")
        and len(part.encode("utf-8", "surrogatepass")) <= _MOST_PART
        and "\\" not in part
        and part.isprintable()
        for part in parts
    )


def _fetch(files: Any, one: _Object, place: Path) -> None:
    handle, half = tempfile.mkstemp(dir=place.parents[0], prefix=".half-")
    try:
        with os.fdopen(handle, "wb") as out, files.open(one.key, "rb") as source:
            left = one.size
            while left and (block := source.read(min(left, _BLOCK))):
                out.write(block)
                left -= len(block)
        if left:
            raise FileNotFoundError(one.key)  # shorter than it was: it is listed again
        os.replace(half, place)
    finally:
        Path(half).unlink(missing_ok=True)


@contextmanager
def _told(address: str) -> Iterator[None]:
    """What a storage raises, told by its kind alone: its texts may hold what nobody is to see."""
    try:
        yield
    except (MixlintError, FileNotFoundError):
        raise
    except Exception as fault:  # noqa: BLE001 - each storage raises what it likes
        refused = isinstance(fault, PermissionError) or "Credential" in type(fault).__name__
        what = "the storage refuses it" if refused else f"the storage cannot be read ({type(fault).__name__})"
        do = "see that the settings of fsspec, in the environment or its own files, let you read there"
        raise InputError(what, where=address, do=do) from None


def _read_index(index: Path) -> dict[str, list[Any]]:
    try:
        found = json.loads(index.read_bytes())
    except (OSError, ValueError, RecursionError):
        return {}
    return (
        {str(name): what for name, what in found.items() if isinstance(what, list)} if isinstance(found, dict) else {}
    )


def _write(place: Path, content: bytes) -> None:
    half = place.with_suffix(f".{os.getpid()}.half")
    half.write_bytes(content)
    os.replace(half, place)


def _tidy(but: Path) -> None:
    """Remove what was not used for longest, where all that is kept is more than it may be."""
    sizes = []
    for one in but.parent.iterdir():
        with suppress(OSError):
            size = sum(file.lstat().st_size for file in one.rglob("*") if file.is_file())
            sizes.append((one.stat().st_mtime_ns, size, one))
    total = sum(size for _, size, _ in sizes)
    for _, size, one in sorted(sizes):
        if total <= MOST_BYTES:
            return
        if one != but:
            shutil.rmtree(one, ignore_errors=True)
            total -= size


def _quiet() -> None:
    import logging

    for name in ("fsspec", "s3fs", "botocore", "aiobotocore"):
        logging.getLogger(name).setLevel(logging.CRITICAL + 1)
