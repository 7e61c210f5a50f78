"""The table ``marker``."""
