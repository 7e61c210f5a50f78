"""What a name says: the part a channel plays and what a processor does, as evidence with its ground.

It holds generic words of the trade in several languages and no brands; a house adds its own table.
"""

from mixlint.naming.pairs import pair_kind, side_of, stem_of
from mixlint.naming.processors import read_processor
from mixlint.naming.reading import Reading
from mixlint.naming.roles import family_of, read_roles
from mixlint.naming.words import FAMILIES, ROLE_FAMILIES, ROLES

__all__ = [
    "FAMILIES",
    "ROLES",
    "ROLE_FAMILIES",
    "Reading",
    "family_of",
    "pair_kind",
    "read_processor",
    "read_roles",
    "side_of",
    "stem_of",
]
