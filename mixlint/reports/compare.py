"""What changed between two revisions, for a reader: channel by channel, then what became of the findings."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from mixlint.comparison import MixChange, Unseen
from mixlint.reports.plain import Page, neutral, wrapped
from mixlint.reports.words import CAUTION, says_levels
from mixlint.review.compare import ComparisonReport, FindingChange

TURNS = {
    "new": "new findings",
    "worse": "findings that turned worse",
    "better": "findings that turned better",
    "gone": "findings that are gone",
}


def comparison_text(compared: ComparisonReport, page: Page) -> str:
    """The whole comparison.

    Args:
        compared: the changes and the findings.
        page: the width, and whether bold and dim can be used.
    """
    lines = [page.line]
    for label, said in (("older", compared.old), ("newer", compared.new), ("standard", compared.standard)):
        lines += wrapped(neutral(said), page.width, " " * 10, f"{label:<10}")
    lines += [page.line, ""]
    lines += _changes(compared.changes, page) if compared.changes else ["Nothing changed."]
    if compared.unseen:
        lines += ["", page.bold("cannot be told"), *_unseen(compared.unseen, page)]
    lines += turns_text(compared.findings, page, TURNS)
    lines += ["", *wrapped(count_text(compared), page.width, "")]
    caution = caution_of(compared)
    if caution:
        lines += ["", *wrapped(caution, page.width, "")]
    return "\n".join(lines) + "\n"


def turns_text(turns: Sequence[FindingChange], page: Page, headings: Mapping[str, str]) -> list[str]:
    """What became of findings, a paragraph for each way they went.

    Args:
        turns: what came, went and turned.
        page: the width, and whether bold and dim can be used.
        headings: each way to what stands above it, in the order in which they are told.
    """
    lines: list[str] = []
    for came, heading in headings.items():
        found = [turn_text(turn) for turn in turns if turn.came == came]
        if found:
            lines += ["", page.bold(heading)]
            for said in found:
                lines += wrapped(said, page.width, "      ", "    ")
    return lines


def caution_of(compared: ComparisonReport) -> str:
    """The caution about hearing where a level changed or a finding speaks of one, else nothing."""
    levels = any(change.by_db for change in compared.changes)
    return CAUTION if levels or any(says_levels(turn.message) for turn in compared.findings) else ""


def change_groups(changes: Iterable[MixChange]) -> list[tuple[str, list[MixChange]]]:
    """The changes of each channel under its name, in their order."""
    groups: list[tuple[str, list[MixChange]]] = []
    here: tuple[str, str] | None = None
    for change in changes:
        if (change.channel, change.channel_id) != here:
            here = (change.channel, change.channel_id)
            groups.append((neutral(change.channel), []))
        groups[-1][1].append(change)
    return groups


def _changes(changes: Iterable[MixChange], page: Page) -> list[str]:
    lines: list[str] = []
    for channel, its in change_groups(changes):
        lines += [page.bold(line) for line in wrapped(channel or "(whole session)", page.width, "  ", "")]
        for change in its:
            lines += wrapped(neutral(change.says), page.width, "      ", "    ")
    return lines


def unseen_groups(unseen: Iterable[Unseen]) -> list[tuple[str, str]]:
    """Each reason why something cannot be told, with the channels it concerns; none where it is the whole session."""
    by_reason: dict[str, list[str]] = {}
    for one in unseen:
        by_reason.setdefault(one.why, []).append(neutral(one.channel))
    return [
        (neutral(why), ", ".join(one for one in dict.fromkeys(channels) if one)) for why, channels in by_reason.items()
    ]


def _unseen(unseen: Iterable[Unseen], page: Page) -> list[str]:
    """One line per reason, with the channels it concerns."""
    lines: list[str] = []
    for why, about in unseen_groups(unseen):
        lines += wrapped(f"{why}{': ' if about else ''}{about}", page.width, "      ", "    ")
    return lines


def turn_text(turn: FindingChange) -> str:
    """What became of one finding, with its rule and grade."""
    said = neutral(turn.message or turn.name)
    about = "" if turn.name in said or turn.table == "session" else f"{neutral(turn.name)}: "
    why = f" ({neutral(turn.why)})" if turn.why else ""
    grade = f", {turn.grade}" if turn.grade else ""
    return f"{about}{said}{why} (rule {turn.rule}{grade})"


def count_text(compared: ComparisonReport) -> str:
    """How many changes there are, and how many findings came, went and turned."""
    came = {word: sum(turn.came == word for turn in compared.findings) for word in TURNS}
    count = len(compared.changes)
    changes = f"{count} change{'' if count == 1 else 's'}"
    return f"{changes}; findings: {', '.join(f'{number} {word}' for word, number in came.items())}."
