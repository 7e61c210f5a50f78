"""What surrounds a channel's name: what the export declares, where it lies, and what else is in the session."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Final, NamedTuple

from mixlint.naming.fold import Token, fold_name, tokens
from mixlint.naming.processor_reading import keys_named
from mixlint.naming.splitting import taken_apart, words
from mixlint.naming.vocabulary import Vocabulary
from mixlint.naming.word_lookup import Word, numberless, words_of
from mixlint.session import Channel, Session, is_known, seen_clips, seen_inserts

_DRUM_CONCEPTS = frozenset({"kick", "snare", "hi-hat", "toms", "overheads"})
_VOICE_CONCEPTS = frozenset({"vocal", "lead-vocal", "backing-vocals", "vocal-double"})
_TIME_EFFECTS = frozenset({"reverb", "delay", "modulation", "pitch"})
_SILENT = frozenset({"mic", "section", "interval", "double", "lead", "a", "e", "t", "verse", "ambiguous", "string"})


_TELLING = frozenset(
    {
        "guitar",
        "electric-guitar",
        "bass",
        "keys",
        "speech",
        "winds",
        "brass",
        "main-pair",
        "backing-track",
        "loop",
        "strings",
    }
)
_PART_OF_A_BAND = frozenset({"winds", "brass", "strings", "keys", "synth", "guitar", "electric-guitar", "kick", "lead"})
LEAST_SINGING_PLAYERS: Final = 2
"""From so many names on that put a voice before an instrument, it is how the session names who sings: a definition."""

DRUM_SESSION: Final = 2
"""From so many other channels of a drum kit on, a session has one: a definition."""
_OF_A_KIT = frozenset({"hi-hat", "toms"})
_OF_AN_ORCHESTRA = ("strings", "winds", "brass")
ORCHESTRA: Final = 3
"""From so many other channels of two of its sections on, and without a kit, it is an orchestra: a definition."""


class Surroundings(NamedTuple):
    """The evidence beside the name.

    Args:
        kind: the declared kind of strip, or ``return`` for one fed by sends alone; None when the export does not say.
        plays: ``audio`` or ``notes`` as declared or seen in the clips; empty when neither is known.
        recorded: true when the channel has clips of its own.
        has_members: true when other channels put out to it or are grouped under it.
        places: concepts of the folder, parent and output names, nearest first, each with the name.
        effects: processor kinds of the inserts, in order, switched on or not: they tell what the strip is for.
        drum_session: other channels are kick, snare, hi-hat, toms or overheads.
        voices_elsewhere: another channel's name has a word for voices in it.
        portuguese: the session's names look Portuguese rather than Spanish.
        bass_elsewhere, keys_elsewhere, speech_elsewhere: another channel's name has a word for a bass, for keys, for
            somebody who speaks.
        beat_elsewhere: another channel is a two-track beat, and no drum of a kit is named.
        orchestra: there are other channels of an orchestra, and no hi-hat or tom.
        horn_section: there is brass in the session, nobody sings, no strings play, and no register is a soprano.
        fed: another channel leads to it, by its output, its folder or a send.
        keys_others: a processor of another channel lists it as its key.
        refrains: a marker calls a chorus a refrain, in whatever language.
        choir: why the channel is a choir or a section of one, for a reader; empty where nothing tells.
        files: the names of the files that its clips play, without folder and suffix, each once.
        leads_elsewhere: how it stays out of the mix by where it leads, for a reader; empty where it does not.
        version: its name says which version it is, or which take.
        goes_on: it leads to another strip of the desk, and to none for those who listen while they play.
        string_section: three other channels or more are strings.
        brass_band: three other channels or more are brass, and there are no strings, keys, guitars or kit.
        voices_of_players: two names or more of the session put a word for a voice before an instrument.
        registers_elsewhere: other channels are called by a register of a choir: soprano, alto, tenor.
        unread: the words of its name that are spelt out and not known, without those that most names have.
    """

    kind: str | None = None
    plays: str = ""
    recorded: bool = False
    has_members: bool = False
    places: tuple[tuple[frozenset[str], str], ...] = ()
    effects: tuple[str, ...] = ()
    drum_session: bool = False
    voices_elsewhere: bool = False
    portuguese: bool = False
    bass_elsewhere: bool = False
    keys_elsewhere: bool = False
    speech_elsewhere: bool = False
    beat_elsewhere: bool = False
    horn_section: bool = False
    orchestra: bool = False
    choir: str = ""
    files: tuple[str, ...] = ()
    leads_elsewhere: str = ""
    goes_on: bool = False
    version: bool = False
    voices_of_players: bool = False
    brass_band: bool = False
    string_section: bool = False
    fed: bool = False
    keys_others: bool = False
    refrains: bool = False
    registers_elsewhere: bool = False
    unread: tuple[str, ...] = ()

    @property
    def under_a_voice(self) -> bool:
        """Somebody sings, raps or speaks in the session, and no drum of a kit is named in it."""
        return (self.voices_elsewhere or self.speech_elsewhere) and not self.drum_session

    def placed(self, *concepts: str) -> str:
        """The name of the nearest folder or group that speaks of one of ``concepts``; empty when none does."""
        return next((name for found, name in self.places if found.intersection(concepts)), "")


@dataclass(slots=True)
class SessionWords:
    """Counts over all names of a session, so that one channel can be seen beside the others."""

    drums: Counter[str] = field(default_factory=Counter)
    voices: Counter[str] = field(default_factory=Counter)
    parts: dict[str, set[str]] = field(default_factory=dict)
    choir: dict[str, str] = field(default_factory=dict)
    portuguese: bool = False
    horn_section: bool = False
    voices_of_players: int = 0
    kit: bool = False
    sent_to: set[str] = field(default_factory=set)
    keys: set[str] = field(default_factory=set)
    routed_to: set[str] = field(default_factory=set)
    refrains: bool = False
    files: dict[str, str] = field(default_factory=dict)
    unread: dict[str, tuple[str, ...]] = field(default_factory=dict)
    registers: set[str] = field(default_factory=set)


def is_unread(word: Word) -> bool:
    """True for a word that is spelt out and not known: no letter or initials, number or code."""
    return not word.concepts and len(word.text) >= SPELT_OUT and word.text.isalpha()


def concepts_of(found: tuple[Word, ...]) -> frozenset[str]:
    """All concepts of some words."""
    return frozenset(c for word in found for c in word.concepts)


def words_of_channels(session: Session, vocabulary: Vocabulary) -> dict[str, tuple[Word, ...]]:
    """Channel id to the words of its name, without what all tracks share: song title, tempo, key, version.

    What four tracks or more share at the beginning or the end of their names tells nothing about any of them, unless
    most would be left without a word for a part ("Vox 1", "Vox 2" ...).
    """
    out = {c.id: words(c.name, vocabulary) for c in session.channels}
    tracks = {
        c.id: numberless(tokens(c.name), vocabulary)
        for c in session.channels
        if not is_known(c.kind) or c.kind == "track"
    }
    out = _as_in_japan(out, vocabulary)
    if len(tracks) < 4:
        return out
    rows = list(tracks.values())
    shortest = min(len(row) for row in rows)
    head = next((i for i in range(shortest) if len({row[i].plain for row in rows}) > 1), shortest)
    tail = next((i for i in range(shortest - head) if len({row[-1 - i].plain for row in rows}) > 1), shortest - head)
    if not head + tail or head + tail >= shortest:
        return out
    cut = {key: words_of(row[head : len(row) - tail], vocabulary) for key, row in tracks.items()}
    telling = sum(any(w.concepts and w.concepts[0] not in _SILENT for w in found) for found in cut.values())
    if telling * 2 >= len(cut) or _is_no_part(rows[0][:head] + rows[0][len(rows[0]) - tail :], cut, vocabulary):
        return out | _as_in_japan(cut, vocabulary)
    return out


def _is_no_part(shared: tuple[Token, ...], left: dict[str, tuple[Word, ...]], vocabulary: Vocabulary) -> bool:
    """True where what all names share has words that are not known, and what is left of most is spelt out.

    ``Evening_Piano_S1_close``, ``Evening_Piano_S2_far``: the song's name is no instrument. ``Loud Gtr 1``, ``Loud Gtr
    2`` are guitars.
    """
    if not any(is_unread(word) for word in words_of(shared, vocabulary)):
        return False
    spelt = sum(any(len(w.text) > 1 and w.text not in vocabulary.sides.sides for w in one) for one in left.values())
    return spelt * 2 >= len(left)


_IN_JAPAN: Final = {"vo": ("vocal",), "cho": ("backing-vocals",)}
"""Short for voices where channels have Japanese names; elsewhere for somebody who speaks, and for a chorus."""


def _as_in_japan(found: dict[str, tuple[Word, ...]], vocabulary: Vocabulary) -> dict[str, tuple[Word, ...]]:
    """The words of channels, with abbreviations as they are meant where a name has a Japanese word in it."""
    known = vocabulary.channels.languages
    if not any(
        "ja" in known.get(w.text, ()) and not w.text.isascii() for words_found in found.values() for w in words_found
    ):
        return found
    return {key: tuple(Word(w.text, _IN_JAPAN.get(w.text, w.concepts)) for w in one) for key, one in found.items()}


def survey(session: Session, found: dict[str, tuple[Word, ...]], vocabulary: Vocabulary) -> SessionWords:
    """Read every channel name once for what it says about the session as a whole."""
    out = SessionWords()
    portuguese = spanish = 0
    clues = vocabulary.clues
    for channel in session.channels:
        concepts = concepts_of(found[channel.id])
        if concepts & _DRUM_CONCEPTS:
            out.drums[channel.id] += 1
        out.kit |= bool(concepts & _OF_A_KIT)
        if concepts & _VOICE_CONCEPTS:
            out.voices[channel.id] += 1
        out.voices_of_players += _sings_and_plays(found[channel.id])
        for concept in concepts & _TELLING:
            out.parts.setdefault(concept, set()).add(channel.id)
        texts = {part for word in found[channel.id] for part in word.text.split()}
        out.keys.update(key for insert in seen_inserts(channel) for key in keys_named(insert))
        out.sent_to.update(send.to for send in channel.sends if isinstance(send.to, str))
        out.routed_to.update(x for x in (channel.output, channel.parent) if isinstance(x, str))
        portuguese += bool(texts & clues["pt"])
        spanish += bool(texts & clues["es"])
    out.portuguese = portuguese > spanish
    out.files = {media.id: _stem(media.path) for media in session.media}
    out.refrains = any(fold_name(marker.name).startswith("refr") for marker in session.markers)
    sopranos = vocabulary.marks.get("soprano", frozenset())
    high = any(len(w.text) > 1 and w.text in sopranos for words_found in found.values() for w in words_found)
    sung = any(out.voices.values()) or bool(out.parts.get("strings"))
    out.horn_section = bool(out.parts.get("brass")) and not sung and not high
    out.choir = _choir(session, found, out, vocabulary)
    out.unread = _unread(found, vocabulary)
    spelt = _registers_spelt(vocabulary)
    out.registers = {key for key, one in found.items() if any(word.text in spelt for word in one)}
    return out


@lru_cache(maxsize=16)
def _registers_spelt(vocabulary: Vocabulary) -> frozenset[str]:
    """The words, longer than a letter, for the registers of a choir that no band's instrument is called by alone."""
    marks = vocabulary.marks
    return frozenset(word for one in _REGISTERS[:-1] for word in marks.get(one, ()) if len(word) > 1)


@lru_cache(maxsize=16)
def _told_otherwise(vocabulary: Vocabulary) -> frozenset[str]:
    """The words that tell no part and are known all the same: sides, takes, what a name says besides."""
    return frozenset(vocabulary.sides.sides).union(*vocabulary.marks.values())


def _unread(found: dict[str, tuple[Word, ...]], vocabulary: Vocabulary) -> dict[str, tuple[str, ...]]:
    """Channel id to the words of its name that are not known, without those that half of the names have."""
    told = _told_otherwise(vocabulary)
    unread = {
        key: tuple(dict.fromkeys(w.text for w in one if is_unread(w) and w.text not in told))
        for key, one in found.items()
    }
    counts = Counter(text for one in unread.values() for text in one)
    most = {text for text, count in counts.items() if count > 1 and count * 2 >= len(found)}
    return {key: tuple(text for text in one if text not in most) for key, one in unread.items()}


_REGISTERS: Final = ("soprano", "alto", "tenor", "choir-bass")
LEAST_REGISTERS: Final = 3
"""So many registers of a choir side by side are one: a definition, a band has no three of them."""


def _choir(
    session: Session, found: dict[str, tuple[Word, ...]], about: SessionWords, vocabulary: Vocabulary
) -> dict[str, str]:
    """Id of each channel that is a section of a choir, or the choir, to why, for a reader.

    Three or more of soprano, alto, tenor and bass that lie in one folder and go to one output are a choir. Where it
    has no bass by its side, and saxophones or recorders may be named by register too, nothing is told. Single letters
    count where all four are there. A lone bass beside a drum kit can be the band's.
    """
    marks = vocabulary.marks
    registers = {word: register for register in _REGISTERS for word in marks.get(register, ())}
    places: dict[tuple[object, ...], dict[str, tuple[str, str]]] = {}
    for channel in session.channels:
        texts = [word.text for word in found[channel.id]]
        told = [text for text in texts if text in registers]
        others = [w for w in found[channel.id] if w.text not in registers and not _about_a_choir(w, marks)]
        if any("solo" in word.concepts for word in found[channel.id]):
            continue
        if len(told) != 1 or any(set(w.concepts) & _PART_OF_A_BAND for w in others):
            continue
        if is_known(channel.kind) and channel.kind != "track":
            continue
        place = (channel.folder, channel.parent or (channel.output if isinstance(channel.output, str) else None))
        places.setdefault(place, {})[channel.id] = (registers[told[0]], told[0])
        if others:  # sections that share a word are one choir wherever one of them goes: "Spot Alto", "Spot Tenor"
            alike = tuple(sorted(w.text for w in others))
            places.setdefault(("named", *alike), {})[channel.id] = (registers[told[0]], told[0])
    choir: dict[str, str] = {}
    for members in places.values():
        there = {register for register, _ in members.values()}
        spelt = {register for register, text in members.values() if len(text) > 1}
        if len(there) < LEAST_REGISTERS or (len(spelt) < LEAST_REGISTERS and len(there) < len(_REGISTERS)):
            continue
        if "choir-bass" not in there and (about.parts.get("winds") or about.parts.get("brass")):
            continue
        beside = " and ".join(dict.fromkeys(text for _, text in members.values()))
        basses = [one for one, (register, _) in members.items() if register == "choir-bass"]
        for one, (_, text) in members.items():
            if one in basses and len(basses) == 1 and sum(about.drums.values()) >= DRUM_SESSION:
                continue
            choir[one] = f"'{text}' is a section of a choir: {beside} lie side by side"
    if choir or about.parts.get("main-pair"):
        whole = marks.get("choir", frozenset())
        for channel in session.channels:
            said = whole.intersection(word.text for word in found[channel.id])
            if said and (not is_known(channel.kind) or channel.kind == "track"):
                choir.setdefault(channel.id, f"'{min(said)}' beside its sections or the main microphones")
    return choir


def _about_a_choir(word: Word, marks: dict[str, frozenset[str]]) -> bool:
    return word.text in marks.get("choir", ())


def _kind(channel: Channel, session: SessionWords, effects: tuple[str, ...]) -> str | None:
    """The declared kind; a strip fed by sends alone is a return when nothing is declared or a time effect sits in it.

    Some exports declare every bus a group or a track.
    """
    kind = channel.kind if is_known(channel.kind) else None
    if channel.id not in session.sent_to - session.routed_to or seen_clips(channel):
        return kind
    return "return" if kind is None or (kind in ("group", "track") and _TIME_EFFECTS & set(effects)) else kind


def _in_an_orchestra(channel: Channel, session: SessionWords) -> bool:
    sections = [session.parts.get(section, set()) - {channel.id} for section in _OF_AN_ORCHESTRA]
    return not session.kit and sum(map(bool, sections)) > 1 and sum(map(len, sections)) >= ORCHESTRA


def surroundings(
    channel: Channel,
    session: SessionWords,
    by_id: dict[str, Channel],
    effects: tuple[str, ...],
    vocabulary: Vocabulary,
) -> Surroundings:
    """Gather the evidence beside one channel's name.

    Args:
        channel: the channel.
        session: what the names of its session tell together.
        by_id: the channels of the session by id.
        effects: the kinds of its inserts, in order, where they are known.
        vocabulary: the words in force.
    """
    places: list[tuple[frozenset[str], str]] = []
    seen = {channel.id}
    above = by_id.get(channel.parent) if channel.parent else None
    while above is not None and above.id not in seen:
        seen.add(above.id)
        places.append((_of_place(above.name, vocabulary), above.name))
        above = by_id.get(above.parent) if above.parent else None
    places += [(_of_place(name, vocabulary), name) for name in reversed(channel.folder)]
    target = by_id.get(channel.output) if isinstance(channel.output, str) else None
    if target is not None and target.id not in seen:
        places.append((_of_place(target.name, vocabulary), target.name))
    plays = {c.plays for c in seen_clips(channel)} | set(channel.plays)
    drums = sum(session.drums.values()) - session.drums[channel.id]
    return Surroundings(
        kind=_kind(channel, session, effects),
        plays="notes" if "notes" in plays else "audio" if "audio" in plays else "",
        recorded=any(c.plays in ("audio", "notes") for c in seen_clips(channel)),
        refrains=session.refrains,
        unread=session.unread.get(channel.id, ()),
        registers_elsewhere=bool(session.registers - {channel.id}),
        keys_others=bool(
            {fold_name(channel.name, separators=True), fold_name(channel.id, separators=True)} & session.keys
        ),
        has_members=channel.id in session.routed_to,
        places=tuple(places),
        effects=effects,
        drum_session=drums >= DRUM_SESSION,
        voices_elsewhere=bool(sum(session.voices.values()) - session.voices[channel.id]),
        portuguese=session.portuguese,
        bass_elsewhere=bool(session.parts.get("bass", set()) - {channel.id}),
        keys_elsewhere=bool(session.parts.get("keys", set()) - {channel.id}),
        speech_elsewhere=bool(session.parts.get("speech", set()) - {channel.id}),
        beat_elsewhere=drums == 0
        and bool((session.parts.get("backing-track", set()) | session.parts.get("loop", set())) - {channel.id}),
        horn_section=session.horn_section,
        orchestra=_in_an_orchestra(channel, session),
        choir=session.choir.get(channel.id, ""),
        files=_files(channel, session),
        leads_elsewhere=(elsewhere := _leads_elsewhere(channel, target, vocabulary)),
        goes_on=target is not None and not elsewhere,
        version=not {"version", "date", "take"}.isdisjoint(taken_apart(channel.name, vocabulary).marks),
        string_section=len(session.parts.get("strings", set()) - {channel.id}) >= STRING_SECTION,
        brass_band=_in_a_brass_band(channel, session),
        voices_of_players=session.voices_of_players >= LEAST_SINGING_PLAYERS,
        fed=channel.id in session.sent_to | session.routed_to,
    )


STRING_SECTION: Final = 3
"""From so many other channels of strings on a bass belongs to them: a definition."""

SPELT_OUT: Final = 3
"""From so many letters on a word is more than initials: a definition."""

BRASS_BAND: Final = 3
"""From so many other channels of brass on, and of little else, it is a brass band: a definition."""


def _in_a_brass_band(channel: Channel, session: SessionWords) -> bool:
    brass = session.parts.get("brass", set()) - {channel.id}
    others = (session.parts.get(section) for section in ("strings", "keys", "guitar", "electric-guitar"))
    return len(brass) >= BRASS_BAND and not any(others) and not session.kit


def _sings_and_plays(found: tuple[Word, ...]) -> bool:
    """True for a name such as ``Vocals-Gtr``: what is recorded, then who sings it."""
    if len(found) < 2 or not _VOICE_CONCEPTS.intersection(found[0].concepts):
        return False
    return any(_PLAYED.intersection(w.concepts) and not _VOICE_CONCEPTS.intersection(w.concepts) for w in found[1:])


_PLAYED: Final = frozenset(
    {"guitar", "acoustic-guitar", "electric-guitar", "keys", "drums", "plucked", "strings", "bass", "winds", "brass"}
)


def _of_place(name: str, vocabulary: Vocabulary) -> frozenset[str]:
    """What a folder or a group is called after; one of a choir says so beside backing vocals."""
    found = words(name, vocabulary)
    choir = vocabulary.marks.get("choir-itself", frozenset())
    return concepts_of(found) | ({"choir"} if any(word.text in choir for word in found) else set())


def _stem(path: str) -> str:
    """The name of a file without its folder and suffix."""
    return path.replace("\\", "/").rpartition("/")[2].rpartition(".")[0]


def _files(channel: Channel, session: SessionWords) -> tuple[str, ...]:
    own = fold_name(channel.name, separators=True)
    names = dict.fromkeys(session.files.get(clip.file, "") for clip in seen_clips(channel) if clip.file is not None)
    return tuple(name for name in names if name and fold_name(name, separators=True) != own)


def _leads_elsewhere(channel: Channel, target: Channel | None, vocabulary: Vocabulary) -> str:
    """How a track stays out of the mix: it goes nowhere, or to a strip for those who listen while they play."""
    if is_known(channel.kind) and channel.kind != "track":
        return ""
    if channel.output is None:
        return "it goes nowhere"
    if target is not None and "cue" in concepts_of(words(target.name, vocabulary)):
        return f"it goes to '{target.name}'"
    return ""
