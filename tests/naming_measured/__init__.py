"""How well names are read, measured on lists by people who know neither the reader nor its words.

A list is a text file, a line a channel, with tabs between name, role, side and structure, or a line that begins with
``pair`` or ``insert``. A role may be several with strokes between, ``ask`` where only a question is right, and may have
a question mark where a question is right too.
"""
