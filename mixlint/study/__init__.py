"""What can be worked out about one session, each thing computed when it is first asked for.

Who plays when, what arrives where, which parts belong together. It declares no fact and judges nothing.
"""
