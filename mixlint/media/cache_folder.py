"""Where measures are kept between runs."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Final

from mixlint.notices import notice
from mixlint.plain_files import open_to_others

SHARED: Final = "MIXLINT_CACHE_SHARED"
"""Set to ``yes``, a cache folder is used that others may write to."""


def cache_folder() -> Path | None:
    """The folder in which measures are kept, or None when they are not kept.

    ``MIXLINT_CACHE`` names the folder, and keeps nothing when it is set to nothing; else it is the user's own cache
    folder. One that cannot be written to is not used: a measure is then made again, and nothing else changes.

    Whoever can write there decides what a review hears. So a folder that belongs to another user, or that its mode lets
    others write to, is not used either, with a word about it, unless :data:`SHARED` says ``yes``. Where a system keeps
    no such modes (Windows) this cannot be known, and the folder is used: a user's own cache folder lies there in a
    profile that others may not write to. Of a folder on a network the server's word counts.
    """
    named = os.environ.get("MIXLINT_CACHE")
    if named == "":
        return None
    home = os.environ.get("XDG_CACHE_HOME") or os.environ.get("LOCALAPPDATA") or os.path.expanduser("~/.cache")
    folder = Path(named) if named else Path(home) / "mixlint"
    if not folder.is_absolute():
        folder = folder.resolve() if named else folder
    nearest = next((one for one in (folder, *folder.parents) if one.exists()), None)
    writable = nearest is not None and nearest.is_dir() and os.access(nearest, os.W_OK)
    if nearest is None or not writable or not folder.is_absolute():
        return None
    return folder if _safe(folder, nearest, ours=not named) else None


def _safe(folder: Path, nearest: Path, *, ours: bool) -> bool:
    """Whether the folder may be used; ``ours`` is one that mixlint made and that holds nothing else."""
    if os.environ.get(SHARED, "").casefold() in ("yes", "1", "true"):
        return True
    try:
        if nearest != folder:  # made now, so that nobody else makes it first
            folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        elif ours and hasattr(os, "geteuid") and folder.stat().st_uid == os.geteuid():
            # Version 0.1.0 made it with the mode that the user's other folders have.
            folder.chmod(folder.stat().st_mode & 0o755)
        why = open_to_others(folder)
    except OSError:
        return False  # as one that cannot be written to
    if why:
        notice(
            f"measures of audio are not kept in {folder}: {why}, and could change what a review hears. Make it your "
            f"own (chmod go-w), name another with MIXLINT_CACHE, or set {SHARED}=yes where you trust all who can write "
            "there"
        )
    return not why
