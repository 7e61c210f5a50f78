"""The table ``session``: the session as a whole."""
