"""One file per command: arguments in, exit status out; the only room that prints.

It knows no rule and computes nothing.
"""

from __future__ import annotations


def main() -> None:
    """The command line: ``mixlint`` and ``python -m mixlint``."""
    from mixlint.cli.app import run

    run()
