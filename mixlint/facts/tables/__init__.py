"""The tables of facts, one file per table."""
