"""What a page shows of a session besides its findings: the channel sheet, the routing and the balance, drawn."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from mixlint.reports.balance_picture import BalancePicture, draw_balance
from mixlint.reports.routing_drawing import Drawing, draw_routing
from mixlint.session import is_known

if TYPE_CHECKING:
    from mixlint.analysis.context import SessionContext
    from mixlint.facts.channel_sheet import Sheet


@dataclass(frozen=True, slots=True)
class Pictures:
    """What the page shows of a session besides its findings; None where there is nothing to show."""

    sheet: Sheet | None = None
    routing: Drawing | None = None
    balance: BalancePicture | None = None
    balance_measured: bool = False


def pictures_of(context: SessionContext) -> Pictures:
    """The channel sheet, the routing drawing and the balance picture of one session."""
    from mixlint.analysis.balance import imbalance
    from mixlint.facts.channel_sheet import sheet

    found = imbalance(context)
    balance = None
    if is_known(found):
        marks = [(m.time_s, m.name) for m in context.session.markers]
        balance = draw_balance(found.starts_s.tolist(), found.curve_db.tolist(), marks)
    measured = is_known(found) and found.measured
    return Pictures(sheet(context), draw_routing(context.routing), balance, measured)
