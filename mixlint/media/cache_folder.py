"""Where measures are kept between runs."""

from __future__ import annotations

import os
from pathlib import Path


def cache_folder() -> Path | None:
    """The folder in which measures are kept, or None when they are not kept.

    ``MIXLINT_CACHE`` names the folder, and keeps nothing when it is set to nothing; else it is the user's own cache
    folder. One that cannot be written to is not used: a measure is then made again, and nothing else changes.
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
    return folder if writable and folder.is_absolute() else None
