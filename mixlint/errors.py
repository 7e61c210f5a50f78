"""Every error a reader may meet, drawn as a tree.

::

    MixlintError                 what happened, where, and what to do about it
    ├── InputError               a session, audio or sign-off file cannot be used
    │   ├── NotASession          the file is readable but holds no session mixlint knows
    │   ├── BrokenFile           the file is damaged: truncated, bad checksum, malformed
    │   └── RefusedFile          the file is refused for safety: entities, bombs, climbing names, limits
    └── RulebookError            a rule, standard or word file cannot be used; gathers every fault

All of them end a command with exit status 2 and one message on stderr, never a traceback.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final, NamedTuple


class MixlintError(Exception):
    """An error with its place and its cure.

    Args:
        what: what is wrong, one sentence without a full stop.
        where: the file, and the member, line or key in it; empty where there is none.
        do: what the reader can do about it, one sentence without a full stop.
    """

    def __init__(self, what: str, *, where: str = "", do: str = "") -> None:
        super().__init__(what)
        self.what = what
        self.where = where
        self.do = do

    def __str__(self) -> str:
        """All three parts on one line."""
        place = f"{self.where}: " if self.where else ""
        cure = f". {self.do[0].upper()}{self.do[1:].removesuffix('.')}." if self.do else "."
        if self.do.endswith("?"):
            cure = cure[:-1]
        return f"{place}{self.what}{cure}"


class InputError(MixlintError):
    """A file given by the reader cannot be used."""


class NotASession(InputError):
    """The file can be read but holds no session mixlint knows."""


class BrokenFile(InputError):
    """The file is damaged: truncated, a bad checksum, malformed text."""


class RefusedFile(InputError):
    """The file is refused for safety: it exceeds a limit or uses a forbidden construct."""


class Fault(NamedTuple):
    """One fault in a rule, standard or word file: the file, the key in it, what is wrong, and a suggestion."""

    file: str
    key: str
    what: str
    suggestion: str = ""

    def __str__(self) -> str:
        """``file: key: what (suggestion)``."""
        place = f"{self.file}: {self.key}: " if self.key else f"{self.file}: "
        hint = f" ({self.suggestion})" if self.suggestion else ""
        return f"{place}{self.what}{hint}"


class RulebookError(MixlintError):
    """Rule, standard or word files cannot be used; every fault is gathered before this is raised."""

    def __init__(self, faults: list[Fault]) -> None:
        count = "one fault" if len(faults) == 1 else f"{len(faults)} faults"
        super().__init__(f"the rules cannot be used: {count}", do="correct each line below")
        self.faults = tuple(faults)

    def __str__(self) -> str:
        """The heading, then one line per fault."""
        return "\n  ".join([super().__str__(), *(str(fault) for fault in self.faults)])


LISTED: Final = 16
"""Up to this many choices are all named when none comes close to what was written."""


def suggestion(typed: str, known: Iterable[str]) -> str:
    """The known name nearest to ``typed``, capitals aside, or nothing."""
    from difflib import get_close_matches

    folded = {name.casefold(): name for name in known}
    near = get_close_matches(typed.casefold(), folded, n=1)
    return folded[near[0]] if near else ""


def near(word: str, choices: Iterable[str]) -> str:
    """``did you mean …?`` for a misspelt word; else the choices when they are few; else nothing."""
    from difflib import get_close_matches

    known = list(dict.fromkeys(choices))
    folded = {choice.casefold().replace("_", "-"): choice for choice in known}
    close = get_close_matches(word.casefold().replace("_", "-"), folded, n=1, cutoff=0.6)
    if close:
        return f"did you mean {folded[close[0]]}?"
    if 0 < len(known) <= LISTED:
        return f"there {'is' if len(known) == 1 else 'are'} {', '.join(known)}"
    return ""
