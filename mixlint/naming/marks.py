"""What a name says besides the part: that nobody chose it, that it is a print or a take, what begins or ends there.

All of these read a name without regard to capitals, accents and the ways of writing a character.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Final

from mixlint.naming.fold import as_read, fold_name, strip_accents, tokens, without_asides
from mixlint.naming.runs import any_word
from mixlint.naming.vocabulary import SHIPPED, Side, Vocabulary
from mixlint.naming.word_lookup import numberless

_NUMBER: Final = r"[\s_\-.#()]*\d*"
"""A number at the end of a name, with what stands before it."""


def _any_of(vocabulary: Vocabulary, *concepts: str) -> str:
    """A pattern for any of the words of some marks, the longest first; it never matches when there are none."""
    words = {word for concept in concepts for word in vocabulary.marks.get(concept, ())}
    return "|".join(re.escape(word) for word in sorted(words, key=lambda word: (-len(word), word))) or "(?!)"


@lru_cache(maxsize=16)
def _given(vocabulary: Vocabulary, concept: str) -> re.Pattern[str]:
    """A name that a program gives: a general word, perhaps another one, perhaps a number."""
    words, kinds = _any_of(vocabulary, concept), _any_of(vocabulary, f"{concept}-kind")
    return re.compile(rf"(?:{words})(?:[\s_\-]*(?:{kinds}))?{_NUMBER}")


def is_placeholder(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True for a channel's name that is empty, a number, or one that a program gave, such as ``Audio 3``."""
    plain = strip_accents(name)
    if plain in vocabulary.marks.get("chosen", ()):
        return False
    return bool(re.fullmatch(_NUMBER, plain) or _given(vocabulary, "placeholder").fullmatch(plain))


def is_untitled(title: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True for an empty title of a session or one that a program gave, such as ``New Project 2``."""
    plain = strip_accents(title)
    return not plain or _given(vocabulary, "untitled").fullmatch(plain) is not None


@lru_cache(maxsize=16)
def _words(vocabulary: Vocabulary, *concepts: str) -> re.Pattern[str]:
    """A word of some marks that stands alone, or within a run without spaces."""
    words = (word for concept in concepts for word in vocabulary.marks.get(concept, ()))
    return re.compile(any_word(words, r"\b", r"\b", within=2))


def _says(name: str, vocabulary: Vocabulary, concept: str) -> bool:
    """True when a word of a mark stands alone in a name."""
    return _words(vocabulary, concept).search(strip_accents(name).replace("_", " ")) is not None


_INSTRUMENT_PRINT: Final = ("print", "freeze", "instrument-print", "notes")
"""The marks by which the names of an instrument and of its audio differ."""


def is_print(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True when a name says that the channel holds a print: ``Plate print``."""
    return _says(name, vocabulary, "print")


def is_frozen(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True when a name says that the channel is a rendering of another: ``Pad frozen``."""
    return _says(name, vocabulary, "freeze")


def is_instrument_audio(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True for a name with a word for the audio of an instrument or a bus: ``Piano audio``, ``Drum stem``."""
    return _says(name, vocabulary, "instrument-print")


def without_print_words(name: str, vocabulary: Vocabulary = SHIPPED, *, of_instrument: bool = False) -> str:
    """A name as a channel and its print have it in common, folded: ``plate`` of ``Plate (print)``.

    Args:
        name: a channel's name.
        vocabulary: the words in force.
        of_instrument: the words for the audio of an instrument, and for its notes, count too, as in ``Piano audio``
            and ``Piano MIDI``.
    """
    marks = _INSTRUMENT_PRINT if of_instrument else ("print",)
    plain = strip_accents(name).replace("_", " ")
    return fold_name(_words(vocabulary, *marks).sub(" ", plain), separators=True)


@lru_cache(maxsize=16)
def _numbered_print(vocabulary: Vocabulary) -> re.Pattern[str]:
    return re.compile(rf"\b({_any_of(vocabulary, 'print', 'freeze')})[\s_.\-#()]*\d+\)?$")


def without_print_number(name: str, vocabulary: Vocabulary = SHIPPED) -> str:
    """A name without the number of its print: ``Piano print`` of ``Piano print 2``, without accents and capitals."""
    return _numbered_print(vocabulary).sub(r"\1", strip_accents(name).replace("_", " "))


def is_drum_bass(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True when a name says of a bass that it belongs with the drums: ``808``, ``Sub``."""
    return _says(name, vocabulary, "drum-bass")


def is_stem(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True when a name says that a bus is the stem of what goes through it."""
    return _says(name, vocabulary, "stem")


@lru_cache(maxsize=16)
def _copy(vocabulary: Vocabulary) -> re.Pattern[str]:
    return re.compile(rf"[\s_.\-(]+(?:{_any_of(vocabulary, 'copy')})[\s_.\-#]*\d*\)?$")


def copied_from(name: str, vocabulary: Vocabulary = SHIPPED) -> str | None:
    """The name of what a channel says it is a copy of, folded, or None: ``lead vox`` of ``Lead Vox.dup1``."""
    part, count = _copy(vocabulary).subn("", strip_accents(name))
    return (fold_name(part, separators=True) or None) if count else None


def is_mid_side(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True when a name says that the channel holds a part of a mid and side recording."""
    return _says(name, vocabulary, "mid-side")


@lru_cache(maxsize=16)
def _take(vocabulary: Vocabulary) -> re.Pattern[str]:
    return re.compile(rf"(?:^|[\s_.\-(])(?:{_any_of(vocabulary, 'take')})[\s_.\-#]*\d*\)?$|\.\d{{1,2}}$")


def take_of(name: str, vocabulary: Vocabulary = SHIPPED) -> str | None:
    """The part a name says it is a take of, folded, or None: ``Lead Vox take 2`` is one of ``lead vox``."""
    plain = strip_accents(name)
    if any(word in plain for word in vocabulary.marks.get("layer", ())):
        return None
    part, count = _take(vocabulary).subn("", plain)
    return (fold_name(part) or None) if count else None


def is_take_of(name: str, part: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True when a name is a part's plain name or says it is a take of it; ``part`` is as :func:`take_of` gives it."""
    return part in (strip_accents(name), take_of(name, vocabulary))


_BAR: Final = r"(?:b|bar|c|m|t|takt|tact)?[.\s]*\d+"
"""A bar by its number, as it may stand before what a marker says: ``b62 END``."""


@lru_cache(maxsize=16)
def _song_end(vocabulary: Vocabulary) -> re.Pattern[str]:
    words, kinds = _any_of(vocabulary, "song-end"), _any_of(vocabulary, "song-end-kind")
    return re.compile(rf"\W*(?:{_BAR}\W+)?(?:{words})(?:\W*(?:{kinds}))?\W*")


def ends_song(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True for the name of a marker that says where the song ends."""
    return _song_end(vocabulary).fullmatch(strip_accents(name)) is not None


@lru_cache(maxsize=16)
def _whole_words(vocabulary: Vocabulary, concept: str) -> re.Pattern[str]:
    """A pattern for the words of a mark in a name that :func:`as_read` has taken apart."""
    return re.compile(any_word(vocabulary.marks.get(concept, ()), "(?:^| )", "(?: |$)", within=2))


def _says_whole(name: str, vocabulary: Vocabulary, concept: str) -> bool:
    """True when a name holds a word of a mark among those that it is read by: ``DI`` of ``EGtr 1 DI``."""
    return _whole_words(vocabulary, concept).search(as_read(name)) is not None


def reaches_low(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True when a name says that its part reaches down further than its like: ``Baritone Gtr``, ``Frame Drum``."""
    return _says_whole(name, vocabulary, "low-notes")


def is_direct(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True when a name says that the channel holds the direct signal of an instrument: ``EGtr 1 DI``."""
    return _says_whole(name, vocabulary, "direct")


def name_words(name: str, vocabulary: Vocabulary = SHIPPED) -> frozenset[str]:
    """The words and numbers of a name, folded, without a leading order number."""
    return frozenset(token.plain for token in numberless(tokens(name), vocabulary))


@lru_cache(maxsize=8192)
def words_without_print(name: str, vocabulary: Vocabulary = SHIPPED) -> frozenset[str]:
    """The words of a name that a print and its source have in common, however they are written.

    Words for prints and for buses are left out, and so is the ``s`` at the end of a word: ``Drum Bus`` and ``Drums
    bounce`` have the same.
    """
    phrases = vocabulary.channels.phrases
    found = name_words(without_print_words(name, vocabulary, of_instrument=True), vocabulary)
    return frozenset(_singular(word) for word in found if "bus" not in phrases.get(word, ()))


def words_of_ambience(name: str, vocabulary: Vocabulary = SHIPPED) -> tuple[frozenset[str], frozenset[str]]:
    """What the names of an ambience and its print have in common: the words of what it is for, and its effects.

    Words for prints, returns and wet sound are left out: ``Gtr L Verb`` and ``Gtr L Reverb (wet print)`` both give
    ``gtr, l`` and ``reverb``; a plate is a reverb by itself: ``plate`` and ``reverb``.
    """
    plain = strip_accents(name).replace("_", " ").replace("-", " ")
    left = words_without_print(_words(vocabulary, "ambience-print").sub(" ", plain), vocabulary)
    phrases = vocabulary.channels.phrases
    effects = {
        word: found
        for word in left
        if (found := {"reverb", "delay"} & ({"reverb"} if word == "rev" else set(phrases.get(word, ()))))
    }
    kinds = frozenset(kind for found in effects.values() for kind in found)
    plainly = {word for word in effects if word[:3] in ("rev", "ver", "rvb", "vrb", "rvr", "del", "dly")}
    return left - plainly, kinds


def says_ambience_print(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True when a name says that what is under it is the print of something, or wet."""
    return any(_says(name, vocabulary, mark) for mark in ("print", "freeze", "instrument-print", "ambience-print"))


def words_without_source(name: str, vocabulary: Vocabulary = SHIPPED) -> frozenset[str] | None:
    """The words of a name that calls its channel the source of a print, without that word: ``808 SRC``; else None."""
    plain = strip_accents(name).replace("_", " ").replace("-", " ")
    left, count = _words(vocabulary, "print-source").subn(" ", plain)
    return words_without_print(left, vocabulary) or None if count else None


def _singular(word: str) -> str:
    return word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith("ss") else word


def takes_turns(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True when a name says that its part takes turns with others: ``Adlib 2``, ``Answer``."""
    return _says_whole(name, vocabulary, "in-turn")


def is_alternate(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True when a name says that the channel is kept and not used: an alternate, a mock-up, an old version."""
    return _words(vocabulary, "alternate").search(strip_accents(name).replace("_", " ").replace("-", " ")) is not None


_TAKE_NUMBER: Final = re.compile(r"\b(?:t|tk|take)[\s.#]*\d{1,2}\b")
"""A take by its number, anywhere in a name."""


@lru_cache(maxsize=16)
def _numbered_take(vocabulary: Vocabulary) -> re.Pattern[str]:
    words = _any_of(vocabulary, "take", "take-letter")
    return re.compile(rf"(?<![a-z0-9])(?:{words})[\s_.\-#]*0*(\d{{1,2}})(?![0-9])(?!\.\d)")


@lru_cache(maxsize=8192)
def take_numbers(name: str, vocabulary: Vocabulary = SHIPPED) -> tuple[int, ...]:
    """The takes that a name gives by their numbers: 3 of ``Gtr_T03``, 12 of ``vox take 12``."""
    plain = strip_accents(name)
    return tuple(int(number) for number in _numbered_take(vocabulary).findall(plain))


@lru_cache(maxsize=8192)
def chosen_beside(name: str, vocabulary: Vocabulary = SHIPPED) -> frozenset[str] | None:
    """The words of the channel that was chosen over an alternate: of ``Fiddle`` for ``Fiddle alt T2``.

    None for a name that calls its channel no alternate, or that has no other words.
    """
    if not is_alternate(name, vocabulary):
        return None
    plain = _words(vocabulary, "alternate").sub(" ", strip_accents(name).replace("_", " ").replace("-", " "))
    takes = vocabulary.marks.get("take", frozenset())
    return (name_words(_TAKE_NUMBER.sub(" ", plain), vocabulary) - takes) or None


@lru_cache(maxsize=8192)
def punched_into(name: str, vocabulary: Vocabulary = SHIPPED) -> frozenset[str] | None:
    """The words of the channel whose lines were sung or spoken again: of ``Host`` for ``Host pickups``, or None."""
    plain = strip_accents(name).replace("_", " ").replace("-", " ")
    left, count = _words(vocabulary, "punch").subn(" ", plain)
    return (name_words(left, vocabulary) or None) if count else None


def open_job(comment: str, vocabulary: Vocabulary = SHIPPED) -> str:
    """The words by which a comment says that something is still to be done; empty where it does not."""
    found = _words(vocabulary, "open-job", "job-first").search(as_read(comment))
    return found.group(0) if found else ""


def job_comes_first(comment: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True where a comment says that the job has to be done before the mix goes out, or that something stands in."""
    return _words(vocabulary, "job-first").search(as_read(comment)) is not None


def stays_high(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True when a name says that its part is played or strung higher than its like: ``Ac Gtr Hi-Strung``, ``Skank``."""
    return _says_whole(name, vocabulary, "high-notes")


def is_tuned_percussion(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True when a name says of percussion that it plays notes: ``Glockenspiel``."""
    return _says_whole(name, vocabulary, "tuned-percussion")


def is_breath(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True when a name says of a voice that it is a layer of breath: ``Vox Whisper``."""
    return _says_whole(name, vocabulary, "breath")


def is_upper_layer(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True when a name says of a bass or a kick that it is the part above: ``Bass Grit``, ``Kick Click``."""
    return _says_whole(name, vocabulary, "upper-layer")


def is_sample(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True when a name says that the channel holds the sample of a drum: ``Kick Smp``."""
    return _says_whole(name, vocabulary, "sample")


_LAID_ASIDE: Final = re.compile(r"[,;:(\[\u2013-]\s*OUT\W*$")
"""A clip that was taken out by hand: the word in capitals behind a comma or dash, which no section has."""


def taken_out(name: str, vocabulary: Vocabulary = SHIPPED) -> str:
    """The word by which the name of a clip keeps it out of the mix: ``chat`` of ``vox chat w/ bar``, or none."""
    found = _words(vocabulary, "clip-out").search(as_read(name))
    if found:
        return found.group(0)
    return "OUT" if _LAID_ASIDE.search(name) else ""


def is_aside(words: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True when words say nothing but that a clip is talk, noise or a count, and no part of the song."""
    return _only(vocabulary, "clip-out-alone").fullmatch(as_read(words)) is not None


@lru_cache(maxsize=16)
def _only(vocabulary: Vocabulary, concept: str) -> re.Pattern[str]:
    """A name that holds words of a mark and nothing else."""
    words = _any_of(vocabulary, concept)
    return re.compile(rf"(?:{words})(?: (?:{words}))*")


@lru_cache(maxsize=16)
def _polarity(vocabulary: Vocabulary) -> re.Pattern[str]:
    words = _any_of(vocabulary, "polarity")
    return re.compile(rf"(?:{words})(?:[\s_\-]*(?:{_any_of(vocabulary, 'polarity-kind')}))?")


def is_polarity(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True for the name of a parameter that turns a signal over: ``Polarity``, ``Phase Invert``."""
    return _polarity(vocabulary).fullmatch(strip_accents(name)) is not None


def leg_of_polarity(name: str, vocabulary: Vocabulary = SHIPPED) -> Side | None:
    """The side of a parameter that turns one leg of a signal over: ``Invert L``, ``polarita_R``; None for any other.

    A letter counts as it does in names of channels, in the languages whose letters of both sides are known.
    """
    parts = as_read(name).split()
    known = dict(vocabulary.sides.sides)
    for left, right in vocabulary.sides.letters.values():
        known.setdefault(left, "left")
        known.setdefault(right, "right")
    told = [part for part in parts if part in known]
    if len(told) != 1 or len(parts) < 2:
        return None
    return known[told[0]] if is_polarity(" ".join(p for p in parts if p != told[0]), vocabulary) else None


def says_turned_over(comment: str, vocabulary: Vocabulary = SHIPPED) -> str:
    """The words by which a comment says that a channel is turned over; empty where it does not."""
    if says_straight(comment, vocabulary):
        return ""  # what is turned over in the same comment is the other microphone
    found = _words(vocabulary, "turned-over").search(as_read(comment))
    denied = _words(vocabulary, "denied").search(as_read(comment))
    return found.group(0) if found and not denied else ""


def says_straight(comment: str, vocabulary: Vocabulary = SHIPPED) -> str:
    """The words by which a comment says that a channel is not turned over; empty where it does not."""
    found = _words(vocabulary, "polarity-straight").search(as_read(comment))
    return found.group(0) if found else ""


@lru_cache(maxsize=16)
def _chorus(vocabulary: Vocabulary) -> re.Pattern[str]:
    words, kinds = _any_of(vocabulary, "chorus"), _any_of(vocabulary, "chorus-kind")
    return re.compile(rf"[\W\d_]*(?:(?:{kinds})[\W_]+)?(?:{words})(?:[\W_]+(?:{kinds}))?[\W\d_]*")


def is_chorus(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True for the name of a marker at a chorus: ``Chorus 2``, ``Last Chorus``; a pre-chorus is none."""
    return _chorus(vocabulary).fullmatch(strip_accents(name)) is not None


def turns_tempo(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True for the name of a marker that tells of the tempo and of nothing else: ``rit.``, ``A tempo``."""
    return _any_words(vocabulary, "tempo-turn").fullmatch(strip_accents(name)) is not None


@lru_cache(maxsize=16)
def _any_words(vocabulary: Vocabulary, concept: str) -> re.Pattern[str]:
    """A word of a mark with nothing but signs around it."""
    return re.compile(rf"[\W_]*(?:{_any_of(vocabulary, concept)})[\W_]*")


_NUMBERED: Final = re.compile(r"\s*([^\W\d_]+)[\s_.#\-]*(\d{1,2}|i{1,3}|iv|vi{0,3})(?![^\W_])")


@lru_cache(maxsize=8192)
def section_kind(name: str, vocabulary: Vocabulary = SHIPPED) -> tuple[str, int | None]:
    """What kind of section the name of a marker tells, and which of its kind: ``("verse", 2)`` for ``Verse 2 (her)``.

    Returns:
        ``chorus`` for every chorus; else the word before a number, or the whole name without what is in brackets and
        without words as in *last chorus*. The number is None where there is none.
    """
    plain = " ".join(without_asides(strip_accents(name).casefold()).split())
    numbered = _NUMBERED.match(plain)
    if numbered is not None:
        word, number = numbered[1], numbered[2]
        return (
            "chorus" if is_chorus(word, vocabulary) else word,
            int(number) if number.isdigit() else _ROMAN.index(number) + 1,
        )
    if is_chorus(plain, vocabulary):
        return "chorus", None
    kinds = vocabulary.marks.get("chorus-kind", frozenset())
    return " ".join(word for word in plain.split() if word not in kinds) or plain, None


_ROMAN: Final = ("i", "ii", "iii", "iv", "v", "vi", "vii", "viii")


def is_chorus_kind(kind: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True for a kind of section that is a chorus, written out or short before a number: ``ch`` of ``Ch 2``."""
    return kind == "chorus" or kind in vocabulary.marks.get("chorus-short", frozenset())


@lru_cache(maxsize=16)
def _dry(vocabulary: Vocabulary) -> re.Pattern[str]:
    return re.compile(rf"(?:^|[\W_])(?:{_any_of(vocabulary, 'dry')})(?:[\W_]|$)")


def is_dry(name: str, vocabulary: Vocabulary = SHIPPED) -> bool:
    """True when a name says that there is no ambience in it."""
    return _dry(vocabulary).search(strip_accents(name)) is not None
