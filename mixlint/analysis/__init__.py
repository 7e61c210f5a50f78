"""What several tables of facts share about one session: context, activity, audibility, paths, ambience, tone, energy.

Everything is worked out when first asked for and kept by its function and arguments (``context.per_session``). It
declares no fact and judges nothing. Throughout, T is the number of steps of the time grid (``activity.time_grid``),
times are in seconds from the start of the song, pans run from −100 (left) to +100 (right), and an ``Unknown`` is what
the export does not show, with the reason and what would settle it; None is what there is none of.
"""
