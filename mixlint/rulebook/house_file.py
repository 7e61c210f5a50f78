"""The form of a standard file: what a studio says holds in its house."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from pathlib import Path
from typing import Any, Literal

from pydantic import Field

from mixlint.analysis.house import House, MonoPanLaw, StereoPanLaw
from mixlint.naming import ROLES, SHIPPED, Vocabulary
from mixlint.rulebook.faults import FileFaults, near
from mixlint.rulebook.rule_file import ID, Grade, MaySign
from mixlint.rulebook.values import LimitChanges
from mixlint.session.maybe import Frozen
from mixlint.session.processor import PROCESSOR_KINDS


class Pan(Frozen):
    """The pan laws of the house's desk, for mono and for stereo sources."""

    mono: MonoPanLaw | None = None
    stereo: StereoPanLaw | None = None


class Intent(Frozen):
    """What is meant, so that whole families of rules do not ask.

    Args:
        mono: the song is released in mono.
        single_instrument: one instrument plays alone.
        hard_panned: parts stand wholly left, centre or wholly right on purpose.
        parallel: names (globs) of channels that are parallel buses.
        cue: names (globs) of channels that are cue or headphone mixes.
        note: a word about it.
    """

    mono: bool | None = None
    single_instrument: bool | None = None
    hard_panned: bool | None = None
    parallel: tuple[str, ...] = ()
    cue: tuple[str, ...] = ()
    note: str = ""


class ApprovalTerms(Frozen):
    """What an approval needs.

    Args:
        signers: a file of allowed signers as ssh-keygen reads it, in the standard's folder or below; with it every
            approval has to bear the signature of one of them.
    """

    signers: str = ""


class Archive(Frozen):
    """What a store of reviews is told of the sessions under a standard, where neither command nor export says it.

    Args:
        engineer: who mixes them.
        client: for whom they are mixed.
    """

    engineer: str = Field(default="", max_length=200)
    client: str = Field(default="", max_length=200)


class HouseFile(Frozen):
    """What changes how a session is read; the part of a standard that an example may carry too.

    Args:
        roles: name pattern to the part it plays.
        processors: name pattern to the kind of processor.
        settings: numbers that the facts of several rules rest on: ``"counterparts.least_together" = 60.0``, or a
            table of numbers per subject.
    """

    roles: dict[str, str] = Field(default_factory=dict)
    processors: dict[str, str] = Field(default_factory=dict)
    pan: Pan = Pan()
    approval: ApprovalTerms = ApprovalTerms()
    intent: Intent = Intent()
    settings: dict[str, Any] = Field(default_factory=dict)


class StandardFile(HouseFile):
    """A standard file as written.

    Args:
        name: what the standard is called.
        builds_on: the standard it changes: a shipped one's name, or a file relative to this one. Without it, and
            without ``takes``, that is ``pre-bounce``.
        takes: shipped rules to start from: ``everything``, or a list of ids and areas.
        rules: its own rule files, as paths or globs relative to this file.
        words: its own word files, likewise: what words in the names of channels and processors mean in the house.
        packages: names of folders of rules and words that installed packages bring, which hold too.
        leave_out: ids or areas of rules that do not hold here.
        grades: rule id to grade.
        limits: ``"rule.limit"`` to value, or a table of limits per rule.
        may_sign: rule id to who may sign its findings off.
        examples: a folder of sessions on which the house tries its standard.
        archive: who mixes the sessions and for whom, for a store of reviews.
    """

    name: str = Field(pattern=ID)
    title: str = ""
    about: str = ""
    builds_on: str | None = None
    takes: Literal["everything"] | tuple[str, ...] | None = None
    rules: tuple[str, ...] = ()
    words: tuple[str, ...] = ()
    packages: tuple[str, ...] = ()
    leave_out: tuple[str, ...] = ()
    grades: dict[str, Grade] = Field(default_factory=dict)
    limits: dict[str, LimitChanges] = Field(default_factory=dict)
    may_sign: dict[str, MaySign] = Field(default_factory=dict)
    examples: str = ""
    archive: Archive = Archive()


def check_names(file: HouseFile, file_faults: FileFaults, prefix: str = "", own_roles: Collection[str] = ()) -> None:
    """Check that roles and kinds of processors are words that there are.

    Args:
        file: what is checked.
        file_faults: where faults go.
        prefix: what the keys of the faults begin with.
        own_roles: the roles that the house defines itself.
    """
    for key, table, words, what in (
        ("roles", file.roles, (*ROLES, *own_roles), "role"),
        ("processors", file.processors, PROCESSOR_KINDS, "kind of processor"),
    ):
        for pattern, word in table.items():
            if word not in words:
                file_faults.add(f"{prefix}{key}.{pattern}", f"there is no {what} {word}", near(word, words))


def house_of(
    chain: list[HouseFile], settings: Mapping[str, float], vocabulary: Vocabulary = SHIPPED, signers: Path | None = None
) -> House:
    """The house in force.

    Args:
        chain: from the nearest standard to the one everything builds on. The nearer standard wins; its name patterns
            are tried first. An intent that a nearer standard sets to false is off.
        settings: the values in force of the settings that a standard sets, by name.
        vocabulary: the words that names are read by.
        signers: the file of allowed signers, where the place of the nearest standard that names one is known.
    """
    roles: dict[str, str] = {}
    processors: dict[str, str] = {}
    for file in chain:
        for pattern, word in file.roles.items():
            roles.setdefault(pattern, word)
        for pattern, word in file.processors.items():
            processors.setdefault(pattern, word)
    mono = next((s.pan.mono for s in chain if s.pan.mono is not None), None)
    stereo = next((s.pan.stereo for s in chain if s.pan.stereo is not None), None)
    fallback = House()
    return House(
        mono_pan=mono or fallback.mono_pan,
        stereo_pan=stereo or fallback.stereo_pan,
        pan_stated=mono is not None and stereo is not None,
        roles=roles,
        processors=processors,
        vocabulary=vocabulary,
        intents=frozenset(word for word, on in _intents(chain).items() if on),
        parallel=tuple(dict.fromkeys(name for s in chain for name in s.intent.parallel)),
        cue=tuple(dict.fromkeys(name for s in chain for name in s.intent.cue)),
        signers=signers or next((Path(s.approval.signers) for s in chain if s.approval.signers), None),
        settings=dict(settings),
    )


def _intents(chain: list[HouseFile]) -> dict[str, bool]:
    found: dict[str, bool] = {}
    for file in chain:
        meant = file.intent
        for word, on in (
            ("mono", meant.mono),
            ("single-instrument", meant.single_instrument),
            ("hard-panned", meant.hard_panned),
        ):
            if on is not None:
                found.setdefault(word, on)
    return found
