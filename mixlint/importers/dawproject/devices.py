"""Inserts: plug-ins, built-in devices and the shared equalizers and dynamics."""

from __future__ import annotations

import re
from typing import Any, Final, Literal

from mixlint.importers.dawproject.automated_parameters import AutomatedParameter, AutomatedParameters
from mixlint.importers.dawproject.import_notes import ImportNotes
from mixlint.importers.dawproject.plugin_state import SAVED_STATE, PluginStates
from mixlint.importers.dawproject.shared_devices import read_dynamics, read_equalizer
from mixlint.importers.dawproject.structure import StripDraft
from mixlint.importers.dawproject.values import finite, number, real, switch, truth
from mixlint.importers.dawproject.wet import read_wet_share
from mixlint.importers.dawproject.xml_tree import DEVICE_TAGS, Node
from mixlint.session import Insert, Parameter, ProcessorKind, Target, Unknown

_SHARED: Final[dict[str, ProcessorKind]] = {
    "Equalizer": "equalizer", "Compressor": "compressor", "NoiseGate": "gate", "Limiter": "limiter",
}  # fmt: skip
_ROLES: Final[dict[str, ProcessorKind]] = {
    "instrument": "instrument", "notefx": "note-effect", "analyzer": "analyser",
}  # fmt: skip
_PARAMETER_TAGS: Final = ("RealParameter", "BoolParameter", "IntegerParameter", "EnumParameter")
_CATEGORY_KEYS: Final = ("categories", "category", "subCategories", "features")


def read_inserts(
    strip: StripDraft, automatable: AutomatedParameters, states: PluginStates, notes: ImportNotes, member: str
) -> tuple[Insert, ...]:
    """The strip's processors in file order, which is the only order the file gives.

    Args:
        strip: the channel.
        automatable: where parameters with ids are remembered for the automation.
        states: the plug-ins' saved states, and the categories in them that the document does not give.
        notes: where assumptions go.
        member: the document's name, for places.
    """
    if strip.channel is None:
        return ()
    nodes = [node for box in strip.channel.all("Devices") for node in box.children if node.tag in DEVICE_TAGS]
    return tuple(_insert(strip, node, count, automatable, states, notes, member) for count, node in enumerate(nodes))


def _insert(
    strip: StripDraft,
    node: Node,
    count: int,
    automatable: AutomatedParameters,
    states: PluginStates,
    notes: ImportNotes,
    member: str,
) -> Insert:
    enabled = node.child("Enabled")
    if enabled is not None:
        automatable.add(enabled, AutomatedParameter(strip.id, Target.insert(count, "on"), "switch", real(enabled)))
    fields: dict[str, Any] = {}
    parameters = list(_parameters(strip, node, count, automatable))
    kind = _SHARED.get(node.tag)
    if kind == "equalizer":
        fields["equalizer"], extra = read_equalizer(strip, node, count, automatable, notes)
        parameters += extra
    elif kind is not None:
        fields["dynamics"], extra = read_dynamics(strip, node, count, automatable, notes)
        parameters += extra
    if kind is not None:
        fields |= {"kind": kind, "ground": "the file's own device type", "opaque": False}
    else:
        role = node.get("deviceRole").lower()
        if role in _ROLES:
            fields |= {"kind": _ROLES[role], "ground": "the device role in the file"}
    categories = _categories(node)
    state = states.of(node, strip.id)
    if state is not None:
        fields["saved"] = state.saved
        if not categories and "kind" not in fields and state.category:
            categories = (state.category,)
            fields["ground"] = SAVED_STATE
    wet = read_wet_share(parameters)
    if wet is not None:
        fields["wet"] = wet.value
        if wet.parameter:
            automatable.rename(strip.id, Target.insert(count, wet.parameter), Target.insert(count, "wet"), wet.per_unit)
        if not isinstance(wet.value, Unknown):
            notes.assume(
                f"The wet share of {node.get('name') or node.get('deviceName')} on {strip.name} "
                f"was read from its parameter {wet.named}.",
                strip.id,
            )
    return Insert(
        id=node.get("id"),
        name=node.get("name") or node.get("deviceName") or "(unnamed processor)",
        on=switch(enabled, True, "processor's switch"),
        loaded=truth(node.get("loaded"), True),
        parameters=tuple(parameters),
        categories=categories,
        device=node.get("deviceID"),
        where=f"{member}:{node.line}",
        **fields,
    )


def _categories(node: Node) -> tuple[str, ...]:
    words: list[str] = []
    for key in _CATEGORY_KEYS:
        words += [word.strip() for word in re.split(r"[;,]", node.get(key)) if word.strip()]
    return tuple(dict.fromkeys(words))


def _parameters(strip: StripDraft, node: Node, place: int, automatable: AutomatedParameters) -> list[Parameter]:
    """The listed parameters. A file need list only those that are automated, so one that is absent says nothing."""
    found: list[Parameter] = []
    for box in node.all("Parameters"):
        for one in box.all(*_PARAMETER_TAGS):
            # Plug-in ids pass 2^31 in real files, so they stay text.
            own = one.get("parameterID") or one.get("id") or f"{len(found)}"
            parameter = real(one)
            unknown: Any = Unknown(unknown="the export gives the parameter no value")
            value: float | bool | int | Unknown
            kind: Literal["switch", "plain"]
            if one.tag == "BoolParameter":
                value = truth(one.get("value"), unknown)
                kind = "switch"
            else:
                read = number(one.attrs.get("value"))
                value = unknown if read is None or abs(read) == float("inf") else read
                kind = "plain"
                if one.tag != "RealParameter" and isinstance(value, float) and value.is_integer():
                    value = int(value)
            automatable.add(one, AutomatedParameter(strip.id, Target.insert(place, own), kind, parameter))
            bounds = {
                key: at
                for key, at in (("low", finite(one.attrs.get("min"))), ("high", finite(one.attrs.get("max"))))
                if at is not None
            }
            found.append(Parameter(id=own, name=one.get("name"), value=value, unit=one.get("unit"), **bounds))
    return found
