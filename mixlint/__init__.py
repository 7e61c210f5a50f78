"""The checklist linter for music-mix sessions.

Rooms, top first: cli, reports, review, rulebook, facts, analysis, revisions, routing, importers, media, naming, signal,
session.
"""

__version__ = "0.1.0"
