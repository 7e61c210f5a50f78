"""What the session as a whole is set to, as it stands, for rules of a house."""

from __future__ import annotations

from mixlint.analysis.media_use import is_active_clip
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Session, Unknown, known

FACTS: Facts[Session] = Facts()


@FACTS.fact("text", "Its title as the export writes it; empty where it has none.")
def title(row: Row[Session]) -> str:
    return row.item.title


@FACTS.fact("list", "What else the export says of the session, each as name: text, as in artist: The Larks.")
def details(row: Row[Session]) -> tuple[str, ...]:
    return tuple(f"{name}: {text}" for name, text in row.item.metadata.items())


@FACTS.fact("number", "The sample rate that the export declares.", unit="Hz")
def sample_rate_hz(row: Row[Session]) -> float | Unknown:
    return row.item.sample_rate_hz


@FACTS.fact("number", "The tempo at its beginning.", unit="bpm")
def tempo_bpm(row: Row[Session]) -> float:
    return known(row.item.timeline).tempos[0].bpm


@FACTS.fact("number", "How many times the tempo changes.")
def tempo_changes(row: Row[Session]) -> int:
    return len(known(row.item.timeline).tempos) - 1


@FACTS.fact("text", "The metre at its beginning, as in 3/4.")
def metre(row: Row[Session]) -> str:
    first = known(row.item.timeline).meters[0]
    return f"{first.beats}/{first.unit}"


@FACTS.fact("number", "How many times the metre changes.")
def metre_changes(row: Row[Session]) -> int:
    return len(known(row.item.timeline).meters) - 1


@FACTS.fact("number", "Where its first clip that is switched on starts.", unit="s")
def starts_s(row: Row[Session]) -> float | Unknown:
    starts = [clip.start_s for one in row.item.channels for clip in one.clips if is_active_clip(one, clip)]
    return min(starts) if starts else Unknown(unknown="no clip sounds in it")


@FACTS.fact("list", "The channels whose clips end last.", how="derived")
def last_to_play(row: Row[Session]) -> FactValue:
    ends = [(clip.end_s, one.id) for one in row.item.channels for clip in one.clips if is_active_clip(one, clip)]
    last = max(ends, default=(0.0, ""))[0]
    return FactValue(tuple(dict.fromkeys(row.context.name(one) for end, one in ends if end == last)), "derived")
