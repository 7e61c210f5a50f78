"""The table ``parameter``."""
