"""``python -m mixlint`` runs the same command line as ``mixlint``."""

from mixlint.cli import main


def _off_the_path() -> None:
    """Python puts the folder it was started in first. A stranger's session may lie there: no module of his is run."""
    import os
    import sys

    here = os.path.realpath(os.curdir)
    home = os.path.realpath(os.path.dirname(os.path.dirname(__file__)))
    if sys.path and os.path.realpath(sys.path[0]) == here != home:
        del sys.path[0]


if __name__ == "__main__":
    main(_off_the_path)
