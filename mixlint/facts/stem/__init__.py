"""The table ``stem``: the files of a folder of stems."""
