"""Recordings: the guitar at a set loudness, with clicks, within bounds, as files."""
