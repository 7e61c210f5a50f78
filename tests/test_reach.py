"""Nothing in the package lives for tests alone: all of it serves a command, or it goes."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Mapping
from pathlib import Path

import pytest
from pydantic import BaseModel

import mixlint
from mixlint.media import Measure
from tests.reach import Reach, Unreached, asked_by, blanked, sources, unused

HOME = Path(mixlint.__file__).parent
FACE = tuple(f"{home}:{name}" for name, home in mixlint._HOMES.items())
"""The names that ``import mixlint`` offers, each with the module it lies in."""
ROOTS = ("mixlint.__main__", "mixlint.cli:main", *FACE)
"""What is called from outside: ``python -m mixlint``, the function that ``pyproject.toml`` makes a command of, and the
public face."""

DECORATORS = {
    "*.fact": "the table keeps the function, and rules ask for it by name",
    "app.callback": "typer calls it before every command",
    "field_validator": "pydantic calls it",
    "model_validator": "pydantic calls it",
}
NAMES = {
    "__dir__": "Python calls it to list the names of a module",
    "__getattr__": "Python calls it for a name that a module lacks",
    "__version__": "the public face",
    "epilog": "typer prints it under the help",
    "format_epilog": "typer calls it for the end of a command's help",
    "get_help": "typer calls it to print the help",
    "make_context": "typer calls it to read the command line",
    "invoke": "typer calls it to run the command",
    "model_config": "pydantic reads it",
    "readable": "io calls it on a raw stream",
    "readinto": "io calls it on a raw stream",
    "seekable": "io calls it on a raw stream",
    "buffer_text": "expat reads it",
    "CharacterDataHandler": "expat calls what it is set to",
    "EndElementHandler": "expat calls what it is set to",
    "StartDoctypeDeclHandler": "expat calls what it is set to",
    "StartElementHandler": "expat calls what it is set to",
    "do_GET": "http.server calls it for a request of this method",
    "do_POST": "http.server calls it for a request of this method",
    "handle": "socketserver calls it for a connection",
    "handle_error": "socketserver calls it where a connection broke off",
    "log_message": "http.server calls it for each request",
    "process_request": "socketserver calls it for each connection",
    "process_request_thread": "socketserver calls it in the thread of a connection",
    "send_error": "http.server calls it for a request that it cannot read",
    "server_bind": "socketserver calls it to take its address",
    "version_string": "http.server calls it for a header",
    "allow_reuse_address": "socketserver reads it",
    "block_on_close": "socketserver reads it",
    "daemon": "threading reads it",
    "daemon_threads": "socketserver reads it",
    "protocol_version": "http.server reads it",
    "request_queue_size": "socketserver reads it",
    "timeout": "socketserver reads it",
}
RECORDS: tuple[type, ...] = (Measure,)
"""Classes whose fields are stored between runs: a file is measured once, whatever will be asked of it."""


def found_in(texts: Mapping[str, str], *roots: str, templates: tuple[str, ...] = ()) -> list[Unreached]:
    """All that is not reached, and the names that nothing in the rest reads."""
    asked = asked_by(templates)
    whole = sorted(Reach(texts, roots, asked=asked, decorators=DECORATORS, names=NAMES).unreached())
    gone = {one.module for one in whole if not one.line}
    rest = {
        name: blanked(text, [one for one in whole if one.module == name])
        for name, text in texts.items()
        if name not in gone
    }
    return whole + sorted(unused(rest, asked=asked, decorators=DECORATORS, names=NAMES))


def fields() -> set[tuple[str, str]]:
    """Module and name of the fields of file forms and stored records: a field is part of its form, read or not."""
    for module in pkgutil.walk_packages([str(HOME)], "mixlint."):
        if module.name != "mixlint.__main__":
            importlib.import_module(module.name)
    found, todo = list(RECORDS), [BaseModel]
    while todo:
        made = todo.pop().__subclasses__()
        todo += made
        found += made
    return {(one.__module__, name) for one in found for name in vars(one).get("__annotations__", {})}


@pytest.mark.slow
def test_the_command_line_reaches_all_of_the_package() -> None:
    """Modules, functions, classes, methods, constants and fields."""
    templates = tuple(path.read_text(encoding="utf-8") for path in HOME.rglob("*.j2"))
    spared = fields()
    found = [
        one
        for one in found_in(sources("mixlint", HOME), *ROOTS, templates=templates)
        if one.kind != "variable" or (one.module, one.name) not in spared
    ]
    assert not found, "\n".join(map(str, found))


TOY = {
    "toy": "",
    "toy.__main__": "from toy.desk import main\n\nmain()\n",
    "toy.desk": """
from __future__ import annotations

from typing import TYPE_CHECKING

from toy.declared import TABLE
from toy.room import Meter

if TYPE_CHECKING:
    from toy.types import Level

READERS = ("toy.reader",)


def main() -> None:
    from toy.writer import write

    write(Meter().level(), TABLE, [one.read() for one in READERS])


def helper() -> Level:
    return inner()


def inner() -> Level:
    return helper()
""",
    "toy.room": """
from toy.room.meters import Meter
from toy.room.units import peak

__all__ = ["Meter", "peak"]
""",
    "toy.room.meters": """
from toy.room.units import to_db


class Meter:
    def __init__(self) -> None:
        self.value = 1.0

    def level(self) -> float:
        return to_db(self.value)

    def peak(self) -> float:
        return self.held()

    def held(self) -> float:
        return 1.0
""",
    "toy.room.units": """
from dataclasses import dataclass

FLOOR = -200.0
CEILING = 0.0


@dataclass
class Range:
    low: float
    high: float


def to_db(value: float) -> float:
    return max(value, FLOOR, Range(0.0, 1.0).low)


def peak() -> float:
    return CEILING
""",
    "toy.declared": """
TABLE: list = []


@TABLE.fact("number")
def pan(row):
    return row.pan
""",
    "toy.reader": "def read() -> int:\n    return 1\n",
    "toy.writer": "def write(*what: object) -> None:\n    print(what)\n",
    "toy.types": "class Level: ...\n",
    "toy.alone": "print('nobody imports this')\n",
}


def test_what_no_command_reaches_is_told() -> None:
    """Each kind once, and nothing else of the toy package.

    ``helper`` and ``inner`` keep each other alive, and so do the method ``peak`` and ``held``. The function ``peak`` is
    only offered by its room, as to a test, and so is the constant that it alone reads. ``Level`` serves types alone.
    What is imported inside a function, named by a string, handed over to a table or run by Python counts as reached.
    """
    found = found_in(TOY, "toy.__main__")
    assert [(one.module, one.kind, one.name) for one in found] == [
        ("toy.alone", "module", "toy.alone"),
        ("toy.desk", "function", "helper"),
        ("toy.desk", "function", "inner"),
        ("toy.room.meters", "method", "peak"),
        ("toy.room.meters", "method", "held"),
        ("toy.room.units", "function", "peak"),
        ("toy.types", "module", "toy.types"),
        ("toy.room.units", "variable", "CEILING"),
        ("toy.room.units", "variable", "high"),
    ]


def test_the_message_says_where_and_what_to_do() -> None:
    """A module by its name; what stands in one with its line as well."""
    told = [str(one) for one in found_in(TOY, "toy.__main__")]
    do = "is reached by no command; call it where a command needs it, or delete it with its tests"
    assert told[0] == f"toy.alone: it {do}"
    assert told[1] == f"toy.desk, line 21: the function helper {do}"


def test_a_page_that_asks_for_a_name_is_a_use() -> None:
    found = found_in(TOY, "toy.__main__", templates=("{{ range.high }} {% if held %}{% endif %}",))
    assert {"high", "held"}.isdisjoint(one.name for one in found)
