"""Rule and standard files become validated rules; conditions have three values: yes, no, unknown.

It knows nothing about audio.
"""
