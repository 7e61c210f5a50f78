"""What comes to the buses that serve one family of parts."""
