"""Proof by mutation: clean sessions with one known mistake planted in each, and whether the checklist finds it."""
