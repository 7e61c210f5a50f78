"""The table ``stems``: a folder of stems as a set."""
