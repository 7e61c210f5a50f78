"""``python -m tests.naming.measured [FOLDER ...] [--show roles:wrong]``: how well names are read."""

from __future__ import annotations

import argparse
from pathlib import Path

from tests.naming.measured.lists import HERE, lists_in
from tests.naming.measured.scoring import SUBJECTS, score


def main() -> int:
    """Read the command line, measure, and print a table, then the names asked for."""
    parser = argparse.ArgumentParser(prog="python -m tests.naming.measured", description=__doc__)
    parser.add_argument("folders", nargs="*", type=Path, help="folders of lists; all that come with the tests without")
    parser.add_argument("--show", action="append", default=[], metavar="SUBJECT[:wrong|:open]")
    given = parser.parse_args()
    found = score(lists_in(*(given.folders or [HERE])))
    print(found.table())
    for shown in given.show:
        subject, _, came = shown.partition(":")
        if subject not in SUBJECTS:
            parser.error(f"there is no subject {subject}; it is one of {', '.join(SUBJECTS)}")
        for one in found.missed:
            if one.subject == subject and came in ("", one.came):
                print(f"{one.came}\t{one.file}\t{one.name}\t{one.wanted}\t{one.said}\t{one.grounds}")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
