"""What was worked out of sound, kept from one review of a session to the next by what it was worked out of.

A session that is exported again mostly plays the sound that it played before: a fader was moved, and every recording
still lies where it lay. What was heard in them holds as long as the content of the files, the clips, and whatever else
went into the work are the same; of all of that the key is made, and nothing of names, places or times of files.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from typing import TYPE_CHECKING, Any, Final, NamedTuple, TypeVar

from mixlint.analysis.context import SessionContext, per_session
from mixlint.session import Channel, seen_clips

if TYPE_CHECKING:
    from mixlint.session import Clip

T = TypeVar("T")

MOST_BYTES: Final = 512 << 20
"""How much is kept: forty stereo parts, half a minute of each behind its processors, and all that was read of them."""

LEAST_BYTES: Final = 1024
"""What anything counts as at the least: a bound of how many things are kept."""


class _Kept(NamedTuple):
    """Something kept: what it is, how much memory it takes, and the last review that asked for it."""

    value: Any
    size: int
    review: int


class SoundMemory:
    """Keeps what was worked out of sound, within a bound.

    What was not asked for the longest gives way first; what the present review asked for does not. So a session with
    more to keep than the bound gains by a part of it, where by turns each thing would push out the one asked for next.

    Args:
        most_bytes: how much is kept.
    """

    def __init__(self, most_bytes: int = MOST_BYTES) -> None:
        self._most = most_bytes
        self._kept: dict[Hashable, _Kept] = {}  # the last asked for at the end
        self._held = 0
        self._review = 0

    def begin(self) -> None:
        """A review begins."""
        self._review += 1

    def of(self, key: Hashable, make: Callable[[], T]) -> T:
        """What is kept under a key, or else is made now; whatever ``make`` raises is raised, and nothing kept."""
        found = self._kept.pop(key, None)
        if found is not None:
            self._kept[key] = found._replace(review=self._review)
            value: T = found.value
            return value
        value = make()
        size = max(LEAST_BYTES, _sealed(value))
        if self._makes_room(size):
            self._held += size
            self._kept[key] = _Kept(value, size, self._review)
        return value

    def _makes_room(self, size: int) -> bool:
        """Let go of what earlier reviews asked for until there is room for so many bytes; whether there is."""
        for key in list(self._kept):
            if self._held + size <= self._most or self._kept[key].review == self._review:
                break
            self._held -= self._kept.pop(key).size
        return self._held + size <= self._most


def _sealed(value: object) -> int:
    """How many bytes the arrays in a value take, none of which can be written to any more."""
    import numpy as np

    if isinstance(value, np.ndarray):
        value.setflags(write=False)
        return value.nbytes
    if isinstance(value, tuple | list):
        return sum(map(_sealed, value))
    return 0


def remembered(
    context: SessionContext,
    work: str,
    of: Sequence[Channel | str],
    rest: tuple[Hashable, ...],
    make: Callable[[], T],
) -> T:
    """What some work makes of sound, from an earlier review where all that it depends on is the same.

    Args:
        context: the session.
        work: a word for the work, of its own.
        of: the channels on whose clips it depends, and the ids of files that it reads whether or not they are played.
        rest: what else it depends on, by value.
        make: does it; of what it returns nothing may be changed afterwards.
    """
    memory = context.memory
    if memory is None:
        return make()
    sounds = [_content(context, one) if isinstance(one, str) else sound_of(context, one) for one in of]
    return make() if None in sounds else memory.of((work, *sounds, *rest), make)


def _content(context: SessionContext, media_id: str) -> str | None:
    content = None if context.audio is None else context.audio.digest(media_id)
    return content if isinstance(content, str) else None


@per_session
def sound_of(context: SessionContext, channel: Channel) -> bytes | None:
    """What a channel plays, by the content of its files and where its clips lie; None where a file cannot be read."""
    from hashlib import blake2b

    told = blake2b(f"{channel.loaded!r} {channel.missing.get('clips')!r}\n".encode(), digest_size=32)
    contents: dict[str | None, str] = {None: ""}
    for clip in seen_clips(channel):
        if clip.file not in contents:
            content = "" if clip.file is None else _content(context, clip.file)
            if content is None:
                return None
            contents[clip.file] = content
        told.update(_told(clip, contents[clip.file]))
    return told.digest()


def _told(clip: Clip, content: str) -> bytes:
    """All that a clip says of how it plays, its file by what is in it."""
    return f"{content}\n{clip.model_dump_json(exclude={'file', 'name', 'where'})}\n".encode()
