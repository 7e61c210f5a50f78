"""The table ``insert``: every processor, what it does and how far it acts."""
