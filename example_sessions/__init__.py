"""Example sessions, rebuilt by build.py."""
