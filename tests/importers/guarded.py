"""Read files one after another in a process of its own, reporting time, peak memory and what was raised.

``python guarded.py LIST`` where LIST holds one path per line; one JSON object per line comes out.
"""

from __future__ import annotations

import json
import resource
import sys
import time
from pathlib import Path

from mixlint import importers
from mixlint.errors import MixlintError


def peak_mb() -> float:
    """The most memory this process has held since the figure was last reset."""
    return int(Path("/proc/self/status").read_text(encoding="ascii").split("VmHWM:")[1].split()[0]) / 1024.0


def main() -> None:
    """Read every file of the list."""
    # A net below the one the importers hold: no file may take down the machine.
    resource.setrlimit(resource.RLIMIT_AS, (2 << 30, 2 << 30))
    for line in Path(sys.argv[1]).read_text(encoding="utf-8").splitlines():
        Path("/proc/self/clear_refs").write_text("5", encoding="ascii")
        start = time.perf_counter()
        said = {"raised": "", "message": ""}
        try:
            importers.read(Path(line))
        except MixlintError as refusal:
            said = {"raised": type(refusal).__name__, "message": str(refusal), "do": refusal.do, "where": refusal.where}
        print(json.dumps({"s": time.perf_counter() - start, "mb": peak_mb(), **said}), flush=True)


if __name__ == "__main__":
    main()
