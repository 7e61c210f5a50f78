"""What a strip of the desk is for: utility before mix bus before group before return (the head of a name by kind)."""

from __future__ import annotations

from typing import Final

from mixlint.naming.part_reading import INSTRUMENT_CONCEPTS
from mixlint.naming.reading import Reading, ambiguous, resolved
from mixlint.naming.surroundings import Surroundings, concepts_of
from mixlint.naming.vocabulary import Vocabulary
from mixlint.naming.word_lookup import Word

_TIME_EFFECTS: Final = {
    "reverb": "reverb-return",
    "delay": "delay-return",
    "modulation": "modulation-return",
    "pitch": "modulation-return",
}
_SHAPERS: Final = frozenset({"compressor", "limiter", "distortion"})


def _text(found: tuple[Word, ...], *concepts: str) -> str:
    return next((w.text for w in found if set(w.concepts) & set(concepts)), "")


def read_strip(found: tuple[Word, ...], near: Surroundings, vocabulary: Vocabulary) -> Reading | None:
    """What a strip is for when it plays no part.

    Args:
        found: the words of the name.
        near: what surrounds it.
        vocabulary: the words in force.

    Returns:
        A utility, the mix bus, a group or a return, or an ambiguous reading with its reason; None when the strip can
        play a part.
    """
    found = _without_initials(found, near)
    concepts = concepts_of(found)
    part = concepts & INSTRUMENT_CONCEPTS
    if near.kind == "vca":
        return resolved("utility", "declared as a fader that carries no audio")
    reading = _utility(found, concepts, part, near) or _mix_print(found, concepts, bool(part), near, vocabulary)
    if reading is not None:
        return reading
    if near.kind == "master":
        return resolved("mix-bus", "declared as the master")
    reading = _mix_bus(found, concepts, bool(part), near)
    if reading is not None:
        return reading
    if "main-pair" in part and near.recorded and near.kind in ("track", None):
        return None  # "Hall tree": the hall that the main microphones stand in
    return _bus(found, concepts, bool(part), near) or _return(found, concepts, part, near)


_LETTERS: Final = 2
"""A word so short can be anybody's initials."""


def _without_initials(found: tuple[Word, ...], near: Surroundings) -> tuple[Word, ...]:
    """The words without short ones for a strip, where a longer one tells of a part that is recorded and goes on."""
    if not (near.recorded and near.goes_on and near.kind in ("track", None)):
        return found
    told = any(len(w.text) > _LETTERS and not INSTRUMENT_CONCEPTS.isdisjoint(w.concepts) for w in found)
    return tuple(w for w in found if len(w.text) > _LETTERS or _DESK.isdisjoint(w.concepts)) if told else found


_DESK: Final = frozenset(
    {"cue", "guide", "talkback", "time-code", "test-tone", "utility", "key-input", "trigger", "reference", "click"}
)


_CLICKS: Final = frozenset(
    {"click track", "clicktrack", "clk", "count in", "countin", "count off", "metro", "metronome"}
)
"""Words that are said of the click alone; beside a drum they tell for whom it is."""

_SHORT_CUES: Final = frozenset({"hp", "hps"})
"""Short for headphones, and for the main pair of microphones or a harp elsewhere."""

_SERVICES: Final = {
    "talkback": "talkback",
    "time-code": "time-code",
    "test-tone": "test-tone",
    "utility": "utility",
}
"""Concepts of strips that carry no music, each with its role."""

_KEYS: Final = frozenset({"kick", "snare", "hi-hat", "toms", "drums", "percussion"})
"""The parts that key others; a word for a side-chain beside any other part can be said of a part that is ducked."""


def _utility(
    found: tuple[Word, ...], concepts: frozenset[str], part: frozenset[str], near: Surroundings
) -> Reading | None:
    if "reference" in concepts and part and _text(found, "reference") == "ref" and not near.refrains:
        return ambiguous("'ref' beside a part can be a reference or a refrain")
    if "reference" in concepts and not _of_a_refrain(found, concepts, near):
        return resolved("reference", f"'{_text(found, 'reference')}' in the name")
    if "click" in concepts:
        text = _text(found, "click")
        if part == {"kick"} and text == "click":
            return None  # the attack of a kick, as a layer or a microphone of its own
        if part and not (part <= _KEYS and text in _CLICKS):
            return ambiguous(f"'{_text(found, 'click')}' beside a part can be a click or that part")
        return resolved("click", f"'{_text(found, 'click')}' in the name")
    if "cue" in concepts and near.kind == "track" and near.orchestra and _text(found, "cue") in _SHORT_CUES:
        return resolved("plucked", f"'{_text(found, 'cue')}' in an orchestra: a harp")
    if "cue" in concepts and near.kind == "track" and near.recorded and _text(found, "cue") in _SHORT_CUES:
        return ambiguous(f"'{_text(found, 'cue')}' on a recorded track can be a pair of microphones or a cue mix")
    if "cue" in concepts:
        if part and near.kind == "track":
            return ambiguous(f"'{_text(found, 'cue')}' beside a part on a track")
        return resolved("cue", f"'{_text(found, 'cue')}' in the name")
    if "guide" in concepts and _text(found, "guide").startswith("scratch") and part & _KEYS:
        return ambiguous("'scratch' beside a drum can be a guide, or a record that is scratched")
    if "guide" in concepts:
        return resolved("guide", f"'{_text(found, 'guide')}' in the name")
    if "demo" in concepts:
        if part or concepts & {"lead", "double"}:
            return resolved("guide", f"'{_text(found, 'demo')}' of a part: it stands in for one")
        return resolved("reference", f"'{_text(found, 'demo')}' by itself is an earlier recording of the song")
    for concept, role in _SERVICES.items():
        if concept in concepts:
            if len(_text(found, concept)) <= _LETTERS and "ambiguous" in concepts:
                return None  # "Tp Tb": who can be initials beside what can be a part
            return resolved(role, f"'{_text(found, concept)}' in the name")
    reading = _key(found, concepts, part, near)
    if reading is not None:
        return reading
    strip = concepts & {"bus", "aux", "parallel", "return", "reverb", "delay"}
    # What others lead to is in use, and a spare of somebody's is a part.
    if "notes" in concepts and not part and not strip and not near.fed and not near.unread:
        return resolved("utility", f"'{_text(found, 'notes')}' in the name")
    if "live" in concepts and not part and len([w for w in found if w.concepts]) == 1:
        return ambiguous("'live' can be a guide or a live recording")
    return None


def _of_a_refrain(found: tuple[Word, ...], concepts: frozenset[str], near: Surroundings) -> bool:
    """True for ``Lead Ref`` in a song whose choruses are called refrains."""
    return _text(found, "reference") == "ref" and near.refrains and bool(concepts & _SUNG)


_SUNG: Final = frozenset(
    {"lead", "lead-vocal", "vocal", "vocal-double", "double", "backing-vocals", "back", "interval"}
)
"""Concepts of what is sung, or played as a second time."""

_MAIN_LEGS: Final = frozenset({"main l r"})
"""Words for the mix bus that are said of the main pair of microphones too."""


def _key(found: tuple[Word, ...], concepts: frozenset[str], part: frozenset[str], near: Surroundings) -> Reading | None:
    """What keys another channel's dynamics, and is not heard itself."""
    if "key-input" in concepts:
        text = _text(found, "key-input")
        if near.kind == "group" and near.has_members:
            return None  # the parts that are ducked together: a group as any other
        if part and not part & _KEYS:
            return ambiguous(f"'{text}' beside a part can be a key input or that part, ducked")
        return resolved("key-input", f"'{text}': a key input, not heard itself")
    if "key" in concepts:
        if "ghost" in concepts:
            return resolved("key-input", "'ghost' and 'key': a key input, not heard itself")
        if part - _KEYS - _SPOKEN and not near.keys_others:
            return None
        if part or near.keys_others:
            how = "beside a part" if part else "of a channel that a processor is keyed from"
            return resolved("key-input", f"'key' {how}: a key input")
        return ambiguous("'key' can be a key input or keys")
    if "trigger" in concepts:
        return resolved("trigger", f"'{_text(found, 'trigger')}': a trigger, not heard itself")
    return None


_SPOKEN: Final = frozenset({"vocal", "lead-vocal", "speech"})
"""Voices that a bed is ducked under."""

_MAIN_MICROPHONES: Final = "mains"
"""On a recorded track the main pair of microphones, and no mix."""


def _mix_print(
    found: tuple[Word, ...], concepts: frozenset[str], part: bool, near: Surroundings, vocabulary: Vocabulary
) -> Reading | None:
    """A recording of the whole mix: from the desk, or a print of an earlier mix on a track."""
    if part or near.kind not in ("track", None):
        return None
    if "board-mix" in concepts:
        return resolved("mix-print", f"'{_text(found, 'board-mix')}' in the name: the mix as the desk put it out")
    if not near.recorded or near.plays == "notes" or concepts & _TIME_EFFECTS.keys():
        return None
    printed, mix = _text(found, "print"), _text(found, "mix-bus", "master")
    if mix == _MAIN_MICROPHONES:
        return None
    others = [w.text for w in found if not w.concepts and not w.text.isdigit()]
    version = next((w for w in others if w in vocabulary.marks.get("version", ())), "")
    if mix and printed:
        return resolved("mix-print", f"'{mix}' and '{printed}' on a recorded track: a print of the mix")
    if mix and "print" in mix.split():
        return resolved("mix-print", f"'{mix}' on a recorded track: a print of the mix")
    if printed and not others and not concepts - {"print"}:
        return resolved("mix-print", f"'{printed}' on a recorded track: a print of the mix")
    numbered = any(w.text.isdigit() for w in found)
    numbered = numbered or near.version
    if mix and (version or numbered) and not near.goes_on:
        return resolved("mix-print", f"'{mix}' with a version, on a recorded track that goes out by itself")
    if mix and (version or numbered) and all(w in vocabulary.marks.get("version", ()) for w in others):
        said = f"'{mix}' with a version" if not version else f"'{mix}' and '{version}'"
        return resolved("mix-print", f"{said} on a recorded track: a print of the mix")
    if "mix-bus" in concepts and not near.fed and _text(found, "mix-bus") not in _MAIN_LEGS:
        return resolved("mix-print", f"'{mix}' on a recorded track that nothing leads to: a print of the mix")
    return None


def _mix_bus(found: tuple[Word, ...], concepts: frozenset[str], part: bool, near: Surroundings) -> Reading | None:
    effect = concepts & {"reverb", "delay", "modulation", "fx", "room", "rev", "return"}
    if near.kind in ("track", None) and near.recorded and not part and _text(found, "mix-bus") in _MAIN_LEGS:
        return resolved("main-pair", f"'{_text(found, 'mix-bus')}' on a recorded track: the main microphones")
    if "mix-bus" in concepts and not part and not effect:
        return resolved("mix-bus", f"'{_text(found, 'mix-bus')}' in the name")
    if concepts & {"master", "mix-bus"}:
        text = _text(found, "master", "mix-bus")
        if part:
            return resolved("group", f"'{text}' of a part is a group") if near.kind != "return" else None
        if effect:
            return None
        if "parallel" in concepts:
            return None
        if near.kind == "return":
            return ambiguous(f"'{text}' on a return could be the mix bus or a return")
        if near.kind == "track" and near.recorded:
            return ambiguous(f"'{text}' on a recorded track could be the mix bus or a reference")
        return resolved("mix-bus", f"'{text}' in the name")
    known = [w for w in found if w.concepts]
    of_a_lead = near.kind == "track" and near.recorded and concepts & {"lead", "double", "solo"}
    if "print" in concepts and not part and not effect and not of_a_lead:
        return ambiguous("'print' can be the mix bus or a utility")
    if concepts & {"lead"} and known and known[0].text == "main" and len(known) == 1 and near.kind == "group":
        return resolved("mix-bus", "'main' on a group")
    return None


def _bus(found: tuple[Word, ...], concepts: frozenset[str], part: bool, near: Surroundings) -> Reading | None:
    effect = concepts & {"reverb", "delay", "modulation", "fx", "return", "retorno"}
    if concepts & {"parallel", "bus"} and part and "print" in concepts and near.kind == "track":
        return ambiguous(f"a print of '{_text(found, 'parallel', 'bus')}' on a track could be that bus or its part")
    if "parallel" in concepts and _text(found, "parallel") == "para" and near.kind == "track" and not part:
        return None
    if near.has_members and not near.recorded and near.kind is None and not effect:
        return resolved("group", "other channels put out to it")
    if "parallel" in concepts and not effect:
        return resolved("parallel-bus", f"'{_text(found, 'parallel')}' in the name")
    if "crush" in concepts and not (concepts & {"room", "drum-room"} and near.kind != "return"):
        text = _text(found, "crush")
        if near.kind == "track" and near.plays == "audio":
            return ambiguous(f"'{text}' can be a parallel bus or a squashed room microphone")
        return resolved("parallel-bus", f"'{text}' in the name")
    if "thick" in concepts and near.kind in ("group", "return") and not effect:
        return resolved("parallel-bus", f"'{_text(found, 'thick')}' on a bus")
    if concepts & {"bus", "aux"} and part and near.kind == "track" and near.recorded and not near.has_members:
        text = _text(found, "bus", "aux")
        if concepts & _SUNG and text not in _GROUPS:
            return ambiguous(f"'{text}' beside a voice on a recorded track")
        return None  # "Aux Snare": another one, recorded
    if "bus" in concepts:
        text = _text(found, "bus")
        if near.kind == "return" and (effect or near.effects):
            return None
        return resolved("group", f"'{text}' in the name")
    if near.kind == "group":
        if effect - {"fx", "return", "retorno"} or concepts & {"rev"}:
            return None
        if "aux" in concepts and not part and set(near.effects) & _TIME_EFFECTS.keys():
            return ambiguous("'aux' declared as a group, with an effect in it, can be a group or a return")
        return resolved("group", "declared as a group")
    if near.kind == "return":
        return None
    if "aux" in concepts:
        if part:
            return resolved("group", "'aux' of a part")
        return None if effect else ambiguous("'aux' can be a group or a return")
    if "sub" in concepts:
        if concepts & {"kick", "bass"}:
            return None
        if part:
            if concepts & {"synth"}:
                return ambiguous("'sub' of a synthesiser can be a bass or a group")
            return None if near.kind == "track" and near.recorded else resolved("group", "'sub' of a part")
        if near.kind == "track":
            return resolved("bass", "'sub' on a track")
        return ambiguous("'sub' can be a bass or a group")
    if "stem" in concepts and not effect and not (near.kind == "track" and (part or near.recorded)):
        return resolved("group", f"'{_text(found, 'stem')}' in the name")
    return None


_ECHOES: Final = frozenset({"echo", "echoes", "echos"})
"""Words for a delay that are said of a part as well, which answers another."""

_GROUPS: Final = frozenset({"group", "groups", "grp", "groupe", "gruppe", "grupo", "gruppo"})
"""Words for a bus that are said of people who sing together."""


_HALLS: Final = frozenset({"cathedral", "chamber", "hall", "halls", "hallraum", "холл", "ホール", "홀"})
"""Words for a reverb that are said of the hall itself."""


def _return(
    found: tuple[Word, ...], concepts: frozenset[str], part: frozenset[str], near: Surroundings
) -> Reading | None:
    on_return = near.kind == "return"
    likely = set()
    hall = near.kind == "track" and near.recorded and not near.fed and _text(found, "reverb") in _HALLS
    if hall and part and part <= _ROOM_PARTS and not near.effects:
        return resolved("drum-room", f"'{_text(found, 'reverb')}' beside a drum, recorded: where it was taken")
    if hall and not part:
        if near.effects:
            return ambiguous(f"'{_text(found, 'reverb')}' on a recorded track can be a microphone or a reverb's print")
        return resolved("room", f"'{_text(found, 'reverb')}' on a recorded track without an effect: a microphone")
    if "reverb" in concepts:
        likely.add("reverb-return")
    if "delay" in concepts and not (part and near.kind != "return" and _text(found, "delay") in ("slap",)):
        likely.add("delay-return")
    if "modulation" in concepts and not (part and near.kind == "track"):
        likely.add("modulation-return")
    if on_return:
        if concepts & {"room", "ambience", "rev", "drum-room"}:
            likely.add("reverb-return")
        if concepts & {"del"}:
            likely.add("delay-return")
        if concepts & {"mod", "chorus", "chor"} and not likely:
            likely.add("modulation-return")
    inserted = list(dict.fromkeys(_TIME_EFFECTS[e] for e in near.effects if e in _TIME_EFFECTS))
    text = _text(
        found, "reverb", "delay", "modulation", "room", "ambience", "rev", "drum-room", "del", "mod", "chorus", "chor"
    )
    if len(likely) > 1:
        return resolved("effect-return", "the name tells of more than one effect")
    if likely:
        (role,) = likely
        if near.plays == "notes" and near.kind == "track" and not near.fed and not inserted:
            return ambiguous(f"'{text}' on a track that plays notes is no return")
        if part and text in _ECHOES and near.recorded and near.kind == "track" and not near.fed and not inserted:
            return ambiguous(f"'{text}' beside a part, recorded, can be its delay's print or that part again")
        if on_return and inserted and role not in inserted:
            return ambiguous(f"could be {role} ('{text}' in the name) or {inserted[0]} (its insert)")
        grounds = [f"'{text}' in the name"] + (["its insert agrees"] if role in inserted else [])
        return resolved(role, *grounds)
    return _by_inserts(found, concepts, part, near, inserted)


def _by_inserts(
    found: tuple[Word, ...], concepts: frozenset[str], part: frozenset[str], near: Surroundings, inserted: list[str]
) -> Reading | None:
    words_say = concepts & {"return", "fx", "aux"}
    if near.kind == "return":
        if len(inserted) == 1:
            return resolved(inserted[0], "declared as a return", "its insert")
        if inserted:
            if len(set(inserted) - {"modulation-return"}) == 1:
                role = next(i for i in inserted if i != "modulation-return")
                return resolved(role, "declared as a return", "its first effect insert")
            return resolved("effect-return", "declared as a return with several effects")
        if near.effects and set(near.effects) & _SHAPERS and not words_say & {"fx"}:
            return resolved("parallel-bus", "declared as a return; its inserts shape level or tone, not time")
        if "bus" in concepts or (part and not words_say):
            return ambiguous("could be effect-return (declared as a return) or group (its name tells of no effect)")
        return resolved("effect-return", "declared as a return")
    if words_say and not part:
        text = _text(found, "return", "fx", "aux")
        if inserted:
            return resolved(inserted[0], f"'{text}' in the name", "its insert")
        if "return" in concepts:
            return resolved("effect-return", f"'{text}' in the name")
        if near.kind == "track" and near.plays:
            return resolved("sound-effects", f"'{text}' on a track that plays {near.plays}")
        return ambiguous(f"'{text}' can be an effect return or sound effects")
    if "fx" in concepts and "sound-effects" not in part:
        return ambiguous(f"'{_text(found, 'fx')}' beside a part can be its effect return or an effected part")
    if "return" in concepts:
        return resolved("effect-return", f"'{_text(found, 'return')}' in the name")
    if "retorno" in concepts:
        return ambiguous("'retorno' can be an effect return or a stage monitor")
    if concepts & {"rev"}:
        return ambiguous("'rev' can be a reverb or a reversed part")
    if concepts & {"room", "ambience"} and part and not part & _ROOM_PARTS and near.kind != "track":
        return ambiguous("'room' beside a part can be a microphone or a reverb")
    return None


_ROOM_PARTS: Final = frozenset({"kick", "snare", "hi-hat", "toms", "overheads", "drum-room", "drums", "percussion"})
