"""The part a channel plays, from the words of its name and what surrounds it."""

from __future__ import annotations

from typing import Final

from mixlint.naming.house_roles import OF_ROLE
from mixlint.naming.reading import Reading, ambiguous, resolved
from mixlint.naming.surroundings import Surroundings, concepts_of
from mixlint.naming.vocabulary import Vocabulary
from mixlint.naming.word_lookup import Word

_DRUMS: Final = frozenset({"kick", "snare", "hi-hat", "toms", "overheads", "drum-room", "drums"})
_SINGLE_DRUMS: Final = _DRUMS - {"drums"}
_VOICE: Final = frozenset({"vocal", "lead-vocal", "backing-vocals", "vocal-double"})
PARTS: Final = (
    "kick",
    "snare",
    "hi-hat",
    "toms",
    "overheads",
    "drum-room",
    "drums",
    "percussion",
    "bass",
    "acoustic-guitar",
    "electric-guitar",
    "guitar",
    "plucked",
    "keys",
    "synth",
    "strings",
    "winds",
    "brass",
    "sound-effects",
    "speech",
    "backing-track",
    "main-pair",
    "audience",
)
INSTRUMENT_CONCEPTS: Final = (
    frozenset(PARTS) | _VOICE | {"guitarra", "loop", "programmed", "perkusja", "synth-part", "slide", "sound"}
)

# A part that gives way when one of the others is named with it: "drum" in "Drum OH", "bass" in "Bass Clarinet".
_GIVES_WAY: Final[dict[str, frozenset[str]]] = {
    "drums": _SINGLE_DRUMS | {"percussion", "bass", "sound-effects"},
    "guitar": frozenset({"bass", "plucked", "synth", "acoustic-guitar", "electric-guitar"}),
    "bass": frozenset({"winds", "brass", "kick", "toms"}),
    "keys": frozenset({"synth"}),
    "strings": frozenset({"synth", "bass", "acoustic-guitar"}),
    "winds": frozenset({"synth"}),
    "brass": frozenset({"synth"}),
    "synth": frozenset({"bass", "kick", "snare", "hi-hat", "toms", "drums", "percussion"}),
    "drum-room": frozenset({"percussion"}),
    "plucked": frozenset({"strings"}),
    "speech": frozenset(PARTS) - {"speech"},
    # Where it was set up, beside what it hears.
    "main-pair": frozenset(_DRUMS | {"percussion", "keys", "strings", "winds", "brass", "plucked", "speech", "bass"}),
    "backing-track": _DRUMS | {"percussion"},
}


_STRUCK_DRUMS: Final = frozenset({"snare", "toms", "kick"})
_ANY_PERCUSSION: Final = frozenset({"perc", "percs", "percussion", "prc"})
_ANY_HORNS: Final = frozenset({"horn section", "horns", "hns"})
_ANY_STRINGS: Final = frozenset({"string", "strings", "strs", "str", "archi", "cordes", "cuerdas", "cordas"})
_KIT_PLACES: Final = frozenset({"overheads", "hi-hat", "toms", "snare", "kick"})
_FLOORS: Final = frozenset({"floor", "flr"})
"""Words for the lowest tom that are said of the ground as well."""

_OVERHEADS: Final = frozenset({"oh", "ohs", "over", "overhead", "overheads"})
"""Words for the microphones; the others for cymbals, of which an orchestra has a pair."""

_ADLIBS: Final = frozenset({"ad lib", "ad libs", "adlib", "adlibs"})
_LETTERS: Final = 2
"""A word so short can be anybody's initials."""

_ANY_KEYS: Final = frozenset(
    {"key", "keyboard", "keyboards", "keys", "kbd", "kbds", "kys", "teclado", "clavier", "tasten"}
)
"""Words for keys that leave the instrument open: beside a bass it is a bass played on them."""

_BOWED: Final = (
    "contrab",
    "contreb",
    "kontrab",
    "double bass",
    "string bass",
    "контрабас",
    "kontrabas",
    "コントラバス",
)
"""How words for the bass of an orchestra begin."""

_EFFECTS_FIRST: Final = frozenset({"sfx", "sound effect", "sound effects", "sound fx", "foley"})
"""Words that make a sound effect of whatever is named with them."""


_PADS: Final = frozenset({"pad", "pads", "пад", "пэд"})


def read_part(found: tuple[Word, ...], near: Surroundings, vocabulary: Vocabulary) -> Reading | None:
    """The instrument or voice a name tells of.

    Args:
        found: the words of the name.
        near: what surrounds it.
        vocabulary: the words in force.

    Returns:
        A role, or an ambiguous reading with its reason when the words speak for several; None when they speak for no
        part.
    """
    concepts = concepts_of(found)
    if concepts & _VOICE:
        return _voice(found, concepts, near, vocabulary)
    roles = _named(found, concepts, near)
    if "lead" in concepts and roles and all(len(text) <= _LETTERS for text in roles.values()):
        roles = {}  # two letters beside a whole word: "LEAD spare HH"
    if not roles:
        return _hinted(found, concepts, near, vocabulary)
    if roles.keys() == {"bass", "strings"} and roles["strings"] not in _ANY_STRINGS:
        del roles["bass"]  # the low line of a cello
    if roles.keys() & {"overheads"} and roles.keys() <= _KIT_PLACES and _first(found, roles) == "overheads":
        roles = {"overheads": roles["overheads"]}  # "OH Hat": the overhead over the hi-hat
    if len(roles) > 1 and roles.get("percussion", "") in _ANY_PERCUSSION and roles.keys() & _STRUCK_DRUMS:
        del roles["percussion"]
    if roles.keys() == {"brass", "winds"} and roles["brass"] in _ANY_HORNS:
        del roles["brass"]  # "Horns Sax": the section, then who it is
    # Of parts that give way in a ring ("Bass Trumpet Synth") none is left: then all of them stay.
    roles = {
        role: text for role, text in roles.items() if not _GIVES_WAY.get(role, frozenset()) & roles.keys()
    } or roles
    if roles.get("percussion") in _STRUCK and (near.plays == "notes" or near.placed("synth")):
        return resolved("synth", f"'{roles['percussion']}' played by an instrument")
    # A two-letter word is read only when nothing longer speaks for another part.
    roles = {r: t for r, t in roles.items() if len(t) > 2 or not any(len(o) > 2 for o in roles.values())}
    if roles.keys() & {"sound-effects"} and roles["sound-effects"] in _EFFECTS_FIRST:
        return resolved("sound-effects", f"'{roles['sound-effects']}' in the name, whatever makes the sound")
    if roles.get("bass") == "808" and len(roles) > 1:
        del roles["bass"]
    if roles.keys() == {"bass", "keys"} and roles["keys"] not in _ANY_KEYS:
        del roles["bass"]  # the basses of an accordion, the low microphone of a piano
    if roles.keys() == {"synth", "drums"} and roles["synth"] in _PADS:
        del roles["synth"]  # a drummer's pads
    if "keys" in concepts and roles.keys() == {"synth"} and roles["synth"] in _PADS:
        return ambiguous("keys with a pad can be either")
    if {"kick", "snare"} <= roles.keys():
        roles = {"drums": f"{roles['kick']} and {roles['snare']}"}
    if len(roles) > 1:
        return ambiguous(_several(roles))
    ((role, text),) = roles.items()
    if role == "bass" and near.brass_band:
        return ambiguous(f"'{text}' among brass alone can be a tuba or a bass")
    if role == "bass" and near.orchestra and near.string_section and any(text.startswith(bowed) for bowed in _BOWED):
        return resolved("strings", f"'{text}' in an orchestra")
    if role == "overheads" and near.orchestra and text not in _OVERHEADS:
        return resolved("percussion", f"'{text}' in an orchestra")
    if role == "overheads" and text == "over" and not near.drum_session and not near.placed(*_DRUMS):
        return ambiguous("'over' can be an overhead, or how a part is played or lies")
    if role == "bass" and near.registers_elsewhere and not near.drum_session and not near.placed("bass"):
        return ambiguous(f"'{text}' beside soprano, alto or tenor can be sung or played")
    if role == "toms" and text in _FLOORS and not near.drum_session and not near.placed(*_DRUMS):
        return ambiguous(f"'{text}' without a drum kit can be where a microphone stands")
    if role == "drums" and text == "drum" and near.unread:
        return ambiguous(f"'drum' with '{near.unread[0]}' can be a drum of any kind")
    if role == "guitar":
        return _guitar(text, concepts, near)
    if role == "drum-room" and near.kind == "return":
        return None
    return resolved(role, f"'{text}' in the name")


def _first(found: tuple[Word, ...], roles: dict[str, str]) -> str | None:
    """The one of some roles whose word stands first in the name."""
    return next((role for word in found for role, text in roles.items() if word.text == text), None)


def _text(found: tuple[Word, ...], *concepts: str) -> str:
    """The first word, as written, that stands for one of ``concepts``."""
    return next(w.text for w in found if not set(concepts).isdisjoint(w.concepts))


def _several(roles: dict[str, str]) -> str:
    return "could be " + " or ".join(f"{role} ('{text}')" for role, text in roles.items())


def _named(found: tuple[Word, ...], concepts: frozenset[str], near: Surroundings) -> dict[str, str]:
    """Roles the name speaks of outright, each with the word that says so."""
    roles: dict[str, str] = {}
    for at, word in enumerate(found):
        for concept in word.concepts:
            if concept in PARTS:
                roles.setdefault(concept, word.text)
            elif concept == "guitarra":
                roles.setdefault("guitar", word.text)
            elif concept in ("e", "a", "ac") and at + 1 < len(found):
                after = found[at + 1].concepts
                if "guitar" in after or "guitarra" in after:
                    roles["electric-guitar" if concept == "e" else "acoustic-guitar"] = (
                        f"{word.text} {found[at + 1].text}"
                    )
    if concepts & {"acoustic"} and not roles.keys() - {"guitar", "sound-effects"}:
        roles["acoustic-guitar"] = _text(found, "acoustic")
    if concepts & {"electric"} and not roles.keys() - {"guitar", "sound-effects"}:
        roles["electric-guitar"] = _text(found, "electric")
    if {"ac", "acoustic-hint"} <= concepts and not roles:
        roles["acoustic-guitar"] = _text(found, "ac")
    if not roles:
        roles = _weakly_named(found, concepts, near)
    elif "perkusja" in concepts and not roles.keys() & _SINGLE_DRUMS:
        roles.setdefault("percussion", "perkusja")
    if "kick" in roles and "big-drum" in concepts and near.orchestra:
        roles["percussion"] = roles.pop("kick")
    if roles.keys() == {"speech"} and "bed" in concepts:
        return {}  # a bed under what is spoken
    if "room-tone" in concepts and not roles:
        return {"room": _text(found, "room-tone")}
    if "loop" in concepts and not roles.keys() - {"drums", "percussion"}:
        roles = {"drums" if "drums" in roles else "percussion": _text(found, "loop")} if roles else roles
    if concepts & {"room", "ambience"} and roles.keys() & _DRUMS and not concepts & {"reverb"}:
        single = roles.keys() & _SINGLE_DRUMS - {"drum-room"}
        if single == {"overheads"} or (single and _text(found, "room", "ambience") in _FAR):
            return {role: text for role, text in roles.items() if role in single}  # a place says where it stood
        roles = {"drum-room": _text(found, "room", "ambience")}
    return roles


_FAR: Final = frozenset({"far", "distant"})
"""Said of a microphone that stands off; of a kit as a whole it is that of the room."""


_TELL_LITTLE: Final = ("loop", "sound")
"""Concepts of words for a kind of sound, whoever makes it."""


_BEATS: Final = frozenset({"beat", "beats"})
"""Where somebody sings or raps to it and no drum is named, a beat is the finished two-track."""


_STRUCK: Final = frozenset({"bell", "bells"})
"""Parts of a synthesiser by their names that are struck where they lie among percussion."""


def _weakly_named(found: tuple[Word, ...], concepts: frozenset[str], near: Surroundings) -> dict[str, str]:
    if "loop" in concepts and near.under_a_voice and _text(found, "loop") in _BEATS:
        return {"backing-track": _text(found, "loop")}
    if "synth-part" in concepts and near.placed("percussion") and _text(found, "synth-part") in _STRUCK:
        return {"percussion": _text(found, "synth-part")}
    for concept, role in (
        ("synth-part", "synth"),
        ("slide", "plucked"),
        ("programmed", "percussion"),
    ):
        if concept in concepts:
            text = _text(found, concept)
            if role == "percussion" and concept == "programmed" and "ambiguous" in concepts:
                continue
            if role == "plucked" and near.placed("guitar", "electric-guitar"):
                return {"electric-guitar": text}
            return {role: text}
    return {}


def _guitar(text: str, concepts: frozenset[str], near: Surroundings) -> Reading:
    acoustic = concepts & {"acoustic-hint", "ac"}
    electric = concepts & {"electric-hint", "lead", "solo"}
    mics = concepts & {"mic"}
    if electric and not acoustic:
        return resolved("electric-guitar", f"'{text}' with a word for how an electric guitar is played")
    if acoustic and not electric:
        return resolved("acoustic-guitar", f"'{text}' with a word for how an acoustic guitar is played or miked")
    if "guitarra" in concepts and near.portuguese:
        return resolved("electric-guitar", "'guitarra' in a session with Portuguese names is the electric guitar")
    if not mics or not acoustic:
        for role in ("acoustic-guitar", "electric-guitar"):
            if place := near.placed(role, role.split("-")[0]):
                return resolved(role, f"'{text}' in the name", f"it lies under '{place}'")
    return resolved("guitar", f"'{text}' in the name; acoustic or electric is not told")


def _voice(found: tuple[Word, ...], concepts: frozenset[str], near: Surroundings, vocabulary: Vocabulary) -> Reading:
    text = next(w.text for w in found if set(w.concepts) & _VOICE)
    if near.plays == "notes" and not near.placed(*_VOICE):
        return ambiguous(f"'{text}' on a track that plays notes can be a voice's line on any instrument")
    others = {
        c: w.text
        for w in found
        for c in w.concepts
        if c in PARTS
        and c not in ("bass", "sound-effects", "audience", "speech")
        and not set(w.concepts) & _VOICE
        and len(w.text) > 2
    }
    if others.keys() & {"synth"}:
        return resolved("synth", f"'{others['synth']}' beside '{text}': a synthesiser with a vocal sound")
    if len(others) == 1 and concepts & _VOICE == {"vocal-double"}:
        # "Gtr Harmony": what is said of a voice is said of an instrument as well.
        ((role, said),) = others.items()
        return _guitar(said, concepts, near) if role == "guitar" else resolved(role, f"'{said}' in the name")
    if said := next((w.text for w in found if w.text in _EFFECTS_FIRST), ""):
        return resolved("sound-effects", f"'{said}' in the name, whatever makes the sound")
    if others.keys() == {"percussion"} and others["percussion"] in _ANY_PERCUSSION:
        return resolved("vocal", f"'{others['percussion']}' made with the voice")
    if others and near.voices_of_players and _VOICE.intersection(found[0].concepts):
        role = "backing-vocals" if concepts & {"backing-vocals", "back"} else "vocal"
        return resolved(role, f"'{text}' in front of who sings, as in other names of the session")
    if others:
        return ambiguous(_several({"vocal": text} | others))
    if near.kind in ("track", None) and near.recorded and "bus" in concepts:
        return resolved("backing-vocals", f"'{text}' of a group, recorded")
    choir = next((w.text for w in found if w.text in vocabulary.marks.get("choir-itself", ())), "")
    if choir and not concepts & {"double", "interval", "vocal-double"}:
        return resolved("choir", f"'{choir}' in the name")
    if concepts & {"backing-vocals"} or ("back" in concepts and "vocal" in concepts):
        return resolved("backing-vocals", f"'{text}' in the name")
    if place := near.placed("backing-vocals"):
        return resolved("backing-vocals", f"'{text}' in the name", f"it lies under '{place}'")
    if concepts & {"vocal-double", "double", "interval"}:
        return resolved("vocal-double", f"'{text}' with a word for a double or a harmony")
    if any(w.text == "harm" for w in found):
        return resolved("vocal-double", f"'harm' beside '{text}'")
    leading = any(w.text not in _ADLIBS and {"lead-vocal", "lead"}.intersection(w.concepts) for w in found)
    adlib = next((w.text for w in found if w.text in _ADLIBS), "")
    if adlib and not leading:
        alone = len([w for w in found if w.concepts and w.concepts != ("a",)]) == 1
        said = f"'{adlib}': what is sung around the leading voice"
        return resolved("vocal-double" if alone else "vocal", said)
    if leading:
        return resolved("lead-vocal", f"'{text}' in the name is the leading voice")
    if concepts & {"verse"} and not _counts_voices(found):
        return resolved("lead-vocal", f"'{text}' of the verse")
    if concepts & {"room", "ambience", "fx", "sound"} or "sound-effects" in concepts:
        return ambiguous(
            f"'{text}' with a word for a room, an effect or a sound could be a voice or what is made of it"
        )
    if place := near.placed("lead-vocal"):
        return resolved("lead-vocal", f"'{text}' in the name", f"it lies under '{place}'")
    return resolved("vocal", f"'{text}' in the name; lead, double or backing is not told")


def _counts_voices(found: tuple[Word, ...]) -> bool:
    """True where a number behind the voice counts several of them: ``Verse Vox 2``; ``Vox Verse 2`` counts verses."""
    at = next(at for at, word in enumerate(found) if set(word.concepts) & _VOICE)
    behind = found[at + 1].text if at + 1 < len(found) else ""
    return behind.isdigit() and int(behind) > 1


def _hinted(
    found: tuple[Word, ...], concepts: frozenset[str], near: Surroundings, vocabulary: Vocabulary
) -> Reading | None:
    """Names that speak of a part only together with their surroundings."""
    for word in found:
        if word.concepts == ("ambiguous",):
            roles = vocabulary.channels.roles[word.text]
            return _either(word.text, roles, near, lead="lead" in concepts)
    for concept in _TELL_LITTLE:
        if concept in concepts and not concepts & {"lead", "double", "ambiguous"}:
            return _of_any_part(_text(found, concept), near, vocabulary)
    if "perkusja" in concepts:
        return ambiguous("'perkusja' can be the drum kit or percussion")
    if "chor" in concepts and near.kind == "track":
        if "back" in concepts:
            return resolved("backing-vocals", "'chor' in the background")
        return resolved("choir", "'chor' on a track is a choir")
    if "back" in concepts and near.voices_elsewhere and near.kind in ("track", None):
        return resolved("backing-vocals", f"'{_text(found, 'back')}' on a track of a session in which others sing")
    if "lead" in concepts:
        return _lead(found, near)
    if "ac" in concepts and (place := near.placed("acoustic-guitar", "guitar")):
        return resolved("acoustic-guitar", f"'{_text(found, 'ac')}' under '{place}'")
    if concepts & {"double"} and near.beat_elsewhere and not near.placed("guitar", "electric-guitar", "synth"):
        return resolved("vocal-double", f"'{_text(found, 'double')}' over a two-track beat")
    if concepts & {"double", "interval"} and (place := near.placed(*_VOICE)):
        role = "backing-vocals" if near.placed("backing-vocals") else "vocal-double"
        return resolved(role, f"a word for a double or a harmony, under '{place}'")
    if concepts & {"electric-hint"} and not near.placed(*_VOICE, *_DRUMS, "bass", "keys", "synth"):
        text = _text(found, "electric-hint")
        return resolved("electric-guitar", f"'{text}' is said of electric guitars")
    if "bed" in concepts and near.speech_elsewhere:
        return resolved("backing-track", f"'{_text(found, 'bed')}' in a session in which somebody speaks")
    if "bed" in concepts:
        return ambiguous(f"'{_text(found, 'bed')}' is a finished piece of music only where somebody speaks")
    if concepts & {"room", "ambience"}:
        if place := near.placed(*_DRUMS):
            return resolved("drum-room", f"a room word under '{place}'")
        if near.kind in ("track", None) and (place := near.placed("backing-vocals")):
            role = "choir" if near.placed("choir") else "backing-vocals"
            return resolved(role, f"a room word under '{place}': the far microphone of a choir")
        if near.drum_session and near.kind in ("track", None) and "reverb" not in near.effects:
            return resolved("drum-room", "a room word beside kick, snare or overheads")
        if _is_room_microphone(found, near):
            return resolved(
                "room", f"'{_text(found, 'room', 'ambience')}' on a recorded track, and no drum kit is named"
            )
    if "array" in concepts and near.kind in ("track", None):
        if near.drum_session:
            return ambiguous(
                f"'{_text(found, 'array')}' beside a drum kit can be its overheads or the main microphones"
            )
        if near.recorded:
            return resolved("main-pair", f"'{_text(found, 'array')}' is said of the main microphones")
    if "t" in concepts and any(w.text.isdigit() for w in found) and (near.drum_session or near.placed(*_DRUMS)):
        return resolved("toms", "'T' with a number beside kick, snare or overheads")
    if "str" in concepts and concepts <= {"str", "interval", "mic", "section", "solo"}:
        return resolved("strings", "'str' alone is read as strings")
    return None


def _of_any_part(text: str, near: Surroundings, vocabulary: Vocabulary) -> Reading:
    """A loop or a sample by itself: what the folder or the group says it is, else a question; noise is an effect."""
    if place := near.placed("drums"):
        return resolved("drums", f"'{text}' under '{place}'")
    for role in ("percussion", "sound-effects"):
        if place := near.placed(role):
            return resolved(role, f"'{text}' under '{place}'")
    if "sound" in vocabulary.channels.phrases.get(text, ()) and text not in vocabulary.marks.get("sample", ()):
        return resolved("sound-effects", f"'{text}' in the name")
    return ambiguous(f"'{text}' alone does not tell which part it is")


_ROOM_WORDS: Final = frozenset({"amb", "ambience", "ambs", "far"})
"""Words of :data:`ambience` that are said of microphones; a track of wind or birds is an "atmo"."""


def _is_room_microphone(found: tuple[Word, ...], near: Surroundings) -> bool:
    """True for a recorded track that is called a room and holds no reverb."""
    if near.kind not in ("track", None) or not near.recorded or near.plays == "notes" or "reverb" in near.effects:
        return False
    return any("room" in w.concepts or w.text in _ROOM_WORDS for w in found)


_SECTIONS: Final = ("strings", "winds", "brass")
"""Roles that an ambiguous word is more likely to have in an orchestra than any other."""


def _either(text: str, options: tuple[str, ...], near: Surroundings, *, lead: bool = False) -> Reading:
    """An ambiguous word: its only role, or that of the folder or group it lies under."""
    if len(options) == 1:
        return resolved(options[0], f"'{text}' in the name")
    if text == "harm" and near.voices_elsewhere and not near.keys_elsewhere and not lead:
        return resolved("vocal-double", "'harm' in a session in which others sing")
    if text == "viola" and not near.portuguese:
        return resolved("strings", "'viola' in the name, and the session is not named in Portuguese")
    for role in options:
        if place := near.placed(
            role,
            OF_ROLE + role,
            *((*_VOICE, "choir") if role.startswith("vocal") else ()),
            *(_DRUMS if role in _DRUMS else ()),
            *(("str",) if role == "strings" else ()),
        ):
            if role == "vocal" and near.placed("choir"):
                role = "choir"
            elif role == "vocal" and near.placed("backing-vocals"):
                role = "backing-vocals"
            return resolved(role, f"'{text}' under '{place}'")
    if "winds" in options and (place := near.placed("winds", "brass")):
        return resolved("winds", f"'{text}' under '{place}'")
    if "winds" in options and near.drum_session and not near.voices_elsewhere and text in ("tenor", "bari"):
        return resolved("winds", f"'{text}' beside a drum kit, and nobody sings: a saxophone")
    if "winds" in options and near.horn_section:
        return resolved("winds", f"'{text}' beside trumpets and trombones, and nobody sings: a saxophone")
    if "brass" in options and near.horn_section:
        return resolved("brass", f"'{text}' beside other brass, and nobody sings")
    if set(options) == {"toms", "percussion"} and near.drum_session:
        return resolved("toms", f"'{text}' beside kick, snare or overheads")
    sections = [option for option in options if option in _SECTIONS]
    if near.orchestra and _VOICE.isdisjoint(options) and "choir" not in options and len(sections) == 1:
        return resolved(sections[0], f"'{text}' in an orchestra")
    if set(options) == {"bass", "keys"} and near.bass_elsewhere != near.keys_elsewhere:
        role = "keys" if near.bass_elsewhere else "bass"
        other = "bass" if near.bass_elsewhere else "keys"
        return resolved(role, f"'{text}' in the name, and the session has its {other} already")
    return ambiguous(f"'{text}' can be {' or '.join(options)}")


def _lead(found: tuple[Word, ...], near: Surroundings) -> Reading:
    text = _text(found, "lead")
    if place := near.placed("guitar", "electric-guitar", "guitarra"):
        return resolved("electric-guitar", f"'{text}' under '{place}'")
    if (place := near.placed("synth")) or near.plays == "notes":
        return resolved("synth", f"'{text}' " + (f"under '{place}'" if place else "on a channel that plays notes"))
    if place := near.placed(*_VOICE):
        if concepts_of(found) & {"double", "interval"}:
            return resolved("vocal-double", f"'{text}' with a word for a double or a harmony, under '{place}'")
        return resolved("lead-vocal", f"'{text}' under '{place}'")
    if near.beat_elsewhere and near.kind in ("track", None) and near.plays != "notes":
        if concepts_of(found) & {"double", "interval"}:
            return resolved("vocal-double", f"'{text}' with a word for a double or a harmony, over a two-track beat")
        return resolved("lead-vocal", f"'{text}' over a two-track beat")
    if "verse" in concepts_of(found):
        return resolved("lead-vocal", f"'{text}' of the verse")
    return ambiguous(f"'{text}' can be a voice, a guitar or a synthesiser")
