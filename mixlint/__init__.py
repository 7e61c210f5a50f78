"""The checklist linter for music-mix sessions.

Rooms, top first: cli, reports, signoffs, review, rulebook, facts, analysis, comparison, routing, importers, media,
naming, session, signal.
"""

__version__ = "0.1.0"
