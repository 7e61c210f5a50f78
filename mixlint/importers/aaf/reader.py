"""An AAF from the outside: the extra it needs, the process that reads it, and what its answer means."""

from __future__ import annotations

import json
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from mixlint import errors
from mixlint.errors import BrokenFile, InputError, NotASession, RefusedFile
from mixlint.importers import native
from mixlint.importers.aaf.ids import is_aaf
from mixlint.importers.aaf.losses import CARRIES, LOSES
from mixlint.media.apart import MOST_SECONDS, run_apart
from mixlint.media.container import Container
from mixlint.session import Session

__all__ = ["CARRIES", "LOSES", "read"]


def read(container: Container) -> Session:
    """Read an AAF.

    Args:
        container: the file.

    Raises:
        NotASession: it is no AAF, or holds no composition with sound.
        BrokenFile: it is damaged.
        RefusedFile: reading it takes more time or memory than any session needs.
        InputError: what reads it is not installed.
    """
    path = container.path
    _look(path)
    if not _installed():
        raise InputError(
            "what reads an AAF is not installed", where=str(path), do="install it: pip install 'mixlint[aaf]'"
        )
    try:
        done = run_apart("mixlint.importers.aaf.worker", [str(path.resolve())])
    except OSError as fault:
        raise InputError(
            f"the process that reads an AAF cannot be started ({fault.strerror or fault})",
            where=str(path),
            do="free memory or processes and try again",
        ) from None
    if done.ended == "late":
        raise RefusedFile(
            f"it was not read within {MOST_SECONDS:.0f} s; the file is damaged, or larger than any session",
            where=str(path),
            do="copy or export the file again",
        )
    if done.ended == "large":
        raise RefusedFile("it unfolds into more than any session holds", where=str(path), do="export a smaller session")
    try:
        answer: Any = json.loads(done.answer)
    except ValueError:
        answer = {}
    if "session" in answer:
        return native.parse(answer["session"], str(path))
    told = answer.get("error") or {}
    kinds: dict[str, type[InputError]] = {
        one.__name__: one for one in (InputError, NotASession, BrokenFile, RefusedFile)
    }
    raise kinds.get(told.get("kind", ""), errors.BrokenFile)(
        told.get("what", "the file is damaged: what reads it did not come to an end"),
        where=str(path),
        do=told.get("do", "copy or export the file again"),
    )


def _look(path: Path) -> None:
    """Tell what the first bytes tell, before anything is started."""
    try:
        with path.open("rb") as file:
            head = file.read(24)
    except OSError as fault:
        raise InputError(
            f"it cannot be read ({fault.strerror or fault})", where=str(path), do="check the path"
        ) from None
    if not head:
        raise BrokenFile("the file is empty", where=str(path), do="copy or export the file again")
    if not is_aaf(head):
        raise NotASession(
            "it is called .aaf, and is none by its first bytes", where=str(path), do="export the session as AAF"
        )


def _installed() -> bool:
    try:
        return find_spec("aaf2") is not None
    except (ImportError, ValueError):
        return False
