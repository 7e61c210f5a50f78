"""The checklist linter for music-mix sessions.

Rooms, top first: cli, reports, importers, review, rulebook, facts, analysis, revisions, routing, media, naming, signal,
session.
"""

__version__ = "0.1.0"
