"""``python -m tests.naming_measured [FOLDER ...] [--show roles:wrong] [--calibrate]``: how well names are read."""

from __future__ import annotations

import argparse
from pathlib import Path

from tests.mutation.table import write_between
from tests.naming_measured.calibration import FILE, counted, weak, written
from tests.naming_measured.lists import HERE, labelled_lines, lists_in
from tests.naming_measured.scoring import SUBJECTS, score

NAMING = HERE.parent / "naming"
BEGIN = "<!-- how well names are read: written by python -m tests.naming_measured --write -->"
END = "<!-- end of the names -->"


def main() -> int:
    """Read the command line, measure, and print a table, then the names asked for."""
    parser = argparse.ArgumentParser(prog="python -m tests.naming_measured", description=__doc__)
    parser.add_argument("folders", nargs="*", type=Path, help="folders of lists; all that come with the tests without")
    parser.add_argument("--show", action="append", default=[], metavar="SUBJECT[:wrong|:open]")
    parser.add_argument("--write", type=Path, metavar="FILE", help="write the table between its marks in this file")
    parser.add_argument("--calibrate", action="store_true", help="write the words that tell nothing alone, and stop")
    given = parser.parse_args()
    if given.calibrate:
        counts = counted([*lists_in(*(given.folders or [HERE])), *labelled_lines(NAMING)])
        FILE.write_text(written(counts, FILE.read_text(encoding="utf-8")), encoding="utf-8")
        print(f"{len(weak(counts))} of {len(counts)} words tell nothing alone")
        return 0
    found = score(lists_in(*(given.folders or [HERE])))
    print(found.table())
    if given.write:
        write_between(given.write, found.table(), (BEGIN, END))
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
