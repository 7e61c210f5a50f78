"""``python -m tests.field.sound [PART ...] [--show missed]``: what is heard of the faults that engineers planted."""

from __future__ import annotations

import argparse
from collections import Counter

from tests.field.sound.score import PARTS, score


def main() -> int:
    """Read the command line, review, and print a table by song, then the rows asked for."""
    parser = argparse.ArgumentParser(prog="python -m tests.field.sound", description=__doc__)
    parser.add_argument("parts", nargs="*", metavar="PART", help=f"of {', '.join(PARTS)}; all of them without it")
    parser.add_argument("--only", default="", metavar="SONG[/FAULT]")
    parser.add_argument("--show", action="append", default=[], choices=("caught", "light", "asked", "missed", "wrong"))
    given = parser.parse_args()
    found = score(tuple(given.parts) or PARTS, given.only)
    print(f"{'song':<24} caught  light  asked missed   rows nobody asked for")
    for song, rows in found.unwanted.items():
        counted = Counter(one.came for one in found.faults if one.session == song)
        figures = "".join(f"{counted[came]:>7}" for came in ("caught", "light", "asked", "missed"))
        print(f"{song:<24}{figures} {len(rows):>24}")
    print(f"{len(found.faults)} faults, {found.share:.0%} told on the right file or channel")
    for one in found.faults:
        if one.came in given.show:
            print(f"\n{one.came}: {one.session}/{one.fault} ({one.kind}, {one.grade}; outcome {one.outcome})")
            print(f"  wanted: {one.says}")
            print("".join(f"  told: {line}\n" for line in one.told), end="")
            print("".join(f"  elsewhere: {line}\n" for line in one.elsewhere), end="")
    if "wrong" in given.show:
        for song, rows in found.unwanted.items():
            print("".join(f"\nnobody asked for: {song}: {line}" for line in rows), end="")
        print()
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
