"""The handbook: pages written by hand in ``.handbook/pages``, and pages made from what the program itself says.

``python -m tests.handbook FOLDER`` builds all of it. What is made is made at every build, and stored nowhere.
"""
