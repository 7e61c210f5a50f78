"""The roles that a house defines itself, where the name of a channel or of its folder speaks of one."""

from __future__ import annotations

from mixlint.naming.families import family_of
from mixlint.naming.house_roles import HouseRole
from mixlint.naming.reading import Reading, ambiguous, resolved
from mixlint.naming.vocabulary import Vocabulary
from mixlint.naming.word_lookup import Word


def own_role(reading: Reading, found: tuple[Word, ...], vocabulary: Vocabulary) -> Reading:
    """A reading by mixlint's words, or the house's own role that the name speaks of.

    The role holds where the name is read as one of its family. A group, a return or a click that bears the word stays
    what it is, and a name with the word of another part beside it is as open as it is with shipped words.

    Args:
        reading: what the name is read as by the shipped roles.
        found: the words of the name.
        vocabulary: the words in force.
    """
    if reading.word is None or reading.word in vocabulary.own_roles:
        return reading
    spoken = [w for w in found if vocabulary.own_roles_in(w.concepts)]
    roles = _of_family(reading.word, vocabulary.own_roles_in(c for w in spoken for c in w.concepts))
    if len(roles) == 1:
        text = next(w.text for w in spoken if roles[0] in vocabulary.own_roles_in(w.concepts))
        return resolved(roles[0].name, f"'{text}' in the name is the house's word for {roles[0].name}")
    if roles:
        return ambiguous(f"could be {' or '.join(role.name for role in roles)}: the name has words of each")
    return reading


def role_of_place(role: str, concepts: frozenset[str], vocabulary: Vocabulary) -> str:
    """The role of a part by the name of its folder or group: a shipped one, or the house's own that the name says."""
    own = _of_family(role, vocabulary.own_roles_in(concepts))
    return own[0].name if len(own) == 1 else role


def _of_family(role: str, roles: tuple[HouseRole, ...]) -> tuple[HouseRole, ...]:
    """Those of some roles that are of the family of a shipped one; the mix bus is nothing but that."""
    family = family_of(role)
    return tuple(one for one in roles if one.family == family and (role != "mix-bus" or one.like == role))
