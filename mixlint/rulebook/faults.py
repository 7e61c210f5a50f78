"""Faults of rule and standard files, gathered over all files, each with a suggestion where one is at hand."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path
from types import UnionType
from typing import TYPE_CHECKING, Any, Final, Literal, Union, get_args, get_origin

from mixlint.errors import Fault, RulebookError
from mixlint.errors import near as near
from mixlint.session.maybe import Frozen
from mixlint.toml_text import Misread, text_in, toml_in

if TYPE_CHECKING:
    from pydantic import ValidationError
    from pydantic_core import ErrorDetails


MOST_FAULTS: Final = 100
"""So many are gathered before a reader is told; looking for the nearest spelling of thousands takes minutes."""

_LONGEST_SAID: Final = 300
"""Characters of a key or of what is wrong: a text of a megabyte is no message."""


class _Found(list[Fault]):
    """Faults; the last that may be gathered ends it."""

    def append(self, fault: Fault, /) -> None:
        """Keep one.

        Raises:
            RulebookError: there are so many that a reader has enough.
        """
        super().append(Fault(*map(_cut, fault)))
        if len(self) >= MOST_FAULTS:
            raise RulebookError(list(dict.fromkeys(self)))


def _cut(text: str) -> str:
    return text if len(text) <= _LONGEST_SAID else f"{text[:_LONGEST_SAID]} …"


class Faults:
    """The faults found so far; nothing is raised before every file has been looked at."""

    def __init__(self) -> None:
        self.found: list[Fault] = _Found()
        self.notices: list[Fault] = []
        """What can still be used and should be written otherwise."""

    def add(self, file: str, key: str, what: str, suggestion: str = "") -> None:
        """Keep one fault; the arguments are those of :class:`mixlint.errors.Fault`."""
        self.found.append(Fault(file, key, what, suggestion))

    def of(self, file: str) -> FileFaults:
        """Where the faults of one file go; ``file`` is how they refer to it."""
        return FileFaults(self, file)

    def stop(self) -> None:
        """Raise what was gathered, if anything was.

        Raises:
            RulebookError: at least one fault was found.
        """
        if self.found:
            raise RulebookError(list(dict.fromkeys(self.found)))


class FileFaults:
    """Takes the faults of one file.

    Args:
        faults: where they are gathered with those of other files.
        file: how they refer to the file.
    """

    def __init__(self, faults: Faults, file: str) -> None:
        self.faults = faults
        self.file = file
        self.count = 0
        """How many were added here."""

    def add(self, key: str, what: str, suggestion: str = "") -> None:
        """Keep one fault.

        Args:
            key: its place in the file, such as ``must.dry_db.at_most``; empty for the file as a whole.
            what: what is wrong, without a full stop.
            suggestion: what may be meant, or what to do.
        """
        self.count += 1
        self.faults.add(self.file, key, what, suggestion)

    def notice(self, key: str, what: str, suggestion: str = "") -> None:
        """Keep a word about something that can still be used; the arguments are those of :meth:`add`."""
        self.faults.notices.append(Fault(self.file, key, what, suggestion))

    def add_model(self, model: type[Frozen], fault: ValidationError) -> None:
        """Keep everything a model had to say about the file.

        Args:
            model: the model that the file does not fit.
            fault: what it raised.
        """
        for error in fault.errors(include_url=False):
            self.add(_key(error["loc"]), *_in_words(model, error))


def read_toml(text: str, file_faults: FileFaults) -> dict[str, Any] | None:
    """Read TOML.

    Args:
        text: the text of a file.
        file_faults: where the fault goes when it is no TOML, or beyond the bounds of :mod:`mixlint.toml_text`.

    Returns:
        The content, or None when the fault was added.
    """
    try:
        return toml_in(text)
    except Misread as fault:
        file_faults.add(fault.place, fault.what, fault.do)
        return None


def read_text(path: Path, file_faults: FileFaults, top: Path | None = None) -> str | None:
    """Read a text file in UTF-8; a byte order mark, as some editors put first, is no part of the text.

    Args:
        path: the file.
        file_faults: where the fault goes when it cannot be read.
        top: the tree that it has to lie in; None for a file that was named by hand.

    Returns:
        The text, or None when the fault was added.
    """
    try:
        return text_in(path, top)
    except Misread as fault:
        file_faults.add(fault.place, fault.what, fault.do)
        return None


def _key(place: tuple[int | str, ...]) -> str:
    """``example[0].verdict`` for ``("example", 0, "verdict")``."""
    said = ""
    for part in place:
        said += f"[{part}]" if isinstance(part, int) else (f".{part}" if said else part)
    return said


def _in_words(model: type[Frozen], error: ErrorDetails) -> tuple[str, str]:
    """What is wrong and a suggestion, in the words of the other faults."""
    kind, place = error["type"], error["loc"]
    if kind == "extra_forbidden" and len(place) > 1 and place[-1] in model.model_fields:
        return "it stands below the wrong heading", "move it up, above the first line that is a [heading]"
    if kind == "extra_forbidden":
        return "no such key", near(str(place[-1]), _siblings(model, place[:-1]))
    if kind == "missing":
        return "it is missing", ""
    if kind == "literal_error":
        words = _words(model, place)
        return f"{error['input']!r} cannot stand here", near(str(error["input"]), words)
    if kind in _KINDS:
        return f"it should be {_KINDS[kind]}", ""
    return _lowered(error["msg"].removeprefix("Value error, ").replace("Input should be", "it should be")), ""


_KINDS = {
    "dict_type": "a table",
    "model_type": "a table",
    "tuple_type": "a list",
    "string_type": "text in quotes",
    "bool_type": "true or false",
    "bool_parsing": "true or false",
    "float_type": "a number",
    "float_parsing": "a number",
    "finite_number": "a finite number",
}


def _lowered(text: str) -> str:
    return text[:1].lower() + text[1:].rstrip(".")


def _siblings(model: type[Frozen], place: tuple[int | str, ...]) -> list[str]:
    """The keys that may stand at ``place``."""
    inner = _model_at(model, place)
    return [field.alias or name for name, field in inner.model_fields.items()] if inner else []


def _model_at(model: type[Frozen], place: tuple[int | str, ...]) -> type[Frozen] | None:
    here: type[Frozen] | None = model
    for part in place:
        if here is None or not isinstance(part, str) or part not in here.model_fields:
            continue  # an index or a key of a mapping: the model within stays the same
        here = next(models_in(here.model_fields[part].annotation), None)
    return here


def models_in(annotation: Any) -> Iterator[type[Frozen]]:
    """The models that an annotation is made of."""
    if isinstance(annotation, type) and issubclass(annotation, Frozen):
        yield annotation
    for inner in get_args(annotation):
        yield from models_in(inner)


def _words(model: type[Frozen], place: tuple[int | str, ...]) -> list[str]:
    """The words of the literal at ``place``."""
    names = [at for at, part in enumerate(place) if isinstance(part, str)]
    for at in reversed(names):
        inner = _model_at(model, place[:at])
        name = str(place[at])
        if inner is not None and name in inner.model_fields:
            return list(_literals(inner.model_fields[name].annotation))
    return []


def _literals(annotation: Any) -> Iterable[str]:
    if get_origin(annotation) is Literal:
        yield from (str(word) for word in get_args(annotation))
    elif get_origin(annotation) in (Union, UnionType, dict, tuple, list):
        for inner in get_args(annotation):
            yield from _literals(inner)
