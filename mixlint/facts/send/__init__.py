"""The table ``send``: every send of every channel."""
