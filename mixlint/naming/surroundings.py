"""What surrounds a channel's name: what the export declares, where it lies, and what else is in the session."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import NamedTuple

from mixlint.naming.fold import tokens
from mixlint.naming.vocabulary import Vocabulary
from mixlint.naming.word_lookup import Word, numberless, words, words_of
from mixlint.session import Channel, Session, is_known

_DRUM_CONCEPTS = frozenset({"kick", "snare", "hi-hat", "toms", "overheads"})
_VOICE_CONCEPTS = frozenset({"vocal", "lead-vocal", "backing-vocals", "vocal-double"})
_TIME_EFFECTS = frozenset({"reverb", "delay", "modulation", "pitch"})
_SILENT = frozenset({"mic", "section", "interval", "double", "lead", "a", "e", "t", "verse", "ambiguous", "string"})


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

    def placed(self, *concepts: str) -> str:
        """The name of the nearest folder or group that speaks of one of ``concepts``; empty when none does."""
        return next((name for found, name in self.places if found.intersection(concepts)), "")


@dataclass(slots=True)
class SessionWords:
    """Counts over all names of a session, so that one channel can be seen beside the others."""

    drums: Counter[str] = field(default_factory=Counter)
    voices: Counter[str] = field(default_factory=Counter)
    portuguese: bool = False
    sent_to: set[str] = field(default_factory=set)
    routed_to: set[str] = field(default_factory=set)


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
    return out | cut if telling * 2 >= len(cut) else out


def survey(session: Session, found: dict[str, tuple[Word, ...]], vocabulary: Vocabulary) -> SessionWords:
    """Read every channel name once for what it says about the session as a whole."""
    out = SessionWords()
    portuguese = spanish = 0
    clues = vocabulary.clues
    for channel in session.channels:
        concepts = concepts_of(found[channel.id])
        if concepts & _DRUM_CONCEPTS:
            out.drums[channel.id] += 1
        if concepts & _VOICE_CONCEPTS:
            out.voices[channel.id] += 1
        texts = {part for word in found[channel.id] for part in word.text.split()}
        out.sent_to.update(send.to for send in channel.sends if isinstance(send.to, str))
        out.routed_to.update(x for x in (channel.output, channel.parent) if isinstance(x, str))
        portuguese += bool(texts & clues["pt"])
        spanish += bool(texts & clues["es"])
    out.portuguese = portuguese > spanish
    return out


def _kind(channel: Channel, session: SessionWords, effects: tuple[str, ...]) -> str | None:
    """The declared kind; a strip fed by sends alone is a return when nothing is declared or a time effect sits in it.

    Some exports declare every bus a group or a track.
    """
    kind = channel.kind if is_known(channel.kind) else None
    if channel.id not in session.sent_to - session.routed_to or channel.clips:
        return kind
    return "return" if kind is None or (kind in ("group", "track") and _TIME_EFFECTS & set(effects)) else kind


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
        places.append((concepts_of(words(above.name, vocabulary)), above.name))
        above = by_id.get(above.parent) if above.parent else None
    places += [(concepts_of(words(name, vocabulary)), name) for name in reversed(channel.folder)]
    target = by_id.get(channel.output) if isinstance(channel.output, str) else None
    if target is not None and target.id not in seen:
        places.append((concepts_of(words(target.name, vocabulary)), target.name))
    plays = {c.plays for c in channel.clips} | set(channel.plays)
    drums = sum(session.drums.values()) - session.drums[channel.id]
    return Surroundings(
        kind=_kind(channel, session, effects),
        plays="notes" if "notes" in plays else "audio" if "audio" in plays else "",
        recorded=any(c.plays in ("audio", "notes") for c in channel.clips),
        has_members=channel.id in session.routed_to,
        places=tuple(places),
        effects=effects,
        drum_session=drums >= 2,
        voices_elsewhere=bool(sum(session.voices.values()) - session.voices[channel.id]),
        portuguese=session.portuguese,
    )
