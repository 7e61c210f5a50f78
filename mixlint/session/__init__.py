"""The neutral model of a mix session: frozen pydantic models that are also the JSON Schema.

What an export does not show is an ``Unknown`` with its reason, never a default. Times are seconds.
"""

from mixlint.session.control import Control, SendControls, channel_now, control_of, controls_of_send, inserts_now
from mixlint.session.gaps import GAP_WORDS, GAPS, Gap, not_shown
from mixlint.session.maybe import NotKnown, Unknown, is_known, known
from mixlint.session.model import (
    Automation,
    Channel,
    ChannelKind,
    Clip,
    MediaFile,
    Note,
    Send,
    Session,
    Source,
)
from mixlint.session.partial import NotShown, as_shown, guarded, seen_clips, seen_inserts
from mixlint.session.processor import (
    Dynamics,
    Equalizer,
    EqualizerBand,
    Insert,
    Parameter,
    ProcessorKind,
    SavedSettings,
)
from mixlint.session.target import FADER, MUTE, PAN, Target
from mixlint.session.timeline import Marker, Meter, Tempo, Timeline

__all__ = [
    "FADER",
    "GAPS",
    "GAP_WORDS",
    "MUTE",
    "PAN",
    "Automation",
    "Channel",
    "ChannelKind",
    "Clip",
    "Control",
    "Dynamics",
    "Equalizer",
    "EqualizerBand",
    "Gap",
    "Insert",
    "Marker",
    "MediaFile",
    "Meter",
    "NotKnown",
    "NotShown",
    "Note",
    "Parameter",
    "ProcessorKind",
    "SavedSettings",
    "Send",
    "SendControls",
    "Session",
    "Source",
    "Target",
    "Tempo",
    "Timeline",
    "Unknown",
    "as_shown",
    "channel_now",
    "control_of",
    "controls_of_send",
    "guarded",
    "inserts_now",
    "is_known",
    "known",
    "not_shown",
    "seen_clips",
    "seen_inserts",
]
