"""``mixlint sign``: signs a finding off, answers a question, approves a mix; the session itself is never altered."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

import typer

from mixlint.cli.completing import rule_ids
from mixlint.cli.options import PathArgument, StandardOption, typed

if TYPE_CHECKING:
    from mixlint.signoffs.create import Wish
    from mixlint.signoffs.line import SignOff

UNTIL = "When it ends: a day such as 2026-03-14, 'mix 5' (the last mix it holds for), or never."
SCOPE = (
    "What it covers: this finding, every finding of the rule on one channel (part) or in the song, or in every "
    "session of the project."
)


def sign(
    path: PathArgument,
    rule: Annotated[
        str | None, typer.Argument(metavar="[RULE]", autocompletion=rule_ids, help="The rule to sign off.")
    ] = None,
    on: Annotated[
        str | None,
        typer.Option(
            "--on", metavar="NAME", help="The row or channel meant, where the rule has flagged several.", callback=typed
        ),
    ] = None,
    because: Annotated[
        str | None,
        typer.Option(
            "--because",
            metavar="TEXT",
            help="Why. Often: intended sound, style, client wish, later, tool is wrong.",
            callback=typed,
        ),
    ] = None,
    by: Annotated[str | None, typer.Option("--by", metavar="INITIALS", help="Who signs.", callback=typed)] = None,
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
    key: Annotated[
        Path | None,
        typer.Option(
            "--key", metavar="FILE", help="The SSH key that signs the approval; its public half will do for an agent."
        ),
    ] = None,
    standard: StandardOption = None,
    no_audio: Annotated[bool, typer.Option("--no-audio", help="Open no audio; estimate from the settings.")] = False,
) -> None:
    """Sign a finding off, answer a question, or approve a mix, in a text file beside the session."""
    from mixlint.errors import MixlintError
    from mixlint.runs.signing import signer as checked

    by = checked(by)
    if approve == (rule is not None):
        raise MixlintError("say what to sign", do="name one rule, or approve the mix with --approve --mix NUMBER")
    signer = _Signer(path, standard, by, audio=not no_audio)
    if approve:
        if mix is None:
            raise MixlintError("an approval needs the number of the mix", do="add --mix NUMBER")
        signer.approve(mix, key)
        return
    if key is not None:
        raise MixlintError("a key signs approvals alone", do="leave --key out, or approve the mix with --approve")
    from mixlint.signoffs.create import Wish

    assert rule is not None
    wish = Wish(rule, (because or "").strip(), by, signer.run.day, on, until, scope, answer)
    if withdraw:
        signer.withdraw(wish)
    else:
        signer.sign(wish)


class _Signer:
    """One session, and who signs."""

    def __init__(self, path: Path, standard: str | None, by: str, *, audio: bool) -> None:
        from mixlint.cli.inputs import standard_for
        from mixlint.importers.choosing import one_session_at
        from mixlint.review.run import ChecklistRun

        self.session = one_session_at(path)
        self.run = ChecklistRun(standard_for(self.session, standard), date.today())
        self.by = by
        self.audio = audio

    def sign(self, wish: Wish) -> None:
        """Put one line into the file."""
        from mixlint.media.workers import cores
        from mixlint.runs.signing import sign

        _say(sign(self.session, self.run, wish, audio=self.audio, workers=cores()).lines())

    def withdraw(self, wish: Wish) -> None:
        """Take lines of one person about one rule out of the file."""
        from mixlint.errors import MixlintError
        from mixlint.naming import fold_name
        from mixlint.runs.signing import signoffs_for, take_out

        file = signoffs_for(self.session, wish.scope)

        def is_meant(item: SignOff) -> bool:
            about = wish.on is None or fold_name(item.name) == fold_name(wish.on)
            own = item.rule == wish.rule and item.signer == fold_name(self.by)
            return own and item.scope == wish.scope and about

        gone = take_out(file, is_meant, self._areas()) if file.is_file() else 0
        if not gone:
            raise MixlintError(f"{self.by} has no such line about {wish.rule}", where=str(file), do="see the file")
        _say([f"{gone} {'line' if gone == 1 else 'lines'} taken out of {file}."])

    def approve(self, mix: int, key: Path | None) -> None:
        """Store the mix as approved, signed where there is a key."""
        from mixlint.comparison import Approval
        from mixlint.comparison.approval import approval_text
        from mixlint.comparison.paths import approval_path
        from mixlint.errors import InputError
        from mixlint.media.workers import cores
        from mixlint.review.compare import findings_to_approve
        from mixlint.runs.records import content_of_record, put_record
        from mixlint.runs.reviewed import reviewed
        from mixlint.runs.written import is_approval

        file = approval_path(self.session)
        before = content_of_record(file)
        if before and not is_approval(before):
            raise InputError("mixlint has not written this file", where=str(file), do="move it away, and approve again")
        here = reviewed(self.session, self.run, audio=self.audio, signed=True, workers=cores())
        approval = Approval(
            mix=mix,
            by=self.by,
            on=self.run.day.isoformat(),
            standard=self.run.standard.name,
            digest=here.review.digest,
            session=here.context.session,
            contents=dict(here.sounds),
            findings=findings_to_approve(here.review.findings),
        )
        if key is not None:
            from mixlint.comparison.approval_signature import signed_with

            approval = signed_with(approval, key)
        put_record(approval_text(approval), file, over=before)
        heard = f"{len(here.sounds)} audio files by their sound" if here.sounds else "no audio heard"
        lines = [f"mix {mix} approved by {self.by}: {file} ({heard})."]
        if key is None and self.run.standard.house.signers is not None:
            lines.append("The standard asks for a signed approval: approve again with --key.")
        if here.review.outcome == "held":
            lines.append(f"It was approved while held: {here.review.counts.flagged} flagged.")
        _say(lines)

    def _areas(self) -> dict[str, str]:
        return {rule.id: rule.area for rule in self.run.standard.rules.values()}


def _say(lines: list[str]) -> None:
    from mixlint.cli.out import put
    from mixlint.reports.plain import neutral

    put("".join(f"{neutral(one)}\n" for one in lines), None)
