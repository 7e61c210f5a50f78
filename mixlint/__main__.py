"""``python -m mixlint`` runs the same command line as ``mixlint``."""

from mixlint.cli import main

if __name__ == "__main__":
    main()
