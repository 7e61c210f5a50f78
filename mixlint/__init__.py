"""The checklist linter for music-mix sessions.

Rooms, top first: cli, reports, importers, signoffs, review, rulebook, facts, analysis, comparison, routing, media,
naming, signal, session.
"""

__version__ = "0.1.0"
