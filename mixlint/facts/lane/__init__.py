"""The table ``lane``: every automation lane, where it ends and how it steps."""
