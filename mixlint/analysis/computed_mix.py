"""The mix as the session computes it: its parts run through the desk, sample by sample, in some stretches of the song.

Clips are laid on the song, processors that are known are run (:mod:`mixlint.analysis.known_chain`), faders, pans, mutes
and sends act as they stand at each time, and buses add up what comes to them, with processors of their own. What the
export hides is passed at unity gain, ambience is left out where it is not printed, and parts without audio are missing:
each of these is named, and where one is, what comes out is an estimate.
"""

from __future__ import annotations

from math import ceil
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import clips_on, merged
from mixlint.analysis.audibility import is_heard
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.inserts import processor_name
from mixlint.analysis.known_chain import FILTER_LU, UNTOLD_DB, UNTOLD_SHARE, Stage, gating_blocks, joined
from mixlint.analysis.known_processor import Taken, assumed_of, run_through, why_unknown, worked_by
from mixlint.analysis.laid_clips import SongStretch, even_stretches, files_of, is_followed, laid_clips, moved
from mixlint.analysis.media_use import NOT_OPENED
from mixlint.analysis.sound_memory import remembered
from mixlint.routing.edge_gains import edge_matrices, moving_edges, strip_matrices
from mixlint.routing.strips import AMBIENT, acting_inserts, wet_share
from mixlint.session import Channel, Clip, Insert, Unknown

if TYPE_CHECKING:
    from collections.abc import Sequence

    import numpy as np
    from numpy.typing import NDArray

    from mixlint.media import Library

    Floats = NDArray[np.float64]
    Singles = NDArray[np.float32]

STRETCH_S: Final = 5.0
MOST: Final = 6
"""So many stretches of so many seconds are computed, evenly over the song: a bound of work."""

AHEAD_S: Final = 1.0
"""What is run before each and not counted, so that filters and compressors are as they are in the song."""

AT_ONCE: Final = 3
"""Stretches in one pass over the files: a bound of memory, some 8 MB for each bus that waits."""

GAIN_STEP_S: Final = 0.005
"""How often a gain that moves is read."""


NOTHING_COMES: Final = Unknown(unknown="nothing comes to it, or it is switched off")


class ComputedMix(NamedTuple):
    """The mix in some stretches of the song.

    Args:
        rate_hz: samples per second.
        starts_s: where each stretch begins, seconds of the song.
        samples: (2, n) of each, at the output of the mix bus.
        hidden: what was passed over, for a reader; empty where the session shows all of it.
        assumed: what was taken for lack of anything in the export or the standard, for a reader, but for knees.
        off_lu: how far its loudness may be off, LU, by what is not in an export of the compressors that were run.
        hidden_at: of each of ``hidden`` its channel, and its place there; −1 for what the channel plays.
        on_buses: what the known processors of strips that play nothing themselves take away, by channel and place; None
            for one that is no compressor.
    """

    rate_hz: float
    starts_s: tuple[float, ...]
    samples: tuple[Singles, ...]
    hidden: tuple[str, ...]
    assumed: tuple[str, ...]
    off_lu: float
    hidden_at: tuple[tuple[str, int], ...]
    on_buses: dict[tuple[str, int], Taken | None]


@per_session
def computed_mix(context: SessionContext) -> ComputedMix | Unknown:
    """The mix as the session computes it.

    Unknown without audio, where the mix bus or a gain on the way of a part is not known, and where rates differ.
    """
    found = _computed(context, listening=False)
    return found if isinstance(found, Unknown) else found[0]


@per_session
def _bus_stages(context: SessionContext) -> dict[tuple[str, int], Stage] | Unknown:
    """The known processors of strips that play nothing themselves, heard before and behind, by channel and place.

    It is the desk run a second time: the loudness of every bus before and behind each of its processors is a quarter of
    the work, and few standards ask for it.
    """
    found = _computed(context, listening=True)
    return found if isinstance(found, Unknown) else found[1]


def _computed(
    context: SessionContext, *, listening: bool
) -> tuple[ComputedMix, dict[tuple[str, int], Stage]] | Unknown:
    if context.audio is None:
        return NOT_OPENED
    mix_bus = context.routing.wiring.mix_bus
    if isinstance(mix_bus, Unknown):
        return mix_bus
    parts = [one for one in context.session.channels if clips_on(one) and is_heard(context, one)]
    for part in parts:
        why = context.routing.unknown_on_the_path.get(part.id, ())
        if why:
            return Unknown(unknown=f"of {context.name(part.id)} is not known: {why[0]}", settle="export it again")
    from mixlint.media.excerpt_comparison import rate_of

    playing = {one.id: clips for one in parts if (clips := [c for c in clips_on(one) if is_followed(c)])}
    rate = rate_of(context.audio, files_of(clip for clips in playing.values() for clip in clips))
    if isinstance(rate, Unknown):
        return rate
    run = _Run(context, context.audio, mix_bus, float(rate), playing, listening=listening)
    missing = [one for one in parts if any(c.plays != "video" and not is_followed(c) for c in clips_on(one))]
    run.hidden.update({f"{context.name(one.id)}, some of which cannot be read": (one.id, -1) for one in missing})
    stretches = _stretches([(clip.start_s, clip.end_s) for clips in playing.values() for clip in clips])
    samples: list[Singles] = []
    for first in range(0, len(stretches), AT_ONCE):
        fault = run.over(stretches[first : first + AT_ONCE], samples)
        if fault is not None:
            return fault
    if not any(one.any() for one in samples):
        return Unknown(unknown="nothing sounds at the mix bus")
    starts = tuple(one.from_s for one in stretches)
    mixed = ComputedMix(
        float(rate), starts, tuple(samples), tuple(run.hidden), tuple(run.assumed), run.off_lu(),
        tuple(run.hidden.values()), run.taken_on_buses(),
    )  # fmt: skip
    return mixed, run.stages_on_buses()


@per_session
def bus_taken(context: SessionContext, bus: Channel, place: int) -> Taken | Unknown | None:
    """What a processor of a bus takes away of the sum of what comes to it; None for one that is no compressor.

    Unknown where the mix cannot be computed, where something that feeds it is hidden, or a processor before it is.
    """
    mixed = computed_mix(context)
    if isinstance(mixed, Unknown):
        return mixed
    wiring = context.routing.wiring
    feeding = wiring.upstream([bus.id], wiring.audible)
    for text, (channel, at) in zip(mixed.hidden, mixed.hidden_at, strict=True):
        if channel in feeding and (channel != bus.id or at <= place):
            return Unknown(
                unknown=f"it is fed by what is not shown: {text}", settle="compare it with its bypass by ear"
            )
    return mixed.on_buses.get((bus.id, place), NOTHING_COMES)


@per_session
def bus_stage(context: SessionContext, bus: Channel, place: int) -> Stage | Unknown:
    """A processor of a bus, heard before and behind it; Unknown as in :func:`bus_taken`."""
    taken, stages = bus_taken(context, bus, place), _bus_stages(context)
    if isinstance(taken, Unknown):
        return taken
    return stages if isinstance(stages, Unknown) else stages.get((bus.id, place), NOTHING_COMES)


def _stretches(spans: list[tuple[float, float]]) -> list[SongStretch]:
    """What is computed of a song in which something sounds in some spans."""
    sounding = merged(spans)
    total = sum(end - start for start, end in sounding)
    count = max(1, min(MOST, ceil(total / STRETCH_S - 1e-9)))
    length = min(STRETCH_S, total / count)
    return even_stretches(sounding, count, length, AHEAD_S)


class _Ran(NamedTuple):
    """A processor that was run, stretch by stretch: K-weighted energies before and after it, and what it takes away."""

    insert: Insert
    before: list[Floats]
    after: list[Floats]
    taken: list[Taken]


class _Step(NamedTuple):
    """What one insert does to what passes it.

    Args:
        place: its place on the strip, from 0.
        insert: the processor.
        kind: what kind it is of.
        passes: the share that it lets pass as it came, where it is not run; None where it is.
        hidden: what is passed over, for a reader; empty where it is run.
        assumed: what is taken for lack of anything in the export, for a reader; empty for nothing.
    """

    place: int
    insert: Insert
    kind: str | None
    passes: float | None
    hidden: str = ""
    assumed: str = ""


class _Passage(NamedTuple):
    """What became of one stretch on its way through a strip's inserts.

    Args:
        out: (2, n), or (1, n) for a strip of one leg, what comes out; None where an effect lets nothing pass but its
            ambience, which is left out.
        taken: what each takes away, where it does.
        heard: the K-weighted energies of gating blocks before and behind each that was run, where that was asked.
    """

    out: Singles | None
    taken: tuple[Taken | None, ...]
    heard: tuple[tuple[Floats, Floats] | None, ...]


def _passages(
    steps: Sequence[_Step],
    here: Sequence[Floats | None],
    stretches: Sequence[SongStretch],
    legs: int,
    rate: float,
    *,
    listening: bool = False,
) -> tuple[_Passage | None, ...]:
    """What a strip's inserts make of samples (2, n) in some stretches; None where it rests."""
    return tuple(
        None if samples is None else _passage(steps, samples, stretch, legs, rate, listening=listening)
        for samples, stretch in zip(here, stretches, strict=True)
    )


def _passage(
    steps: Sequence[_Step], samples: Floats, stretch: SongStretch, legs: int, rate: float, *, listening: bool
) -> _Passage:
    import numpy as np

    passes = all(step.passes != 0.0 for step in steps)
    if not (passes or listening or any(step.insert.dynamics is not None for step in steps)):
        return _Passage(None, (None,) * len(steps), (None,) * len(steps))
    ahead_s = stretch.from_s - stretch.start_s
    if legs == 1:  # one leg is run, unless both are to be heard
        samples = samples.mean(axis=0, keepdims=True)
        samples = np.repeat(samples, 2, axis=0) if listening else samples
    takes: list[Taken | None] = []
    heard: list[tuple[Floats, Floats] | None] = []
    energy: Floats | None = None  # of the samples as they are, where it has been asked for
    for step in steps:
        before, taken = energy, None
        if step.passes is None:
            if listening and before is None:
                before = gating_blocks(samples, rate, ahead_s)
            samples, taken = run_through(step.insert, step.kind, samples, rate)
            energy = gating_blocks(samples, rate, ahead_s) if listening else None
        elif step.passes != 1.0:
            samples, energy = samples * step.passes, None
        takes.append(None if taken is None else taken.after(ahead_s))
        heard.append(None if before is None or energy is None else (before, energy))
    return _Passage(samples.astype(np.float32) if passes else None, tuple(takes), tuple(heard))


def _played(
    audio: Library,
    clips: Sequence[Clip],
    steps: Sequence[_Step],
    stretches: Sequence[SongStretch],
    legs: int,
    rate: float,
) -> tuple[_Passage | None, ...] | Unknown:
    """What a part plays in some stretches, behind its inserts."""
    laid = laid_clips(audio, clips, stretches, rate)
    return laid if isinstance(laid, Unknown) else _passages(steps, laid, stretches, legs, rate)


class _Run:
    """The desk: strips in the order of the signal, each with what comes to it."""

    def __init__(
        self,
        context: SessionContext,
        audio: Library,
        mix_bus: str,
        rate: float,
        playing: dict[str, list[Clip]],
        *,
        listening: bool,
    ) -> None:
        self._listening = listening
        self._context, self._audio, self._rate, self._playing = context, audio, rate, playing
        routing = context.routing
        leading = routing.wiring.upstream([mix_bus], routing.wiring.audible)
        self._mix_bus = mix_bus
        self._order = [context.channels[one] for one in reversed(routing.upstream_order) if one in leading]
        self._edges = [edge for edge in routing.edges if edge.to in leading and edge.source in leading]
        self.hidden: dict[str, tuple[str, int]] = {}
        self.assumed: dict[str, None] = {}
        self._run: dict[tuple[str, int], _Ran] = {}

    def over(self, stretches: Sequence[SongStretch], out: list[Singles]) -> Unknown | None:
        """Run some stretches and add what comes out of the mix bus to ``out``; what is in the way, else None."""
        import numpy as np

        waiting: dict[str, list[Floats | None]] = {}
        for channel in self._order:
            here = waiting.pop(channel.id, [None] * len(stretches))
            passed = self._passed(channel, stretches, here)
            if isinstance(passed, Unknown):
                return passed
            for number, (stretch, came) in enumerate(zip(stretches, passed, strict=True)):
                if came is not None:
                    self._send_on(channel, stretch, came, waiting, number, len(stretches))
        mixed = waiting.get("", [None] * len(stretches))
        for stretch, samples in zip(stretches, mixed, strict=True):
            first = round((stretch.from_s - stretch.start_s) * self._rate)
            whole = np.zeros((2, stretch.samples(self._rate))) if samples is None else samples
            out.append(whole[:, first:].astype(np.float32))
        return None

    def _passed(
        self, channel: Channel, stretches: Sequence[SongStretch], here: Sequence[Floats | None]
    ) -> Sequence[Singles | None] | Unknown:
        """What comes out of a strip's inserts in some stretches, of what comes to it and of what it plays itself."""
        legs, steps, rate = self._context.routing.legs[channel.id], self._steps(channel), self._rate
        audio, clips = self._audio, self._playing.get(channel.id)
        passages: Sequence[_Passage | None] | Unknown
        if clips is None:
            passages = _passages(steps, here, stretches, legs, rate, listening=self._listening)
        elif any(one is not None for one in here):
            laid = laid_clips(audio, clips, stretches, rate)
            if isinstance(laid, Unknown):
                return laid
            both = [one if other is None else other if one is None else other + one
                    for one, other in zip(laid, here, strict=True)]  # fmt: skip
            passages = _passages(steps, both, stretches, legs, rate)
        else:
            passages = remembered(
                self._context,
                "a part behind its processors",
                [channel],
                (rate, legs, tuple(stretches), *((one.passes, *worked_by(one.insert, one.kind)) for one in steps)),
                lambda: _played(audio, clips, steps, stretches, legs, rate),
            )
            if isinstance(passages, Unknown):
                return passages
        self._note(channel, steps, [one for one in passages if one is not None])
        return [None if one is None else one.out for one in passages]

    def _steps(self, channel: Channel) -> list[_Step]:
        """What a strip's inserts do to what passes it, in its order."""
        kinds, found = self._context.kinds[channel.id], []
        for place, insert in acting_inserts(channel).items():
            name = f"{processor_name(insert)} on {self._context.name(channel.id)}"
            kind = kinds.get(place)
            if kind in AMBIENT:
                hidden = f"{name}, whose ambience is left out"
                found.append(_Step(place, insert, kind, 1.0 - wet_share(insert), hidden))
            elif why := why_unknown(self._context, channel, place, insert):
                found.append(_Step(place, insert, kind, 1.0, f"{name}, which {why}"))
            else:
                text = assumed_of(insert, but_knee=True)
                found.append(_Step(place, insert, kind, None, assumed=f"{text} of {name}" if text else ""))
        return found

    def _note(self, channel: Channel, steps: Sequence[_Step], passages: Sequence[_Passage]) -> None:
        """Keep what a strip hides, what was taken for granted of it, and what its processors did."""
        if not passages:
            return
        if self._context.routing.legs[channel.id] == 1 and not self._context.house.pan_stated:
            self.assumed["the pan law of mono strips"] = None
        for number, step in enumerate(steps):
            if step.hidden:
                self.hidden[step.hidden] = (channel.id, step.place)
                continue
            if step.assumed:
                self.assumed[step.assumed] = None
            ran = self._run.setdefault((channel.id, step.place), _Ran(step.insert, [], [], []))
            for passage in passages:
                taken, heard = passage.taken[number], passage.heard[number]
                if taken is not None:
                    ran.taken.append(taken)
                if heard is not None:
                    ran.before.append(heard[0])
                    ran.after.append(heard[1])

    def off_lu(self) -> float:
        """How far its loudness may be off, LU: of the compressors on parts the worst counts, and each on a bus."""
        off = {
            key: UNTOLD_DB + UNTOLD_SHARE * float(taken.db.mean())
            for key, ran in self._run.items()
            if (taken := joined(ran.taken)) is not None
        }
        parts = [one for (channel, _), one in off.items() if channel in self._playing]
        return FILTER_LU + max(parts, default=0.0) + sum(off.values()) - sum(parts)

    def taken_on_buses(self) -> dict[tuple[str, int], Taken | None]:
        """What the processors of strips that play nothing themselves take away."""
        return {key: joined(ran.taken) for key, ran in self._run.items() if key[0] not in self._playing}

    def stages_on_buses(self) -> dict[tuple[str, int], Stage]:
        """Those processors, as far as they were heard."""
        import numpy as np

        return {
            key: Stage(
                key[1],
                ran.insert,
                np.concatenate(ran.before),
                np.concatenate(ran.after),
                joined(ran.taken),
                assumed_of(ran.insert),
            )
            for key, ran in self._run.items()
            if ran.before
        }

    def _send_on(
        self,
        channel: Channel,
        stretch: SongStretch,
        samples: Singles,
        waiting: dict[str, list[Floats | None]],
        number: int,
        count: int,
    ) -> None:
        """Pass samples (1 or 2, n) through fader and pan, and on to where the strip leads; of the mix bus, out."""
        import numpy as np

        times = np.asarray(np.arange(stretch.start_s, stretch.end_s + GAIN_STEP_S, GAIN_STEP_S), dtype=np.float64)
        edges = [edge for edge in self._edges if edge.source == channel.id]
        routing = self._context.routing
        strip = strip_matrices([channel], routing.legs, routing.laws, times)[0]
        gains = edge_matrices(edges, routing.legs, routing.laws) | moving_edges(
            edges, self._context.channels, routing.legs, routing.laws, times
        )
        came = np.broadcast_to(samples.astype(np.float64), (2, samples.shape[1]))
        if channel.id == self._mix_bus:
            waiting.setdefault("", [None] * count)[number] = moved(came, strip.matrix, times, stretch, self._rate)
            return
        for edge in edges:
            gain = gains[edge.number]
            curve = gain * strip.open[:, None, None] if edge.tap == "pre" else gain @ strip.matrix
            arrives = moved(came, curve, times, stretch, self._rate)
            there = waiting.setdefault(edge.to, [None] * count)
            held = there[number]
            there[number] = arrives if held is None else held + arrives
