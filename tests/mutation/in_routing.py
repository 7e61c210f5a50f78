"""Mistakes in the routing: ways that are missing, double, or closed into a ring."""

from __future__ import annotations

from random import Random

from example_sessions.parts.desk import bus, send
from mixlint.session import Channel, Unknown
from tests.mutation.clean import Clean
from tests.mutation.planting import (
    Planted,
    changed,
    effects,
    groups,
    mistake,
    mix_bus,
    pairs,
    parts,
    pick,
    sent,
    with_channels,
    with_outputs,
    with_true_sends,
)

GONE = ("send-arrives", "return-is-fed", "stereo-balanced", "pan-answered", "family-in-its-group", "counterpart-stays")
"""What else a missing part does: its sends, its counterpart and its group are left behind."""


@mistake("a part that goes out to nothing", "reaches-mix-bus", *GONE, written=False)
def to_nowhere(clean: Clean, rng: Random) -> Planted | None:
    dry = [c for c in parts(clean) if not any(s.to in {e.id for e in effects(clean)} for s in c.sends)]
    target = pick(rng, dry)
    return None if target is None else Planted(changed(clean.session, target, output=None), frozenset({target.id}))


@mistake("a part with an effect send that goes out to nothing", "reaches-mix-bus", "namesakes-in-line", *GONE,
         "lead-with-the-band",
         written=False)  # fmt: skip
def wet_to_nowhere(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, parts(clean, sent=True))
    return None if target is None else Planted(changed(clean.session, target, output=None), frozenset({target.id}))


@mistake(
    "a part that goes out to a bus that leads nowhere",
    "reaches-mix-bus",
    "namesakes-share-a-bus",
    *GONE,
    survives=with_outputs,
)
def to_dead_bus(clean: Clean, rng: Random) -> Planted | None:
    dry = [c for c in parts(clean) if not any(s.to in {e.id for e in effects(clean)} for s in c.sends)]
    target = pick(rng, dry)
    if target is None:
        return None
    dead = bus("dead", "Outs 3-4", "group", output=None, declared_role="master")
    session = changed(with_channels(clean.session, dead), target, output="dead", parent=None)
    return Planted(session, frozenset({target.id, "dead"}))


@mistake("a group that goes out to nothing", "reaches-mix-bus", *GONE, "one-mix-bus", written=False)
def group_to_nowhere(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, groups(clean))
    if target is None or any(c.output == target.id and c.kind in ("group", "return") for c in clean.session.channels):
        return None
    if any(s.to for s in target.sends):
        return None
    members = {c.id for c in clean.session.channels if c.output == target.id}
    session = changed(clean.session, target, output=None)
    return Planted(session, frozenset({target.id, *members}))


@mistake("a return that goes out to nothing", "reaches-mix-bus", "send-arrives", written=False)
def return_to_nowhere(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [c for c in effects(clean) if not c.sends])
    return None if target is None else Planted(changed(clean.session, target, output=None), frozenset({target.id}))


@mistake(
    "a part that goes out to a second mix bus",
    "one-mix-bus",
    "namesakes-in-line",
    *GONE,
    "reaches-mix-bus",
    written=False,
)
def second_master(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, parts(clean))
    if target is None:
        return None
    second = Channel(id="alt", name="Alt Mix", kind="master", legs=2, output=None)
    channels = (*clean.session.channels, second)
    session = changed(clean.session.model_copy(update={"channels": channels}), target, output="alt", parent=None)
    return None if target.parent else Planted(session, frozenset({mix_bus(session).id, "alt"}))


@mistake("an export without its mix bus", "one-mix-bus", "export-complete", written=False)
def no_mix_bus(clean: Clean, rng: Random) -> Planted | None:
    bus = mix_bus(clean.session).id
    why = Unknown(unknown="the output is not in the export", settle="look at the channel's output")
    channels = tuple(
        c.model_copy(update={"output": why}) if c.output == bus else c for c in clean.session.channels if c.id != bus
    )
    return Planted(clean.session.model_copy(update={"channels": channels}))


@mistake("a return sent to itself", "no-feedback-loop", "bus-keeps-its-family")
def loop_of_one(clean: Clean, rng: Random) -> Planted | None:
    return _ring(clean, rng, 1)


@mistake("two returns that feed each other", "no-feedback-loop", "bus-keeps-its-family")
def loop_of_two(clean: Clean, rng: Random) -> Planted | None:
    return _ring(clean, rng, 2)


@mistake("three returns in a ring", "no-feedback-loop", "bus-keeps-its-family")
def loop_of_three(clean: Clean, rng: Random) -> Planted | None:
    return _ring(clean, rng, 3)


def _ring(clean: Clean, rng: Random, size: int) -> Planted | None:
    found = effects(clean)
    if len(found) < size:
        return None
    chosen = rng.sample(found, size)
    session = clean.session
    for one, other in zip(chosen, [*chosen[1:], chosen[0]], strict=True):
        if not any(s.to == other.id for s in one.sends):
            session = sent(session, one, send(other.id, rng.choice((-24.0, -18.0, -12.0))))
    return Planted(session, frozenset(c.id for c in chosen))


@mistake(
    "a group sent to a return that comes back into it", "no-feedback-loop", "effect-fed-once", survives=with_outputs
)
def loop_through_group(clean: Clean, rng: Random) -> Planted | None:
    ids = {g.id: g for g in groups(clean)}
    target = pick(rng, [c for c in effects(clean) if c.output in ids])
    if target is None:
        return None
    group = ids[str(target.output)]
    return Planted(sent(clean.session, group, send(target.id, -20.0)), frozenset({group.id, target.id}))


@mistake("a second way to the mix bus", "part-arrives-once", "kept-out-as-noted",
         "stereo-balanced", "pair-even", "parallel-ways-in-time",
         "pan-answered")  # fmt: skip
def second_way(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, parts(clean))
    if target is None:
        return None
    extra = bus("extra", "Spare Bus", "group", output=mix_bus(clean.session).id)
    level = rng.choice((0.0, -3.0, -6.0))
    return Planted(sent(with_channels(clean.session, extra), target, send("extra", level)), frozenset({target.id}))


@mistake("a group sent to a second plain bus", "part-arrives-once", "kept-out-as-noted",
         "stereo-balanced", "parallel-ways-in-time",
         survives=with_outputs)  # fmt: skip
def second_way_of_a_group(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [g for g in groups(clean) if g.output == mix_bus(clean.session).id])
    if target is None:
        return None
    extra = bus("extra", "Spare Bus", "group", output=mix_bus(clean.session).id)
    return Planted(sent(with_channels(clean.session, extra), target, send("extra", -3.0)), frozenset({target.id}))


@mistake(
    "a track that was doubled and left", "recording-heard-once", "stereo-balanced", "pan-answered", "pair-even",
    "centre-uncluttered", "takes-comped", "counterpart-stays", "ambience-opposite", "names-tell-apart",
)  # fmt: skip
def doubled_track(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, parts(clean))
    if target is None:
        return None
    name = f"{target.name}{rng.choice((' copy', '.dup1', ' (copy 2)'))}"
    copy = target.model_copy(update={"id": "doubled", "name": name, "pan": target.pan})
    return Planted(with_channels(clean.session, copy), frozenset({target.id, "doubled"}))


@mistake(
    "a cue mix that goes to the mix bus", "cue-stays-out", "part-arrives-once", "stereo-balanced", "pair-even",
    "parallel-ways-in-time", "pan-answered", survives=with_outputs,
)  # fmt: skip
def cue_in_the_mix(clean: Clean, rng: Random) -> Planted | None:
    cue = next((c for c in clean.session.channels if "Phones" in c.name), None)
    if cue is None:
        return None
    session = changed(clean.session, cue, output=mix_bus(clean.session).id, declared_role="")
    return Planted(session, frozenset({cue.id}))


@mistake("a send to a muted return", "send-arrives", "muted-on-purpose")
def to_muted_return(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, effects(clean))
    if target is None:
        return None
    feeding = {c.id for c in clean.session.channels if any(s.to == target.id for s in c.sends)}
    return Planted(changed(clean.session, target, mute=True), frozenset({target.id, *feeding}))


@mistake("a part that goes past its family's group", "family-in-its-group", "part-arrives-once",
         "namesakes-share-a-bus", survives=with_outputs)  # fmt: skip
def past_the_group(clean: Clean, rng: Random) -> Planted | None:
    homes = {g.id: [c for c in parts(clean) if c.output == g.id] for g in groups(clean) if g.id in ("drums", "vox")}
    homes |= {g.id: [c for c in parts(clean) if c.output == g.id] for g in groups(clean) if g.id == "vocals-bus"}
    inside = [c for members in homes.values() if len(members) >= 4 for c in members if c.name != "Shaker"]
    target = pick(rng, inside)
    if target is None:
        return None
    session = changed(clean.session, target, output=mix_bus(clean.session).id, parent=None)
    return Planted(session, frozenset({target.id}))


STRAY = ("stereo-balanced", "family-in-its-group", "part-arrives-once", "pair-even", "pan-answered",
         "ambience-opposite", "low-parts-stay-dry", "parallel-ways-in-time", "effect-fed-once")  # fmt: skip
"""What else a wrong bus does: the level, the ambience and the way of what is led there are not its own any more."""


def _named(clean: Clean, *families: str) -> list[Channel]:
    """Sounding tracks of which a word of these stands in the name."""
    return [c for c in parts(clean) if any(word in c.name for word in families)]


@mistake(
    "a part sent to the return of another family",
    "bus-keeps-its-family",
    *STRAY,
    "pair-sent-alike",
    "sent-where-its-like-are-sent",
)
def sent_to_strangers(clean: Clean, rng: Random) -> Planted | None:
    plates = [e for e in effects(clean) if "Vocal" in e.name]
    target, plate = pick(rng, _named(clean, "Gtr", "Snare", "Piano")), pick(rng, plates)
    if target is None or plate is None or any(s.to == plate.id for s in target.sends):
        return None
    return Planted(sent(clean.session, target, send(plate.id, -15.0)), frozenset({target.id}))


@mistake("a part in the group of another family", "bus-keeps-its-family", *STRAY, "namesakes-share-a-bus",
         survives=with_outputs)  # fmt: skip
def grouped_with_strangers(clean: Clean, rng: Random) -> Planted | None:
    homes = [g for g in groups(clean) if g.name in ("Drums", "Vocals", "Vocals Bus")]
    target, home = pick(rng, _named(clean, "Bass", "Gtr", "Piano")), pick(rng, homes)
    if target is None or home is None:
        return None
    session = changed(clean.session, target, output=home.id, parent=None)
    return Planted(session, frozenset({target.id}))


@mistake(
    "a return led back into the group of another family",
    "bus-keeps-its-family",
    "parallel-bus-in-its-group",
    *STRAY,
    survives=with_outputs,
)
def returned_to_strangers(clean: Clean, rng: Random) -> Planted | None:
    plates = [e for e in effects(clean) if "Vocal" in e.name]
    homes = [g for g in groups(clean) if g.name in ("Drums", "Guitars")]
    plate, home = pick(rng, plates), pick(rng, homes)
    if plate is None or home is None:
        return None
    return Planted(changed(clean.session, plate, output=home.id), frozenset({plate.id}))


@mistake("a parallel bus beside the group of its sources", "parallel-bus-in-its-group", *STRAY, survives=with_outputs)
def crush_beside_its_group(clean: Clean, rng: Random) -> Planted | None:
    home = pick(rng, [g for g in groups(clean) if g.name == "Drums"])
    inside = [] if home is None else [c for c in parts(clean) if c.output == home.id]
    if len(inside) < 2 or any(s.to for c in clean.session.channels if c in inside for s in c.sends):
        return None
    crush = bus("crush-beside", "Parallel Crush", "group", output=mix_bus(clean.session).id, fader_db=-12.0)
    session = with_channels(clean.session, crush)
    for one in inside:
        session = sent(session, one, send("crush-beside", -6.0))
    return Planted(session, frozenset({"crush-beside"}))


@mistake("a part past the stems", "parts-in-the-stems", *STRAY, "namesakes-share-a-bus",
         survives=with_outputs)  # fmt: skip
def past_the_stems(clean: Clean, rng: Random) -> Planted | None:
    """The clean session with every strip that led into the mix bus led through a stem, but for one part."""
    mix = mix_bus(clean.session).id
    tops = [c for c in clean.session.channels if c.output == mix and c.kind in ("track", "group", "return")]
    target = pick(rng, [c for c in tops if c in parts(clean)])
    if target is None or len(parts(clean)) < 5:
        return None
    session = with_channels(
        clean.session, *(bus(f"stem-{n}", f"{n} Stem", "group", output=mix) for n in ("One", "Two"))
    )
    for place, one in enumerate(c for c in tops if c.id != target.id):
        session = changed(session, one, output=("stem-One", "stem-Two")[place % 2])
    return Planted(session, frozenset({target.id}))


@mistake("an export without outputs", "export-complete", written=False)
def no_outputs(clean: Clean, rng: Random) -> Planted | None:
    why = Unknown(unknown="the export gives no output", settle="look at the channel's output")
    channels = tuple(c.model_copy(update={"output": why}) for c in clean.session.channels)
    return Planted(clean.session.model_copy(update={"channels": channels, "gaps": ("outputs",)}))


@mistake("an export without sends", "export-complete", "return-is-fed", survives=with_true_sends)
def no_sends(clean: Clean, rng: Random) -> Planted | None:
    if len(clean.session.channels) < 4 or not effects(clean):
        return None
    channels = tuple(
        c.model_copy(
            update={"sends": (), "automation": tuple(a for a in c.automation if not str(a.target).startswith("send:"))}
        )
        for c in clean.session.channels
    )
    return Planted(clean.session.model_copy(update={"channels": channels}))


@mistake("one side of a pair past the group of the other", "namesakes-share-a-bus", "sent-where-its-like-are-sent",
         "family-in-its-group",
         "parallel-bus-in-its-group", "parts-in-the-stems", "bus-keeps-its-family", "stereo-balanced", "pair-even",
         "pan-answered", written=False)  # fmt: skip
def side_past_the_group(clean: Clean, rng: Random) -> Planted | None:
    buses = {group.id for group in groups(clean)}
    pair = pick(rng, [pair for pair in pairs(clean) if pair[0].output == pair[1].output and pair[0].output in buses])
    if pair is None:
        return None
    moves = rng.choice(pair)
    session = changed(clean.session, moves, output=mix_bus(clean.session).id)
    return Planted(session, frozenset(channel.id for channel in pair))
