"""Where each part and each return reaches the mix bus: its place from left to right, its level, and its tone.

A place is told from the gains left and right by all paths, not from the pan alone, as the pan at which a mono part
would have these under equal power: ``100 (4/π atan2(√R, √L) − 1)`` for powers L and R (W3C Web Audio API, section
"StereoPannerNode Panning", turned round). Levels are K-weighted and hold while the channel plays.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from mixlint.analysis.arriving import arriving, audible_parts, gain_not_known, levels_of_parts
from mixlint.analysis.audibility import is_audible
from mixlint.analysis.channel_purpose import is_return, is_source
from mixlint.analysis.context import BANDS, SessionContext, per_session
from mixlint.analysis.energy import sides_at_mix
from mixlint.analysis.gain_to_mix_bus import energy_forms
from mixlint.analysis.levels import power_fed
from mixlint.analysis.spectrum import measured_spectrum
from mixlint.session import PAN, Channel, Unknown, control_of

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


class Standing(NamedTuple):
    """How a channel stands in the mix.

    Args:
        left, right: mean square at the mix bus while it plays, K-weighted; 0 for nothing.
        position: −100 … +100, see above.
        ends: where its left and its right leg arrive by themselves, −100 … +100; None for a part of one leg, and for a
            return, whose effect makes legs of its own.
        moves: the positions furthest left and right between which automation moves it while it plays; None where it
            stands still.
        measured: False where the loudness of what plays is assumed.
    """

    left: float
    right: float
    position: float
    ends: tuple[float, float] | None
    moves: tuple[float, float] | None
    measured: bool

    @property
    def power(self) -> float:
        """Both sides added."""
        return self.left + self.right


def position_of_powers(left: float, right: float) -> float:
    """The place, −100 … +100, of powers (0 or more) left and right; the centre for nothing at all."""
    from math import atan2, pi, sqrt

    if left <= 0.0 and right <= 0.0:
        return 0.0
    return max(-100.0, min(100.0, 100.0 * (4.0 / pi * atan2(sqrt(max(right, 0.0)), sqrt(max(left, 0.0))) - 1.0)))


STILL: float = 2.0
"""A position that automation moves by less stands still, in pan: drawing alone."""


@per_session
def audible_returns(context: SessionContext) -> list[Channel]:
    """The effect returns that are heard at the mix bus and that something audible feeds, in desk order."""
    return [
        c for c in context.session.channels if is_return(context, c) and is_audible(context, c) and feeders(context, c)
    ]


@per_session
def feeders(context: SessionContext, channel: Channel) -> tuple[Channel, ...]:
    """The audible parts that feed a return, through whatever lies between, in desk order."""
    wiring = context.routing.wiring
    behind = wiring.upstream([channel.id], wiring.audible)
    return tuple(part for part in audible_parts(context) if part.id in behind and part.id != channel.id)


@per_session
def part_standing(context: SessionContext, channel: Channel) -> Standing | Unknown:
    """Where an audible part stands by its direct sound, or by its ambience where it has no other.

    Unknown where a gain on its path is not known, a file that it plays is damaged, or nothing of it arrives.
    """
    found = arriving(context, channel)
    if isinstance(found, Unknown):
        return found
    plays = found.plays
    return _standing(context, channel, found.form, found.left[plays], found.right[plays], found.measured)


@per_session
def return_standing(context: SessionContext, channel: Channel) -> Standing | Unknown:
    """Where an audible return stands.

    That of parts that reach no other return is carried through with their own sides; what comes from elsewhere counts
    as alike on both legs, with controls as they stand now. Unknown as for a part.
    """
    import numpy as np

    fed_by = feeders(context, channel)
    why = gain_not_known(context, channel) or next(
        (found for part in fed_by if (found := gain_not_known(context, part)) is not None), None
    )
    if why is not None:
        return why
    measured = all(levels_of_parts(context)[part.id].measured for part in fed_by)
    direct, ambience = energy_forms(context, channel.id)
    form = direct + ambience
    if all(_only_return(context, part, channel) for part in fed_by):
        left = right = np.zeros(1)
        for part in fed_by:
            own = sides_at_mix(context, part.id, energy_forms(context, part.id)[1], levels_of_parts(context)[part.id])
            left, right = left + own[0], right + own[1]
        sounds = (left + right) > 0.0
        if sounds.any():
            return _standing(context, channel, form, left[sounds], right[sounds], measured)
    sides = form.sum(axis=(-1, -2)).mean(axis=0) * power_fed(context, channel) / 2.0
    if sides.sum() <= 0.0:
        return Unknown(unknown="nothing of it arrives at the mix bus", settle="look at its sends and faders")
    return _standing(context, channel, form, sides[:1], sides[1:], measured)


def _only_return(context: SessionContext, part: Channel, channel: Channel) -> bool:
    """True for a part whose only ambience is that of one return."""
    reached = context.routing.downstream([part.id])
    kinds = context.kinds
    others = [one for one in reached if one != channel.id and is_return(context, context.channels[one])]
    return not others and not any(
        word in ("reverb", "delay") for one in reached if one != channel.id for word in kinds.get(one, {}).values()
    )


def _standing(
    context: SessionContext, channel: Channel, form: Floats, left: Floats, right: Floats, measured: bool
) -> Standing:
    """From the form (T or 1, 2, 2, 2) of its paths, and what arrives while it plays, (P,) each."""
    import numpy as np

    ends = None
    if context.routing.legs[channel.id] == 2 and is_source(context, channel):
        sides = np.diagonal(form, axis1=-2, axis2=-1).mean(axis=0)  # (side, leg)
        if (sides.sum(axis=0) > 0.0).all():
            ends = position_of_powers(*sides[:, 0]), position_of_powers(*sides[:, 1])
    moves = None
    if control_of(channel, PAN).moves and left.size > 1:
        places = [position_of_powers(a, b) for a, b in zip(left.tolist(), right.tolist(), strict=True) if a + b > 0.0]
        if places and max(places) - min(places) >= STILL:
            moves = min(places), max(places)
    return Standing(
        float(left.mean()),
        float(right.mean()),
        position_of_powers(float(left.sum()), float(right.sum())),
        ends,
        moves,
        measured,
    )


@per_session
def tone_centre_hz(context: SessionContext, channel: Channel) -> float | Unknown:
    """The middle of a part's spectrum as it arrives: the mean of the octaves by their K-weighted energy, Hz.

    It is the mean on the scale of octaves, of the spectrum measured in its files behind the filters of its direct
    paths. Unknown where that was not measured: the spectrum usual for its kind would be a guess.
    """
    import numpy as np

    from mixlint.signal.octave_bands import CENTRES_HZ

    shares = measured_spectrum(context, channel)
    if shares is None:
        return Unknown(unknown="its tone is not measured", settle="review the session with its audio")
    direct = context.gains_now.direct[channel.id][0, BANDS]
    arriving = shares * (np.abs(direct) ** 2).sum(axis=(-1, -2))
    if arriving.sum() <= 0.0:
        arriving = shares
    return float(2.0 ** (arriving @ np.log2(CENTRES_HZ) / arriving.sum()))
