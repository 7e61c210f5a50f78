"""What a name says: the part a channel plays and what a processor does, as evidence with its ground.

The words it goes by are those of ``rules/words``: generic words of the trade in several languages and no brands; a
house adds its own.
"""

from mixlint.naming.families import FAMILIES, ROLE_FAMILIES, ROLES, family_of
from mixlint.naming.fold import fits_pattern, fold_name
from mixlint.naming.marks import (
    chosen_beside,
    copied_from,
    ends_song,
    is_alternate,
    is_chorus,
    is_direct,
    is_drum_bass,
    is_dry,
    is_frozen,
    is_instrument_audio,
    is_mid_side,
    is_placeholder,
    is_polarity,
    is_print,
    is_stem,
    is_take_of,
    is_untitled,
    name_words,
    reaches_low,
    take_of,
    takes_turns,
    without_print_number,
    without_print_words,
    words_without_print,
)
from mixlint.naming.processor_reading import read_processor
from mixlint.naming.reading import Reading
from mixlint.naming.role_reading import families_named, read_roles
from mixlint.naming.sides_and_pairs import mid_or_side, name_without_side, pair_kind, side_of, stand_opposite, stem_of
from mixlint.naming.vocabulary import SHIPPED, Vocabulary

__all__ = [
    "FAMILIES",
    "ROLES",
    "ROLE_FAMILIES",
    "SHIPPED",
    "Reading",
    "Vocabulary",
    "chosen_beside",
    "copied_from",
    "ends_song",
    "families_named",
    "family_of",
    "fits_pattern",
    "fold_name",
    "is_alternate",
    "is_chorus",
    "is_direct",
    "is_drum_bass",
    "is_dry",
    "is_frozen",
    "is_instrument_audio",
    "is_mid_side",
    "is_placeholder",
    "is_polarity",
    "is_print",
    "is_stem",
    "is_take_of",
    "is_untitled",
    "mid_or_side",
    "name_without_side",
    "name_words",
    "pair_kind",
    "reaches_low",
    "read_processor",
    "read_roles",
    "side_of",
    "stand_opposite",
    "stem_of",
    "take_of",
    "takes_turns",
    "without_print_number",
    "without_print_words",
    "words_without_print",
]
