"""The checklist linter for music-mix sessions.

What the commands do, from Python::

    import mixlint

    session = mixlint.read("song.dawproject")  # or built from Channel, Send, Insert, Clip
    review = mixlint.check("song.dawproject", standard="hand-over")
    for finding in review.findings:
        print(finding.grade, finding.rule, finding.subject.name, finding.message)

Nothing heavy is imported before it is asked for. Rooms, top first: cli, runs, reports, signoffs, review, rulebook,
facts, analysis, comparison, routing, importers, media, naming, session, signal.
"""

TYPE_CHECKING = False
"""As in ``typing``, which takes longer to import than all else here."""

if TYPE_CHECKING:
    from mixlint.analysis.sound_memory import SoundMemory
    from mixlint.errors import InputError, MixlintError, RulebookError
    from mixlint.importers import read
    from mixlint.review import Finding
    from mixlint.rulebook import Standard, load_standard
    from mixlint.runs.ask import ask
    from mixlint.runs.check import Review, check
    from mixlint.runs.files import write
    from mixlint.runs.report import report
    from mixlint.session import Channel, Clip, Insert, Send, Session, Unknown

__version__ = "0.1.0"

__all__ = [
    "Channel",
    "Clip",
    "Finding",
    "InputError",
    "Insert",
    "MixlintError",
    "Review",
    "RulebookError",
    "Send",
    "Session",
    "SoundMemory",
    "Standard",
    "Unknown",
    "__version__",
    "ask",
    "check",
    "load_standard",
    "read",
    "report",
    "write",
]

_HOMES = {
    "Channel": "mixlint.session",
    "Clip": "mixlint.session",
    "Finding": "mixlint.review",
    "InputError": "mixlint.errors",
    "Insert": "mixlint.session",
    "MixlintError": "mixlint.errors",
    "Review": "mixlint.runs.check",
    "RulebookError": "mixlint.errors",
    "Send": "mixlint.session",
    "Session": "mixlint.session",
    "SoundMemory": "mixlint.analysis.sound_memory",
    "Standard": "mixlint.rulebook",
    "Unknown": "mixlint.session",
    "ask": "mixlint.runs.ask",
    "check": "mixlint.runs.check",
    "load_standard": "mixlint.rulebook",
    "read": "mixlint.importers",
    "report": "mixlint.runs.report",
    "write": "mixlint.runs.files",
}

if not TYPE_CHECKING:  # a type checker sees the imports above, and tells a name that is none

    def __getattr__(name: str) -> object:
        """Import what is asked for, when it is asked for: the command must not pay for all of it at its start."""
        from importlib import import_module

        home = _HOMES.get(name)
        if home is None:
            raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
        globals()[name] = found = getattr(import_module(home), name)
        return found

    def __dir__() -> list[str]:
        """The names that are offered, imported or not."""
        return sorted({*globals(), *__all__})
