"""How names are held against each other from one revision to the next, and from a sign-off to a session."""

from __future__ import annotations


def folded(name: str) -> str:
    """A name as it is compared: letter case and spacing aside.

    Accents and everything else count. The hashes in sign-off files and approvals and the fingerprints in reports are
    made of names folded this way, so it must stay as it is for as long as those files are read.

    Args:
        name: a name as somebody wrote it.

    Returns:
        The name case-folded, without white space around it, and with one space for any run of it.
    """
    return " ".join(name.casefold().split())
