"""One module per input form: a file in, a Session out, with a note for everything assumed or lost.

It judges nothing and never guesses silently.
"""

from mixlint.importers.entry import digest, discover, read, what_it_keeps
from mixlint.importers.importer import Importer
from mixlint.importers.registry import IMPORTERS, NATIVE, STEMS, all_titles, shown_by

__all__ = [
    "IMPORTERS",
    "NATIVE",
    "STEMS",
    "Importer",
    "all_titles",
    "digest",
    "discover",
    "read",
    "shown_by",
    "what_it_keeps",
]
