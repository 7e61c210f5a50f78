"""What several tables of facts share about one session: context, activity, audibility, paths, ambience, tone, energy.

Everything is worked out when first asked for and kept by its function and arguments. It declares no fact and judges
nothing.
"""
