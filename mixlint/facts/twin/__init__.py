"""Channels that play one recording at the same time."""
