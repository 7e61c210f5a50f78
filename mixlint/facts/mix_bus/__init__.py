"""The table ``mix-bus``: the bus that the bounce is taken from."""
