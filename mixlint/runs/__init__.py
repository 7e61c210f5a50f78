"""From a path or a session to its review, its facts or a file: what a command and a program in Python call alike.

It prints nothing, and it decides nothing that the rooms below have not decided.
"""
