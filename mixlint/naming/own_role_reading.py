"""The roles that a house defines itself, where the name of a channel or of its folder speaks of one."""

from __future__ import annotations

from mixlint.naming.families import family_of, generic_role
from mixlint.naming.house_roles import HouseRole, read_as
from mixlint.naming.reading import Reading, ambiguous, resolved
from mixlint.naming.surroundings import concepts_of
from mixlint.naming.vocabulary import Vocabulary
from mixlint.naming.word_lookup import Word


def own_role(reading: Reading, found: tuple[Word, ...], vocabulary: Vocabulary) -> Reading:
    """A reading by mixlint's words, or the house's own role that the name speaks of.

    The role holds where the name is read as one of its family, unless another word says outright which: the overheads
    of a kit of the house's are overheads. A group, a return or a click that bears the word stays what it is, and a name
    with the word of another part beside it is as open as it is with shipped words.

    Args:
        reading: what the name is read as by the shipped roles.
        found: the words of the name.
        vocabulary: the words in force.
    """
    spoken = [w for w in found if vocabulary.own_roles_in(w.concepts)]
    if reading.word is None and spoken:
        return ambiguous(*(_in_own_words(ground, spoken, vocabulary) for ground in reading.grounds))
    if reading.word is None or reading.word in vocabulary.own_roles:
        return reading
    others = concepts_of(tuple(w for w in found if w not in spoken))
    roles = tuple(
        role
        for role in _of_family(reading.word, vocabulary.own_roles_in(c for w in spoken for c in w.concepts))
        if not _is_another(reading.word, role, others)
    )
    if len(roles) == 1:
        text = next(w.text for w in spoken if roles[0] in vocabulary.own_roles_in(w.concepts))
        return resolved(roles[0].name, f"'{text}' in the name is the house's word for {roles[0].name}")
    if roles:
        return ambiguous(f"could be {' or '.join(role.name for role in roles)}: the name has words of each")
    return reading


def _in_own_words(ground: str, spoken: list[Word], vocabulary: Vocabulary) -> str:
    """``could be percussion ('trough') or snare``, with the house's role in the place of what it is like."""
    for word in spoken:
        for role in vocabulary.own_roles_in(word.concepts):
            ground = ground.replace(f"{read_as(role.like)} ('{word.text}')", f"{role.name} ('{word.text}')")
    return ground


def role_of_place(role: str, concepts: frozenset[str], vocabulary: Vocabulary) -> str:
    """The role of a part by the name of its folder or group: a shipped one, or the house's own that the name says."""
    own = _of_family(role, vocabulary.own_roles_in(concepts))
    return own[0].name if len(own) == 1 else role


def _of_family(role: str, roles: tuple[HouseRole, ...]) -> tuple[HouseRole, ...]:
    """Those of some roles that are of the family of a shipped one; the mix bus is nothing but that."""
    family = family_of(role)
    return tuple(one for one in roles if one.family == family and (role != "mix-bus" or one.like == role))


def _is_another(read: str, role: HouseRole, others: frozenset[str]) -> bool:
    """True where a name is read as another role of the family than the house's can be.

    That is so where the house's is like one in particular, and the name is read as another: ``Frontman Dbl`` is a
    double, and no leading voice. Where it is like the family's general one, another word has to say so, or be that for
    the room of a kit.
    """
    generic = generic_role(role.family)
    if read in (role.like, generic, read_as(role.like)):
        return False
    return role.like != generic or read_as(read) in others or (read == "drum-room" and "room" in others)
