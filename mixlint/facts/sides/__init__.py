"""The table ``sides``."""
