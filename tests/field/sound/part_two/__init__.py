"""The second songs: read when the rules were done."""
