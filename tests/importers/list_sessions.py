"""Lists of channels for tests: written, read, and compared with what is expected of them."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from mixlint.importers import read
from mixlint.session import Channel, Insert, Session, Unknown

LISTS = Path(__file__).parent / "lists"
"""Lists as people of eight languages wrote them who had not seen the reader, each with what it means; all invented."""

DESK = """Channel,Kind,Output,Level,Pan (100 = hard over),Mute,Solo,Sends,Inserts
Guitar L,track,Mix,-6,L50,no,no,Plate -12 post,Brook EQ
Guitar R,track,Mix,-6,R50,no,no,Plate -12 post,Brook EQ
Plate,return,Mix,-3,C,no,no,none,Old Plate (reverb) (100 % wet)
Mix,master,Out 1-2,0,C,no,no,none,none
"""


def given(folder: Path, text: str | bytes, name: str = "song.csv") -> Session:
    """The session that a list with this text describes."""
    path = folder / name
    path.write_bytes(text.encode() if isinstance(text, str) else text)
    return read(path)


def channel(session: Session, name: str) -> Channel:
    """The only channel of that name."""
    (found,) = [one for one in session.channels if one.name == name]
    return found


def notes(session: Session) -> str:
    """All that was noted, but for what no list can hold."""
    return "\n".join(note.text for note in session.notes if not note.loses)


def summary(session: Session) -> list[dict[str, Any]]:
    """Every channel of a list in the words of ``lists/*.expected.json``."""
    names = {one.id: one.name for one in session.channels}
    return [_channel(one, names) for one in session.channels if one.where]


def _told(value: Any) -> Any:
    if isinstance(value, Unknown):
        return "unknown"
    return "-inf" if isinstance(value, float) and value == -200.0 else value


def _channel(one: Channel, names: dict[str, str]) -> dict[str, Any]:
    return {
        "name": one.name,
        "kind": _told(one.kind),
        "output": names.get(one.output, one.output) if isinstance(one.output, str) else _told(one.output),
        "fader_db": _told(one.fader_db),
        "pan": _told(one.pan),
        "mute": _told(one.mute),
        "solo": _told(one.solo),
        "sends": [
            {
                "to": names.get(send.to, send.to) if isinstance(send.to, str) else "unknown",
                "level_db": _told(send.level_db),
                "pre": "unknown" if isinstance(send.tap, Unknown) else send.tap == "pre",
            }
            for send in one.sends
        ],
        "inserts": "unknown"
        if "inserts" in one.missing
        else [{"name": i.name, "on": _told(i.on)} for i in one.inserts if i.name != "Low cut"],
        "low_cut_hz": low_cut_of(one.inserts),
        "wet": next((i.wet for i in one.inserts if not isinstance(i.wet, Unknown)), "unknown"),
    }


def low_cut_of(inserts: tuple[Insert, ...]) -> float | str:
    """The low cut of a channel; 0 for none, ``unknown`` where a column for it leaves that open."""
    bands = [band for one in inserts if one.equalizer is not None for band in one.equalizer.bands]
    found = [band.freq_hz for band in bands if band.kind == "high-pass"]
    if found:
        return found[0] if isinstance(found[0], float) else "unknown"
    return "unknown" if any(one.name == "Low cut" for one in inserts) else 0.0
