"""Whatever comes in, in any form that is read, a session or a clear error comes out: inputs damaged at random.

``python -m tests.importers.fuzz --runs N --seed S [--form F] [--jobs J]``. Each module damages one kind of thing by
what it is made of; ``forms.py`` lists what is read, ``trying.py`` reads one input, ``running.py`` many.
"""
