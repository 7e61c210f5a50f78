"""The table ``change``: what changed since the mix was approved."""
