"""What installed packages add to mixlint: found through their entry points, checked, and named where they fail.

A package declares entry points of the groups below. Each leads to one object in a module that says
``MIXLINT_INTERFACE = 1``: for which version of this interface it was written. Nothing is looked for before something
is asked that mixlint itself does not know, and then once. What fails is a :class:`Fault`: it is told, and the rest
works on.

Only packages that are installed count. A session can lie in a stranger's folder, and Python looks for modules in the
folder it is started in, or in that of the script it runs: packages that lie there are passed over.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any, Final, Generic, Literal, NamedTuple, ParamSpec, TypeVar

from mixlint.errors import MixlintError

if TYPE_CHECKING:
    from importlib.metadata import EntryPoint

INTERFACE: Final = 1
"""The version of what packages build on: the objects that the groups take, and what these get to see."""

DECLARED: Final = "MIXLINT_INTERFACE"
"""Where the module of an entry point says for which version it was written."""

Group = Literal["mixlint.importers", "mixlint.reports", "mixlint.facts", "mixlint.rules"]
"""Input forms, forms of a report, tables and facts, and folders of rules, standards and words."""

T = TypeVar("T")
P = ParamSpec("P")


class Origin(NamedTuple):
    """Where an addition comes from: the package with its version, the group, and the name of the entry point."""

    package: str
    version: str
    group: str
    name: str

    def __str__(self) -> str:
        """``package mixlint-quayside 1.2, entry point quay-list of mixlint.importers``."""
        return f"package {self.package} {self.version}, entry point {self.name} of {self.group}"


class Fault(NamedTuple):
    """Why an addition cannot be used, or did not do its work."""

    origin: Origin
    what: str

    def __str__(self) -> str:
        """The package, the entry point, and what is wrong."""
        return f"{self.origin}: {self.what}"


@dataclass(frozen=True, slots=True)
class Extension(Generic[T]):
    """One addition: where it comes from, and the object that its entry point leads to."""

    origin: Origin
    value: T


_FAULTS: Final[dict[Fault, None]] = {}
"""What was met so far, in that order."""


def fault(origin: Origin, what: str) -> None:
    """Keep a fault, to be told once."""
    _FAULTS.setdefault(Fault(origin, what))


def faults() -> tuple[Fault, ...]:
    """The faults of installed packages that were met so far."""
    return tuple(_FAULTS)


def in_words(trouble: BaseException) -> str:
    """What went wrong in a package, on one line."""
    said = " ".join(str(trouble).split())
    return f"{type(trouble).__name__}: {said}" if said else type(trouble).__name__


def guarded(
    origin: Origin,
    work: str,
    call: Callable[P, T],
    otherwise: Callable[[str], T],
    passes: tuple[type[Exception], ...] = (),
) -> Callable[P, T]:
    """``call`` of a package, whose faults are kept in place of being raised.

    Args:
        origin: where it comes from.
        work: what it does, for the fault, such as ``the fact moored``.
        call: the function.
        otherwise: makes what is returned where it failed, from what went wrong.
        passes: what it may raise besides a ``MixlintError``.
    """

    passed: tuple[type[Exception], ...] = (MixlintError, *passes)

    def called(*args: P.args, **kwargs: P.kwargs) -> T:
        try:
            return call(*args, **kwargs)
        except passed:
            raise
        except (Exception, SystemExit) as trouble:  # noqa: BLE001 - a stranger's code may raise anything; it is told
            what = f"{work} failed: {in_words(trouble)}"
            fault(origin, what)
            return otherwise(what)

    return called


@cache
def installed(group: Group, kind: type[T]) -> tuple[Extension[T], ...]:
    """What installed packages add to one group, by package and name; what cannot be used is kept as a fault.

    Args:
        group: the group of entry points.
        kind: what each has to lead to.
    """
    found: list[Extension[T]] = []
    for origin, entry in _entries(group):
        value = _loaded(origin, entry)
        if value is None:
            continue
        if isinstance(value, kind):
            found.append(Extension(origin, value))
        else:
            fault(origin, f"it leads to {type(value).__name__}, and has to lead to {kind.__name__}")
    return tuple(found)


def _loaded(origin: Origin, entry: EntryPoint) -> Any:
    """The object of an entry point, or None where a fault was kept."""
    try:
        value = entry.load()
    except (Exception, SystemExit) as trouble:  # noqa: BLE001 - a stranger's module may raise anything; it is told
        fault(origin, f"it cannot be imported: {in_words(trouble)}")
        return None
    written_for = getattr(sys.modules.get(entry.module), DECLARED, None)
    if written_for == INTERFACE:
        if value is None:
            fault(origin, "it leads to nothing")
        return value
    if written_for is None:
        fault(origin, f"{entry.module} does not say for which version of the interface it is: {DECLARED} = {INTERFACE}")
    else:
        fault(origin, f"it is written for version {written_for} of the interface, and this mixlint has {INTERFACE}")
    return None


def _entries(group: Group) -> Iterator[tuple[Origin, EntryPoint]]:
    """The entry points of one group, by package and name."""
    found = [
        (Origin(package, version, group, entry.name), entry)
        for package, version, entries in _packages()
        for entry in entries
        if entry.group == group
    ]
    yield from sorted(found, key=lambda one: one[0])


@cache
def _packages() -> tuple[tuple[str, str, tuple[EntryPoint, ...]], ...]:
    """The installed packages that add something: name, version and entry points; looked for once."""
    from importlib.metadata import distributions

    found: dict[str, tuple[str, str, tuple[EntryPoint, ...]]] = {}
    for one in distributions(path=_places()):
        name, version = "?", "?"
        try:
            if "mixlint." not in (one.read_text("entry_points.txt") or ""):  # most packages need not be taken apart
                continue
            name, version = one.metadata["Name"] or "?", one.metadata["Version"] or "?"
            entries = tuple(entry for entry in one.entry_points if entry.group.startswith("mixlint."))
        except Exception as trouble:  # noqa: BLE001 - what an installer left behind may be anything; it is told
            fault(Origin(name, version, "entry_points.txt", "?"), f"it cannot be read: {in_words(trouble)}")
            continue
        if entries:
            found.setdefault(name.casefold(), (name, version, entries))  # the first is the one that is imported
    return tuple(found.values())


def whereabouts() -> tuple[tuple[str, str, str], ...]:
    """The installed packages that add something: name, version and where their code lies; nothing is imported.

    The last is empty where it cannot be told.
    """
    from importlib.machinery import PathFinder

    found = []
    for package, version, entries in _packages():
        for top in sorted({entry.module.partition(".")[0] for entry in entries}):
            spec = PathFinder.find_spec(top, _places())
            places = list(spec.submodule_search_locations or ()) if spec is not None else []
            place = places[0] if places else (spec.origin or "") if spec is not None else ""
            found.append((package, version, place))
    return tuple(found)


def installed_names() -> tuple[str, ...]:
    """What is installed, each with its version, as the folders of packages name it."""
    found: set[str] = set()
    for place in _places():
        try:
            found.update(name for name in os.listdir(place) if name.endswith((".dist-info", ".egg-info", ".egg-link")))
        except OSError:
            continue  # no folder, or one that is gone
    return tuple(sorted(found))


def _places() -> list[str]:
    """Where Python looks for packages, but for what it puts first itself: its folder, or that of the script it runs."""
    script = getattr(sys.modules.get("__main__"), "__file__", None)
    own = {os.path.realpath(os.curdir), os.path.realpath(os.path.dirname(script)) if script else ""}
    first = sys.path[:1] if sys.path and os.path.realpath(sys.path[0]) not in own else []
    return [place for place in (*first, *sys.path[1:]) if os.path.isabs(place)]
