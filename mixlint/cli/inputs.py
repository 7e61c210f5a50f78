"""The standard in force for a command, with what its files should say otherwise."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

from mixlint.errors import Fault

if TYPE_CHECKING:
    from mixlint.rulebook import Standard


def standard_for(session: Path | None, named: str | None, told: set[Fault] | None = None) -> Standard:
    """The standard named with ``--standard``, else the one beside the session, else the shipped one.

    What its files should say otherwise goes to stderr; a command that loads several standards gives ``told``, so that
    what two of them share is said once.
    """
    from mixlint.rulebook import load_standard

    standard = load_standard(named, session)
    if standard.notices:
        from mixlint.cli.guard import say

        told = set() if told is None else told
        for notice in standard.notices:
            once = notice._replace(file=os.path.normpath(notice.file))  # two standards may find one file by other ways
            if once not in told:
                told.add(once)
                say(str(once))
    return standard
