"""The parts the example sessions are built from: songs, mistakes, sound and the container writer."""
