"""The table ``pair``: counterparts, and two microphones on one performance."""
