"""What a mistake is, and short ways to reach into a clean session and change one thing."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from random import Random
from typing import Any, TypeVar

from mixlint.media.recipe import Recipe
from mixlint.session import Automation, Channel, EqualizerBand, Insert, MediaFile, Send, Session
from tests.importers.exporters import Style
from tests.mutation.clean import Clean
from tests.mutation.sounding import Sounding

T = TypeVar("T")


@dataclass(frozen=True)
class Planted:
    """A session with one mistake in it.

    Args:
        session: the session.
        about: ids of channels or files, one of which the finding has to be about; empty for the session as a whole.
        approved: the session as it was approved, where the mistake is a change since.
        sounds: recipes of the files that are other than in the clean session, by path; None takes a file away.
        said: what the finding has to name, where it is about a whole set.
    """

    session: Session
    about: frozenset[str] = frozenset()
    approved: Session | None = None
    sounds: Mapping[str, Recipe | None] = field(default_factory=dict)
    said: str = ""


Plant = Callable[[Clean, Random], Planted | None]
"""Plants a mistake somewhere in a clean session, or tells that there is no place for it."""


@dataclass(frozen=True)
class Mistake:
    """One kind of mistake.

    Args:
        name: what it is, as a reader would say it.
        rule: the rule that has to find it.
        plant: plants it.
        also: rules that may rightly flag something else because of it: its declared consequences.
        written: false when a file in the open form cannot hold it.
        survives: whether it survives an exporter's style.
        stems: true when it is planted in a folder of stems.
        sound: the clean sessions with sound that it is planted in, by name; none for a mistake that needs no sound.
        weakness: why some of them are missed, where that is known.
    """

    name: str
    rule: str
    plant: Plant
    also: frozenset[str] = frozenset()
    written: bool = True
    survives: Callable[[Style], bool] = lambda style: True
    stems: bool = False
    sound: tuple[str, ...] = ()
    weakness: str = ""


def with_outputs(style: Style) -> bool:
    """A mistake in an output is lost by an exporter that writes none."""
    return style.outputs


def with_true_sends(style: Style) -> bool:
    """A session without sends cannot be told from one whose exporter writes a send to every return."""
    return not style.phantom_sends


MISTAKES: list[Mistake] = []
"""Every kind that needs no sound, in the order of the checklist's areas."""

IN_SOUND: list[Mistake] = []
"""Every kind that is planted in sound."""


def mistake(
    name: str,
    rule: str,
    *also: str,
    written: bool = True,
    survives: Callable[[Style], bool] = lambda style: True,
    stems: bool = False,
) -> Callable[[Plant], Plant]:
    """Enter the function below as a kind of mistake."""

    def enter(plant: Plant) -> Plant:
        MISTAKES.append(Mistake(name, rule, plant, frozenset(also), written, survives, stems))
        return plant

    return enter


def heard(
    name: str, rule: str, *also: str, sound: tuple[str, ...], weakness: str = ""
) -> Callable[[Callable[[Sounding, Random], Planted | None]], Callable[[Sounding, Random], Planted | None]]:
    """Enter the function below as a kind of mistake that is planted in sessions with sound."""

    def enter(plant: Callable[[Sounding, Random], Planted | None]) -> Callable[[Sounding, Random], Planted | None]:
        def planted(clean: Clean, rng: Random) -> Planted | None:
            assert isinstance(clean, Sounding)
            return plant(clean, rng)

        IN_SOUND.append(Mistake(name, rule, planted, frozenset(also), written=False, sound=sound, weakness=weakness))
        return plant

    return enter


# --- finding a place


KIT = (
    "Kick", "Kick In", "Kick Out", "Snare", "Snare Top", "Snare Bottom", "Hat", "Hi-Hat", "Ride", "Toms", "Rack Tom 1",
    "Rack Tom 2", "Floor Tom", "Overheads", "Overhead L", "Overhead R", "Drum Room L", "Drum Room R", "Kit Mono",
    "Shaker",
)  # fmt: skip
"""Names of drums, their microphones and percussion: many rules for parts leave them alone on purpose."""


def pick(rng: Random, found: Sequence[T]) -> T | None:
    """One of them, or None where there is none."""
    return rng.choice(found) if found else None


def parts(clean: Clean, *, sent: bool = False, lone: bool = False) -> list[Channel]:
    """Tracks of the song that sound; ``sent``: that feed an effect, ``lone``: that belong to no pair."""
    twins = {one.id for pair in pairs(clean) for one in pair}
    return [
        c
        for c in clean.session.channels
        if c.kind == "track"
        and c.clips
        and c.mute is False
        and (not sent or effect_sends(clean, c))
        and not (lone and (c.id in twins or c.pan != 0.0))
    ]


def effects(clean: Clean, kind: str = "") -> list[Channel]:
    """Returns with a reverb or delay in them that something is sent to."""
    fed = {s.to for c in clean.session.channels for s in c.sends}
    kinds = (kind,) if kind else ("reverb", "delay")
    return [
        c
        for c in clean.session.channels
        if c.kind == "return" and c.id in fed and any(i.kind in kinds for i in c.inserts)
    ]


def gathering(clean: Clean) -> list[Channel]:
    """Reverb returns that something with low notes is sent to: a voice, an acoustic guitar, keys, and no kit alone."""
    low = ("Vocal", "Vox", "Acoustic", "Piano", "Keys", "Strings", "Organ")
    senders = [c for c in parts(clean) if any(word in c.name for word in low)]
    return [one for one in effects(clean, "reverb") if any(s.to == one.id for c in senders for s in c.sends)]


def effect_sends(clean: Clean, channel: Channel) -> list[int]:
    """The numbers of the channel's sends that lead to an effect."""
    ids = {c.id for c in effects(clean)}
    return [n for n, s in enumerate(channel.sends) if s.to in ids]


def pairs(clean: Clean) -> list[tuple[Channel, Channel]]:
    """Left and right parts of one name that are panned apart, no kit microphones, in houses that ask for answers."""
    if clean.house.intents:
        return []
    tracks = {c.name: c for c in clean.session.channels if c.kind == "track"}
    return [
        (left, tracks[f"{name[:-2]} R"])
        for name, left in tracks.items()
        if name.endswith(" L") and f"{name[:-2]} R" in tracks and float_of(left.pan) <= -30.0 and name not in KIT
    ]


def called(clean: Clean, *names: str) -> list[Channel]:
    """Sounding tracks of these names."""
    return [c for c in parts(clean) if c.name in names]


def mix_bus(session: Session) -> Channel:
    """The mix bus: the only master of every clean session."""
    return next(c for c in session.channels if c.kind == "master")


def groups(clean: Clean) -> list[Channel]:
    """Groups that tracks go out to, those that lead nowhere left out."""
    fed = {c.output for c in clean.session.channels}
    return [c for c in clean.session.channels if c.kind == "group" and c.id in fed and c.output is not None]


def song_end(session: Session) -> float:
    """The end of the last clip, seconds."""
    return max(clip.end_s for channel in session.channels for clip in channel.clips)


def float_of(value: object) -> float:
    """A value that every clean session knows."""
    assert isinstance(value, float | int), value
    return float(value)


# --- changing one thing


def changed(session: Session, channel: Channel | str, **changes: Any) -> Session:
    """The session with fields of one channel changed."""
    ident = channel if isinstance(channel, str) else channel.id
    channels = tuple(c.model_copy(update=changes) if c.id == ident else c for c in session.channels)
    return session.model_copy(update={"channels": channels})


def with_insert(session: Session, channel: Channel, place: int, **changes: Any) -> Session:
    """The session with fields of one insert changed."""
    inserts = tuple(i.model_copy(update=changes) if n == place else i for n, i in enumerate(channel.inserts))
    return changed(session, channel, inserts=inserts)


def without_insert(session: Session, channel: Channel, place: int) -> Session:
    """The session with one insert taken out."""
    return changed(session, channel, inserts=tuple(i for n, i in enumerate(channel.inserts) if n != place))


def with_send(session: Session, channel: Channel, number: int, **changes: Any) -> Session:
    """The session with fields of one send changed."""
    sends = tuple(s.model_copy(update=changes) if n == number else s for n, s in enumerate(channel.sends))
    return changed(session, channel, sends=sends)


def sent(session: Session, channel: Channel, *sends: Send) -> Session:
    """The session with sends added to one channel."""
    return changed(session, channel, sends=(*channel.sends, *sends))


def with_channels(session: Session, *more: Channel) -> Session:
    """The session with channels added in front of the mix bus."""
    return session.model_copy(update={"channels": (*session.channels[:-1], *more, session.channels[-1])})


def with_media(session: Session, media: MediaFile, **changes: Any) -> Session:
    """The session with fields of one file's entry changed, and every clip following a changed id."""
    new = media.model_copy(update=changes)
    files = tuple(new if m.id == media.id else m for m in session.media)
    channels = tuple(
        c.model_copy(
            update={"clips": tuple(k.model_copy(update={"file": new.id}) if k.file == media.id else k for k in c.clips)}
        )
        for c in session.channels
    )
    return session.model_copy(update={"media": files, "channels": channels})


def lane(target: str, scale: str, shape: str, points: Iterable[tuple[float, float]]) -> Automation:
    """An automation lane from times and values."""
    times, values = zip(*points, strict=True)
    return Automation.model_validate({"target": target, "scale": scale, "shape": shape, "t": times, "v": values})


def place_of(channel: Channel, *kinds: str) -> int | None:
    """The place of the first insert of a kind."""
    return next((n for n, i in enumerate(channel.inserts) if i.kind in kinds), None)


def bands(insert: Insert) -> tuple[EqualizerBand, ...]:
    """The bands of an equalizer."""
    assert insert.equalizer is not None
    return insert.equalizer.bands
