"""The standard that a house starts from: a file in which all but its name is commented out; and what was begun."""

from __future__ import annotations

import json
import shlex
from collections.abc import Iterable
from typing import Final

from mixlint.reports.plain import Page, neutral, wrapped
from mixlint.session.maybe import Frozen


class UnreadName(Frozen):
    """A name of a part that is not read: the line of ``[roles]`` that settles it, and the sessions it stands in."""

    line: str
    sessions: tuple[str, ...]


class Begun(Frozen):
    """What was begun: the files written, and what was seen on the way.

    Args:
        name: what the standard is called.
        builds_on: the standard that it changes: a shipped one's name, or the file of one in a folder above.
        folder: the folder, as it was given.
        standard: the file of the standard.
        schema_file: the schema beside it; empty where one lay there already.
        sessions: the sessions that were read.
        unread: the names in them that are not read.
        unusable: why the others could not be read.
    """

    name: str
    builds_on: str
    folder: str
    standard: str
    schema_file: str = ""
    sessions: tuple[str, ...] = ()
    unread: tuple[UnreadName, ...] = ()
    unusable: tuple[str, ...] = ()


_HEAD: Final = """\
# What holds in this house, for every session in this folder and in those below it.
# Try it after each change: mixlint rules --prove --standard mixlint-standard.toml
#
# Lines that begin with "# " explain. Lines that begin with "#" alone are settings that are switched off: take the "#"
# away, also from the [heading] above them, and write your own values. What you leave as it is holds as it did before.
"""

_BODY: Final = """\
# Rules, or whole areas, that do not hold here. The rules: mixlint rules
#leave_out = ["delay-in-time"]

# Your own rules and words, in folders beside this file, and a folder of sessions to try the standard on. Switch each on
# when there is a file in its folder.
#rules = ["rules/*.toml"]
#words = ["words/*.toml"]
#examples = "tried"

# The number of a rule: the rule, a full stop, the limit's name. A rule's page names them: mixlint rules return-low-cut
#[limits]
#"return-low-cut.low_cut_db" = 12.0
#"pan-answered.off_centre" = 40.0

# hold: do not bounce; look: look before you bounce; note: housekeeping.
#[grades]
#named-by-part = "look"

# Whose initials sign a finding of a rule off: anyone, nobody, or two people.
#[may_sign]
#return-fully-wet = "two"

# What parts are called here. * stands for anything; capitals do not matter. The words: mixlint facts source
"""

_ROLES: Final = """\
#[roles]
#"Marigold*" = "lead-vocal"
"""

_TAIL: Final = """\

# What processors are called here. The words: mixlint facts insert
#[processors]
#"Wide Barn*" = "reverb"

# How the desk pans: mono parts by equal-power, square-root, linear, compromise, compromise-power or tangent; stereo
# parts by balance or stereo-panner.
#[pan]
#mono = "equal-power"
#stereo = "balance"

# What is meant, so that nobody is asked about it. A standard beside one song is the place for what holds for it alone.
#[intent]
#mono = true
#single_instrument = true
#hard_panned = true
#parallel = ["Smack *"]
#cue = ["Ears *"]

# Who mixes these sessions and for whom, for a store of reviews (mixlint review --store), where nothing else says so.
#[archive]
#engineer = "Ada Marsh"
#client = "Larkspur Records"
"""


def starter(name: str, builds_on: str, schema: str, unread: Iterable[UnreadName]) -> str:
    """The text of a standard to start from.

    Args:
        name: what the standard is called.
        builds_on: the standard that it changes.
        schema: where an editor finds the schema of standards, from the file's own folder on.
        unread: the names of the house's sessions that are not read.
    """
    lines = [
        f"#:schema ./{schema}",
        _HEAD,
        "# How reports call this standard: small letters, digits and hyphens; and its name as a sentence.",
        f'name = "{name}"',
        '#title = "How we mix here"',
        "",
        "# What it starts from. Those that come with mixlint: mixlint rules --standards",
        f"builds_on = {json.dumps(builds_on, ensure_ascii=False)}",
        "",
        _BODY + _ROLES + "\n".join(_asked(unread)) + _TAIL,
    ]
    return "\n".join(lines)


def _asked(unread: Iterable[UnreadName]) -> list[str]:
    """The lines of names that are not read, switched off, under the sessions in which they stand."""
    by_sessions: dict[tuple[str, ...], list[str]] = {}
    for one in unread:
        by_sessions.setdefault(one.sessions, []).append(one.line)
    if not by_sessions:
        return []
    lines = ["# Not read in your sessions: write what each plays in place of the question mark, or of the guess."]
    for sessions, names in by_sessions.items():
        lines += [f"# in {neutral(', '.join(sessions))}", *(f"#{line}" for line in names)]
    return [*lines, ""]


def begun_text(begun: Begun, page: Page) -> str:
    """What was written, what was read for it, and what to do next."""
    lines = _labelled(
        "written", f"{begun.standard}: the standard {begun.name}, which builds on {begun.builds_on}", page
    )
    if begun.schema_file:
        lines += _labelled("", f"{begun.schema_file}: its schema, by which an editor completes and checks it", page)
    if begun.sessions:
        names = len(begun.unread)
        count = "1 session" if len(begun.sessions) == 1 else f"{len(begun.sessions)} sessions"
        if not names:
            said = "every name of a part is read"
        else:
            said = f"{'1 name is' if names == 1 else f'{names} names are'} not read and listed under [roles]"
        lines += _labelled("read", f"{count}; {said}", page)
    for fault in begun.unusable:
        lines += _labelled("not read", fault, page)
    standard, folder = shlex.quote(begun.standard), shlex.quote(begun.folder)
    lines += _labelled("next", "open it in a text editor and switch on what holds in your house", page)
    lines += _labelled("", f"mixlint rules --prove --standard {standard}", page)
    if begun.sessions:
        lines += _labelled("", f"mixlint review {folder}", page)
    return "\n".join(lines) + "\n"


def _labelled(label: str, text: str, page: Page) -> list[str]:
    return wrapped(neutral(text), page.width, " " * 10, label.ljust(10))
