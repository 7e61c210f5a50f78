"""Sends of one channel in two revisions: paired by where they lead."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from mixlint.revisions.notes import Notebook, level_moved, level_text
from mixlint.session import Channel, Send, Unknown
from mixlint.units import SILENCE_DB

Key = Callable[[Send], str]
"""What a send leads to, the same word in both revisions for the same channel."""

Places = list[tuple[int | None, int | None]]


def paired_sends(was: Channel, now: Channel, old_key: Key, new_key: Key) -> Places:
    """Which send is which: positions then and now. Of several to one place, those most alike come together.

    Alike in tap, switch, level and pan, and in what automation moves on them.
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
    rides, rides_now = _ridden(then, m), _ridden(today, n)
    ride = sum(abs(rides[what] - rides_now[what]) for what in rides.keys() & rides_now.keys())
    return (was.tap != now.tap) + (was.on != now.on) + len(rides.keys() ^ rides_now.keys()), level + pan + ride


def _ridden(channel: Channel, number: int) -> dict[str, float]:
    """What automation moves on a send, each with the mean of its points."""
    head = f"send:{number}:"
    return {
        str(a.target).removeprefix(head): sum(a.v) / len(a.v)
        for a in channel.automation
        if str(a.target).startswith(head) and a.v
    }


def is_idle(send: Send) -> bool:
    """A send that is off or fully down: some exporters write one for every return, others leave it out."""
    return send.on is False or (isinstance(send.level_db, float) and send.level_db <= SILENCE_DB)


def compare_sends(
    book: Notebook, was: Sequence[Send], now: Sequence[Send], pairs: Places, name: Callable[[Send, bool], str],
    moving: frozenset[int],
) -> None:  # fmt: skip
    """Write down what changed among the sends of one channel.

    Args:
        book: where it goes.
        was: the sends then.
        now: the sends now.
        pairs: which is which.
        name: what a send leads to, for a reader; true asks in the newer revision.
        moving: positions now of sends whose level is automated in both revisions.
    """
    for before, after in pairs:
        if before is None and after is not None:
            send = now[after]
            if not is_idle(send):
                to = name(send, True)
                level = "" if isinstance(send.level_db, Unknown) else f" at {level_text(send.level_db)}"
                book.put("send", f"send to {to} added{level}", item=to, did="added", switched=True)
        elif after is None and before is not None:
            if not is_idle(was[before]):
                to = name(was[before], False)
                book.put("send", f"send to {to} removed", item=to, did="removed", switched=True)
        elif before is not None and after is not None:
            _compare(book, was[before], now[after], name(now[after], True), moving=after in moving)


def _compare(book: Notebook, was: Send, now: Send, to: str, *, moving: bool) -> None:
    if was.on is False and now.on is False:
        return  # what is off sounds the same however it is set
    book.switch("send", was.on, now.on, of=f"whether the send to {to} is on", item=to,
                on=f"send to {to} switched on", off=f"send to {to} switched off")  # fmt: skip
    if not moving:
        book.level("send", f"send to {to}", was.level_db, now.level_db, to)
    book.pan("send", f"pan of the send to {to}", was.pan, now.pan, to)
    taps = book.known("send", was.tap, now.tap, f"where the send to {to} is taken", to)
    if taps is not None and taps[0] != taps[1]:
        says = f"send to {to} taken {taps[1]}-fader, was {taps[0]}-fader"
        book.put("send", says, item=to, was=taps[0], now=taps[1], switched=True)
