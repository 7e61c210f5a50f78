"""Lines put into a file of sign-offs and taken out again, one writer at a time and on what the file holds then."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from mixlint.errors import MixlintError
from mixlint.runs.paths import is_fetched, shown
from mixlint.runs.records import update_record
from mixlint.signoffs.file import signoffs_of, signoffs_text, with_line
from mixlint.signoffs.line import INITIALS, SignOff

if TYPE_CHECKING:
    from mixlint.reports.review_output import SignLine
    from mixlint.review.findings import Finding, SessionReview
    from mixlint.review.run import ChecklistRun
    from mixlint.signoffs.create import Wish


def sign_lines(sessions: Sequence[Path], standard: str | None, *, audio: bool) -> SignLine:
    """Writes the line for a shell that signs a finding off, or answers it, as it was reviewed.

    Args:
        sessions: those reviewed; as they are named here, each is named in its lines.
        standard: the standard as it was named.
        audio: the audio was opened.
    """
    named = {shown(path): path for path in sessions if not is_fetched(path)}

    def line(review: SessionReview, finding: Finding) -> str:
        from mixlint.signoffs.shell_line import sign_line

        path = named.get(review.source)
        return "" if path is None else sign_line(finding, path, standard=standard, audio=audio)

    return line


class Receipt(NamedTuple):
    """What has been signed.

    Args:
        item: the line.
        file: the file it stands in.
        rows: the rows it covers.
        second: another person has to sign it too.
    """

    item: SignOff
    file: Path
    rows: Sequence[Finding]
    second: bool

    def lines(self) -> list[str]:
        """The same for the one who signed it, the first five rows by name."""
        covered = "1 row" if len(self.rows) == 1 else f"{len(self.rows)} rows"
        lines = [f"{'answered' if self.item.answer else 'signed'} by {self.item.by}, {covered}: {self.file}"]
        lines += [f"  {row.subject.name}: {row.message}" for row in self.rows[:5]]
        if self.second:
            lines.append("This rule needs a second person: it counts once another has signed it too.")
        return lines


def signer(by: str | None) -> str:
    """The initials of who signs.

    Raises:
        MixlintError: they are none.
    """
    if by is None or not INITIALS.fullmatch(by):
        raise MixlintError("a signature needs initials", do="name them with --by, such as --by RM")
    return by


def sign(session: Path, run: ChecklistRun, wish: Wish, *, audio: bool, workers: int = 0) -> Receipt:
    """Sign a finding off, or answer a question, in the file beside the session or in its project's.

    The session is read and reviewed anew: what is signed is what stands in it now.

    Args:
        session: the session.
        run: the standard in force, and the day.
        wish: what is to be signed, by whom and why.
        audio: open the audio.
        workers: processes that measure audio; 0 measures in this one.

    Raises:
        MixlintError: it has no reason or no initials, nobody may sign it, there is no such row, or it is not clear
            which; or the session or the file cannot be used.
    """
    from mixlint.rulebook.choosing import known_rules
    from mixlint.runs.reviewed import reviewed
    from mixlint.signoffs.create import first_unsigned, new_signoff, rows_meant
    from mixlint.signoffs.session import content_of

    standard = run.standard
    signer(wish.by)
    known_rules([wish.rule], standard)
    if not wish.because:
        raise MixlintError(
            "a sign-off needs a reason", do="add --because, such as --because 'intended sound' or 'client wish'"
        )
    rule = standard.rules[wish.rule]
    asked = wish.answer is not None
    if rule.may_sign == "nobody" and not asked:
        raise MixlintError(
            f"nobody may sign {rule.id} off in the standard {standard.name}", do=f"mend it: {rule.remedy.text}"
        )
    here = reviewed(session, run, audio=audio, hear=asked, approved=True, workers=workers)
    findings = here.review.findings
    names = {channel.id: channel.name for channel in here.context.session.channels}
    rows = rows_meant(findings, rule, wish.on, wish.scope, asked=asked, names=names)
    file = signoffs_for(session, wish.scope)
    content = content_of(here.context) if asked else ""
    covered = rows

    def line(items: Sequence[SignOff]) -> SignOff:
        nonlocal covered
        if wish.scope == "finding":
            covered = first_unsigned(rows, findings, items, wish.by)
        return new_signoff(wish, covered, findings, content, here.context.session)

    item = add_signoff(file, line, {one.id: one.area for one in standard.rules.values()})
    return Receipt(item, file, covered, rule.may_sign == "two" and not asked)


def signoffs_for(session: Path, scope: str) -> Path:
    """The file that a line of a scope belongs in, whether or not it is there.

    Args:
        session: the session.
        scope: ``finding``, ``part``, ``song`` or ``project``.
    """
    from mixlint.signoffs.paths import new_project_signoffs, project_signoffs, session_signoffs

    if scope == "project":
        return project_signoffs(session) or new_project_signoffs(session)
    return session_signoffs(session)


def add_signoff(file: Path, new: Callable[[Sequence[SignOff]], SignOff], areas: Mapping[str, str]) -> SignOff:
    """Put one line into a file of sign-offs; of the same person's about the same thing it alone stays.

    Args:
        file: the file; it is begun where there is none.
        new: makes the line of those that the file holds.
        areas: rule id to area.

    Returns:
        The line.

    Raises:
        InputError: the file has a fault, is a link, or cannot be written.
    """
    made: list[SignOff] = []

    def change(before: bytes | None) -> str:
        items = signoffs_of(before or b"", file)
        made.append(new(items))
        return signoffs_text(with_line(items, made[-1]), areas)

    update_record(file, change)
    return made[-1]


def take_out(file: Path, out: Callable[[SignOff], bool], areas: Mapping[str, str]) -> int:
    """Take lines out of a file of sign-offs.

    Args:
        file: the file.
        out: true of a line that goes.
        areas: rule id to area.

    Returns:
        How many went.

    Raises:
        InputError: the file has a fault, is a link, or cannot be written.
    """
    gone: list[int] = [0]

    def change(before: bytes | None) -> str:
        items = signoffs_of(before or b"", file)
        left = [item for item in items if not out(item)]
        gone[0] = len(items) - len(left)
        if not gone[0] and before is not None:
            return before.decode("utf-8")
        return signoffs_text(left, areas)

    update_record(file, change)
    return gone[0]
