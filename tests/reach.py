"""Which parts of a package the command line reaches: told from the source, without running it.

It begins at the roots and goes on to whatever they import, call or mention. A module counts when an import in code that
is reached leads to it, also inside a function, but not for types alone; so does a module that is named by a string, as
in a table of importers. A function or class counts when code that is reached names it, by the module it was imported
from. A method counts when its class does and its bare name is asked of anything, so one that shares its name with
another that is in use is not told.

Constants, fields and attributes are vulture's part, which goes by the bare name throughout.
"""

from __future__ import annotations

import ast
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fnmatch import fnmatch
from pathlib import Path

import jinja2
from jinja2 import nodes
from vulture import Vulture

Definition = ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef


@dataclass(frozen=True, order=True)
class Unreached:
    """A module (line 0), or something in it, that nothing reaches."""

    module: str
    line: int
    kind: str
    name: str

    def __str__(self) -> str:
        what = f"{self.module}, line {self.line}: the {self.kind} {self.name}" if self.line else f"{self.module}: it"
        return f"{what} is reached by no command; call it where a command needs it, or delete it with its tests"


def sources(package: str, folder: Path) -> dict[str, str]:
    """Every module of a package: dotted name to source."""
    found = {}
    for path in sorted(folder.rglob("*.py")):
        parts = path.relative_to(folder).with_suffix("").parts
        found[".".join([package, *(part for part in parts if part != "__init__")])] = path.read_text(encoding="utf-8")
    return found


def asked_by(templates: Iterable[str]) -> set[str]:
    """The names that page templates ask for."""
    trees = [jinja2.Environment().parse(text) for text in templates]
    asked = {node.attr for tree in trees for node in tree.find_all(nodes.Getattr)}
    return asked | {node.name for tree in trees for node in tree.find_all(nodes.Name)}


def unused(
    texts: Mapping[str, str], *, asked: Iterable[str] = (), decorators: Iterable[str] = (), names: Iterable[str] = ()
) -> Iterator[Unreached]:
    """What vulture tells: names that nothing reads, and code that cannot run. Arguments as for :class:`Reach`."""
    look = Vulture(ignore_names=list(names), ignore_decorators=[f"@{one}" for one in decorators])
    look.used_names |= set(asked)
    for name, text in texts.items():
        look.scan(text, name)
    for item in look.get_unused_code(min_confidence=60):
        if item.typ != "import":  # ruff tells those
            yield Unreached(str(item.filename), item.first_lineno, item.typ, item.name)


def first_line(definition: Definition) -> int:
    """Where a definition begins, its decorators included."""
    return min([definition.lineno, *(one.lineno for one in definition.decorator_list)])


def blanked(text: str, found: Iterable[Unreached]) -> str:
    """A module's source with ``pass`` in the place of functions and classes; its line numbers stay."""
    lines = text.splitlines()
    places = {(one.line, one.name) for one in found}
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, Definition) and (first_line(node), node.name) in places:
            first, last = first_line(node), node.end_lineno or node.lineno
            indent = " " * node.col_offset
            lines[first - 1 : last] = [f"{indent}pass", *[""] * (last - first)]
    return "\n".join(lines)


class _Module:
    """One module: what it defines at its top, and what each name in it was imported as."""

    def __init__(self, text: str) -> None:
        tree = ast.parse(text)
        self.definitions: dict[str, list[Definition]] = defaultdict(list)
        self.rest: list[ast.stmt] = []
        for statement in tree.body:
            if isinstance(statement, Definition):
                self.definitions[statement.name].append(statement)
            elif not (isinstance(statement, ast.Assign) and _names_all(statement)):  # to be offered is no use
                self.rest.append(statement)
        self.imports: dict[str, tuple[str, str]] = {}
        for node in ast.walk(tree):
            if isinstance(node, ast.ImportFrom):
                self.imports |= {one.asname or one.name: (node.module or "", one.name) for one in node.names}
        self.lazy = "__getattr__" in self.definitions


def _names_all(statement: ast.Assign) -> bool:
    return any(isinstance(target, ast.Name) and target.id == "__all__" for target in statement.targets)


class Reach:
    """What is reached in a package.

    Args:
        texts: the package, as :func:`sources` gives it.
        roots: modules that are called from outside, and functions there as ``module:function``.
        asked: names that are asked for from elsewhere, such as page templates.
        decorators: patterns of decorators that hand a function or method to somebody who calls it.
        names: methods and functions that Python or a library calls by their names.
    """

    def __init__(
        self,
        texts: Mapping[str, str],
        roots: Iterable[str],
        *,
        asked: Iterable[str] = (),
        decorators: Iterable[str] = (),
        names: Iterable[str] = (),
    ) -> None:
        self._modules = {name: _Module(text) for name, text in texts.items()}
        self._decorators, self._names = tuple(decorators), set(names)
        self._reached: set[str] = set()
        self._by_string: set[str] = set()
        self._seen: set[tuple[str, str]] = set()
        self._asked = set(asked)
        self._methods: dict[str, list[tuple[str, ast.stmt]]] = defaultdict(list)  # not reached yet, by name
        self._live: set[int] = set()
        for root in roots:
            module, _, function = root.partition(":")
            self._module(module)
            if function:
                self._name(module, function)
        # A name may be asked for before the class that has it, or the module that a string names, is reached.
        before = -1
        while before != len(self._live):
            before = len(self._live)
            self._answer()

    def unreached(self) -> Iterator[Unreached]:
        """All that nothing reaches; of a module or class that is not, only the whole."""
        for name, module in self._modules.items():
            if name not in self._reached:
                yield Unreached(name, 0, "module", name)
                continue
            for definition in (one for same in module.definitions.values() for one in same):
                if id(definition) not in self._live:
                    kind = "class" if isinstance(definition, ast.ClassDef) else "function"
                    yield Unreached(name, first_line(definition), kind, definition.name)
                elif isinstance(definition, ast.ClassDef):
                    for method in definition.body:
                        if isinstance(method, Definition) and id(method) not in self._live:
                            yield Unreached(name, first_line(method), "method", method.name)

    def _module(self, name: str) -> None:
        """Reach a module and the packages around it: what stands at its top is run."""
        if name not in self._modules or name in self._reached:
            return
        self._reached.add(name)
        self._module(name.rpartition(".")[0])
        module = self._modules[name]
        for statement in module.rest:
            self._code(name, statement)
        for definition in (one for same in module.definitions.values() for one in same):
            for decorator in definition.decorator_list:
                self._code(name, decorator)
            if definition.name in self._names or self._handed_over(definition):
                self._define(name, definition)

    def _handed_over(self, definition: Definition) -> bool:
        texts = [ast.unparse(one).partition("(")[0] for one in definition.decorator_list]
        return any(fnmatch(text, pattern) for text in texts for pattern in self._decorators)

    def _name(self, module: str, name: str) -> None:
        """Reach what ``name`` means in a module: defined there, imported, or a module itself."""
        if module not in self._modules or (module, name) in self._seen:
            return
        self._seen.add((module, name))
        its = self._modules[module]
        for definition in its.definitions.get(name, ()):
            self._define(module, definition)
        if name in its.imports:
            home, inner = its.imports[name]
            self._name(home, inner)

    def _define(self, module: str, definition: Definition) -> None:
        if id(definition) in self._live:
            return
        self._live.add(id(definition))
        if not isinstance(definition, ast.ClassDef):
            self._code(module, definition)
            return
        for part in (*definition.bases, *definition.keywords, *definition.decorator_list):
            self._code(module, part)
        for statement in definition.body:
            if not isinstance(statement, Definition):
                self._code(module, statement)
                continue
            for decorator in statement.decorator_list:
                self._code(module, decorator)
            dunder = statement.name.startswith("__") and statement.name.endswith("__")
            if dunder or statement.name in self._names or self._handed_over(statement):
                self._define(module, statement)
            else:
                self._methods[statement.name].append((module, statement))

    def _code(self, module: str, code: ast.AST) -> None:
        """Reach all that a piece of code imports, names or asks for."""
        if isinstance(code, ast.If) and "TYPE_CHECKING" in ast.unparse(code.test):
            return
        if isinstance(code, ast.ImportFrom):
            self._module(code.module or "")
            for one in code.names:
                self._module(f"{code.module}.{one.name}")
        elif isinstance(code, ast.Import):
            for one in code.names:
                self._module(one.name)
        elif isinstance(code, ast.Name):
            self._name(module, code.id)
        elif isinstance(code, ast.Attribute):
            self._asked.add(code.attr)
            if isinstance(code.value, ast.Name) and code.value.id in self._modules[module].imports:
                self._name(".".join(self._modules[module].imports[code.value.id]), code.attr)
        elif isinstance(code, ast.Constant) and isinstance(code.value, str):
            self._string(module, code.value)
        for part in ast.iter_child_nodes(code):
            self._code(module, part)

    def _string(self, module: str, text: str) -> None:
        """A module by its whole name, or by its own in a package that imports on demand."""
        for name in (text, f"{module}.{text}" if self._modules[module].lazy else ""):
            if name in self._modules:
                self._by_string.add(name)
                self._module(name)

    def _answer(self) -> None:
        for name in self._asked & self._methods.keys():
            for module, method in self._methods.pop(name):
                assert isinstance(method, Definition)
                self._define(module, method)
        for module in tuple(self._by_string):
            for name in self._asked & self._modules[module].definitions.keys():
                self._name(module, name)
