"""Why a channel is read as it is, as text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mixlint.reports.plain import Page, neutral, wrapped

if TYPE_CHECKING:
    from mixlint.facts.channel_why import Why, WhyChannel

_LABEL = 12
"""The column in which the answers begin."""


def why_text(told: Why, page: Page) -> str:
    """The readings, one channel after another.

    Args:
        told: the readings.
        page: the width, and whether bold and dim can be used.
    """
    return "\n".join(line for channel in told.channels for line in (*_of_channel(channel, page), ""))


def _of_channel(channel: WhyChannel, page: Page) -> list[str]:
    name = neutral(channel.name) or "(no name)"
    lines = [*(page.bold(line) for line in wrapped(name, page.width, "  ", "")), page.line]
    lines += _row("read as", channel.role or "not read: it is asked about", page)
    for ground in channel.grounds:
        lines += _row("because" if ground == channel.grounds[0] else "", neutral(ground), page)
    if channel.side:
        lines += _row("side", channel.side, page)
    if channel.deciding:
        said = " and ".join(f"'{neutral(word)}'" for word in channel.deciding)
        lines += _row("rests on", f"{said}: without it the name would be read otherwise", page)
    if channel.role is not None or channel.second:
        lines += _row("next comes", channel.second or "nothing: no evidence speaks for another role", page)
    for one in channel.evidence:
        label = "evidence" if one == channel.evidence[0] else ""
        lines += _row(label, f"{neutral(one.text)} → {', '.join(one.families)}", page)
    if not channel.evidence:
        lines += _row("evidence", "none", page)
    lines += _row("to overrule", "write into the house standard, with the role that is right:", page)
    lines += [" " * _LABEL + "[roles]", " " * _LABEL + neutral(channel.overrule)]
    return lines


def _row(label: str, text: str, page: Page) -> list[str]:
    indent = " " * _LABEL
    first, *rest = wrapped(text, page.width, indent, indent)
    return [f"{label:<{_LABEL}}{first[_LABEL:]}", *rest]
