"""Who feeds whom: the graph of audible edges, loops, and the gain along every path to the mix bus.

It knows no rule.
"""
