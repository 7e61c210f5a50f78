"""How loud the ambience of a part is beside its dry sound at the mix bus, by the sound of its prints.

A reverb that plays live does not show how loud it comes out; its print does. Each print that sounds is measured and
carried to the mix bus with its gains, as its part is. What several parts feed is shared among them as the print itself
shows: by the gains of its sources that explain it best, and their energies; of two made parts their shares came out
within 2.1 LU. Both are K-weighted (ITU-R BS.1770), in steps of half a second, over those in which the dry sound passes
the gates. Processors that hide their settings are taken to leave the level as it is, as everywhere at the mix bus.
"""

from __future__ import annotations

from math import log10
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.ambience_prints import AmbiencePrint, ambience_prints
from mixlint.analysis.audibility import is_audible
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.energy import damaged_file, measured_energy, sides_at_mix
from mixlint.analysis.gain_to_mix_bus import energy_forms
from mixlint.analysis.inserts import active_inserts, processor_name
from mixlint.analysis.paths import need_gain
from mixlint.analysis.return_prints import feeds_of, print_pair, print_reading
from mixlint.routing.strips import TIME_EFFECTS
from mixlint.session import Channel, NotKnown, Unknown, known

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

PRINT_IT: Final = "print the return alone, or listen to the part without it"


class PrintedAmbience(NamedTuple):
    """The printed ambience of a part.

    Args:
        over_dry_lu: its loudness over that of the dry sound while that sounds, LU; under 0 where it is softer.
        prints: the channels that hold it.
        shared: it is a share of what several parts feed.
        taken: processors that were taken to leave the level as it is, for a reader.
    """

    over_dry_lu: float
    prints: tuple[Channel, ...]
    shared: bool
    taken: tuple[str, ...]


@per_session
def sounding_prints(context: SessionContext, part: Channel) -> tuple[AmbiencePrint, ...]:
    """The prints of ambience that a part feeds and that sound at the mix bus."""
    return tuple(one for one in _by_part(context).get(part.id, ()) if one.track.id != part.id)


@per_session
def _by_part(context: SessionContext) -> dict[str, list[AmbiencePrint]]:
    """Part id → the prints that it feeds and that sound at the mix bus."""
    found: dict[str, list[AmbiencePrint]] = {}
    for one in ambience_prints(context):
        for part in _fed_by(context, one) if is_audible(context, one.track) else ():
            found.setdefault(part, []).append(one)
    return found


def _fed_by(context: SessionContext, printed: AmbiencePrint) -> tuple[str, ...]:
    """Ids of the parts that feed a print."""
    return tuple(dict.fromkeys(feed.part.id for feed in feeds_of(context, printed)))


@per_session
def printed_ambience(context: SessionContext, part: Channel) -> PrintedAmbience | Unknown:
    """The printed ambience of a part against its dry sound at the mix bus.

    Unknown without a print that sounds, where a gain or a share is not known, and without audio.
    """
    import numpy as np

    from mixlint.signal.loudness import passes

    prints = sounding_prints(context, part)
    if not prints:
        return Unknown(unknown="no print of an ambience of it sounds", settle=PRINT_IT)
    direct = _at_mix(context, part, direct_alone=True)
    ambience = np.zeros_like(direct)
    for one in prints:
        ambience = ambience + _share_of(context, one, part) * _at_mix(context, one.track, direct_alone=False)
    counts = passes(direct)
    if not counts.any():
        return Unknown(unknown="its dry sound is nowhere loud enough to have a loudness")
    if not ambience[counts].any():
        return Unknown(unknown="its prints are silent where it sounds", settle="listen to them beside it")
    over = 10.0 * log10(float(ambience[counts].sum()) / float(direct[counts].sum()))
    shared = any(len(_fed_by(context, one)) > 1 for one in prints)
    return PrintedAmbience(over, tuple(one.track for one in prints), shared, _taken(context, part, prints))


def _at_mix(context: SessionContext, channel: Channel, *, direct_alone: bool) -> Floats:
    """The energy (T,) of a channel's own sound at the mix bus, both sides.

    Raises:
        NotKnown: its audio is not measured, or a gain on its way is not known.
    """
    need_gain(context, channel.id)
    damaged, energy = damaged_file(context, [channel]), measured_energy(context, channel)
    if damaged is not None:
        raise NotKnown(damaged)
    if energy is None:
        raise NotKnown(
            Unknown(unknown=f"{context.name(channel.id)} is not measured", settle="review it with its audio")
        )
    for insert, reading in active_inserts(context, channel):
        if not direct_alone and reading.word in TIME_EFFECTS:
            text = f"{processor_name(insert)} still works on {context.name(channel.id)}, which is a print"
            raise NotKnown(Unknown(unknown=text, settle="switch it off there"))
    direct, ambience = energy_forms(context, channel.id)
    left, right = sides_at_mix(context, channel.id, direct if direct_alone else direct + ambience, energy)
    return left + right


def _share_of(context: SessionContext, printed: AmbiencePrint, part: Channel) -> float:
    """The share, 0 … 1, of a print's energy that comes from one of the parts that feed it.

    Raises:
        NotKnown: it cannot be told.
    """
    import numpy as np

    name = context.name(printed.track.id)
    if printed.missing:
        text = f"{printed.missing[0]}, which has no audio, feeds {name}, too"
        raise NotKnown(Unknown(unknown=text, settle=PRINT_IT))
    if len(_fed_by(context, printed)) == 1:
        return 1.0
    pair, reading = known(print_pair(context, printed)), known(print_reading(context, printed))
    energies = np.square(pair[0].sources).sum(axis=(1, 2)) * np.square(reading.gains)
    place = next((number for number, one in enumerate(pair[1]) if one.id == part.id), None)
    if place is None or not energies.sum() > 0.0:
        raise NotKnown(Unknown(unknown=f"its share of {name} cannot be told", settle=PRINT_IT))
    return float(energies[place] / energies.sum())


def _taken(context: SessionContext, part: Channel, prints: tuple[AmbiencePrint, ...]) -> tuple[str, ...]:
    """The processors of the part and of its prints whose settings are hidden, or that work by level."""
    found: dict[str, None] = {}
    for channel in (part, *(one.track for one in prints)):
        for insert, reading in active_inserts(context, channel):
            if reading.word != "analyser" and (insert.opaque or insert.dynamics is not None):
                found[f"{processor_name(insert)} on {context.name(channel.id)}"] = None
    return tuple(found)
