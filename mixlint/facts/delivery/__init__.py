"""The table ``delivery``: the files that describe their own legs (ADM)."""
