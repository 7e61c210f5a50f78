"""The table ``loop``: channels that feed each other in a ring."""
