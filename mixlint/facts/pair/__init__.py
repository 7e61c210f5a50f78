"""The table ``pair``: counterparts, and two microphones on one performance, a file for each subject asked of them."""
