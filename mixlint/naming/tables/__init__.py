"""The words of the trade in several languages, as data. A table maps a concept to its words per language.

A word is written as it is after folding (no accents needed); ``=`` before a word means that its accents count.
Languages: en, de, fr, es, it, pt, nl, sv, pl, ru, ja.
"""
