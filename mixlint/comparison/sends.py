"""Sends of one channel in two revisions: paired by where they lead."""

from __future__ import annotations

from collections.abc import Callable

from mixlint.comparison.change_log import SWITCHED, ChangeLog, level_text
from mixlint.comparison.fields import SEND, compare_fields
from mixlint.comparison.quantities import level_moved
from mixlint.comparison.targets import Places, send_automation
from mixlint.session import Channel, Send, Target, Unknown, controls_of_send

Key = Callable[[Send], str]
"""What a send leads to, the same word in both revisions for the same channel."""


def paired_sends(was: Channel, now: Channel, old_key: Key, new_key: Key) -> Places:
    """Which send is which. Of several to one place, those most alike come together.

    Alike in tap, switch, level and pan, and in what automation moves on them.

    Args:
        was, now: the channel in the older and in the newer revision.
        old_key, new_key: what a send leads to, in each.

    Returns:
        Positions then and now; None where it was added or removed.
    """
    left_old, left_new = list(range(len(was.sends))), list(range(len(now.sends)))
    pairs: Places = []
    costs = sorted(
        (_unlike(was, m, now, n), m, n)
        for m in left_old
        for n in left_new
        if old_key(was.sends[m]) == new_key(now.sends[n])
    )
    for _, m, n in costs:
        if m in left_old and n in left_new:
            left_old.remove(m)
            left_new.remove(n)
            pairs.append((m, n))
    pairs.sort(key=lambda pair: pair[1] or 0)
    return [*pairs, *((None, n) for n in left_new), *((m, None) for m in left_old)]


def _unlike(then: Channel, m: int, today: Channel, n: int) -> tuple[int, float]:
    was, now = then.sends[m], today.sends[n]
    level = 0.0
    if isinstance(was.level_db, float) and isinstance(now.level_db, float):
        level = level_moved(was.level_db, now.level_db)
    pan = abs(was.pan - now.pan) if isinstance(was.pan, float) and isinstance(now.pan, float) else 0.0
    means, means_now = _lane_means(then, m), _lane_means(today, n)
    moves = sum(abs(means[what] - means_now[what]) for what in means.keys() & means_now.keys())
    return (was.tap != now.tap) + (was.on != now.on) + len(means.keys() ^ means_now.keys()), level + pan + moves


def _lane_means(channel: Channel, number: int) -> dict[Target, float]:
    """What automation moves on a send, each with the mean of its points."""
    return {what: sum(lane.v) / len(lane.v) for what, lane in send_automation(channel, number).items()}


def is_idle(channel: Channel, place: int) -> bool:
    """A send that is never open, as stored or by automation: some exporters write one for every return."""
    return controls_of_send(channel, place).can_be_open is False


def compare_sends(log: ChangeLog, was: Channel, now: Channel, pairs: Places, name: Callable[[Send, bool], str]) -> None:
    """Write down what changed among the sends of one channel.

    Args:
        log: where it goes.
        was: the channel then.
        now: the channel now.
        pairs: which is which.
        name: what a send leads to, for a reader; true asks in the newer revision.
    """
    for before, after in pairs:
        if before is None and after is not None:
            send = now.sends[after]
            if not is_idle(now, after):
                to = name(send, True)
                level = "" if isinstance(send.level_db, Unknown) else f" at {level_text(send.level_db)}"
                log.add("send", f"send to {to} added{level}", SWITCHED, item=to, did="added")
        elif after is None and before is not None:
            if not is_idle(was, before):
                to = name(was.sends[before], False)
                log.add("send", f"send to {to} removed", SWITCHED, item=to, did="removed")
        elif before is not None and after is not None:
            switches = (controls_of_send(was, before).on, controls_of_send(now, after).on)
            if all(switch.can_be_on is False for switch in switches):
                continue  # what is off throughout sounds the same however it is set
            compare_fields(log, SEND, was.sends[before], now.sends[after], name=name(now.sends[after], True))
