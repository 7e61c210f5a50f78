"""The table ``clip``: every clip, a file for each subject that is asked of it."""
