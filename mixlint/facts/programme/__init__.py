"""The table ``programme``: what those files offer to be played, with the loudness that they state."""
