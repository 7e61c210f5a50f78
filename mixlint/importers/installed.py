"""Input forms of installed packages: entry points of ``mixlint.importers``, each leading to an :class:`Importer`.

They are asked after mixlint's own, and none can take a name or a suffix from another.
"""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Final

from mixlint import extensions
from mixlint.errors import InputError
from mixlint.extensions import Extension
from mixlint.importers.importer import Importer
from mixlint.importers.registry import IMPORTERS, STEMS
from mixlint.naming.vocabulary import SHIPPED, Vocabulary
from mixlint.session import GAPS, Session

_NAME: Final = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_SUFFIX: Final = re.compile(r"(\.[a-z0-9_-]+)+")


@dataclass(frozen=True, slots=True)
class InstalledImporter(Importer):
    """A form of a package, whose faults are told as the package's own."""

    origin: extensions.Origin | None = None

    def read(self, path: Path, words: Vocabulary = SHIPPED) -> Session:
        """Read a file of this form; the arguments and errors are those of :meth:`Importer.read`.

        Raises:
            InputError: the package failed, which says so.
        """
        assert self.origin is not None

        def failed(what: str) -> Session:
            raise InputError(
                f"it cannot be read: {self.origin}: {what}",
                where=str(path),
                do="report it to those who make the package, or convert the session to another form",
            )

        def reading(file: Path) -> Session:
            session: object = Importer.read(self, file, words)
            if not isinstance(session, Session):
                raise TypeError(f"it gave a {type(session).__name__}, and has to give a Session")
            strange = [one for one in self.carries if one not in GAPS]
            if strange:
                raise ValueError(f"its CARRIES names {strange[0]!r}, which is no kind of thing that a session holds")
            return session

        session = extensions.guarded(self.origin, f"reading {path.name}", reading, failed)(path)
        source = session.source.model_copy(update={"importer": self.name})
        return session.model_copy(update={"source": source})


@cache
def installed_importers() -> tuple[Importer, ...]:
    """The forms of installed packages that can be used, by package and name."""
    found = extensions.installed("mixlint.importers", Importer)
    own = (*IMPORTERS, STEMS)
    names = Counter([one.value.name for one in found])
    suffixes = Counter([suffix for one in found for suffix in one.value.suffixes])
    kept: list[Importer] = []
    for one in found:
        what = _misfit(one.value, own) or _clash(one.value, names, suffixes)
        if what:
            extensions.fault(one.origin, what)
        else:
            kept.append(_as_ours(one))
    return tuple(kept)


def _misfit(form: Importer, own: tuple[Importer, ...]) -> str:
    """What does not fit the table of forms, or nothing."""
    suffixes = (*form.suffixes, *form.shared_suffixes)
    odd = [one for one in suffixes if not _SUFFIX.fullmatch(one)]
    taken = {suffix for one in own for suffix in one.suffixes}
    twice = [one for one in suffixes if one in taken]
    if not _NAME.fullmatch(form.name):
        return f"{form.name!r} is no name of a form: small letters, digits and hyphens"
    if any(one.name == form.name for one in own):
        return f"mixlint itself has a form called {form.name}"
    if not form.titles or not all(form.titles):
        return f"the form {form.name} has no title for a user"
    if odd:
        return f"{odd[0]!r} is no suffix: a full stop and small letters, such as .list"
    if twice:
        return f"files ending in {twice[0]} are of a form of mixlint itself"
    if not form.suffixes and form.sniff is None:
        return f"nothing tells a file of the form {form.name}: it has neither a suffix of its own nor a sniff"
    return ""


def _clash(form: Importer, names: Counter[str], suffixes: Counter[str]) -> str:
    """What two packages both claim: neither gets it, so that no session is read by chance."""
    if names[form.name] > 1:
        return f"two installed packages have a form called {form.name}; take one of them away"
    both = [one for one in form.suffixes if suffixes[one] > 1]
    return f"two installed packages read files ending in {both[0]}; take one of them away" if both else ""


def _as_ours(one: Extension[Importer]) -> Importer:
    form = one.value
    sniff = form.sniff
    return InstalledImporter(
        name=form.name,
        titles=form.titles,
        module=form.module,
        suffixes=form.suffixes,
        shared_suffixes=form.shared_suffixes,
        sniff=None if sniff is None else extensions.guarded(one.origin, "its sniff", sniff, lambda _: False),
        packed=form.packed,
        keeps=form.keeps,
        worded=form.worded,
        origin=one.origin,
    )
