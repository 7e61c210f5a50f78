"""The form of a rule file, and how one is read.

One TOML file holds one rule. Its ``[[example]]`` entries stand last, since a review does not read them.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any, Final, Literal

from pydantic import Field, StringConstraints, ValidationError

from mixlint.media.recipe import Recipe
from mixlint.rulebook.faults import Faults, read_text, read_toml
from mixlint.rulebook.values import Limit
from mixlint.session.maybe import Frozen

Area = Literal[
    "prep", "levels", "phase", "edits", "routing", "ambience", "width", "tone", "dynamics", "automation", "mix-bus",
    "print", "handover",
]  # fmt: skip
Grade = Literal["hold", "look", "note"]
"""``hold``: do not bounce. ``look``: look before you bounce. ``note``: housekeeping."""
MaySign = Literal["anyone", "nobody", "two"]
FineAnswer = Literal["yes", "no"]

ID: Final = r"^[a-z0-9]+(-[a-z0-9]+)*$"
SoundName = Annotated[str, StringConstraints(pattern=r"^[\w -]+(\.[\w -]+)*(/[\w -]+(\.[\w -]+)*)*$", max_length=200)]
"""A file beside the example, or in a folder there: no name climbs out of it."""

MOST_SOUNDS: Final = 32
"""How many sounds an example has at most: a bound of work."""


class Basis(Frozen):
    """What a rule rests on: common practice, or a published text with its number and clause."""

    kind: Literal["common practice", "published"]
    title: str = ""
    number: str = ""
    clause: str = ""
    note: str = ""


class GradeCase(Frozen):
    """Where a rule is graver or lighter than its ``grade``: of several cases the first whose condition holds counts.

    Args:
        to: the grade there.
        when: a condition over the facts of the rule's table; what cannot be seen does not make it hold.
        because: what it means for the mix, for a reader.
    """

    to: Grade
    when: dict[str, Any]
    because: str = Field(min_length=1)


class Example(Frozen):
    """A tiny session, and what the rule says about it: the rule's test and its page in one.

    ``grade`` is the grade promised, where the rule has several. ``subject`` is the name of the row meant; without it
    the rows are taken together. ``house`` holds settings as a standard file has them: ``roles``, ``processors``,
    ``pan`` and ``intent``. ``approved`` is the session as it was approved, as mix 4, for rules about changes since.
    ``sounds`` are its audio files, by the name under which they lie beside it, made for the purpose; the session's list
    of files need not repeat them.
    """

    name: str
    verdict: Literal["flagged", "clear", "open", "idle"]
    grade: Grade | None = None
    subject: str = ""
    expect_message: str = ""
    house: dict[str, Any] = Field(default_factory=dict)
    session: dict[str, Any]
    approved: dict[str, Any] | None = None
    sounds: dict[SoundName, Recipe] = Field(default_factory=dict, max_length=MOST_SOUNDS)


class RuleFile(Frozen):
    """A rule file as written.

    Args:
        id: states the good state, in the trade's words; the file's name without its ending.
        over: the table whose rows the rule is held against.
        when: which rows it applies to; all of them without it.
        must: what has to hold.
        says: the message where it does not.
        grades: where it is graver or lighter than ``grade``, by consequence.
        needs_ears: what to ask when the answer cannot be seen.
        fine_answer: the answer to it that is fine; the other one flags the row.
        says_open: a message for that case, where the usual one does not do.
        follows: ids of rules whose findings on the same channel cause this one's.
        needs: what the rule cannot do without.
        margins: by how much a fact must worsen, in its own unit, for a sign-off to lapse.
        may_sign: who may sign a finding off.
    """

    id: str = Field(pattern=ID)
    title: str = Field(min_length=1)
    area: Area
    grade: Grade
    over: str
    when: dict[str, Any] | None = None
    must: dict[str, Any]
    says: str = Field(min_length=1)
    remedy: str = Field(min_length=1)
    why: str = Field(min_length=1)
    needs_ears: str = ""
    fine_answer: FineAnswer = "yes"
    says_open: str = ""
    follows: tuple[str, ...] = ()
    needs: tuple[Literal["audio"], ...] = ()
    limits: dict[str, Limit] = Field(default_factory=dict)
    margins: dict[str, float] = Field(default_factory=dict)
    may_sign: MaySign = "anyone"
    grades: tuple[GradeCase, ...] = ()
    basis: Basis
    example: tuple[Example, ...] = ()


@dataclass(frozen=True, slots=True)
class Written:
    """A rule file with its place: ``path`` on disk and ``name``, by which faults refer to it."""

    file: RuleFile
    path: Path
    name: str


def read_rule_file(
    path: Path, name: str, faults: Faults, *, whole: bool = False, top: Path | None = None
) -> Written | None:
    """Read one rule file; None when faults were written down.

    Args:
        path: the file.
        name: how faults refer to it.
        faults: where they go.
        whole: read the examples too.
        top: the tree that it has to lie in; None for one that comes along or was named by hand.
    """
    file_faults = faults.of(name)
    text = read_text(path, file_faults, top)
    if text is None:
        return None
    raw = read_toml(text if whole else _head(text), file_faults)
    if raw is None:
        return None
    try:
        file = RuleFile.model_validate(raw)
    except ValidationError as fault:
        file_faults.add_model(RuleFile, fault)
        return None
    if file.id != path.stem:
        file_faults.add("id", f"the file is called {path.name}, so the id must be {path.stem}, not {file.id}")
        return None
    return Written(file, path, name)


_EXAMPLES: Final = re.compile(r"^\[\[example\]\]", re.MULTILINE)
_HEADER: Final = re.compile(r"^\s*\[+\s*(?!\s*example\b)[a-z_]+[\w.]*\s*\]+\s*(#.*)?$", re.MULTILINE)


def _head(text: str) -> str:
    """The text before the examples; all of it where something else may follow them.

    Parsing the examples takes most of the time of loading a rule, and a review does not need them.
    """
    first = _EXAMPLES.search(text)
    if first is None or _HEADER.search(text, first.start()):
        return text
    head = text[: first.start()]
    # An odd number of marks means that the heading stands inside a long text.
    return text if head.count('"""') % 2 or head.count("'''") % 2 else head
