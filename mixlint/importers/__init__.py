"""One file per input form: a file in, a Session out, with a note for everything assumed or lost.

It judges nothing and never guesses silently.
"""

from mixlint.importers.entry import digest, discover, read
from mixlint.importers.registry import IMPORTERS, STEMS, Importer

__all__ = ["IMPORTERS", "STEMS", "Importer", "digest", "discover", "read"]
