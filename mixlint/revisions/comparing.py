"""Two revisions of a session, channel by channel."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from mixlint.revisions.clips import compare_clips
from mixlint.revisions.curves import far_from_still, farthest
from mixlint.revisions.inserts import compare_inserts, paired_inserts
from mixlint.revisions.matching import Contents, Pair, Revision, folded, match
from mixlint.revisions.model import Change, Comparison, Tolerances, Unseen
from mixlint.revisions.notes import Notebook
from mixlint.revisions.sends import Places, compare_sends, paired_sends
from mixlint.session import Automation, Channel, Send, Session, Timeline, Unknown, is_known
from mixlint.units import number_text

BPM = 0.01
"""The least change of tempo that counts."""


def compare(
    old: Session,
    new: Session,
    *,
    old_contents: Contents | None = None,
    new_contents: Contents | None = None,
    tolerances: Tolerances | None = None,
) -> Comparison:
    """What changed from one revision to the next.

    Channels are matched by name, kind and place, a renamed one by its content; ids, order, colours, letter case and
    rounding never count.

    Args:
        old: the older revision.
        new: the newer one.
        old_contents: media id to a hash of its sound, for files of the older revision that were heard.
        new_contents: the same of the newer one. A file that was not heard in both is told by its name.
        tolerances: by how much a value may move.
    """
    limits = tolerances or Tolerances()
    before, after = Revision(old, old_contents or {}), Revision(new, new_contents or {})
    pairs = match(before, after, lambda one, other: _unlike(before, after, one, other))
    told = _Pairs(before, after, pairs)
    changes: list[Change] = []
    unseen: list[Unseen] = []
    renamed = {}
    for was, now in pairs:
        here = now or was
        assert here is not None
        book = Notebook(here, limits)
        if was is None:
            book.put("channel", "channel added", did="added", now=here.name, switched=True)
        elif now is None:
            book.put("channel", "channel removed", did="removed", was=here.name, switched=True)
        else:
            if folded(was.name) != folded(now.name):
                renamed[was.name] = now.name
                book.put("name", f"renamed, was {was.name}", was=was.name, now=now.name)
            _strip(book, told, was, now)
        changes += book.changes
        unseen += book.unseen
    return Comparison(changes=(*_tempo(old, new), *changes), unseen=tuple(unseen), renamed=renamed)


class _Pairs:
    """Both revisions, and which channel of the one is which of the other."""

    def __init__(self, old: Revision, new: Revision, pairs: list[Pair]) -> None:
        self.old = old
        self.new = new
        self.newer = {was.id: now.id for was, now in pairs if was is not None and now is not None}

    def then(self, channel_id: str) -> str:
        """An older channel by its newer id, where it has one."""
        return self.newer.get(channel_id, f"gone: {channel_id}")

    def now(self, channel_id: str) -> str:
        """A newer channel by its id."""
        return channel_id


def _strip(book: Notebook, told: _Pairs, was: Channel, now: Channel) -> None:
    old_lanes, new_lanes = _lanes(was), _lanes(now)
    rides = old_lanes.keys() & new_lanes.keys()  # what moves by itself says nothing by where it stands
    if "fader" not in rides:
        book.level("level", "fader", was.fader_db, now.fader_db)
    if "pan" not in rides:
        book.pan("pan", "pan", was.pan, now.pan)
    if "mute" not in rides:
        book.switch("mute", was.mute, now.mute, of="whether it is muted", on="muted", off="unmuted")
    book.switch("solo", was.solo, now.solo, of="whether it is soloed", on="soloed", off="solo taken off")
    _output(book, told, was, now)
    sends = _sends(told, was, now)
    moving = frozenset(n for m, n in sends if m is not None and n is not None and f"send:{m}:level" in old_lanes
                       and f"send:{n}:level" in new_lanes)  # fmt: skip
    compare_sends(book, was.sends, now.sends, sends, lambda send, newer: _to(told, send, newer=newer), moving)
    compare_inserts(book, was.inserts, now.inserts)
    compare_clips(book, told.old, told.new, was.clips, now.clips)
    _automation(book, was, now, sends)


def _sends(told: _Pairs, was: Channel, now: Channel) -> Places:
    return paired_sends(was, now, _key(told.then), _key(told.now))


def _key(of: Callable[[str], str]) -> Callable[[Send], str]:
    return lambda send: "not known" if isinstance(send.to, Unknown) else of(send.to)


def _to(told: _Pairs, send: Send, *, newer: bool) -> str:
    if isinstance(send.to, Unknown):
        return "somewhere not known"
    return (told.new if newer else told.old).name(send.to)


def _output(book: Notebook, told: _Pairs, was: Channel, now: Channel) -> None:
    both = book.known("output", was.output, now.output, "where it runs")
    if both is None:
        return
    then = None if both[0] is None else told.then(both[0])
    if then == both[1]:
        return
    was_text = "nowhere" if both[0] is None else told.old.name(both[0])
    now_text = "nowhere" if both[1] is None else told.new.name(both[1])
    book.put("output", f"runs to {now_text}, ran to {was_text}", was=was_text, now=now_text, switched=True)


def _lanes(channel: Channel) -> dict[str, Automation]:
    return {str(lane.target): lane for lane in channel.automation if lane.t}


def _automation(book: Notebook, was: Channel, now: Channel, sends: Places) -> None:
    old_lanes, new_lanes = _lanes(was), _lanes(now)
    names = {**_moved_targets("send", sends), **_moved_targets("insert", paired_inserts(was.inserts, now.inserts))}
    told = dict.fromkeys(("fader", "pan", "mute"))
    for target in [*old_lanes, *new_lanes]:
        told.setdefault(target)
    done: set[str] = set()
    for target in told:
        number = ":".join(target.split(":")[:2])
        newer = target.replace(number, names.get(number, number), 1) if target in old_lanes else target
        if newer in done or (target not in old_lanes and target not in new_lanes):
            continue
        done.add(newer)
        _lane(book, newer, old_lanes.get(target), new_lanes.get(newer), was, now)


def _moved_targets(what: str, places: Places) -> dict[str, str]:
    """``send:0`` then to ``send:2`` now."""
    return {f"{what}:{m}": f"{what}:{n}" if n is not None else f"gone {what}:{m}" for m, n in places if m is not None}


def _lane(
    book: Notebook, target: str, was: Automation | None, now: Automation | None, old: Channel, new: Channel
) -> None:
    if target.startswith("gone "):
        return  # told as a send or insert removed
    name = _lane_name(target, new)
    lane = now or was
    assert lane is not None
    limit = {"pan": book.tolerances.pan, "switch": 0.5, "plain": 0.0}.get(lane.scale, book.tolerances.level_db)
    if was is None or now is None:
        still = _still(old if was is None else new, target)
        if still is not None and far_from_still(lane, still) <= limit:
            return  # a lane that never leaves where the control stands moves nothing
        did = "added" if was is None else "removed"
        book.put("automation", f"automation of {name} {did}", item=target, did=did, switched=True)  # type: ignore[arg-type]
        return
    far = farthest(was, now)
    reshaped = was.shape != now.shape and len(set(was.v)) > 1 and len(was.t) > 1
    if far > max(limit, 1e-6) or reshaped:
        by = {"pan": "", "switch": "", "plain": ""}.get(lane.scale, f" by up to {number_text(far)} dB")
        is_level = lane.scale in ("dB", "amplitude")
        book.put(
            "automation",
            f"automation of {name} changed{by}",
            item=target,
            by_db=far if is_level else 0.0,
            by_pan=far if lane.scale == "pan" else 0.0,
            switched=reshaped or lane.scale in ("switch", "plain"),
        )


def _still(channel: Channel, target: str) -> float | None:
    """Where a control stands when nothing moves it."""
    value = {"fader": channel.fader_db, "pan": channel.pan, "mute": channel.mute}.get(target)
    return float(value) if value is not None and is_known(value) else None


def _lane_name(target: str, channel: Channel) -> str:
    what, *rest = target.split(":")
    if not rest:
        return f"the {target}"
    inserts = channel.inserts
    if what == "insert" and rest[0].isdigit() and int(rest[0]) < len(inserts):
        return f"{inserts[int(rest[0])].name} ({':'.join(rest[1:])})"
    return f"send {int(rest[0]) + 1} ({rest[1]})" if rest[0].isdigit() and len(rest) > 1 else target


def _tempo(old: Session, new: Session) -> Iterator[Change]:
    was, now = old.timeline, new.timeline
    if not isinstance(was, Timeline) or not isinstance(now, Timeline):
        return
    same = len(was.tempos) == len(now.tempos) and all(
        abs(a.beat - b.beat) < 1e-3 and abs(a.bpm - b.bpm) <= BPM and a.ramp == b.ramp
        for a, b in zip(was.tempos, now.tempos, strict=True)
    )
    if same:
        return
    texts = [number_text(line.tempos[0].bpm, "bpm") for line in (was, now)]
    first = f"tempo {texts[1]}, was {texts[0]}"
    says = first if texts[0] != texts[1] else "the tempo changes otherwise in the course of the song"
    yield Change(what="tempo", channel="", was=texts[0], now=texts[1], switched=True, says=says)


def _unlike(old: Revision, new: Revision, was: Channel, now: Channel) -> int:
    """How many differences two namesakes show, apart from where they lead."""
    book = Notebook(now, Tolerances())
    book.level("level", "fader", was.fader_db, now.fader_db)
    book.pan("pan", "pan", was.pan, now.pan)
    book.switch("mute", was.mute, now.mute, of="", on="", off="")
    book.switch("solo", was.solo, now.solo, of="", on="", off="")
    compare_inserts(book, was.inserts, now.inserts)
    compare_clips(book, old, new, was.clips, now.clips)
    output = _folded_name(old, was.output) != _folded_name(new, now.output)
    sends = [sorted(_folded_name(r, s.to) for s in c.sends) for r, c in ((old, was), (new, now))]
    return len(book.changes) + output + (sends[0] != sends[1]) + (len(was.automation) != len(now.automation))


def _folded_name(revision: Revision, channel_id: str | Unknown | None) -> str:
    return folded(revision.name(channel_id)) if isinstance(channel_id, str) else ""
