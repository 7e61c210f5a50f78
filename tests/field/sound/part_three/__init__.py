"""The third songs: read in the midst of the work, since their lists of faults came early."""
