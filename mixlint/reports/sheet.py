"""The channel sheet as text: one strip after another, in desk order."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mixlint.facts.channel_sheet import MixPlace
from mixlint.reports.notes import shown_lines
from mixlint.reports.plain import Page, columns, in_columns, neutral, wrapped
from mixlint.reports.strip import LEGEND, place_line, place_text
from mixlint.reports.words import value_text, with_unit
from mixlint.session import Unknown

if TYPE_CHECKING:
    from mixlint.facts.channel_sheet import Sheet, SheetInsert, SheetRow, SheetSend

_FIXED = (9, 9, 8, 8)
"""The columns fader, pan, left and right."""
_RIGHTS = frozenset({3, 5, 6})
_NARROW = 76
"""On a page narrower than this, what stands in the columns else stands below the name."""
_LABEL = " " * 13
_LONGEST = 41
"""The columns of the line of places, where the page has so many."""


def sheet_text(sheet: Sheet, title: str, page: Page) -> str:
    """The sheet under the session's title.

    Args:
        sheet: the rows, in desk order.
        title: the session's title.
        page: the width, and whether bold and dim can be used.
    """
    free = page.width - sum(_FIXED) - 2 * 6
    widths = (free * 4 // 10, free * 3 // 10, free - free * 4 // 10 - free * 3 // 10, *_FIXED)
    names = {row.id: neutral(row.name) for row in sheet.channels}
    lines = [*wrapped(f"channel sheet: {neutral(title) or '(untitled)'}", page.width, "  "), ""]
    if page.width >= _NARROW:
        lines += page.dims(in_columns(_HEAD, widths, _RIGHTS))
    lines.append(page.line)
    for row in sheet.channels:
        lines += _strip(row, names, widths, page, each_insert="inserts" not in sheet.gaps)
    if not sheet.channels:
        lines.append("(no channels)")
    lines += ["", *shown_lines(sheet.shows, sheet.gaps, page)]
    if sheet.assumptions:
        lines += ["", page.bold("assumed")]
        for one in sheet.assumptions:
            lines += wrapped(neutral(one), page.width, "      ", "    ")
    lines += ["", *wrapped(_FOOT, page.width, "")]
    if any(isinstance(row.place, MixPlace) for row in sheet.channels):
        lines += wrapped(LEGEND, page.width, "")
    return "\n".join(lines) + "\n"


_HEAD = ("channel", "role", "output", "fader", "pan", "mix L", "mix R")
_FOOT = (
    "fader in dB; mix L and mix R: gain of the channel's own signal to the mix bus at 1 kHz in dB, by every path "
    "without a time effect."
)


def _strip(
    row: SheetRow, names: dict[str, str], widths: tuple[int, ...], page: Page, *, each_insert: bool
) -> list[str]:
    cells = (
        names[row.id] or "(no name)",
        role_text(row),
        output_text(row, names),
        value_text(row.fader_db, "dB"),
        value_text(row.pan, "pan"),
        *mix_text(row),
    )
    if page.width < _NARROW:
        lines = [page.bold(line) for line in wrapped(cells[0], page.width, "  ", "")]
        for label, said in zip(_HEAD[1:], cells[1:], strict=True):
            lines += _said(label, said, page)
    else:
        lines = [page.bold(line) for line in in_columns(cells, widths, _RIGHTS)]
    if states := state_text(row):
        lines += wrapped(states, page.width, "    ")
    lines += _place(row, page)
    if row.inserts:
        lines += _said("inserts", ", ".join(insert_text(i) for i in row.inserts), page)
    elif row.inserts_not_shown and each_insert:
        lines += _said("inserts", f"not seen: {neutral(row.inserts_not_shown)}", page)
    if row.sends:
        lines += _said("sends", "; ".join(send_text(s, names) for s in row.sends), page)
    return lines


def _said(label: str, said: str, page: Page) -> list[str]:
    return wrapped(said, page.width, _LABEL, f"    {label:<9}")


def _place(row: SheetRow, page: Page) -> list[str]:
    """Where it stands at the mix bus, drawn and in words; the mix bus itself stands nowhere else."""
    if row.kind == "master":
        return []
    words = neutral(place_text(row.place))
    if not isinstance(row.place, MixPlace):
        return _said("place", words, page)
    room = min(page.width - len(_LABEL), _LONGEST)
    drawn = f"    {'place':<9}{place_line(row.place, room - 1 + room % 2)}"
    if columns(drawn) + 2 + columns(words) <= page.width:
        return [f"{drawn}  {words}"]
    return [drawn, *wrapped(words, page.width, _LABEL)]


def role_text(row: SheetRow) -> str:
    """The role, or the kind of strip in brackets where no role is read."""
    if isinstance(row.role, str):
        return neutral(row.role)
    return f"({row.kind})" if isinstance(row.kind, str) else "not seen"


def output_text(row: SheetRow, names: dict[str, str]) -> str:
    """Where the channel puts out: a channel's name, ``nowhere``, or ``not seen``."""
    if row.output is None:
        return "(mix bus out)" if row.kind == "master" else "nowhere"
    if isinstance(row.output, Unknown):
        return "not seen"
    return names.get(row.output) or neutral(row.output)


def mix_text(row: SheetRow) -> tuple[str, str]:
    """The gains left and right to the mix bus; a dash where the channel never arrives."""
    if row.to_mix is None:
        return "–", "–"
    if isinstance(row.to_mix, Unknown):
        return "not seen", "not seen"
    return value_text(row.to_mix.left_db, "dB"), value_text(row.to_mix.right_db, "dB")


def state_text(row: SheetRow) -> str:
    """``muted``, ``soloed``, both, or what of it is not seen."""
    states = []
    for state, word in ((row.muted, "muted"), (row.soloed, "soloed")):
        if isinstance(state, Unknown):
            states.append(f"{word}: not seen")
        elif state:
            states.append(word)
    return ", ".join(states)


def insert_text(insert: SheetInsert) -> str:
    """One insert: ``Valley EQ (equalizer, off)``."""
    facts = [neutral(insert.kind) if isinstance(insert.kind, str) else "kind not seen"]
    if isinstance(insert.on, Unknown):
        facts.append("on or off not seen")
    elif not insert.on:
        facts.append("off")
    return f"{neutral(insert.name) or '(no name)'} ({', '.join(facts)})"


def send_text(send: SheetSend, names: dict[str, str]) -> str:
    """One send: ``Plate, −12 dB, pre-fader, 50 left, off``."""
    to = (names.get(send.to) or neutral(send.to)) if isinstance(send.to, str) else "target not seen"
    tap = f"{send.tap}-fader" if isinstance(send.tap, str) else "tap not seen"
    level = "level not seen" if isinstance(send.level_db, Unknown) else with_unit(send.level_db, "dB")
    parts = [to, level, tap]
    if isinstance(send.pan, Unknown):
        parts.append("pan not seen")
    elif abs(send.pan) >= 0.5:
        parts.append(value_text(send.pan, "pan"))
    if isinstance(send.on, Unknown):
        parts.append("on or off not seen")
    elif not send.on:
        parts.append("off")
    return ", ".join(parts)
