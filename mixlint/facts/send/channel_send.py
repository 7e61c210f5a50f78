"""What a row of the table ``send`` is made of."""

from __future__ import annotations

from typing import NamedTuple

from mixlint.session import Channel, Send


class ChannelSend(NamedTuple):
    """One send with the channel it leaves, its number there, and the channel it leads to, where that is known."""

    channel: Channel
    number: int
    send: Send
    to: Channel | None
