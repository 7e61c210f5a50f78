"""A session as a list of channels, for a spreadsheet: what ``sheet --as csv`` writes and the importer reads back."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from mixlint.importers.channel_list.chains import marked
from mixlint.importers.channel_list.inserting import LOW_CUT
from mixlint.reports.plain import without_orders
from mixlint.reports.spreadsheet import DELIMITERS, quoted, safe
from mixlint.session import Channel, Gap, Insert, Send, Session, Unknown, channel_now, seen_clips, seen_inserts
from mixlint.units import SILENCE_DB

_HEADINGS: Final[dict[str, Gap | None]] = {
    "Channel": None,
    "Kind": None,
    "Output": "outputs",
    "Fader (dB)": "levels",
    "Pan (100 = hard over)": "pans",
    "Mute": "mutes",
    "Solo": "solos",
    "Width": None,
    "Sends": "sends",
    "Inserts": "inserts",
    "Low cut (Hz)": "inserts",
    "Wet (%)": "inserts",
    "Files": "clips",
    "Start": "clips",
    "End": "clips",
    "Comment": None,
}
"""The columns, each with the kind of thing that it shows; it is left out where the session does not show it."""

WHOLE: Final = 100.0
_EFFECTS: Final = frozenset({"reverb", "delay"})
"""Whose wet share is written down also where nothing is dry."""

NOWHERE: Final = "nowhere"
NONE: Final = "none"


def list_text(session: Session, form: str) -> str:
    """The list of a session: its title over the heading, a row for each channel, an empty cell for what is not known.

    Of a folder of stems only names and files are filled in, as a list to begin from: its faders are nobody's setting.

    Args:
        session: the session.
        form: ``csv`` or ``tsv``.
    """
    bare = session.source.importer == "stems"
    headings = [heading for heading, gap in _HEADINGS.items() if gap is None or gap not in session.gaps]
    if not bare and not any(_is_low_cut(one) for c in session.channels for one in seen_inserts(c)):
        headings.remove("Low cut (Hz)") if "Low cut (Hz)" in headings else None
    if not bare and "Wet (%)" in headings:
        headings.remove("Wet (%)")
    names = {channel.id: channel.name for channel in session.channels}
    paths = {media.id: media.path for media in session.media}
    rows: list[list[str]] = []
    if session.title:
        rows.append(["Title", safe(session.title)])
    rows.append(headings)
    for channel in session.channels:
        cells = _cells(channel_now(channel), names, paths)
        if bare:
            cells = {key: text for key, text in cells.items() if key in ("Channel", "Kind", "Output", "Files")}
        rows.append([cells.get(heading, "") for heading in headings])
    return without_orders("".join(f"{DELIMITERS[form].join(quoted(cell, form) for cell in row)}\n" for row in rows))


def _cells(channel: Channel, names: dict[str, str], paths: dict[str, str]) -> dict[str, str]:
    clips = [clip for clip in seen_clips(channel) if clip.on is not False]
    files = dict.fromkeys(paths.get(clip.file, clip.file) for clip in clips if clip.file is not None)
    return {
        "Channel": safe(" ".join(channel.name.split())),
        "Kind": channel.kind if isinstance(channel.kind, str) else "",
        "Output": _output(channel, names),
        "Fader (dB)": _level(channel.fader_db),
        "Pan (100 = hard over)": _pan(channel.pan),
        "Mute": _switch(channel.mute),
        "Solo": _switch(channel.solo),
        "Width": _width(channel.legs),
        "Sends": safe("; ".join(_send(send, names) for send in channel.sends) or NONE),
        "Inserts": _inserts(channel),
        "Low cut (Hz)": _low_cut(channel),
        "Files": safe("; ".join(files)),
        "Start": _time(min((clip.start_s for clip in clips), default=None)),
        "End": _time(max((clip.end_s for clip in clips), default=None)),
        "Comment": safe(" ".join(channel.comment.split())),
    }


def _output(channel: Channel, names: dict[str, str]) -> str:
    if isinstance(channel.output, Unknown):
        return ""
    return NOWHERE if channel.output is None else safe(names.get(channel.output, channel.output))


def _level(value: float | Unknown) -> str:
    if isinstance(value, Unknown):
        return ""
    return "-inf" if value <= SILENCE_DB else f"{value:.10g}"


def _pan(value: float | Unknown) -> str:
    if isinstance(value, Unknown):
        return ""
    return "C" if value == 0.0 else f"{'L' if value < 0 else 'R'}{abs(value):.10g}"


def _switch(value: bool | Unknown) -> str:
    return "" if isinstance(value, Unknown) else "yes" if value else "no"


def _width(legs: int | Unknown) -> str:
    return "" if isinstance(legs, Unknown) else {1: "mono", 2: "stereo"}.get(legs, str(legs))


def _send(send: Send, names: dict[str, str]) -> str:
    to = names.get(send.to, send.to) if isinstance(send.to, str) else "?"
    parts = [to, _level(send.level_db)]
    parts.append(send.tap if isinstance(send.tap, str) else "")
    parts.append("(off)" if send.on is False else "")
    return " ".join(part for part in parts if part)


def _is_low_cut(insert: Insert) -> bool:
    """True for the low cut that a list of channels has in a column of its own."""
    return insert.name == LOW_CUT and insert.kind == "filter"


def _inserts(channel: Channel) -> str:
    if "inserts" in channel.missing:
        return ""
    found = [_insert(insert) for insert in seen_inserts(channel) if not _is_low_cut(insert)]
    return safe("; ".join(found) or NONE)


def _insert(insert: Insert) -> str:
    parts = [marked(" ".join(insert.name.split()) or "?")]
    if isinstance(insert.kind, str):
        parts.append(f"({insert.kind})")
    cut = next(iter(_cuts([insert])), None)
    if cut is not None:
        parts.append(f"(low cut {cut})")
    if not isinstance(insert.wet, Unknown) and (insert.wet != WHOLE or insert.kind in _EFFECTS):
        parts.append(f"({insert.wet:.10g} % wet)")
    if insert.on is False or insert.loaded is False:
        parts.append("(off)")
    return " ".join(parts)


def _cuts(inserts: Iterable[Insert]) -> list[str]:
    """The low cuts among some inserts, as a cell has them."""
    found = []
    for insert in inserts:
        for band in insert.equalizer.bands if insert.equalizer is not None else ():
            if band.kind == "high-pass" and band.on is not False and not isinstance(band.freq_hz, Unknown):
                slope = "" if isinstance(band.slope_db_per_oct, Unknown) else f" {band.slope_db_per_oct:.10g} dB/oct"
                found.append(f"{band.freq_hz:.10g} Hz{slope}")
    return found


def _low_cut(channel: Channel) -> str:
    own = [insert for insert in seen_inserts(channel) if _is_low_cut(insert)]
    if any(insert.equalizer is None for insert in own):
        return ""
    return next(iter(_cuts(own)), "" if "inserts" in channel.missing else NONE)


def _time(seconds: float | None) -> str:
    if seconds is None:
        return ""
    minutes, rest = divmod(round(seconds, 3), 60.0)
    return f"{int(minutes)}:{rest:06.3f}"
