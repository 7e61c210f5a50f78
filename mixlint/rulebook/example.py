"""Tiny sessions written inside rule files: short to write, built into whole sessions in the neutral form.

What may be left out or written shorter: a missing id is the name (a second channel of one name gets `` (2)``);
``output``, ``parent``, a send's ``to`` and a clip's ``file`` may give a name or path in place of an id;
``output = false`` means that it goes nowhere (TOML has no null); the tempo is 120 in 4/4 unless given.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from pydantic import ValidationError

from mixlint.analysis.house import House
from mixlint.naming import SHIPPED, Vocabulary
from mixlint.rulebook.faults import Faults, FileFaults
from mixlint.rulebook.house_file import HouseFile, check_names, house_of
from mixlint.rulebook.rule import Tables
from mixlint.rulebook.rule_file import Example
from mixlint.rulebook.settings import checked_settings, settings_of
from mixlint.session import Session

if TYPE_CHECKING:
    from mixlint.comparison import Approval

TIMELINE = {"tempos": [{"bpm": 120.0}]}


def example_session(example: Example, file: str = "example") -> Session:
    """The session of an example.

    Args:
        example: the example as written.
        file: the rule file's name, for faults.

    Raises:
        RulebookError: the session has faults.
    """
    faults = Faults()
    session = _session(_with_sounds(example), faults.of(file), f"example {example.name!r}")
    faults.stop()
    if session is None:
        raise AssertionError("a session without faults is there")
    return session


def example_approval(example: Example, file: str = "example") -> Approval | None:
    """The approval that an example stands under, as mix 4, or None.

    Args:
        example: the example as written.
        file: the rule file's name, for faults.

    Raises:
        RulebookError: the approved session has faults.
    """
    if example.approved is None:
        return None
    from mixlint.comparison import Approval

    session = example_session(example.model_copy(update={"session": example.approved}), file)
    return Approval(mix=4, by="RM", on="2026-03-14", standard="pre-bounce", session=session)


def example_house(
    example: Example, file: str = "example", tables: Tables | None = None, vocabulary: Vocabulary = SHIPPED
) -> House:
    """The house that an example stands in.

    Args:
        example: the example as written.
        file: the rule file's name, for faults.
        tables: the vocabulary, whose settings the example may change; mixlint's own unless another is given.
        vocabulary: the words that names are read by: those of the house whose rule it is.

    Raises:
        RulebookError: what it says of the house has faults.
    """
    if tables is None:
        from mixlint.facts import TABLES

        tables = TABLES
    faults = Faults()
    file_faults = faults.of(file)
    house, prefix = HouseFile(), f"example {example.name!r}.house."
    try:
        house = HouseFile.model_validate(example.house)
    except ValidationError as fault:
        file_faults.add_model(HouseFile, fault)
    check_names(house, file_faults, prefix, vocabulary.own_roles)
    settings = checked_settings(house.settings, settings_of(tables.values()), file_faults, prefix)
    faults.stop()
    return house_of([house], settings, vocabulary)


def _with_sounds(example: Example) -> dict[str, Any]:
    """The session as written, with its sounds in the list of files."""
    listed = example.session.get("media", [])
    known = {one.get("path") for one in listed}
    written = [name for name, recipe in example.sounds.items() if not recipe.no_file and name not in known]
    return {**example.session, "media": [*listed, *({"path": one} for one in written)]}


def _session(raw: Mapping[str, Any], file_faults: FileFaults, key: str) -> Session | None:
    body = {"timeline": TIMELINE, **raw}
    media = _with_ids(body.get("media", []), "path")
    channels = _with_ids(body.get("channels", []), "name")
    files = {str(one.get("path")): str(one["id"]) for one in reversed(media)}
    names = {str(one.get("name")): str(one["id"]) for one in reversed(channels)}
    names |= {str(one["id"]): str(one["id"]) for one in channels}
    body["media"] = media
    body["channels"] = [_channel(one, names, files) for one in channels]
    try:
        session = Session.model_validate(body)
    except ValidationError as fault:
        for error in fault.errors(include_url=False):
            place = ".".join(map(str, error["loc"]))
            file_faults.add(f"{key}.session.{place}", error["msg"][:1].lower() + error["msg"][1:])
        return None
    ids = {channel.id for channel in session.channels}
    for channel in session.channels:
        for to in [channel.output, channel.parent, *(send.to for send in channel.sends)]:
            if isinstance(to, str) and to not in ids:
                file_faults.add(f"{key}.session", f"{channel.name} leads to {to}, and there is no such channel")
    return session


def _with_ids(entries: list[dict[str, Any]], from_key: str) -> list[dict[str, Any]]:
    """The entries with the ids that were left out."""
    taken = {entry["id"] for entry in entries if "id" in entry}
    found = []
    for entry in entries:
        if "id" in entry:
            found.append(entry)
            continue
        name = str(entry.get(from_key, ""))
        unique, count = name, 2
        while unique in taken:
            unique, count = f"{name} ({count})", count + 1
        taken.add(unique)
        found.append({"id": unique, **entry})
    return found


def _channel(raw: dict[str, Any], names: Mapping[str, str], files: Mapping[str, str]) -> dict[str, Any]:
    body = dict(raw)
    if body.get("output") is False:
        body["output"] = None
    for key in ("output", "parent"):
        if isinstance(body.get(key), str):
            body[key] = names.get(body[key], body[key])
    body["sends"] = [{**send, "to": _looked_up(send.get("to"), names)} for send in raw.get("sends", [])]
    body["clips"] = [
        {**clip, "file": _looked_up(clip["file"], files)} if "file" in clip else clip for clip in raw.get("clips", [])
    ]
    return body


def _looked_up(name: object, names: Mapping[str, str]) -> object:
    return names.get(name, name) if isinstance(name, str) else name
