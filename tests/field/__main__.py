"""``python -m tests.field [PART ...] [--show missed]``: what the checklist finds of faults that engineers planted."""

from __future__ import annotations

import argparse

from tests.field.score import CAUGHT, PARTS, UNWANTED, Score, by_class, score


def main() -> int:
    """Read the command line, review, and print a table by class, then the rows asked for."""
    parser = argparse.ArgumentParser(prog="python -m tests.field", description=__doc__)
    parser.add_argument("parts", nargs="*", metavar="PART", help=f"of {', '.join(PARTS)}; all of them without it")
    parser.add_argument("--show", action="append", default=[], choices=("caught", "light", "asked", "missed", "wrong"))
    given = parser.parse_args()
    found = score(tuple(given.parts) or PARTS)
    table(found)
    for one in found.faults:
        if one.came in given.show:
            print(f"\n{one.came}: {one.session} {one.fault} ({one.kind}, {one.grade}; outcome {one.outcome})")
            print(f"  wanted: {one.says}")
            for line in one.told:
                print(f"  told: {line}")
            for line in one.elsewhere:
                print(f"  elsewhere: {line}")
    if "wrong" in given.show:
        for session, rows in found.unwanted.items():
            for line in rows:
                print(f"\nnobody asked for: {session}: {line}")
    return 0 if found.share >= CAUGHT and found.unwanted_on_average <= UNWANTED else 1


def table(found: Score) -> None:
    """How many faults of each class came out how, and how many rows on good sessions nobody asked for."""
    print(f"{'class':<30} caught  light  asked missed")
    for kind, counted in by_class(found).items():
        print(f"{kind:<30} {counted['caught']:>6} {counted['light']:>6} {counted['asked']:>6} {counted['missed']:>6}")
    print(f"{len(found.faults)} faults, {found.share:.0%} caught")
    print("rows on good sessions that nobody asked for, and questions:")
    for session, rows in found.unwanted.items():
        print(f"  {session:<30} {len(rows):>3} {found.questions[session]:>3}")


if __name__ == "__main__":
    raise SystemExit(main())
