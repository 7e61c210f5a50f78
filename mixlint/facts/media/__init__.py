"""The table ``media``: the audio files the session refers to."""
