"""Reads AAF compositions (AMWA object specification and edit protocol), by the identities of operations, never names.

The library that opens them is an extra, and runs in a process of its own.
"""
