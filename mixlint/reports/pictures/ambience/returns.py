"""What is known of each effect return: its response, dry signal, pre-delay, sides, and what is to be looked at."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.ambience import PathResponse, path_response
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext
from mixlint.analysis.gain_to_mix_bus import right_share
from mixlint.analysis.inserts import active_inserts
from mixlint.analysis.parameter_times import delay_ms
from mixlint.facts.declare import FactValue, Row
from mixlint.facts.return_.table import RETURN
from mixlint.reports.words import open_text, opened_by_name
from mixlint.review.findings import Finding
from mixlint.rulebook.evaluation import RowEvaluation
from mixlint.session import Channel, NotShown, Unknown, as_shown, is_known

if TYPE_CHECKING:
    from mixlint.rulebook.rule import Rule

POINTS_HZ: Final = tuple(20.0 * 1000.0 ** (n / 120) for n in range(121))
"""Where a response is worked out: a hundred and twenty steps from 20 Hz to 20 kHz, twelve an octave."""

SPOT_OF_FACT: Final = {
    "low_cut_db": "curve",
    "effect_low_cut_db": "curve",
    "own_low_cut_hz": "curve",
    "own_high_cut_hz": "curve",
    "low_over_middle_db": "curve",
    "dry_db": "dry",
    "pre_delay_ms": "pre-delay",
    "pre_delay_off_tempo": "pre-delay",
    "off_tempo": "pre-delay",
    "off_named_note": "pre-delay",
    "off_tempo_most": "pre-delay",
    "ambience_side": "side",
    "side_of_its_part": "side",
    "wrong_side_db": "side",
    "on_its_mirror": "side",
    "off_centre": "side",
    "pan_apart": "side",
}
"""The fact that a rule holds to a limit → where in a panel it is drawn; any other is told beside the name."""


class Note(NamedTuple):
    """Something to look at: its shape, where in the panel (``name`` for no place of its own), and what it says."""

    kind: str
    spot: str
    text: str


class Fed(NamedTuple):
    """A part that feeds a return: its name, and how much of it is on the right, 0 … 1."""

    name: str
    right: float | Unknown


class Limits(NamedTuple):
    """The limits in force of the rules about a return; None where the rule is not in force.

    Args:
        low_cut_db: least taken at 60 Hz relative to 1 kHz.
        low_cut_asked: the rule asks that of this return.
        dry_db: most dry signal.
        pre_delay_ms: the range of a pre-delay.
        echo_ms: from here on it is an echo.
    """

    low_cut_db: float | None = None
    low_cut_asked: bool = True
    dry_db: float | None = None
    pre_delay_ms: tuple[float, float] | None = None
    echo_ms: float | None = None


class Return(NamedTuple):
    """What is known of a return.

    Args:
        name: its name.
        effect: reverb, delay, or why it is not known.
        response: what the filters on its path make of it, or why none of them is known.
        low_cut: what its path takes at 60 Hz, dB; or why that is not known.
        dry: its dry signal, dB; or why that is not known.
        time_ms: the pre-delay of a reverb, the time of a delay; or why it is not known.
        right: how much of it comes out on the right, 0 … 1.
        fed: the parts that feed it.
        limits: the limits in force.
        notes: what is to be looked at.
    """

    name: str
    effect: str | Unknown
    response: PathResponse | Unknown
    low_cut: FactValue | Unknown
    dry: FactValue | Unknown
    time_ms: float | Unknown
    right: float | Unknown
    fed: tuple[Fed, ...]
    limits: Limits
    notes: tuple[Note, ...]


def returns_of(context: SessionContext, findings: Sequence[Finding], rules: Iterable[Rule]) -> tuple[Return, ...]:
    """The reverb and delay returns of a session, in desk order; those whose effect is not known are among them."""
    by_id = {rule.id: rule for rule in rules}
    found = []
    for row in RETURN.rows(context):
        effect = row.value("effect")
        if isinstance(effect, FactValue) and effect.value not in ("reverb", "delay"):
            continue
        found.append(_return(context, row, effect, findings, by_id))
    return tuple(found)


def _return(
    context: SessionContext,
    row: Row[Channel],
    effect: FactValue | Unknown,
    findings: Sequence[Finding],
    rules: dict[str, Rule],
) -> Return:
    channel = row.item
    return Return(
        context.name(channel.id),
        str(effect.value) if isinstance(effect, FactValue) else effect,
        _response(context, channel),
        _shown(row, "low_cut_db"),
        _shown(row, "dry_db"),
        _time_ms(context, row, effect),
        right_share(context, channel.id),
        _feeding(context, channel),
        _limits(row, rules),
        _notes(context, channel, findings),
    )


def _shown(row: Row[Channel], fact: str) -> FactValue | Unknown:
    """A fact; unknown where it hangs on a list that the export does not show."""
    return as_shown(lambda: row.value(fact))


def _response(context: SessionContext, channel: Channel) -> PathResponse | Unknown:
    return as_shown(lambda: path_response(context, channel, POINTS_HZ))


def _time_ms(context: SessionContext, row: Row[Channel], effect: FactValue | Unknown) -> float | Unknown:
    if isinstance(effect, FactValue) and effect.value == "delay":
        inserts = as_shown(lambda: active_inserts(context, row.item))
        if isinstance(inserts, Unknown):
            return inserts
        delays = (insert for insert, reading in inserts if reading.word == "delay")
        insert = next(delays, None)
        if insert is None:
            return Unknown(unknown="the export shows no delay that acts here")
        return delay_ms(insert, context.house.vocabulary)
    found = _shown(row, "pre_delay_ms")
    return found.number if isinstance(found, FactValue) else found


def _feeding(context: SessionContext, channel: Channel) -> tuple[Fed, ...]:
    """The parts whose sound comes to a return, in desk order."""
    wiring = context.routing.wiring
    feeding = wiring.upstream([channel.id], wiring.audible)
    parts = [c for c in context.session.channels if c.id in feeding and c.id != channel.id and is_source(context, c)]
    return tuple(Fed(context.name(one.id), right_share(context, one.id, dry=True)) for one in parts)


def _limits(row: Row[Channel], rules: dict[str, Rule]) -> Limits:
    def limit(rule: str, name: str) -> float | None:
        value = rules[rule].limits[name].value if rule in rules and name in rules[rule].limits else None
        return float(value) if isinstance(value, int | float) else None

    low_cut = rules.get("return-low-cut")
    asked = True
    if low_cut is not None and low_cut.when is not None:
        try:
            asked = low_cut.when.test(RowEvaluation(low_cut.table, row)).truth != "no"
        except NotShown:
            asked = True
    shortest, longest = (limit("pre-delay-in-range", name) for name in ("shortest_ms", "longest_ms"))
    return Limits(
        limit("return-low-cut", "low_cut_db"),
        asked,
        limit("return-fully-wet", "dry_db"),
        (shortest, longest) if shortest is not None and longest is not None else None,
        limit("pre-delay-no-echo", "echo_ms"),
    )


def _notes(context: SessionContext, channel: Channel, findings: Sequence[Finding]) -> tuple[Note, ...]:
    """What was found about a return, or about the ambience of what is sent to it, each where it is drawn."""
    senders = {edge.source for edge in context.routing.wiring.arriving.get(channel.id, ()) if edge.kind == "send"}
    found = []
    for one in findings:
        if one.verdict not in ("flagged", "open"):
            continue
        spot = next((SPOT_OF_FACT[e.fact] for e in one.evidence if e.limit is not None and e.fact in SPOT_OF_FACT), "")
        spot = spot or next((SPOT_OF_FACT[r.fact] for r in one.reasons if r.fact in SPOT_OF_FACT), "")
        own = channel.id in one.channels and (one.area == "ambience" or one.subject.table == "return")
        sent = (
            spot == "side" and one.area == "ambience" and one.subject.table == "source" and senders & set(one.channels)
        )
        if own or sent:
            kind = one.grade if one.verdict == "flagged" else "ask"
            text = opened_by_name(one, (one.verdict == "open" and open_text(one)) or one.message)
            found.append(Note(kind, spot or "name", text))
    return tuple(found)


def is_cut(one: Return) -> bool:
    """Whether a return's path is known to take as much at 60 Hz as the rule in force asks."""
    least = one.limits.low_cut_db
    return is_known(one.low_cut) and (least is None or one.low_cut.number >= least)
