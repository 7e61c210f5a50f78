"""What the picture of the mix in stereo shows of a session, asked of the rooms below."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import partial
from typing import Final, Literal

from mixlint.analysis.arriving import audible_parts
from mixlint.analysis.audibility import audibility, is_audible
from mixlint.analysis.automation_range import always_muted
from mixlint.analysis.balance import Imbalance, imbalance
from mixlint.analysis.centre import CENTRE, centre_rivals_of
from mixlint.analysis.channel_purpose import is_return, is_source
from mixlint.analysis.context import SessionContext
from mixlint.analysis.counterparts import (
    LEAST_ANGLE,
    LEAST_TOGETHER,
    answered_share,
    closeness,
    counterparts,
    falls_short,
    other_instruments,
)
from mixlint.analysis.partners import partners
from mixlint.analysis.stereo_image import (
    Standing,
    audible_returns,
    feeders,
    part_standing,
    return_standing,
    tone_centre_hz,
)
from mixlint.reports.pictures.picture import Scene
from mixlint.review.findings import GRAVITY, Finding
from mixlint.session import Channel, Unknown, as_shown, is_known

ANSWER_FACTS: Final = frozenset({"answered", "answered_percent"})
"""A finding that holds one of these to a limit says of a part that it stands alone."""

WAITS_FACT: Final = "partner_waits"
"""A finding that rests on this says of a silent part that its other half stands alone."""

AREAS: Final = frozenset({"width", "ambience"})
OFF_AREAS: Final = frozenset({"width", "prep", "routing"})
"""Areas of rules whose findings are marked here: on what is heard, and on what is not."""

Answer = Literal["pair", "turns", "alone", "open", "unread", "needless"]
"""``pair``: a counterpart; ``turns``: others answer it in turn; ``alone``: a finding says that nobody does; ``open``:
nobody does, and no finding asks for it; ``unread``: its name does not tell what it plays, so that nobody can be looked
for; ``needless``: it stands near the centre."""

UNPLACED: Final = "place not known"
"""Why something is not in the picture that may be anywhere in it."""


@dataclass(frozen=True)
class Mark:
    """A part, a return, or several of a family taken together.

    Args:
        ids: the channels it stands for.
        name: as it is called.
        stands: its place and level.
        hz: the middle of its tone; None where it was not measured.
        answer: whether somebody answers it.
        partner: id of the part that answers it, or of its partner by name that does not.
        lacks: what keeps a partner by name from answering it, as ``stands in the centre``; empty where none is heard.
        fed_by: of a return, the ids of the parts that feed it.
        findings: grade and message of what the review says of it here, the gravest first.
        about: what stands in its title besides.
    """

    ids: tuple[str, ...]
    name: str
    stands: Standing
    hz: float | None = None
    answer: Answer = "needless"
    partner: str = ""
    lacks: str = ""
    fed_by: tuple[str, ...] = ()
    findings: tuple[tuple[str, str], ...] = ()
    family: str = ""
    is_return: bool = False
    rival: bool = False


@dataclass(frozen=True)
class Off:
    """A part or return that is not in the picture, and why: ``muted``, ``not in the mix``, ``place not known``."""

    name: str
    why: str
    detail: str = ""
    findings: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Gathered:
    """Everything in the picture.

    Args:
        parts, returns: what is heard, in desk order.
        off: what is not.
        balance: the balance of the mix, or why it is not known.
        centre: how far from the middle the centre goes, pan distance.
        shares: the share of the energy of parts on the left, in the centre and on the right, 0 … 1.
        findings: of the session as a whole.
        names: name of every channel by id.
    """

    parts: tuple[Mark, ...]
    returns: tuple[Mark, ...]
    off: tuple[Off, ...]
    balance: Imbalance | Unknown
    centre: float
    voice: str = ""
    findings: tuple[tuple[str, str], ...] = ()
    names: dict[str, str] = field(default_factory=dict)

    @property
    def unplaced(self) -> tuple[Off, ...]:
        """Parts and returns of which it is not known where they stand: nothing is said of a side without them."""
        return tuple(one for one in self.off if one.why == UNPLACED)

    @property
    def shares(self) -> tuple[float, float, float]:
        """The share of the parts' energy that stands left of the centre, in it and right of it, 0 … 1."""
        sums = [0.0, 0.0, 0.0]
        for part in self.parts:
            place = part.stands.position
            sums[1 if abs(place) <= self.centre else 0 if place < 0.0 else 2] += part.stands.power
        whole = sum(sums) or 1.0
        return sums[0] / whole, sums[1] / whole, sums[2] / whole


def gathered(scene: Scene) -> Gathered | Unknown | None:
    """What there is to show; None for a session without parts, Unknown where the mix bus is not known."""
    context = scene.context
    sources = [c for c in context.session.channels if is_source(context, c)]
    if not sources:
        return None
    if isinstance(context.routing.wiring.mix_bus, Unknown):
        return context.routing.wiring.mix_bus
    said = _findings_by_channel(scene.findings)
    off: list[Off] = []
    parts, returns = [], []
    for channel in audible_parts(context):
        stands = as_shown(partial(part_standing, context, channel))
        if isinstance(stands, Unknown):
            off.append(_off(context, channel, UNPLACED, said, stands.unknown))
        else:
            parts.append(_part(context, channel, stands, said))
    for channel in audible_returns(context):
        stands = as_shown(partial(return_standing, context, channel))
        if isinstance(stands, Unknown):
            off.append(_off(context, channel, UNPLACED, said, stands.unknown))
        else:
            fed = tuple(one.id for one in feeders(context, channel))
            name = context.name(channel.id)
            notes = _of_area(said.get(channel.id, []), AREAS)
            returns.append(Mark((channel.id,), name, stands, fed_by=fed, findings=notes, is_return=True))
    off += [
        _why_off(context, channel, said)
        for channel in context.session.channels
        if (is_source(context, channel) or is_return(context, channel)) and not is_audible(context, channel)
    ]
    leads = [part for part in parts if context.role(part.ids[0]) == "lead-vocal"]
    rivals = {other.id for lead in leads for other in centre_rivals_of(context, context.channels[lead.ids[0]])} - {
        lead.ids[0] for lead in leads
    }
    return Gathered(
        tuple(_with(part, rival=part.ids[0] in rivals) for part in parts),
        tuple(returns),
        tuple(off),
        imbalance(context),
        context.setting(CENTRE),
        leads[0].name if leads else "",
        _of_area([f for f in scene.findings if f.subject.table == "session"], frozenset({"width"})),
        {channel_id: context.name(channel_id) for channel_id in context.channels},
    )


def _with(part: Mark, *, rival: bool) -> Mark:
    from dataclasses import replace

    return replace(part, rival=True) if rival else part


def _part(context: SessionContext, channel: Channel, stands: Standing, said: dict[str, list[Finding]]) -> Mark:
    hz = tone_centre_hz(context, channel)
    answer, partner, lacks = _answer(context, channel, stands, said)
    return Mark(
        (channel.id,),
        context.name(channel.id),
        stands,
        hz if is_known(hz) else None,
        answer,
        partner,
        lacks,
        findings=_of_area(said.get(channel.id, []), AREAS),
        family=context.family(channel.id) or "",
    )


def _answer(
    context: SessionContext, channel: Channel, stands: Standing, said: dict[str, list[Finding]]
) -> tuple[Answer, str, str]:
    """Whether somebody answers a part, who, and what a partner by name lacks for it."""
    partner = partners(context).get(channel.id)
    called = partner.id if partner is not None else ""
    findings = [*said.get(channel.id, []), *said.get(called, [])]
    if any(_says_alone(finding, channel.id, called) for finding in findings):
        return "alone", *_partner_lacks(context, channel, partner)
    found = counterparts(context).get(channel.id) or other_instruments(context).get(channel.id)
    if found is not None:
        return "pair", found.beside(channel.id), ""
    if abs(stands.position) < context.setting(LEAST_ANGLE) or stands.ends is not None:
        return "needless", "", ""
    if not falls_short(answered_share(context, channel), context.setting(LEAST_TOGETHER)):
        return "turns", "", ""
    return "open" if context.role(channel.id) else "unread", "", ""


def _partner_lacks(context: SessionContext, channel: Channel, partner: Channel | None) -> tuple[str, str]:
    """Id of the partner by name of a part, and what keeps it from answering, where it is heard."""
    if partner is None:
        return "", ""
    if not is_source(context, partner) or not is_audible(context, partner):
        return partner.id, ""
    lacks = " and ".join(closeness(context, channel, partner).mismatches)
    return partner.id, lacks or "answers it for too little of the time"


def _says_alone(finding: Finding, part: str, partner: str) -> bool:
    """True for a finding that a part is not answered, or waits for a silent partner; signed off, it says so too."""
    if finding.verdict not in ("flagged", "signed"):
        return False
    if finding.subject.id == part:
        return any(one.fact in ANSWER_FACTS and one.limit is not None for one in finding.evidence)
    return finding.subject.id == partner and any(one.fact == WAITS_FACT for one in finding.evidence)


def _findings_by_channel(findings: tuple[Finding, ...]) -> dict[str, list[Finding]]:
    found: dict[str, list[Finding]] = {}
    for finding in findings:
        for channel in finding.channels:
            found.setdefault(channel, []).append(finding)
    return found


def _of_area(findings: list[Finding], areas: frozenset[str]) -> tuple[tuple[str, str], ...]:
    """Grade and message of what is flagged in some areas, the gravest first."""
    told = [f for f in findings if f.verdict == "flagged" and f.area in areas and f.grade in ("hold", "look")]
    return tuple((f.grade, f.message) for f in sorted(told, key=lambda f: GRAVITY[f.grade]))


def _off(context: SessionContext, channel: Channel, why: str, said: dict[str, list[Finding]], detail: str = "") -> Off:
    return Off(context.name(channel.id), why, detail, _of_area(said.get(channel.id, []), OFF_AREAS))


def _why_off(context: SessionContext, channel: Channel, said: dict[str, list[Finding]]) -> Off:
    heard = audibility(context, channel)
    if isinstance(heard, Unknown):
        return _off(context, channel, UNPLACED, said, heard.unknown)
    if always_muted(context, channel):
        return _off(context, channel, "muted", said)
    wiring = context.routing.wiring
    if channel.id in wiring.reaching:
        return _off(context, channel, "muted", said, "a mute behind it")
    return _off(context, channel, "not in the mix", said)
