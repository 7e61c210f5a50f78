"""The strip's own controls: fader, pan, mute, solo and sends."""

from __future__ import annotations

from typing import Any, Literal

from mixlint.importers.dawproject.automated_parameters import AutomatedParameter, AutomatedParameters
from mixlint.importers.dawproject.dialect import Dialect
from mixlint.importers.dawproject.import_notes import ImportNotes
from mixlint.importers.dawproject.structure import StripDraft, Structure
from mixlint.importers.dawproject.values import amplitude_db, level_scale, pan_scale, real, switch, truth
from mixlint.importers.dawproject.xml_tree import Node
from mixlint.session import FADER, MUTE, PAN, Send, Target, Unknown
from mixlint.units import LOUDEST_DB, SILENCE_DB

_NO_FADER = Unknown(unknown="the export gives no fader level", settle="look at the fader in the session")


class MixerReader:
    """Reads the controls of strips.

    Args:
        structure: the strips, with their outputs settled.
        dialect: how this file spells pans and sends.
        automatable: where parameters with ids are remembered for the automation.
        notes: where assumptions go.
        member: the document's name, for places.
    """

    def __init__(
        self, structure: Structure, dialect: Dialect, automatable: AutomatedParameters, notes: ImportNotes, member: str
    ) -> None:
        self._structure = structure
        self._dialect = dialect
        self._targets = automatable
        self._notes = notes
        self._member = member

    def read(self, strip: StripDraft) -> dict[str, Any]:
        """The fields ``fader_db``, ``pan``, ``mute``, ``solo`` and ``sends`` of the channel."""
        node = strip.channel
        if node is None:
            why = Unknown(unknown="the export gives this track no mixer channel")
            return {"fader_db": why, "pan": why, "mute": why, "solo": why}
        mute = node.child("Mute")
        if mute is not None:
            self._targets.add(mute, AutomatedParameter(strip.id, MUTE, "switch", real(mute)))
        sends = [send for box in node.all("Sends") for send in box.all("Send")]
        return {
            "fader_db": self._level(strip, node.child("Volume"), "fader", FADER, 1.0),
            "pan": self._pan(strip, node.child("Pan"), PAN),
            "mute": switch(mute, False, "mute switch"),
            "solo": truth(node.get("solo"), False),
            "sends": tuple(self._send(strip, send, number) for number, send in enumerate(sends)),
        }

    def _level(
        self, strip: StripDraft, node: Node | None, what: str, target: Target, raise_by: float
    ) -> float | Unknown:
        if node is None:
            return _NO_FADER if target == FADER else Unknown(unknown="the export gives the send no level")
        parameter = real(node)
        scale = level_scale(parameter, what)
        self._targets.add(node, AutomatedParameter(strip.id, target, "level", parameter, raise_by))
        if scale.assumed:
            self._notes.assume(scale.assumed, strip.id)
        level = scale.level_db(parameter.value, what)
        if raise_by == 1.0 or isinstance(level, Unknown) or level <= SILENCE_DB or scale.kind != "amplitude":
            return level
        return min(round(level + amplitude_db(raise_by), 4), LOUDEST_DB)

    def _send_level(self, strip: StripDraft, node: Node | None, target: Target) -> float | Unknown:
        doubt = self._dialect.send_doubt
        if not doubt or node is None:
            return self._level(strip, node, "send level", target, self._dialect.send_raise)
        # The first to be remembered counts: its automation stands in the same doubt.
        self._targets.add(node, AutomatedParameter(strip.id, target, "doubted", real(node)))
        level = self._level(strip, node, "send level", target, 1.0)
        if isinstance(level, Unknown) or level <= SILENCE_DB:
            return level
        return Unknown(  # the same of every send, so that it is told once
            unknown=f"as it is written it may be 12 dB too low: {doubt}",
            settle="look at the send's level in the session",
        )

    def _pan(self, strip: StripDraft, node: Node | None, target: Target) -> float | Unknown:
        if node is None:
            return 0.0
        parameter = real(node)
        self._targets.add(node, AutomatedParameter(strip.id, target, "pan", parameter))
        return pan_scale(parameter, self._dialect.bipolar_pan).pan(parameter.value)

    def _send(self, strip: StripDraft, node: Node, number: int) -> Send:
        enable = node.child("Enable")
        if enable is not None:
            self._targets.add(enable, AutomatedParameter(strip.id, Target.send(number, "on"), "switch", real(enable)))
        return Send(
            to=self._send_target(strip, node),
            level_db=self._send_level(strip, node.child("Volume"), Target.send(number, "level")),
            pan=self._pan(strip, node.child("Pan"), Target.send(number, "pan")),
            tap=_tap(node.get("type").lower()),
            on=switch(enable, True, "send's switch"),
            id=node.get("id"),
            where=f"{self._member}:{node.line}",
        )

    def _send_target(self, strip: StripDraft, node: Node) -> str | Unknown:
        if not node.has("destination"):
            self._notes.assume(f"A send of {strip.name} names no channel.", strip.id)
            return Unknown(unknown="the export does not say where this send goes", settle="look at the send")
        named = node.get("destination")
        found = self._structure.resolve(named)
        if found is None:
            self._notes.assume(f"A send of {strip.name} names a channel ({named}) that is not in the file.", strip.id)
            return Unknown(
                unknown=f"the send names a channel ({named}) that is not in the export", settle="look at the send"
            )
        if self._structure.means_track(named):
            self._notes.assume(
                f"A send of {strip.name} names the track {found.name}; the track's channel was taken.", strip.id
            )
        return found.id


def _tap(text: str) -> Literal["pre", "post"] | Unknown:
    if text in ("", "post"):  # the format's own default
        return "post"
    if text == "pre":
        return "pre"
    return Unknown(unknown=f"the export gives the send the type {text}, which is not in the format")
