"""One file per command: arguments in, exit status out; the only room that prints.

It knows no rule and computes nothing.
"""
