"""Numbers only: arrays in, numbers out. It imports nothing of the project.

Decibels, pan laws, filters, dynamics, loudness, path estimation and alignment.
"""
