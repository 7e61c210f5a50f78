"""``python -m mixlint`` runs the same command line as ``mixlint``."""

import os
import sys

from mixlint.cli import main

if __name__ == "__main__":
    here = os.path.realpath(os.curdir)
    home = os.path.realpath(os.path.dirname(os.path.dirname(__file__)))
    if sys.path and os.path.realpath(sys.path[0]) == here != home:
        # Python puts the folder it was started in first. A stranger's session may lie there: no module of his is run.
        del sys.path[0]
    main()
