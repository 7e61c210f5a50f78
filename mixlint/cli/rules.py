"""``mixlint rules``: the catalogue, one rule's page, the shipped standards, or the proof of a house's."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mixlint.cli.completing import areas, rule_ids
from mixlint.cli.options import ForceOption, FormOption, OutOption, StandardOption

if TYPE_CHECKING:
    from contextlib import AbstractContextManager

    from mixlint.analysis.context import SessionContext
    from mixlint.reports.plain import Page
    from mixlint.rulebook import Standard


def rules(
    rule: Annotated[
        str | None, typer.Argument(metavar="[ID]", autocompletion=rule_ids, help="One rule, to read its page.")
    ] = None,
    standard: StandardOption = None,
    area: Annotated[
        str | None,
        typer.Option(
            "--area", metavar="AREA", autocompletion=areas, help="Only the rules of one area, such as ambience."
        ),
    ] = None,
    prove: Annotated[
        bool,
        typer.Option(
            "--prove",
            help="Try the standard: the examples of its own rules, and the sessions in its folder of examples.",
        ),
    ] = False,
    standards: Annotated[
        bool, typer.Option("--standards", help="The checklists that come with mixlint, and what each is for.")
    ] = False,
    form: FormOption = "text",
    out: OutOption = None,
    force: ForceOption = False,
) -> None:
    """Show the checklist in force, or one rule's page: why, when it applies, limits, remedy, examples."""
    from mixlint.cli.inputs import standard_for
    from mixlint.cli.out import put_result
    from mixlint.errors import MixlintError
    from mixlint.reports.catalogue import catalogue, catalogue_text
    from mixlint.reports.rule_page import rule_page
    from mixlint.rulebook.choosing import known_areas, known_rules
    from mixlint.runs.files import refuse_inputs

    if standards:
        if rule is not None or standard is not None or area is not None or prove:
            raise MixlintError("the standards are listed all together", where="--standards", do="give it alone")
        _standards(form, out, force=force)
        return
    refuse_inputs(out, [Path(standard)] if standard is not None else [], force=force)
    found = standard_for(Path(), standard)
    if prove:
        _proven(found, rule, area, form, out, force=force)
        return
    shown = dict(found.rules)
    if area is not None:
        known_areas([area], found)
        shown = {k: r for k, r in shown.items() if r.area == area}
    if rule is not None:
        known_rules([rule], found)
        shown = {rule: found.rules[rule]}
    listed = catalogue(found.name, shown.values())

    def as_text(page: Page) -> str:
        return catalogue_text(listed, page) if rule is None else rule_page(shown[rule], found.name, page)

    put_result(listed, as_text, form, out, force=force)


def _standards(form: str, out: Path | None, *, force: bool) -> None:
    """List the standards that come with mixlint."""
    from mixlint.cli.out import put_result
    from mixlint.reports.standard_list import standard_list, standard_list_text
    from mixlint.rulebook import shipped_standard_files

    listed = standard_list(shipped_standard_files())
    put_result(listed, lambda page: standard_list_text(listed, page), form, out, force=force)


def _proven(
    standard: Standard, rule: str | None, area: str | None, form: str, out: Path | None, *, force: bool
) -> None:
    """Try the standard and tell how it stood."""
    from mixlint.analysis.opening import context_for
    from mixlint.cli.out import put_result
    from mixlint.errors import MixlintError
    from mixlint.importers import read
    from mixlint.importers.choosing import sessions_at
    from mixlint.media.workers import cores
    from mixlint.reports.proof import proof_text
    from mixlint.review.proof import prove

    if rule is not None or area is not None:
        raise MixlintError("a standard is proven as a whole", where="--prove", do="leave the rule and --area out")
    sessions = sessions_at(standard.examples) if standard.examples is not None else []

    def opened(path: Path) -> AbstractContextManager[SessionContext]:
        session = read(path, standard.house.vocabulary)
        return context_for(session, path, standard.house, audio=True, workers=cores())

    proof = prove(standard, sessions, opened)
    put_result(proof, lambda page: proof_text(proof, page), form, out, force=force)
    if not proof.kept:
        raise typer.Exit(1)
