"""Sessions of which whole kinds of things were left out, as a poorer form would hold them."""

from __future__ import annotations

import json
from collections.abc import Iterable

from mixlint.session import Channel, Gap, Session

FORM = "a list of channels"


def without(session: Session, gaps: Iterable[Gap]) -> Session:
    """The session as a form holds it that has no place for some kinds of things, and says which."""
    gaps = tuple(gaps)
    gone = {c.id for c in session.channels if "groups" in gaps and c.kind == "group"}
    body = session.model_dump(mode="json", exclude_unset=True)
    body["channels"] = [_channel(c, gaps, gone) for c in session.channels if c.id not in gone]
    body["gaps"] = list(gaps)
    body["source"] = {"importer": "list", "form": FORM}
    if "clips" in gaps:
        body["media"] = []
    return Session.model_validate_json(json.dumps(body))


def _channel(channel: Channel, gaps: tuple[Gap, ...], gone: set[str]) -> dict[str, object]:
    body = channel.model_dump(mode="json", exclude_unset=True)
    fields = {"levels": "fader_db", "pans": "pan", "mutes": "mute", "solos": "solo", "outputs": "output"}
    for gap in gaps:
        body.pop(fields.get(gap, gap), None)
    for gap, kinds in {
        "levels": ("fader",),
        "pans": ("pan",),
        "mutes": ("mute",),
        "sends": ("send",),
        "inserts": ("insert",),
    }.items():
        if gap in gaps:
            body["automation"] = [a for a in body.get("automation", []) if not a["target"].startswith(kinds)]
    for send in body.get("sends", []):
        if send["to"] in gone:
            send["to"] = {"unknown": "the bus is not in the list"}
    if body.get("output") in gone:
        body["output"] = {"unknown": "the bus is not in the list"}
    if body.get("parent") in gone:
        del body["parent"]
    return body
