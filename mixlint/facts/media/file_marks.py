"""Files that belong to another version, scene or song than the rest of their set, by what all names of the set share.

A set is what lies in one folder, or begins with one word. Where every other channel of it plays files of one version,
one scene or one day, the channel that does not was linked to a file of an earlier delivery, or of another song.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from typing import Final, NamedTuple

from mixlint.analysis.audibility import is_heard
from mixlint.analysis.automation_range import always_muted
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import MediaUse, file_name, media_uses
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, Row
from mixlint.naming import (
    FileMark,
    chosen_beside,
    file_marks,
    fold_name,
    is_print,
    is_stem,
    name_words,
    put_aside,
)
from mixlint.session import Channel
from mixlint.units import few_text

FACTS: Facts[MediaUse] = Facts()

LEAST_OTHERS: Final = Setting(
    "file_marks.least_others",
    3.0,
    "",
    "So many other channels of a set have to play files that are marked alike, so that one that is not stands out.",
    lowest=2.0,
)
LEAST_OF_SONG: Final = Setting(
    "file_marks.least_of_song",
    4.0,
    "",
    "So many other files have to begin with one word, so that one that does not is of another song.",
    lowest=3.0,
)
LEAST_TOGETHER: Final = Setting(
    "file_marks.least_together",
    4.0,
    "",
    "So many other channels that are cut at the same places have to play one take, so that another take stands out.",
    lowest=2.0,
)
MARK_SETTINGS: Final = (LEAST_OTHERS, LEAST_OF_SONG, LEAST_TOGETHER)

MARK_NAMES: Final[dict[FileMark, str]] = {
    "version": "version", "scene": "scene or set", "take": "take", "date": "day", "key": "key",
}  # fmt: skip
"""What a mark is called: wording."""

SET_MARKS: Final = frozenset[FileMark]({"version", "scene", "date", "key"})
"""Marks that all files of a set share. Takes differ from part to part; they are held against the drums alone, which
are recorded together, and against the folder that a take has of its own."""


class PlayedFile(NamedTuple):
    """A file that a part plays and that is heard.

    Args:
        use: the file and who plays it.
        channel: the part.
        name: the file's name.
        folder: where it lies, without the numbers of versions and takes.
    """

    use: MediaUse
    channel: Channel
    name: str
    folder: str


@per_session
def played_files(context: SessionContext) -> tuple[PlayedFile, ...]:
    """The files that heard parts of the song play, alternates aside, in the order of the export."""
    return tuple(
        _played(use, channel)
        for use in media_uses(context)
        for channel in (context.channels[one] for one in use.users)
        if is_source(context, channel) and is_heard(context, channel) and not _is_alternate(context, channel)
    )


@per_session
def heard_files(context: SessionContext) -> frozenset[str]:
    """Ids of the files that heard parts of the song play."""
    return frozenset(one.use.media.id for one in played_files(context))


@per_session
def printed_files(context: SessionContext) -> tuple[PlayedFile, ...]:
    """The files on tracks that hold what is handed over, and are not heard: stems and prints."""
    words = context.house.vocabulary
    return tuple(
        _played(use, channel)
        for use in media_uses(context)
        for channel in (context.channels[one] for one in use.users)
        if channel.kind == "track"
        and not is_heard(context, channel)
        and (is_stem(channel.name, words) or is_print(channel.name, words) or _records(context, channel))
    )


def _records(context: SessionContext, channel: Channel) -> bool:
    """True for an open track that leads nowhere: it holds what was run into it."""
    return channel.output is None and not always_muted(context, channel)


def _played(use: MediaUse, channel: Channel) -> PlayedFile:
    path = use.media.path.replace("\\", "/")
    return PlayedFile(use, channel, file_name(path), re.sub(r"\d+", "#", fold_name(path.rpartition("/")[0])))


def _is_alternate(context: SessionContext, channel: Channel) -> bool:
    """True where a name calls its channel the alternate of another one; an alto is none."""
    words = context.house.vocabulary
    chosen = chosen_beside(channel.name, words)
    return chosen is not None and chosen in _named(context)


@per_session
def _named(context: SessionContext) -> frozenset[frozenset[str]]:
    """The words of each channel's name."""
    return frozenset(name_words(one.name, context.house.vocabulary) for one in context.session.channels)


@per_session
def strange_marks(context: SessionContext) -> dict[str, tuple[FileMark, str]]:
    """Media id → the kind of mark in which it differs from all of its set, and both marks, for a reader."""
    found: dict[str, tuple[FileMark, str]] = {}
    for kind, files in _sets(context):
        marks: dict[str, set[str]] = {}
        for one in files:
            marks.setdefault(one.channel.id, set()).update(_marks(context, one).get(kind, ()))
        marks = {channel: values for channel, values in marks.items() if values}
        if len(marks) <= context.setting(LEAST_OTHERS):
            continue
        usual, times = Counter(frozenset(values) for values in marks.values()).most_common(1)[0]
        strange = {channel for channel, values in marks.items() if not values <= usual}
        # One stranger alone, and every other channel of the set with the very same marks.
        if len(strange) != 1 or times < context.setting(LEAST_OTHERS) or times + 1 < len(marks):
            continue
        for one in files:
            odd = _marks(context, one).get(kind, frozenset()) - usual
            if one.channel.id in strange and odd:
                is_, others = _mark_text(odd), _mark_text(usual)
                text = f"{MARK_NAMES[kind]} {is_}, where the {times} other channels of its set play {others}"
                found.setdefault(one.use.media.id, (kind, text))
    return found


def _mark_text(values: frozenset[str]) -> str:
    return few_text(sorted(values, key=lambda one: (len(one), one)), joint=", ")


def _marks(context: SessionContext, played: PlayedFile) -> dict[FileMark, frozenset[str]]:
    return file_marks(played.name, context.house.vocabulary)


def _sets(context: SessionContext) -> Iterator[tuple[FileMark, list[PlayedFile]]]:
    """The files that should be marked alike, by folder and by the word that their names begin with."""
    sets: dict[tuple[str, str], list[PlayedFile]] = {}
    drums: list[PlayedFile] = []
    for one in played_files(context):
        sets.setdefault(("folder", one.folder), []).append(one)
        sets.setdefault(("begins", re.sub(r"\d+", "#", _first_word(one.name))), []).append(one)
        if context.family(one.channel.id) == "drums":
            drums.append(one)
    for one in printed_files(context):
        sets.setdefault(("printed", one.folder), []).append(one)
    for files in sets.values():
        for kind in SET_MARKS:
            yield kind, files
    yield "take", drums


@per_session
def strange_takes(context: SessionContext) -> dict[str, tuple[FileMark, str]]:
    """Media id → the take that it is of, where all other channels that are cut at the same places play another there.

    One alone: microphones of one recording are cut together and change takes together, a part recorded later is not.
    """
    cuts: dict[tuple[int, int], list[tuple[PlayedFile, frozenset[str]]]] = {}
    for one in played_files(context):
        take = _marks(context, one).get("take", frozenset())
        several = len({clip.file for clip in one.channel.clips}) > 1
        for clip in one.channel.clips if take and several else ():
            if clip.file == one.use.media.id:
                cuts.setdefault((round(clip.start_s * 10), round(clip.end_s * 10)), []).append((one, take))
    found: dict[str, tuple[FileMark, str]] = {}
    for there in cuts.values():
        (usual, times), *others = Counter(take for _, take in there).most_common()
        if len(others) != 1 or others[0][1] != 1 or times < context.setting(LEAST_TOGETHER):
            continue
        odd, take = next((one, take) for one, take in there if take != usual)
        if take & usual:
            continue
        text = f"take {_mark_text(take)}, where {times} other channels that are cut with it play {_mark_text(usual)}"
        found.setdefault(odd.use.media.id, ("take", text))
    return found


def _first_word(name: str) -> str:
    return re.split(r"[\s_\-.]", fold_name(name), maxsplit=1)[0]


@per_session
def clips_named_otherwise(context: SessionContext) -> dict[str, tuple[FileMark, str]]:
    """Media id → the mark that the names of its clips tell otherwise, where all other clips agree with their files."""
    words = context.house.vocabulary
    told = (
        (one, file_marks(clip.name, words), "clip")
        for one in played_files(context)
        for clip in one.channel.clips
        if clip.file == one.use.media.id
    )
    return _told_otherwise(context, told)


@per_session
def folders_named_otherwise(context: SessionContext) -> dict[str, tuple[FileMark, str]]:
    """Media id → the mark in which its name differs from its folder's, where those of all other files agree."""
    words = context.house.vocabulary
    told = (
        (one, file_marks(one.use.media.path.replace("\\", "/").rpartition("/")[0].rpartition("/")[2], words), "folder")
        for one in played_files(context)
    )
    return _told_otherwise(context, told)


def _told_otherwise(
    context: SessionContext, told: Iterable[tuple[PlayedFile, dict[FileMark, frozenset[str]], str]]
) -> dict[str, tuple[FileMark, str]]:
    """Files whose names differ in a mark from what stands beside them: one alone, where all others agree."""
    agree: Counter[FileMark] = Counter()
    differ: dict[FileMark, dict[str, str]] = {}
    for one, beside, what in told:
        in_file = _marks(context, one)
        for kind in beside.keys() & in_file.keys():
            if beside[kind] & in_file[kind]:
                agree[kind] += 1
                continue
            real, said = _mark_text(in_file[kind]), _mark_text(beside[kind])
            text = f"{MARK_NAMES[kind]} {real}, where its {what} is named for {said}"
            differ.setdefault(kind, {}).setdefault(one.use.media.id, text)
    return {
        media: (kind, text)
        for kind, files in differ.items()
        if len(files) == 1 and agree[kind] >= context.setting(LEAST_OTHERS)
        for media, text in files.items()
    }


@per_session
def of_another_song(context: SessionContext) -> dict[str, tuple[FileMark, str]]:
    """Media id → that its name begins with another word than those of all other channels' files in its folder.

    The word has to be one of the song, not of the part: a short code in capitals, one with a number in it, or a word
    that no channel's name holds.
    """
    folders: dict[str, dict[str, PlayedFile]] = {}
    for one in played_files(context):
        folders.setdefault(one.folder, {}).setdefault(one.use.media.id, one)
    found: dict[str, tuple[FileMark, str]] = {}
    for files in folders.values():
        firsts = Counter(_first_word(one.name) for one in files.values())
        usual, times = firsts.most_common(1)[0]
        odd = [one for one in files.values() if _first_word(one.name) != usual]
        if len(firsts) != 2 or len({one.channel.id for one in odd}) != 1 or times < context.setting(LEAST_OF_SONG):
            continue
        if len(odd) >= times:
            continue
        if any(_of_the_part(context, one, usual) for one in files.values()):
            continue
        for media, one in files.items():
            first = _first_word(one.name)
            if first != usual and _alike(files, usual, one) and not _of_the_part(context, one, first):
                text = f"another song: its name begins with {first}, those of the others in its folder with {usual}"
                found[media] = ("scene", text)
    return found


def _of_the_part(context: SessionContext, played: PlayedFile, word: str) -> bool:
    return word in {one.casefold() for one in name_words(played.channel.name, context.house.vocabulary)}


def _alike(files: dict[str, PlayedFile], usual: str, odd: PlayedFile) -> bool:
    """True where an odd first word is built as the usual one, and the name goes on as theirs do."""
    original = next(one.name for one in files.values() if _first_word(one.name) == usual)[: len(usual)]
    first = odd.name[: len(_first_word(odd.name))]
    built = [(word.isupper(), word.isalpha()) for word in (original, first)]
    rest = [len(re.split(r"[\s_\-.]", one.name)) for one in files.values()]
    return built[0] == built[1] and len(re.split(r"[\s_\-.]", odd.name)) in rest and len(first) > 1


@FACTS.fact(
    "text", "The parts of the song that play it and are heard, and the tracks of prints that hold it.", how="derived"
)
def heard_on(row: Row[MediaUse]) -> str:
    return ", ".join(map(row.context.name, _heard_by(row.context).get(row.item.media.id, ()))) or "nobody"


@per_session
def _heard_by(context: SessionContext) -> dict[str, list[str]]:
    """Media id → ids of the heard parts that play it, and of the prints that hold it."""
    found: dict[str, list[str]] = {}
    for one in (*played_files(context), *printed_files(context)):
        found.setdefault(one.use.media.id, []).append(one.channel.id)
    return found


@FACTS.fact(
    "list",
    "In what its name differs from all other files of its set, from its clips or from its folder: version, scene, "
    "take, day, key or song, and what the others say.",
    how="derived",
    settings=MARK_SETTINGS,
)
def other_set(row: Row[MediaUse]) -> tuple[str, ...]:
    return tuple(text for _, text in _told(row))


@FACTS.fact(
    "switch",
    "What it differs in is the scene, the set or the song: what is on it was played elsewhere.",
    how="derived",
    settings=MARK_SETTINGS,
)
def other_scene(row: Row[MediaUse]) -> bool:
    return any(kind == "scene" for kind, _ in _told(row))


def _told(row: Row[MediaUse]) -> list[tuple[FileMark, str]]:
    """Each kind of mark in which a file differs, once, with the text of what tells it best."""
    found: dict[FileMark, str] = {}
    for table in (strange_marks, strange_takes, clips_named_otherwise, folders_named_otherwise, of_another_song):
        told = table(row.context).get(row.item.media.id)
        if told:
            found.setdefault(*told)
    return list(found.items())


@per_session
def put_aside_files(context: SessionContext) -> dict[str, str]:
    """Media id → the word by which its name says that it was put aside, and which neither channel nor comment says.

    A word that several such files bear is how this session calls its files.
    """
    words = context.house.vocabulary
    found: dict[str, tuple[str, str]] = {}
    for one in played_files(context):
        said = put_aside(one.name, words)
        known = name_words(f"{one.channel.name} {one.channel.comment}", words)
        if said and not set(said.split()) & known and not any(word.startswith(said) for word in known):
            found.setdefault(one.use.media.id, (said, one.channel.id))
    bearing = Counter(said for said, _ in found.values())
    return {media: said for media, (said, _) in found.items() if bearing[said] == 1}


@FACTS.fact(
    "list",
    "The word by which its name says that it was put aside or never meant to last, where no other file in use bears it "
    "and the part that plays it is not named for it.",
    how="derived",
)
def name_puts_aside(row: Row[MediaUse]) -> tuple[str, ...]:
    said = put_aside_files(row.context).get(row.item.media.id)
    return (said,) if said else ()
