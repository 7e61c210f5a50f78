"""The table ``channel``: every strip of the desk."""
