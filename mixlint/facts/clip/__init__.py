"""The table ``clip``: every clip, and the stretches of time that are the song."""
