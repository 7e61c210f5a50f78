"""Findings and tables become text, JSON and the other forms; drawings are made here too.

It decides nothing.
"""
