"""Where each strip goes, which one is the mix bus, and what kind of strip each is."""

from __future__ import annotations

import re
from collections import Counter
from typing import Final

from mixlint.importers.dawproject.import_notes import ImportNotes
from mixlint.importers.dawproject.structure import StripDraft, Structure
from mixlint.importers.dawproject.values import number, truth
from mixlint.session import ChannelKind, Unknown

_MASTER_NAME: Final = re.compile(
    r"^(.*\s)?(master|main|mix\s*bus|2[\s-]*bus|two[\s-]*bus|stereo\s*(out|output|bus)|main\s*(out|output|mix)|master\s*(out|bus|fader))$",
    re.IGNORECASE,
)

_SEVERAL: Final = 4
"""Where so many channels state no output, and none lies in a group that could be meant, outputs were dropped."""


def settle_routing(structure: Structure, notes: ImportNotes) -> None:
    """Fill in ``output`` and ``kind`` of every strip.

    Args:
        structure: the strips; they are changed.
        notes: where every assumption goes, and the gap where outputs seem to have been dropped.
    """
    strips = structure.strips
    explicit: dict[int, StripDraft | Unknown] = {}
    fed: set[int] = set()
    sent: set[int] = set()
    for strip in strips:
        found = _destination(strip, structure, notes)
        if found is not None:
            explicit[id(strip)] = found
            if isinstance(found, StripDraft):
                fed.add(id(found))
        for target in _send_targets(strip, structure):
            if target is not strip:
                sent.add(id(target))
    parts = [strip for strip in strips if strip.channel is not None and strip.role not in ("master", "vca")]
    if len(parts) >= _SEVERAL and not explicit and not any(strip.parent for strip in parts):
        notes.gap("outputs")
    master = find_mix_bus(strips, explicit, notes)
    for strip in strips:
        strip.kind = _kind(strip, strip is master, id(strip) in fed, id(strip) in sent, notes)
    for strip in strips:
        strip.output = _output(strip, explicit.get(id(strip)), master, structure, notes)


def _destination(strip: StripDraft, structure: Structure, notes: ImportNotes) -> StripDraft | Unknown | None:
    if strip.channel is None or not strip.channel.has("destination"):
        return None
    named = strip.channel.get("destination")
    found = structure.resolve(named)
    if found is None:
        notes.assume(f"{strip.name} names an output ({named}) that is not in the file.", strip.id)
        return Unknown(
            unknown=f"the export names an output ({named}) that is not in the file", settle="look at its output"
        )
    if structure.means_track(named) and found is not strip:
        notes.assume(f"{strip.name} names the track {found.name} as its output; its channel was taken.", strip.id)
    if found is strip and strip.role == "master":
        notes.assume(f"{strip.name} names itself as its output; this was passed over.", strip.id)
        return None
    return found


def _send_targets(strip: StripDraft, structure: Structure) -> list[StripDraft]:
    """Where the strip's sends lead, those that are off or silent left out."""
    found: list[StripDraft] = []
    for sends in strip.channel.all("Sends") if strip.channel is not None else ():
        for send in sends.all("Send"):
            enable, volume = send.child("Enable"), send.child("Volume")
            off = enable is not None and truth(enable.get("value"), True) is False
            level = number(volume.attrs.get("value")) if volume is not None else None
            silent = level == 0.0 and volume is not None and volume.get("unit") != "decibel"
            target = structure.resolve(send.get("destination"))
            if target is not None and not off and not silent:
                found.append(target)
    return found


def find_mix_bus(
    strips: list[StripDraft], explicit: dict[int, StripDraft | Unknown], notes: ImportNotes
) -> StripDraft | None:
    """The mix bus: a top master track that goes nowhere, then a bare master channel, then one by its name.

    Of several alike it is the one that most strips go out to; a pair of headphone outputs may well stand first.

    Args:
        strips: all of them, in desk order.
        explicit: the outputs that the file names, by ``id()`` of the strip.
        notes: where the choice goes, unless it is the only one.

    Returns:
        The strip, or None where the file has no master channel.
    """
    ends = [strip for strip in strips if id(strip) not in explicit and not strip.heads]
    top = [strip for strip in ends if strip.depth == 0]
    masters = [strip for strip in ends if strip.role == "master"]
    plain = [
        s for s in top if s.role == "master" and s.track is not None and "tracks" not in s.content and not s.nested
    ]
    bare = [strip for strip in masters if strip.track is None]
    holding = [strip for strip in top if strip.role == "master"]
    feeds = Counter(id(target) for target in explicit.values())
    for found in (plain, bare, holding if len(holding) == 1 else []):
        if found:
            found = sorted(found, key=lambda one: -feeds[id(one)])
            if len(found) > 1:
                names = ", ".join(one.name for one in found[1:])
                notes.assume(
                    f"The file has several master channels. {found[0].name} was taken as the mix bus; "
                    f"others are outputs of their own: {names}."
                )
            return found[0]
    named = [s for s in top if _MASTER_NAME.match(s.name) and s.role not in ("effect", "vca")]
    if named:
        notes.assume(
            f"No channel is declared as master; {named[0].name} was taken as the mix bus by its name.", named[0].id
        )
        return named[0]
    notes.assume("The file has no master channel, so nothing is known to reach a mix bus.")
    return None


def _kind(strip: StripDraft, is_master: bool, fed: bool, sent: bool, notes: ImportNotes) -> ChannelKind | Unknown:
    role = strip.role
    if is_master:
        return "master"
    if role == "vca":
        if not fed and not sent:
            return "vca"
        how = "go out" if fed else "send"
        notes.assume(f"{strip.name} is declared as a VCA, yet channels {how} to it; it was read as a group.", strip.id)
        return "group"
    if role == "effect":
        return "return"
    if role in ("submix", "master") or strip.nested or strip.heads:
        return "group"
    if role not in ("", "regular"):
        notes.assume(f"{strip.name} has the role {role}, which is not in the format.", strip.id)
    holds_parts = bool(strip.content & {"audio", "notes"}) and strip.track is not None
    if fed and (strip.track is None or role == "" or not holds_parts):
        notes.assume(f"{strip.name} was read as a group, since channels go out to it.", strip.id)
        return "group"
    if sent and role == "" and not fed:
        notes.assume(f"{strip.name} was read as a return, since channels send to it.", strip.id)
        return "return"
    return "track"


def _output(
    strip: StripDraft,
    explicit: StripDraft | Unknown | None,
    master: StripDraft | None,
    structure: Structure,
    notes: ImportNotes,
) -> StripDraft | Unknown | None:
    if strip is master or strip.kind == "vca":
        return None
    if explicit is not None:
        return explicit
    if strip.role == "master" and strip.depth == 0 and not strip.nested:
        return None  # a second master goes out by itself
    group = strip.parent
    while group is not None and group.kind == "vca":
        group = group.parent
    home = group or master
    if home is None:
        return Unknown(
            unknown="the export gives no output and has no master channel", settle="look at the channel's output"
        )
    if home in _send_targets(strip, structure):
        notes.assume(
            f"{strip.name} has no output in the file but a send to {home.name}; that send was taken as its way.",
            strip.id,
        )
        return None
    why = "the group it lies in" if group is not None else "the mix bus"
    notes.assume(
        f"{strip.name} has no output in the file; {home.name}, {why}, was assumed.", strip.id, assumes="output"
    )
    return home
