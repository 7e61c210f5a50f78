"""One file per table: every fact is declared with its name, unit, meaning and how it is known.

It judges nothing.
"""
