"""How a path is written in a report."""

from __future__ import annotations

import os
import re
from functools import lru_cache
from hashlib import sha256
from pathlib import Path
from typing import Final

TREE: Final = "tree"
"""The folder that holds what was fetched from an address."""
ADDRESS: Final = "address"
"""The file beside it that says which."""

_LOOKS: Final = re.compile(r"([A-Za-z][A-Za-z0-9+.-]+):/{1,2}(?!/)")
_STANDS_FOR: Final[dict[str, str]] = {}
"""The addresses that were fetched in this run, by the folders that stand for them."""

_FETCHED: Final = re.compile(rf"(.*[/\\]([0-9a-f]{{32}}))[/\\]{TREE}(?:[/\\](.*))?", re.DOTALL)


def shown(path: Path) -> str:
    """A path as it can stand in a report: bytes that are no text become ``�``; of what was fetched its address."""
    told = os.fsencode(path).decode("utf-8", "replace")
    found = _FETCHED.fullmatch(told)
    if found is None or not (address := _address(found[1], found[2])):
        return told
    return f"{address}/{found[3].replace(os.sep, '/')}" if found[3] else address


@lru_cache(maxsize=256)
def _address(folder: str, name: str) -> str:
    """The address that a folder stands for; empty where it stands for none."""
    try:
        told = Path(folder, ADDRESS).read_text(encoding="utf-8", errors="surrogatepass")
    except (OSError, ValueError):
        return ""
    return told if sha256(told.encode("utf-8", "surrogatepass")).hexdigest()[:32] == name else ""


def stands_for(folder: Path, address: str) -> None:
    """Keep that a folder stands for an address, for messages."""
    _STANDS_FOR[str(folder)] = address


def anything_fetched() -> bool:
    """Whether anything was fetched in this run."""
    return bool(_STANDS_FOR)


def is_fetched(path: Path) -> bool:
    """Whether a path lies in a folder that stands for an address, so that nothing that is written there lasts."""
    return shown(path) != os.fsencode(path).decode("utf-8", "replace")


def as_named(text: str) -> str:
    """A message with the addresses in place of the folders that stand for them."""
    for folder, address in _STANDS_FOR.items():
        text = text.replace(folder, address)
    return text


def address_of(path: str | os.PathLike[str]) -> str | None:
    """The address that a path is; None for a path on this machine.

    Args:
        path: as it was typed; one slash behind the protocol is taken for the two that a path loses.
    """
    typed = os.fspath(path)
    found = _LOOKS.match(typed)
    if found is None or (os.name == "nt" and len(found[1]) == 1) or os.path.lexists(typed):
        return None
    return f"{found[1].lower()}://{typed[found.end() :]}"


def refuse_address(path: str | os.PathLike[str] | None) -> None:
    """Refuse to write to an address, or to do with it what only a session on this machine serves for.

    Raises:
        InputError: it is one.
    """
    from mixlint.errors import InputError

    if path is not None and (address := address_of(path)) is not None:
        raise InputError(
            "only review reads object storage, and nothing is written there",
            where=without_login(address),
            do="fetch the session into a folder, and name that",
        )


def without_login(address: str) -> str:
    """An address without a name and a password that stand in it."""
    return re.sub(r"(?<=://)[^/]*@", "", address)
