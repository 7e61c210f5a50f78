"""Two revisions of a session, channel by channel."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from mixlint.comparison.automation import compare_automation
from mixlint.comparison.change_log import SWITCHED, ChangeLog, Extent
from mixlint.comparison.clips import compare_clips
from mixlint.comparison.fields import CHANNEL, compare_fields
from mixlint.comparison.inserts import compare_inserts, paired_inserts
from mixlint.comparison.matching import Contents, Pair, Revision, match
from mixlint.comparison.model import Comparison, MixChange, Tolerances, Unseen
from mixlint.comparison.saved import automation_moves_settings, saved_alike
from mixlint.comparison.sends import compare_sends, paired_sends
from mixlint.comparison.targets import without_automated
from mixlint.comparison.whats import What
from mixlint.naming import fold_name
from mixlint.session import GAP_WORDS, Channel, Send, Session, Timeline, Unknown, channel_now, seen_clips, seen_inserts
from mixlint.session.gaps import Held
from mixlint.units import number_text

BPM = 0.01
"""The least change of tempo that counts."""

NO_DISTANCE = Extent()

_SAVES_NONE = "the {} revision holds no saved settings of plug-ins, so that it cannot be told whether any changed"


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

    Returns:
        Everything that changed, in the newer revision's desk order, and what cannot be told.
    """
    limits = tolerances or Tolerances()
    changes: list[MixChange] = []
    unseen: list[Unseen] = []
    alike = saved_alike(old, new)
    if alike[0] is not old or alike[1] is not new:
        poorer = "older" if alike[0] is old else "newer"
        unseen.append(Unseen(what="insert", channel="", why=_SAVES_NONE.format(poorer)))
        old, new = alike
    before, after = Revision(old, old_contents or {}), Revision(new, new_contents or {})
    pairs = match(before, after, lambda one, other: _unlike(before, after, one, other))
    paired = _ChannelPairs(before, after, pairs)
    renamed = {}
    for was, now in pairs:
        here = now or was
        assert here is not None
        log = ChangeLog(here, limits)
        if was is None:
            log.add("channel", "channel added", SWITCHED, did="added", states=("", here.name))
        elif now is None:
            log.add("channel", "channel removed", SWITCHED, did="removed", states=(here.name, ""))
        else:
            if fold_name(was.name) != fold_name(now.name):
                renamed[was.name] = now.name
                log.add("name", f"renamed, was {was.name}", NO_DISTANCE, states=(was.name, now.name))
            _strip(log, paired, was, now)
        changes += log.changes
        unseen += log.unseen
    return Comparison(changes=(*_tempo(old, new), *changes), unseen=tuple(unseen), renamed=renamed, same=paired.newer)


class _ChannelPairs:
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


def _strip(log: ChangeLog, paired: _ChannelPairs, was: Channel, now: Channel) -> None:
    was, now = channel_now(was), channel_now(now)
    sends = paired_sends(was, now, _key(paired.then), _key(paired.now))
    inserts = paired_inserts(seen_inserts(was), seen_inserts(now))
    told_by_lanes = without_automated(was, now, sends, inserts)
    compare_fields(log, CHANNEL, told_by_lanes, now)
    _output(log, paired, was, now)
    compare_sends(log, told_by_lanes, now, sends, lambda send, newer: _to(paired, send, newer=newer))
    automated = {
        n
        for m, n in inserts
        if m is not None and n is not None
        and (automation_moves_settings(was, m) or automation_moves_settings(now, n))
    }  # fmt: skip
    if _both_show(log, "inserts", was, now):
        compare_inserts(log, seen_inserts(told_by_lanes), seen_inserts(now), automated)
    if _both_show(log, "clips", was, now):
        compare_clips(log, paired.old, paired.new, seen_clips(was), seen_clips(now))
    compare_automation(log, was, now, sends, inserts)


def _both_show(log: ChangeLog, held: Held, was: Channel, now: Channel) -> bool:
    """Whether both revisions show a list of the channel; where one alone does, that is written down as unseen."""
    what: What = "insert" if held == "inserts" else "clip"
    shown = (was.missing.get(held, True), now.missing.get(held, True))
    return log.known(what, *shown, GAP_WORDS[held]) is not None


def _key(of: Callable[[str], str]) -> Callable[[Send], str]:
    return lambda send: "not known" if isinstance(send.to, Unknown) else of(send.to)


def _to(paired: _ChannelPairs, send: Send, *, newer: bool) -> str:
    if isinstance(send.to, Unknown):
        return "somewhere not known"
    return (paired.new if newer else paired.old).name(send.to)


def _output(log: ChangeLog, paired: _ChannelPairs, was: Channel, now: Channel) -> None:
    both = log.known("output", was.output, now.output, "where it runs")
    if both is None:
        return
    then = None if both[0] is None else paired.then(both[0])
    if then == both[1]:
        return
    was_text = "nowhere" if both[0] is None else paired.old.name(both[0])
    now_text = "nowhere" if both[1] is None else paired.new.name(both[1])
    log.add("output", f"runs to {now_text}, ran to {was_text}", SWITCHED, states=(was_text, now_text))


def _tempo(old: Session, new: Session) -> Iterator[MixChange]:
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
    yield MixChange(what="tempo", channel="", was=texts[0], now=texts[1], switched=True, says=says)


def _unlike(old: Revision, new: Revision, was: Channel, now: Channel) -> int:
    """How many differences two namesakes show, apart from where they lead."""
    log = ChangeLog(now, Tolerances())
    was, now = channel_now(was), channel_now(now)
    compare_fields(log, CHANNEL, was, now)
    compare_inserts(log, seen_inserts(was), seen_inserts(now))
    compare_clips(log, old, new, seen_clips(was), seen_clips(now))
    output = _folded_name(old, was.output) != _folded_name(new, now.output)
    sends = [sorted(_folded_name(r, s.to) for s in c.sends) for r, c in ((old, was), (new, now))]
    return len(log.changes) + output + (sends[0] != sends[1]) + (len(was.automation) != len(now.automation))


def _folded_name(revision: Revision, channel_id: str | Unknown | None) -> str:
    return fold_name(revision.name(channel_id)) if isinstance(channel_id, str) else ""
