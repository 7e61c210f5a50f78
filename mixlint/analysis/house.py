"""What a house has set in its standard that changes how a session is read: pan laws, name tables, intents."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal

from mixlint.naming import SHIPPED, Vocabulary

MonoPanLaw = Literal["equal-power", "square-root", "linear", "compromise", "compromise-power", "tangent"]
StereoPanLaw = Literal["balance", "stereo-panner"]


@dataclass(frozen=True, slots=True)
class House:
    """Settings of the house in force.

    Args:
        mono_pan: the law for a mono source; an assumption unless ``pan_stated``.
        stereo_pan: the law for a stereo source.
        pan_stated: true when a standard states the laws, so that they are no longer assumptions.
        roles: name pattern (glob, case-folded) to role; wins over every reading.
        processors: name pattern to processor kind; wins over every reading.
        vocabulary: the words that names are read by, the house's own among them.
        intents: ``mono``, ``single-instrument``, ``hard-panned`` and the like.
        parallel: name patterns of channels meant as parallel buses.
        cue: name patterns of channels meant as cue or headphone mixes.
        signers: the file of those whose SSH keys may sign approvals; None where approvals need no signature.
        settings: name of a :class:`~mixlint.analysis.settings.Setting` to the value in force, where the house sets one.
    """

    mono_pan: MonoPanLaw = "equal-power"
    stereo_pan: StereoPanLaw = "balance"
    pan_stated: bool = False
    roles: dict[str, str] = field(default_factory=dict)
    processors: dict[str, str] = field(default_factory=dict)
    vocabulary: Vocabulary = SHIPPED
    intents: frozenset[str] = frozenset()
    parallel: tuple[str, ...] = ()
    cue: tuple[str, ...] = ()
    signers: Path | None = None
    settings: dict[str, float] = field(default_factory=dict)
