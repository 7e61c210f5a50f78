"""Other systems, imitated: their encodings, letter case, slashes, line ends, names and permissions."""
