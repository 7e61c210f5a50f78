"""Which channel of the newer revision is which of the older one: by name, kind and place, never by id or order."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Hashable, Mapping
from typing import Final, TypeAlias

from mixlint.naming import fold_name
from mixlint.session import FADER, PAN, Channel, Clip, Session, control_of, is_known, seen_clips

Pair: TypeAlias = tuple[Channel | None, Channel | None]
"""The older and the newer state of one channel; None where it was added or removed."""

Contents: TypeAlias = Mapping[str, str]
"""Media id to a hash of its sound, for the files that were heard."""

MOST_NAMESAKES: Final = 40
"""With more channels of one name and kind than this they are taken in order instead of each against each."""


class Revision:
    """One session with what matching asks of it.

    Args:
        session: the session.
        contents: media id to a hash of its sound, for the files that were heard.
    """

    def __init__(self, session: Session, contents: Contents) -> None:
        self.session = session
        self.contents = contents
        self.channels = {c.id: c for c in session.channels}
        self._paths = {m.id: m.path for m in session.media}
        self._feeders: dict[str, list[str]] = defaultdict(list)
        for channel in session.channels:
            targets = [channel.output, *(send.to for send in channel.sends)]
            for target in targets:
                if isinstance(target, str):
                    self._feeders[target].append(fold_name(channel.name))

    def name(self, channel_id: str) -> str:
        """The name of a channel, or its id where there is no such channel."""
        channel = self.channels.get(channel_id)
        return channel.name if channel else channel_id

    def sound(self, clip: Clip) -> str:
        """The hash of what a clip plays, or nothing where it was not heard."""
        return self.contents.get(clip.file, "") if clip.file is not None else ""

    def file_name(self, clip: Clip) -> str:
        """The name of the file a clip plays, without its folders."""
        path = self._paths.get(clip.file, clip.file) if clip.file is not None else ""
        return path.replace("\\", "/").rsplit("/", 1)[-1]

    def place(self, channel: Channel) -> tuple[str, ...]:
        """The names of the groups a channel is nested in, innermost first."""
        found: list[str] = []
        seen = {channel.id}
        here = channel.parent
        while here is not None and here in self.channels and here not in seen:
            seen.add(here)
            found.append(fold_name(self.channels[here].name))
            here = self.channels[here].parent
        return tuple(found)

    def content(self, channel: Channel) -> Hashable:
        """What a channel is known again by under another name: its clips, else what runs into it; None for neither."""
        if seen_clips(channel):
            return frozenset(
                (fold_name(self.file_name(c)) or c.plays, round(c.start_s, 2), round(c.end_s, 2))
                for c in seen_clips(channel)
            )
        feeders = tuple(sorted(self._feeders.get(channel.id, ())))
        return ("fed by", *feeders) if feeders else None


def match(old: Revision, new: Revision, unlike: Callable[[Channel, Channel], int]) -> list[Pair]:
    """Pair the channels of two revisions, in the newer one's desk order, what is gone last.

    Channels of one name and kind are told apart by their place, then by which differ least; those left over by their
    name alone, then by their content, where that leaves no doubt.

    Args:
        old: the older revision.
        new: the newer one.
        unlike: how much two channels differ, asked of namesakes only.

    Returns:
        Each channel of either revision once: its older and its newer state.
    """
    found: dict[str, Channel] = {}  # newer id to older channel
    left_old, left_new = list(old.session.channels), list(new.session.channels)

    def take(before: Channel, after: Channel) -> None:
        found[after.id] = before
        left_old.remove(before)
        left_new.remove(after)

    def by(key: Callable[[Revision, Channel], Hashable], *, sure: bool) -> None:
        """Pair the channels that share a key; with ``sure`` only where it is borne by one on either side."""
        olds, news = _by_key(old, left_old, key), _by_key(new, left_new, key)
        for shared in [k for k in olds if k in news]:
            before, after = olds[shared], news[shared]
            if len(before) == len(after) == 1:
                take(before[0], after[0])
            elif not sure:
                for one, other in _namesakes(old, new, before, after, unlike):
                    take(one, other)

    by(lambda r, c: (fold_name(c.name), _kind(c), r.place(c)) if fold_name(c.name) else None, sure=False)
    by(lambda _, c: (fold_name(c.name), _kind(c)) if fold_name(c.name) else None, sure=False)
    by(lambda _, c: fold_name(c.name) or None, sure=True)
    by(lambda r, c: _with_kind(c, r.content(c)), sure=True)
    by(lambda _, c: ("the only", _kind(c)) if _kind(c) == "master" else None, sure=True)
    pairs: list[Pair] = [(found.get(c.id), c) for c in new.session.channels]
    return [*pairs, *((c, None) for c in left_old)]


def _kind(channel: Channel) -> str:
    return channel.kind if is_known(channel.kind) else "unknown"


def _with_kind(channel: Channel, content: Hashable) -> Hashable:
    return None if content is None else (_kind(channel), content)


def _by_key(
    revision: Revision, channels: list[Channel], key: Callable[[Revision, Channel], Hashable]
) -> dict[Hashable, list[Channel]]:
    found: dict[Hashable, list[Channel]] = {}
    for channel in channels:
        of_it = key(revision, channel)
        if of_it is not None:
            found.setdefault(of_it, []).append(channel)
    return found


def _namesakes(
    old: Revision, new: Revision, before: list[Channel], after: list[Channel], unlike: Callable[[Channel, Channel], int]
) -> list[tuple[Channel, Channel]]:
    """Namesakes paired so that those alike come together first."""
    left_old, left_new = list(before), list(after)
    pairs: list[tuple[Channel, Channel]] = []
    if len(before) > MOST_NAMESAKES or len(after) > MOST_NAMESAKES:
        # Each against each would take too long: first what plays and stands the same, then what plays the same.
        for key in (
            lambda r, c: (r.content(c), *(repr(control_of(c, target).now) for target in (FADER, PAN))),
            lambda r, c: r.content(c),
        ):
            olds, news = _by_key(old, left_old, key), _by_key(new, left_new, key)
            pairs += [pair for k in olds if k in news for pair in zip(olds[k], news[k], strict=False)]
            done_old, done_new = {a.id for a, _ in pairs}, {b.id for _, b in pairs}
            left_old = [c for c in left_old if c.id not in done_old]
            left_new = [c for c in left_new if c.id not in done_new]
        return [*pairs, *zip(left_old, left_new, strict=False)]
    costs = sorted((unlike(one, other), m, n) for m, one in enumerate(before) for n, other in enumerate(after))
    taken_old: set[int] = set()
    taken_new: set[int] = set()
    for _, m, n in costs:
        if m not in taken_old and n not in taken_new:
            taken_old.add(m)
            taken_new.add(n)
            pairs.append((before[m], after[n]))
    return pairs
