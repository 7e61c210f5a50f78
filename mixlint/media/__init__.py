"""Audio from files and ZIP members, in blocks; each file is measured once.

It knows no channel.
"""
