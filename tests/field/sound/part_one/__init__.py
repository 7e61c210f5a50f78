"""The first songs: worked on while the rules were written."""
