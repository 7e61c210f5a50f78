"""The table ``print``: the prints of the mix."""
