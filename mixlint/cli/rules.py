"""``mixlint rules``: the catalogue, or one rule's page."""

from __future__ import annotations

from typing import Annotated

import typer

from mixlint.cli.options import FormOption, OutOption, StandardOption


def rules(
    rule: Annotated[str | None, typer.Argument(metavar="[ID]", help="One rule, to read its page.")] = None,
    standard: StandardOption = None,
    area: Annotated[
        str | None, typer.Option("--area", metavar="AREA", help="Only the rules of one area, such as ambience.")
    ] = None,
    form: FormOption = "text",
    out: OutOption = None,
) -> None:
    """Show the checklist in force, or one rule's page: why, when it applies, limits, remedy, examples."""
    from pathlib import Path

    from mixlint.cli.inputs import standard_for
    from mixlint.cli.names import known_or_complain
    from mixlint.cli.out import page, put, refuse_inputs
    from mixlint.reports.catalogue import catalogue, catalogue_text
    from mixlint.reports.json import model_json
    from mixlint.reports.rule_page import rule_page

    if standard is not None:
        refuse_inputs(out, [Path(standard)])
    found = standard_for(Path(), standard)
    shown = dict(found.rules)
    if area is not None:
        known_or_complain(area, {r.area for r in shown.values()}, "--area", "area", found.name)
        shown = {k: r for k, r in shown.items() if r.area == area}
    if rule is not None:
        known_or_complain(rule, found.rules, "", "rule", found.name)
        shown = {rule: found.rules[rule]}
    if form == "json":
        put(model_json(catalogue(found.name, shown.values())), out, exact=True)
    elif rule is not None:
        put(rule_page(shown[rule], found.name, page(out)), out)
    else:
        put(catalogue_text(catalogue(found.name, shown.values()), page(out)), out)
