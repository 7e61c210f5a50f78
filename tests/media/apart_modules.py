"""What runs in a process of its own in the tests: ``python -m tests.media.apart_modules WHAT``."""

from __future__ import annotations

import sys
import time

from mixlint.media.apart import limit_memory


def main(what: str) -> None:
    """Do as asked."""
    limit_memory(1 << 30)
    if what == "hangs":
        time.sleep(600)
    elif what == "grows":
        bytearray(2 << 30)
    elif what == "talks":
        print("x" * 100_000)
    elif what == "complains":
        print("a word of the library", file=sys.stderr)
        print("answer")


if __name__ == "__main__":
    main(sys.argv[1])
