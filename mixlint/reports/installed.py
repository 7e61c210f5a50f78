"""Forms of a report of installed packages: entry points of ``mixlint.reports``, each leading to a ``ReviewForm``."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Final

from mixlint import extensions
from mixlint.errors import MixlintError
from mixlint.extensions import Extension
from mixlint.reports.forms import REVIEW_FORMS, ReviewForm

if TYPE_CHECKING:
    from mixlint.reports.review_output import ReviewOutput

_NAME: Final = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


@dataclass(frozen=True, slots=True)
class InstalledForm(ReviewForm):
    """A form of a package, whose faults are told as the package's own."""

    origin: extensions.Origin | None = None

    def write(self, output: ReviewOutput) -> str:
        """A review in this form.

        Raises:
            MixlintError: the package failed, which says so.
        """
        assert self.origin is not None

        def failed(what: str) -> str:
            raise MixlintError(
                f"the form {self.name} cannot be written: {self.origin}: {what}",
                do="report it to those who make the package, or choose another form",
            )

        def writing(asked: ReviewOutput) -> str:
            text: object = ReviewForm.write(self, asked)
            if not isinstance(text, str):
                raise TypeError(f"it gave a {type(text).__name__}, and has to give text")
            return text

        return extensions.guarded(self.origin, "writing", writing, failed)(output)


@cache
def installed_forms() -> dict[str, ReviewForm]:
    """The forms of installed packages that can be used, by name."""
    found = extensions.installed("mixlint.reports", ReviewForm)
    names = Counter([one.value.name for one in found])
    kept: dict[str, ReviewForm] = {}
    for one in found:
        what = _misfit(one.value, names)
        if what:
            extensions.fault(one.origin, what)
        else:
            kept[one.value.name] = _as_ours(one)
    return kept


def why_not(name: str) -> str:
    """Why the form of this name cannot be used, where an entry point of that name was to lead to one."""
    told = [one for one in extensions.faults() if (one.origin.group, one.origin.name) == ("mixlint.reports", name)]
    return "; ".join(map(str, told))


def _misfit(form: ReviewForm, names: Counter[str]) -> str:
    """What does not fit the table of forms, or nothing."""
    if not _NAME.fullmatch(form.name):
        return f"{form.name!r} is no name of a form: small letters, digits and hyphens"
    if form.name in REVIEW_FORMS:
        return f"mixlint itself has a form called {form.name}"
    if names[form.name] > 1:
        return f"two installed packages have a form called {form.name}; take one of them away"
    return "" if form.says.strip() else f"the form {form.name} does not say what it is"


def _as_ours(one: Extension[ReviewForm]) -> ReviewForm:
    form = one.value
    return InstalledForm(
        form.name, form.module, form.says, form.exact, form.quiet_rows, form.pictures, origin=one.origin
    )
