"""ZIP files that are the same to the byte on every machine."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping


def stored(members: Mapping[str, bytes]) -> bytes:
    """A ZIP file of ``members`` in the given order, stored and dated 1980-01-01.

    Nothing is deflated: two releases of a compression library may write different bytes for one input.
    """
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_STORED) as archive:
        for name, data in members.items():
            entry = zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0))
            entry.create_system = 3  # otherwise it names the system it was built on
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, data)
    return target.getvalue()
