"""Rules over tables: rows in, findings out; sign-offs; comparison with an earlier review.

It prints nothing and opens no audio.
"""
