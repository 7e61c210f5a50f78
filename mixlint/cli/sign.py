"""``mixlint sign``: signs a finding off, answers a question, approves a mix; the session itself is never altered."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

import typer

from mixlint.cli.options import PathArgument, StandardOption

if TYPE_CHECKING:
    from mixlint.analysis.context import SessionContext
    from mixlint.review.findings import Finding, SessionReview
    from mixlint.review.sign_item import SignOff
    from mixlint.rulebook import Standard

UNTIL = "When it ends: a day such as 2026-03-14, 'mix 5' (the last mix it holds for), or never."
SCOPE = (
    "What it covers: this finding, every finding of the rule on one channel (part) or in the song, or in every "
    "session of the project."
)


def sign(
    path: PathArgument,
    rule: Annotated[str | None, typer.Argument(metavar="[RULE]", help="The rule to sign off.")] = None,
    on: Annotated[
        str | None,
        typer.Option("--on", metavar="NAME", help="The row or channel meant, where the rule has flagged several."),
    ] = None,
    because: Annotated[
        str | None,
        typer.Option(
            "--because", metavar="TEXT", help="Why. Often: intended sound, style, client wish, later, tool is wrong."
        ),
    ] = None,
    by: Annotated[str | None, typer.Option("--by", metavar="INITIALS", help="Who signs.")] = None,
    until: Annotated[str, typer.Option("--until", metavar="END", help=UNTIL)] = "never",
    scope: Annotated[Literal["finding", "part", "song", "project"], typer.Option("--scope", help=SCOPE)] = "finding",
    answer: Annotated[
        Literal["yes", "no", "not-applicable"] | None,
        typer.Option("--answer", help="Answer the question of a row that cannot be seen; it counts for this very mix."),
    ] = None,
    withdraw: Annotated[bool, typer.Option("--withdraw", help="Take your own line out again.")] = False,
    approve: Annotated[
        bool, typer.Option("--approve", help="Approve the mix: later reviews tell what changed since.")
    ] = False,
    mix: Annotated[int | None, typer.Option("--mix", metavar="NUMBER", min=0, help="The number of the mix.")] = None,
    standard: StandardOption = None,
    no_audio: Annotated[bool, typer.Option("--no-audio", help="Open no audio; estimate from the settings.")] = False,
) -> None:
    """Sign a finding off, answer a question, or approve a mix, in a text file beside the session."""
    from mixlint.errors import MixlintError
    from mixlint.review.sign_item import INITIALS

    if by is None or not INITIALS.fullmatch(by):
        raise MixlintError("a signature needs initials", do="name them with --by, such as --by RM")
    if approve == (rule is not None):
        raise MixlintError("say what to sign", do="name one rule, or approve the mix with --approve --mix NUMBER")
    job = _Job(path, standard, by, audio=not no_audio)
    if approve:
        if mix is None:
            raise MixlintError("an approval needs the number of the mix", do="add --mix NUMBER")
        job.approve(mix)
        return
    assert rule is not None
    wish = _Wish(rule, on, because or "", until, scope, answer)
    if withdraw:
        job.withdraw(wish)
    else:
        job.sign(wish)


@dataclass(frozen=True, slots=True)
class _Wish:
    """What the reader wants to sign."""

    rule: str
    on: str | None
    because: str
    until: str
    scope: Literal["finding", "part", "song", "project"]
    answer: Literal["yes", "no", "not-applicable"] | None


class _Job:
    """One session, and who signs."""

    def __init__(self, path: Path, standard: str | None, by: str, *, audio: bool) -> None:
        from mixlint.cli.inputs import one_session_at, standard_for

        self.session = one_session_at(path)
        self.standard: Standard = standard_for(self.session, standard)
        self.by = by
        self.audio = audio
        self.day = date.today()

    def _reviewed(self, *, signed: bool, hear: bool) -> tuple[SessionReview, SessionContext, str, dict[str, str]]:
        """The review, the desk (its audio closed again), the content and the sounds."""
        from mixlint.cli.inputs import context_for, shown
        from mixlint.importers import digest, read
        from mixlint.review import review
        from mixlint.review.teamwork import approval_beside, content_of, under_signs

        path = self.session
        session = read(path)
        approved = approval_beside(path) if not signed else None
        with context_for(session, path, self.standard.house, audio=self.audio, approved=approved) as context:
            made = review(context, self.standard, source=shown(path), digest=digest(path))
            if signed:
                made = under_signs(made, context, self.standard, path, day=self.day)
            return made, context, content_of(context) if hear else "", context.sounds if hear else {}

    def sign(self, wish: _Wish) -> None:
        """Put one line into the file."""
        from mixlint.cli.names import known_or_complain
        from mixlint.errors import MixlintError
        from mixlint.review.sign_file import read_signed
        from mixlint.review.signing import first_unsigned, new_line, rows_meant

        known_or_complain(wish.rule, self.standard.rules, "", "rule", self.standard.name)
        if not wish.because.strip():
            raise MixlintError(
                "a sign-off needs a reason", do="add --because, such as --because 'intended sound' or 'client wish'"
            )
        rule = self.standard.rules[wish.rule]
        if rule.may_sign == "nobody" and wish.answer is None:
            raise MixlintError(
                f"nobody may sign {rule.id} off in the standard {self.standard.name}", do=f"mend it: {rule.remedy.text}"
            )
        made, context, content, _ = self._reviewed(signed=False, hear=wish.answer is not None)
        names = {channel.id: channel.name for channel in context.session.channels}
        rows = rows_meant(made.findings, rule, wish.on, wish.scope, asked=wish.answer is not None, names=names)
        file = self._file(wish.scope)
        if wish.scope == "finding":
            items = read_signed(file) if file.is_file() else []
            rows = first_unsigned(rows, made.findings, items, self.by)
        item = new_line(
            rule,
            rows,
            because=wish.because.strip(),
            by=self.by,
            day=self.day,
            until=wish.until,
            scope=wish.scope,
            answer=wish.answer,
            content=content,
            part=wish.on or "",
            findings=made.findings,
        )
        self._write(file, [item], without=())
        two = rule.may_sign == "two" and wish.answer is None
        self._tell(item, file, rows, second=two)

    def withdraw(self, wish: _Wish) -> None:
        """Take lines of one person about one rule out of the file."""
        from mixlint.errors import MixlintError
        from mixlint.review.sign_file import read_signed
        from mixlint.review.signed import folded

        file = self._file(wish.scope)
        items = read_signed(file) if file.is_file() else []
        gone = [
            i for i in items
            if i.rule == wish.rule and i.signer == self.by.casefold() and i.scope == wish.scope
            and (wish.on is None or folded(i.name) == folded(wish.on))
        ]  # fmt: skip
        if not gone:
            raise MixlintError(f"{self.by} has no such line about {wish.rule}", where=str(file), do="see the file")
        self._write(file, [], without=gone)
        typer.echo(f"{len(gone)} {'line' if len(gone) == 1 else 'lines'} taken out of {file}.")

    def approve(self, mix: int) -> None:
        """Store the mix as approved."""
        from mixlint.cli.out import put
        from mixlint.review.revisions import noted
        from mixlint.revisions import Approval
        from mixlint.revisions.approval import approval_path, approval_text

        made, context, _, sounds = self._reviewed(signed=True, hear=True)
        approval = Approval(
            mix=mix,
            by=self.by,
            on=self.day.isoformat(),
            standard=self.standard.name,
            digest=made.digest,
            session=context.session,
            contents=sounds,
            findings=noted(made.findings),
        )
        file = approval_path(self.session)
        put(approval_text(approval), file, inputs=[self.session], record=True)
        heard = f"{len(sounds)} audio files by their sound" if sounds else "no audio heard"
        lines = [f"mix {mix} approved by {self.by}: {file} ({heard})."]
        if made.outcome == "held":
            lines.append(f"It was approved while held: {made.counts.flagged} flagged.")
        _say(lines)

    def _file(self, scope: str) -> Path:
        from mixlint.review.sign_paths import project_file, project_home, session_file

        if scope == "project":
            return project_file(self.session) or project_home(self.session)
        return session_file(self.session)

    def _write(self, file: Path, new: list[SignOff], *, without: list[SignOff] | tuple[()]) -> None:
        from mixlint.cli.out import put
        from mixlint.review.sign_file import read_signed, signed_text

        kept = [item for item in (read_signed(file) if file.is_file() else []) if item not in without]
        areas = {rule.id: rule.area for rule in self.standard.rules.values()}
        put(signed_text([*kept, *new], areas), file, inputs=[self.session], record=True)

    def _tell(self, item: SignOff, file: Path, rows: list[Finding], *, second: bool) -> None:
        covered = "1 row" if len(rows) == 1 else f"{len(rows)} rows"
        lines = [f"{'answered' if item.answer else 'signed'} by {item.by}, {covered}: {file}"]
        lines += [f"  {row.subject.name}: {row.message}" for row in rows[:5]]
        if second:
            lines.append("This rule needs a second person: it counts once another has signed it too.")
        _say(lines)


def _say(lines: list[str]) -> None:
    from mixlint.cli.out import put
    from mixlint.reports.plain import neutral

    put("".join(f"{neutral(one)}\n" for one in lines), None)
