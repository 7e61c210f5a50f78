"""What a channel is called, where it lies and what its controls are at, as they stand, for rules of a house."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.activity import has_arrangement
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.gaps import GAP_SETTINGS, unknown_by_gap
from mixlint.analysis.media_use import is_active_clip
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.naming import side_of
from mixlint.session import PAN, Channel, Unknown, control_of, inserts_now, known
from mixlint.session.control import moves

FACTS: Facts[Channel] = Facts()

NO_CLIPS: Final = Unknown(unknown="the export shows no clips", settle="look at the arrangement")


@FACTS.fact("text", "Its comment; empty where it has none.")
def comment(row: Row[Channel]) -> str:
    return row.item.comment.strip()


@FACTS.fact("text", "Its colour as the file writes it, as in #a03c2d.")
def colour(row: Row[Channel]) -> str | Unknown:
    return row.item.colour or Unknown(unknown="the export gives it no colour", settle="look at its colour")


@FACTS.fact("switch", "It is armed for recording.")
def armed(row: Row[Channel]) -> bool | Unknown:
    return row.item.armed


@FACTS.fact("text", "The names of its processors in order, switched on or not, as in Low Cut, Old Leveller.")
def chain(row: Row[Channel]) -> str:
    return ", ".join(insert.name for insert in inserts_now(row.item))


@FACTS.fact("text", "Where its sends lead, in their order, as in Plate, Slap; empty where it has none.",
            settings=GAP_SETTINGS)  # fmt: skip
def sent_to(row: Row[Channel]) -> str | Unknown:
    names = [row.context.name(to) if (to := str(known(send.to))) in row.context.channels else to
             for send in row.item.sends]  # fmt: skip
    return unknown_by_gap(row.context, "sends") or ", ".join(names)


@FACTS.fact("number", "Its place on the desk, counted from 1.")
def position(row: Row[Channel]) -> int:
    return row.context.order[row.subject.id] + 1


@FACTS.fact("text", "The folder it lies in, with those around it, as in Band / Drums; empty where it lies in none.")
def folder(row: Row[Channel]) -> str:
    return " / ".join(row.item.folder)


@FACTS.fact("word", "The side its name tells.", how="derived", words=("left", "right", "none"))
def named_side(row: Row[Channel]) -> str:
    return side_of(row.item.name, row.context.house.vocabulary) or "none"


@FACTS.fact(
    "word", "How its name is written: all in capitals, all in small letters, or mixed; none without a letter.",
    how="derived", words=("capitals", "small", "mixed", "none"),
)  # fmt: skip
def name_written(row: Row[Channel]) -> str:
    return written(row.item.name)


def written(text: str) -> str:
    """How a name is written: ``capitals``, ``small``, ``mixed``, or ``none`` where it has no letter."""
    if text.isupper():
        return "capitals"
    if text.islower():
        return "small"
    return "mixed" if any(sign.isalpha() for sign in text) else "none"


@FACTS.fact("number", "How many characters its name has.", how="derived")
def name_length(row: Row[Channel]) -> int:
    return len(row.item.name)


@FACTS.fact("number", "Its legs: 1 for mono, 2 for stereo.")
def legs(row: Row[Channel]) -> int | Unknown:
    return row.item.legs


@FACTS.fact("switch", "It was loaded where the export was made.")
def loaded(row: Row[Channel]) -> bool | Unknown:
    return row.item.loaded


@FACTS.fact("word", "What is recorded on it, as the export declares.", words=("audio", "notes", "both", "nothing"))
def plays(row: Row[Channel]) -> str:
    said = set(row.item.plays)
    return "both" if len(said) > 1 else next(iter(said), "nothing")


@FACTS.fact("switch", "It plays a part of the song itself: a track that is no utility channel.", how="derived")
def source(row: Row[Channel]) -> bool:
    return is_source(row.context, row.item)


@FACTS.fact("switch", "Its output is declared to go nowhere.", settings=GAP_SETTINGS)
def goes_nowhere(row: Row[Channel]) -> bool | Unknown:
    output = row.item.output
    return known(output) is None and (unknown_by_gap(row.context, "outputs", "groups") or True)


@FACTS.fact("number", "How far from the centre it is panned, whichever side.", unit="pan distance")
def off_centre(row: Row[Channel]) -> FactValue:
    found = row.need("pan")
    return FactValue(abs(found.number), found.how, found.where, found.note)


@FACTS.fact("word", "What its automation is set to.", words=("off", "read", "touch", "latch", "write"))
def automation_mode(row: Row[Channel]) -> str | Unknown:
    return row.item.automation_mode


@FACTS.fact(
    "switch", "Automation moves its fader, its pan, its mute, or a control of its sends and inserts.",
    settings=GAP_SETTINGS,
)  # fmt: skip
def automated(row: Row[Channel]) -> bool | Unknown:
    return any(map(moves, row.item.automation)) or unknown_by_gap(row.context, "automation") or False


@FACTS.fact("switch", "Automation moves its pan.")
def pan_moves(row: Row[Channel]) -> bool:
    return control_of(row.item, PAN).moves


@FACTS.fact("number", "Where its first clip that is switched on starts.", unit="s")
def starts_s(row: Row[Channel]) -> float | Unknown:
    return _end_of_clips(row, first=True)


@FACTS.fact("number", "Where its last clip that is switched on ends.", unit="s")
def ends_s(row: Row[Channel]) -> float | Unknown:
    return _end_of_clips(row, first=False)


def _end_of_clips(row: Row[Channel], *, first: bool) -> float | Unknown:
    clips = [clip for clip in row.item.clips if is_active_clip(row.item, clip)]
    if not clips:
        return Unknown(unknown="no clip of it sounds") if has_arrangement(row.context) else NO_CLIPS
    return min(clip.start_s for clip in clips) if first else max(clip.end_s for clip in clips)
