"""A store of reviews: what of a review is kept, in which columns, and what a studio asks of many of them.

Nothing here writes: a run that keeps its reviews does so through ``runs/storing.py``.
"""
