"""The process in which an AAF is read: ``python -m mixlint.importers.aaf.worker FILE`` prints one JSON object.

``{"session": …}`` holds the session in the native form; ``{"error": …}`` an error of :mod:`mixlint.errors` by its name.
The library raises whatever Python raises where a file is damaged, so that everything is taken for damage here.
"""

from __future__ import annotations

import json
import logging
import os
import sys
from pathlib import Path

from mixlint.errors import InputError
from mixlint.media.apart import end_with_caller, limit_memory


def main(arguments: list[str]) -> int:
    """Read a file and print what came of it; the exit status is 0 wherever there is an answer."""
    limit_memory()
    end_with_caller()
    logging.disable(logging.CRITICAL)
    answer = os.fdopen(os.dup(sys.stdout.fileno()), "w", encoding="utf-8", newline="\n")
    sys.stdout = sys.stderr  # what the library prints is no answer
    with answer:
        json.dump(_read(Path(arguments[0])), answer, ensure_ascii=False)
    return 0


def _read(path: Path) -> dict[str, object]:
    from mixlint.importers.aaf.assembly import session_of

    try:
        return {"session": session_of(path).json_text()}
    except InputError as fault:
        return _error(type(fault).__name__, fault.what, fault.do)
    except MemoryError:
        return _error("RefusedFile", "it takes more memory than any session needs", "export a smaller composition")
    except Exception:  # noqa: BLE001 - the library raises anything at all where a file is damaged
        return _error("BrokenFile", "the file is damaged or cut short", "copy or export the file again")


def _error(kind: str, what: str, do: str) -> dict[str, object]:
    return {"error": {"kind": kind, "what": what, "do": do}}


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
