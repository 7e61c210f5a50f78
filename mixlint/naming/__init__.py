"""What a name says: the part a channel plays and what a processor does, as evidence with its ground.

It holds generic words of the trade in several languages and no brands; a house adds its own table.
"""
