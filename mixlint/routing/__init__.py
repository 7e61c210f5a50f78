"""Who feeds whom: the graph of audible edges, loops, and the gain along every path to the mix bus.

It knows no rule.
"""

from mixlint.routing.loops import Loop
from mixlint.routing.network import Gains, Routing, assumptions
from mixlint.routing.strips import AMBIENT, TIME_EFFECTS, UNREAD_EFFECT, Laws, acting_inserts, insert_chain
from mixlint.routing.wiring import Edge, LooseSend, Wiring

__all__ = [
    "AMBIENT",
    "TIME_EFFECTS",
    "UNREAD_EFFECT",
    "Edge",
    "Gains",
    "Laws",
    "Loop",
    "LooseSend",
    "Routing",
    "Wiring",
    "acting_inserts",
    "assumptions",
    "insert_chain",
]
