"""The table ``source``: the audible parts that play themselves, a file for each subject that is asked of them."""
