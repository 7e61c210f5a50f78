"""The session context: everything a fact may consult about one session, worked out when first asked for.

What is worked out is kept by the function that does it and by its arguments (:func:`per_session`), so that no two
pieces of work can meet under one name.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from functools import cached_property, wraps
from types import NoneType
from typing import TYPE_CHECKING, Any, Concatenate, Final, Literal, NamedTuple, ParamSpec, TypeVar

from mixlint.analysis.house import House
from mixlint.naming import Reading, family_of, fits_pattern, read_processor, read_roles
from mixlint.routing.strips import TIME_EFFECTS, UNREAD_EFFECT
from mixlint.session import (
    Channel,
    MediaFile,
    NotKnown,
    NotShown,
    Session,
    Unknown,
    guarded,
    is_known,
    seen_clips,
    seen_inserts,
)

if TYPE_CHECKING:
    from mixlint.analysis.settings import Setting
    from mixlint.analysis.sound_memory import SoundMemory
    from mixlint.comparison import Approval
    from mixlint.media import Library
    from mixlint.routing import Gains, Routing

LOW_HZ: Final = 60.0
MID_HZ: Final = 1000.0
"""Where low end and level are read, hertz. No settings: the facts are defined at these frequencies by their names."""

UNTOLD: Final = frozenset({None, "multi-effect"})
"""What is read of a processor where nothing tells which effect it is."""

MID: Final = 1
"""Index of 1 kHz among the frequencies of :attr:`SessionContext.gains_now`; 60 Hz is index 0."""

BANDS: Final = slice(2, None)
"""The octave bands among them."""

P = ParamSpec("P")
T = TypeVar("T")


class SessionContext:
    """One session under one house, with or without its audio.

    Args:
        session: the session in the neutral form.
        house: the settings of the standard in force.
        audio: the session's audio, or None when it is not to be opened.
        approved: the mix that was approved last, or None where none was.
        prints: prints of the mix that are no part of the session, each with how it is known: ``named`` or ``beside``.
        memory: what was worked out of sound in earlier reviews, to be used and added to.
    """

    def __init__(
        self,
        session: Session,
        house: House | None = None,
        audio: Library | None = None,
        approved: Approval | None = None,
        prints: tuple[tuple[MediaFile, Literal["named", "beside"]], ...] = (),
        memory: SoundMemory | None = None,
    ) -> None:
        self.session = guarded(session)
        self.house = house or House()
        self.audio = audio
        self.approved = approved
        self.prints = prints
        self.memory = memory
        self.kept: dict[Callable[..., Any], dict[Hashable, tuple[tuple[Any, ...], Any]]] = {}
        """What :func:`per_session` keeps: function → key of its arguments → the arguments, and what it returned."""

    def setting(self, setting: Setting) -> float:
        """The value in force of a setting: the house's, else its own."""
        return self.house.settings.get(setting.name, setting.value)

    @cached_property
    def channels(self) -> dict[str, Channel]:
        """Channel id → channel."""
        return {channel.id: channel for channel in self.session.channels}

    @cached_property
    def order(self) -> dict[str, int]:
        """Channel id → its place in the desk order, from 0."""
        return {channel.id: place for place, channel in enumerate(self.session.channels)}

    def name(self, channel_id: str) -> str:
        """A channel's name for a reader; ``channel 3`` where it has none, the id where there is no such channel."""
        channel = self.channels.get(channel_id)
        return (channel.name or f"channel {self.order[channel_id] + 1}") if channel else channel_id

    @cached_property
    def roles(self) -> dict[str, Reading]:
        """Channel id → what it plays, read from its name and surroundings; the house's table of roles wins."""
        return read_roles(
            self.session, self.house.roles, processors=self.house.processors, vocabulary=self.house.vocabulary
        )

    @cached_property
    def _shipped_roles(self) -> dict[str, str | None]:
        """Channel id → the role of mixlint's that it is treated as."""
        shipped = self.house.vocabulary.shipped_role
        return {channel_id: shipped(reading.word) for channel_id, reading in self.roles.items()}

    def role(self, channel_id: str) -> str | None:
        """The shipped role that a channel is treated as; None where its name does not tell it.

        It is one of :data:`mixlint.naming.ROLES`, also where the house has a role of its own for the channel: what is
        decided by words of mixlint's holds for that as for any other part of its family. Readers are shown
        :meth:`role_word`.
        """
        return self._shipped_roles.get(channel_id)

    def role_word(self, channel_id: str) -> str | None:
        """The role of a channel in the house's own word, where it has one; None where its name does not tell it."""
        reading = self.roles.get(channel_id)
        return reading.word if reading else None

    def allowances(self, channel_id: str) -> frozenset[str]:
        """What the house lets the parts of a channel's role do, where it defines the role itself."""
        own = self.house.vocabulary.own_roles.get(self.role_word(channel_id) or "")
        return own.may if own else frozenset()

    def family(self, channel_id: str) -> str | None:
        """The family of parts that a channel's role belongs to; None where its name does not tell it."""
        return family_of(self.role(channel_id) or "")

    @cached_property
    def processors(self) -> dict[str, tuple[Reading, ...]]:
        """Channel id → what kind of processor each insert is, in signal order; the house's table of processors wins."""
        read = {
            channel.id: tuple(
                read_processor(insert, self.house.processors, on=channel.kind, vocabulary=self.house.vocabulary)
                for insert in seen_inserts(channel)
            )
            for channel in self.session.channels
        }
        return _AsShown(read, self._inserts_not_shown)

    @cached_property
    def _inserts_not_shown(self) -> dict[str, Unknown]:
        """Channel id → why the export does not show its inserts, for those channels."""
        return {c.id: c.missing["inserts"] for c in self.session.channels if "inserts" in c.missing}

    @cached_property
    def kinds(self) -> dict[str, dict[int, str]]:
        """Channel id → place of an insert, from 0 → its kind; inserts of unknown kind are left out.

        On an effect return on which no effect is seen, what cannot be told is an unread effect: what passes it is not
        the signal itself for certain, so that no path through it counts as direct.
        """
        found = {
            channel_id: {place: reading.word for place, reading in enumerate(readings) if reading.word is not None}
            for channel_id, readings in self.processors.items()
        }
        for channel_id in self._returns_of_unknown_kind():
            for place, reading in enumerate(self.processors.get(channel_id, ())):
                if reading.word in UNTOLD:
                    found[channel_id][place] = UNREAD_EFFECT
        return _AsShown(found, self._inserts_not_shown)

    def _returns_of_unknown_kind(self) -> list[str]:
        """Ids of the effect returns on which an insert cannot be told and no reverb or delay is seen.

        They are declared as returns, or named as one, fed by sends alone and play nothing themselves.
        """
        sent = {send.to for c in self.session.channels for send in c.sends if isinstance(send.to, str)}
        routed = {to for c in self.session.channels for to in (c.output, c.parent) if isinstance(to, str)}
        found = []
        for channel in self.session.channels:
            words = {reading.word for reading in self.processors.get(channel.id, ())}
            if words.isdisjoint(UNTOLD) or not words.isdisjoint(TIME_EFFECTS):
                continue
            family = self.family(channel.id)
            by_name = family == "returns" and channel.id in sent - routed and not seen_clips(channel)
            meant = any(fits_pattern(channel.name, pattern) for pattern in self.house.parallel)
            if (channel.kind == "return" or by_name) and not meant and family not in ("buses", "utility"):
                found.append(channel.id)
        return found

    @cached_property
    def routing(self) -> Routing:
        """The routing graph of the session, with gains under the house's pan laws."""
        from mixlint.routing import Laws, Routing

        laws = Laws(self.house.mono_pan, self.house.stereo_pan)
        return Routing(self.session, dict(self.kinds), laws, self._media_legs())

    @cached_property
    def gains_now(self) -> Gains:
        """Gains to the mix bus with every control at its present value (T = 1), at 60 Hz, 1 kHz and in octave bands.

        ``MID`` and ``BANDS`` are their places among the frequencies (F = 12).
        """
        import numpy as np

        from mixlint.signal.octave_bands import CENTRES_HZ

        return self.routing.gains(np.concatenate([[LOW_HZ, MID_HZ], CENTRES_HZ]))

    def _media_legs(self) -> dict[str, int] | None:
        """Media id → legs, as the export gives them, else as the opened file has them; None where none is known."""
        declared = {m.id: m.legs for m in self.session.media if is_known(m.legs)}
        if self.audio is not None:
            for media in self.session.media:
                if media.id not in declared:
                    header = self.audio.header(media.id)
                    if is_known(header):
                        declared[media.id] = header.legs
        return declared or None

    @cached_property
    def sounds(self) -> dict[str, str]:
        """Media id → content hash of its samples, for every file that a clip plays and that can be read."""
        if self.audio is None:
            return {}
        used = dict.fromkeys(c.file for channel in self.session.channels for c in seen_clips(channel))
        hashes = {one: self.audio.sound(one) for one in used if one is not None}
        return {one: sound for one, sound in hashes.items() if isinstance(sound, str)}

    def assumptions(self) -> tuple[str, ...]:
        """What every computed number assumes, a sentence each: pan laws that no standard states, routing, importer."""
        from mixlint.routing import assumptions

        lines = []
        if not self.house.pan_stated:
            mono, stereo = MONO_LAW_TEXTS[self.house.mono_pan], STEREO_LAW_TEXTS[self.house.stereo_pan]
            lines.append(f"pan law: {mono} for mono, {stereo} for stereo")
        lines += assumptions(self.routing)
        return tuple(dict.fromkeys([*lines, *self._importer_notes()]))

    def _importer_notes(self) -> list[str]:
        """What the importer noted; the same of several channels is said once, with their names."""
        names_of: dict[str, dict[str, None]] = {}
        for note in self.session.notes:
            name = self.name(note.about) if note.about in self.channels else ""
            text = note.text.replace(name, _NAME) if name and name in note.text else note.text
            if name and _NAME not in text:
                text = f"{_NAME}: {text}"
            names_of.setdefault(text, {})[name] = None
        return [text.replace(_NAME, _several(list(names))) for text, names in names_of.items()]


MONO_LAW_TEXTS: Final = {
    "equal-power": "equal power, −3.01 dB centre",
    "square-root": "equal power by square root, −3.01 dB centre",
    "linear": "linear, −6.02 dB centre",
    "compromise": "compromise, −4.52 dB centre",
    "compromise-power": "compromise by power, −4.52 dB centre",
    "tangent": "tangent, −3.01 dB centre",
}
STEREO_LAW_TEXTS: Final = {"balance": "balance, 0 dB centre", "stereo-panner": "stereo panner, 0 dB centre"}


_NAME: Final = "\N{OBJECT REPLACEMENT CHARACTER}"
"""Stands for a channel's name while notes are brought together."""

MOST_NAMES: Final = 3
"""Of more channels than this that share a note the others are counted."""


def _several(names: list[str]) -> str:
    """``Kick, Snare and 7 more``."""
    if len(names) > MOST_NAMES:
        return f"{', '.join(names[:MOST_NAMES])} and {len(names) - MOST_NAMES} more"
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)


class _AsShown(dict[str, T]):
    """Something of each channel's inserts, by channel id: asked for a channel that the export shows none of, it raises.

    ``get`` answers nevertheless, with what there is, for who takes "not shown" as none.
    """

    def __init__(self, found: dict[str, T], missing: dict[str, Unknown]) -> None:
        super().__init__(found)
        self._missing = missing

    def __getitem__(self, channel_id: str) -> T:
        if channel_id in self._missing:
            raise NotShown(self._missing[channel_id])
        return super().__getitem__(channel_id)


class _Raised(NamedTuple):
    """Kept in place of what work would have returned that asked for what the export does not show."""

    why: Unknown


def per_session(
    work: Callable[Concatenate[SessionContext, P], T],
) -> Callable[Concatenate[SessionContext, P], T]:
    """Keep what ``work`` returns for one session: it is done once per context and arguments.

    The key is the function itself with its arguments: text, numbers and switches by value, every other object (a
    channel, a row, a pair) by identity, since all of them are made once per session. Work that meets a value which is
    not known through :func:`mixlint.session.known` returns that ``Unknown``; its annotation says so. Where it asks a
    channel for a list that the export does not show, whoever asked for the work meets that too: any work may, and
    none has to say so.
    """

    @wraps(work)
    def kept(context: SessionContext, /, *args: P.args, **kwargs: P.kwargs) -> T:
        memory = context.kept.setdefault(kept, {})  # by this one call: who watches what is read replaces it
        given = (*args, *sorted(kwargs.items())) if kwargs else args
        key = _key(given[0]) if len(given) == 1 else tuple(map(_key, given))
        found = memory.get(key)
        if found is None:
            try:
                made: Any = work(context, *args, **kwargs)
            except NotShown as missing:
                made = _Raised(missing.unknown)
            except NotKnown as missing:
                made = missing.unknown
            # The arguments are kept with it, so that no other object can come to bear their identity.
            found = memory[key] = (given, made)
        kept_value: Any = found[1]
        if type(kept_value) is _Raised:
            raise NotShown(kept_value.why)
        value: T = kept_value
        return value

    return kept


def _key(argument: object) -> Hashable:
    """By value where that is cheap and means the same, else by identity; the type parts 1 from True and 1.0."""
    kind = type(argument)
    make = _KEYS.get(kind) or _learnt(kind)
    return make(argument)


def _learnt(kind: type) -> Callable[[Any], Hashable]:
    """How the key of an argument of a type is made, from now on known."""
    make: Callable[[Any], Hashable] = id
    if kind is str:
        make = str  # itself: no other key is a text
    elif issubclass(kind, str | int | float | NoneType):
        make = _value_key
    elif issubclass(kind, tuple):
        make = _tuple_key
    _KEYS[kind] = make
    return make


def _value_key(argument: Hashable) -> Hashable:
    return type(argument), argument


def _tuple_key(argument: tuple[object, ...]) -> Hashable:
    return tuple(map(_key, argument))


_KEYS: Final[dict[type, Callable[[Any], Hashable]]] = {}
"""Type of an argument to how its key is made; the few types there are come in as they are met."""
