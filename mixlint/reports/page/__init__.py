"""The review as one self-contained page: what stands on it, and in which order."""
