"""How the two legs of a file go together: their levels, what they share, their polarity and their time."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import MediaUse, header
from mixlint.analysis.played_stretches import LEGS, Played
from mixlint.analysis.settings import Setting, share_setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.media.file_marks import heard_files
from mixlint.facts.media.heard import played, played_of, players
from mixlint.naming import side_of
from mixlint.session import NotKnown, Unknown, known
from mixlint.units import SILENCE_DB, number_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

FACTS: Facts[MediaUse] = Facts()

ACTIVE: Final = Setting(
    "file_legs.active", 30.0, "dB", "What lies so far under the loudest tenth of a second is a rest.", lowest=6.0
)
THROUGHOUT: Final = share_setting(
    "file_legs.throughout", 90.0, "So much of the time one leg has to be weaker, or the two alike, to be so throughout."
)
BEFORE_AND_AFTER: Final = Setting(
    "file_legs.before_and_after",
    1.0,
    "s",
    "So long the legs have to go together in one way, and then in another, for a change between them.",
    lowest=0.3,
)
ANSWERED: Final = Setting(
    "file_legs.answered",
    4.0,
    "dB",
    "Two files that lean to opposite sides alike within this were printed so.",
    lowest=0.5,
)
LEGS_SETTINGS: Final = (ACTIVE, THROUGHOUT)
CHANGE_SETTINGS: Final = (ACTIVE, BEFORE_AND_AFTER)

LEAST_POWER: Final = 1e-8
CAP_DB: Final = 120.0


class Together(NamedTuple):
    """The sounding tenths of a second of a file with two legs that heard parts play.

    Args:
        at_s: (n,) where each begins, seconds of the file.
        power: (2, n) mean squares.
        product: (n,) mean product.
        apart: (n,) mean square of the difference.
    """

    at_s: Floats
    power: Floats
    product: Floats
    apart: Floats


@per_session
def _together(context: SessionContext, media_id: str) -> Together | Unknown:
    one = played_of(context, media_id)
    if isinstance(one, Unknown):
        return one
    measure = one.measure
    if measure.legs != 2:
        return Unknown(unknown="it has no two legs")
    loud = measure.power.max(axis=0)
    most = float(loud[one.blocks()].max(initial=0.0))
    if most < LEAST_POWER:
        return Unknown(unknown="it is silent")
    sounds = one.blocks() & (loud >= max(LEAST_POWER, most * 10.0 ** (-context.setting(ACTIVE) / 10.0)))
    at = sounds.nonzero()[0]
    return Together(at * measure.block_s, measure.power[:, at], measure.product[at], measure.apart[at])


def _both(row: Row[MediaUse]) -> Together:
    found = _together(row.context, row.item.media.id)
    if isinstance(found, Unknown):
        raise NotKnown(found)
    return found


def _balance_db(both: Together) -> Floats:
    """(n,) how much louder the left leg is, no more than :data:`CAP_DB`."""
    import numpy as np

    levels = 10.0 * np.log10(np.maximum(both.power, 1e-20))
    return np.asarray(np.clip(levels[0] - levels[1], -CAP_DB, CAP_DB))


@FACTS.fact("switch", "It has two legs.", how="measured")
def two_legs(row: Row[MediaUse]) -> bool:
    return known(header(row.context, row.item.media.id)).legs == 2


@FACTS.fact(
    "number",
    "By how much one leg lies under the other nearly all the time; 0 where now the one is weaker and now the other.",
    unit="dB",
    how="measured",
    settings=LEGS_SETTINGS,
)
def weaker_leg_db(row: Row[MediaUse]) -> FactValue:
    by, leg = known(_weaker(row.context, row.item.media.id))
    return FactValue(by, "measured", row.subject.where, f"the {LEGS[leg]} side" if by else "neither")


@per_session
def _weaker(context: SessionContext, media_id: str) -> tuple[float, int] | Unknown:
    """By how much which leg lies under the other nearly all the time, dB; 0 for neither."""
    import numpy as np

    both = _together(context, media_id)
    if isinstance(both, Unknown):
        return both
    balance = _balance_db(both)
    spared = 1.0 - context.setting(THROUGHOUT) / 100.0
    low, high = float(np.quantile(balance, spared)), float(np.quantile(balance, 1.0 - spared))
    return (low, 1) if low > 0.0 else (-high, 0) if high < 0.0 else (0.0, 0)


@FACTS.fact(
    "switch",
    "It was printed with its pan: its name says the side it leans to, or another file leans as far to the other.",
    how="measured",
    settings=(*LEGS_SETTINGS, ANSWERED),
)
def printed_aside(row: Row[MediaUse]) -> bool:
    by, weaker = known(_weaker(row.context, row.item.media.id))
    side = side_of(row.subject.name.rpartition(".")[0], row.context.house.vocabulary)
    if not by or side == LEGS[1 - weaker]:
        return bool(by)
    for other in sorted(heard_files(row.context) - {row.item.media.id}):
        found = _weaker(row.context, other)
        if isinstance(found, Unknown) or not found[0] or found[1] == weaker:
            continue
        if abs(found[0] - by) <= row.context.setting(ANSWERED):
            return True
    return False


@FACTS.fact(
    "number",
    "By how much one leg drops under the other at an instant, and stays there for a while; 0 where none does.",
    unit="dB",
    how="measured",
    settings=CHANGE_SETTINGS,
)
def leg_drop_db(row: Row[MediaUse]) -> FactValue:
    both = _both(row)
    change = _change(row, _balance_db(both), LEAST_DROP_DB)
    if change is None:
        return FactValue(0.0, "measured", row.subject.where, "nowhere")
    at, before, after = change
    power = both.power
    leg = 1 if abs(after) >= abs(before) and after > before else 0
    if abs(after) < abs(before):  # it comes back here
        leg = 1 if before > after else 0
    # A hard-panned part that enters changes the balance, too: the leg itself has to fall while the other goes on.
    import numpy as np

    long = round(row.context.setting(BEFORE_AND_AFTER) / BLOCK_S)
    sides = [10.0 * np.log10(np.median(power[:, part], axis=1) + 1e-20) for part in _sides(at, long, power.shape[1])]
    quiet, loud = (sides[1], sides[0]) if abs(after) >= abs(before) else (sides[0], sides[1])
    if loud[leg] - quiet[leg] < LEAST_DROP_DB or abs(loud[1 - leg] - quiet[1 - leg]) > GOES_ON_DB:
        return FactValue(0.0, "measured", row.subject.where, "nowhere")
    where = played(row).place(row.context, float(both.at_s[at]))
    word = "from" if abs(after) >= abs(before) else "until"
    return FactValue(abs(after - before), "measured", row.subject.where, f"the {LEGS[leg]} side, {word} {where},")


@FACTS.fact("text", "Which of its sides is weaker, throughout or from some place on, and by how much.", how="measured",
            settings=(*LEGS_SETTINGS, *CHANGE_SETTINGS))  # fmt: skip
def sides_text(row: Row[MediaUse]) -> str:
    weaker, drop = row.need("weaker_leg_db"), row.need("leg_drop_db")
    texts = []
    if drop.number > 0.0:
        texts.append(f"{drop.note} lies {number_text(drop.number, 'dB')} lower")
    elif weaker.number >= CAP_DB:
        texts.append(f"{weaker.note} is silent")
    elif weaker.number > 0.0:
        texts.append(f"{weaker.note} lies {number_text(weaker.number, 'dB')} under the other throughout")
    return " and ".join(texts) or "neither side is weaker"


LEAST_DROP_DB: Final = 6.0
GOES_ON_DB: Final = 6.0
BLOCK_S: Final = 0.1
CANDIDATES: Final = 8


def _sides(at: int, long: int, count: int) -> tuple[slice, slice]:
    return slice(max(0, at - long), at), slice(at, min(count, at + long))


def _change(row: Row[MediaUse], values: Floats, least: float) -> tuple[int, float, float] | None:
    """Where a row of values (n,) steps by the most and is steady before and after: place, and the two medians."""
    import numpy as np

    long = round(row.context.setting(BEFORE_AND_AFTER) / BLOCK_S)
    count = values.size
    if count < 2 * long:
        return None
    sums = np.concatenate(([0.0], np.cumsum(values)))
    places = np.arange(long, count - long + 1)
    step = np.abs((sums[places + long] - sums[places]) - (sums[places] - sums[places - long])) / long
    best: tuple[int, float, float] | None = None
    for at in places[np.argsort(-step, kind="stable")[:CANDIDATES]].tolist():
        before, after = (values[part] for part in _sides(at, long, count))
        apart = float(np.median(after) - np.median(before))
        spread = max(float(np.ptp(np.quantile(one, [0.1, 0.9]))) for one in (before, after))
        if abs(apart) >= least and spread <= abs(apart) / 3.0 and (best is None or abs(apart) > abs(best[2] - best[1])):
            best = at, float(np.median(before)), float(np.median(after))
    return best


@FACTS.fact(
    "number",
    "The level of what its legs differ in, against what is in both together; −200 where they are the same.",
    unit="dB",
    how="measured",
    settings=(ACTIVE,),
)
def legs_differ_db(row: Row[MediaUse]) -> float:
    from mixlint.signal.decibel import power_to_db

    both = _both(row)
    return max(SILENCE_DB, power_to_db(float(both.apart.sum()) / float(both.power.sum())))


@FACTS.fact("switch", "A heard part that plays it has two legs by its strip, or its width is not told.", how="declared")
def on_a_stereo_strip(row: Row[MediaUse]) -> bool:
    return any(row.context.routing.legs[one.id] != 1 for one in players(row))


ONE_MICROPHONE: Final = frozenset({"kick", "snare", "hi-hat", "bass", "lead-vocal", "vocal-double", "vocal"})
"""Roles that are recorded with one microphone or a line, whatever their file is written as; a definition."""


@FACTS.fact(
    "switch",
    "All heard parts that play it are of a kind that is recorded with one microphone: kick, snare, bass, a voice.",
    how="derived",
)
def of_one_microphone(row: Row[MediaUse]) -> bool:
    context = row.context
    return all(context.role(one.id) in ONE_MICROPHONE or context.family(one.id) == "speech" for one in players(row))


@FACTS.fact(
    "number",
    "Of the other files with two legs that heard parts play, the share whose legs are the same; 0 without any.",
    unit="%",
    how="measured",
    settings=(ACTIVE,),
)
def others_alike_percent(row: Row[MediaUse]) -> float:
    alike = _alike_legs(row.context)
    others = [same for media, same in alike.items() if media != row.item.media.id]
    return 100.0 * sum(others) / len(others) if others else 0.0


@per_session
def _alike_legs(context: SessionContext) -> dict[str, bool]:
    """Media id → whether its legs are the same but for dither; files with two legs that heard parts play."""
    found: dict[str, bool] = {}
    for media in sorted(heard_files(context)):
        both = _together(context, media)
        if not isinstance(both, Unknown):
            found[media] = float(both.apart.sum()) < SAME * float(both.power.sum())
    return found


SAME: Final = 1e-5


@FACTS.fact(
    "number",
    "The correlation of its legs over what is heard of it: 1 for the same, −1 for one turned over.",
    how="measured",
    settings=(ACTIVE,),
)
def legs_correlation(row: Row[MediaUse]) -> float:
    import numpy as np

    both = _both(row)
    left, right = both.power.sum(axis=1)
    return float(np.clip(both.product.sum() / np.sqrt(max(left * right, 1e-30)), -1.0, 1.0))


@FACTS.fact(
    "switch",
    "From some point on, or for a while, one leg is turned over against the other, where it was not before.",
    how="measured",
    settings=CHANGE_SETTINGS,
)
def polarity_turns(row: Row[MediaUse]) -> FactValue:
    import numpy as np

    both = _both(row)
    like = both.product / np.sqrt(np.maximum(both.power[0] * both.power[1], 1e-30))
    change = _change(row, like, TURNED)
    if change is None or min(change[1], change[2]) > -TURNED / 2.0 or max(change[1], change[2]) < TURNED / 2.0:
        return FactValue(False, "measured", row.subject.where, "nowhere")
    word = "from" if change[2] < change[1] else "until"
    where = played(row).place(row.context, float(both.at_s[change[0]]))
    return FactValue(True, "measured", row.subject.where, f"{word} {where}")


@FACTS.fact("text", "How its two sides stand to each other.", how="measured", settings=CHANGE_SETTINGS)
def polarity_text(row: Row[MediaUse]) -> str:
    turns = row.need("polarity_turns")
    if turns.value:
        return f"One side of {row.subject.name} is turned over against the other {turns.note}"
    return f"The two sides of {row.subject.name} correlate by {number_text(row.need('legs_correlation').number)}"


TURNED: Final = 1.0
"""A correlation that goes from over one half to under minus one half."""


@FACTS.fact(
    "number",
    "By how much one leg is later than the other where they hold the same sound; 0 where they are in time, or hold "
    "different sounds.",
    unit="ms",
    how="measured",
    settings=LEGS_SETTINGS,
)
def leg_lag_ms(row: Row[MediaUse]) -> FactValue:
    import numpy as np

    _both(row)
    one: Played = played(row)
    lags = np.array([lag for lag in one.measure.lags if one.plays(float(lag[0]))]).reshape(-1, 3)
    if len(lags) < LEAST_LAGS:
        return FactValue(0.0, "measured", row.subject.where, "neither")
    lag = float(np.median(lags[:, 1]))
    same = (np.abs(lags[:, 1] - lag) <= 1.0) & (np.abs(lags[:, 2]) >= ONE_SOUND)
    if 100.0 * float(same.mean()) < row.context.setting(THROUGHOUT) or abs(lag) < 1.0:
        return FactValue(0.0, "measured", row.subject.where, "neither")
    ms = 1000.0 * abs(lag) / one.measure.header.sample_rate_hz
    note = f"the {'right' if lag > 0.0 else 'left'} one, by {number_text(abs(lag))} samples"
    return FactValue(ms, "measured", row.subject.where, note)


LEAST_LAGS: Final = 2
ONE_SOUND: Final = 0.9
"""Shifted by the lag the legs are one sound: so much of correlation wherever it was asked, at one lag. Of 92 recorded
stereo sounds none reaches it at another lag than 0."""
