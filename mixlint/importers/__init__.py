"""One file per input form: a file in, a Session out, with a note for everything assumed or lost.

It judges nothing and never guesses silently.
"""
