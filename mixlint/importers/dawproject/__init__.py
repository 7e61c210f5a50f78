"""The open session interchange format, version 1.0: a ZIP archive with ``project.xml``, or that file alone.

One subject per file, data flowing one way: bytes, tree, strips, routing, mixer, clock, clips, automation, session.
"""
