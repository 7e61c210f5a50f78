"""The table ``microphones``: channels that hear one performance, a row for each."""
